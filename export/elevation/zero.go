package elevation

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/wall/plane"
)

// Zero names what heights are measured from: the floor, and which, where the foot of the wall is not
// everywhere on it.
func (v View) Zero() string {
	if v.Wall.Ceiling || v.Wall.Alone != nil || len(v.Wall.Outline) == 0 {
		return "the floor"
	}
	feet := footHeights(v.Wall.Outline)
	off := func(y float64) bool { return math.Abs(y) > Flat }
	switch first, last := feet[0], feet[len(feet)-1]; {
	case !slices.ContainsFunc(feet, off):
		return "the floor"
	case !off(first):
		return "the floor at the wall's left end"
	case !off(last):
		return "the floor at the wall's right end"
	default:
		return fmt.Sprintf("the plan's 0, which is %s below this wall's foot at its left end", v.Length(first))
	}
}

// ZeroShort is zero as a sheet has room for it.
func (v View) ZeroShort() string {
	switch long := v.Zero(); long {
	case "the floor", "the floor at the wall's left end", "the floor at the wall's right end":
		return long
	}
	return "the plan's 0"
}

// UnseenZero reports whether heights are measured from a floor that this wall does not stand on anywhere.
func (v View) UnseenZero() bool { return v.ZeroShort() == "the plan's 0" }

// FootName is what stands under a wall or a side of something.
func (v View) FootName() string {
	if v.IsWall() {
		return "the foot of this wall"
	}
	return "the foot of this face"
}

// UpFrom says how high a point of an upright face is above what one can see there: the floor that heights
// are measured from, else the wall's own foot right under it, where that is level; nothing elsewhere, where
// the level line has to do.
func (v View) UpFrom(p plane.Point) string {
	if !v.UnseenZero() {
		return fmt.Sprintf("%s above %s", v.Length(v.HeightOf(p)), v.ZeroShort())
	}
	if foot, level := v.levelFoot(p.X); level && v.IsWall() && p.Y > foot {
		return fmt.Sprintf("%s above the foot of this wall right under it", v.Length(p.Y-foot))
	}
	return ""
}

// levelFoot returns the height on the face of its foot at a place from left to right, and whether that is
// level about there.
func (v View) levelFoot(x float64) (foot float64, level bool) {
	const about = 30.0 // mm
	x = math.Max(v.Bounds.Min.X+about+1, math.Min(v.Bounds.Max.X-about-1, x))
	a, b := v.footAt(x-about), v.footAt(x+about)
	return a, math.Abs(a-b) < Flat
}

// DatumAbove says how high the datum is above the floor at an end of the face, given its height on it; its
// own name where the floor is level at neither.
func (v View) DatumAbove(y float64) string {
	if foot, high, where := v.FootUnder(LevelLine{Y: y, Spans: v.SpansAt(y)}); where != "" {
		return fmt.Sprintf("%s above %s at %s", v.Length(high-foot), v.FootName(), where)
	}
	return v.Length(v.Work.Site.Room.Datum) + " above " + v.Zero()
}

// footHeights returns the heights of the foot of an outline between its corners, from the left, mm: at
// the ends, and half way between corners that follow on one another.
func footHeights(outline plane.Ring) []float64 {
	const inside = 0.01 // mm
	var xs []float64
	for _, p := range outline {
		xs = append(xs, p.X)
	}
	slices.Sort(xs)
	xs = slices.Compact(xs)
	places := []float64{xs[0] + inside}
	for i, x := range xs[1:] {
		places = append(places, (x+xs[i])/2)
	}
	places = append(places, xs[len(xs)-1]-inside)
	out := make([]float64, len(places))
	for i, x := range places {
		low := math.Inf(1)
		for n, a := range outline {
			b := outline[(n+1)%len(outline)]
			if a.X != b.X && math.Min(a.X, b.X) <= x && math.Max(a.X, b.X) >= x {
				low = math.Min(low, a.Y+float64((b.Y-a.Y)*(x-a.X))/(b.X-a.X))
			}
		}
		out[i] = low
	}
	return out
}

// Flat is by how much an edge may rise, or a height be off the floor, that counts as level or as on it, mm.
const Flat = 0.5
