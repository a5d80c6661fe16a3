package sheet_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/sheet"
	"wallshoal/export/stand"
	"wallshoal/wall/plane"
)

// Every piece is ticked once, at its stand, and no text leaves its page or lies over another.
func TestTheOrderOfWorkTicksEveryPieceOnce(t *testing.T) {
	for name, w := range oddities(t) {
		if len(w.Layout.Pieces) == 0 {
			continue
		}
		stands, err := stand.Plan(w, stand.UsualReach())
		require.NoError(t, err)
		for _, p := range []sheet.Print{print("A4"), print("Letter")} {
			r := draw.NewRecord()
			require.NoError(t, sheet.Order(r, w, stands, p), name)
			require.NoError(t, r.Close())
			ticked := map[string]bool{}
			for _, m := range r.Marks {
				if len(m.Groups) == 2 && m.Kind == "text" && !ticked[m.Groups[1]] {
					ticked[m.Groups[1]] = true
				}
			}
			of := stand.Of(stands)
			for _, piece := range w.Layout.Pieces {
				group := fmt.Sprintf("piece %d", piece.ID)
				assert.True(t, ticked[group], "%s: %s", name, group)
				at := slices.IndexFunc(r.Marks, func(m draw.Mark) bool { return len(m.Groups) == 2 && m.Groups[1] == group })
				if at >= 0 {
					assert.Equal(t, fmt.Sprintf("stand %d", of[piece.ID]), r.Marks[at].Groups[0])
				}
			}
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
				assert.Empty(t, collisions(texts), "%s, page %d", name, page)
			}
		}
	}
}

func TestNoStandsAreNoOrder(t *testing.T) {
	for _, w := range oddities(t) {
		require.ErrorIs(t, sheet.Order(draw.NewRecord(), w, nil, print("A4")), sheet.ErrNoPieces)
		return
	}
}
