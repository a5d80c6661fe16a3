package scatter_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/wall"
)

// from lays round what is kept.
func from(t testing.TB, site wall.Site, comp scatter.Composition, start scatter.Start, seed uint64) scatter.Layout {
	t.Helper()
	layout, err := scatter.LayFrom(context.Background(), site, kinds(), comp, start, seed, nil)
	require.NoError(t, err)
	return layout
}

func byID(layout scatter.Layout) map[int]scatter.Piece {
	out := map[int]scatter.Piece{}
	for _, p := range layout.Pieces {
		out[p.ID] = p
	}
	return out
}

// What is kept stays to the last bit under its own ID, and everything that Lay promises holds of old
// and new pieces together.
func TestLayFromKeepsWhatStands(t *testing.T) {
	site := corner(t, 90)
	comp := composition(300)
	for seed := range uint64(6) {
		first := lay(t, site, kinds(), comp, seed)
		var kept []scatter.Piece
		for i, p := range first.Pieces {
			if i%4 == int(seed%4) {
				kept = append(kept, p)
			}
		}
		second := from(t, site, comp, scatter.Start{Kept: kept}, seed+100)
		check(t, site, kinds(), comp, second)
		ids := byID(second)
		require.Len(t, ids, comp.Count)
		for _, p := range kept {
			require.Equal(t, p, ids[p.ID])
		}
		assert.NotEqual(t, first.Pieces, second.Pieces)
	}
}

// A kept piece that stands where no piece may, and two that overlap, stay where they are; the others
// keep off them.
func TestLayFromDoesNotMoveWhatCollides(t *testing.T) {
	site := corner(t, 90)
	comp := composition(120)
	first := lay(t, site, kinds(), comp, 3)
	a, b, c := first.Pieces[4], first.Pieces[5], first.Pieces[6]
	b.Face, b.At = a.Face, a.At // one on the other
	c.At.X = -40                // half off the wall
	kept := []scatter.Piece{a, b, c}
	second := from(t, site, comp, scatter.Start{Kept: kept}, 8)
	ids := byID(second)
	for _, p := range kept {
		require.Equal(t, p, ids[p.ID])
	}
	found, err := scatter.Inspect(site, kinds(), comp, second, "mm")
	require.NoError(t, err)
	require.NotEmpty(t, found)
	for _, f := range found {
		assert.Contains(t, []int{a.ID, b.ID, c.ID}, f.Piece, f.Wrong)
		assert.Contains(t, []int{0, a.ID, b.ID, c.ID}, f.Other, f.Wrong)
	}
}

func TestLayFromCoversTheFacesItIsTold(t *testing.T) {
	site := corner(t, 90)
	comp := composition(200)
	first := lay(t, site, kinds(), comp, 3)
	var kept []scatter.Piece
	for _, p := range first.Pieces {
		if p.Face == 0 {
			kept = append(kept, p)
		}
	}
	second := from(t, site, comp, scatter.Start{Kept: kept, Faces: []int{1}}, 9)
	check(t, site, kinds(), comp, second)
	onFirst := 0
	for _, p := range second.Pieces {
		if p.Face == 0 {
			onFirst++
		}
	}
	assert.Equal(t, len(kept), onFirst)
}

func TestLayFromWithAllKept(t *testing.T) {
	site := corner(t, 90)
	comp := composition(60)
	first := lay(t, site, kinds(), comp, 3)
	second := from(t, site, comp, scatter.Start{Kept: first.Pieces}, 99)
	assert.Equal(t, first.Pieces, second.Pieces)
}

func TestLayFromWithMoreKeptThanThereIsRoomFor(t *testing.T) {
	site := corner(t, 90)
	first := lay(t, site, kinds(), composition(60), 3)
	_, err := scatter.LayFrom(context.Background(), site, kinds(), composition(59), scatter.Start{Kept: first.Pieces}, 1, nil)
	assert.EqualError(t, err, "composition.count: 59 is fewer than the 60 pieces that are to stay; raise it, or let go of some of them")

	counted := kinds()
	counted[0].Count, counted[0].Share = 2, 0
	_, err = scatter.LayFrom(context.Background(), site, counted, composition(200), scatter.Start{Kept: first.Pieces}, 1, nil)
	assert.ErrorContains(t, err, "pieces[0].count: 2 is fewer than the 30 of long that are to stay")
}

// Kinds with a share of which more stay than their part keep them, and the numbers still add up.
func TestLayFromWithTooManyOfAKind(t *testing.T) {
	site := corner(t, 90)
	first := lay(t, site, kinds(), composition(200), 3)
	var kept []scatter.Piece
	for _, p := range first.Pieces {
		if p.Kind == 0 {
			kept = append(kept, p)
		}
	}
	require.Len(t, kept, 100)
	second := from(t, site, composition(150), scatter.Start{Kept: kept}, 5)
	have := map[int]int{}
	for _, p := range second.Pieces {
		have[p.Kind]++
	}
	assert.Equal(t, map[int]int{0: 100, 1: 17, 2: 17, 3: 16}, have)
}
