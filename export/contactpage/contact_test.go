package contactpage_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/contactpage"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/wall/plane"
)

// variants returns so many of one work that differ in their seeds.
func variants(w holemap.Work, n int) []contactpage.Variant {
	out := make([]contactpage.Variant, n)
	for i := range out {
		w.Layout.Seed = math.MaxUint64 - uint64(n-1-i)
		out[i] = contactpage.Variant{Work: w, Measures: []contactpage.Measure{
			{Name: "evenness", Value: "1.86", Best: i == 1}, {Name: "astray", Value: "12.4 %"},
			{Name: "spread", Value: "101.5°", Best: true}, {Name: "like neighbours", Value: "31 % for 33 %"},
			{Name: "closest two", Value: `9 13/16"`},
		}}
	}
	return out
}

var about = contactpage.Contact{
	Take:  "take one of a-plan-with-a-very-long-name-for-the-long-gallery-above-the-landing-stage-and-the-quay.yaml, whichever it may be",
	Notes: []string{"evenness: " + strings.Repeat("what it means in many words ", 7), "astray: less is better"},
}

func contacts(t testing.TB, w holemap.Work, n int, p tiling.Print) map[string]*draw.Record {
	all := variants(w, n)
	return map[string]*draw.Record{
		"sheets": worktest.Recorded(t, func(c draw.Canvas) error { return contactpage.Sheets(c, all, about, p) }),
		"strip":  worktest.Recorded(t, func(c draw.Canvas) error { return contactpage.Strip(c, all, about, p) }),
	}
}

func TestContactSheetsShowEveryVariantOnce(t *testing.T) {
	w := worktest.Ferry(t)
	onWalls := 0
	for _, p := range w.Layout.Pieces {
		if w.Site.Faces[p.Face].IsWall() {
			onWalls++
		}
	}
	for kind, r := range contacts(t, w, 8, worktest.Print("A4")) {
		pages := map[string]int{"sheets": 2, "strip": 1}[kind]
		assert.Len(t, r.Pages, pages, kind)
		var said []string
		for page := range r.Pages {
			said = append(said, r.Texts(page+1)...)
		}
		for _, v := range variants(w, 8) {
			name := fmt.Sprintf("seed %d", v.Work.Layout.Seed)
			assert.Equal(t, 1, strings.Count(strings.Join(said, "\n"), name), "%s, %s", kind, name)
			drawn := 0
			for _, m := range r.Marks {
				if len(m.Groups) == 3 && m.Groups[0] == "variant, "+name && strings.HasPrefix(m.Groups[1], "wall ") && strings.HasPrefix(m.Groups[2], "piece ") {
					drawn++
				}
			}
			assert.Equal(t, onWalls, drawn, "%s, %s: pieces on the small walls", kind, name)
		}
		assert.Equal(t, 8+1+pages, strings.Count(strings.Join(said, "\n"), "●"), "the best of each are marked, and what that means is said")
		if kind == "sheets" {
			assert.Contains(t, said, "Variants 1 to 6 of 8")
			assert.Contains(t, said, "Variants 7 and 8 of 8")
		}
	}
}

// All variants are seen from one place, so that they can be held side by side.
func TestVariantsAreSeenFromOnePlace(t *testing.T) {
	w := worktest.Ferry(t)
	moved := w
	moved.Layout.Pieces = slices.Clone(w.Layout.Pieces[:40])
	moved.Map.Holes = nil
	r := worktest.Recorded(t, func(c draw.Canvas) error {
		return contactpage.Strip(c, []contactpage.Variant{{Work: w}, {Work: moved}}, about, worktest.Print("A4"))
	})
	floors := map[plane.Point]bool{}
	var boxes []plane.Rect
	for _, m := range r.Marks {
		if m.Kind == "polygon" && len(m.Groups) > 1 && m.Groups[1] == "floor" {
			boxes = append(boxes, m.Rings[0].Bounds())
			floors[plane.Point{X: math.Round(m.Rings[0].Bounds().Width() * 10), Y: math.Round(m.Rings[0].Bounds().Height() * 10)}] = true
		}
	}
	require.GreaterOrEqual(t, len(boxes), 2)
	assert.Len(t, floors, len(boxes)/2, "the same floors in either")
}

func TestContactSheetsKeepTheirWordsApart(t *testing.T) {
	odd := worktest.Oddities(t)
	for name, paper := range map[string]string{"tiny": "A4", "vast": "Letter", "names": "A4", "greek": "A3", "in feet": "Tabloid"} {
		p := worktest.Print(paper)
		for kind, r := range contacts(t, odd[name], 3, p) {
			pages := map[int][]draw.Text{}
			for _, m := range r.Marks {
				size := r.Pages[m.Page-1]
				edge := plane.Rect{Max: plane.Point{X: size.Width, Y: size.Height}}.Grow(-p.Margin + 0.01)
				box := m.Text.Box(0).Bounds()
				if m.Kind == "text" && strings.TrimSpace(m.Text.Say) != "" {
					pages[m.Page] = append(pages[m.Page], m.Text)
					assert.True(t, edge.Contains(box.Min) && edge.Contains(box.Max), "%s, %s: %q leaves the page", name, kind, m.Text.Say)
				}
			}
			for _, texts := range pages {
				for _, c := range worktest.Collisions(texts) {
					t.Errorf("%s, %s: %s", name, kind, c)
				}
			}
		}
	}
}

func TestNoVariantsAreNoSheet(t *testing.T) {
	assert.ErrorIs(t, contactpage.Sheets(draw.NewRecord(), nil, about, worktest.Print("A4")), elevation.ErrNoPieces)
	assert.ErrorIs(t, contactpage.Strip(draw.NewRecord(), nil, about, worktest.Print("A4")), elevation.ErrNoPieces)
}
