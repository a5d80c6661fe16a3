package wall

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Join is a corner at which two faces meet, as one of them sees it.
type Join struct {
	To      int         // index of the other face
	A, B    plane.Point // the ends of the corner, on this face
	Outside bool        // the other face falls back from this one's plane
	Angle   float64     // between the faces, through the air, in radians: below π inside, above π outside
	Fold    plane.Motion
}

// A Way says how the distance between places on two faces is measured.
//
// Two faces that meet at an outside corner, and two that stand back to back with a third between
// them which meets both at outside corners, are measured along the surface: as if the faces were
// laid flat. All others are measured straight through the room, except that faces which stand
// back to back with no such way round are not measured at all. So the distance is that of the
// shortest way through the air where faces see one another or share a corner, and never more than
// it elsewhere.
type Way struct {
	Straight bool
	Folds    []plane.Motion // each lays the first face flat in the plane of the second
}

// Ways is how distances are measured between all faces of a site.
type Ways struct {
	site  Site
	joins [][]Join
	ways  map[[2]int]Way
}

// touch is how far apart two edges may be and still be one corner, in mm.
const touch = 0.5

// Ways finds the corners of the site and how distances are measured across them.
func (s Site) Ways() *Ways {
	w := &Ways{site: s, joins: s.Corners(), ways: map[[2]int]Way{}}
	for i := range s.Faces {
		for j := range s.Faces {
			if i != j {
				if way := w.find(i, j); way.Straight || len(way.Folds) > 0 {
					w.ways[[2]int{i, j}] = way
				}
			}
		}
	}
	return w
}

// Corners returns the corners at which each face of the site meets others.
func (s Site) Corners() [][]Join {
	joins := make([][]Join, len(s.Faces))
	boxes := make([]box, len(s.Faces))
	for i, f := range s.Faces {
		boxes[i] = boxOf(f)
	}
	for i := range s.Faces {
		for j := range s.Faces {
			if i != j && boxes[i].touches(boxes[j]) {
				joins[i] = append(joins[i], s.joinsOf(i, j)...)
			}
		}
	}
	return joins
}

// Joins returns the corners at which the face with that index meets others.
func (w *Ways) Joins(face int) []Join { return w.joins[face] }

// Between returns how distances from places on one face to places on another are measured.
func (w *Ways) Between(from, to int) Way { return w.ways[[2]int{from, to}] }

// Apart returns the distance in mm between the place p on one face and q on another or the same;
// infinite where it is not measured.
func (w *Ways) Apart(from int, p plane.Point, to int, q plane.Point) float64 {
	if from == to {
		return p.Distance(q)
	}
	apart := math.Inf(1)
	way := w.Between(from, to)
	if way.Straight {
		apart = w.site.Faces[from].Frame.At(p).Sub(w.site.Faces[to].Frame.At(q)).Len()
	}
	for _, fold := range way.Folds {
		apart = math.Min(apart, fold.Apply(p).Distance(q))
	}
	return apart
}

func (w *Ways) find(from, to int) Way {
	var way Way
	for _, j := range w.joins[from] {
		if j.To == to && j.Outside {
			way.Folds = append(way.Folds, j.Fold)
		}
	}
	if len(way.Folds) > 0 {
		return way
	}
	if !w.site.behind(from, to) || !w.site.behind(to, from) {
		return Way{Straight: true}
	}
	for _, first := range w.joins[from] {
		if !first.Outside {
			continue
		}
		for _, second := range w.joins[first.To] {
			if second.To == to && second.Outside {
				way.Folds = append(way.Folds, first.Fold.Then(second.Fold))
			}
		}
	}
	return way
}

// behind reports whether the face b falls back from the plane of the face a: some of it lies behind
// that plane, and none in front.
func (s Site) behind(a, b int) bool {
	back := false
	for _, p := range s.Faces[b].Outline.Polygons() {
		for _, corner := range p.Outer {
			_, off := s.Faces[a].Frame.Local(s.Faces[b].Frame.At(corner))
			if off > touch {
				return false
			}
			back = back || off < -touch
		}
	}
	return back
}

// joinsOf returns the corners of the face a at which it meets the face b.
func (s Site) joinsOf(a, b int) []Join {
	var joins []Join
	for _, own := range edges(s.Faces[a].Outline) {
		for _, other := range edges(s.Faces[b].Outline) {
			if j, ok := s.join(a, own, b, other); ok {
				joins = append(joins, j)
			}
		}
	}
	return joins
}

// join returns the corner that the edge own of the face a and the edge other of the face b make,
// and whether they do. Both run counter-clockwise round their faces.
func (s Site) join(a int, own [2]plane.Point, b int, other [2]plane.Point) (Join, bool) {
	fa, fb := s.Faces[a].Frame, s.Faces[b].Frame
	c, cOff := fa.Local(fb.At(other[0]))
	d, dOff := fa.Local(fb.At(other[1]))
	if math.Abs(cOff) > touch || math.Abs(dOff) > touch {
		return Join{}, false
	}
	along := own[1].Sub(own[0])
	length := along.Len()
	unit := along.Scale(1 / length)
	if math.Abs(unit.Cross(c.Sub(own[0]))) > touch || math.Abs(unit.Cross(d.Sub(own[0]))) > touch {
		return Join{}, false
	}
	low := math.Max(0, math.Min(unit.Dot(c.Sub(own[0])), unit.Dot(d.Sub(own[0]))))
	high := math.Min(length, math.Max(unit.Dot(c.Sub(own[0])), unit.Dot(d.Sub(own[0]))))
	if high-low < 2*touch {
		return Join{}, false
	}
	j := Join{To: b, A: own[0].Add(unit.Scale(low)), B: own[0].Add(unit.Scale(high))}
	// Into each face, square to the corner: to the left of a counter-clockwise edge.
	into := fa.Right.Scale(-unit.Y).Add(fa.Up.Scale(unit.X))
	back := other[1].Sub(other[0]).Scale(1 / other[0].Distance(other[1]))
	intoB := fb.Right.Scale(-back.Y).Add(fb.Up.Scale(back.X))
	j.Angle = math.Atan2(intoB.Dot(fa.Out), intoB.Dot(into))
	if j.Angle < 0 {
		j.Angle += 2 * math.Pi
	}
	j.Outside = j.Angle > math.Pi+1e-6
	onB := func(p plane.Point) plane.Point { q, _ := fb.Local(fa.At(p)); return q }
	j.Fold = plane.Carry(j.A, j.B, onB(j.A), onB(j.B))
	return j, true
}

func edges(r plane.Region) [][2]plane.Point {
	var out [][2]plane.Point
	for _, p := range r.Polygons() {
		for _, ring := range append([]plane.Ring{p.Outer}, p.Holes...) {
			for i, a := range ring {
				out = append(out, [2]plane.Point{a, ring[(i+1)%len(ring)]})
			}
		}
	}
	return out
}

// A box is an upright box of the room.
type box struct{ min, max space.Vec }

func boxOf(f Face) box {
	var corners []space.Vec
	for _, p := range f.Outline.Polygons() {
		for _, corner := range p.Outer {
			corners = append(corners, f.Frame.At(corner))
		}
	}
	return boxRound(corners)
}

func (b box) touches(c box) bool {
	return b.min.X <= c.max.X+touch && c.min.X <= b.max.X+touch &&
		b.min.Y <= c.max.Y+touch && c.min.Y <= b.max.Y+touch &&
		b.min.Z <= c.max.Z+touch && c.min.Z <= b.max.Z+touch
}
