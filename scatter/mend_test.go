package scatter_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// alarmed returns the room of corner with an alarm on its first wall.
func alarmed(t testing.TB, left, bottom float64) wall.Site {
	t.Helper()
	room := corner(t, 90).Room
	room.Walls[0].Obstructions = append(room.Walls[0].Obstructions, wall.Obstruction{
		Kind: wall.Alarm, Name: "alarm", Shape: plane.Rectangle(plane.Point{X: left, Y: bottom}, 120, 120), Clearance: 60,
	})
	site, err := wall.Survey(room)
	require.NoError(t, err)
	return site
}

// movedIDs returns the IDs of the pieces of before that are not as they were.
func movedIDs(before, after scatter.Layout) []int {
	now := byID(after)
	var ids []int
	for _, p := range before.Pieces {
		if now[p.ID] != p {
			ids = append(ids, p.ID)
		}
	}
	return ids
}

// Only pieces on which something is found are moved, everything that Lay promises holds afterwards, and the numbers are the same.
func TestMendMovesWhatMustBe(t *testing.T) {
	comp := composition(300)
	for seed := range uint64(4) {
		before := alarmed(t, 1500, 1200)
		first := lay(t, before, kinds(), comp, seed)
		after := alarmed(t, 1650, 1200)
		found, err := scatter.Inspect(after, kinds(), comp, first, "mm")
		require.NoError(t, err)
		bad := map[int]bool{}
		for _, f := range found {
			bad[f.Piece] = true
		}
		require.NotEmpty(t, bad)
		require.Less(t, len(bad), 12)
		mended, err := scatter.Mend(context.Background(), after, kinds(), comp, first.Pieces, nil, first.Seed, nil)
		require.NoError(t, err)
		check(t, after, kinds(), comp, mended)
		for _, id := range movedIDs(first, mended) {
			assert.True(t, bad[id], "seed %d: piece %d need not be moved", seed, id)
		}
		assert.Len(t, byID(mended), comp.Count)
		again, err := scatter.Mend(context.Background(), after, kinds(), comp, mended.Pieces, nil, first.Seed, nil)
		require.NoError(t, err)
		assert.Equal(t, mended.Pieces, again.Pieces, "there is nothing more to mend")
	}
}

// Whatever is asked for comes out where it is possible, and what is fixed stays: fewer, more, others, farther apart.
func TestMendAnything(t *testing.T) {
	site := alarmed(t, 1500, 1200)
	comp := composition(200)
	first := lay(t, site, kinds(), comp, 5)
	r := rand.New(rand.NewPCG(1, 2))
	for _, change := range []func(*scatter.Composition, []scatter.Kind){
		func(c *scatter.Composition, _ []scatter.Kind) { c.Count = 150 },
		func(c *scatter.Composition, _ []scatter.Kind) { c.Count = 230 },
		func(c *scatter.Composition, _ []scatter.Kind) { c.Spacing *= 1.1 },
		func(c *scatter.Composition, _ []scatter.Kind) { c.Gap += 6 },
		func(_ *scatter.Composition, k []scatter.Kind) { k[0].Share, k[1].Share = k[1].Share, k[0].Share },
		func(_ *scatter.Composition, k []scatter.Kind) { k[3].Share = 0 },
	} {
		asked, pieces := comp, kinds()
		change(&asked, pieces)
		fixed := map[int]bool{}
		for range 20 {
			fixed[1+r.IntN(comp.Count)] = true
		}
		mended, err := scatter.Mend(context.Background(), site, pieces, asked, first.Pieces, fixed, 9, nil)
		require.NoError(t, err)
		require.Len(t, mended.Pieces, asked.Count)
		for _, id := range movedIDs(first, mended) {
			assert.False(t, fixed[id], "piece %d is fixed", id)
		}
		found, err := scatter.Inspect(site, pieces, asked, mended, "mm")
		require.NoError(t, err)
		for _, f := range found {
			if f.Flaw != scatter.Miscount { // a kind that is to have none keeps those that are fixed
				assert.True(t, fixed[f.Piece] && (f.Other == 0 || fixed[f.Other]), "%d and %d: %s", f.Piece, f.Other, f.Wrong)
			}
		}
	}
}

// Of pieces that lie on one another one stays, and where there is no room beside what stays, that gives way too.
func TestMendMakesRoom(t *testing.T) {
	site := corner(t, 90)
	comp := composition(120)
	first := lay(t, site, kinds(), comp, 3)
	pieces := append([]scatter.Piece(nil), first.Pieces...)
	for i := range 5 {
		pieces[i+1].Face, pieces[i+1].At = pieces[0].Face, pieces[0].At
	}
	mended, err := scatter.Mend(context.Background(), site, kinds(), comp, pieces, nil, 3, nil)
	require.NoError(t, err)
	check(t, site, kinds(), comp, mended)
	assert.Len(t, movedIDs(scatter.Layout{Pieces: pieces}, mended), 5)

	wide := composition(100)
	apart := lay(t, site, kinds(), wide, 3)
	dense := composition(120)
	dense.Spacing = 325
	var short *scatter.ShortfallError
	_, err = scatter.LayFrom(context.Background(), site, kinds(), dense, scatter.Start{Kept: apart.Pieces}, 3, nil)
	require.ErrorAs(t, err, &short)
	mended, err = scatter.Mend(context.Background(), site, kinds(), dense, apart.Pieces, map[int]bool{7: true}, 3, nil)
	require.NoError(t, err, "those that were laid far apart must close up")
	check(t, site, kinds(), dense, mended)
	assert.Equal(t, apart.Pieces[6], byID(mended)[7])
	assert.Less(t, len(movedIDs(apart, mended)), 50)
}
