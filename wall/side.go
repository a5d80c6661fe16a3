package wall

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Side is one side of something that stands out of a wall or is let into it, as a plan names it
// to say which sides carry pieces.
type Side string

// The sides of what stands out, and those of a recess.
const (
	Front     Side = "front"
	Left      Side = "left" // the return or reveal at the left end of the thing
	Right     Side = "right"
	Top       Side = "top"
	Underside Side = "underside"

	Back Side = "back" // of a recess, and of a wall that stands alone
	Head Side = "head" // what closes a recess above; it looks down
	Sill Side = "sill" // what closes it below; it looks up

	All Side = "all" // every side that the thing has and that can be seen
)

// Sides returns the sides that an obstruction of that depth in mm has, in the order in which the
// site lists them: none where it is flat.
func Sides(depth float64) []Side {
	switch {
	case depth >= MinLength:
		return []Side{Left, Front, Right, Top, Underside}
	case depth <= -MinLength:
		return []Side{Left, Back, Right, Head, Sill}
	}
	return nil
}

// SideNames returns everything that a plan can name as a side that carries pieces.
func SideNames() []Side {
	return []Side{All, Front, Left, Right, Top, Underside, Back, Head, Sill}
}

// flat reports whether o neither stands out nor is let in, so that it makes no faces.
func (o Obstruction) flat() bool { return !(math.Abs(o.Depth) >= MinLength) }

// uses reports whether pieces go on that side of o.
func (o Obstruction) uses(s Side) bool {
	for _, used := range o.Use {
		if used == s || used == All {
			return true
		}
	}
	return false
}

// words returns what the trade calls a side of something of that depth.
func (s Side) words(depth float64) string {
	if s != Left && s != Right {
		return string(s)
	}
	if depth < 0 {
		return string(s) + " reveal"
	}
	return string(s) + " return"
}

// overhead returns what the trade calls a side of something that hangs from a ceiling, which is seen
// facing the first wall with the head back.
func (s Side) overhead(depth float64) string {
	if depth > 0 {
		switch s {
		case Front:
			return "soffit"
		case Left, Right:
			return string(s) + " side"
		case Top:
			return "far side"
		case Underside:
			return "near side"
		}
	}
	return s.words(depth)
}

// A cut is a side before anybody has asked what of it can be seen.
type cut struct {
	side  Side
	frame space.Frame
	ring  plane.Ring // the whole of it
}

// cuts returns the sides of the obstruction o, whose front or mouth is high mm off the wall with
// the given frame and whose back is low mm off it, in the order of Sides. A side that has several
// flat parts gives several, and a round thing gives its front alone.
func (o Obstruction) cuts(frame space.Frame, low, high float64) []cut {
	var out []cut
	for _, s := range Sides(o.Depth) {
		switch {
		case s == Front:
			out = append(out, o.parallel(s, frame, high))
		case s == Back:
			out = append(out, o.parallel(s, frame, low))
		case !o.Round:
			for i, a := range o.Shape {
				b := o.Shape[(i+1)%len(o.Shape)]
				if a.Distance(b) >= MinLength && lookOf(a, b, o.Depth < 0) == s {
					out = append(out, o.square(s, frame, a, b, low, high))
				}
			}
		}
	}
	return out
}

// parallel returns the side of o that looks the way its wall does, z mm off the wall. It has the
// wall's directions and its own origin, the bottom-left corner of its box.
func (o Obstruction) parallel(s Side, frame space.Frame, z float64) cut {
	corner := o.Shape.Bounds().Min
	own := frame
	own.Origin = frame.Lift(corner, z)
	return cut{s, own, o.Shape.Map(func(p plane.Point) plane.Point { return p.Sub(corner) })}
}

// lookOf returns which side the edge from a to b of a counter-clockwise outline makes: the one
// whose direction is nearest to the way the edge looks out.
func lookOf(a, b plane.Point, recess bool) Side {
	e := b.Sub(a)
	switch steep := math.Abs(e.Y) >= math.Abs(e.X); {
	case steep && e.Y < 0:
		return Left
	case steep:
		return Right
	case e.X < 0 && recess:
		return Head
	case e.X < 0:
		return Top
	case recess:
		return Sill
	}
	return Underside
}

// square returns the side of o, square to the wall, along the edge of its outline from a to b. Seen
// as somebody sees it who stands before it, or looks down on it from before the wall, or up: its
// left edge, and of level sides its bottom edge, is where x and y begin.
func (o Obstruction) square(s Side, frame space.Frame, a, b plane.Point, low, high float64) cut {
	length, depth := a.Distance(b), high-low
	step := b.Sub(a)
	step = plane.Point{X: step.X / length, Y: step.Y / length} // exact along the axes
	along := frame.Right.Scale(step.X).Add(frame.Up.Scale(step.Y))
	back, out := along.Scale(-1), frame.Out.Scale(-1)
	var f space.Frame
	upright := true
	switch {
	case s == Left && o.Depth > 0:
		f = space.Frame{Origin: frame.Lift(b, low), Right: frame.Out, Up: back}
	case s == Right && o.Depth > 0:
		f = space.Frame{Origin: frame.Lift(a, high), Right: out, Up: along}
	case s == Left:
		f = space.Frame{Origin: frame.Lift(b, high), Right: out, Up: back}
	case s == Right:
		f = space.Frame{Origin: frame.Lift(a, low), Right: frame.Out, Up: along}
	case s == Top:
		f, upright = space.Frame{Origin: frame.Lift(b, high), Right: back, Up: out}, false
	case s == Underside:
		f, upright = space.Frame{Origin: frame.Lift(a, low), Right: along, Up: frame.Out}, false
	case s == Head:
		f, upright = space.Frame{Origin: frame.Lift(b, low), Right: back, Up: frame.Out}, false
	case s == Sill:
		f, upright = space.Frame{Origin: frame.Lift(a, high), Right: along, Up: out}, false
	}
	f.Right, f.Up = unsigned(f.Right), unsigned(f.Up)
	f.Out = unsigned(f.Right.Cross(f.Up))
	if upright {
		return cut{s, f, plane.Rectangle(plane.Point{}, depth, length)}
	}
	return cut{s, f, plane.Rectangle(plane.Point{}, length, depth)}
}

// unsigned returns v with 0 in place of -0.
func unsigned(v space.Vec) space.Vec { return v.Add(space.Vec{}) }
