package screen

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/sheet"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// How little of a piece's length the outlines on a screen may be off, and those of their shades.
const (
	screenSlack = 1.0 / 130
	shadeSlack  = 1.0 / 30
)

// The shade that a piece throws: how far down and to the right for each millimetre that it stands out, and
// how far at least and at most, mm of the wall.
const (
	shadeStep  = 0.5
	shadeLeast = 3.0
	shadeMost  = 25.0
)

// asItWillLook draws the face with coloured pieces.
func (s *screen) asItWillLook() {
	s.Group("wall " + s.Name())
	s.bare(func() {})
	for _, p := range s.all() {
		shades(p)
	}
	for _, p := range s.all() {
		coloured(p)
	}
	s.thingNames()
	s.End()
}

// all returns the picture of the face and those of the fronts that are seen before it.
func (s *screen) all() []*elevation.Picture {
	return append([]*elevation.Picture{s.Picture}, s.Fronts...)
}

// byKind calls f with every piece, kind after kind, with its outline as far as the slack allows on the page.
func byKind(p *elevation.Picture, slack float64, f func(h elevation.Hung, outline plane.Ring)) {
	for i, k := range p.Work.Kinds {
		outline := k.Outline.Simplify(slack * elevation.LengthAlong(k.Outline))
		for _, h := range p.Pieces {
			if h.Piece.Kind == i {
				f(h, p.Ring(outline.Place(h.At, h.Heading.Angle())))
			}
		}
	}
}

// shades draws the soft shade of every piece.
func shades(p *elevation.Picture) {
	p.Group("shades")
	byKind(p, shadeSlack, func(h elevation.Hung, outline plane.Ring) {
		by := math.Min(shadeMost, math.Max(shadeLeast, shadeStep*h.Kind.StandOff)) * p.K
		p.Polygon([]plane.Ring{outline.Map(plane.Point{X: by, Y: by}.Add)}, draw.Paint{Fill: draw.Solid(draw.Grey(216))})
	})
	p.End()
}

// coloured draws every piece in the colour of its kind, with an edge that is told on a grey screen too.
func coloured(p *elevation.Picture) {
	byKind(p, screenSlack, func(h elevation.Hung, outline plane.Ring) {
		p.Group(fmt.Sprintf("piece %d, kind %s", h.ID, h.Kind.Code))
		p.Polygon([]plane.Ring{outline}, draw.Paint{
			Fill: draw.Solid(draw.Colour(h.Kind.Colour)), Stroke: draw.Stroke{Width: math.Min(draw.Width013, edgeShare*p.PieceSize), Colour: draw.Grey(40)},
		})
		p.End()
		p.Spots.Take(p.Mapping.Box(h.Bounds), 1)
	})
}

// The parts of a piece as it is to be drilled, as shares of how long pieces are.
const (
	edgeShare   = 0.028 // the line round a piece
	lineShare   = 0.01  // the lines of a cross
	armShare    = 0.055 // of a cross, from its middle
	numberShare = 0.13  // the letters of a hole's number
	codeShare   = 0.20  // the letters of a code
	arrowShare  = 0.12
)

// holesOf draws the face as it is to be drilled.
func (s *screen) holesOf() {
	s.Group("wall " + s.Name())
	s.bare(s.thinZones)
	for _, p := range s.all() {
		outlined(p, p == s.Picture)
	}
	marks := s.newMarks()
	marks.crosses()
	s.thingNames()
	marks.codes()
	marks.numbers()
	s.End()
}

// thinZones draws, thinly, where there is something to be careful of.
func (s *screen) thinZones() {
	const pitch = 5.0
	edge := draw.Stroke{Width: draw.Width013, Colour: drafting.Faint, Dash: draw.Dashed}
	for _, z := range s.ZonesThatSpeak() {
		if z.Strength != wall.Caution {
			continue
		}
		rings := s.Mapping.Rings(z.Shape.Rings())
		s.Group("zone " + z.Name)
		draw.Hatch(s, rings, s.paper, pitch, sheet.CautionAngle, drafting.Shade(drafting.Hair, drafting.Faint))
		s.Polygon(rings, draw.Paint{Stroke: edge})
		s.End()
	}
}

