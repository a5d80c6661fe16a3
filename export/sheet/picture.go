package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/export/figure"
	"wallshoal/wall/plane"
)

// A picture is one face drawn to scale, with its dimensions and a standing figure.
type picture struct {
	pen
	view
	mapping
	calm       bool // without running dimensions, datum and holes, at any round scale
	tiny       bool // so small that pieces are no more than strokes
	withPerson bool
	spots      *spots
	pieceSize  float64 // how long a piece is on paper, on average

	fronts []*picture     // of things on the wall, drawn where they are seen from before it
	keys   map[int]string // of the drawings of the other sides, by obstruction
	order  []int          // of the things on the face, from the face outwards
	few    []string       // names of things too small to bear them, which bear their number here, from 1
}

// The room that a picture keeps round the face, mm.
const (
	overallRoom = 9.0  // for an overall dimension
	personGap   = 10.0 // between the face and the figure, for the word at the end of the datum
	personRoom  = 3.5  // half of what the note above the figure's head needs
	personNote  = 4.0  // above the figure's head
	pictureTop  = 3.0
	pictureSide = 2.0
)

// size returns the width and height that the picture takes on paper at a scale of 1:ratio, mm.
func (p *picture) size(ratio float64) plane.Point {
	width, height := p.bounds.Width()/ratio, p.bounds.Height()/ratio
	right := pictureSide
	if p.withPerson {
		right = personGap + 2*personRoom + figure.Width/ratio
		height = math.Max(height, figure.Height/ratio+personNote)
	}
	return plane.Point{X: p.roomLeft() + width + right, Y: pictureTop + height + p.roomBelow()}
}

// place puts the picture at a scale of 1:ratio with its top-left corner at the given point.
func (p *picture) place(corner plane.Point, ratio float64) {
	p.k = 1 / ratio
	p.origin = plane.Point{
		X: corner.X + p.roomLeft() - p.bounds.Min.X*p.k,
		Y: corner.Y + p.size(ratio).Y - p.roomBelow() + p.bounds.Min.Y*p.k,
	}
	p.settle(newSpots(p.mapping.box(p.bounds).Grow(-0.5)))
	for _, f := range p.fronts {
		at, _ := p.face.Frame.Local(f.face.Frame.Origin)
		f.mapping = mapping{origin: p.mapping.at(at), k: p.k}
		f.settle(p.spots)
	}
}

// settle makes ready what hangs on where the picture lies.
func (p *picture) settle(s *spots) {
	p.pieceSize = p.averageLength() * p.k
	p.spots = s
	p.order = p.outwards()
}

// roomLeft returns what the heights to the left of the face need.
func (p *picture) roomLeft() float64 {
	if p.calm {
		return overallRoom
	}
	widest := 0.0
	for _, y := range p.heights() {
		widest = math.Max(widest, wide(p.figure(y-p.bounds.Min.Y), dimensionHeight, false))
	}
	return extensionGap + runningStub + runningBend + 2 + widest + overallRoom
}

// roomBelow returns what the distances below the face need.
func (p *picture) roomBelow() float64 {
	if p.calm {
		return overallRoom
	}
	longest := 0.0
	for _, x := range p.lengths() {
		longest = math.Max(longest, wide(p.figure(x-p.bounds.Min.X), dimensionHeight, false))
	}
	return extensionGap + runningStub + runningBend + 2 + longest + overallRoom
}

// lengths returns the places along the face, from its left end, that the picture gives: the edges
// of what stands on it.
func (p *picture) lengths() []float64 {
	if p.calm {
		return nil
	}
	var out []float64
	for _, o := range p.things {
		b := o.Shape.Bounds()
		out = append(out, edges(b, b.Min.X, b.Max.X)...)
	}
	for _, c := range p.turns() {
		out = append(out, c.X)
	}
	return slices.DeleteFunc(out, func(x float64) bool { return x <= p.bounds.Min.X+0.5 || x >= p.bounds.Max.X-0.5 })
}

// turns returns the corners of the outline of the face. An outline of very many is a curve, which
// corners do not set out.
func (p *picture) turns() []plane.Point {
	const most = 24
	var out []plane.Point
	for _, r := range p.view.rings {
		out = append(out, r...)
	}
	if len(out) > most {
		return nil
	}
	return out
}

// edges returns what places a thing along one axis: both its edges, or its middle alone where it
// is as small as a switch, which is set out by its centre.
func edges(b plane.Rect, low, high float64) []float64 {
	const small = 200
	if b.Width() <= small && b.Height() <= small {
		return []float64{(low + high) / 2}
	}
	return []float64{low, high}
}

