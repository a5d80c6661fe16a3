package roomview

import (
	"math"

	"wallshoal/export/figure"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// person returns the standing figure as the camera shows it, turned towards the eye, where it
// hides the least of where pieces may hang. There is none where it finds no place, or would dwarf the room.
func (s Scene) person(c Camera) []facet {
	shown := s.shown(c)
	if s.height(shown) < 0.6*figure.Height {
		return nil
	}
	targets := s.targets(c, shown)
	var best []facet
	least := math.Inf(1)
	for i := range s.work.Site.Room.Walls {
		at, _ := s.wallFace(i)
		if _, stands := s.standing(i); !stands || !shown[at] {
			continue
		}
		frame, width := s.work.Site.Faces[at].Frame, s.work.Site.Room.Walls[i].Outline.Bounds().Max.X
		for _, off := range []float64{550, 800, 1100, 1400} {
			for n := 1; n < 20; n++ {
				x := width * float64(n) / 20
				feet := frame.Lift(plane.Point{X: x}, off)
				feet.Z = 0
				if !s.standable(feet) || !s.free(c, feet, shown) {
					continue
				}
				p := s.figure(c, feet)
				// Of places that hide as little, the one nearer to a quarter of the wall.
				cost := s.cost(c, p, targets) + 0.3*math.Min(math.Abs(x/width-0.25), math.Abs(x/width-0.75)) + off/10000
				if cost < least {
					best, least = p, cost
				}
			}
		}
	}
	return best
}

// height returns how high the shown faces reach, mm.
func (s Scene) height(shown []bool) float64 {
	high := 0.0
	for _, f := range s.faces {
		if shown[f.face] {
			high = math.Max(high, f.centre.Z+f.reach)
		}
	}
	return high
}

// standable reports whether there is floor under somebody's feet, clear of walls and of what
// stands out of them.
func (s Scene) standable(feet space.Vec) bool {
	const elbow = 330.0
	if !s.floor.Contains(plane.Point{X: feet.X, Y: feet.Y}) {
		return false
	}
	beside := func(x, low, high float64) bool { return x > low-elbow && x < high+elbow }
	for i, w := range s.work.Site.Room.Walls {
		f, stands := s.standing(i)
		if !stands {
			continue
		}
		b := w.Outline.Bounds()
		if p, off := f.Frame.Local(feet); beside(p.X, b.Min.X, b.Max.X) && math.Abs(off) < elbow {
			return false
		}
	}
	for _, f := range s.work.Site.Faces {
		if f.Side != wall.Front || f.Outline.Empty() {
			continue
		}
		front, stands := s.standing(f.Wall)
		if !stands || f.Frame.Origin.Z > figure.Height {
			continue
		}
		p, off := f.Frame.Local(feet)
		_, stand := front.Frame.Local(f.Frame.Origin)
		if b := f.Outline.Bounds(); beside(p.X, b.Min.X, b.Max.X) && off < elbow && off > -stand {
			return false
		}
	}
	return true
}

// free reports whether the figure would be seen from head to foot.
func (s Scene) free(c Camera, feet space.Vec, shown []bool) bool {
	for _, side := range []float64{-figure.Width / 2, figure.Width / 2} {
		for _, up := range []float64{10, figure.Height / 2, figure.Height} {
			w := witness{at: feet.Add(c.right.Scale(side)).Add(space.Vec{Z: up}), face: -1}
			if s.blocked(c, w, shown) || c.eye[3] != 0 && c.depth(w.at) < 2*closest {
				return false
			}
		}
	}
	return true
}

// figure returns the standing figure with its feet at a place on the floor: its body, and its head.
func (s Scene) figure(c Camera, feet space.Vec) []facet {
	out := space.Vec{X: -c.towards.X, Y: -c.towards.Y}
	out = out.Scale(1 / out.Len())
	frame := space.Frame{Origin: feet, Right: c.right, Up: space.Vec{Z: 1}, Out: out}
	var parts []facet
	for _, r := range figure.Rings() {
		parts = append(parts, facet{
			name: "standing figure", face: -1, rank: rankPiece,
			level: levelAt(feet, out),
			loops: lifted(frame, []plane.Ring{r}, 0),
			fill:  personColour,
		}.settle())
	}
	return parts
}

// A target is a part of the picture that the figure should not hide.
type target struct {
	at     plane.Point
	weight float64
}

func (s Scene) targets(c Camera, shown []bool) []target {
	var out []target
	for _, w := range s.spread() {
		if shown[w.face] {
			out = append(out, target{c.At(w.at), 1})
		}
	}
	for i, w := range s.work.Site.Room.Walls {
		at, found := s.wallFace(i)
		if !found || !shown[at] {
			continue
		}
		for _, o := range w.Obstructions {
			if o.Kind == wall.Window || o.Kind == wall.Fireplace {
				out = append(out, target{c.At(s.work.Site.Faces[at].Frame.At(o.Shape.Bounds().Centre())), 2})
			}
		}
	}
	return out
}

// cost returns the weight of what the figure hides.
func (s Scene) cost(c Camera, parts []facet, targets []target) float64 {
	box := boxOf(c, parts[0])
	for _, f := range parts[1:] {
		box = box.Union(boxOf(c, f))
	}
	box = box.Grow(box.Width() / 8)
	sum := 0.0
	for _, t := range targets {
		if box.Contains(t.at) {
			sum += t.weight
		}
	}
	return sum
}

// boxOf returns the box round a facet in the picture.
func boxOf(c Camera, f facet) plane.Rect {
	var box plane.Rect
	first := true
	for _, l := range f.loops {
		for _, k := range l {
			p := c.At(k.at)
			if first {
				box, first = plane.Rect{Min: p, Max: p}, false
			}
			box = box.Union(plane.Rect{Min: p, Max: p})
		}
	}
	return box
}
