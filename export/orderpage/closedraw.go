package orderpage

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/stand"
	"wallshoal/export/template"
	"wallshoal/wall/plane"
)

// closeUps draws the close-up of a stand on pages of its own: one where that has room for all labels,
// else parts, as many as it takes. Parts are tall or wide as the stand is.
func (o *orderBook) closeUps(s stand.Stand, pieces []elevation.Hung) {
	width, height := o.area.Width(), o.area.Height()-draw.Letter35-4-closeHead
	var parts []*closeUp
	least, since := math.MaxInt, 0
	for n := 1; n <= closeParts && least > 0 && since < 3; n++ {
		var tried []*closeUp
		lost := 0
		for _, part := range inParts(pieces, n) {
			c, _ := o.closeUpIn(s, part, width, height/float64(min(n, 2)), closeAlone)
			if c == nil {
				lost += len(part)
				continue
			}
			tried, lost = append(tried, c), lost+len(c.lost)
		}
		since++
		if lost < least {
			parts, least, since = tried, lost, 0
		}
	}
	for i, c := range parts {
		if i == 0 || o.y+c.area.Height()+closeHead > o.area.Max.Y {
			o.End()
			o.page(fmt.Sprintf("Stand %d, close up", s.Number))
			o.Group(fmt.Sprintf("stand %d", s.Number))
		}
		c.put()
	}
	o.y = o.area.Max.Y
}

// inParts divides pieces into n runs of about as many each, along the longer side of what they take up.
func inParts(pieces []elevation.Hung, n int) [][]elevation.Hung {
	if n >= len(pieces) {
		n = len(pieces)
	}
	box := pieces[0].Bounds
	for _, h := range pieces {
		box = box.Union(h.Bounds)
	}
	sorted := sortedAlong(pieces, box.Width() > box.Height())
	var out [][]elevation.Hung
	for i := range n {
		out = append(out, sorted[i*len(sorted)/n:(i+1)*len(sorted)/n])
	}
	return out
}

// sortedAlong returns pieces from left to right, or from the top.
func sortedAlong(pieces []elevation.Hung, across bool) []elevation.Hung {
	return slices.SortedFunc(slices.Values(pieces), func(a, b elevation.Hung) int {
		if across {
			return cmp.Or(cmp.Compare(a.At.X, b.At.X), cmp.Compare(a.ID, b.ID))
		}
		return cmp.Or(cmp.Compare(b.At.Y, a.At.Y), cmp.Compare(a.ID, b.ID))
	})
}

// put draws the close-up at the left edge of the page from o.y on.
func (c *closeUp) put() {
	o := c.book
	caption := "Close up, " + drafting.ScaleWords(c.drawn)[len("SCALE "):] + ": number and kind of each piece, the numbers of its holes, and an arrow the way it heads"
	if c.View.Wall.Ceiling || !c.IsWall() {
		caption += ". " + strings.ToUpper(c.Twelve()[:1]) + c.Twelve()[1:]
	}
	if o.short {
		caption = "Close up, " + drafting.ScaleWords(c.drawn)[len("SCALE "):]
		if c.View.Wall.Ceiling || !c.IsWall() {
			// Where it has no room it is said over the boxes to tick.
			if long := caption + ": " + c.Twelve(); len(drafting.Wrapped(long, tickSmall, o.area.Width())) == 1 {
				caption = long
			}
		}
	}
	lines := drafting.Wrapped(caption, tickSmall, o.area.Width())
	for i, line := range lines {
		o.Say(o.area.Min.X, o.y+tickSmall+float64(i)*tickSmall*1.6, tickSmall, line, 0, drafting.Style{Colour: drafting.Quiet})
	}
	top := plane.Point{X: o.area.Min.X, Y: o.y + o.closeTop() - 1}
	c.Origin = c.Origin.Add(top)
	c.area = plane.Rect{Min: c.area.Min.Add(top), Max: c.area.Max.Add(top)}
	o.Group("close-up")
	c.ground()
	c.hang()
	c.write(top)
	c.edges(top)
	c.names(top)
	o.End()
	o.y = c.area.Max.Y + 1
}

