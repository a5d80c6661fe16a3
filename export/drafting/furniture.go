package drafting

import (
	"fmt"
	"math"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A Bar is a ruler of known length, to be held against a real one.
type Bar struct {
	Length float64 // mm
	parts  int
	Name   string
}

// Bars returns the two check bars: 100 mm, and 4 in for those who have no metric rule.
func Bars() []Bar {
	return []Bar{{100, 10, "100 mm"}, {4 * Inch, 4, "4 in = 101.6 mm"}}
}

// The look of a check bar, mm.
const (
	BarTick = 1.6
	BarEnd  = 2.6
)

// LevelBar draws a check bar to the right from its left end, ticks upwards.
func (p Pen) LevelBar(b Bar, x, y float64) {
	p.Segment(x, y, x+b.Length, y, Thin)
	for i := range b.parts + 1 {
		at := x + b.Length*float64(i)/float64(b.parts)
		p.Segment(at, y, at, y-tick(i, b.parts), Thin)
	}
}

// UprightBar draws a check bar upwards from its foot, ticks to the left.
func (p Pen) UprightBar(b Bar, x, y float64) {
	p.Segment(x, y, x, y-b.Length, Thin)
	for i := range b.parts + 1 {
		at := y - b.Length*float64(i)/float64(b.parts)
		p.Segment(x, at, x-tick(i, b.parts), at, Thin)
	}
}

func tick(i, parts int) float64 {
	if i == 0 || i == parts {
		return BarEnd
	}
	return BarTick
}

// The size of a register mark: the radius of its disc and the reach of its lines, mm.
const (
	RegisterRadius = 1.8
	RegisterReach  = 4.0
)

// Register draws a mark that two sheets are laid together by: lines through the point, and a disc
// with two quarters filled, which nobody takes for a hole. The marked one, that the sheet gives
// the place of, has all quarters filled.
func (p Pen) Register(at plane.Point, marked bool) {
	fill := draw.Fill{}
	if marked {
		fill = draw.Solid(Ink)
	}
	p.Circle(at, RegisterRadius, draw.Paint{Fill: fill, Stroke: Thin})
	if !marked {
		p.Polygon([]plane.Ring{quarter(at, 0), quarter(at, math.Pi)}, draw.Paint{Fill: draw.Solid(Ink)})
	}
	p.Segment(at.X-RegisterReach, at.Y, at.X+RegisterReach, at.Y, Thin)
	p.Segment(at.X, at.Y-RegisterReach, at.X, at.Y+RegisterReach, Thin)
	if marked {
		// The centre stays visible in the black.
		p.Circle(at, 0.5, draw.Paint{Fill: draw.Solid(draw.White)})
		p.Segment(at.X-0.5, at.Y, at.X+0.5, at.Y, Hair)
		p.Segment(at.X, at.Y-0.5, at.X, at.Y+0.5, Hair)
	}
}

// quarter returns a quarter of the register disc from the given angle on.
func quarter(at plane.Point, from float64) plane.Ring {
	const steps = 8
	ring := plane.Ring{at}
	for i := range steps + 1 {
		sin, cos := math.Sincos(from + math.Pi/2*float64(i)/steps)
		ring = append(ring, plane.Point{X: at.X + float64(RegisterRadius*cos), Y: at.Y - float64(RegisterRadius*sin)})
	}
	return ring
}

// The size of the cross that marks a hole, mm.
const (
	CrossReach  = 4.0
	CrossRadius = 2.0
)

// Cross marks a hole: two thin lines that meet where the bit goes, in a ring that shows afterwards
// whether it went there. A hole with a caution to settle has a square round it in place of the ring.
func (p Pen) Cross(at plane.Point, bit float64, caution bool) {
	p.Segment(at.X-CrossReach, at.Y, at.X+CrossReach, at.Y, Thin)
	p.Segment(at.X, at.Y-CrossReach, at.X, at.Y+CrossReach, Thin)
	radius := math.Max(CrossRadius, bit/2)
	if caution {
		p.Box(BoxAt(at, 2*radius, 2*radius), draw.Paint{Stroke: Medium})
		return
	}
	p.Circle(at, radius, draw.Paint{Stroke: Thin})
}

// MarkReach returns how far the mark of a hole reaches from its centre, mm.
func MarkReach(bit float64) float64 { return math.Max(CrossReach, bit/2) }

// ScaleWords returns the scale as a title block states it.
func ScaleWords(s Scale) string {
	if s.Note == "" {
		return "SCALE " + s.String()
	}
	return fmt.Sprintf("SCALE %s (%s)", s, s.Note)
}
