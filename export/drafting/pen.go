// Package drafting holds what every drawing is made with: papers and scales, lines and letters of the usual
// weights and heights, dimensions, notes, text in columns, room found for labels, and the marks that are held against
// a rule.
package drafting

import (
	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// The greys and lines that every page shares. What is drilled is black; what only helps to place
// it is lighter, and stays legible on a poor printer.
var (
	Ink   = draw.Black
	Faint = draw.Grey(190) // hatching, grids
	Soft  = draw.Grey(120) // outlines of pieces on a template
	Quiet = draw.Grey(80)  // names of fields, notes

	Hair   = draw.Stroke{Width: draw.Width013, Colour: Ink}
	Thin   = draw.Stroke{Width: draw.Width018, Colour: Ink}
	Medium = draw.Stroke{Width: draw.Width025, Colour: Ink}
	Bold   = draw.Stroke{Width: draw.Width050, Colour: Ink}

	// Hatching that has to be seen on a sheet from any printer.
	Hatching = draw.Stroke{Width: draw.Width018, Colour: draw.Grey(150)}

	// The edge of what stands out of a face, on sheets that are cut along it.
	Projecting = draw.Stroke{Width: draw.Width050, Colour: Ink, Dash: draw.Dashed}
)

// The Least height of letters that is still read with ease, mm.
const Least = draw.Letter18

// A Pen writes and draws on a canvas with the fewest words.
type Pen struct{ draw.Canvas }

// A Style is how a text looks beside its size.
type Style struct {
	Align  draw.Align
	Bold   bool
	Turn   float64
	Colour draw.Colour
}

// Say writes one line with its baseline at (x, y) and letters height mm tall. Where it is wider
// than width it shrinks and at last is cut; a width of 0 sets no bound.
func (p Pen) Say(x, y, height float64, text string, width float64, s Style) {
	t := draw.Text{
		At: plane.Point{X: x, Y: y}, Say: text, Height: height,
		Bold: s.Bold, Align: s.Align, Turn: s.Turn, Colour: s.Colour,
	}
	if width > 0 {
		t = t.Fit(width, Least)
	}
	p.Text(t)
}

// TextWidth returns how wide a line would be.
func TextWidth(text string, height float64, heavy bool) float64 {
	return draw.Text{Say: text, Height: height, Bold: heavy}.Width()
}

// Segment draws a straight line between two points of the page, mm.
func (p Pen) Segment(x1, y1, x2, y2 float64, s draw.Stroke) {
	p.Line(plane.Point{X: x1, Y: y1}, plane.Point{X: x2, Y: y2}, s)
}

// Box draws a rectangle on the page.
func (p Pen) Box(r plane.Rect, paint draw.Paint) { p.Polygon([]plane.Ring{Corners(r)}, paint) }

// Shade returns s in another colour.
func Shade(s draw.Stroke, c draw.Colour) draw.Stroke {
	s.Colour = c
	return s
}

// Arrow draws a filled triangle with its tip at tip, pointing along the unit step way on the page.
func (p Pen) Arrow(tip, way plane.Point, length float64, c draw.Colour) {
	side := plane.Point{X: -way.Y, Y: way.X}.Scale(length * 0.32)
	foot := tip.Sub(way.Scale(length))
	p.Polygon([]plane.Ring{{tip, foot.Add(side), foot.Sub(side)}}, draw.Paint{Fill: draw.Solid(c)})
}
