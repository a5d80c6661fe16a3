package drafting

import (
	"math"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A Spots finds places for labels on a page so that they stay clear of one another and of what else
// must be seen.
type Spots struct {
	Within  plane.Rect
	columns []column // of squares, from the left edge of Within
	left    int      // number of the first column, counted in squares from 0
	low     int      // number of the lowest square of each column
	tall    int      // squares in a column
}

// A column is the squares above one another, each with what touches it. It is nil until something does.
type column [][]taken

// A taken is a place on the page that is in use, and how bad it would be to cover it.
type taken struct {
	box   plane.Rect
	worth float64
}

// NewSpots returns the spots of a part of a page on which all is free.
func NewSpots(within plane.Rect) *Spots {
	s := &Spots{Within: within, left: square(within.Min.X), low: square(within.Min.Y)}
	s.columns = make([]column, square(within.Max.X)-s.left+1)
	s.tall = square(within.Max.Y) - s.low + 1
	return s
}

// square returns the number of the square that a place along either axis, in mm, lies in. Taken places are
// filed under the squares they touch.
func square(at float64) int {
	const side = 10.0
	return int(math.Floor(at / side))
}

// span returns the columns and the squares in them that the box touches, counted from the first; what is
// outside Within has none.
func (s *Spots) span(box plane.Rect) (x0, x1, y0, y1 int) {
	return max(square(box.Min.X)-s.left, 0), min(square(box.Max.X)-s.left, len(s.columns)-1),
		max(square(box.Min.Y)-s.low, 0), min(square(box.Max.Y)-s.low, s.tall-1)
}

// Take marks a box as used.
func (s *Spots) Take(box plane.Rect, worth float64) {
	if !box.Overlaps(s.Within) {
		return
	}
	box = Meet(box, s.Within)
	x0, x1, y0, y1 := s.span(box)
	for x := x0; x <= x1; x++ {
		if s.columns[x] == nil {
			s.columns[x] = make(column, s.tall)
		}
		for y := y0; y <= y1; y++ {
			s.columns[x][y] = append(s.columns[x][y], taken{box, worth})
		}
	}
}

// Meet returns what two overlapping boxes share.
func Meet(a, b plane.Rect) plane.Rect {
	return plane.Rect{
		Min: plane.Point{X: math.Max(a.Min.X, b.Min.X), Y: math.Max(a.Min.Y, b.Min.Y)},
		Max: plane.Point{X: math.Min(a.Max.X, b.Max.X), Y: math.Min(a.Max.Y, b.Max.Y)},
	}
}

// Cost returns how much the box would cover: 0 where it is free.
func (s *Spots) Cost(box plane.Rect) float64 {
	var sum float64
	x0, x1, y0, y1 := s.span(box)
	for x := x0; x <= x1; x++ {
		if s.columns[x] == nil {
			continue
		}
		for y := y0; y <= y1; y++ {
			for _, t := range s.columns[x][y] {
				w := min(box.Max.X, t.box.Max.X) - max(box.Min.X, t.box.Min.X)
				h := min(box.Max.Y, t.box.Max.Y) - max(box.Min.Y, t.box.Min.Y)
				if w > 0 && h > 0 {
					sum += float64(t.worth * w * h)
				}
			}
		}
	}
	return sum
}

// Best returns the candidate that covers least, the earlier of two that cover as little, and what
// it covers. Candidates that leave the page's area are passed over; found is false where all do.
func (s *Spots) Best(candidates []plane.Rect) (box plane.Rect, cost float64, found bool) {
	cost = math.Inf(1)
	for _, c := range candidates {
		if !s.Within.Contains(c.Min) || !s.Within.Contains(c.Max) {
			continue
		}
		if here := s.Cost(c); here < cost {
			box, cost, found = c, here, true
			if cost == 0 {
				break
			}
		}
	}
	return box, cost, found
}

// BoxAt returns the box of the given size with its middle at p.
func BoxAt(p plane.Point, width, height float64) plane.Rect {
	half := plane.Point{X: width / 2, Y: height / 2}
	return plane.Rect{Min: p.Sub(half), Max: p.Add(half)}
}

// Around returns boxes of the given size about p, nearest first: beside it at the given gap, and
// then on wider and wider rounds.
func Around(p plane.Point, width, height, gap float64, rounds int) []plane.Rect {
	directions := []plane.Point{
		{X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: -1}, {X: -1, Y: 1},
		{X: 1, Y: 0}, {X: -1, Y: 0}, {X: 0, Y: -1}, {X: 0, Y: 1},
	}
	var out []plane.Rect
	for round := range rounds {
		far := gap + float64(round)*3
		for _, d := range directions {
			// A box to one side keeps the gap sideways, one above or below keeps it upwards; at the
			// corners both are kept in part.
			x, y := far, far
			if d.X != 0 && d.Y != 0 {
				x, y = far*0.5, far*0.5
			}
			out = append(out, BoxAt(plane.Point{
				X: p.X + d.X*(x+width/2),
				Y: p.Y + d.Y*(y+height/2),
			}, width, height))
		}
	}
	return out
}

// ScatterIn returns boxes of the given size spread over the area, from its middle outwards.
func ScatterIn(area plane.Rect, width, height float64) []plane.Rect {
	steps := []float64{0.5, 0.3, 0.7, 0.1, 0.9}
	var out []plane.Rect
	for _, y := range steps {
		for _, x := range steps {
			left := area.Min.X + x*(area.Width()-width)
			top := area.Min.Y + y*(area.Height()-height)
			box := plane.Rect{Min: plane.Point{X: left, Y: top}, Max: plane.Point{X: left + width, Y: top + height}}
			if width <= area.Width() && height <= area.Height() {
				out = append(out, box)
			}
		}
	}
	return out
}

// Corners returns the ring of a box on the page.
func Corners(r plane.Rect) plane.Ring {
	return plane.Rectangle(r.Min, r.Width(), r.Height())
}

// Knockout whitens a box so that what is written in it is read off clean paper.
func Knockout(c draw.Canvas, box plane.Rect) {
	c.Polygon([]plane.Ring{Corners(box)}, draw.Paint{Fill: draw.Solid(draw.White)})
}

// BoxesAlong returns boxes that cover the line from a to b on the page closely: one where it runs
// with the sheet, else many small ones.
func BoxesAlong(a, b plane.Point) []plane.Rect {
	const step = 2.0
	along := b.Sub(a)
	parts := 1.0
	if math.Min(math.Abs(along.X), math.Abs(along.Y)) > 0.5 {
		parts = math.Ceil(along.Len() / step)
	}
	var out []plane.Rect
	for n := range int(parts) {
		out = append(out, plane.Ring{a.Lerp(b, float64(n)/parts), a.Lerp(b, float64(n+1)/parts)}.Bounds())
	}
	return out
}

// Nearest returns the point of the box that is nearest to p.
func Nearest(box plane.Rect, p plane.Point) plane.Point {
	return plane.Point{
		X: math.Min(math.Max(p.X, box.Min.X), box.Max.X),
		Y: math.Min(math.Max(p.Y, box.Min.Y), box.Max.Y),
	}
}

// GapBetween returns how far p is from the box, by the greater of both axes.
func GapBetween(box plane.Rect, p plane.Point) float64 {
	n := Nearest(box, p)
	return math.Max(math.Abs(n.X-p.X), math.Abs(n.Y-p.Y))
}

// Within returns the part of the line from a to b that lies in a box, and whether there is any.
func Within(a, b plane.Point, box plane.Rect) (c, d plane.Point, some bool) {
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