// outlined draws the outlines of the pieces: in grey those that hang on other faces.
func outlined(p *elevation.Picture, own bool) {
	edge := draw.Stroke{Width: edgeShare * p.PieceSize, Colour: drafting.Quiet}
	if !own {
		edge.Colour = drafting.Faint
	}
	byKind(p, screenSlack, func(h elevation.Hung, outline plane.Ring) {
		p.Group(fmt.Sprintf("piece %d, kind %s", h.ID, h.Kind.Code))
		p.Polygon([]plane.Ring{outline}, draw.Paint{Stroke: edge})
		p.End()
		p.Spots.Take(p.Mapping.Box(h.Bounds), 1)
	})
}

// A drillMarks writes what belongs to the pieces and the holes of a face. It places words among themselves
// in units of which a piece is some thirty long.
type drillMarks struct {
	*screen
	size float64         // of a piece, mm of the paper
	fine *drafting.Spots // what had better not be covered: outlines and tips of arrows
	hard *drafting.Spots // what must not be: crosses and words
	by   float64         // units for each mm of the paper
}

func (s *screen) newMarks() *drillMarks {
	const long = 30
	m := &drillMarks{screen: s, size: s.PieceSize}
	m.by = long / m.size
	m.fine = drafting.NewSpots(m.unit(s.paper.Grow(-0.5)))
	m.hard = drafting.NewSpots(m.fine.Within)
	for _, p := range s.all() {
		byKind(p, screenSlack, func(_ elevation.Hung, outline plane.Ring) { m.along(outline) })
	}
	return m
}

// unit returns a box of the paper in units.
func (m *drillMarks) unit(b plane.Rect) plane.Rect {
	return plane.Rect{Min: b.Min.Scale(m.by), Max: b.Max.Scale(m.by)}
}

// along takes the line round a piece, as boxes a unit wide.
func (m *drillMarks) along(outline plane.Ring) {
	for i, from := range outline {
		to := outline[(i+1)%len(outline)]
		n := math.Max(1, math.Ceil(from.Distance(to)*m.by))
		for t := 0.5; t < n; t++ {
			at := from.Lerp(to, t/n)
			m.fine.Take(m.unit(drafting.BoxAt(at, 1/m.by, 1/m.by)), 1)
		}
	}
}

// crosses draws the way every piece heads, and a cross at every hole; a ring round those with a caution that
// has to be settled before.
func (m *drillMarks) crosses() {
	arrow := arrowShare * m.size
	m.Group("headings")
	for _, h := range m.Pieces {
		way := m.Way(h.Heading)
		tip := m.Mapping.At(h.At).Add(way.Scale(h.Kind.Outline.Bounds().Max.X*m.K + 1.2*arrow))
		m.Arrow(tip, way, arrow, drafting.Quiet)
		m.fine.Take(m.unit(drafting.BoxAt(tip.Sub(way.Scale(arrow/2)), arrow, arrow)), sheet.WorthTip)
	}
	m.End()
	arm, line := armShare*m.size, draw.Stroke{Width: lineShare * m.size}
	for _, h := range m.Holes {
		at := m.Mapping.At(h.At)
		m.Group(fmt.Sprintf("hole %d", h.Number))
		m.Segment(at.X-arm, at.Y, at.X+arm, at.Y, line)
		m.Segment(at.X, at.Y-arm, at.X, at.Y+arm, line)
		m.End()
		box := drafting.BoxAt(at, 2*arm, 2*arm)
		m.hard.Take(m.unit(box), 1)
		m.Spots.Take(box, elevation.WorthText) // nor do names lie over it
	}
	for _, h := range m.Holes {
		if m.Flagged(h) {
			m.Circle(m.Mapping.At(h.At), arm*0.8, draw.Paint{Stroke: line})
		}
	}
}

