package roomview

import (
	"fmt"
	"math"

	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// apronOf returns how far the floor is drawn before walls that do not enclose it, mm: a good half
// of the height of the tallest, and no more than takes somebody to stand there.
func (s *Scene) apronOf() float64 {
	tallest := 0.0
	for _, w := range s.work.Site.Room.Walls {
		tallest = math.Max(tallest, w.Outline.Bounds().Height())
	}
	return math.Min(0.55*tallest, 1700)
}

// lay lays the floor: what the walls enclose where they do, else a strip along their feet. Where
// the foot of a wall is not on the floor, but follows stairs or stands on a landing, a strip goes
// along it as well.
func (s *Scene) lay() error {
	var strips, behind []plane.Region
	apron := s.apronOf()
	for i, w := range s.work.Site.Room.Walls {
		f, found := s.standing(i)
		if !found {
			continue
		}
		if w.Alone == nil {
			behind = append(behind, before(f.Frame, w.Outline.Bounds(), -apron))
		}
		for _, foot := range feet(w.Outline) {
			if foot[0].Y >= level0 || foot[1].Y >= level0 {
				s.tread(f, foot)
				continue
			}
			stretch := plane.Rect{Min: foot[0], Max: foot[1]}
			strips = append(strips, before(f.Frame, stretch, apron))
			if w.Alone != nil && w.Alone.Back {
				strips = append(strips, before(f.Frame, stretch, -apron))
			}
		}
	}
	floor, err := s.enclosed()
	if err == nil && floor.Empty() {
		if floor, err = plane.Union(append(strips, s.wedges(apron)...)...); err == nil {
			floor, err = floor.Difference(behind...)
		}
	}
	if err == nil {
		floor, err = plane.Union(append(s.thresholds(), floor)...)
	}
	if err != nil {
		return fmt.Errorf("floor: %w", err)
	}
	s.floor = floor
	if floor.Empty() {
		return nil
	}
	s.ground = append(s.ground, facet{
		name: "floor", face: -1, solid: true, rank: rankFace,
		level: level{normal: space.Vec{Z: 1}},
		loops: lifted(plan(), floor.Rings(), 0),
		fill:  floorColour,
	}.settle())
	return nil
}

// standing returns the face of the wall with that index, and whether it is one that stands, and no
// ceiling.
func (s *Scene) standing(i int) (wall.Face, bool) {
	at, found := s.wallFace(i)
	if !found {
		return wall.Face{}, false
	}
	f := s.work.Site.Faces[at]
	return f, math.Abs(f.Frame.Out.Z) < 1e-9
}

// level0 is how high, in mm, the foot of a wall may be and still stand on the floor.
const level0 = 1.0

// plan is the frame of the floor: x and y are those of the room.
func plan() space.Frame {
	return space.Frame{Right: space.Vec{X: 1}, Up: space.Vec{Y: 1}, Out: space.Vec{Z: 1}}
}

// feet returns the edges that an outline stands on, each from left to right.
func feet(outline plane.Ring) [][2]plane.Point {
	var out [][2]plane.Point
	for i, a := range outline {
		if b := outline[(i+1)%len(outline)]; b.X > a.X+1 {
			out = append(out, [2]plane.Point{a, b})
		}
	}
	return out
}

// before returns the part of the floor that lies before the stretch of a wall that r takes up, as
// deep as given; behind it where the depth is below 0.
func before(f space.Frame, r plane.Rect, depth float64) plane.Region {
	flat := func(x, off float64) plane.Point {
		v := f.Lift(plane.Point{X: x}, off)
		return plane.Point{X: v.X, Y: v.Y}
	}
	return plane.RegionOf(plane.Ring{flat(r.Min.X, 0), flat(r.Max.X, 0), flat(r.Max.X, depth), flat(r.Min.X, depth)}.CounterClockwise())
}

// wedges returns the floor before the outside corners, between the strips of their two walls.
func (s *Scene) wedges(apron float64) []plane.Region {
	var out []plane.Region
	for i, w := range s.work.Site.Room.Walls {
		if w.Turn >= 0 || w.Turn < -120 || i+1 == len(s.work.Site.Room.Walls) || s.work.Site.Room.Walls[i+1].Alone != nil {
			continue
		}
		one, stands := s.standing(i)
		other, follows := s.standing(i + 1)
		if !stands || !follows {
			continue
		}
		f, g := one.Frame, other.Frame
		half := f.Out.Add(g.Out)
		tip := half.Scale(2 * apron / half.Dot(half))
		var ring plane.Ring
		for _, step := range []space.Vec{{}, f.Out.Scale(apron), tip, g.Out.Scale(apron)} {
			v := g.Origin.Add(step)
			ring = append(ring, plane.Point{X: v.X, Y: v.Y})
		}
		out = append(out, plane.RegionOf(ring.CounterClockwise()))
	}
	return out
}

// enclosed returns the floor that the walls enclose, where they go at least half round; nothing
// where they do not.
func (s *Scene) enclosed() (plane.Region, error) {
	turned := 0.0
	var ring plane.Ring
	var end space.Vec
	for i, w := range s.work.Site.Room.Walls {
		f, stands := s.standing(i)
		if w.Ceiling || w.Alone != nil || !stands {
			continue
		}
		if len(ring) > 0 {
			turned += s.work.Site.Room.Walls[i-1].Turn
		}
		ring = append(ring, plane.Point{X: f.Frame.Origin.X, Y: f.Frame.Origin.Y})
		end = f.Frame.At(plane.Point{X: w.Outline.Bounds().Max.X})
	}
	last := plane.Point{X: end.X, Y: end.Y}
	if len(ring) > 1 && last.Distance(ring[0]) > 10 {
		ring = append(ring, last)
	}
	if turned < 135 || len(ring) < 3 {
		return plane.Region{}, nil
	}
	if _, _, crosses := ring.Crossing(); crosses {
		return plane.Region{}, nil
	}
	return plane.NewRegion(plane.Polygon{Outer: ring.CounterClockwise()})
}

// thresholds returns the floor of the recesses that come down to it, such as doorways.
func (s *Scene) thresholds() []plane.Region {
	var out []plane.Region
	for i, w := range s.work.Site.Room.Walls {
		f, stands := s.standing(i)
		for _, o := range w.Obstructions {
			if b := o.Shape.Bounds(); stands && !o.Round && o.Depth < 0 && b.Min.Y < level0 {
				out = append(out, before(f.Frame, b, o.Depth))
			}
		}
	}
	return out
}

// tread adds a strip along a foot that is not on the floor.
func (s *Scene) tread(f wall.Face, foot [2]plane.Point) {
	const deep = 1000
	along := f.Frame.At(foot[1]).Sub(f.Frame.At(foot[0]))
	normal := f.Frame.Out.Cross(along.Scale(1 / along.Len()))
	if normal.Z < 0.2 {
		return
	}
	s.ground = append(s.ground, facet{
		name: "stair", face: -1, solid: true, rank: rankFace,
		level: levelAt(f.Frame.At(foot[0]), normal),
		loops: []loop{{
			{at: f.Frame.At(foot[0])}, {at: f.Frame.Lift(foot[0], deep)},
			{at: f.Frame.Lift(foot[1], deep)}, {at: f.Frame.At(foot[1])},
		}},
		fill: floorColour, edge: fittingEdge,
	}.settle())
}
