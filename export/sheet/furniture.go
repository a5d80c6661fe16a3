package sheet

import (
	"fmt"
	"math"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A bar is a ruler of known length, to be held against a real one.
type bar struct {
	length float64 // mm
	parts  int
	name   string
}

// bars returns the two check bars: 100 mm, and 4 in for those who have no metric rule.
func bars() []bar {
	return []bar{{100, 10, "100 mm"}, {4 * inch, 4, "4 in = 101.6 mm"}}
}

// The look of a check bar, mm.
const (
	barTick = 1.6
	barEnd  = 2.6
)

// levelBar draws a check bar to the right from its left end, ticks upwards.
func (p pen) levelBar(b bar, x, y float64) {
	p.line(x, y, x+b.length, y, thin)
	for i := range b.parts + 1 {
		at := x + b.length*float64(i)/float64(b.parts)
		p.line(at, y, at, y-tick(i, b.parts), thin)
	}
}

// uprightBar draws a check bar upwards from its foot, ticks to the left.
func (p pen) uprightBar(b bar, x, y float64) {
	p.line(x, y, x, y-b.length, thin)
	for i := range b.parts + 1 {
		at := y - b.length*float64(i)/float64(b.parts)
		p.line(x, at, x-tick(i, b.parts), at, thin)
	}
}

func tick(i, parts int) float64 {
	if i == 0 || i == parts {
		return barEnd
	}
	return barTick
}

// The size of a register mark: the radius of its disc and the reach of its lines, mm.
const (
	registerRadius = 1.8
	registerReach  = 4.0
)

// register draws a mark that two sheets are laid together by: lines through the point, and a disc
// with two quarters filled, which nobody takes for a hole. The marked one, that the sheet gives
// the place of, has all quarters filled.
func (p pen) register(at plane.Point, marked bool) {
	fill := draw.Fill{}
	if marked {
		fill = draw.Solid(ink)
	}
	p.Circle(at, registerRadius, draw.Paint{Fill: fill, Stroke: thin})
	if !marked {
		p.Polygon([]plane.Ring{quarter(at, 0), quarter(at, math.Pi)}, draw.Paint{Fill: draw.Solid(ink)})
	}
	p.line(at.X-registerReach, at.Y, at.X+registerReach, at.Y, thin)
	p.line(at.X, at.Y-registerReach, at.X, at.Y+registerReach, thin)
	if marked {
		// The centre stays visible in the black.
		p.Circle(at, 0.5, draw.Paint{Fill: draw.Solid(draw.White)})
		p.line(at.X-0.5, at.Y, at.X+0.5, at.Y, hair)
		p.line(at.X, at.Y-0.5, at.X, at.Y+0.5, hair)
	}
}

// quarter returns a quarter of the register disc from the given angle on.
func quarter(at plane.Point, from float64) plane.Ring {
	const steps = 8
	ring := plane.Ring{at}
	for i := range steps + 1 {
		sin, cos := math.Sincos(from + math.Pi/2*float64(i)/steps)
		ring = append(ring, plane.Point{X: at.X + float64(registerRadius*cos), Y: at.Y - float64(registerRadius*sin)})
	}
	return ring
}

// The size of the cross that marks a hole, mm.
const (
	crossReach  = 4.0
	crossRadius = 2.0
)

// cross marks a hole: two thin lines that meet where the bit goes, in a ring that shows afterwards
// whether it went there. A hole with a caution to settle has a square round it in place of the ring.
func (p pen) cross(at plane.Point, bit float64, caution bool) {
	p.line(at.X-crossReach, at.Y, at.X+crossReach, at.Y, thin)
	p.line(at.X, at.Y-crossReach, at.X, at.Y+crossReach, thin)
	radius := math.Max(crossRadius, bit/2)
	if caution {
		p.box(sized(at, 2*radius, 2*radius), draw.Paint{Stroke: medium})
		return
	}
	p.Circle(at, radius, draw.Paint{Stroke: thin})
}

// markReach returns how far the mark of a hole reaches from its centre, mm.
func markReach(bit float64) float64 { return math.Max(crossReach, bit/2) }

// neighbourRoom returns how much room along an edge the name of the sheet beyond it takes, mm.
func neighbourRoom(n Neighbour) float64 {
	return wide("("+n.Name+")", draw.Letter25, true) + 4
}

// neighbour writes which sheet lies beyond an edge, with an arrowhead that points there, about the
// point at. The names of
// sheets that are left out stand in brackets, and nothing is said where the wall ends.
func (p pen) neighbour(n Neighbour, at, way plane.Point) {
	if n.Name == "" {
		return
	}
	text, colour := n.Name, ink
	if !n.Printed {
		text, colour = "("+n.Name+")", quiet
	}
	const height, head = draw.Letter25, 2.2
	s := style{bold: n.Printed, colour: colour}
	width := wide(text, height, s.bold)
	if way.X != 0 { // along an upright edge: read upwards
		p.arrow(plane.Point{X: at.X + way.X*head/2, Y: at.Y + width/2 + 1.6}, way, head, colour)
		s.turn = math.Pi / 2
		p.say(at.X+height/2, at.Y+width/2, height, text, 0, s)
		return
	}
	p.arrow(plane.Point{X: at.X - width/2 - 2, Y: at.Y + way.Y*head/2}, way, head, colour)
	p.say(at.X-width/2, at.Y+height/2, height, text, 0, s)
}

// scaleWords returns the scale as a title block states it.
func scaleWords(s Scale) string {
	if s.Note == "" {
		return "SCALE " + s.String()
	}
	return fmt.Sprintf("SCALE %s (%s)", s, s.Note)
}
