package sheet

import (
	"fmt"
	"math"

	"wallshoal/export/holemap"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// endEdges says where a wall ends at its floor, along a slope or at an end without a corner, past which no
// paper hangs.
func (l *leaf) endEdges() {
	if _, upright := l.datum(); !upright || !l.isWall() || l.wall.Alone != nil {
		return
	}
	l.eachEdge(ringsOf(l.face.Outline), func(p, q, a, b plane.Point) {
		if math.Abs(l.heightOf(p)) < flat && math.Abs(l.heightOf(q)) < flat && p.X < q.X {
			words := "the floor: cut or fold here"
			if l.atEnd(a, b) {
				words = "the floor: cut here"
			}
			l.edge(l.ToPage(a), l.ToPage(b), words)
		}
	})
	l.eachEdge(ringsOf(l.outline), func(p, q, a, b plane.Point) {
		if words := l.endWords(p, q, l.cutAlong(a, b)); words != "" && !l.joined(p, q) {
			l.edge(l.ToPage(a), l.ToPage(b), words)
		}
	})
}

// flat is by how much an edge may rise, or a height be off the floor, that counts as level or as on it, mm.
const flat = 0.5

// eachEdge calls f with every edge from p to q of rings on the face of which the sheet shows so much that
// it is named, from a to b.
func (l *leaf) eachEdge(rings []plane.Ring, f func(p, q, a, b plane.Point)) {
	for _, r := range rings {
		for i, p := range r {
			q := r[(i+1)%len(r)]
			if a, b, shown := within(p, q, l.Area); shown && a.Distance(b) > leastEdge {
				f(p, q, a, b)
			}
		}
	}
}

// SetOutFrom names the ends that places on a face are measured from, as its sheets do: x from one, and y from
// the other where the face does not stand upright. The error says why there is no such face.
func SetOutFrom(w holemap.Work, face int) (left, foot string, err error) {
	v, err := look(w, face)
	if err != nil {
		return "", "", err
	}
	v.joins = w.Site.Corners()[face]
	return v.endName(Print{}, "left"), v.footWords(), nil
}

// endName names an end of the face, by what is there where it is a side of something: its left and right
// are soon taken for those of the wall.
func (v view) endName(p Print, side string) string {
	x := v.bounds.Min.X
	if side == "right" {
		x = v.bounds.Max.X
	}
	if v.wall.Ceiling && v.isWall() {
		way := plane.Point{X: -1}
		if side == "right" {
			way.X = 1
		}
		if name, found := v.wallTowards(way); found {
			return "the edge at " + name // left and right are only so to somebody who looks the right way
		}
	}
	if v.isWall() {
		return p.end(side)
	}
	for _, j := range v.joins {
		if math.Abs(j.A.X-x) > flat || math.Abs(j.B.X-x) > flat {
			continue
		}
		other := v.work.Site.Faces[j.To]
		switch {
		case other.IsWall() && other.Wall == v.face.Wall:
			return "the wall"
		case other.IsWall():
			return "the corner with " + v.nameFrom(j.To)
		case other.Wall == v.face.Wall && other.Obstruction == v.face.Obstruction && other.Side == wall.Front:
			return "its front corner"
		case other.Wall == v.face.Wall && other.Obstruction == v.face.Obstruction && other.Side == wall.Back:
			return "its back corner"
		}
	}
	return p.end(side)
}

// joined reports whether an edge of the face is a corner with another.
func (v view) joined(p, q plane.Point) bool {
	on := func(j wall.Join, at plane.Point) bool {
		return plane.SegmentDistance(at, j.A, j.B) < touch
	}
	for _, j := range v.joins {
		if m := p.Lerp(q, 0.5); on(j, m) && (on(j, p.Lerp(q, 0.1)) || on(j, p.Lerp(q, 0.9))) {
			return true
		}
	}
	return false
}

// endWords says what the edge of a wall from p to q is, which has the wall to its left; nothing of the
// floor. Where the sheet is cut along it in any case, no more is said than which end it is.
func (l *leaf) endWords(p, q plane.Point, cut bool) string {
	upright, rise := math.Abs(p.X-q.X) < flat, math.Abs(p.Y-q.Y)
	end := l.print.end("left")
	if q.Y > p.Y {
		end = l.print.end("right")
	}
	switch {
	case upright && cut:
		return "this edge at " + end + " of the wall"
	case upright:
		return end + " of the wall: cut here"
	case cut, rise < flat && p.X < q.X && math.Abs(l.heightOf(p)) < flat:
		return ""
	case rise < flat && p.X > q.X:
		return "the top of the wall: cut here"
	case rise < flat:
		if l.unseenZero() {
			return l.footName() + ": cut here"
		}
		return fmt.Sprintf("the foot of the wall, %s above %s: cut here", l.length(l.heightOf(p)), l.zeroShort())
	case p.X < q.X:
		return "the foot of the wall goes up here: cut along this line"
	}
	return "the top of the wall slopes here: cut along this line"
}
