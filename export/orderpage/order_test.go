package orderpage_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/orderpage"
	"wallshoal/export/stand"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/wall/plane"
)

// Every piece is ticked once, at its stand, and no text leaves its page or lies over another.
func TestTheOrderOfWorkTicksEveryPieceOnce(t *testing.T) {
	for name, w := range worktest.Oddities(t) {
		if len(w.Layout.Pieces) == 0 {
			continue
		}
		if name == "long" {
			// The first metres of it are as crowded as the rest.
			w = firstMetres(t, w, 2400)
		}
		p := worktest.Print("A4")
		if w.Units.Imperial() {
			p = worktest.Print("Letter")
		}
		stands, err := stand.Plan(w, stand.UsualReach())
		require.NoError(t, err)
		r := draw.NewRecord()
		require.NoError(t, orderpage.Draw(r, worktest.CutUp(t, w, p), stands), name)
		require.NoError(t, r.Close())
		of := stand.Of(stands)
		boxes, groups := map[string]int{}, map[string]string{}
		for _, m := range r.Marks {
			if n := len(m.Groups); n == 3 && m.Kind == "polygon" && strings.HasPrefix(m.Groups[1], "piece ") {
				boxes[m.Groups[1]+" "+m.Groups[2]]++
				groups[m.Groups[1]] = m.Groups[0]
			}
		}
		assert.Len(t, boxes, 2*len(w.Layout.Pieces), name)
		for _, piece := range w.Layout.Pieces {
			group := fmt.Sprintf("piece %d", piece.ID)
			assert.Equal(t, 1, boxes[group+" drilled"], "%s: %s", name, group)
			assert.Equal(t, 1, boxes[group+" hung"], "%s: %s", name, group)
			assert.Equal(t, fmt.Sprintf("stand %d", of[piece.ID]), groups[group])
		}
		closeUpsName(t, name, r, w)
		pages := map[int][]draw.Text{}
		for _, m := range r.Marks {
			if m.Kind != "text" {
				continue
			}
			size := r.Pages[m.Page-1]
			edge := plane.Rect{Max: plane.Point{X: size.Width, Y: size.Height}}.Grow(-6)
			b := m.Text.Box(0).Bounds()
			assert.True(t, edge.Contains(b.Min) && edge.Contains(b.Max), "%s, page %d: %q leaves the page", name, m.Page, m.Text.Say)
			pages[m.Page] = append(pages[m.Page], m.Text)
		}
		for page, texts := range pages {
			assert.Empty(t, worktest.Collisions(texts), "%s, page %d", name, page)
		}
	}
}

// firstMetres returns a work with those of its pieces that are so near to the left end, mm.
func firstMetres(t testing.TB, w holemap.Work, far float64) holemap.Work {
	t.Helper()
	return worktest.Work(t, w.Site, slices.DeleteFunc(slices.Clone(w.Layout.Pieces), func(p scatter.Piece) bool { return p.At.X > far }))
}

// closeUpsName checks that every piece has one label in the close-up of its stand, in letters that are read
// at arm's length and within the page's margins, or is named as one that has none.
func closeUpsName(t *testing.T, name string, r *draw.Record, w holemap.Work) {
	labels, lost := map[string]int{}, ""
	for _, m := range r.Marks {
		if m.Kind == "text" && len(m.Groups) == 2 && m.Groups[1] == "close-up" && strings.HasPrefix(m.Text.Say, "Too close") {
			lost += m.Text.Say
		}
		if m.Kind != "text" || len(m.Groups) != 3 || m.Groups[1] != "close-up" || !strings.HasPrefix(m.Groups[2], "label ") {
			continue
		}
		assert.GreaterOrEqual(t, m.Text.Height, 2.0, "%s: %s", name, m.Text.Say)
		size := r.Pages[m.Page-1]
		b := m.Text.Box(0).Bounds()
		inside := plane.Rect{Max: plane.Point{X: size.Width, Y: size.Height}}.Grow(-14)
		assert.True(t, inside.Contains(b.Min) && inside.Contains(b.Max), "%s: %s", name, m.Text.Say)
		if m.Text.Bold {
			labels[m.Groups[2]]++
		}
	}
	for _, p := range w.Layout.Pieces {
		label := fmt.Sprintf("label %d", p.ID)
		if labels[label] == 0 {
			assert.NotEmpty(t, lost, "%s: %s", name, label)
			continue
		}
		assert.Equal(t, 1, labels[label], "%s: %s", name, label)
	}
	if lost == "" {
		assert.Len(t, labels, len(w.Layout.Pieces), name)
	}
}

func TestNoStandsAreNoOrder(t *testing.T) {
	for _, w := range worktest.Oddities(t) {
		require.ErrorIs(t, orderpage.Draw(draw.NewRecord(), worktest.CutUp(t, w, worktest.Print("A4")), nil), elevation.ErrNoPieces)
		return
	}
}

// Where the list of stands goes on, it goes on for more than a few: whatever their number, no page of it
// has fewer than half as many as a few rows, and every stand is on it once.
func TestTheListOfStandsGoesOnForMoreThanAFew(t *testing.T) {
	w := worktest.Ferry(t)
	pages := 0
	for _, width := range []float64{300, 330, 360, 420, 500, 600, 800, 1200} {
		reach := stand.Reach{Width: width, Height: 1000, Ladder: 3000}
		stands, err := stand.Plan(w, reach)
		require.NoError(t, err)
		r := worktest.Recorded(t, func(c draw.Canvas) error {
			return orderpage.Draw(c, worktest.CutUp(t, w, worktest.Print("A3")), stands)
		})
		boxes, lists := map[int]int{}, map[int]bool{}
		for _, m := range r.Marks {
			switch {
			case m.Kind == "text" && m.Text.Say == "Standing on":
				lists[m.Page] = true
			case m.Kind == "polygon" && len(m.Groups) == 0 && lists[m.Page]:
				boxes[m.Page]++
			}
		}
		all := 0
		for page := range lists {
			all += boxes[page]
			if page > 1 {
				assert.GreaterOrEqual(t, boxes[page], 4, "%d stands, page %d", len(stands), page)
				pages++
			}
		}
		assert.Equal(t, len(stands), all)
	}
	assert.Positive(t, pages)
}

// No page of what comes before the stands has a few lines alone.
func TestTheFirstPagesOfTheOrderAreFilled(t *testing.T) {
	for name, j := range worktest.Jointed(t) {
		stands, err := stand.Plan(j.Work, stand.UsualReach())
		require.NoError(t, err)
		r := worktest.Recorded(t, func(c draw.Canvas) error { return orderpage.Draw(c, j.Cut, stands) })
		lines := map[int]int{}
		for _, m := range r.Marks {
			if m.Kind == "text" {
				lines[m.Page]++
				if len(m.Groups) > 0 && strings.HasPrefix(m.Groups[0], "stand ") {
					lines[m.Page] += 100
				}
			}
		}
		for page := 1; page < 6; page++ {
			assert.Greater(t, lines[page], 8, "%s: page %d", name, page)
		}
	}
}
