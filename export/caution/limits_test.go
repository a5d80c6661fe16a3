package caution

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// Plastic plugs in masonry: 2 depths from an edge and 4 from one another, 60 and 120 mm for 30 mm, in
// concrete 1 and 2 (a maker's table at tox.de). Metal anchors in concrete: 5 and 10 diameters, 2-1/2
// and 5 in for 1/2 in (shortrunpro.com, rule of thumb).
func TestAnchorDistances(t *testing.T) {
	for _, tt := range []struct {
		surface                   wall.Surface
		holds                     scatter.Anchor
		bit, depth, edge, spacing float64
	}{
		{wall.Brick, scatter.Plug, 6, 30, 60, 120},
		{wall.Concrete, scatter.Plug, 6, 30, 30, 60},
		{wall.Concrete, scatter.Plug, inch / 2, 30, 30, 60},
		{wall.Concrete, scatter.Expansion, inch / 2, 30, 2.5 * inch, 5 * inch},
		{wall.Concrete, scatter.Expansion, 6, 30, 30, 60},
		{wall.Concrete, "", inch / 2, 30, 2.5 * inch, 5 * inch},
		{wall.Concrete, "", 5, 30, 30, 60}, // the depth has the greater ones
		{wall.Brick, "", 6, 30, 60, 120},
		{wall.Brick, scatter.Pin, 6, 30, 0, 0},
		{wall.Concrete, scatter.Pin, 6, 30, 0, 0},
		{wall.Timber, scatter.Plug, 6, 30, 0, 0},
		{wall.Plasterboard, "", 6, 30, 0, 0},
	} {
		edge, spacing := AnchorDistances(tt.surface, tt.holds, tt.bit, tt.depth)
		assert.InDelta(t, tt.edge, edge, 1e-9, tt.surface)
		assert.InDelta(t, tt.spacing, spacing, 1e-9, tt.surface)
	}
}

func TestAnchorsNearEdgesAndOneAnother(t *testing.T) {
	kind := plate(20, 20)
	kind.Holes[0].Bit, kind.Holes[0].Depth = 6, 30
	site := oneWall(4000, 2700, wall.Brick)
	l := at(plane.Point{X: 59, Y: 1000}, plane.Point{X: 1000, Y: 1000}, plane.Point{X: 1100, Y: 1000}, plane.Point{X: 2000, Y: 1000}, plane.Point{X: 2120, Y: 1000}, plane.Point{X: 3000, Y: 61})
	r := find(site, kind, l)
	for i, want := range [][2]bool{{true, false}, {false, true}, {false, true}, {}, {}, {}} {
		codes := r.OfHole(i+1, 0)
		assert.Equal(t, want, [2]bool{slices.Contains(codes, "anchor-edge"), slices.Contains(codes, "anchor-spacing")}, "piece %d", i+1)
	}
	limits := UsualLimits()
	limits.AnchorEdge, limits.AnchorSpacing = 40, 90
	r = Find(site, []scatter.Kind{kind}, l, limits)
	assert.Empty(t, ofCode(r, "anchor-edge"))
	assert.Empty(t, ofCode(r, "anchor-spacing"))
}

// Those distances are of fixings that spread (tox.de: plastic plugs; shortrunpro.com: metal anchors). A
// pin of 1.5 mm presses on nothing; how wide a hole has to be for a plug is a setting.
func TestAPinIsNoAnchor(t *testing.T) {
	l := at(plane.Point{X: 20, Y: 1000}, plane.Point{X: 40, Y: 1000})
	for _, tt := range []struct {
		bit   float64
		holds scatter.Anchor
		from  float64
		want  int
	}{
		{1.5, "", 4, 0}, {3, "", 4, 0}, {4, "", 4, 2}, {6, "", 8, 0}, {6, "", 4, 2},
		{6, scatter.Pin, 4, 0}, {3, scatter.Plug, 4, 2}, {3, scatter.Expansion, 4, 2},
	} {
		kind := plate(10, 10)
		kind.Holes[0] = scatter.Hole{Bit: tt.bit, Depth: 30, Fixing: "it", Anchor: tt.holds}
		limits := UsualLimits()
		limits.AnchorFrom = tt.from
		r := Find(oneWall(4000, 2700, wall.Brick), []scatter.Kind{kind}, l, limits)
		for _, code := range []string{"anchor-edge", "anchor-spacing"} {
			holes := 0
			for _, c := range ofCode(r, code) {
				holes += c.Holes
			}
			assert.Equal(t, tt.want, holes, "%s: %+v", code, tt)
		}
	}
}

