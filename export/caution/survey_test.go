package caution

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// surveyed returns a wall of 4 by 2.7 m that meets another in an inside corner at its right end,
// with a fireplace opening from (1000, 0) to (1900, 800) and a switch 86 mm square about
// (3000, 1200).
func surveyed(t *testing.T) wall.Site {
	t.Helper()
	site, err := wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{
		{
			Name: "Wall", Turn: 90, Surface: wall.Timber, Outline: plane.Rectangle(plane.Point{}, 4000, 2700),
			Obstructions: []wall.Obstruction{
				{Kind: wall.Fireplace, Name: "opening", Shape: plane.Rectangle(plane.Point{X: 1000}, 900, 800)},
				{Kind: wall.Switch, Name: "switch", Shape: plane.Rectangle(plane.Point{X: 2957, Y: 1157}, 86, 86)},
			},
		},
		{Name: "Other", Surface: wall.Timber, Outline: plane.Rectangle(plane.Point{}, 2000, 2700)},
	}})
	require.NoError(t, err)
	return site
}

func TestASurveyedWall(t *testing.T) {
	site := surveyed(t)
	tests := []struct {
		name        string
		at          plane.Point
		combustible bool
		standOff    float64
		want        []string
	}{
		{"clear of everything", plane.Point{X: 500, Y: 1700}, true, 18, nil},
		{"149 mm from the inside corner", plane.Point{X: 3851, Y: 1700}, false, 18, []string{"cable-band"}},
		{"151 mm from the inside corner", plane.Point{X: 3849, Y: 1700}, false, 18, nil},
		{"149 mm from the free end", plane.Point{X: 149, Y: 1700}, false, 18, nil},
		{"149 mm from the top", plane.Point{X: 500, Y: 2551}, false, 18, []string{"cable-band", "height"}},
		{"151 mm from the top", plane.Point{X: 500, Y: 2549}, false, 18, []string{"height"}},
		{"straight above the switch", plane.Point{X: 3042, Y: 1700}, false, 18, []string{"cable-band"}},
		{"just beside what is straight above", plane.Point{X: 3044, Y: 1700}, false, 18, nil},
		{"level with the switch", plane.Point{X: 500, Y: 1242}, false, 18, []string{"cable-band"}},
		{"just above that", plane.Point{X: 500, Y: 1244}, false, 18, nil},
		{"standing out 100 mm", plane.Point{X: 500, Y: 1700}, false, 100, nil},
		{"standing out more", plane.Point{X: 500, Y: 1700}, false, 101, []string{"route-projection"}},
		{"and over people's heads", plane.Point{X: 500, Y: 2100}, false, 101, []string{"height"}},
		// 6 in above the opening is at y = 952.4, 12 in at 1104.8; the pieces are 20 mm high.
		{"paper near the fire", plane.Point{X: 1450, Y: 960}, true, 18, []string{"fire-opening"}},
		{"metal near the fire", plane.Point{X: 1450, Y: 960}, false, 18, nil},
		{"flat paper a little farther off", plane.Point{X: 1450, Y: 964}, true, 6 * inch / 8, nil},
		{"deeper paper there", plane.Point{X: 1450, Y: 964}, true, 6*inch/8 + 1, []string{"fire-slope"}},
		{"deeper paper 12 in off", plane.Point{X: 1450, Y: 1115}, true, 60, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			kind := plate(20, 20)
			kind.Combustible, kind.StandOff = tt.combustible, tt.standOff
			assert.Equal(t, tt.want, find(site, kind, at(tt.at)).OfHole(1, 0))
		})
	}
}

// Every rule of the site gives its reason and its source, and what they say makes whole sentences.
func TestWhatTheRulesOfTheSiteSay(t *testing.T) {
	var things []wall.Obstruction
	for i, kind := range []wall.ObstructionKind{
		wall.Fireplace, wall.Radiator, wall.Switch, wall.Panel, wall.Sprinkler, wall.ExitSign, wall.CallPoint, wall.Cable, wall.Pipe,
	} {
		things = append(things, wall.Obstruction{
			Kind: kind, Name: string(kind), Shape: plane.Rectangle(plane.Point{X: 600 * float64(i), Y: 1000}, 100, 100), Clearance: 30,
		})
	}
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{{
		Name: "Wall", Surface: wall.Brick, Outline: plane.Rectangle(plane.Point{}, 6000, 2700), Obstructions: things,
	}}})
	require.NoError(t, err)
	kind := plate(5900, 2600)
	kind.Combustible, kind.StandOff = true, 200
	r := find(site, kind, at(plane.Point{X: 3000, Y: 1350}, plane.Point{X: 4250, Y: 1050}))
	codes := map[string]bool{}
	for _, c := range r.Cautions {
		codes[c.Code] = true
		assert.NotEmpty(t, c.Source, c.Code)
		assert.Regexp(t, `^[A-Z0-9][^.].*[a-z]\. This is a usual caution, not clearance: local codes and licensed trades decide\.$`, c.Text)
	}
	for _, code := range []string{"fire-opening", "heat", "keep-visible", "sprinkler-space", "panel-space", "route-projection", "cable-band", codeCombustible} {
		assert.True(t, codes[code], code)
	}
}
