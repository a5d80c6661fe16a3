package plan_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/wall/plane"
)

// A floor is read as it was measured, and what is wrong with it is told at its line.
func TestAFloorThatIsNotLevel(t *testing.T) {
	text := strings.Replace(hall, "      surface: plaster\n", "      surface: plaster\n      floor: [[0, 0], [1500, -12], [300 cm, -8]]\n", 1)
	require.NotEqual(t, hall, text)
	p, err := plan.Read("p.yaml", []byte(text))
	require.NoError(t, err)
	var floor []plane.Point
	for _, w := range p.Room.Walls {
		floor = append(floor, w.Floor...)
	}
	assert.Equal(t, []plane.Point{{}, {X: 1500, Y: -12}, {X: 3000, Y: -8}}, floor)

	for given, want := range map[string]string{
		"[[0, 0]]":               "the floor is measured at one place",
		"[[0, 0], [0, 3]]":       "is no farther along than the place before it",
		"[[0, 0], [1200, 3, 4]]": "has 3 lengths",
		"level":                  "floor",
	} {
		_, err := plan.Read("p.yaml", []byte(strings.Replace(text, "[[0, 0], [1500, -12], [300 cm, -8]]", given, 1)))
		assert.ErrorContains(t, err, want)
		assert.ErrorContains(t, err, "p.yaml:")
	}
}
