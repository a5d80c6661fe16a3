package scatter_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/scatter/density"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// disc is a small round piece with a hole in its middle.
func disc(radius float64) scatter.Kind {
	ring := make(plane.Ring, 24)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(ring)))
		ring[i] = plane.Point{X: radius * cos, Y: radius * sin}
	}
	return scatter.Kind{
		Name: "disc", Code: "D", Outline: ring, Share: 1,
		Holes: []scatter.Hole{{Bit: 2, Depth: 20, Fixing: "pin"}},
	}
}

// plain is one wall with nothing on it.
func plain(t testing.TB, width, height float64) wall.Site {
	t.Helper()
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{
		{Name: "wall", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, width, height)},
	}})
	require.NoError(t, err)
	return site
}

// rooms are sites to count on, with pieces and a composition that bind in different ways.
func rooms(t testing.TB) map[string]struct {
	site  wall.Site
	kinds []scatter.Kind
	comp  scatter.Composition
} {
	type room = struct {
		site  wall.Site
		kinds []scatter.Kind
		comp  scatter.Composition
	}
	spaced, crowded, counted := composition(200), composition(200), composition(200)
	spaced.Spacing, crowded.Spacing = 170, 20
	gathered, covered, seated := composition(100), composition(200), composition(100)
	gathered.Density = density.Scheme{Field: rising{}}
	covered.Overlap, covered.Gap, covered.Spacing = 0.3, 0, 40
	seated.Seating = scatter.Seating{Move: 10, Turn: 10, Holes: 30}
	fixed := kinds()
	fixed[1].Share, fixed[1].Count = 0, 30
	return map[string]room{
		"inside corner":  {corner(t, 90), kinds(), spaced},
		"outside corner": {corner(t, -90), kinds(), spaced},
		"outlines bind":  {plain(t, 1100, 900), kinds(), crowded},
		"small discs":    {plain(t, 1500, 900), []scatter.Kind{disc(6)}, composition(50)},
		"narrow strip":   {plain(t, 2500, 150), kinds(), composition(10)},
		"a kind counted": {plain(t, 2400, 1500), fixed, counted},
		"gathered":       {plain(t, 1600, 900), kinds(), gathered},
		"overlapping":    {plain(t, 900, 800), kinds(), covered},
		"seated":         {plain(t, 1500, 900), kinds(), seated},
	}
}

func TestTheLeastFitsAndTheMostIsNeverReached(t *testing.T) {
	for name, r := range rooms(t) {
		t.Run(name, func(t *testing.T) {
			found, err := scatter.Capacity(t.Context(), r.site, r.kinds, r.comp, 1)
			require.NoError(t, err)
			require.GreaterOrEqual(t, len(found), 2)
			for _, c := range found {
				site := r.site
				if c.Face != scatter.WholeRoom {
					site = alone(r.site, c.Face)
				}
				assert.Positive(t, c.Least)
				assert.Less(t, c.Least, c.Most)
				for seed := range uint64(3) {
					if name == "outlines bind" && c.Face != scatter.WholeRoom {
						break // more of the small kinds come to lie than are asked for
					}
					comp := r.comp
					comp.Count = c.Least
					_, err := scatter.Lay(t.Context(), site, r.kinds, comp, 100+seed, nil)
					assert.NoError(t, err, "face %d, seed %d", c.Face, seed)
				}
				comp := r.comp
				comp.Count = c.Most + 1
				_, err := scatter.Lay(t.Context(), site, r.kinds, comp, 5, nil)
				var short *scatter.ShortfallError
				require.ErrorAs(t, err, &short, "face %d", c.Face)
				assert.LessOrEqual(t, short.Fit, c.Most)
			}
		})
	}
}

// alone returns the site with one face in use.
func alone(site wall.Site, face int) wall.Site {
	out := wall.Site{Room: site.Room}
	for i, f := range site.Faces {
		f.Used = f.Used && i == face
		out.Faces = append(out.Faces, f)
	}
	return out
}

