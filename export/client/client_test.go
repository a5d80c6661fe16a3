package client

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
	"wallshoal/export/makinggood"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// hall is a brick wall with a detector and a plaster one with pieces of 25 g on two screws each.
func hall(t *testing.T, limits caution.Limits) holemap.Work {
	t.Helper()
	site, err := wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{
		{Name: "Brick wall", Surface: wall.Brick, Turn: 90, Outline: plane.Rectangle(plane.Point{}, 4000, 2500), Obstructions: []wall.Obstruction{
			{Kind: wall.Detector, Name: "detector", Shape: plane.Rectangle(plane.Point{X: 3000, Y: 2200}, 100, 100)},
		}},
		{Name: "Plaster wall", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 4000, 2500)},
	}})
	require.NoError(t, err)
	w := holemap.Work{Title: "Work", For: "School", Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Site: site, Kinds: []scatter.Kind{{
		Name: "Leaf", Code: "A", Weight: 25, Outline: plane.Rectangle(plane.Point{X: -20, Y: -20}, 40, 40),
		Holes: []scatter.Hole{{At: plane.Point{X: -10}, Bit: 5, Depth: 30, Fixing: "plug"}, {At: plane.Point{X: 10}, Bit: 10, Depth: 40, Fixing: "plug"}},
	}}}
	for i := range 5 {
		w.Layout.Pieces = append(w.Layout.Pieces, scatter.Piece{ID: i + 1, Face: min(i/3, 1), At: plane.Point{X: 500 + 300*float64(i), Y: 1500}})
	}
	w.Map, err = holemap.MakeWithin(site, w.Kinds, w.Layout, limits)
	require.NoError(t, err)
	return w
}

// Worked by hand: three pieces hang on the first wall and two on the second, with two holes each. Five
// mouths of 5 mm and five of 10 mm come to 5 · π/4 · (0.25 + 1) cm² = 4.9 cm², which is 0.79 % of a
// sheet of 21 × 29.7 cm.
func TestASummaryCountsByWall(t *testing.T) {
	w := hall(t, caution.UsualLimits())
	s, err := Of(w, makinggood.Usual())
	require.NoError(t, err)
	assert.Equal(t, [2]int{5, 10}, [2]int{s.Pieces, s.Holes})
	require.Len(t, s.Walls, 2)
	first := s.Walls[0]
	assert.Equal(t, "Brick wall", first.Name)
	assert.Equal(t, [2]int{3, 6}, [2]int{first.Pieces, first.Holes})
	assert.Equal(t, 75.0, first.Weight)
	assert.Equal(t, []Way{{5, 30, "plug", 3}, {10, 40, "plug", 3}}, first.Ways)
	assert.Equal(t, []Face{{"the wall itself", 3, 6}}, first.Faces)
	assert.Equal(t, []Size{{5, 5}, {10, 5}}, s.Sizes)
	assert.Equal(t, "4.9 cm², 0.79 % of the size of an A4 sheet", s.Mouths())
	assert.Equal(t, "5 mm wide and 30 mm deep, for plug", s.Says(first.Ways[0]))
	assert.Equal(t, "2026-11-25", s.Date)
	assert.Contains(t, s.Promise(), "Up to 10 holes in 2 walls, for 5 pieces")
	assert.Equal(t, [2]string{"For the walls: School", "For the work"}, s.Parties())
	sum := 0.0
	for _, wall := range s.Walls {
		sum += wall.Filler
	}
	assert.InDelta(t, s.Good.Filler, sum, 0.01, "the filler of the walls is that of all")
	_, err = Of(w, makinggood.Settings{Waste: -1})
	assert.ErrorContains(t, err, "waste")
	w.Map.Holes = w.Map.Holes[1:]
	_, err = Of(w, makinggood.Usual())
	assert.ErrorContains(t, err, "another layout")
}

// asked returns the check that asks something, and whether there is one.
func asked(s Summary, ask string) (Check, bool) {
	for _, c := range s.Checks {
		for _, i := range c.Items {
			if i.Ask == ask {
				return i, true
			}
		}
	}
	return Check{}, false
}

func TestChecksAskOnlyWhatThePlanGivesCauseFor(t *testing.T) {
	const burns = "Whoever decides on fire safety here has seen the layout, and said which rules hold."
	const dust = "Detectors are covered or switched off while there is dust, by whoever may do so, and on again every evening."
	const above = "What lies above the ceiling is known: cables, pipes, ducts, heating, sprinklers."
	w := hall(t, caution.UsualLimits())
	s, err := Of(w, makinggood.Usual())
	require.NoError(t, err)
	_, found := asked(s, burns)
	assert.False(t, found, "nothing burns")
	_, found = asked(s, above)
	assert.False(t, found, "there is no ceiling")
	c, found := asked(s, dust)
	assert.True(t, found, "brick makes dust below a detector")
	assert.Equal(t, "Brick wall: detector", c.Why)
	_, found = asked(s, "The asbestos register or a survey has been seen, and covers these walls.")
	assert.True(t, found, "always")

	w.Kinds[0].Combustible = true
	s, err = Of(w, makinggood.Usual())
	require.NoError(t, err)
	c, found = asked(s, burns)
	assert.True(t, found)
	assert.Equal(t, "1 kind of piece that burns", c.Why)
}

// What somebody has decided about is shown, with who and why.
func TestAcknowledgedCautionsAreShownAsSuch(t *testing.T) {
	limits := caution.UsualLimits()
	limits.Acknowledged = []caution.Acknowledgement{{Code: "old-finishes", Wall: "Brick wall", Reason: "the wall is bare. It was never painted", By: "building manager"}}
	s, err := Of(hall(t, limits), makinggood.Usual())
	require.NoError(t, err)
	var decided, open []Caution
	for _, c := range s.Cautions {
		if c.Code == "old-finishes" && c.By != "" {
			decided = append(decided, c)
		} else if c.Code == "old-finishes" {
			open = append(open, c)
		}
	}
	require.Len(t, decided, 1)
	require.Len(t, open, 1)
	assert.Equal(t, "Brick wall (6 holes)", decided[0].On())
	assert.Equal(t, "Plaster wall (4 holes)", open[0].On())
	assert.Equal(t, decided[0].Says, open[0].Says)
	assert.Equal(t, "by the building manager: the wall is bare. It was never painted.", decided[0].Decision())
	assert.Empty(t, open[0].Decision())
}

// Every caution that a plan can raise has words for the client, but that which the plan itself words.
func TestEveryCautionHasPlainWords(t *testing.T) {
	for _, code := range caution.Codes() {
		if code != caution.MarkedCode {
			assert.NotEmpty(t, plainWords()[code], code)
		}
	}
	marked := caution.Caution{Code: caution.MarkedCode, Text: "Acknowledged by the owner: it is dry. Damp comes through here. " + caution.Standing,
		Acknowledged: &caution.Acknowledgement{Reason: "it is dry", By: "owner"}}
	assert.Equal(t, "Damp comes through here.", say(marked))
}
