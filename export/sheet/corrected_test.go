package sheet_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/sheet"
	"wallshoal/wall/plane"
)

// On the printer that they are corrected for, sheets measure what they say: crosses lie where the holes
// are, and the bars are as long as their names. The page stays as large as the paper.
func TestCorrectedSheetsAreTrueOnTheirPrinter(t *testing.T) {
	for _, m := range []sheet.Measured{{Across: 99.4, Up: 100.2}, {Across: 102.5, Up: 97.5}} {
		p := print("A4")
		p.Measured = m
		w := known(t, p)
		cut := cutUp(t, w, p)
		doc := pdfOf(t, w, func(c draw.Canvas) error { return sheet.HoleMap(c, cut) })
		tiles := cut.Tiles(0)
		pages := strokes(t, doc)
		page := len(pages) - printed(tiles)
		r := recorded(t, func(c draw.Canvas) error { return sheet.HoleMap(c, cut) })
		for _, tile := range tiles {
			if len(tile.Holes) == 0 {
				continue
			}
			assert.Equal(t, draw.Size{Width: 210, Height: 297}, r.Pages[page])
			var lines []stroke
			level, upright := 0, 0
			for _, s := range pages[page] {
				on := func(q plane.Point) plane.Point { return plane.Point{X: q.X * m.Across / 100, Y: q.Y * m.Up / 100} }
				s = stroke{on(s.a), on(s.b)}
				lines = append(lines, s)
				if d := s.b.Sub(s.a); d.Len() > 99.9 && d.Len() < 100.1 {
					if d.X != 0 {
						level++
					} else {
						upright++
					}
				}
			}
			assert.Equal(t, [2]int{1, 1}, [2]int{level, upright}, "bars of 100 mm")
			found := crosses(lines)
			for _, i := range tile.Holes {
				assert.Less(t, near(found, tile.ToPage(w.Map.Holes[i].At)), 0.05, "hole %d", i+1)
			}
			assert.Contains(t, r.Texts(page+1), "100 mm on that printer")
			page++
		}
	}
}

// A printer that is off by more than a few per cent was told to fit the page.
func TestPrintersTooFarOffAreNotCorrected(t *testing.T) {
	for _, m := range []sheet.Measured{{Across: 96, Up: 100}, {Across: 100, Up: 103.1}, {Across: 100}, {Across: -100, Up: 100}} {
		p := print("A4")
		p.Measured = m
		require.Len(t, p.Problems(), 1)
		assert.Equal(t, "print.measured", p.Problems()[0].Field)
	}
}