// A word is one that belongs to a piece or a hole, with the place that it has.
type word struct {
	box  plane.Rect
	size float64
	text string
}

// write writes words, each seen once it can be read.
func (m *drillMarks) write(group string, words []word, style drafting.Style) {
	var sizes []float64
	for _, w := range words {
		if !slices.Contains(sizes, w.size) {
			sizes = append(sizes, w.size)
		}
	}
	for _, size := range sizes {
		m.legible(size, func() {
			m.Group(group)
			for _, w := range words {
				if w.size == size {
					m.Say(w.box.Centre().X, w.box.Max.Y, size, w.text, 0, style)
				}
			}
			m.End()
		})
	}
}

// codes writes the code of its kind into every piece, or close beside it.
func (m *drillMarks) codes() {
	var words []word
	for _, h := range m.Pieces {
		b := h.Kind.Outline.Bounds()
		size := math.Min(codeShare*m.size, 0.6*b.Height()*m.K)
		width := drafting.TextWidth(h.Kind.Code, size, true)
		at, ahead := m.Mapping.At(h.At), m.Way(h.Heading)
		side := plane.Point{X: -ahead.Y, Y: ahead.X}
		var places []plane.Rect
		place := func(along, across float64) {
			places = append(places, drafting.BoxAt(at.Add(ahead.Scale(along)).Add(side.Scale(across)), width, size))
		}
		for _, t := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
			place((b.Min.X+t*b.Width())*m.K, b.Centre().Y*-m.K)
		}
		for _, way := range []float64{1, -1} {
			place(0, way*(b.Height()*m.K+math.Hypot(width, size))*0.55)
		}
		if box, found := m.free(places); found {
			words = append(words, word{box, size, h.Kind.Code})
		}
	}
	m.write("codes", words, drafting.Style{Align: draw.Centre, Bold: true})
}

// numbers writes its number beside every hole, with a sign of caution where there is one to be settled.
func (m *drillMarks) numbers() {
	size := numberShare * m.size
	gap := armShare * m.size * 1.1
	var words []word
	for _, h := range m.Holes {
		text := m.numberOf(h)
		width := drafting.TextWidth(text, size, false)
		at := m.Mapping.At(h.At)
		var places []plane.Rect
		for _, far := range []float64{gap, 2 * gap, 4 * gap} {
			x, y := far*0.6+width/2, far*0.6+size/2
			for _, d := range []plane.Point{
				{X: x, Y: -y}, {X: x, Y: y}, {X: -x, Y: -y}, {X: -x, Y: y},
				{Y: -far - size/2}, {Y: far + size/2}, {X: far + width/2}, {X: -far - width/2},
			} {
				places = append(places, drafting.BoxAt(at.Add(d), width, size))
			}
		}
		if box, found := m.free(places); found {
			words = append(words, word{box, size, text})
		}
	}
	m.write("numbers", words, drafting.Style{Align: draw.Centre})
}

// numberOf returns the number of a hole as the sheets write it.
func (m *drillMarks) numberOf(h holemap.Hole) string {
	if m.Flagged(h) {
		return fmt.Sprintf("%d!", h.Number)
	}
	return fmt.Sprint(h.Number)
}

// free returns the place that covers least of lines, which is then taken, and whether there is one that covers no
// word and no cross.
func (m *drillMarks) free(places []plane.Rect) (plane.Rect, bool) {
	best, least := -1, math.Inf(1)
	for i, b := range places {
		u := m.unit(b)
		if !m.fine.Within.Contains(u.Min) || !m.fine.Within.Contains(u.Max) {
			continue
		}
		// Names of things lie on the paper, among pieces that cost no more than a thousandth of a word.
		if m.hard.Cost(u) > 0 || m.Spots.Cost(b) > elevation.WorthText/1000 {
			continue
		}
		if cost := m.fine.Cost(u); cost < least {
			best, least = i, cost
		}
		if least == 0 {
			break
		}
	}
	if best < 0 {
		return plane.Rect{}, false
	}
	m.hard.Take(m.unit(places[best]), 1)
	return places[best], true
}
