package caution

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A quarter of the working length (29 CFR 1926.1053(b)(5)(i), as quoted in public safety notes): 12 ft of
// ladder stand 3.00 ft out and reach 11.62 ft up, at acos(1/4) = 75.5225° (computed). In the UK and New
// Zealand 1 out to 4 up, 75° (active-safety.co.uk, level.org.nz): atan 4 is 75.964°, and tan 75° is 3.732
// (computed).
func TestWhereTheFootOfALadderStands(t *testing.T) {
	assert.InDelta(t, 3*foot, LadderAlong.Foot(11.62*foot), 0.01*foot)
	assert.InDelta(t, 1000, LadderUp.Foot(4000), 1e-9)
	assert.InDelta(t, 1000, LadderAngle.Foot(3732), 0.1)
	assert.Equal(t, LadderUp.Foot(2500), LadderRule("").Foot(2500))
	angle := func(r LadderRule) float64 { return math.Atan2(1, r.Foot(1)) * 180 / math.Pi }
	assert.InDelta(t, 75.5225, angle(LadderAlong), 1e-4)
	assert.InDelta(t, 75.964, angle(LadderUp), 1e-3)
	assert.InDelta(t, 75, angle(LadderAngle), 1e-9)
	for _, r := range LadderRules() {
		// 75-1/2° is the angle at which ladders are tested (29 CFR 1926.1053(a)(1)(ii)).
		assert.InDelta(t, 75.5, angle(r), 0.55, r)
	}
}

func TestTheHighestHoleSaysWhereTheLadderStands(t *testing.T) {
	l := at(plane.Point{X: 500, Y: 2100}, plane.Point{X: 700, Y: 2400}, plane.Point{X: 900, Y: 1900})
	limits := UsualLimits()
	for _, tt := range []struct {
		rule LadderRule
		says string
	}{
		{LadderUp, "here up to 2.40 m. A leaning ladder that rests so high stands 0.60 m out at its foot, 1 out for every 4 up."},
		{LadderAlong, "stands 0.62 m out at its foot, 1 out for every 4 along the ladder."},
		{LadderAngle, "stands 0.64 m out at its foot, at 75°."},
	} {
		limits.LadderRule = tt.rule
		got := ofCode(Find(oneWall(4000, 2700, wall.Timber), []scatter.Kind{plate(60, 60)}, l, limits), "height")
		require.Len(t, got, 1)
		assert.Equal(t, 2, got[0].Holes)
		assert.Contains(t, got[0].Text, tt.says)
		assert.Contains(t, got[0].Text, "three points of contact")
	}
}

func TestWhatALadderDoesNotReachTakesAPlatform(t *testing.T) {
	site := oneWall(4000, 6000, wall.Timber)
	r := find(site, plate(60, 60), at(plane.Point{X: 500, Y: 1900}, plane.Point{X: 500, Y: 3000}, plane.Point{X: 500, Y: 3001}, plane.Point{X: 500, Y: 4250}))
	ladder, platform := ofCode(r, "height"), ofCode(r, "platform")
	require.Len(t, ladder, 1)
	require.Len(t, platform, 1)
	assert.Equal(t, [2]int{1, 2}, [2]int{ladder[0].Holes, platform[0].Holes})
	assert.Contains(t, ladder[0].Text, "here up to 3.00 m")
	assert.Contains(t, platform[0].Text, "here up to 4.25 m")
	assert.Contains(t, platform[0].Text, "work by two")

	// From below nobody leans a ladder on anything.
	site.Faces[0].Frame.Origin.Z = 2400
	site.Faces[0].Frame.Out, site.Faces[0].Frame.Up = site.Faces[0].Frame.Up.Scale(-1), site.Faces[0].Frame.Out
	r = find(site, plate(60, 60), at(plane.Point{X: 500, Y: 500}))
	assert.Empty(t, ofCode(r, "height"))
	assert.Len(t, ofCode(r, "platform"), 1)
	assert.Len(t, ofCode(r, "overhead"), 1)
}

// One figure a wall: faces of one wall say the same, so that it is said of them once.
func TestAllFacesOfAWallSayTheSameOfHeights(t *testing.T) {
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{{
		Name: "Wall", Surface: wall.Timber, Outline: plane.Rectangle(plane.Point{}, 4000, 2700),
		Obstructions: []wall.Obstruction{{
			Kind: wall.Column, Name: "pier", Shape: plane.Rectangle(plane.Point{X: 1000}, 600, 2700), Depth: 200, Use: []wall.Side{wall.Front},
		}},
	}}})
	require.NoError(t, err)
	front, found := site.FaceByName("Wall", "pier front")
	require.True(t, found)
	l := at(plane.Point{X: 500, Y: 2100}, plane.Point{X: 300, Y: 2600})
	l.Pieces[1].Face = front
	got := ofCode(find(site, plate(60, 60), l), "height")
	require.Len(t, got, 2)
	assert.Equal(t, got[0].Text, got[1].Text)
	assert.Contains(t, got[0].Text, "here up to 2.60 m")
}

// On a landing one stands on the landing; along a stair the ladder has to stand on steps.
func TestHeightsAreAboveTheFloorOneStandsOn(t *testing.T) {
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{{Name: "Stair", Surface: wall.Timber, Outline: plane.Ring{
		{}, {X: 1000}, {X: 3000, Y: 1500}, {X: 5000, Y: 1500}, {X: 5000, Y: 4600}, {Y: 4600},
	}}}})
	require.NoError(t, err)
	r := find(site, plate(60, 60), at(plane.Point{X: 500, Y: 1900}, plane.Point{X: 4000, Y: 3400}, plane.Point{X: 4000, Y: 3600}))
	got := ofCode(r, "height")
	require.Len(t, got, 1)
	assert.Equal(t, 1, got[0].Holes, "1.9 m above the landing is reached from it")
	assert.Contains(t, got[0].Text, "here up to 2.10 m")
	assert.NotContains(t, got[0].Text, "stairs")

	r = find(site, plate(60, 60), at(plane.Point{X: 500, Y: 2200}, plane.Point{X: 2000, Y: 3000}))
	got = ofCode(r, "height")
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Text, "over steps use a platform made for stairs")
	assert.Contains(t, got[0].Text, "heights here count from the floor right below each hole", "those of the order of work count from elsewhere")
}
