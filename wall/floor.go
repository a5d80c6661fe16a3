package wall

import (
	"fmt"
	"math"

	"wallshoal/wall/plane"
)

// The limits of a measured floor.
const (
	MaxFloor   = 200   // places at which it is measured along one wall
	maxRunOut  = 500.0 // mm; what rises or falls by more is the foot of a wall's outline
	leastFloor = 2     // places, for a line between them
)

// FloorAt returns the height of the floor, mm, at a place so far from the wall's left end, and whether
// it was measured: on the straight line between the places on both sides, and level past the ends.
func (w Wall) FloorAt(x float64) (height float64, measured bool) {
	if len(w.Floor) == 0 {
		return 0, false
	}
	for i, p := range w.Floor {
		if x > p.X {
			continue
		}
		if i == 0 {
			return p.Y, true
		}
		before := w.Floor[i-1]
		t := (x - before.X) / (p.X - before.X)
		return before.Y + float64(t*(p.Y-before.Y)), true
	}
	return w.Floor[len(w.Floor)-1].Y, true
}

// A footing is a part of the foot of a wall, or of another line, from one place to the next.
type footing struct{ a, b plane.Point }

// foot returns the parts of the foot of the outline, from left to right. Between a rise and a fall that are
// more than any floor has, as at an opening that the outline leaves out or a counter that it goes round,
// the floor goes on as beside them.
func (w Wall) foot() []footing {
	var out []footing
	risen, level := -1, 0.0 // the first part past a rise, and the floor before that
	for _, e := range w.lower() {
		up := e.b.Y - e.a.Y
		switch upright := math.Abs(e.b.X-e.a.X) <= flush; {
		case upright && up > maxRunOut && risen < 0:
			risen, level = len(out), e.a.Y
		case upright && up < -maxRunOut && risen >= 0:
			level = math.Min(level, e.b.Y)
			for i := range out[risen:] {
				out[risen+i].a.Y, out[risen+i].b.Y = level, level
			}
			risen = -1
		case e.b.X-e.a.X > flush:
			out = append(out, e)
		}
	}
	return out
}

// lower returns the sides of the outline from its bottom-left to its bottom-right corner.
func (w Wall) lower() []footing {
	first, last := 0, 0
	for i, p := range w.Outline {
		if a := w.Outline[first]; p.X < a.X || p.X == a.X && p.Y < a.Y {
			first = i
		}
		if b := w.Outline[last]; p.X > b.X || p.X == b.X && p.Y < b.Y {
			last = i
		}
	}
	var out []footing
	for i := first; i != last; i = (i + 1) % len(w.Outline) {
		out = append(out, footing{w.Outline[i], w.Outline[(i+1)%len(w.Outline)]})
	}
	return out
}

// floors returns the floor along the wall, from left to right: the foot of the outline, and as it was measured
// where the foot is not above 0, nor farther below it than any floor runs out.
func (w Wall) floors() []footing {
	box, foot := w.Outline.Bounds(), w.foot()
	if w.Alone != nil { // it may end above the floor, which is at 0
		foot = []footing{{plane.Point{X: box.Min.X}, plane.Point{X: box.Max.X}}}
	}
	if len(w.Floor) == 0 {
		return foot
	}
	var out []footing
	for _, f := range foot {
		if math.Max(f.a.Y, f.b.Y) > flush || math.Min(f.a.Y, f.b.Y) < -maxRunOut {
			out = append(out, f)
			continue
		}
		out = append(out, w.measured(f.a.X, f.b.X)...)
	}
	return out
}

// measured returns the floor as it was measured from one place along the wall to another.
func (w Wall) measured(from, to float64) []footing {
	at := func(x float64) plane.Point {
		y, _ := w.FloorAt(x)
		return plane.Point{X: x, Y: y}
	}
	line := []plane.Point{at(from)}
	for _, p := range w.Floor {
		if p.X > from+flush && p.X < to-flush {
			line = append(line, p)
		}
	}
	line = append(line, at(to))
	var out []footing
	for i, p := range line[:len(line)-1] {
		out = append(out, footing{p, line[i+1]})
	}
	return out
}

// lowest returns the height of the lowest part at a place so far from the wall's left end, mm, and whether
// any is there.
func lowest(parts []footing, x float64) (height float64, found bool) {
	height = math.Inf(1)
	for _, f := range parts {
		if f.a.X <= x && x <= f.b.X {
			height, found = math.Min(height, f.a.Y+float64((f.b.Y-f.a.Y)*(x-f.a.X))/(f.b.X-f.a.X)), true
		}
	}
	return height, found
}

// floor complains of what is wrong with the floor as it was measured along a wall.
func (c *checker) floor(field string, floor []plane.Point, outline plane.Ring, sound bool) {
	const fix = "give two places or more, each as how far from the left end and how high above the wall's zero, like [[0, 0], [3000, -8]]"
	switch n := len(floor); {
	case n == 0:
		return
	case n < leastFloor:
		c.add(field, "the floor is measured at one place", fix)
		return
	case n > MaxFloor:
		c.add(field, fmt.Sprintf("the floor is measured at %d places", n), fmt.Sprintf("give at most %d", MaxFloor))
		return
	}
	for i, p := range floor {
		at := fmt.Sprintf("%s[%d]", field, i)
		switch {
		case !p.Finite():
			c.add(at, "this is no place", fix)
		case math.Abs(p.Y) > maxRunOut:
			c.add(at, fmt.Sprintf("the floor is %s from the wall's zero", c.show(math.Abs(p.Y))),
				"give how far it is above or below; where it rises so far, as on a stair, let the outline of the wall follow it")
		case i > 0 && !(p.X > floor[i-1].X):
			c.add(at, c.show(p.X)+" is no farther along than the place before it", "give the places from left to right, each once")
		case sound && (p.X < outline.Bounds().Min.X-flush || p.X > outline.Bounds().Max.X+flush):
			c.add(at, c.show(p.X)+" is past the end of the wall", "measure from its left end, along the wall")
		}
	}
}
