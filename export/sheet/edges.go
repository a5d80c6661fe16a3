package sheet

import (
	"math"
	"slices"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/elevation"
	"wallshoal/wall/plane"
)

// cutAlong reports whether an edge lies on the left or the top of the sheet's cell, where it is cut
// in any case.
func (l *Leaf) cutAlong(a, b plane.Point) bool {
	const near = 1.1 // a sheet starts at a whole millimetre
	c := l.Cell
	return math.Max(math.Abs(a.X-c.Min.X), math.Abs(b.X-c.Min.X)) < near ||
		math.Max(math.Abs(a.Y-c.Max.Y), math.Abs(b.Y-c.Max.Y)) < near
}

// edge writes words along the edge from a to b on the page, which has its face to its left: beyond
// the edge where there is room, else within.
func (l *Leaf) edge(a, b plane.Point, words string) {
	along := b.Sub(a)
	length := along.Len()
	out := plane.Point{X: -along.Y, Y: along.X}.Scale(1 / length) // the page has y downwards
	turned := math.Abs(along.Y) > math.Abs(along.X)
	level := math.Min(math.Abs(along.X), math.Abs(along.Y)) < 0.5
	var box plane.Rect
	var text drafting.Note
	var cost float64
	var found bool
	for _, height := range []float64{elevation.BitHeight, drafting.Least} {
		var candidates []plane.Rect
		var notes []drafting.Note
		for _, room := range []float64{length - 10, length - 2} {
			n := drafting.Note{Height: height, Turned: turned && level}
			n.Lines = drafting.Wrapped(words, height, math.Max(room, elevation.LeastEdge))
			if room <= 0 || len(n.Lines) > 3 {
				continue
			}
			width, tall := n.Size()
			off := lineAir + 0.1 + (math.Abs(out.X)*width+math.Abs(out.Y)*tall)/2
			for _, away := range []float64{off, -off, -off - 4, -off - 9} {
				for _, t := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
					candidates = append(candidates, drafting.BoxAt(a.Lerp(b, t).Add(out.Scale(away)), width, tall))
					notes = append(notes, n)
				}
			}
		}
		// Where the edge only cuts a corner of the sheet off, a block of words stands near it.
		block := drafting.Note{Lines: drafting.Wrapped(words, height, elevation.NarrowEdge), Height: height}
		width, tall := block.Size()
		for _, c := range drafting.Around(a.Lerp(b, 0.5), width, tall, 2, 8) {
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
	l.spots.Take(box.Grow(1), worthEdge)
	l.paper.Take(box.Grow(1), worthEdge)
	drafting.Knockout(l, box)
	l.Group("edge")
	l.Note(text, box, drafting.Ink)
	l.End()
}

// edges says along every edge that meets another face which corner that is.
func (l *Leaf) edges() {
	for _, j := range l.Joins {
		a, b, shown := drafting.Within(j.A, j.B, l.Area)
		if shown && a.Distance(b) > elevation.LeastEdge {
			words := l.CornerWords(j)
			switch {
			case l.cutAlong(a, b), strings.HasSuffix(words, ": cut along it"):
			case j.Angle < math.Pi-1e-6 && !l.AtEnd(a, b):
				words += ": cut or fold here"
			case j.Angle > math.Pi+1e-6, l.AtEnd(a, b):
				words += ": cut here"
			}
			l.edge(l.ToPage(a), l.ToPage(b), words)
		}
	}
	l.endEdges()
}
