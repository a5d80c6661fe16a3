package wall_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

const inch = 25.4

// IRC 2018 R1001.11 exception 4, as quoted in "Fireplace Mantel Clearances" (D. Horgan): 3/4 in out at
// 6 in and 1-1/2 in at 12 in; what lies between is an eighth of the distance.
func TestHowFarOutByDistanceFromAFire(t *testing.T) {
	for in, eighths := range map[float64]float64{6: 6, 7: 7, 8: 8, 9: 9, 10: 10, 11: 11, 12: 12} {
		assert.InDelta(t, eighths/8*inch, wall.FireSlope.Limit(in*inch, false), 1e-9, "%v in", in)
	}
	assert.InDelta(t, 1.125*inch, wall.FireSlope.Limit(9*inch, true), 1e-9)
	assert.Zero(t, wall.FireSlope.Limit(5.99*inch, false))
	assert.True(t, math.IsInf(wall.FireSlope.Limit(12.01*inch, false), 1))
}

// NFPA 211, as two fireplace manuals quote it, and the Ontario Building Code: a step above the opening.
func TestTheStepRulesForFires(t *testing.T) {
	assert.InDelta(t, 1.5*inch, wall.FireStep.Limit(8*inch, true), 1e-9)
	assert.True(t, math.IsInf(wall.FireStep.Limit(8*inch, false), 1), "beside the opening it sets none")
	assert.Zero(t, wall.FireStep.Limit(5*inch, false))
	assert.Equal(t, 38.0, wall.FireMetric.Limit(299, true))
	assert.Zero(t, wall.FireMetric.Limit(149, false))
	assert.True(t, math.IsInf(wall.FireMetric.Limit(301, true), 1))
}

// underRules returns the one face of a plain wall with the things on it.
func underRules(t *testing.T, rules wall.Rules, things ...wall.Obstruction) wall.Face {
	t.Helper()
	site, err := wall.Survey(wall.Room{Rules: rules, Walls: []wall.Wall{boxWall(0, things...)}})
	require.NoError(t, err)
	return site.Faces[0]
}

func TestEachPieceIsJudgedByItsOwnDistanceFromTheFire(t *testing.T) {
	f := underRules(t, wall.Rules{}, rect(wall.Fireplace, 1500, 0, 900, 800, 0))
	z := zone(t, f, "fire-slope", "the fireplace")
	for _, in := range []float64{6, 7, 8, 9, 10, 11, 12} {
		piece := plane.Rectangle(plane.Point{X: 1900, Y: 800 + in*inch}, 50, 20)
		out := in / 8 * inch
		assert.InDelta(t, out, z.Allowed(piece), 0.01, "%v in", in)
		assert.False(t, z.Reaches(wall.Load{Combustible: true, StandOff: out}, piece), "%v in", in)
		assert.Equal(t, in < 12, z.Reaches(wall.Load{Combustible: true, StandOff: out + 1}, piece.Map(func(p plane.Point) plane.Point {
			return plane.Point{X: p.X, Y: p.Y - 0.02}
		})) && in < 12, "%v in", in)
		assert.False(t, z.Reaches(wall.Load{StandOff: 200}, piece), "what does not burn")
	}
	far := plane.Rectangle(plane.Point{X: 1900, Y: 800 + 12.1*inch}, 50, 20)
	assert.False(t, z.Reaches(wall.Load{Combustible: true, StandOff: 400}, far), "beyond 12 in it is free")
}

// On the return of a chimney breast, what counts is how far its foot on the wall is from the opening.
func TestTheSlopeIsMeasuredAlongTheWallOnWhatStandsOut(t *testing.T) {
	breast := rect(wall.Chimney, 1300, 0, 1100, 2000, 0)
	breast.Depth, breast.Use = 300, []wall.Side{wall.All}
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{boxWall(0, breast, rect(wall.Fireplace, 1500, 0, 700, 800, 0))}})
	require.NoError(t, err)
	judged := map[wall.Side]bool{}
	for _, f := range site.Faces {
		for _, z := range zonesOf(f, "fire-slope") {
			judged[f.Side] = true
			switch f.Side {
			case wall.Front: // 9 in above the opening
				piece := plane.Rectangle(plane.Point{X: 400, Y: 800 + 9*inch}, 50, 20)
				assert.InDelta(t, 1.125*inch, z.Allowed(piece), 0.01)
			case wall.Left, wall.Right: // 200 mm beside it
				piece := plane.Rectangle(plane.Point{X: 100, Y: 300}, 50, 20)
				assert.InDelta(t, 25, z.Allowed(piece), 0.01, f.Name)
			}
		}
	}
	for _, side := range []wall.Side{wall.Front, wall.Left, wall.Right} {
		assert.True(t, judged[side], "the %s has the zone", side)
	}
}

