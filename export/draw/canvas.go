// Package draw is one way to draw a page, whatever it ends up on: SVG, PDF, or a record for tests.
//
// Page coordinates are millimetres from the top-left corner of the page, x to the right and y
// down, as paper is read. Angles are radians, counter-clockwise as the reader sees them.
//
// A canvas never fails in the middle of a picture: it keeps the first fault (a number that is not
// finite, a mark before the first page, a group left open) and hands it over at the end.
package draw

import (
	"fmt"

	"wallshoal/wall/plane"
)

// A Canvas takes the marks of one document, page by page. Later marks cover earlier ones.
type Canvas interface {
	// Page starts a page of the given size in mm.
	Page(width, height float64)
	// Line draws the straight line from a to b.
	Line(a, b plane.Point, s Stroke)
	// Polyline draws an open line through the points.
	Polyline(points []plane.Point, s Stroke)
	// Polygon draws the area within the rings, by the even-odd rule: a ring inside another is a
	// hole in it. Rings of fewer than three corners are left out.
	Polygon(rings []plane.Ring, p Paint)
	// Circle draws the circle about c with radius r.
	Circle(c plane.Point, r float64, p Paint)
	// Text draws one line of text.
	Text(t Text)
	// Image draws a picture, the contents of a JPEG file, stretched over an upright rectangle.
	Image(area plane.Rect, jpeg []byte)
	// Group opens a named group of marks, which End closes. Groups can be nested.
	Group(name string)
	End()
	// Clip keeps the marks that follow inside the rings, by the even-odd rule, until Unclip.
	// Clips can be nested. A clip of no rings hides everything.
	Clip(rings ...plane.Ring)
	Unclip()
}

// A Zoomed canvas is one for screens, which can keep marks back until its page is shown large enough.
type Zoomed interface {
	Canvas
	// Near opens a group of marks that are seen once the page is shown at least so many pixels wide, and EndNear
	// closes it.
	Near(pixels float64)
	EndNear()
}

// About says what a document is, for its metadata.
type About struct {
	Title   string
	Author  string
	Subject string
}

// Line widths of ISO 128-2, in mm, each √2 times the one before.
const (
	Width013 = 0.13
	Width018 = 0.18
	Width025 = 0.25
	Width035 = 0.35
	Width050 = 0.5
	Width070 = 0.7
	Width100 = 1.0
	Width140 = 1.4
	Width200 = 2.0
)

// A Stroke is how a line looks. Width 0 draws nothing.
type Stroke struct {
	Width  float64 // mm
	Colour Colour
	Dash   Dash
}

// A Dash is a line type of ISO 128-2.
type Dash int

// The line types that the sheets use.
const (
	Continuous Dash = iota
	Dashed          // hidden edges
	DashDot         // centre lines and the datum
	Dotted
	DashDotDot // lines to fold along
)

// Pattern returns the lengths of dashes and gaps by turns, in mm, for a line of the given width;
// nil for a continuous line. ISO 128-2 gives them as multiples of the width: a dash is 12, a long
// dash 24, a gap 3, and a dot half.
func (d Dash) Pattern(width float64) []float64 {
	switch d {
	case Dashed:
		return []float64{12 * width, 3 * width}
	case DashDot:
		return []float64{24 * width, 3 * width, 0.5 * width, 3 * width}
	case DashDotDot:
		return []float64{24 * width, 3 * width, 0.5 * width, 3 * width, 0.5 * width, 3 * width}
	case Dotted:
		return []float64{0.5 * width, 3 * width}
	}
	return nil
}

// A Colour is an opaque colour of the sRGB space. The zero value is black.
type Colour struct{ R, G, B uint8 }

// Black and White are the paper's two ends.
var (
	Black = Colour{}
	White = Colour{255, 255, 255}
)

// Grey returns the grey of the given level: 0 is black and 255 white.
func Grey(level uint8) Colour { return Colour{level, level, level} }

// Dark reports whether white letters read better on c than black ones, by the luma weights of
// ITU-R BT.601.
func (c Colour) Dark() bool {
	return 299*int(c.R)+587*int(c.G)+114*int(c.B) < 128*1000
}

// hex returns c as an SVG file says it.
func (c Colour) hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// A Fill is how an area looks. Its zero value leaves the area open.
type Fill struct {
	Colour Colour
	On     bool
}

// Solid returns the fill of one colour.
func Solid(c Colour) Fill { return Fill{Colour: c, On: true} }

// A Paint is how a shape looks: its area and its edge.
type Paint struct {
	Fill   Fill
	Stroke Stroke
}
