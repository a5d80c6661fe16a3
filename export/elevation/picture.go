package elevation

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/figure"
	"wallshoal/wall/plane"
)

// A Picture is one face drawn to scale, with its dimensions and a standing figure.
type Picture struct {
	drafting.Pen
	View
	drafting.Mapping
	calm       bool // without running dimensions, datum and holes, at any round scale
	tiny       bool // so small that pieces are no more than strokes
	withPerson bool
	Spots      *drafting.Spots
	PieceSize  float64 // how long a piece is on paper, on average

	Fronts []*Picture     // of things on the wall, drawn where they are seen from before it
	keys   map[int]string // of the drawings of the other sides, by obstruction
	Order  []int          // of the things on the face, from the face outwards
	Few    []string       // names of things too small to bear them, which bear their number here, from 1
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

// Size returns the width and height that the picture takes on paper at a scale of 1:ratio, mm.
func (p *Picture) Size(ratio float64) plane.Point {
	width, height := p.Bounds.Width()/ratio, p.Bounds.Height()/ratio
	right := pictureSide
	if p.withPerson {
		right = personGap + 2*personRoom + figure.Width/ratio
		height = math.Max(height, figure.Height/ratio+personNote)
	}
	return plane.Point{X: p.roomLeft() + width + right, Y: pictureTop + height + p.roomBelow()}
}

// Place puts the picture at a scale of 1:ratio with its top-left corner at the given point.
func (p *Picture) Place(corner plane.Point, ratio float64) {
	p.K = 1 / ratio
	p.Origin = plane.Point{
		X: corner.X + p.roomLeft() - p.Bounds.Min.X*p.K,
		Y: corner.Y + p.Size(ratio).Y - p.roomBelow() + p.Bounds.Min.Y*p.K,
	}
	p.Settle(drafting.NewSpots(p.Mapping.Box(p.Bounds).Grow(-0.5)))
	for _, f := range p.Fronts {
		at, _ := p.Face.Frame.Local(f.Face.Frame.Origin)
		f.Mapping = drafting.Mapping{Origin: p.Mapping.At(at), K: p.K}
		f.Settle(p.Spots)
	}
}

// Settle makes ready what hangs on where the picture lies.
func (p *Picture) Settle(s *drafting.Spots) {
	p.PieceSize = p.averageLength() * p.K
	p.Spots = s
	p.Order = p.outwards()
}

// roomLeft returns what the heights to the left of the face need.
func (p *Picture) roomLeft() float64 {
	if p.calm {
		return overallRoom
	}
	widest := 0.0
	for _, y := range p.heights() {
		widest = math.Max(widest, drafting.TextWidth(p.figure(y-p.Bounds.Min.Y), drafting.DimensionHeight, false))
	}
	return drafting.ExtensionGap + drafting.RunningStub + drafting.RunningBend + 2 + widest + overallRoom
}

// roomBelow returns what the distances below the face need.
func (p *Picture) roomBelow() float64 {
	if p.calm {
		return overallRoom
	}
	longest := 0.0
	for _, x := range p.lengths() {
		longest = math.Max(longest, drafting.TextWidth(p.figure(x-p.Bounds.Min.X), drafting.DimensionHeight, false))
	}
	return drafting.ExtensionGap + drafting.RunningStub + drafting.RunningBend + 2 + longest + overallRoom
}

// lengths returns the places along the face, from its left end, that the picture gives: the edges
// of what stands on it.
func (p *Picture) lengths() []float64 {
	if p.calm {
		return nil
	}
	var out []float64
	for _, o := range p.Things {
		b := o.Shape.Bounds()
		out = append(out, Edges(b, b.Min.X, b.Max.X)...)
	}
	for _, c := range p.Turns() {
		out = append(out, c.X)
	}
	return slices.DeleteFunc(out, func(x float64) bool { return x <= p.Bounds.Min.X+0.5 || x >= p.Bounds.Max.X-0.5 })
}

// Turns returns the corners of the outline of the face. An outline of very many is a curve, which
// corners do not set out.
func (p *Picture) Turns() []plane.Point {
	const most = 24
	var out []plane.Point
	for _, r := range p.View.Rings {
		out = append(out, r...)
	}
	if len(out) > most {
		return nil
	}
	return out
}

// Edges returns what places a thing along one axis: both its edges, or its middle alone where it
// is as small as a switch, which is set out by its centre.
func Edges(b plane.Rect, low, high float64) []float64 {
	const small = 200
	if b.Width() <= small && b.Height() <= small {
		return []float64{(low + high) / 2}
	}
	return []float64{low, high}
}

// heights returns the heights on the face that the picture gives: its corners, the edges of what
// stands on it, and the datum.
func (p *Picture) heights() []float64 {
	if p.calm {
		return nil
	}
	var out []float64
	for _, o := range p.Things {
		b := o.Shape.Bounds()
		out = append(out, Edges(b, b.Min.Y, b.Max.Y)...)
	}
	for _, c := range p.Turns() {
		out = append(out, c.Y)
	}
	if y, upright := p.Datum(); upright {
		out = append(out, y)
	}
	return slices.DeleteFunc(out, func(y float64) bool { return y <= p.Bounds.Min.Y+0.5 || y >= p.Bounds.Max.Y-0.5 })
}

// How bad it is to cover text, and how much, for each mm² of its own, a text may cover: pieces and
// the datum, never text.
const (
	WorthText   = 1e6
	mostCovered = 4.0
)

// draw draws the picture.
func (p *Picture) draw() {
	p.Group("wall " + p.Name())
	p.Floor()
	p.Polygon(p.Mapping.Rings(p.View.Rings), draw.Paint{Fill: draw.Solid(draw.White), Stroke: drafting.Bold})
	if p.Covered() {
		p.Polygon(p.Mapping.Rings(p.View.Rings), draw.Paint{Fill: draw.Solid(draw.Grey(242))})
		p.Polygon(p.Mapping.Rings(p.Face.Outline.Rings()), draw.Paint{Fill: draw.Solid(draw.White), Stroke: drafting.Thin})
		p.Polygon(p.Mapping.Rings(p.View.Rings), draw.Paint{Stroke: drafting.Bold})
	}
	p.built()
	p.Standing()
	p.datumLine()
	p.hang()
	for _, f := range p.Fronts {
		p.Group("face " + f.Face.Name)
		f.hang()
		p.End()
	}
	p.names()
	p.codes()
	for _, f := range p.Fronts {
		p.Group("face " + f.Face.Name)
		f.codes()
		p.End()
	}
	p.End()
	p.Group("dimensions")
	p.dimensions()
	p.End()
}

// Floor draws the floor under a wall and the figure on it.
func (p *Picture) Floor() {
	b := p.Mapping.Box(p.Bounds)
	right := b.Max.X + 3
	if p.withPerson {
		half := figure.Width / 2 * p.K
		feet := plane.Point{X: b.Max.X + personGap + math.Max(half, personRoom), Y: b.Max.Y}
		p.Group("standing figure")
		p.Person(feet, p.K)
		p.Say(feet.X, feet.Y-figure.Height*p.K-1.2, drafting.Least, p.personWords(), 0, drafting.Style{Align: draw.Centre, Colour: drafting.Quiet})
		p.End()
		right = feet.X + half + 3
	}
	if p.IsWall() && !p.Wall.Ceiling {
		edge := draw.Stroke{Width: draw.Width070}
		if len(p.Wall.Floor) > 0 {
			p.floorLine(b.Min.X-3, right, edge)
			return
		}
		p.Segment(b.Min.X-3, b.Max.Y, right, b.Max.Y, edge)
	}
}

// personWords gives the height of the standing figure as the plan's readers say it.
func (p *Picture) personWords() string {
	if p.Work.Units.Imperial() {
		return p.Length(math.Round(figure.Height/drafting.Inch) * drafting.Inch)
	}
	return "1.7 m"
}

// outwards returns the things on the face from the face outwards, and of those that stand out as
// far the largest first, so that none hides what is nearer to whoever looks at it.
func (p *Picture) outwards() []int {
	out := make([]float64, len(p.Things))
	order := make([]int, len(p.Things))
	for i, o := range p.Things {
		order[i] = i
		for _, under := range p.Things {
			if under.Depth > out[i] && plane.RegionOf(under.Shape).Holds(o.Shape) {
				out[i] = under.Depth
			}
		}
		out[i] = math.Max(out[i], o.Depth)
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(out[i], out[j]), cmp.Compare(p.Things[j].Shape.Area(), p.Things[i].Shape.Area()))
	})
	return order
}

