package space

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/wall/plane"
)

func TestVectors(t *testing.T) {
	x, y, z := Vec{X: 1}, Vec{Y: 1}, Vec{Z: 1}
	assert.Equal(t, z, x.Cross(y))
	assert.Equal(t, x, y.Cross(z))
	assert.Equal(t, Vec{Z: -1}, y.Cross(x))
	assert.Equal(t, 7.0, Vec{2, 3, 6}.Len())
	assert.Equal(t, 12.0, Vec{1, 2, 3}.Dot(Vec{3, 0, 3}))
	assert.Equal(t, Vec{2, 2, 2}, Vec{1, 2, 3}.Add(Vec{3, 2, 1}).Sub(Vec{2, 2, 2}))
}

// The walls of a room that turns clockwise look into it, and quarter turns leave no dust behind.
func TestUprightQuarterTurnsAreExact(t *testing.T) {
	tests := []struct {
		degrees    float64
		right, out Vec
	}{
		{0, Vec{X: 1}, Vec{Y: -1}},
		{-90, Vec{Y: -1}, Vec{X: -1}},
		{-180, Vec{X: -1}, Vec{Y: 1}},
		{-270, Vec{Y: 1}, Vec{X: 1}},
		{90, Vec{Y: 1}, Vec{X: 1}},
		{450, Vec{Y: 1}, Vec{X: 1}},
		{-36000, Vec{X: 1}, Vec{Y: -1}},
	}
	for _, tt := range tests {
		f := Upright(Vec{}, tt.degrees)
		assert.Equal(t, tt.right, f.Right, "%v°", tt.degrees)
		assert.Equal(t, tt.out, f.Out, "%v°", tt.degrees)
		assert.Equal(t, Vec{Z: 1}, f.Up)
	}
}

func TestFramesStandSquare(t *testing.T) {
	for degrees := -400.0; degrees < 400; degrees += 7.3 {
		f := Upright(Vec{100, 200, 0}, degrees)
		assert.InDelta(t, 1, f.Right.Len(), 1e-15)
		assert.InDelta(t, 0, f.Right.Dot(f.Out), 1e-15)
		off := f.Right.Cross(f.Up).Sub(f.Out)
		assert.InDelta(t, 0, off.Len(), 1e-15, "Right × Up = Out at %v°", degrees)
	}
}

func TestThereAndBack(t *testing.T) {
	f := Upright(Vec{1000, -500, 0}, -33)
	p := plane.Point{X: 321, Y: 1234}
	back, off := f.Local(f.Lift(p, 60))
	assert.InDelta(t, p.X, back.X, 1e-10)
	assert.InDelta(t, p.Y, back.Y, 1e-10)
	assert.InDelta(t, 60, off, 1e-10)
	assert.Equal(t, f.At(p), f.Lift(p, 0))
	assert.Equal(t, 1234.0, f.At(p).Z, "up on the face is up in the room")
}

func TestFlattenLeavesWhatRunsAlongTheFace(t *testing.T) {
	f := Upright(Vec{}, 45)
	flat := f.Flatten(f.Right.Scale(3).Add(f.Up.Scale(4)).Add(f.Out.Scale(12)))
	assert.InDelta(t, 3, flat.X, 1e-14)
	assert.InDelta(t, 4, flat.Y, 1e-14)
	assert.InDelta(t, math.Sqrt(25), flat.Len(), 1e-14)
}
