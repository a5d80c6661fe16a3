package scatter_test

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/scatter/density"
	"wallshoal/scatter/flow"
	"wallshoal/scatter/heading"
	"wallshoal/scatter/mixing"
	"wallshoal/scatter/quality"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// rises asserts that each of the figures is more than the one before it.
func rises(t *testing.T, what string, figures ...float64) {
	t.Helper()
	for i := 1; i < len(figures); i++ {
		assert.Greater(t, figures[i], figures[i-1], "%s: %.4v", what, figures)
	}
}

// hall is one long bare wall.
func hall(t testing.TB, zones ...wall.Zone) wall.Site {
	t.Helper()
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{{
		Name: "hall", Surface: wall.Plaster, Margin: 30, Outline: plane.Rectangle(plane.Point{}, 6000, 2600), Marked: zones,
	}}})
	require.NoError(t, err)
	return site
}

func TestPiecesGatherAsAsked(t *testing.T) {
	site := hall(t)
	middle := density.Segment{A: site.Faces[0].Frame.At(plane.Point{X: 2000, Y: 1300})}
	middle.B = middle.A
	var shares []float64
	for _, strength := range []float64{0.3, 1, 3, 8} {
		comp := composition(260)
		comp.Spacing = 45
		comp.Density.Field = density.Gathering{Round: density.Shape{middle}, Reach: 700, Strength: strength}
		layout := lay(t, site, kinds(), comp, 5)
		check(t, site, kinds(), comp, layout)
		near := 0
		for _, p := range layout.Pieces {
			if p.At.Distance(plane.Point{X: 2000, Y: 1300}) < 700 {
				near++
			}
		}
		shares = append(shares, float64(near)/float64(comp.Count))
	}
	rises(t, "share of the pieces within the reach", shares...)
}

// Over a ramp of one to four the counts of eight strips follow the density within a tenth of each.
func TestPiecesFollowTheDensity(t *testing.T) {
	site := hall(t)
	small := []scatter.Kind{dart("dart", "D", 24, 8)}
	comp := composition(2400)
	comp.Spacing, comp.Gap = 10, 2
	comp.Density.Field = ramp{}
	var counts, expected [8]float64
	for seed := range uint64(4) {
		for _, p := range lay(t, site, small, comp, seed).Pieces {
			counts[min(int((p.At.X-30)/5940*8), 7)]++
		}
	}
	for i := range expected {
		expected[i] = 4 * 2400 * (1 + 3*(float64(i)+0.5)/8) / (8 * 2.5)
		assert.InEpsilon(t, expected[i], counts[i], 0.1, "strip %d", i)
	}
}

type ramp struct{}

func (ramp) At(_ space.Frame, p plane.Point) float64 { return 1 + 3*(p.X-30)/5940 }

func TestNothingHangsWhereTheDensityIsNothing(t *testing.T) {
	site := hall(t)
	comp := composition(150)
	comp.Density.Field = halved{}
	layout := lay(t, site, kinds(), comp, 1)
	check(t, site, kinds(), comp, layout)
	for _, p := range layout.Pieces {
		require.Less(t, p.At.X, 3100.0)
	}
}

type halved struct{}

func (halved) At(_ space.Frame, p plane.Point) float64 {
	if p.X < 3000 {
		return 1
	}
	return 0
}

func TestADensityPerSquareMetreCountsThePieces(t *testing.T) {
	site := hall(t)
	comp := composition(0)
	comp.Density.PerSquareMetre = 12
	free := site.Faces[0].Free().Area() / 1e6
	assert.InDelta(t, 12*free, scatter.CountFor(site, comp), 0.5)
	comp.Density.Field = halved{}
	assert.InEpsilon(t, 6*free, scatter.CountFor(site, comp), 0.02)
	comp.Count = 77
	assert.Equal(t, 77, scatter.CountFor(site, comp))
}

