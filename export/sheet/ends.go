package sheet

import (
	"fmt"
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/tiling"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// endEdges says where a wall ends at its floor, along a slope or at an end without a corner, past which no
// paper hangs.
func (l *Leaf) endEdges() {
	if _, upright := l.Datum(); !upright || !l.IsWall() || l.Wall.Alone != nil {
		return
	}
	l.eachEdge(l.View.Face.Outline.Rings(), func(p, q, a, b plane.Point) {
		if math.Abs(l.HeightOf(p)) < elevation.Flat && math.Abs(l.HeightOf(q)) < elevation.Flat && p.X < q.X {
			words := "the floor: cut or fold here"
			if l.AtEnd(a, b) {
				words = "the floor: cut here"
			}
			l.edge(l.ToPage(a), l.ToPage(b), words)
		}
	})
	l.eachEdge(l.Outline.Rings(), func(p, q, a, b plane.Point) {
		if words := l.endWords(p, q, l.cutAlong(a, b)); words != "" && !joined(l.View, p, q) {
			l.edge(l.ToPage(a), l.ToPage(b), words)
		}
	})
}

// eachEdge calls f with every edge from p to q of rings on the face of which the sheet shows so much that
// it is named, from a to b.
func (l *Leaf) eachEdge(rings []plane.Ring, f func(p, q, a, b plane.Point)) {
	for _, r := range rings {
		for i, p := range r {
			q := r[(i+1)%len(r)]
			if a, b, shown := drafting.Within(p, q, l.Area); shown && a.Distance(b) > elevation.LeastEdge {
				f(p, q, a, b)
			}
		}
	}
}

// SetOutFrom names the ends that places on a face are measured from, as its sheets do: x from one, and y from
// the other where the face does not stand upright. The error says why there is no such face.
func SetOutFrom(w holemap.Work, face int) (left, foot string, err error) {
	v, err := elevation.Look(w, face)
	if err != nil {
		return "", "", err
	}
	v.Joins = w.Site.Corners()[face]
	return EndName(v, tiling.Print{}, "left"), v.FootWords(), nil
}

// EndName names an end of the face, by what is there where it is a side of something: its left and right
// are soon taken for those of the wall.
func EndName(v elevation.View, p tiling.Print, side string) string {
	x := v.Bounds.Min.X
	if side == "right" {
		x = v.Bounds.Max.X
	}
	if v.Wall.Ceiling && v.IsWall() {
		way := plane.Point{X: -1}
		if side == "right" {
			way.X = 1
		}
		if name, found := v.WallTowards(way); found {
			return "the edge at " + name // left and right are only so to somebody who looks the right way
		}
	}
	if v.IsWall() {
		return p.End(side)
	}
	for _, j := range v.Joins {
		if math.Abs(j.A.X-x) > elevation.Flat || math.Abs(j.B.X-x) > elevation.Flat {
			continue
		}
		other := v.Work.Site.Faces[j.To]
		switch {
		case other.IsWall() && other.Wall == v.Face.Wall:
			return "the wall"
		case other.IsWall():
			return "the corner with " + v.NameFrom(j.To)
		case other.Wall == v.Face.Wall && other.Obstruction == v.Face.Obstruction && other.Side == wall.Front:
			return "its front corner"
		case other.Wall == v.Face.Wall && other.Obstruction == v.Face.Obstruction && other.Side == wall.Back:
			return "its back corner"
		}
	}
	return p.End(side)
}

// joined reports whether an edge of the face is a corner with another.
func joined(v elevation.View, p, q plane.Point) bool {
	on := func(j wall.Join, at plane.Point) bool {
		return plane.SegmentDistance(at, j.A, j.B) < tiling.Touch
	}
	for _, j := range v.Joins {
		if m := p.Lerp(q, 0.5); on(j, m) && (on(j, p.Lerp(q, 0.1)) || on(j, p.Lerp(q, 0.9))) {
			return true
		}
	}
	return false
}

// endWords says what the edge of a wall from p to q is, which has the wall to its left; nothing of the
// floor. Where the sheet is cut along it in any case, no more is said than which end it is.
func (l *Leaf) endWords(p, q plane.Point, cut bool) string {
	upright, rise := math.Abs(p.X-q.X) < elevation.Flat, math.Abs(p.Y-q.Y)
	end := l.Print.End("left")
	if q.Y > p.Y {
		end = l.Print.End("right")
	}
	switch {
	case upright && cut:
		return "this edge at " + end + " of the wall"
	case upright:
		return end + " of the wall: cut here"
	case cut, rise < elevation.Flat && p.X < q.X && math.Abs(l.HeightOf(p)) < elevation.Flat:
		return ""
	case rise < elevation.Flat && p.X > q.X:
		return "the top of the wall: cut here"
	case rise < elevation.Flat:
		if l.UnseenZero() {
			return l.FootName() + ": cut here"
		}
		return fmt.Sprintf("the foot of the wall, %s above %s: cut here", l.Length(l.HeightOf(p)), l.ZeroShort())
	case p.X < q.X:
		return "the foot of the wall goes up here: cut along this line"
	}
	return "the top of the wall slopes here: cut along this line"
}

// endLine is the line along which the drawing ends: thin where others land on what lies past it, heavy
// where it is cut.
func (l *Leaf) endLine(cut bool) draw.Stroke {
	if cut || l.Added {
		return drafting.Medium
	}
	return drafting.Shade(drafting.Hair, drafting.Soft)
}
