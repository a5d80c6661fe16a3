package sheet

import (
	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// The greys and lines that every page shares. What is drilled is black; what only helps to place
// it is lighter, and stays legible on a poor printer.
var (
	ink   = draw.Black
	faint = draw.Grey(190) // hatching, grids
	soft  = draw.Grey(120) // outlines of pieces on a template
	quiet = draw.Grey(80)  // names of fields, notes

	hair   = draw.Stroke{Width: draw.Width013, Colour: ink}
	thin   = draw.Stroke{Width: draw.Width018, Colour: ink}
	medium = draw.Stroke{Width: draw.Width025, Colour: ink}
	bold   = draw.Stroke{Width: draw.Width050, Colour: ink}

	// Hatching that has to be seen on a sheet from any printer.
	hatching = draw.Stroke{Width: draw.Width018, Colour: draw.Grey(150)}

	// The edge of what stands out of a face, on sheets that are cut along it.
	projecting = draw.Stroke{Width: draw.Width050, Colour: ink, Dash: draw.Dashed}
)

// The least height of letters that is still read with ease, mm.
const least = draw.Letter18

// A pen writes and draws on a canvas with the fewest words.
type pen struct{ draw.Canvas }

// A style is how a text looks beside its size.
type style struct {
	align  draw.Align
	bold   bool
	turn   float64
	colour draw.Colour
}

// say writes one line with its baseline at (x, y) and letters height mm tall. Where it is wider
// than width it shrinks and at last is cut; a width of 0 sets no bound.
func (p pen) say(x, y, height float64, text string, width float64, s style) {
	t := draw.Text{
		At: plane.Point{X: x, Y: y}, Say: text, Height: height,
		Bold: s.bold, Align: s.align, Turn: s.turn, Colour: s.colour,
	}
	if width > 0 {
		t = t.Fit(width, least)
	}
	p.Text(t)
}

// wide returns how wide a line would be.
func wide(text string, height float64, heavy bool) float64 {
	return draw.Text{Say: text, Height: height, Bold: heavy}.Width()
}

func (p pen) line(x1, y1, x2, y2 float64, s draw.Stroke) {
	p.Line(plane.Point{X: x1, Y: y1}, plane.Point{X: x2, Y: y2}, s)
}

func (p pen) box(r plane.Rect, paint draw.Paint) { p.Polygon([]plane.Ring{corners(r)}, paint) }

// shade returns s in another colour.
func shade(s draw.Stroke, c draw.Colour) draw.Stroke {
	s.Colour = c
	return s
}

// arrow draws a filled triangle with its tip at tip, pointing along the unit step way on the page.
func (p pen) arrow(tip, way plane.Point, length float64, c draw.Colour) {
	side := plane.Point{X: -way.Y, Y: way.X}.Scale(length * 0.32)
	foot := tip.Sub(way.Scale(length))
	p.Polygon([]plane.Ring{{tip, foot.Add(side), foot.Sub(side)}}, draw.Paint{Fill: draw.Solid(c)})
}
