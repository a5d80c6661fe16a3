package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/export/figure"
	"wallshoal/wall"
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

// The letters of the codes on pieces, mm: as large as fits, within these.
const (
	codeMost  = draw.Letter25
	codeLeast = least
	codeApart = 2.5 // how long pieces are on paper, on average, for codes to be of use
)

// codes writes the code of its kind on or beside every piece for which there is room: close by first, and
// then on a line from where there is some.
func (p *picture) codes() {
	if p.tiny || p.pieceSize < codeApart || p.calm && p.pieceSize < 4*codeLeast {
		return
	}
	size := math.Min(codeMost, math.Max(codeLeast, p.pieceSize*0.25))
	var left []hung
	for _, h := range p.pieces {
		if !p.code(h, size) {
			left = append(left, h)
		}
	}
	for _, h := range left {
		p.codeAside(h, size)
	}
}

// codeAside writes the code of a piece where there is free room about it, tied to it by a line.
func (p *picture) codeAside(h hung, size float64) {
	const rounds = 4
	at, half := p.mapping.at(h.At), h.kind.Outline.Bounds().Height()/2*p.k
	width := wide(h.kind.Code, size, true)
	box, cost, found := p.spots.best(around(at, width, size, half+size, rounds))
	if !found || cost > mostCovered*width*size/4 {
		return
	}
	p.spots.take(box, worthText)
	end := nearest(box, at)
	for _, b := range boxesAlong(at, end) {
		p.spots.take(b.Grow(0.1), 1)
	}
	p.Line(at, end, shade(draw.Stroke{Width: draw.Width013 / 2}, quiet))
	p.say(box.Min.X, box.Max.Y, size, h.kind.Code, 0, style{bold: true, colour: quiet})
}

// code writes the code of a piece on it or close beside it, and reports whether there was room.
func (p *picture) code(h hung, size float64) bool {
	width := wide(h.kind.Code, size, true)
	at := p.mapping.at(h.At)
	across := h.kind.Outline.Bounds().Height() * p.k
	if across > 1.7*math.Hypot(size, width) {
		colour := ink
		if draw.Colour(h.kind.Colour).Dark() {
			colour = draw.White
		}
		p.say(at.X, at.Y+size/2, size, h.kind.Code, 0, style{align: draw.Centre, bold: true, colour: colour})
		return true
	}
	half := h.kind.Outline.Bounds().Height() / 2 * p.k
	ahead := p.way(h.Heading)
	side := plane.Point{X: -ahead.Y, Y: ahead.X}
	var candidates []plane.Rect
	for _, way := range []float64{1, -1} {
		for _, along := range []float64{0, -0.3, 0.3} {
			shift := ahead.Scale(along * lengthAlong(h.kind.Outline) * p.k)
			reach := half + 0.35 + 0.5*math.Hypot(size, width)*0.8
			candidates = append(candidates, sized(at.Add(side.Scale(way*reach)).Add(shift), width, size))
		}
	}
	box, cost, found := p.spots.best(candidates)
	if !found || cost > mostCovered*width*size {
		return false
	}
	p.spots.take(box, worthText)
	p.say(box.Min.X, box.Max.Y, size, h.kind.Code, 0, style{bold: true, colour: quiet})
	return true
}

// names writes what stands on the face: in it where there is room, else beside it.
func (p *picture) names() {
	for n, i := range p.order {
		var nearer []wall.Obstruction
		for _, j := range p.order[n+1:] {
			nearer = append(nearer, p.things[j])
		}
		o := p.things[i]
		if p.keys[i] != "" {
			o.Name = p.keys[i] + " " + o.Name
		}
		switch named := p.obstructionName(o, nearer); {
		case named:
		case p.keys[i] != "":
			p.key(o, p.keys[i], nearer)
		case p.calm:
			p.numbered(o)
		}
	}
	if p.wall.Ceiling {
		p.wallsRound()
	}
	p.builtWords()
	if y, shown := p.datumShown(); shown {
		at := p.mapping.at(plane.Point{X: p.bounds.Max.X, Y: y})
		p.say(at.X+1, at.Y-0.8, least, "datum", 0, style{colour: quiet})
	}
}

// datumShown returns the height of the datum on the face and whether the picture has it.
func (p *picture) datumShown() (y float64, shown bool) {
	y, upright := p.datum()
	return y, upright && !p.calm && y >= p.bounds.Min.Y && y <= p.bounds.Max.Y
}

// obstructionName writes the name of one thing on the face, clear of what lies nearer, and reports
// whether it found a place.
func (p *picture) obstructionName(o wall.Obstruction, nearer []wall.Obstruction) bool {
	area := p.mapping.box(o.Shape.Bounds())
	for _, n := range notesFor(o.Name, draw.Letter25, area.Width(), area.Height(), area.Width(), 2) {
		if p.nameWithin(n, area, o, nearer) {
			return true
		}
	}
	return !p.calm && p.nameBeside(o)
}

// numbered gives a thing that is too small for its name a number, where that covers least, and notes
// the name.
func (p *picture) numbered(o wall.Obstruction) {
	number := fmt.Sprint(len(p.few) + 1)
	width, height := wide(number, least, true)+0.8, least+0.8
	places := slices.DeleteFunc(scatterIn(p.mapping.box(o.Shape.Bounds()), width, height), func(c plane.Rect) bool {
		return !cornersWithin(c, func(q plane.Point) bool { return o.Shape.Contains(p.back(q)) })
	})
	box, _, found := p.spots.best(append(places, p.placesBeside(o, width, height)...))
	if !found {
		return
	}
	p.few = append(p.few, o.Name)
	p.spots.take(box, worthText)
	knockout(p, box)
	p.say(box.Centre().X, box.Max.Y-0.4, least, number, 0, style{align: draw.Centre, bold: true})
}