func TestHeadingsHaveTheRolesAsked(t *testing.T) {
	site := hall(t)
	comp := composition(300)
	comp.Flow = flow.Field{flow.Sweep{Strength: 1}}
	off := func(p scatter.Piece) float64 { return heading.Difference(p.Heading, heading.FromAngle(0)) }
	share := func(scheme heading.Scheme, is func(scatter.Piece) bool) float64 {
		comp.Headings = scheme
		n := 0
		for _, p := range lay(t, site, kinds(), comp, 2).Pieces {
			if is(p) {
				n++
			}
		}
		return float64(n) / float64(comp.Count)
	}
	var strays, second []float64
	for _, s := range []float64{0, 0.1, 0.3} {
		strays = append(strays, share(heading.Scheme{Spread: 6, Strays: s}, func(p scatter.Piece) bool { return off(p) > 40 }))
		second = append(second, share(heading.Scheme{Spread: 6, Second: heading.Second{Turn: 90, Share: s}}, func(p scatter.Piece) bool {
			return math.Abs(off(p)-90) < 30
		}))
	}
	rises(t, "share that heads anywhere", strays...)
	assert.InDelta(t, 0.3*280/360, strays[2], 0.06)
	rises(t, "share that heads the second way", second...)
	assert.InDelta(t, 0.3, second[2], 0.02)
}

func TestNeighboursHeadApart(t *testing.T) {
	site := hall(t)
	var met []float64
	for _, apart := range []float64{0, 6, 12} {
		comp := composition(300)
		comp.Headings = heading.Scheme{Spread: 20, Apart: apart}
		pieces := lay(t, site, kinds(), comp, 2).Pieces
		n := 0
		for _, p := range pieces {
			near := slices.SortedFunc(slices.Values(pieces), func(a, b scatter.Piece) int {
				return cmp.Compare(p.At.Distance(a.At), p.At.Distance(b.At))
			})
			var beside []heading.Bearing
			for _, q := range near[1 : 1+heading.Few] {
				beside = append(beside, q.Heading)
			}
			if heading.Least(p.Heading, beside) >= 10 {
				n++
			}
		}
		met = append(met, float64(n))
	}
	rises(t, "pieces that head 10 degrees or more off their nearest three", met...)
}

func TestAKindTurnsByItsOffset(t *testing.T) {
	site := hall(t)
	comp := composition(120)
	comp.Flow = flow.Field{flow.Sweep{Strength: 1}}
	comp.Headings = heading.Scheme{}
	hung := kinds()
	hung[2].Offset = 35
	for _, p := range lay(t, site, hung, comp, 2).Pieces {
		want := heading.Bearing(90)
		if p.Kind == 2 {
			want = 125
		}
		require.Equal(t, want, p.Heading)
	}
}

func TestKindsLieAsTheSchemeSays(t *testing.T) {
	site := hall(t)
	comp := composition(320)
	comp.Flow = flow.Field{flow.Toward{Point: site.Faces[0].Frame.At(plane.Point{X: 6000, Y: 1300}), Strength: 1}}
	four := kinds()
	four[0].Share = 1
	measure := func(scheme mixing.Scheme) (company, drift float64) {
		comp.Mixing = scheme
		layout := lay(t, site, four, comp, 4)
		check(t, site, four, comp, layout)
		progress := make([]float64, len(layout.Pieces))
		for i, p := range layout.Pieces {
			progress[i], _ = comp.Flow.Progress(site.Faces[p.Face].Frame, p.At)
		}
		return quality.Company(quality.Groups(graph(layout), kindsOf(layout))), quality.Drift(progress, kindsOf(layout))
	}
	scattered, none := measure(mixing.Scheme{})
	small, _ := measure(mixing.Scheme{Way: mixing.Families, Size: 4})
	large, _ := measure(mixing.Scheme{Way: mixing.Families, Size: 16})
	_, drift := measure(mixing.Scheme{Way: mixing.Drifting})
	rises(t, "pieces in a group of equals", scattered, small, large)
	assert.Less(t, math.Abs(none), 0.15)
	assert.Greater(t, drift, 0.75)
}

