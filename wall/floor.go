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
