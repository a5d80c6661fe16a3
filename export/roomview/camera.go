package roomview

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Camera turns places in the room into points of a picture, x right and y down.
//
// It is the 3 × 4 matrix P = K[R|t] of Hartley and Zisserman (Multiple View Geometry in Computer
// Vision, 2nd ed. 2004, ch. 6), which carries the homogeneous place (X, Y, Z, 1) to (x, y, w),
// the point (x/w, y/w). Where the picture is a parallel projection the last row is (0, 0, 0, 1).
type Camera struct {
	matrix  [3][4]float64
	eye     [4]float64 // homogeneous: the last is 1 for a place, 0 for a direction
	right   space.Vec
	up      space.Vec
	towards space.Vec // where it looks
}

// nearest is how far before the eye the picture begins, mm.
const nearest = 100.0

// Perspective returns the camera whose eye is at the given place and which looks the given way. A
// step of 1 sideways at a distance of 1 is 1 in the picture.
func Perspective(eye, towards space.Vec) Camera {
	c := facing(towards)
	c.eye = [4]float64{eye.X, eye.Y, eye.Z, 1}
	for i, axis := range []space.Vec{c.right, c.up.Scale(-1), c.towards} {
		c.matrix[i] = [4]float64{axis.X, axis.Y, axis.Z, -axis.Dot(eye)}
	}
	return c
}

// Isometric returns the camera that shows lengths along all three axes of the room alike, the
// isometric axonometry of ISO 5456-3, from the given quarter: 0 looks from +X and +Y, and each
// quarter is 90° on, counter-clockwise from above. A step of 1 mm along an axis is 1 in the
// picture.
func Isometric(quarter int) Camera {
	sin, cos := []float64{1, 1, -1, -1}[quarter&3], []float64{1, -1, -1, 1}[quarter&3]
	c := facing(space.Vec{X: -cos, Y: -sin, Z: -1})
	c.eye = [4]float64{-c.towards.X, -c.towards.Y, -c.towards.Z, 0}
	// Every axis stands out of the picture by 1/√3 of its length, and so shows √(2/3) of it.
	k := math.Sqrt(1.5)
	for i, axis := range []space.Vec{c.right.Scale(k), c.up.Scale(-k)} {
		c.matrix[i] = [4]float64{axis.X, axis.Y, axis.Z, 0}
	}
	c.matrix[2][3] = 1
	return c
}

// facing returns a camera that looks the given way, which is not straight up or down, with its
// right level.
func facing(towards space.Vec) Camera {
	unit := func(v space.Vec) space.Vec { return v.Scale(1 / v.Len()) }
	towards = unit(towards)
	right := unit(towards.Cross(space.Vec{Z: 1}))
	return Camera{right: right, up: right.Cross(towards), towards: towards}
}

// At returns the point of the picture where a place in the room shows. The place lies before the
// eye.
func (c Camera) At(v space.Vec) plane.Point {
	row := func(i int) float64 {
		m := c.matrix[i]
		return float64(m[0]*v.X) + float64(m[1]*v.Y) + float64(m[2]*v.Z) + m[3]
	}
	w := row(2)
	return plane.Point{X: row(0) / w, Y: row(1) / w}
}

// depth returns how far v lies before the eye, mm; along parallel rays, before the origin.
func (c Camera) depth(v space.Vec) float64 {
	return c.towards.Dot(v.Sub(c.place().Scale(c.eye[3])))
}

// place returns the place of the eye, or the direction to it where that is 0 in its last.
func (c Camera) place() space.Vec { return space.Vec{X: c.eye[0], Y: c.eye[1], Z: c.eye[2]} }

// to returns the unit step from v to the eye.
func (c Camera) to(v space.Vec) space.Vec {
	d := c.place().Sub(v.Scale(c.eye[3]))
	return d.Scale(1 / d.Len())
}

// sees reports whether the eye is on the side of the plane that its normal points to. A plane that
// runs through the eye is not seen.
func (c Camera) sees(l level) bool {
	h := l.normal.Dot(c.place()) - float64(l.at*c.eye[3])
	if c.eye[3] == 0 {
		return h > 1e-9
	}
	return h > flush
}

// clip returns what of f lies before the eye.
func (c Camera) clip(f facet) facet {
	if c.eye[3] == 0 {
		return f
	}
	front := levelAt(c.place().Add(c.towards.Scale(nearest)), c.towards)
	if low, _ := f.extent(front); low >= 0 {
		return f
	}
	return f.clip(front)
}

// framed returns the camera whose picture of the box r fills the area as far as its shape lets it,
// in its middle.
func (c Camera) framed(r, area plane.Rect) Camera {
	k := math.Min(area.Width()/r.Width(), area.Height()/r.Height())
	shift := area.Centre().Sub(r.Centre().Scale(k))
	for j := range 4 {
		c.matrix[0][j] = float64(k*c.matrix[0][j]) + float64(shift.X*c.matrix[2][j])
		c.matrix[1][j] = float64(k*c.matrix[1][j]) + float64(shift.Y*c.matrix[2][j])
	}
	return c
}
