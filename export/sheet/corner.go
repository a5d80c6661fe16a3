package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// cornerWords says which corner of the room an edge of the face is. A corner of a thing's front or
// back with another of its sides is the thing's own: its left corner, its top edge.
func (v view) cornerWords(j wall.Join) string {
	other := v.work.Site.Faces[j.To]
	if own, is := v.owner(); is && other.Wall == v.face.Wall && other.Obstruction == v.face.Obstruction {
		if corner := cornerOf(v.face.Side, other.Side); corner != "" {
			words, side := fmt.Sprintf("this edge to the %s of the %s", corner, own.Name), strings.TrimPrefix(other.Name, own.Name+" ")
			if side == corner {
				return words
			}
			return words + ", next to its " + side
		}
	}
	name := v.nameFrom(j.To)
	switch thing, is := v.thingOf(other); {
	case is && !other.Used && thing.Depth > 0:
		return "the edge of the " + thing.Name + ": cut along it"
	case math.Abs(j.Angle-math.Pi) < 1e-6:
		return "this edge against " + name + ", which goes straight on"
	case j.Outside:
		return "this edge to the outside corner with " + name
	}
	return "this edge into the corner with " + name
}

// thingOf returns what of this wall's a face is a side of, where this face is the wall itself.
func (v view) thingOf(f wall.Face) (wall.Obstruction, bool) {
	if !v.isWall() || f.Wall != v.face.Wall || f.IsWall() || f.Obstruction < 0 || f.Obstruction >= len(v.wall.Obstructions) {
		return wall.Obstruction{}, false
	}
	return v.wall.Obstructions[f.Obstruction], true
}

// nameFrom returns what sheets of this face call another: without the name of the wall where both
// belong to one.
func (v view) nameFrom(face int) string {
	other := v.work.Site.Faces[face]
	if other.Wall == v.face.Wall && !other.IsWall() {
		return other.Name
	}
	return v.work.Site.Title(face)
}

// cornerOf names the corner between the front or the back of a thing and another of its sides;
// nothing where neither of two sides is its front or its back.
func cornerOf(a, b wall.Side) string {
	if b == wall.Front || b == wall.Back {
		a, b = b, a
	}
	if a != wall.Front && a != wall.Back {
		return ""
	}
	return map[wall.Side]string{
		wall.Left: "left corner", wall.Right: "right corner", wall.Top: "top edge",
		wall.Underside: "lower edge", wall.Head: "head", wall.Sill: "sill",
	}[b]
}

// footWords names the edge of a face that does not stand upright from which places on it are
// measured upwards on the sheet.
func (v view) footWords() string {
	switch v.face.Side {
	case wall.Top, wall.Sill:
		return "its front edge"
	case wall.Underside, wall.Head:
		return "its back edge"
	}
	if name, first := v.overFoot(); first {
		return "the edge at " + name
	}
	return "its lower edge as drawn"
}

// overFoot returns the name of the first wall of the room where the lower edge of a ceiling, as it
// is drawn, runs along it.
func (v view) overFoot() (name string, along bool) {
	if !v.wall.Ceiling {
		return "", false
	}
	for _, f := range v.work.Site.Faces {
		if w := v.work.Site.Room.Walls[f.Wall]; f.IsWall() && w.Alone == nil {
			a, _ := v.face.Frame.Local(f.Frame.Origin)
			b, _ := v.face.Frame.Local(f.Frame.At(plane.Point{X: w.Outline.Bounds().Max.X}))
			return w.Name, math.Abs(a.Y-v.bounds.Min.Y) < 1 && math.Abs(b.Y-v.bounds.Min.Y) < 1
		}
	}
	return "", false
}

// upWords says which way up on the sheet is in the room.
func (v view) upWords() string {
	if _, upright := v.datum(); upright {
		return "UP"
	}
	switch v.face.Side {
	case wall.Top, wall.Sill:
		return "BACK"
	case wall.Underside, wall.Head:
		return "FRONT"
	}
	if v.wall.Ceiling {
		return v.aheadWords()
	}
	return "UP"
}

// stance says how somebody stands who sees a face as its sheets show it, where it is not upright.
func (v view) stance() string {
	switch v.face.Side {
	case wall.Top, wall.Sill:
		return "The sheets show it as seen from before the wall, looking down; the arrow BACK points to the wall."
	case wall.Underside, wall.Head:
		return "The sheets show it as seen looking up as you face the wall, head back; the arrow FRONT points away from the wall."
	}
	if v.wall.Ceiling {
		name, _ := v.overFoot()
		text := fmt.Sprintf("The sheets show it as seen looking up as you face %s, head back.", name)
		if to, found := v.wallTowards(plane.Point{Y: 1}); found {
			text += fmt.Sprintf(" The arrow TO: %s points behind you then, to that wall.", strings.ToUpper(to))
		}
		return joined(" ", text, v.roundWords())
	}
	return ""
}

