package template_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/export/draw"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/wall/plane"
)

// On mirrored sheets, as another program reads them, every hole lies as far to the one side as it does
// to the other on the sheets for the front. Nothing else is changed but the words, which say it.
func TestMirroredCrossesLieWhereTheHolesAre(t *testing.T) {
	for _, p := range []tiling.Print{worktest.Print("A4"), worktest.Landscape(worktest.Print("Letter"))} {
		p.Mirror = true
		w := worktest.Known(t, p)
		cut := worktest.CutUp(t, w, p)
		doc := worktest.PDFOf(t, w, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
		tiles := cut.Tiles(0)
		pages := worktest.Strokes(t, doc)
		words := strings.Split(worktest.Judge(t, "map.pdf", doc, "pdftotext", "-layout", "FILE", "-"), "\f")
		page := len(pages) - worktest.Printed(tiles)
		for _, tile := range tiles {
			if len(tile.Holes) == 0 {
				continue
			}
			found := worktest.Crosses(pages[page])
			other := func(q plane.Point) plane.Point { return plane.Point{X: tile.Sheet.Width - q.X, Y: q.Y} }
			for _, i := range tile.Holes {
				assert.Less(t, worktest.Near(found, other(tile.ToPage(w.Map.Holes[i].At))), 0.01, "hole %d on %s", i+1, tile.Name)
			}
			assert.Contains(t, words[page], "MIRRORED: for working from behind / tracing paper face down")
			assert.Contains(t, words[page], "mm from the front's left end")
			page++
		}
	}
}

// Words on mirrored sheets are not mirrored, keep clear of one another, and stay where they are printed.
func TestMirroredWordsAreRead(t *testing.T) {
	t.Parallel()
	for name, w := range worktest.Oddities(t) {
		if name == "vast" || name == "long" {
			continue
		}
		p := worktest.Print("A4")
		p.Mirror = true
		r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, w, p)) })
		pages := map[int][]draw.Text{}
		for _, m := range r.Marks {
			if m.Kind == "text" && strings.TrimSpace(m.Text.Say) != "" {
				pages[m.Page] = append(pages[m.Page], m.Text)
				size := r.Pages[m.Page-1]
				edge := plane.Rect{Max: plane.Point{X: size.Width, Y: size.Height}}.Grow(-p.Margin + 0.01)
				b := m.Text.Box(0).Bounds()
				assert.True(t, edge.Contains(b.Min) && edge.Contains(b.Max), "%s, page %d: %q", name, m.Page, m.Text.Say)
			}
		}
		for page, texts := range pages {
			assert.Empty(t, worktest.Collisions(texts), "%s, page %d", name, page)
		}
	}
}

// Without the pieces a sheet bears no outline, no filled area but the marks to measure by, and every cross.
func TestHolesAloneAreCrossesAndNumbers(t *testing.T) {
	w := worktest.Ferry(t)
	p := worktest.Print("A4")
	p.HolesOnly = true
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, w, p)) })
	seen := map[string]bool{}
	for _, m := range r.Marks {
		if len(m.Groups) == 0 || !strings.HasPrefix(m.Groups[0], "sheet ") {
			continue
		}
		if len(m.Groups) > 1 {
			assert.False(t, strings.HasPrefix(m.Groups[1], "piece "), m.Groups[1])
			seen[m.Groups[1]] = true
		}
		for _, ring := range m.Rings {
			if m.Paint.Fill.On && m.Paint.Fill.Colour != draw.White {
				assert.Less(t, ring.Area(), 30.0, m.Groups)
			}
		}
	}
	for _, h := range w.Map.Holes {
		assert.True(t, seen["hole "+strconv.Itoa(h.Number)])
		assert.True(t, seen["label of hole "+strconv.Itoa(h.Number)])
	}
}
