package flow

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// The long wall is 6400 mm and ends at an inside corner; the ticket wall comes on from there
// towards the viewer. Opposite faces the long wall across a room 4200 mm deep.
var (
	long     = space.Upright(space.Vec{}, 0)
	ticket   = space.Upright(space.Vec{X: 6400}, -90)
	opposite = space.Upright(space.Vec{X: 6400, Y: -4200}, 180)
)

func equal(t *testing.T, want, got plane.Point, what string) {
	t.Helper()
	assert.InDelta(t, want.X, got.X, 1e-12, what)
	assert.InDelta(t, want.Y, got.Y, 1e-12, what)
}

func TestTowardRunsStraightToAPointOfItsOwnFace(t *testing.T) {
	c := Toward{Point: ticket.At(plane.Point{X: 2100, Y: 1450}), Strength: 2}
	equal(t, plane.Point{X: 2}, c.At(ticket, plane.Point{X: 100, Y: 1450}), "from the left")
	equal(t, plane.Point{Y: -2}, c.At(ticket, plane.Point{X: 2100, Y: 2000}), "from above")
	equal(t, plane.Point{X: -1.2, Y: -1.6}, c.At(ticket, plane.Point{X: 2400, Y: 1850}), "3-4-5")
}

func TestTowardIsNothingAtThePointItself(t *testing.T) {
	at := plane.Point{X: 2100, Y: 1450}
	assert.Equal(t, plane.Point{}, Toward{Point: ticket.At(at), Strength: 1}.At(ticket, at))
}

func TestTowardRunsOverTheCorner(t *testing.T) {
	c := Toward{Point: ticket.At(plane.Point{X: 300, Y: 1200}), Strength: 1}
	// 400 mm short of the corner and 300 mm past it: a 3-4-5 triangle in plan.
	equal(t, plane.Point{X: 0.8}, c.At(long, plane.Point{X: 6000, Y: 1200}), "level with the point")

	// From 400 mm below as well: the step is 400 along, 300 out and 400 up.
	far := math.Sqrt(400*400 + 300*300 + 400*400)
	equal(t, plane.Point{X: 400 / far, Y: 400 / far}, c.At(long, plane.Point{X: 6000, Y: 800}), "from below")

	// A flow that reaches the corner on one wall comes out of it on the other: it still runs on.
	assert.Positive(t, c.At(long, plane.Point{X: 6399, Y: 1200}).X)
	assert.Positive(t, c.At(ticket, plane.Point{X: 1, Y: 1200}).X)
	assert.Zero(t, c.At(long, plane.Point{X: 6399, Y: 1200}).Y)
}

func TestTowardFadesWhereTheLineMeetsTheFaceSquareOn(t *testing.T) {
	// The point lies on the long wall, straight across from x = 4400 of the wall opposite.
	c := Toward{Point: long.At(plane.Point{X: 2000, Y: 1000}), Strength: 1}
	equal(t, plane.Point{}, c.At(opposite, plane.Point{X: 4400, Y: 1000}), "straight across")
	near := c.At(opposite, plane.Point{X: 4390, Y: 1000})
	assert.Positive(t, near.X, "the point is to the right of a place left of it")
	assert.Less(t, near.Len(), 0.01)
	assert.Greater(t, c.At(opposite, plane.Point{X: 0, Y: 1000}).Len(), 0.7)
}

func TestTowardNeverPassesItsStrength(t *testing.T) {
	c := Toward{Point: space.Vec{X: 3000, Y: -1000, Z: 1500}, Strength: 1}
	for _, f := range []space.Frame{long, ticket, opposite} {
		for x := 0.0; x <= 4200; x += 70 {
			for y := 0.0; y <= 2700; y += 90 {
				p := plane.Point{X: x, Y: y}
				got := c.At(f, p)
				assert.LessOrEqual(t, got.Len(), 1+1e-12)
				to, _ := f.Local(c.Point)
				assert.InDelta(t, 0, got.Cross(to.Sub(p)), 1e-8, "along the face it runs to the point's foot")
				assert.GreaterOrEqual(t, got.Dot(to.Sub(p)), 0.0)
			}
		}
	}
}

func TestSweepIsTheSameOnEveryFace(t *testing.T) {
	c := Sweep{Angle: math.Pi / 6, Strength: 3}
	want := plane.Point{X: 3 * math.Sqrt(3) / 2, Y: 1.5}
	for _, f := range []space.Frame{long, ticket, opposite} {
		equal(t, want, c.At(f, plane.Point{X: 123, Y: 456}), "sweep")
	}
	equal(t, plane.Point{Y: -1}, Sweep{Angle: -math.Pi / 2, Strength: 1}.At(long, plane.Point{}), "straight down")
}

func TestAFieldIsTheSumOfItsCurrents(t *testing.T) {
	at := plane.Point{X: 1000, Y: 1000}
	right := Sweep{Strength: 1}
	up := Toward{Point: long.At(plane.Point{X: 1000, Y: 2000}), Strength: 0.5}
	equal(t, plane.Point{X: 1, Y: 0.5}, Field{right, up}.At(long, at), "right and up")
	equal(t, plane.Point{}, Field{right, Sweep{Angle: math.Pi, Strength: 1}}.At(long, at), "against one another")
	assert.Equal(t, plane.Point{}, Field(nil).At(long, at))
}