func TestCapacityGrowsAsSpacingShrinks(t *testing.T) {
	site := corner(t, 90)
	var before []scatter.FaceCapacity
	for _, spacing := range []float64{600, 400, 280, 200, 150} {
		comp := composition(100)
		comp.Spacing = spacing
		found, err := scatter.Capacity(t.Context(), site, kinds(), comp, 3)
		require.NoError(t, err)
		for i := range before {
			assert.Equal(t, before[i].Face, found[i].Face)
			assert.Greater(t, found[i].Least, before[i].Least, "at %v mm", spacing)
			assert.Greater(t, found[i].Most, before[i].Most, "at %v mm", spacing)
		}
		before = found
	}
}

// TestABoundHoldsTheHoneycomb compares the bound with the centres of a honeycomb that are cut out of
// one by a rectangle: no fewer, and, as the edge matters less and less, hardly more.
func TestABoundHoldsTheHoneycomb(t *testing.T) {
	const radius, spacing = 3, 50
	for _, side := range []float64{300, 1000, 4000, 12000} {
		comp := composition(100)
		comp.Spacing, comp.Gap = spacing, 0
		found, err := scatter.Capacity(t.Context(), plain(t, side, side), []scatter.Kind{disc(radius)}, comp, 1)
		require.NoError(t, err)
		room := side - 2*radius
		row := spacing * math.Sqrt(3) / 2
		across, up := math.Floor(room/spacing), math.Floor(room/row)
		honeycomb := int((up + 1) * across)
		assert.GreaterOrEqual(t, found[0].Most, honeycomb)
		// The rim: two thirds of a centre for each spacing along the edge, half a row cut off each.
		assert.LessOrEqual(t, float64(found[0].Most), float64(honeycomb)+4*1.3*side/spacing+3)
	}
}

func TestAWallWithoutRoomHoldsNothing(t *testing.T) {
	comp := composition(5)
	found, err := scatter.Capacity(t.Context(), plain(t, 40, 40), kinds(), comp, 1)
	require.NoError(t, err)
	for _, c := range found {
		assert.Zero(t, c.Least)
	}
	comp.Count = 0
	found, err = scatter.Capacity(t.Context(), plain(t, 400, 400), kinds(), comp, 1)
	require.NoError(t, err)
	assert.Equal(t, []scatter.FaceCapacity{{Face: 0}, {Face: scatter.WholeRoom}}, found, "nothing is asked for")
}

// TestCountingStopsInTime has room for millions.
func TestCountingStopsInTime(t *testing.T) {
	comp := composition(100)
	comp.Spacing, comp.Gap = 5, 0
	found, err := scatter.Capacity(t.Context(), plain(t, 12_000, 6_000), []scatter.Kind{disc(2)}, comp, 1)
	require.NoError(t, err)
	for _, c := range found {
		assert.True(t, c.More)
		assert.Equal(t, 5000, c.Least, "no more are counted")
		assert.Equal(t, scatter.MaxPieces, c.Most)
	}
}

func TestTheSameCapacityAgain(t *testing.T) {
	first, err := scatter.Capacity(t.Context(), corner(t, 90), kinds(), composition(300), 9)
	require.NoError(t, err)
	second, err := scatter.Capacity(t.Context(), corner(t, 90), kinds(), composition(300), 9)
	require.NoError(t, err)
	assert.Equal(t, first, second)
}

func TestCapacityHeedsItsContext(t *testing.T) {
	ctx, cancel := context.WithCancelCause(t.Context())
	stopped := errors.New("stopped")
	cancel(stopped)
	_, err := scatter.Capacity(ctx, corner(t, 90), kinds(), composition(300), 9)
	assert.ErrorIs(t, err, stopped)
}

func BenchmarkCapacity(b *testing.B) {
	for _, spacing := range []float64{200, 100, 50, 25} {
		b.Run(fmt.Sprint(spacing, " mm"), func(b *testing.B) {
			site, comp := corner(b, 90), composition(300)
			comp.Spacing = spacing
			for b.Loop() {
				if _, err := scatter.Capacity(b.Context(), site, kinds(), comp, 1); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
