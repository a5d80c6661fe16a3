package roomview

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"wallshoal/export/holemap"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

func upright(name string, turn, length float64, on ...wall.Obstruction) wall.Wall {
	return wall.Wall{Name: name, Turn: turn, Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, length, 2600), Obstructions: on}
}

func thing(kind wall.ObstructionKind, x, y, width, height, depth float64) wall.Obstruction {
	return wall.Obstruction{Kind: kind, Name: string(kind), Shape: plane.Rectangle(plane.Point{X: x, Y: y}, width, height), Depth: depth, Use: wall.Sides(depth)}
}

// shapes are rooms of the shapes that there are.
func shapes() map[string]wall.Room {
	chimney, window := thing(wall.Chimney, 1500, 0, 1400, 2600, 350), thing(wall.Window, 700, 900, 1100, 1200, 0)
	screen := upright("Screen", 0, 3200)
	screen.Alone = &wall.Stand{At: &plane.Point{}, Thickness: 60, Back: true}
	lamp := wall.Obstruction{Kind: wall.Lamp, Name: "lamp", Round: true, Depth: 120, Shape: plane.Ellipse(plane.Point{X: 3400, Y: 1900}, 150, 150, 96)}
	porthole := wall.Obstruction{Kind: wall.Niche, Name: "porthole", Round: true, Depth: -200, Shape: plane.Ellipse(plane.Point{X: 900, Y: 1400}, 450, 450, 96)}
	four := []wall.Wall{upright("North", 90, 4400, chimney), upright("East", 90, 3600, window), upright("South", 90, 4400), upright("West", 90, 3600, thing(wall.Door, 1200, 0, 900, 2050, -80))}
	return map[string]wall.Room{
		"single":  {Walls: []wall.Wall{upright("Wall", 0, 4400, lamp, porthole)}},
		"corner":  {Walls: []wall.Wall{upright("Left", 90, 4400, chimney), upright("Right", 0, 3000, window)}},
		"outside": {Walls: []wall.Wall{upright("Left", -90, 2400), upright("Right", 0, 3000, window)}},
		"u":       {Walls: []wall.Wall{upright("Left", 90, 3000, window), upright("Back", 90, 4400, chimney), upright("Right", 0, 3000)}},
		"closed":  {Walls: four},
		"ceiling": {Walls: four, Ceiling: &wall.Wall{Name: "Ceiling", Surface: wall.Plaster}},
		"screen":  {Walls: []wall.Wall{screen}},
	}
}

func strewnRoom(t testing.TB, room wall.Room, n int) holemap.Work {
	t.Helper()
	site, err := wall.Survey(room)
	require.NoError(t, err)
	return strewn(site, rand.New(rand.NewPCG(9, 2)), n)
}
