package wall

import (
	"math"

	"wallshoal/wall/plane"
)

// Joints are those of masonry or tiles laid in level courses, all units being of one size. The
// courses go on in all directions as far as the face does.
type Joints struct {
	Course float64     // height of a unit and a joint together, mm
	Length float64     // of a unit and a joint together, mm
	Width  float64     // of a joint, mm
	First  plane.Point // where the middle of an upright joint meets the middle of the level one below it
	Bond   Bond
	Holes  HoleRule
	Keep   float64 // the rim of a hole keeps this far from the edges of the units, mm
}

// A Bond is how the courses lie over one another.
type Bond string

// The bonds that a plan can name.
const (
	HalfBond  Bond = "half"  // every other course is moved by half a unit
	StackBond Bond = "stack" // upright joints stand over one another, as in most tiling
)

// MinUnit is the least that a unit and its joint measure together, mm.
const MinUnit = 5

// shift returns how far the upright joints of the course with that index, counted from that above
// First, are moved to the right.
func (j Joints) shift(course float64) float64 {
	if j.Bond == HalfBond && course != 2*math.Floor(course/2) {
		return j.Length / 2
	}
	return 0
}

// off returns how far a place of the wall is from the nearest of the units shrunk by d mm on every
// side, in mm: below 0 inside one, where it is the distance to its edge. The units must stay larger
// than nothing.
//
// The cells of the lattice, units with half of the joints about them, tile every course, so that of
// its own course and of the next ones above and below only the cell over or under the place counts.
func (j Joints) off(at plane.Point, d float64) float64 {
	rise := (at.Y - j.First.Y) / j.Course
	own := math.Floor(rise)
	wide, high := (j.Length-j.Width)/2-d, (j.Course-j.Width)/2-d
	near := math.Inf(1)
	for course := own - 1; course <= own+1; course++ {
		along := (at.X - j.First.X - j.shift(course)) / j.Length
		dx := math.Abs(float64((along-math.Floor(along)-0.5)*j.Length)) - wide
		dy := math.Abs(float64((rise-course-0.5)*j.Course)) - high
		if dx <= 0 || dy <= 0 {
			near = math.Min(near, math.Max(dx, dy))
			continue
		}
		near = math.Min(near, math.Sqrt(float64(dx*dx)+float64(dy*dy)))
	}
	return near
}

// room returns how far inside of where a hole of that bit may be a place of the wall is, in mm, as
// DrillMargin does.
func (j Joints) room(at plane.Point, bit float64) float64 {
	keep := bit/2 + j.Keep
	switch j.Holes {
	case HolesOn:
		if keep > j.Width/math.Sqrt2+grain { // not even where four units meet
			return math.Inf(-1)
		}
		return j.off(at, 0) - keep
	case HolesOff:
		if math.Min(j.Length, j.Course)-j.Width-2*keep < -grain {
			return math.Inf(-1)
		}
		return -j.off(at, keep)
	}
	return math.Inf(1)
}

// lines returns the centre lines of the joints in a box on the wall.
func (j Joints) lines(box plane.Rect) [][2]plane.Point {
	low := math.Floor((box.Min.Y - j.First.Y) / j.Course)
	high := math.Ceil((box.Max.Y - j.First.Y) / j.Course)
	var out [][2]plane.Point
	for c := low; c <= high; c++ {
		y := j.First.Y + float64(c*j.Course)
		out = append(out, [2]plane.Point{{X: box.Min.X, Y: y}, {X: box.Max.X, Y: y}})
		from := j.First.X + j.shift(c)
		first := math.Floor((box.Min.X - from) / j.Length)
		for n := first; from+float64(n*j.Length) <= box.Max.X; n++ {
			x := from + float64(n*j.Length)
			out = append(out, [2]plane.Point{{X: x, Y: y}, {X: x, Y: y + j.Course}})
		}
	}
	return out
}