// key writes the key of the drawing of a thing's sides on the thing, off what lies nearer, where it
// covers least.
func (p *picture) key(o wall.Obstruction, key string, nearer []wall.Obstruction) {
	width, height := wide(key, draw.Letter25, true)+1.2, draw.Letter25+1.2
	area := p.mapping.box(o.Shape.Bounds())
	var candidates []plane.Rect
	const steps = 12
	for i := range steps * steps {
		candidates = append(candidates, sized(plane.Point{
			X: area.Min.X + area.Width()*(float64(i%steps)+0.5)/steps,
			Y: area.Min.Y + area.Height()*(float64(i/steps)+0.5)/steps,
		}, width, height))
	}
	candidates = slices.DeleteFunc(candidates, func(c plane.Rect) bool { return p.liesOn(c, nearer) })
	inside := slices.DeleteFunc(slices.Clone(candidates), func(c plane.Rect) bool {
		return !cornersWithin(c.Grow(0.3), func(q plane.Point) bool { return o.Shape.Contains(p.back(q)) })
	})
	box, _, found := p.spots.best(inside)
	if !found {
		box, _, found = p.spots.best(candidates)
	}
	if !found {
		return
	}
	p.spots.take(box, worthText)
	knockout(p, box)
	p.say(box.Centre().X, box.Max.Y-0.6, draw.Letter25, key, 0, style{align: draw.Centre, bold: true})
}

// liesOn reports whether a box on the page lies on any of the things.
func (p *picture) liesOn(box plane.Rect, things []wall.Obstruction) bool {
	return slices.ContainsFunc(things, func(o wall.Obstruction) bool {
		return box.Overlaps(p.mapping.box(o.Shape.Bounds()).Grow(0.3))
	})
}

// nameWithin writes a name into an obstruction, off what covers part of it, and reports whether
// there was a clear place.
func (p *picture) nameWithin(n note, area plane.Rect, o wall.Obstruction, nearer []wall.Obstruction) bool {
	width, height := n.size()
	inside := func(q plane.Point) bool { return o.Shape.Contains(p.back(q)) }
	candidates := slices.DeleteFunc(scatterIn(area.Grow(-0.3), width, height), func(c plane.Rect) bool {
		return !cornersWithin(c, inside) || p.liesOn(c, nearer)
	})
	box, cost, found := p.spots.best(candidates)
	if !found || cost > 0 {
		return false
	}
	p.spots.take(box, worthText)
	p.note(n, box, quiet)
	return true
}

// nameBeside writes a name next to what it names, where it covers least, on clean paper. It keeps
// off everything else that stands on the face and off the edge of the face. It reports whether
// there was a place.
func (p *picture) nameBeside(o wall.Obstruction) bool {
	onFace := func(q plane.Point) bool { return p.outline.Contains(p.back(q)) }
	inOne := note{lines: []string{o.Name}, height: least}
	inTwo := note{lines: draw.Text{Say: o.Name, Height: least}.Wrap(inOne.long() * 0.7), height: least}
	for _, n := range []note{inOne, inTwo} {
		width, height := n.size()
		candidates := slices.DeleteFunc(p.placesBeside(o, width, height), func(c plane.Rect) bool {
			return !cornersWithin(c, onFace) || p.crossesAnEdge(c, o)
		})
		box, cost, found := p.spots.best(candidates)
		if found && cost <= mostCovered*width*height && !broken(o.Name, n.lines) {
			p.spots.take(box, worthText)
			knockout(p, box)
			p.note(n, box, quiet)
			return true
		}
	}
	return false
}

// placesBeside returns places for a name near a thing: about its box, or along its sides where it
// does not fill its box.
func (p *picture) placesBeside(o wall.Obstruction, width, height float64) []plane.Rect {
	area := p.mapping.box(o.Shape.Bounds())
	c := area.Centre()
	var out []plane.Rect
	if o.Shape.Area() > 0.6*o.Shape.Bounds().Width()*o.Shape.Bounds().Height() {
		for _, gap := range []float64{0.6, 2, 4, 7} {
			dx, dy := area.Width()/2+width/2+gap, area.Height()/2+height/2+gap
			for _, d := range []plane.Point{{X: dx}, {X: -dx}, {Y: -dy}, {Y: dy}, {X: dx, Y: -dy}, {X: -dx, Y: -dy}, {X: dx, Y: dy}, {X: -dx, Y: dy}} {
				out = append(out, sized(c.Add(d), width, height))
			}
		}
		return out
	}
	for i, a := range o.Shape {
		b := o.Shape[(i+1)%len(o.Shape)]
		for _, t := range []float64{0.5, 0.25, 0.75} {
			out = append(out, around(p.mapping.at(a.Lerp(b, t)), width, height, 1, 4)...)
		}
	}
	return out
}

// crossesAnEdge reports whether a box would lie on anything on the face, other than wholly on what
// o lies on too.
func (p *picture) crossesAnEdge(box plane.Rect, o wall.Obstruction) bool {
	face := plane.Rectangle(p.back(plane.Point{X: box.Min.X, Y: box.Max.Y}), box.Width()/p.k, box.Height()/p.k)
	for _, other := range p.things {
		near := plane.Closer(other.Shape, face, 0.3/p.k)
		under := plane.RegionOf(other.Shape)
		wholly := other.Name != o.Name && under.Holds(o.Shape) && under.Holds(face)
		if near && !wholly {
			return true
		}
	}
	return false
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