func TestWhatAFixingCarriesAgainstItsPacket(t *testing.T) {
	kind := plate(60, 60)
	kind.Weight = 1000
	for factor, want := range map[float64]int{3.9: 0, 4: 0, 4.1: 1} {
		limits := UsualLimits()
		limits.Ratings = []Rating{{Fixing: "pin", Holds: 4000, Factor: factor}}
		got := ofCode(Find(oneWall(4000, 2700, wall.Timber), []scatter.Kind{kind}, at(plane.Point{X: 500, Y: 500}), limits), "fixing-load")
		require.Len(t, got, want, "%v", factor)
		if want > 0 {
			assert.Equal(t, Stop, got[0].Severity)
			assert.Contains(t, got[0].Text, "One pin carries 1.00 kg of Plate, and by the plan it holds 4.00 kg, which with a factor of 4.1 leaves 975.6 g.")
		}
	}
}

// Cables that lie 50 mm deep or more need keep to no band (BS 7671:2018 regulation 522.6.202(i), as
// quoted in trade guides).
func TestHolesDeeperThanTheBandsReach(t *testing.T) {
	kind := plate(60, 60)
	for depth, want := range map[float64]int{50: 0, 50.5: 1} {
		kind.Holes[0].Depth = depth
		assert.Len(t, ofCode(find(oneWall(4000, 2700, wall.Brick), kind, at(plane.Point{X: 500, Y: 500})), "deep-hole"), want, "%v", depth)
	}
}

func TestWhatIsAcknowledgedIsShownAsThat(t *testing.T) {
	limits := UsualLimits()
	limits.Acknowledged = []Acknowledgement{
		{Code: "old-finishes", Wall: "Wall", Reason: "surveyed in May", By: "building manager"},
		{Code: "mineral-dust", Wall: "Elsewhere", Reason: "no", By: "nobody"},
	}
	kinds := []scatter.Kind{plate(60, 60)}
	l := at(plane.Point{X: 500, Y: 500})
	site := oneWall(4000, 2700, wall.Brick)
	with, without := Find(site, kinds, l, limits), Find(site, kinds, l, UsualLimits())
	require.Len(t, with.Cautions, len(without.Cautions), "nothing is hidden")
	old, dust := ofCode(with, "old-finishes")[0], ofCode(with, "mineral-dust")[0]
	require.NotNil(t, old.Acknowledged)
	assert.Equal(t, "building manager", old.Acknowledged.By)
	assert.Contains(t, old.Text, "Acknowledged by the building manager: surveyed in May. Old paint can hold lead")
	assert.Nil(t, dust.Acknowledged)
}

// IRC 2018 R1001.11 exception 4, as quoted in trade articles: 9 in from the opening 1-1/8 in out.
func TestTheSlopeByTheFireJudgesEachPiece(t *testing.T) {
	site := surveyed(t)
	kind := plate(20, 20)
	kind.Combustible, kind.StandOff = true, 9*inch/8
	l := at(plane.Point{X: 1450, Y: 800 + 9*inch + 10}, plane.Point{X: 1450, Y: 800 + 8*inch + 10})
	r := find(site, kind, l)
	assert.NotContains(t, r.OfHole(1, 0), "fire-slope")
	assert.Contains(t, r.OfHole(2, 0), "fire-slope")
	got := ofCode(r, "fire-slope")
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Text, "opening, piece 2 (203.2 mm off it, so at most 25.4 mm out)")
}

func TestAFigureIsShownToTheSafeSide(t *testing.T) {
	for _, tt := range []struct {
		mm   float64
		in   measure.Unit
		want string
	}{
		{163.66, measure.Millimetre, "163.6 mm"}, {20.4575, measure.Millimetre, "20.4 mm"}, {25.4, measure.Millimetre, "25.4 mm"},
		{9 * inch / 8, measure.Inch, `1 1/8"`}, {9*inch/8 - 0.01, measure.Inch, `1 1/16"`},
	} {
		assert.Equal(t, tt.want, atLeast(tt.mm, tt.in))
	}
}

func TestEveryCautionFoundHasAKnownCode(t *testing.T) {
	kind := plate(400, 400)
	kind.Combustible, kind.StandOff, kind.Holes[0].Depth = true, 200, 90
	codes := Codes()
	assert.True(t, slices.IsSorted(codes))
	for _, surface := range wall.Surfaces() {
		for _, c := range find(oneWall(1200, 2700, surface), kind, at(plane.Point{X: 500, Y: 2400}, plane.Point{X: -5, Y: 500}, plane.Point{X: 700, Y: 2400})).Cautions {
			assert.Contains(t, codes, c.Code)
		}
	}
}

// Limits that were given in millimetres, or left to be usual, are sixteenths of an inch in a plan in inches.
func TestLimitsInInches(t *testing.T) {
	for _, c := range []struct {
		mm       float64
		unit     measure.Unit
		wantSays string
	}{
		{10, measure.Inch, `3/8"`}, {25, measure.Foot, `1"`}, {900, measure.Foot, `2'-11 7/16"`}, {31.75, measure.Inch, `1 1/4"`},
		{1, measure.Inch, `0.039"`}, {0, measure.Inch, `0"`}, {10, measure.Millimetre, "10 mm"}, {12.7, measure.Millimetre, "12.7 mm"},
	} {
		assert.Equal(t, c.wantSays, Limits{Units: c.unit}.show(c.mm))
	}
}