// Standing draws what stands on the face: darker where one thing stands on another, and white where
// its front carries pieces.
func (p *Picture) Standing() {
	for n, i := range p.Order {
		o := p.Things[i]
		depth := 0
		for _, under := range p.Order[:n] {
			if p.Things[under].Shape.Bounds().Contains(o.Shape.Bounds().Centre()) {
				depth++
			}
		}
		level := draw.Grey(uint8(242 - 12*min(depth, 4)))
		if slices.ContainsFunc(p.Fronts, func(f *Picture) bool { return f.Face.Obstruction == i }) {
			level = draw.White
		}
		p.Group(o.Name)
		p.Polygon([]plane.Ring{p.Ring(o.Shape)}, draw.Paint{Fill: draw.Solid(level), Stroke: drafting.Medium})
		p.End()
	}
}

func (p *Picture) datumLine() {
	y, shown := p.datumShown()
	if !shown {
		return
	}
	b := p.Mapping.Box(p.Bounds)
	at := p.Mapping.At(plane.Point{Y: y}).Y
	past := 0.0
	if p.IsWall() {
		past = 2.5 // to the word
	}
	p.Group("datum")
	p.Segment(b.Min.X, at, b.Max.X+past, at, draw.Stroke{Width: draw.Width018, Colour: drafting.Quiet, Dash: draw.DashDot})
	p.End()
	p.Spots.Take(plane.Rect{Min: plane.Point{X: b.Min.X, Y: at - 0.3}, Max: plane.Point{X: b.Max.X, Y: at + 0.3}}, 0.5)
}

