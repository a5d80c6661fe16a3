package poisson_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter/poisson"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// The fields that tests walk over, on a square of 1000 mm: a ramp of radii, a bump of density, a
// step, a stripe of which next to nothing is wanted, and one of which nothing is.
var fields = map[string]func(p plane.Point) float64{
	"ramp":  func(p plane.Point) float64 { return 1 + 2*p.X/1000 },
	"bump":  func(p plane.Point) float64 { return 1 / math.Sqrt(bump(p)) },
	"step":  func(p plane.Point) float64 { return pick(p.X+0.3*p.Y < 600, 1, 5) },
	"empty": func(p plane.Point) float64 { return pick(p.X < 400 || p.X > 700, 1, 1e5) },
	"none":  func(p plane.Point) float64 { return pick(p.X < 400 || p.X > 700, 1, math.Inf(1)) },
}

func bump(p plane.Point) float64 {
	q := p.Sub(plane.Point{X: 450, Y: 550})
	return 0.15 + 0.85*math.Exp(-q.Dot(q)/2/200/200)
}

func pick(first bool, a, b float64) float64 {
	if first {
		return a
	}
	return b
}

// faced returns two faces at a corner, linked by the straight way, with the radii of the field.
func faced(field func(plane.Point) float64) []poisson.Chart {
	raster := poisson.NewRaster(plane.Rect{Max: plane.Point{X: 1000, Y: 1000}}, 8, field)
	charts := linked(square(1000, front), square(1000, space.Upright(front.At(plane.Point{X: 1000}), -70)))
	charts[0].Radii, charts[1].Radii = raster, raster
	return charts
}

func fillWith(t testing.TB, charts []poisson.Chart, spacing poisson.Spacing, given []poisson.Point, seed uint64) *poisson.Grid {
	t.Helper()
	g, err := poisson.Fill(context.Background(), charts, spacing, given, nil, rand.New(rand.NewPCG(seed, 1)))
	require.NoError(t, err)
	return g
}

// Every two points that were not given are at least as far apart as the smaller of their radii, as
// is every one of them from every one given.
func requireApart(t testing.TB, charts []poisson.Chart, g *poisson.Grid, given int) {
	t.Helper()
	vs := places(charts, g)
	radii := make([]float64, g.Len())
	for i := range radii {
		radii[i] = g.RadiusAt(g.Point(i))
	}
	for i := given; i < len(vs); i++ {
		for j := range i {
			d := vs[i].Sub(vs[j])
			if keep := min(radii[i], radii[j]); d.Dot(d) < keep*keep {
				require.GreaterOrEqual(t, d.Len(), keep, "points %d and %d", i, j)
			}
		}
	}
}

func TestFillKeepsTheDistancesOfAField(t *testing.T) {
	for name, field := range fields {
		t.Run(name, func(t *testing.T) {
			charts := faced(field)
			g := fillWith(t, charts, poisson.Spacing{Least: 12, Scale: 15}, nil, 1)
			require.Greater(t, g.Len(), 1000)
			requireApart(t, charts, g, 0)
			for i := range g.Len() {
				require.False(t, math.IsInf(g.RadiusAt(g.Point(i)), 1), "nothing stands where the radius has no end")
			}
		})
	}
}

// A hundred thousand darts more find no room, over all fields; where the radius has no end there
// is none.
func TestFillLeavesNoRoomInAField(t *testing.T) {
	for name, field := range fields {
		t.Run(name, func(t *testing.T) {
			charts := faced(field)
			g := fillWith(t, charts, poisson.Spacing{Scale: 21}, nil, 2)
			rng := rand.New(rand.NewPCG(8, 8))
			for range 100_000 / len(fields) {
				p := poisson.Point{Chart: rng.IntN(2), At: plane.Point{X: 1000 * rng.Float64(), Y: 1000 * rng.Float64()}}
				if !math.IsInf(g.RadiusAt(p), 1) {
					require.True(t, g.Crowded(p), "%v has room", p)
				}
			}
		})
	}
}

// Nor do darts close to the points, where the last room would be, with radii of a few steps of the
// lattice.
func TestFillLeavesNoRoomOnTheLattice(t *testing.T) {
	for _, radius := range []float64{0.05, 0.3, 2} {
		charts := []poisson.Chart{square(40*radius, front)}
		g := fill(t, charts, radius, 3)
		require.Greater(t, g.Len(), 800)
		require.GreaterOrEqual(t, closest(places(charts, g)), radius)
		for x := range int(40 * radius * poisson.PerMM) {
			for y := range min(int(40*radius*poisson.PerMM), 300) {
				p := poisson.Point{At: plane.Point{X: float64(x) / poisson.PerMM, Y: float64(y) / poisson.PerMM}}
				require.True(t, g.Crowded(p), "%v has room", p)
			}
		}
	}
}

