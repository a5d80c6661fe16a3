package caution

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A wall of 12 by 9 ft has 108 sq ft, and a Letter sheet 0.6493 (computed): 16 sheets are 9.62 % and 17
// are 10.22 % of it. The share is told whether the limit of 10 % (IBC 2021 §806.2) is kept or not.
func TestTheShareOfEveryWallIsTold(t *testing.T) {
	sheet := plate(8.5*inch, 11*inch)
	sheet.Combustible = true
	for n, want := range map[int]struct {
		share float64
		kept  bool
	}{1: {0.0060, true}, 16: {0.0962, true}, 17: {0.1022, false}} {
		r := find(oneWall(12*foot, 9*foot, wall.Timber), sheet, at(slices.Repeat([]plane.Point{{X: 1000, Y: 1000}}, n)...))
		require.Len(t, r.Shares, 1)
		got := r.Shares[0]
		assert.Equal(t, "Wall", got.Wall)
		assert.InDelta(t, want.share, got.Of(), 5e-5, "%d sheets", n)
		assert.Equal(t, 0.10, got.Limit)
		assert.Equal(t, want.kept, got.Kept())
		assert.Equal(t, want.kept, len(ofCode(r, codeCombustible)) == 0)
	}
	sheet.Combustible = false
	r := find(oneWall(12*foot, 9*foot, wall.Timber), sheet, at(plane.Point{X: 1000, Y: 1000}))
	require.Len(t, r.Shares, 1)
	assert.Zero(t, r.Shares[0].Of(), "what does not burn is not counted")
	assert.Empty(t, find(oneWall(12*foot, 9*foot, wall.Timber), sheet, scatter.Layout{}).Shares)
}

// What stands on a wall makes it no larger; a screen has two sides.
func TestWhatTheShareIsOf(t *testing.T) {
	column := func(use ...wall.Side) wall.Obstruction {
		return wall.Obstruction{Kind: wall.Column, Name: "pier", Shape: plane.Rectangle(plane.Point{X: 1000}, 600, 2500), Depth: 400, Use: use}
	}
	for _, tt := range []struct {
		thing wall.Obstruction
		back  bool
		want  float64 // m²
	}{
		{column(wall.All), false, 10},
		{wall.Obstruction{Kind: wall.Window, Name: "window", Shape: plane.Rectangle(plane.Point{X: 1000, Y: 900}, 1000, 1000)}, false, 10},
		{wall.Obstruction{Kind: wall.Window, Name: "window", Shape: plane.Rectangle(plane.Point{X: 1000, Y: 900}, 1000, 1000)}, true, 20},
	} {
		w := wall.Wall{Name: "Wall", Surface: wall.Timber, Outline: plane.Rectangle(plane.Point{}, 4000, 2500), Obstructions: []wall.Obstruction{tt.thing}}
		if tt.back {
			w.Alone = &wall.Stand{Thickness: 50, Back: true}
		}
		site, err := wall.Survey(wall.Room{Walls: []wall.Wall{w}})
		require.NoError(t, err)
		r := find(site, plate(60, 60), at(plane.Point{X: 500, Y: 500}))
		require.Len(t, r.Shares, 1)
		assert.InDelta(t, tt.want*1e6, r.Shares[0].Seen, 1, "%s", tt.thing.Name)
	}
}

func TestAnAcknowledgementOfNothingIsTold(t *testing.T) {
	limits := UsualLimits()
	limits.Acknowledged = []Acknowledgement{
		{Code: "old-finishes", Reason: "surveyed", By: "manager"},
		{Code: "old-finishes", Wall: "Elsewhere", Reason: "surveyed", By: "manager"},
		{Code: "heat", Wall: "Wall", Reason: "it is off", By: "manager"},
	}
	r := Find(oneWall(4000, 2700, wall.Brick), []scatter.Kind{plate(60, 60)}, at(plane.Point{X: 500, Y: 500}), limits)
	assert.Equal(t, limits.Acknowledged[1:], r.Unmet)
}