// closeTop returns how high the lines over a close-up are, mm.
func (o *orderBook) closeTop() float64 {
	if o.short {
		return closeHead - tickSmall*1.6
	}
	return closeHead
}

// ground draws what of the face lies in the close-up: its edge, what stands on it, and pieces of other
// stands.
func (c *closeUp) ground() {
	c.book.Clip(drafting.Corners(c.area))
	c.book.Polygon(c.Mapping.Rings(c.View.Rings), draw.Paint{Fill: draw.Solid(draw.White), Stroke: drafting.Medium})
	for _, t := range c.Things {
		c.book.Polygon([]plane.Ring{c.Ring(t.Shape)}, draw.Paint{Fill: draw.Solid(draw.Grey(235)), Stroke: drafting.Shade(drafting.Thin, drafting.Soft)})
	}
	for _, h := range c.View.Pieces {
		c.book.Polygon([]plane.Ring{c.Ring(h.Ring)}, draw.Paint{Stroke: draw.Stroke{Width: draw.Width018, Colour: drafting.Faint}})
	}
	c.book.Unclip()
	c.book.Box(c.area, draw.Paint{Stroke: drafting.Shade(drafting.Hair, drafting.Faint)})
}

// hang draws the pieces of the stand: their shapes, the ways they head, and their holes.
func (c *closeUp) hang() {
	for _, h := range c.pieces {
		o := c.book
		o.Polygon([]plane.Ring{c.Ring(h.Ring)}, draw.Paint{Fill: draw.Solid(draw.Grey(225)), Stroke: drafting.Medium})
		tip, way := c.tip(h)
		o.Line(c.At(h.At), tip.Sub(way.Scale(1)), drafting.Medium)
		o.Arrow(tip, way, 2.2, drafting.Ink)
		for i := range h.Kind.Holes {
			o.Circle(c.At(h.HoleAt(c.Work.Kinds, i)), 0.55, draw.Paint{Fill: draw.Solid(draw.White), Stroke: drafting.Thin})
		}
	}
}

// write writes the labels, and below them which pieces are too crowded for one.
func (c *closeUp) write(by plane.Point) {
	o := c.book
	for _, l := range c.labels {
		box := plane.Rect{Min: l.box.Min.Add(by), Max: l.box.Max.Add(by)}
		o.Group(fmt.Sprintf("label %d", l.piece.ID))
		drafting.Knockout(o, box)
		c.tie(l, box)
		x, y := box.Min.X+0.3, box.Min.Y+0.3+l.height
		switch {
		case l.holes == "" || l.beside:
			o.Say(x, y, l.height, l.number, 0, drafting.Style{Bold: true})
			o.Say(box.Max.X-0.3, y, closeLeast, l.holes, 0, drafting.Style{Align: draw.Right})
		default:
			o.Say(box.Centre().X, y, l.height, l.number, 0, drafting.Style{Bold: true, Align: draw.Centre})
			o.Say(box.Centre().X, y+0.9+closeLeast, closeLeast, l.holes, 0, drafting.Style{Align: draw.Centre})
		}
		o.End()
	}
	if len(c.lost) > 0 {
		text := fmt.Sprintf("Too close to others to be labelled: %s. Find them by the numbers of their holes.", template.HoleNumbers(c.lost))
		o.Say(c.area.Min.X, math.Min(c.area.Max.Y+drafting.Least+0.6, o.area.Max.Y), drafting.Least, text, o.area.Width(), drafting.Style{})
		c.area.Max.Y += drafting.Least + 1
	}
}

// tie draws a short line from a label to its piece, so that nobody takes it for another's.
func (c *closeUp) tie(l tag, box plane.Rect) {
	ring := c.Ring(l.piece.Ring)
	best, from, to := math.Inf(1), plane.Point{}, plane.Point{}
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		for n := range 5 {
			p := a.Lerp(b, float64(n)/5)
			if q := drafting.Nearest(box, p); q.Distance(p) < best {
				best, from, to = q.Distance(p), q, p
			}
		}
	}
	if best > 0.2 && best < 20 {
		c.book.Line(from, to, drafting.Hair)
	}
}

