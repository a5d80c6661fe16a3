package drafting

import (
	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// An Enlarged canvas draws everything so many times as large: places, lines and letters.
type Enlarged struct {
	draw.Canvas
	By float64
}

func (e Enlarged) at(p plane.Point) plane.Point { return p.Scale(e.By) }

func (e Enlarged) ringsAt(rings []plane.Ring) []plane.Ring {
	out := make([]plane.Ring, len(rings))
	for i, r := range rings {
		out[i] = r.Map(e.at)
	}
	return out
}

func (e Enlarged) stroke(s draw.Stroke) draw.Stroke {
	s.Width *= e.By
	return s
}

func (e Enlarged) paint(p draw.Paint) draw.Paint {
	p.Stroke = e.stroke(p.Stroke)
	return p
}

// Page implements draw.Canvas.
func (e Enlarged) Page(width, height float64) { e.Canvas.Page(width*e.By, height*e.By) }

// Line implements draw.Canvas.
func (e Enlarged) Line(a, b plane.Point, s draw.Stroke) {
	e.Canvas.Line(e.at(a), e.at(b), e.stroke(s))
}

// Polyline implements draw.Canvas.
func (e Enlarged) Polyline(points []plane.Point, s draw.Stroke) {
	e.Canvas.Polyline(plane.Ring(points).Map(e.at), e.stroke(s))
}

// Polygon implements draw.Canvas.
func (e Enlarged) Polygon(rings []plane.Ring, p draw.Paint) {
	e.Canvas.Polygon(e.ringsAt(rings), e.paint(p))
}

// Circle implements draw.Canvas.
func (e Enlarged) Circle(at plane.Point, r float64, p draw.Paint) {
	e.Canvas.Circle(e.at(at), r*e.By, e.paint(p))
}

// Text implements draw.Canvas.
func (e Enlarged) Text(t draw.Text) {
	t.At, t.Height = e.at(t.At), t.Height*e.By
	e.Canvas.Text(t)
}

// Image implements draw.Canvas.
func (e Enlarged) Image(area plane.Rect, jpeg []byte) {
	e.Canvas.Image(plane.Rect{Min: e.at(area.Min), Max: e.at(area.Max)}, jpeg)
}

// Clip implements draw.Canvas.
func (e Enlarged) Clip(rings ...plane.Ring) { e.Canvas.Clip(e.ringsAt(rings)...) }
