package drafting

import (
	"math"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// MirrorWords is what mirrored sheets say of themselves.
const MirrorWords = "MIRRORED: for working from behind / tracing paper face down"

// A Mirrored canvas draws everything the other way round from left to right, and words in the places
// that come of it, as they are read.
type Mirrored struct {
	draw.Canvas
	Twice float64 // the place of the upright line that it mirrors about, doubled, mm
}

func (m Mirrored) at(p plane.Point) plane.Point { return plane.Point{X: m.Twice - p.X, Y: p.Y} }

func (m Mirrored) ringsAt(rings []plane.Ring) []plane.Ring {
	out := make([]plane.Ring, len(rings))
	for i, r := range rings {
		out[i] = r.Map(m.at)
	}
	return out
}

// Line implements draw.Canvas.
func (m Mirrored) Line(a, b plane.Point, s draw.Stroke) { m.Canvas.Line(m.at(a), m.at(b), s) }

// Polyline implements draw.Canvas.
func (m Mirrored) Polyline(points []plane.Point, s draw.Stroke) {
	m.Canvas.Polyline(plane.Ring(points).Map(m.at), s)
}

// Polygon implements draw.Canvas.
func (m Mirrored) Polygon(rings []plane.Ring, p draw.Paint) {
	m.Canvas.Polygon(m.ringsAt(rings), p)
}

// Circle implements draw.Canvas.
func (m Mirrored) Circle(at plane.Point, r float64, p draw.Paint) { m.Canvas.Circle(m.at(at), r, p) }

// Image implements draw.Canvas: only its place is mirrored.
func (m Mirrored) Image(area plane.Rect, jpeg []byte) {
	m.Canvas.Image(plane.Ring{m.at(area.Min), m.at(area.Max)}.Bounds(), jpeg)
}

// Text implements draw.Canvas. The box of a line of text is mirrored, and the line written into it: one
// that is level to the right, and one that is upright still upwards.
func (m Mirrored) Text(t draw.Text) {
	long := t.Width()
	from := 0.0 // of the middle along the line
	switch t.Align {
	case draw.Left:
		from = long / 2
	case draw.Right:
		from = -long / 2
	}
	middle := func(turn, along float64) plane.Point {
		sin, cos := math.Sincos(turn)
		return plane.Point{X: float64(along*cos) - float64(t.Height/2*sin), Y: -float64(along*sin) - float64(t.Height/2*cos)}
	}
	centre := m.at(t.At.Add(middle(t.Turn, from)))
	turn := -t.Turn
	if math.Abs(math.Cos(t.Turn)) < math.Sqrt2/2 {
		turn = math.Pi - t.Turn
	}
	t.Turn = turn
	t.At = centre.Sub(middle(turn, from))
	if turn == 0 {
		t.At.Y = centre.Y + t.Height/2
	}
	m.Canvas.Text(t)
}

// Clip implements draw.Canvas.
func (m Mirrored) Clip(rings ...plane.Ring) { m.Canvas.Clip(m.ringsAt(rings)...) }