// heights returns the heights on the face that the picture gives: its corners, the edges of what
// stands on it, and the datum.
func (p *picture) heights() []float64 {
	if p.calm {
		return nil
	}
	var out []float64
	for _, o := range p.things {
		b := o.Shape.Bounds()
		out = append(out, edges(b, b.Min.Y, b.Max.Y)...)
	}
	for _, c := range p.turns() {
		out = append(out, c.Y)
	}
	if y, upright := p.datum(); upright {
		out = append(out, y)
	}
	return slices.DeleteFunc(out, func(y float64) bool { return y <= p.bounds.Min.Y+0.5 || y >= p.bounds.Max.Y-0.5 })
}

// How bad it is to cover text, and how much, for each mm² of its own, a text may cover: pieces and
// the datum, never text.
const (
	worthText   = 1e6
	mostCovered = 4.0
)

// draw draws the picture.
func (p *picture) draw() {
	p.Group("wall " + p.name())
	p.floor()
	p.Polygon(p.mapping.rings(p.view.rings), draw.Paint{Fill: draw.Solid(draw.White), Stroke: bold})
	if p.covered() {
		p.Polygon(p.mapping.rings(p.view.rings), draw.Paint{Fill: draw.Solid(draw.Grey(242))})
		p.Polygon(p.mapping.rings(ringsOf(p.face.Outline)), draw.Paint{Fill: draw.Solid(draw.White), Stroke: thin})
		p.Polygon(p.mapping.rings(p.view.rings), draw.Paint{Stroke: bold})
	}
	p.built()
	p.standing()
	p.datumLine()
	p.hang()
	for _, f := range p.fronts {
		p.Group("face " + f.face.Name)
		f.hang()
		p.End()
	}
	p.names()
	p.codes()
	for _, f := range p.fronts {
		p.Group("face " + f.face.Name)
		f.codes()
		p.End()
	}
	p.End()
	p.Group("dimensions")
	p.dimensions()
	p.End()
}

// floor draws the floor under a wall and the figure on it.
func (p *picture) floor() {
	b := p.mapping.box(p.bounds)
	right := b.Max.X + 3
	if p.withPerson {
		half := figure.Width / 2 * p.k
		feet := plane.Point{X: b.Max.X + personGap + math.Max(half, personRoom), Y: b.Max.Y}
		p.Group("standing figure")
		p.person(feet, p.k)
		p.say(feet.X, feet.Y-figure.Height*p.k-1.2, least, p.personWords(), 0, style{align: draw.Centre, colour: quiet})
		p.End()
		right = feet.X + half + 3
	}
	if p.isWall() && !p.wall.Ceiling {
		edge := draw.Stroke{Width: draw.Width070}
		if len(p.wall.Floor) > 0 {
			p.floorLine(b.Min.X-3, right, edge)
			return
		}
		p.line(b.Min.X-3, b.Max.Y, right, b.Max.Y, edge)
	}
}

// personWords gives the height of the standing figure as the plan's readers say it.
func (p *picture) personWords() string {
	if p.work.Units.Imperial() {
		return p.length(math.Round(figure.Height/inch) * inch)
	}
	return "1.7 m"
}

// outwards returns the things on the face from the face outwards, and of those that stand out as
// far the largest first, so that none hides what is nearer to whoever looks at it.
func (p *picture) outwards() []int {
	out := make([]float64, len(p.things))
	order := make([]int, len(p.things))
	for i, o := range p.things {
		order[i] = i
		for _, under := range p.things {
			if under.Depth > out[i] && plane.RegionOf(under.Shape).Holds(o.Shape) {
				out[i] = under.Depth
			}
		}
		out[i] = math.Max(out[i], o.Depth)
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(out[i], out[j]), cmp.Compare(p.things[j].Shape.Area(), p.things[i].Shape.Area()))
	})
	return order
}

// standing draws what stands on the face: darker where one thing stands on another, and white where
// its front carries pieces.
func (p *picture) standing() {
	for n, i := range p.order {
		o := p.things[i]
		depth := 0
		for _, under := range p.order[:n] {
			if p.things[under].Shape.Bounds().Contains(o.Shape.Bounds().Centre()) {
				depth++
			}
		}
		level := draw.Grey(uint8(242 - 12*min(depth, 4)))
		if slices.ContainsFunc(p.fronts, func(f *picture) bool { return f.face.Obstruction == i }) {
			level = draw.White
		}
		p.Group(o.Name)
		p.Polygon([]plane.Ring{p.ring(o.Shape)}, draw.Paint{Fill: draw.Solid(level), Stroke: medium})
		p.End()
	}
}