func TestTheStepHoldsAboveTheOpeningAlone(t *testing.T) {
	f := underRules(t, wall.Rules{Fire: wall.FireStep}, rect(wall.Fireplace, 1500, 0, 900, 800, 0))
	z := zone(t, f, "fire-step", "the fireplace")
	assert.Empty(t, zonesOf(f, "fire-slope"))
	assert.True(t, z.Shape.Contains(plane.Point{X: 1950, Y: 800 + 10*inch}))
	assert.False(t, z.Shape.Contains(plane.Point{X: 1500 - 8*inch, Y: 400}), "beside it")
	assert.False(t, z.Shape.Contains(plane.Point{X: 1950, Y: 800 + 5*inch}), "where nothing may hang at all")
	assert.False(t, z.Reaches(wall.Load{Combustible: true, StandOff: 1.5 * inch}, plane.Rectangle(plane.Point{X: 1900, Y: 1020}, 50, 20)))
	assert.True(t, z.Reaches(wall.Load{Combustible: true, StandOff: 1.6 * inch}, plane.Rectangle(plane.Point{X: 1900, Y: 1020}, 50, 20)))
}

func TestTheFiguresOfTheRulesCanBeSet(t *testing.T) {
	f := underRules(t, wall.Rules{CableEdge: 200, CableWidth: 120, Heat: 400, RouteFrom: 500, RouteTo: 2100, RouteOut: 80},
		rect(wall.Socket, 1000, 300, 86, 86, 50), rect(wall.Radiator, 2000, 300, 800, 600, 100))
	assert.InDelta(t, 4000*200, zone(t, f, "cable-band", "top of the wall").Shape.Area(), 1e-6)
	assert.InDelta(t, 120*2500+120*4000-120*120, zone(t, f, "cable-band", "the socket").Shape.Area(), 1e-6)
	assert.True(t, zone(t, f, "heat", "the radiator").Shape.Contains(plane.Point{X: 2400, Y: 1299}))
	route := zone(t, f, "route-projection", "walking height")
	assert.Equal(t, [2]float64{500, 2100}, [2]float64{route.Shape.Bounds().Min.Y, route.Shape.Bounds().Max.Y})
	assert.Equal(t, 80.0, route.Limit)

	_, err := wall.Survey(wall.Room{Rules: wall.Rules{Heat: math.NaN()}, Walls: []wall.Wall{boxWall(0)}})
	assert.Error(t, err)
	_, err = wall.Survey(wall.Room{Rules: wall.Rules{Fire: "none"}, Walls: []wall.Wall{boxWall(0)}})
	assert.Error(t, err)
}

// BS 7671:2018, as a trade guide quotes it: where a wall is no more than 100 mm thick the bands of an
// accessory hold on its far face too.
func TestCablesBehindThinScreens(t *testing.T) {
	for thickness, want := range map[float64]bool{80: true, 100: true, 101: false} {
		screen := boxWall(0, rect(wall.Socket, 400, 300, 86, 86, 50))
		screen.Alone = &wall.Stand{Thickness: thickness, Back: true}
		site, err := wall.Survey(wall.Room{Walls: []wall.Wall{screen}})
		require.NoError(t, err)
		found := false
		for _, f := range site.Faces {
			for _, z := range zonesOf(f, "cable-band") {
				if f.IsBack() && z.Name == "the socket" {
					found = true
					assert.True(t, z.Shape.Contains(plane.Point{X: 4000 - 443, Y: 2000}), "behind it, as seen from there")
				}
			}
		}
		assert.Equal(t, want, found, "%v mm", thickness)
	}
}

func TestReasonsAreInTheUnitsOfTheRules(t *testing.T) {
	things := []wall.Obstruction{rect(wall.Fireplace, 500, 0, 500, 500, 0), rect(wall.Sprinkler, 3000, 2300, 50, 50, 50), rect(wall.ExitSign, 2000, 2100, 200, 100, 50)}
	for units, mark := range map[measure.Unit]string{measure.Foot: `\d mm`, measure.Millimetre: `\d"|\d in\b`} {
		for _, z := range underRules(t, wall.Rules{Units: units}, things...).Zones {
			assert.NotRegexp(t, mark, z.Reason)
		}
	}
	assert.Contains(t, zone(t, underRules(t, wall.Rules{Units: measure.Inch}, things...), "fire-opening", "the fireplace").Reason, `within 6" of`)
}

func TestEveryZoneHasAKnownCode(t *testing.T) {
	var things []wall.Obstruction
	for i, k := range wall.ObstructionKinds() {
		things = append(things, rect(k, 130*float64(i), 1000, 100, 100, 30))
	}
	for _, fire := range wall.FireRules() {
		for _, z := range underRules(t, wall.Rules{Fire: fire}, things...).Zones {
			assert.Contains(t, wall.ZoneCodes(), z.Code)
		}
	}
}
