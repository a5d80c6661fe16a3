package sheet

import (
	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// An enlarged canvas draws everything so many times as large: places, lines and letters.
type enlarged struct {
	draw.Canvas
	by float64
}

func (e enlarged) at(p plane.Point) plane.Point { return p.Scale(e.by) }

func (e enlarged) ringsAt(rings []plane.Ring) []plane.Ring {
	out := make([]plane.Ring, len(rings))
	for i, r := range rings {
		out[i] = r.Map(e.at)
	}
	return out
}

func (e enlarged) stroke(s draw.Stroke) draw.Stroke {
	s.Width *= e.by
	return s
}

func (e enlarged) paint(p draw.Paint) draw.Paint {
	p.Stroke = e.stroke(p.Stroke)
	return p
}

// Page implements draw.Canvas.
func (e enlarged) Page(width, height float64) { e.Canvas.Page(width*e.by, height*e.by) }

// Line implements draw.Canvas.
func (e enlarged) Line(a, b plane.Point, s draw.Stroke) {
	e.Canvas.Line(e.at(a), e.at(b), e.stroke(s))
}

// Polyline implements draw.Canvas.
func (e enlarged) Polyline(points []plane.Point, s draw.Stroke) {
	e.Canvas.Polyline(plane.Ring(points).Map(e.at), e.stroke(s))
}

// Polygon implements draw.Canvas.
func (e enlarged) Polygon(rings []plane.Ring, p draw.Paint) {
	e.Canvas.Polygon(e.ringsAt(rings), e.paint(p))
}

// Circle implements draw.Canvas.
func (e enlarged) Circle(at plane.Point, r float64, p draw.Paint) {
	e.Canvas.Circle(e.at(at), r*e.by, e.paint(p))
}

// Text implements draw.Canvas.
func (e enlarged) Text(t draw.Text) {
	t.At, t.Height = e.at(t.At), t.Height*e.by
	e.Canvas.Text(t)
}

// Image implements draw.Canvas.
func (e enlarged) Image(area plane.Rect, jpeg []byte) {
	e.Canvas.Image(plane.Rect{Min: e.at(area.Min), Max: e.at(area.Max)}, jpeg)
}

// Clip implements draw.Canvas.
func (e enlarged) Clip(rings ...plane.Ring) { e.Canvas.Clip(e.ringsAt(rings)...) }