func (p *picture) datumLine() {
	y, shown := p.datumShown()
	if !shown {
		return
	}
	b := p.mapping.box(p.bounds)
	at := p.mapping.at(plane.Point{Y: y}).Y
	past := 0.0
	if p.isWall() {
		past = 2.5 // to the word
	}
	p.Group("datum")
	p.line(b.Min.X, at, b.Max.X+past, at, draw.Stroke{Width: draw.Width018, Colour: quiet, Dash: draw.DashDot})
	p.End()
	p.spots.take(plane.Rect{Min: plane.Point{X: b.Min.X, Y: at - 0.3}, Max: plane.Point{X: b.Max.X, Y: at + 0.3}}, 0.5)
}

// hang draws the pieces as they are, in the colour of their kind.
func (p *picture) hang() {
	for _, h := range p.pieces {
		ring := p.ring(h.ring)
		if p.tiny {
			ring = coarser(ring)
		}
		p.Group(fmt.Sprintf("piece %d, kind %s", h.ID, h.kind.Code))
		p.Polygon([]plane.Ring{ring}, draw.Paint{
			Fill:   draw.Solid(draw.Colour(h.kind.Colour)),
			Stroke: draw.Stroke{Width: p.outlineWidth()},
		})
		if !p.tiny {
			p.heading(h)
		}
		p.End()
		p.spots.take(ring.Bounds(), 1)
	}
	if p.calm {
		return
	}
	for _, h := range p.holes {
		p.Group(fmt.Sprintf("hole %d", h.Number))
		p.Circle(p.mapping.at(h.At), p.holeRadius(h.Bit), draw.Paint{Fill: draw.Solid(ink)})
		p.End()
	}
}

// holeRadius keeps holes visible without hiding what hangs on them.
func (p *picture) holeRadius(bit float64) float64 { return math.Max(0.12, bit/2*p.k) }

// outlineWidth returns the width of the line round a piece: the finest of the standard, finer yet
// where pieces are so small on paper that it would fill them.
func (p *picture) outlineWidth() float64 {
	switch {
	case p.tiny:
		return draw.Width013 / 4
	case p.pieceSize < 3:
		return draw.Width013 / 2
	}
	return draw.Width013
}

// averageLength returns how long the pieces on the face are, on average; a large figure where
// there is none.
func (p *picture) averageLength() float64 {
	if len(p.pieces) == 0 {
		return 1000
	}
	sum := 0.0
	for _, t := range p.tallies() {
		sum += lengthAlong(t.kind.Outline) * float64(t.pieces)
	}
	return sum / float64(len(p.pieces))
}

// heading draws a tick from the middle of a piece out past the end that leads.
func (p *picture) heading(h hung) {
	reach := h.kind.Outline.Bounds().Max.X * p.k
	past := math.Min(1.2, math.Max(0.5, reach*0.4))
	way := p.way(h.Heading)
	at := p.mapping.at(h.At)
	tip := at.Add(way.Scale(reach + past))
	p.Line(at.Add(way.Scale(reach)), tip, draw.Stroke{Width: draw.Width013})
	p.arrow(tip, way, past*0.75, ink)
}

// dimensions gives the size of the face and the places of what stands on it.
func (p *picture) dimensions() {
	b := p.mapping.box(p.bounds)
	below := readingsOf(p.lengths(), func(x float64) float64 { return p.mapping.at(plane.Point{X: x}).X },
		func(x float64) string { return p.figure(x - p.bounds.Min.X) })
	left := readingsOf(p.heights(), func(y float64) float64 { return p.mapping.at(plane.Point{Y: y}).Y },
		func(y float64) string { return p.figure(y - p.bounds.Min.Y) })
	end := p.runningBelow(below, b.Max.Y, b.Min.X, b.Max.X)
	p.across(b.Min.X, b.Max.X, end+overallRoom-2.5, b.Max.Y, p.figure(p.bounds.Width()))
	side := p.runningLeft(left, b.Min.X, b.Min.Y, b.Max.Y)
	p.upright(b.Max.Y, b.Min.Y, side-overallRoom+4.5, b.Min.X, p.figure(p.bounds.Height()))
}
