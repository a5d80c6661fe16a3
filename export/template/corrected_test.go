package template_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/template"
	"wallshoal/export/worktest"
	"wallshoal/wall/plane"
)

// On the printer that they are corrected for, sheets measure what they say: crosses lie where the holes
// are, and the bars are as long as their names. The page stays as large as the paper.
func TestCorrectedSheetsAreTrueOnTheirPrinter(t *testing.T) {
	for _, m := range []drafting.Measured{{Across: 99.4, Up: 100.2}, {Across: 102.5, Up: 97.5}} {
		p := worktest.Print("A4")
		p.Measured = m
		w := worktest.Known(t, p)
		cut := worktest.CutUp(t, w, p)
		doc := worktest.PDFOf(t, w, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
		tiles := cut.Tiles(0)
		pages := worktest.Strokes(t, doc)
		page := len(pages) - worktest.Printed(tiles)
		r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
		for _, tile := range tiles {
			if len(tile.Holes) == 0 {
				continue
			}
			assert.Equal(t, draw.Size{Width: 210, Height: 297}, r.Pages[page])
			var lines []worktest.Stroke
			level, upright := 0, 0
			for _, s := range pages[page] {
				on := func(q plane.Point) plane.Point { return plane.Point{X: q.X * m.Across / 100, Y: q.Y * m.Up / 100} }
				s = worktest.Stroke{A: on(s.A), B: on(s.B)}
				lines = append(lines, s)
				if d := s.B.Sub(s.A); d.Len() > 99.9 && d.Len() < 100.1 {
					if d.X != 0 {
						level++
					} else {
						upright++
					}
				}
			}
			assert.Equal(t, [2]int{1, 1}, [2]int{level, upright}, "bars of 100 mm")
			found := worktest.Crosses(lines)
			for _, i := range tile.Holes {
				assert.Less(t, worktest.Near(found, tile.ToPage(w.Map.Holes[i].At)), 0.05, "hole %d", i+1)
			}
			assert.Contains(t, r.Texts(page+1), "100 mm on that printer")
			page++
		}
	}
}

// A printer that is off by more than a few per cent was told to fit the page.
func TestPrintersTooFarOffAreNotCorrected(t *testing.T) {
	for _, m := range []drafting.Measured{{Across: 96, Up: 100}, {Across: 100, Up: 103.1}, {Across: 100}, {Across: -100, Up: 100}} {
		p := worktest.Print("A4")
		p.Measured = m
		require.Len(t, p.Problems(), 1)
		assert.Equal(t, "print.measured", p.Problems()[0].Field)
	}
}