// Points given beforehand stay, however close, and the fill keeps its distance from every one.
func TestFillRoundGivenPoints(t *testing.T) {
	for name, field := range fields {
		t.Run(name, func(t *testing.T) {
			charts := faced(field)
			var given []poisson.Point
			rng := rand.New(rand.NewPCG(5, 6))
			for range 60 {
				at := plane.Point{X: 990 * rng.Float64(), Y: 990 * rng.Float64()}
				chart := rng.IntN(2)
				for range 3 {
					given = append(given, poisson.Point{Chart: chart, At: at.Snap(poisson.PerMM)})
					at = at.Add(plane.Point{X: 4 * rng.Float64(), Y: 4 * rng.Float64()})
				}
			}
			given = append(given, given[0]) // two in one place
			g := fillWith(t, charts, poisson.Spacing{Scale: 20}, given, 4)
			for i, p := range given {
				require.Equal(t, p, g.Point(i))
			}
			requireApart(t, charts, g, len(given))
			for i, p := range given {
				found := false
				g.Near(p, 0, func(j int, _ float64) bool {
					found = found || j == i
					return true
				})
				require.True(t, found, "point %d is not where it was put", i)
			}
		})
	}
}

// The number of points in each part of a square follows the density: r⁻² against the integral of
// it. Bands are as wide as several points, and each holds its share to a few per cent over six
// fills, though what leans over an edge is more than what does not.
func TestFillFollowsItsField(t *testing.T) {
	for _, name := range []string{"ramp", "bump"} {
		t.Run(name, func(t *testing.T) {
			field := fields[name]
			chart := square(1000, front)
			chart.Radii = poisson.NewRaster(chart.Bounds, 5, field)
			const parts, fills, scale = 8, 6, 6.5
			var counts, wants [parts * parts]float64
			for seed := range uint64(fills) {
				g := fillWith(t, []poisson.Chart{chart}, poisson.Spacing{Scale: scale}, nil, seed)
				for i := range g.Len() {
					p := g.Point(i).At
					if chart.Deep(p, 100) {
						counts[part(p, parts)]++
					}
				}
			}
			const grain = 2.0
			for x := 100 + grain/2; x < 900; x += grain {
				for y := 100 + grain/2; y < 900; y += grain {
					p := plane.Point{X: x, Y: y}
					r := scale * field(p)
					wants[part(p, parts)] += fills * 0.547 * 4 / math.Pi * grain * grain / r / r
				}
			}
			chi, off := 0.0, 0.0
			for i := range counts {
				chi += (counts[i] - wants[i]) * (counts[i] - wants[i]) / wants[i]
				off += math.Abs(counts[i]/wants[i]-1) / parts / parts
				assert.InEpsilon(t, wants[i], counts[i], 0.08, "part %d", i)
			}
			t.Log("chi-squared ", chi, " mean relative error ", off)
			// The hundredth highest of chi-squared with 64 degrees of freedom is 93.2 (from memory); counts
			// that keep apart vary far less than those it is meant for.
			assert.Less(t, chi, 93.2)
			assert.Less(t, off, 0.03)
		})
	}
}

// part returns which of parts × parts squares in the middle 800 mm of the square p lies in.
func part(p plane.Point, parts int) int {
	n := func(x float64) int { return min(max(int((x-100)/800*float64(parts)), 0), parts-1) }
	return n(p.Y)*parts + n(p.X)
}

// A spot that no dart may hit, because of a point on another face, is not open: a fill comes to its end also where
// such a point is nearer than the radius by less than a step, and nothing else covers the spot.
func TestFillEndsBesideOtherFaces(t *testing.T) {
	const wide, high = 0.05, 150.0
	strip := func(frame space.Frame) poisson.Chart {
		bounds := plane.Rect{Max: plane.Point{X: wide, Y: high}}
		return poisson.Chart{
			Frame: frame, Bounds: bounds, Radii: poisson.NewRaster(bounds, 8, func(plane.Point) float64 { return 1 }),
			Deep: func(p plane.Point, d float64) bool { return min(p.X, p.Y, wide-p.X, high-p.Y) >= d },
		}
	}
	charts := linked(strip(front), strip(space.Upright(space.Vec{Z: high}, 0)))
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	// Between the two lies a spot that is as far from the lower point as one asks, or about a step less from the upper one.
	for n := range 200 {
		given := []poisson.Point{{At: plane.Point{}}, {Chart: 1, At: plane.Point{Y: 49.9 + float64(n)/1000}}}
		g, err := poisson.Fill(ctx, charts, poisson.Spacing{Scale: 100.006}, given, nil, rand.New(rand.NewPCG(1, 1)))
		require.NoError(t, err, n)
		requireApart(t, charts, g, len(given))
	}
}