// names writes what things on the face are called into what is seen of them, where they are free.
func (c *closeUp) names(by plane.Point) {
	for _, t := range c.Things {
		box := c.Mapping.Box(t.Shape.Bounds())
		if !box.Overlaps(c.area) {
			continue
		}
		seen := drafting.Meet(box, c.area).Grow(-0.8)
		inside := func(p plane.Point) bool { return t.Shape.Contains(c.Back(p)) }
		for _, n := range drafting.NotesFor(t.Name, closeLeast, seen.Width(), seen.Height(), seen.Width(), 2) {
			width, height := n.Size()
			places := slices.DeleteFunc(drafting.ScatterIn(seen, width, height), func(b plane.Rect) bool { return !drafting.CornersWithin(b, inside) })
			for i, p := range places {
				places[i] = plane.Rect{Min: p.Min.Sub(by), Max: p.Max.Sub(by)}
			}
			if place, cost, found := c.free.Best(places, tooMuch); found && cost < worthLine {
				c.free.Take(place, worthClose)
				c.book.Note(n, plane.Rect{Min: place.Min.Add(by), Max: place.Max.Add(by)}, drafting.Quiet)
				break
			}
		}
	}
}

// edges says which edge of a side of something is at the wall, and which is the front one.
func (c *closeUp) edges(by plane.Point) {
	frame, found := c.WallFrame()
	if !found || math.Abs(c.Face.Frame.Out.Dot(frame.Out)) > elevation.Level {
		return
	}
	b := c.Bounds
	far := 0.0
	for _, p := range drafting.Corners(b) {
		_, off := frame.Local(c.Face.Frame.At(p))
		far = math.Max(far, off)
	}
	for _, edge := range [][2]plane.Point{
		{b.Min, {X: b.Max.X, Y: b.Min.Y}}, {{X: b.Min.X, Y: b.Max.Y}, b.Max}, {b.Min, {X: b.Min.X, Y: b.Max.Y}}, {{X: b.Max.X, Y: b.Min.Y}, b.Max},
	} {
		_, one := frame.Local(c.Face.Frame.At(edge[0]))
		_, other := frame.Local(c.Face.Frame.At(edge[1]))
		switch {
		case math.Max(one, other) < 1:
			c.edgeWord(by, edge, "at the wall")
		case math.Min(one, other) > far-1:
			c.edgeWord(by, edge, "front edge")
		}
	}
}

// edgeWord writes a word beside an edge of the face, where that covers nothing.
func (c *closeUp) edgeWord(by plane.Point, edge [2]plane.Point, word string) {
	a, b := c.At(edge[0]).Sub(by), c.At(edge[1]).Sub(by)
	n := drafting.Note{Lines: []string{word}, Height: closeNumber, Turned: math.Abs(b.Y-a.Y) > math.Abs(b.X-a.X)}
	width, height := n.Size()
	side := plane.Point{Y: height/2 + 0.4}
	if n.Turned {
		side = plane.Point{X: width/2 + 0.4}
	}
	var places []plane.Rect
	const steps = 40
	for i := range steps {
		// From the middle of the edge to its ends.
		t := 0.5 + float64((i+1)/2)/steps*math.Pow(-1, float64(i))
		for _, way := range []float64{1, -1} {
			places = append(places, drafting.BoxAt(a.Lerp(b, t).Add(side.Scale(way)), width, height))
		}
	}
	if box, cost, found := c.free.Best(places, tooMuch); found && cost < tooMuch {
		c.free.Take(box, worthClose)
		box = plane.Rect{Min: box.Min.Add(by), Max: box.Max.Add(by)}
		drafting.Knockout(c.book, box)
		c.book.Note(n, box, drafting.Ink)
	}
}
