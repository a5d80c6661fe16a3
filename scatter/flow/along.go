package flow

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// Along follows a path through the room, which may be drawn over several faces. It runs as the
// path does at its nearest place, and fades with the distance from it.
//
// To be smooth where two stretches of the path are equally near, the current is an average of the
// path's directions in which nearer stretches weigh more. So a bend is cut off by about the reach,
// and two stretches that run opposite ways closer together than the reach still one another. An
// end of the path has half the strength, and past it there is soon nothing.
type Along struct {
	Path     []space.Vec // at least two points; equal neighbours count once
	Reach    float64     // distance from the path at which it is half as strong, mm; above 0
	Strength float64     // length of the current on a straight path that runs along the face
}

// At implements Current.
//
// The weight of a place of the path at the distance r is (R²+r²)^(-5/2), whose sum along a
// straight line has a closed form; along an endless line at the distance d that sum comes to the
// same fading as every other reach, (R²/(R²+d²))², if R² is reach²/(√2-1).
func (c Along) At(f space.Frame, p plane.Point) plane.Point {
	if !(c.Reach > 0) {
		return plane.Point{}
	}
	at := f.At(p)
	core := c.Reach * c.Reach / tail
	var sum space.Vec
	for i := 1; i < len(c.Path); i++ {
		from, step := c.Path[i-1], c.Path[i].Sub(c.Path[i-1])
		length := step.Len()
		if length == 0 {
			continue
		}
		way := step.Scale(1 / length)
		start := from.Sub(at).Dot(way)
		off := from.Sub(at).Sub(way.Scale(start))
		wide := core + off.Dot(off)
		share := core / wide
		weight := float64(share*share) * (summed(start+length, wide) - summed(start, wide))
		sum = sum.Add(way.Scale(weight))
	}
	return f.Flatten(sum).Scale(c.Strength)
}

// summed returns the share of an endless line's weight, from its middle on, that lies within s of
// the middle: between -1/2 and 1/2. The line passes at a distance whose square and R² come to wide.
func summed(s, wide float64) float64 {
	sin := s / math.Sqrt(wide+float64(s*s))
	return 0.25 * float64(sin*(3-float64(sin*sin)))
}
