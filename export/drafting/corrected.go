package drafting

import (
	"fmt"
	"math"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A Measured is what check bars of 100 mm measured on the paper of a printer, mm: across the page as
// it is read, and up it. The zero value is a printer that is true.
type Measured struct{ Across, Up float64 }

// mostOff is how far a printer may be off for its sheets to be corrected: past that it was told to fit
// the page, or the bars were misread.
const mostOff = 0.03

// Known reports whether somebody has measured.
func (m Measured) Known() bool { return m != Measured{} }

// Factors returns how much larger than life sheets have to be drawn to be true on the printer.
func (m Measured) Factors() (x, y float64) {
	if !m.Known() {
		return 1, 1
	}
	return 100 / m.Across, 100 / m.Up
}

// Wrong returns what is wrong with the measures and what to do about it; nothing where they can be
// corrected for.
func (m Measured) Wrong() (wrong, fix string) {
	if !m.Known() {
		return "", ""
	}
	for _, v := range []float64{m.Across, m.Up} {
		if !(math.Abs(v/100-1) <= mostOff) {
			return fmt.Sprintf("a bar of 100 mm that measures %g mm is off by more than %g %%", Round2(v), 100*mostOff),
				"print at 100 % (“actual size”), not fitted to the page, and measure again"
		}
	}
	return "", ""
}

// Words says what printer the sheets are corrected for.
func (m Measured) Words() string {
	return fmt.Sprintf("CORRECTED for a printer that prints %g × %g for 100 × 100", Round2(m.Across), Round2(m.Up))
}

// A corrected canvas draws everything so much larger, each way for itself.
type corrected struct {
	draw.Canvas
	x, y float64
}

// Correct returns a canvas on which sheets come out true on the printer.
func (m Measured) Correct(c draw.Canvas) draw.Canvas {
	if !m.Known() {
		return c
	}
	x, y := m.Factors()
	return corrected{c, x, y}
}

func (c corrected) at(p plane.Point) plane.Point { return plane.Point{X: p.X * c.x, Y: p.Y * c.y} }

func (c corrected) ringsAt(rings []plane.Ring) []plane.Ring {
	out := make([]plane.Ring, len(rings))
	for i, r := range rings {
		out[i] = r.Map(c.at)
	}
	return out
}

// Page implements draw.Canvas: the page is as large as the paper.
func (c corrected) Page(width, height float64) {
	fine := func(mm float64) float64 { return math.Round(mm*1e6) / 1e6 }
	c.Canvas.Page(fine(width*c.x), fine(height*c.y))
}

// Line implements draw.Canvas.
func (c corrected) Line(a, b plane.Point, s draw.Stroke) { c.Canvas.Line(c.at(a), c.at(b), s) }

// Polyline implements draw.Canvas.
func (c corrected) Polyline(points []plane.Point, s draw.Stroke) {
	c.Canvas.Polyline(plane.Ring(points).Map(c.at), s)
}

// Polygon implements draw.Canvas.
func (c corrected) Polygon(rings []plane.Ring, p draw.Paint) {
	c.Canvas.Polygon(c.ringsAt(rings), p)
}

// Circle implements draw.Canvas: a few hundredths of its radius matter to nobody.
func (c corrected) Circle(at plane.Point, r float64, p draw.Paint) {
	c.Canvas.Circle(c.at(at), r*math.Sqrt(c.x*c.y), p)
}

// Text implements draw.Canvas: letters grow less than the room between them, never more.
func (c corrected) Text(t draw.Text) {
	t.At = c.at(t.At)
	t.Height *= math.Min(c.x, c.y)
	c.Canvas.Text(t)
}

// Clip implements draw.Canvas.
func (c corrected) Clip(rings ...plane.Ring) { c.Canvas.Clip(c.ringsAt(rings)...) }
