package scatter_test

import (
	"errors"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/scatter/density"
	"wallshoal/scatter/heading"
	"wallshoal/scatter/mixing"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/walltest"
)

// asked draws a composition by chance: every knob turned somewhere or left alone.
func asked(site wall.Site, count int, rng *rand.Rand) scatter.Composition {
	comp := composition(count)
	comp.Spacing, comp.Gap = 30+40*rng.Float64(), 8*rng.Float64()
	comp.Part = rng.IntN(2) == 0
	comp.Headings = heading.Scheme{
		Spread: 30 * rng.Float64(), Strays: 0.2 * rng.Float64(), Apart: 10 * rng.Float64(),
		Second: heading.Second{Turn: 360 * rng.Float64(), Share: 0.3 * rng.Float64()},
	}
	comp.Mixing = []mixing.Scheme{{}, {Way: mixing.Drifting}, {Way: mixing.Families, Size: 2 + rng.IntN(8)}}[rng.IntN(3)]
	comp.Seating = scatter.Seating{Move: 25 * rng.Float64(), Turn: 15 * rng.Float64(), Holes: 20 * rng.Float64()}
	if rng.IntN(2) == 0 {
		f := site.Faces[rng.IntN(len(site.Faces))]
		at := f.Frame.At(plane.Point{X: 3000 * rng.Float64(), Y: 2500 * rng.Float64()})
		comp.Density.Field = density.Gathering{
			Round: density.Shape{{A: at, B: at}}, Reach: 200 + 1500*rng.Float64(), Strength: 0.2 + 5*rng.Float64(),
		}
	}
	return comp
}

// Whatever is asked, of two hundred seeds (two dozen where CI is not set) over awkward walls and the
// faces of a stepped room, everything that Lay promises holds, and again of what is laid round a part
// of it.
func TestLayKeepsItsWordWhateverIsAsked(t *testing.T) {
	seeds := uint64(24)
	if os.Getenv("CI") == "true" && !testing.Short() {
		seeds = 200
	}
	sites := []wall.Site{stepped(t), corner(t, 90), corner(t, -90)}
	for _, w := range walltest.Elevations() {
		site, err := wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{w}})
		require.NoError(t, err)
		sites = append(sites, site)
	}
	laid := 0
	for seed := range seeds {
		rng := rand.New(rand.NewPCG(seed, 77))
		site := sites[seed%uint64(len(sites))]
		comp := asked(site, 10+rng.IntN(120), rng)
		first, err := scatter.Lay(t.Context(), site, kinds(), comp, seed, nil)
		if short := (*scatter.ShortfallError)(nil); errors.As(err, &short) {
			if comp.Count = short.Fit * 3 / 4; comp.Count == 0 {
				continue
			}
			first, err = scatter.Lay(t.Context(), site, kinds(), comp, seed, nil)
		}
		if short := (*scatter.ShortfallError)(nil); errors.As(err, &short) {
			continue // on a sliver even a part of what once fitted may not
		}
		require.NoError(t, err, "seed %d", seed)
		laid++
		check(t, site, kinds(), comp, first)
		found, err := scatter.Inspect(site, kinds(), comp, first, "mm")
		require.NoError(t, err)
		require.Empty(t, found, "seed %d", seed)

		var kept []scatter.Piece
		for _, p := range first.Pieces {
			if rng.IntN(3) == 0 {
				p.Locked = true
				kept = append(kept, p)
			}
		}
		second, err := scatter.LayFrom(t.Context(), site, kinds(), comp, scatter.Start{Kept: kept}, seed+1, nil)
		if short := (*scatter.ShortfallError)(nil); errors.As(err, &short) {
			continue // between pieces that stand there may be less room
		}
		require.NoError(t, err, "seed %d", seed)
		check(t, site, kinds(), comp, second)
		ids := byID(second)
		for _, p := range kept {
			require.Equal(t, p, ids[p.ID])
		}
	}
	assert.Greater(t, laid, int(seeds)*2/3)
}
