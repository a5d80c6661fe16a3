package tiling

import (
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/elevation"
	"wallshoal/wall/plane"
)

// markInset is how far inside the edge of a face the register marks stand that would lie on it, mm: what
// is past the edge is cut off.
const markInset = 12.0

// leastBlank is how much of a sheet has to lie off its face, to the left or above, for the sheet to start
// later, mm: it is cut there in any case.
const leastBlank = 20.0

// endAtFace ends a tile where its face does: paper that hangs past an outside corner is in the way, and what
// runs on past an inside one would lie over another face's holes. To the left and above it starts where the
// face does, where that leaves much of it out, as beside a step in the outline.
func endAtFace(v elevation.View, t *Tile, g grid) {
	end := v.Bounds
	if len(t.Holes) > 0 {
		end = extent(v, t.Area)
	}
	t.EndsRight = t.EndsRight || t.Area.Max.X > math.Min(end.Max.X+Speck, v.Bounds.Max.X-Speck)
	t.EndsBelow = t.EndsBelow || t.Area.Min.Y < math.Max(end.Min.Y-Speck, v.Bounds.Min.Y+Speck)
	across, down := g.axes(v)
	if end.Min.X > t.Area.Min.X+leastBlank {
		t.Cell.Min.X = across.down(end.Min.X)
		t.Area.Min.X = t.Cell.Min.X
	}
	if end.Max.Y < t.Area.Max.Y-leastBlank {
		t.Cell.Max.Y = -down.down(-end.Max.Y)
		t.Area.Max.Y = t.Cell.Max.Y
	}
	t.marked = t.Cell
	if t.EndsRight {
		t.Area.Max.X = end.Max.X
		t.Cell.Max.X = math.Min(t.Cell.Max.X, end.Max.X)
		t.marked.Max.X = math.Max(t.Cell.Min.X, math.Min(t.Cell.Max.X, across.down(end.Max.X-markInset)))
	}
	if t.EndsBelow {
		t.Area.Min.Y = end.Min.Y
		t.Cell.Min.Y = math.Max(t.Cell.Min.Y, end.Min.Y)
		t.marked.Min.Y = math.Min(t.Cell.Max.Y, math.Max(t.Cell.Min.Y, -down.down(-(end.Min.Y+markInset))))
	}
	t.Frame.Max = t.Frame.Min.Add(plane.Point{X: t.Area.Width(), Y: t.Area.Height()})
	_, tall := g.room()
	t.Body = t.Frame
	t.Body.Max.Y = math.Max(t.Body.Max.Y, t.Body.Min.Y+math.Min(rowTall, tall))
	if g.Paper.Roll && g.landscape {
		t.Body.Max.X = math.Max(t.Body.Max.X, t.Body.Min.X+leastAlong)
	}
}

// extent returns the box about what a box has of the face; the box where it has none.
func extent(v elevation.View, box plane.Rect) plane.Rect {
	var out plane.Ring
	for _, c := range drafting.Corners(box) {
		if v.Outline.Contains(c) {
			out = append(out, c)
		}
	}
	for _, r := range v.Rings {
		for i, p := range r {
			if a, b, some := drafting.Within(p, r[(i+1)%len(r)], box); some {
				out = append(out, a, b)
			}
		}
	}
	if len(out) == 0 {
		return box
	}
	return out.Bounds()
}

// MarkCorners returns the corners of a tile's own part of the face, from the top left by rows, those on an
// edge of the face moved inside it.
func (t Tile) MarkCorners() []plane.Point { return cellCorners(t.marked) }

// AtEnd reports whether a line on the face lies along an end of the paper that is an end of the face.
func (t Tile) AtEnd(a, b plane.Point) bool {
	const near = 0.5
	return t.EndsRight && math.Max(math.Abs(a.X-t.Area.Max.X), math.Abs(b.X-t.Area.Max.X)) < near ||
		t.EndsBelow && math.Max(math.Abs(a.Y-t.Area.Min.Y), math.Abs(b.Y-t.Area.Min.Y)) < near
}
