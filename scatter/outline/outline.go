// Package outline turns the drawing of a piece into the ring that the program works with.
//
// A drawing has its own coordinates: x right and y up, in whatever unit its maker liked. SVG path
// data, whose y runs down, is flipped when it is read. Lay turns a drawing into a piece's own
// frame: millimetres, the origin at the centroid, +x the way the piece heads.
package outline

import (
	"fmt"
	"math"

	"wallshoal/wall/plane"
)

// Tolerance is how far, in mm, the straight edges that stand for a curve may lie from it.
const Tolerance = 0.05

// MaxCorners is how many corners an outline may have once its curves are straight edges.
const MaxCorners = 400

// A Drawing is a closed outline.
type Drawing interface {
	// Ring returns the outline with straight edges, whose corners lie on it and which leave it by
	// at most tolerance, in the drawing's unit. It stops once there are more than most corners.
	Ring(tolerance float64, most int) plane.Ring
}

// Points is an outline with straight edges, given by its corners.
type Points plane.Ring

// Ring implements Drawing.
func (p Points) Ring(float64, int) plane.Ring { return plane.Ring(p) }

// An Ellipse is an ellipse about the origin of its drawing.
type Ellipse struct{ Width, Height float64 }

// Ring implements Drawing.
func (e Ellipse) Ring(tolerance float64, most int) plane.Ring {
	n := arcSteps(math.Max(e.Width, e.Height)/2, 2*math.Pi, tolerance, most)
	n = max(8, (n+3)/4*4) // with the four outermost points among them
	return plane.Ellipse(plane.Point{}, e.Width/2, e.Height/2, n)
}

// Rectangle returns the outline of a rectangle about the origin of its drawing.
func Rectangle(width, height float64) Points {
	return Points(plane.Rectangle(plane.Point{X: -width / 2, Y: -height / 2}, width, height))
}

// A Direction is the way that a piece heads as it is drawn.
type Direction string

// The directions that a drawing can head.
const (
	Up    Direction = "up"
	Right Direction = "right"
	Down  Direction = "down"
	Left  Direction = "left"
)

// Directions returns every direction, clockwise from up.
func Directions() []Direction { return []Direction{Up, Right, Down, Left} }

// turn returns p with the direction d turned to +x. It is exact.
func (d Direction) turn(p plane.Point) plane.Point {
	switch d {
	case Up:
		return plane.Point{X: p.Y, Y: -p.X}
	case Down:
		return plane.Point{X: -p.Y, Y: p.X}
	case Left:
		return plane.Point{X: -p.X, Y: -p.Y}
	}
	return p
}

// micron is how many steps a millimetre has where outlines and holes are rounded.
const micron = 1000

// Lay returns the outline of a piece in its own frame, counter-clockwise, and its holes with it.
//
// The drawing heads as told and is scaled to be length mm long that way; a length of 0 takes its
// unit for the millimetre. Holes are in the drawing's coordinates. Corners and holes are rounded
// to 0.001 mm. Corners in line with their neighbours and repeated ones are left out.
//
// The error says what is wrong with a drawing that encloses nothing, that has no extent the way
// it heads, or that needs more than MaxCorners corners.
func Lay(d Drawing, holes []plane.Point, heads Direction, length float64) (plane.Ring, []plane.Point, error) {
	scale, err := scaleOf(d, heads, length)
	if err != nil {
		return nil, nil, err
	}
	ring := d.Ring(Tolerance/scale, MaxCorners)
	if len(ring) > MaxCorners {
		return nil, nil, fmt.Errorf("the outline has more than %d corners", MaxCorners)
	}
	lay := func(p plane.Point) plane.Point { return heads.turn(p).Scale(scale) }
	ring = plain(ring.Map(lay).Map(toMicron)).CounterClockwise()
	if len(ring) < 3 || ring.Area() < 0.01 {
		return nil, nil, fmt.Errorf("the outline encloses nothing")
	}
	centre := toMicron(ring.Centroid())
	placed := make([]plane.Point, len(holes))
	for i, h := range holes {
		placed[i] = toMicron(lay(h).Sub(centre))
	}
	return ring.Map(func(p plane.Point) plane.Point { return toMicron(p.Sub(centre)) }), placed, nil
}

func toMicron(p plane.Point) plane.Point { return p.Snap(micron) }

// scaleOf returns how many millimetres a unit of the drawing is.
func scaleOf(d Drawing, heads Direction, length float64) (float64, error) {
	const fine = 20_000 // parts of the drawing's size
	const most = 100_000
	size := extent(d.Ring(math.Inf(1), math.MaxInt).Bounds())
	if !(size > 0) || math.IsInf(size, 0) {
		return 0, fmt.Errorf("the outline has no size")
	}
	if length == 0 {
		return 1, nil
	}
	ring := d.Ring(size/fine, most)
	if len(ring) > most {
		return 0, fmt.Errorf("the outline bends too sharply")
	}
	long := ring.Map(heads.turn).Bounds().Width()
	if !(long > size/fine) {
		return 0, fmt.Errorf("the outline has no length the way it heads")
	}
	return length / long, nil
}

func extent(b plane.Rect) float64 { return math.Max(b.Width(), b.Height()) }

// plain returns r without repeated corners and without corners in line with their neighbours.
func plain(r plane.Ring) plane.Ring {
	for {
		out := make(plane.Ring, 0, len(r))
		for i, p := range r {
			before, after := r[(i+len(r)-1)%len(r)], r[(i+1)%len(r)]
			if len(out) > 0 {
				before = out[len(out)-1]
			}
			in, on := p.Sub(before), after.Sub(p)
			if p == before || (in.Cross(on) == 0 && in.Dot(on) > 0) {
				continue
			}
			out = append(out, p)
		}
		if len(out) == len(r) || len(out) < 3 {
			return out
		}
		r = out
	}
}