// edges says along every edge that meets another face which corner that is.
func (l *leaf) edges() {
	for _, j := range l.joins {
		a, b, shown := within(j.A, j.B, l.Area)
		if shown && a.Distance(b) > leastEdge {
			words := l.cornerWords(j)
			switch {
			case l.cutAlong(a, b), strings.HasSuffix(words, ": cut along it"):
			case j.Angle < math.Pi-1e-6 && !l.atEnd(a, b):
				words += ": cut or fold here"
			case j.Angle > math.Pi+1e-6, l.atEnd(a, b):
				words += ": cut here"
			}
			l.edge(l.ToPage(a), l.ToPage(b), words)
		}
	}
	l.endEdges()
}

// cutAlong reports whether an edge lies on the left or the top of the sheet's cell, where it is cut
// in any case.
func (l *leaf) cutAlong(a, b plane.Point) bool {
	const near = 1.1 // a sheet starts at a whole millimetre
	c := l.Cell
	return math.Max(math.Abs(a.X-c.Min.X), math.Abs(b.X-c.Min.X)) < near ||
		math.Max(math.Abs(a.Y-c.Max.Y), math.Abs(b.Y-c.Max.Y)) < near
}

const (
	leastEdge  = 12.0 // the shortest part of an edge that a sheet names, mm
	narrowEdge = 34.0 // the longest line of words that stand near an edge and not along it, mm
)

// edge writes words along the edge from a to b on the page, which has its face to its left: beyond
// the edge where there is room, else within.
func (l *leaf) edge(a, b plane.Point, words string) {
	along := b.Sub(a)
	length := along.Len()
	out := plane.Point{X: -along.Y, Y: along.X}.Scale(1 / length) // the page has y downwards
	turned := math.Abs(along.Y) > math.Abs(along.X)
	level := math.Min(math.Abs(along.X), math.Abs(along.Y)) < 0.5
	var box plane.Rect
	var text note
	var cost float64
	var found bool
	for _, height := range []float64{bitHeight, least} {
		var candidates []plane.Rect
		var notes []note
		for _, room := range []float64{length - 10, length - 2} {
			n := note{height: height, turned: turned && level}
			n.lines = wrapped(words, height, math.Max(room, leastEdge))
			if room <= 0 || len(n.lines) > 3 {
				continue
			}
			width, tall := n.size()
			off := lineAir + 0.1 + (math.Abs(out.X)*width+math.Abs(out.Y)*tall)/2
			for _, away := range []float64{off, -off, -off - 4, -off - 9} {
				for _, t := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
					candidates = append(candidates, sized(a.Lerp(b, t).Add(out.Scale(away)), width, tall))
					notes = append(notes, n)
				}
			}
		}
		// Where the edge only cuts a corner of the sheet off, a block of words stands near it.
		block := note{lines: wrapped(words, height, narrowEdge), height: height}
		width, tall := block.size()
		for _, c := range around(a.Lerp(b, 0.5), width, tall, 2, 8) {
			candidates = append(candidates, c)
			notes = append(notes, block)
		}
		if box, cost, found = l.spot(a.Lerp(b, 0.5), candidates); found {
			text = notes[slices.Index(candidates, box)]
		}
		if found && cost < worthLabel {
			break
		}
	}
	if !found {
		return
	}
	l.spots.take(box.Grow(1), worthEdge)
	l.paper.take(box.Grow(1), worthEdge)
	knockout(l, box)
	l.Group("edge")
	l.note(text, box, ink)
	l.End()
}

// within returns the part of the line from a to b that lies in a box, and whether there is any.
func within(a, b plane.Point, box plane.Rect) (c, d plane.Point, some bool) {
	low, high := 0.0, 1.0
	clip := func(from, step, least, most float64) {
		if step == 0 {
			if from < least || from > most {
				high = -1
			}
			return
		}
		s, t := (least-from)/step, (most-from)/step
		low, high = math.Max(low, math.Min(s, t)), math.Min(high, math.Max(s, t))
	}
	clip(a.X, b.X-a.X, box.Min.X, box.Max.X)
	clip(a.Y, b.Y-a.Y, box.Min.Y, box.Max.Y)
	if low >= high {
		return a, b, false
	}
	return a.Lerp(b, low), a.Lerp(b, high), true
}