// Pieces five times as long as they are wide nest along the flow: more of them stand than discs of
// their length find room for, by the coverage of random sequential discs (Feder 1980) and an edge.
func TestThinPiecesNest(t *testing.T) {
	site := hall(t)
	thin := []scatter.Kind{dart("blade", "B", 150, 30)}
	comp := composition(0)
	comp.Spacing, comp.Gap = 20, 5
	comp.Headings = heading.Scheme{Spread: 4}
	area := site.Faces[0].Free().Area()
	discs := 4 * 0.547 * area / (math.Pi * 155 * 155)
	comp.Count = int(1.6 * discs)
	check(t, site, thin, comp, lay(t, site, thin, comp, 3))
}

func TestPiecesOverlapByNoMoreThanTheyMay(t *testing.T) {
	site := hall(t)
	tiles := []scatter.Kind{dart("low", "L", 90, 60), dart("high", "H", 90, 60)}
	for i := range tiles {
		tiles[i].Holes = []scatter.Hole{{Bit: 2, Depth: 20, Fixing: "pin"}}
		tiles[i].StandOff = 10 + 20*float64(i)
	}
	var lapped []float64
	for _, share := range []float64{0.05, 0.15, 0.35} {
		comp := composition(2000)
		comp.Spacing, comp.Gap, comp.Overlap = 25, 0, share
		layout := lay(t, site, tiles, comp, 3)
		found, err := scatter.Inspect(site, tiles, comp, layout, "mm")
		require.NoError(t, err)
		require.Empty(t, found)
		pairs := scatter.TooNear(site, tiles, layout.Pieces, scatter.Distances{})
		require.NotEmpty(t, pairs)
		most := 0.0
		for _, pair := range pairs {
			// The worst of a pair, laid out by another way than the composer's: a fine lattice of points.
			p, q := layout.Pieces[pair.A], layout.Pieces[pair.B]
			require.LessOrEqual(t, tiles[p.Kind].StandOff, tiles[q.Kind].StandOff, "the upper one is hung later")
			most = max(most, lattice(p.Outline(tiles), q.Outline(tiles)))
		}
		assert.Less(t, most, share+0.02)
		lapped = append(lapped, most)
	}
	assert.NotZero(t, lapped[2])
}

func TestMorePiecesFitWhereTheyMayOverlap(t *testing.T) {
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{{
		Name: "panel", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 500, 400),
	}}})
	require.NoError(t, err)
	var fit []float64
	for _, share := range []float64{0, 0.1, 0.3} {
		comp := composition(300)
		comp.Spacing, comp.Gap, comp.Overlap = 10, 0, share
		_, err := scatter.Lay(context.Background(), site, kinds(), comp, 1, nil)
		var short *scatter.ShortfallError
		require.ErrorAs(t, err, &short)
		fit = append(fit, float64(short.Fit))
	}
	rises(t, "pieces that fit", fit...)
}

// lattice returns the share of the lower outline that the upper covers, by points 1 mm apart.
func lattice(lower, upper plane.Ring) float64 {
	var in, both float64
	box := lower.Bounds()
	for x := box.Min.X; x < box.Max.X; x++ {
		for y := box.Min.Y; y < box.Max.Y; y++ {
			if p := (plane.Point{X: x, Y: y}); lower.Contains(p) {
				in++
				if upper.Contains(p) {
					both++
				}
			}
		}
	}
	return both / in
}

