package wall

import (
	"fmt"
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// addCeiling makes the ceiling the last of the walls, or says why there can be none. It closes a
// room whose walls come back to where they began, at the height of their tops: level where these
// are, sloping in one plane where those of the lower and the higher walls do.
func (b *building) addCeiling() (Problem, bool) {
	if b.air == nil {
		return Problem{
			Field: "room.ceiling", Wrong: "the walls do not come back to where the first begins",
			Fix: "give all walls round the room, with use: false for those that take no pieces, or remove the ceiling",
		}, true
	}
	var tops []space.Vec
	for _, i := range b.room.joined() {
		left, right, problem, found := b.topOf(i)
		if found {
			return problem, true
		}
		tops = append(tops, left, right)
	}
	slope := slopeOf(tops)
	for n, v := range tops {
		if off := v.Z - slope.at(v); math.Abs(off) > touch {
			i := b.room.joined()[n/2]
			return Problem{
				Field: "room.ceiling",
				Wrong: fmt.Sprintf("the walls do not end in one plane: %s is %.0f mm off the one that the others end in", b.room.Walls[i].Name, math.Abs(off)),
				Fix:   "give the walls one height, or outlines that end where one sloping ceiling meets them",
			}, true
		}
	}
	f := slope.frame()
	ring := make(plane.Ring, len(tops)/2)
	for n := range ring {
		ring[n], _ = f.Local(slope.onto(tops[2*n]))
	}
	corner := ring.Bounds().Min
	f.Origin = f.At(corner)
	ceiling := *b.room.Ceiling
	ceiling.Outline = ring.Map(func(p plane.Point) plane.Point { return p.Sub(corner) }).CounterClockwise()
	ceiling.Ceiling = true
	b.room.Walls = append(append([]Wall(nil), b.room.Walls...), ceiling)
	b.frames = append(b.frames, f)
	box := ceiling.Outline.Bounds().Grow(MaxDepth)
	over := newBody(f, plane.Rectangle(box.Min, box.Width(), box.Height()), -MaxDepth, 0)
	b.over = &over
	return Problem{}, false
}

// topOf returns where the top of a wall begins and ends in the room, or says why no ceiling can rest
// on it.
func (b *building) topOf(wall int) (left, right space.Vec, problem Problem, found bool) {
	w := b.room.Walls[wall]
	box := w.Outline.Bounds()
	a, c := plane.Point{X: box.Min.X, Y: math.Inf(-1)}, plane.Point{X: box.Max.X, Y: math.Inf(-1)}
	for _, p := range w.Outline {
		if p.X < box.Min.X+touch {
			a.Y = math.Max(a.Y, p.Y)
		}
		if p.X > box.Max.X-touch {
			c.Y = math.Max(c.Y, p.Y)
		}
	}
	for _, p := range w.Outline {
		if a.Lerp(c, (p.X-a.X)/box.Width()).Y < p.Y-touch {
			return left, right, Problem{
				Field: "room.ceiling", Wrong: "the top of " + w.Name + " is not one straight line",
				Fix: "give the wall a straight top, or remove the ceiling: one is drawn as a single plane",
			}, true
		}
	}
	return b.frames[wall].At(a), b.frames[wall].At(c), Problem{}, false
}

// A slope is a plane above a room: its height is base where X and Y are 0, and rises by east for
// each mm along X and by north along Y.
type slope struct{ base, east, north float64 }

// slopeOf returns the plane through three of the places, those that stand farthest apart in plan;
// a level one where all stand in one line.
func slopeOf(places []space.Vec) slope {
	a := places[0]
	far := func(distance func(v space.Vec) float64) space.Vec {
		best := a
		for _, v := range places {
			if distance(v) > distance(best)+touch {
				best = v
			}
		}
		return best
	}
	b := far(func(v space.Vec) float64 { return math.Hypot(v.X-a.X, v.Y-a.Y) })
	turn := func(v space.Vec) float64 {
		return float64((b.X-a.X)*(v.Y-a.Y)) - float64((b.Y-a.Y)*(v.X-a.X))
	}
	c := far(func(v space.Vec) float64 { return math.Abs(turn(v)) })
	area := turn(c)
	if area == 0 {
		return slope{base: a.Z}
	}
	east := (float64((b.Z-a.Z)*(c.Y-a.Y)) - float64((c.Z-a.Z)*(b.Y-a.Y))) / area
	north := (float64((b.X-a.X)*(c.Z-a.Z)) - float64((c.X-a.X)*(b.Z-a.Z))) / area
	return slope{a.Z - float64(east*a.X) - float64(north*a.Y), east, north}
}

// at returns the height of the plane above v.
func (s slope) at(v space.Vec) float64 { return s.base + float64(s.east*v.X) + float64(s.north*v.Y) }

// onto returns v at the height of the plane.
func (s slope) onto(v space.Vec) space.Vec { v.Z = s.at(v); return v }

// frame returns the plane as it is seen looking up: right is the room's X.
func (s slope) frame() space.Frame {
	right := space.Vec{X: 1, Z: s.east}
	right = right.Scale(1 / right.Len())
	out := space.Vec{X: s.east, Y: s.north, Z: -1}
	out = out.Scale(1 / out.Len())
	return space.Frame{
		Origin: space.Vec{Z: s.base}, Right: right, Up: unsigned(out.Cross(right)), Out: unsigned(out),
	}
}
