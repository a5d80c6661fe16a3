package roomview

import (
	"math"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// flush is how far, in mm, a corner may stand off a plane and still count as lying in it.
const flush = 0.01

// A level is a plane in the room. Normal has length 1 and points off the side that is seen.
type level struct {
	normal space.Vec
	at     float64 // of every point p in the plane, normal·p
}

func levelAt(p, normal space.Vec) level { return level{normal, normal.Dot(p)} }

// above returns how far v stands out from the plane, in mm.
func (l level) above(v space.Vec) float64 { return l.normal.Dot(v) - l.at }

func (l level) turned() level { return level{l.normal.Scale(-1), -l.at} }

// A corner is one corner of a facet. Cut says that the edge from it to the next is no edge of the
// thing itself, but where it was cut.
type corner struct {
	at  space.Vec
	cut bool
}

// A loop is the boundary of an area in the room, the last corner joined to the first. Several
// loops enclose an area by the even-odd rule.
type loop []corner

// clip returns what of l stands above the plane, by the rule of Sutherland and Hodgman (Reentrant
// polygon clipping, CACM 17, 1974). Where l comes apart, its parts stay joined by edges that run
// to and fro in the plane, which enclose nothing; they are marked as cut.
func (l loop) clip(at level) loop {
	var out loop
	deep := false
	for i, a := range l {
		b := l[(i+1)%len(l)]
		da, db := snapped(at.above(a.at)), snapped(at.above(b.at))
		deep = deep || da > 0
		if da >= 0 {
			out = append(out, corner{a.at, a.cut || da == 0 && db < 0})
		}
		if da > 0 && db < 0 || da < 0 && db > 0 {
			cross := a.at.Add(b.at.Sub(a.at).Scale(da / (da - db)))
			out = append(out, corner{cross, a.cut || da > 0})
		}
	}
	if !deep {
		return nil
	}
	return out
}

// snapped returns the height, or 0 where it is next to nothing.
func snapped(height float64) float64 {
	if math.Abs(height) <= flush {
		return 0
	}
	return height
}

// The ranks of what lies in one plane: higher ones lie on lower ones.
const (
	rankFace = iota
	rankFitting
	rankPane
	rankShadow
	rankPiece
)

// A facet is one flat thing in the room, of one colour.
type facet struct {
	name  string
	face  int // the index of its face in the site; -1 where it belongs to none
	level level
	loops []loop
	rank  int
	solid bool // a face of the room, not something that hangs on one
	fill  draw.Colour
	edge  draw.Stroke

	centre space.Vec // of a ball that holds it
	reach  float64   // the radius of that ball, mm
}

// settle finds the ball round f.
func (f facet) settle() facet {
	var low, high space.Vec
	first := true
	for _, l := range f.loops {
		for _, c := range l {
			if first {
				low, high, first = c.at, c.at, false
			}
			low = space.Vec{X: min(low.X, c.at.X), Y: min(low.Y, c.at.Y), Z: min(low.Z, c.at.Z)}
			high = space.Vec{X: max(high.X, c.at.X), Y: max(high.Y, c.at.Y), Z: max(high.Z, c.at.Z)}
		}
	}
	f.centre = low.Add(high).Scale(0.5)
	f.reach = high.Sub(low).Len() / 2
	return f
}

// extent returns how far the lowest and the highest corner of f stand above the plane: bounds of
// it where f is wholly on one side.
func (f facet) extent(at level) (low, high float64) {
	if h := at.above(f.centre); math.Abs(h) > f.reach+flush {
		return h - f.reach, h + f.reach
	}
	low, high = math.Inf(1), math.Inf(-1)
	for _, l := range f.loops {
		for _, c := range l {
			h := at.above(c.at)
			low, high = min(low, h), max(high, h)
		}
	}
	return low, high
}

// clip returns what of f stands above the plane.
func (f facet) clip(at level) facet {
	var kept []loop
	for _, l := range f.loops {
		if part := l.clip(at); len(part) > 2 {
			kept = append(kept, part)
		}
	}
	f.loops = kept
	return f.settle()
}

// lifted returns the rings as loops in the room, off mm out from the face with that frame.
func lifted(frame space.Frame, rings []plane.Ring, off float64) []loop {
	out := make([]loop, len(rings))
	for i, r := range rings {
		out[i] = make(loop, len(r))
		for j, p := range r {
			out[i][j].at = frame.Lift(p, off)
		}
	}
	return out
}