// Over a wall peppered with places where nothing may be drilled pieces give way a little, and every
// one that did is told, with how far it was thrown from where it stands and why.
func TestPiecesAreSeated(t *testing.T) {
	var zones []wall.Zone
	for i := range 20 {
		for j := range 9 {
			zones = append(zones, wall.Zone{
				Code: "pepper", Name: fmt.Sprintf("pipe %d/%d", i, j), Strength: wall.Forbidden, Binds: wall.Holes, Reason: "a pipe ends here",
				Shape: plane.RegionOf(plane.Rectangle(plane.Point{X: float64(i) * 300, Y: float64(j) * 300}, 90, 90)),
			})
		}
	}
	site := hall(t, zones...)
	var seated []float64
	for _, limit := range []float64{0, 6, 25} {
		comp := composition(200)
		comp.Seating = scatter.Seating{Move: limit, Turn: limit / 2, Holes: 12}
		layout := lay(t, site, kinds(), comp, 3)
		check(t, site, kinds(), comp, layout)
		ids := byID(layout)
		for _, s := range layout.Seated {
			p := ids[s.ID]
			assert.LessOrEqual(t, p.At.Distance(s.Thrown.At), limit+0.01)
			assert.NotEqual(t, [2]any{p.At, p.Heading}, [2]any{s.Thrown.At, s.Thrown.Heading})
			assert.Contains(t, s.Why(site, kinds(), "mm"), "a pipe ends here")
		}
		seated = append(seated, float64(len(layout.Seated)))
	}
	assert.Zero(t, seated[0])
	rises(t, "pieces seated", seated...)
}

// Where one kind finds few places to be drilled for, others of which too many stand can be made into it:
// what is said to fit is not the number that chance dealt of the scarce kind, and it does fit.
func TestWhatFitsCountsPiecesThatCanBeTurnedIntoOthers(t *testing.T) {
	room := wall.Room{Walls: []wall.Wall{{
		Name: "hall", Surface: wall.Plasterboard, Outline: plane.Rectangle(plane.Point{}, 3000, 2000),
		Studs: &wall.Studs{First: 200, Spacing: 300, Width: 90, Holes: wall.HolesOff},
	}}}
	site, err := wall.Survey(room)
	require.NoError(t, err)
	two := []scatter.Kind{dart("broad", "B", 110, 60), dart("narrow", "N", 60, 16)}
	two[1].Holes = two[1].Holes[:1]
	comp := composition(2000)
	comp.Mixing.Way = mixing.Drifting
	_, err = scatter.Lay(t.Context(), site, two, comp, 1, nil)
	var short *scatter.ShortfallError
	require.ErrorAs(t, err, &short)
	comp.Count = short.Fit * 19 / 20
	check(t, site, two, comp, lay(t, site, two, comp, 1))
	comp.Count = short.Fit * 5 / 4
	_, err = scatter.Lay(t.Context(), site, two, comp, 1, nil)
	require.ErrorAs(t, err, &short, "hardly more fit")
}

func TestHolesKeepApart(t *testing.T) {
	site := hall(t)
	comp := composition(250)
	comp.Spacing, comp.Gap, comp.Seating.Holes = 40, 2, 70
	layout := lay(t, site, kinds(), comp, 3)
	check(t, site, kinds(), comp, layout)
	for i, p := range layout.Pieces {
		for _, q := range layout.Pieces[:i] {
			for h := range kinds()[p.Kind].Holes {
				for k := range kinds()[q.Kind].Holes {
					require.GreaterOrEqual(t, p.HoleAt(kinds(), h).Distance(q.HoleAt(kinds(), k)), 70-1e-9)
				}
			}
		}
	}
}

func TestPiecesKeepToTheStuds(t *testing.T) {
	one := []scatter.Kind{dart("leaf", "L", 80, 40)}
	one[0].Holes = one[0].Holes[:1]
	room := wall.Room{Walls: []wall.Wall{{
		Name: "hall", Surface: wall.Plasterboard, Outline: plane.Rectangle(plane.Point{}, 6000, 2600),
		Studs: &wall.Studs{First: 300, Spacing: 400, Width: 45, Holes: wall.HolesOn},
	}}}
	site, err := wall.Survey(room)
	require.NoError(t, err)
	comp := composition(140)
	comp.Seating = scatter.Seating{Move: 20, Turn: 10}
	layout := lay(t, site, one, comp, 3)
	check(t, site, one, comp, layout)
	for _, p := range layout.Pieces {
		off := math.Mod(p.HoleAt(one, 0).X-300+200, 400) - 200
		require.LessOrEqual(t, math.Abs(off), 22.5)
	}
}