// hang draws the pieces as they are, in the colour of their kind.
func (p *Picture) hang() {
	for _, h := range p.Pieces {
		ring := p.Ring(h.Ring)
		if p.tiny {
			ring = coarser(ring)
		}
		p.Group(fmt.Sprintf("piece %d, kind %s", h.ID, h.Kind.Code))
		p.Polygon([]plane.Ring{ring}, draw.Paint{
			Fill:   draw.Solid(draw.Colour(h.Kind.Colour)),
			Stroke: draw.Stroke{Width: p.outlineWidth()},
		})
		if !p.tiny {
			p.heading(h)
		}
		p.End()
		p.Spots.Take(ring.Bounds(), 1)
	}
	if p.calm {
		return
	}
	for _, h := range p.Holes {
		p.Group(fmt.Sprintf("hole %d", h.Number))
		p.Circle(p.Mapping.At(h.At), p.holeRadius(h.Bit), draw.Paint{Fill: draw.Solid(drafting.Ink)})
		p.End()
	}
}

// holeRadius keeps holes visible without hiding what hangs on them.
func (p *Picture) holeRadius(bit float64) float64 { return math.Max(0.12, bit/2*p.K) }

// outlineWidth returns the width of the line round a piece: the finest of the standard, finer yet
// where pieces are so small on paper that it would fill them.
func (p *Picture) outlineWidth() float64 {
	switch {
	case p.tiny:
		return draw.Width013 / 4
	case p.PieceSize < 3:
		return draw.Width013 / 2
	}
	return draw.Width013
}

// averageLength returns how long the pieces on the face are, on average; a large figure where
// there is none.
func (p *Picture) averageLength() float64 {
	if len(p.Pieces) == 0 {
		return 1000
	}
	sum := 0.0
	for _, t := range p.Tallies() {
		sum += LengthAlong(t.Kind.Outline) * float64(t.Pieces)
	}
	return sum / float64(len(p.Pieces))
}

// heading draws a tick from the middle of a piece out past the end that leads.
func (p *Picture) heading(h Hung) {
	reach := h.Kind.Outline.Bounds().Max.X * p.K
	past := math.Min(1.2, math.Max(0.5, reach*0.4))
	way := p.Way(h.Heading)
	at := p.Mapping.At(h.At)
	tip := at.Add(way.Scale(reach + past))
	p.Line(at.Add(way.Scale(reach)), tip, draw.Stroke{Width: draw.Width013})
	p.Arrow(tip, way, past*0.75, drafting.Ink)
}

// dimensions gives the size of the face and the places of what stands on it.
func (p *Picture) dimensions() {
	b := p.Mapping.Box(p.Bounds)
	below := drafting.ReadingsOf(p.lengths(), func(x float64) float64 { return p.Mapping.At(plane.Point{X: x}).X },
		func(x float64) string { return p.figure(x - p.Bounds.Min.X) })
	left := drafting.ReadingsOf(p.heights(), func(y float64) float64 { return p.Mapping.At(plane.Point{Y: y}).Y },
		func(y float64) string { return p.figure(y - p.Bounds.Min.Y) })
	end := p.RunningBelow(below, b.Max.Y, b.Min.X, b.Max.X)
	p.DimensionAcross(b.Min.X, b.Max.X, end+overallRoom-2.5, b.Max.Y, p.figure(p.Bounds.Width()))
	side := p.RunningLeft(left, b.Min.X, b.Min.Y, b.Max.Y)
	p.DimensionUpright(b.Max.Y, b.Min.Y, side-overallRoom+4.5, b.Min.X, p.figure(p.Bounds.Height()))
}

// coarser returns a ring on the page without the corners that no eye tells from those before them.
func coarser(ring plane.Ring) plane.Ring {
	const told = 0.15 // mm
	out := plane.Ring{ring[0]}
	for _, q := range ring[1:] {
		if q.Distance(out[len(out)-1]) >= told {
			out = append(out, q)
		}
	}
	if len(out) < 3 {
		return ring
	}
	return out
}
