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

// A footing is a part of the foot of a wall, from left to right.
type footing struct{ a, b plane.Point }

// foot returns the parts of the foot of the outline, in its order. One that hangs over the foot beside it,
// as over an opening that the outline leaves out, is no floor: the floor goes on under it.
func (w Wall) foot() []footing {
	var out []footing
	n := len(w.Outline)
	for i, a := range w.Outline {
		b := w.Outline[(i+1)%n]
		if b.X-a.X <= flush {
			continue
		}
		before, after := w.Outline[(i+n-1)%n], w.Outline[(i+2)%n]
		level := math.Inf(1) // of the floor beside it
		if math.Abs(before.X-a.X) <= flush && a.Y-before.Y > maxRunOut {
			level = before.Y
		}
		if math.Abs(after.X-b.X) <= flush && b.Y-after.Y > maxRunOut {
			level = math.Min(level, after.Y)
		}
		if !math.IsInf(level, 1) {
			a.Y, b.Y = level, level
		}
		out = append(out, footing{a, b})
	}
	return out
}

// floors returns the floor along the wall, from left to right: as it was measured, or the foot. A wall
// that stands alone may end above the floor, which is then at 0.
func (w Wall) floors() []footing {
	box := w.Outline.Bounds()
	switch {
	case len(w.Floor) == 0 && w.Alone != nil:
		return []footing{{plane.Point{X: box.Min.X}, plane.Point{X: box.Max.X}}}
	case len(w.Floor) == 0:
		return w.foot()
	}
	left, _ := w.FloorAt(box.Min.X)
	at := []plane.Point{{X: box.Min.X, Y: left}}
	for _, p := range w.Floor {
		if p.X > box.Min.X+flush && p.X < box.Max.X-flush {
			at = append(at, p)
		}
	}
	right, _ := w.FloorAt(box.Max.X)
	at = append(at, plane.Point{X: box.Max.X, Y: right})
	var out []footing
	for i, p := range at[:len(at)-1] {
		out = append(out, footing{p, at[i+1]})
	}
	return out
}

// under returns the height of the floor, mm, under a place so far from the wall's left end.
func (w Wall) under(x float64) float64 {
	low := math.Inf(1)
	for _, f := range w.floors() {
		if f.a.X <= x && x <= f.b.X {
			low = math.Min(low, f.a.Y+float64((f.b.Y-f.a.Y)*(x-f.a.X))/(f.b.X-f.a.X))
		}
	}
	if math.IsInf(low, 1) {
		return 0
	}
	return low
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
