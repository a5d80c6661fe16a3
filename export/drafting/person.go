package drafting

import (
	"wallshoal/export/draw"
	"wallshoal/export/figure"
	"wallshoal/wall/plane"
)

// Person draws the standing figure with its feet at the given point of the page, k millimetres
// for each of its own.
func (p Pen) Person(feet plane.Point, k float64) {
	m := Mapping{Origin: feet, K: k}
	for _, r := range figure.Rings() {
		p.Polygon([]plane.Ring{m.Ring(r)}, draw.Paint{Fill: draw.Solid(draw.Grey(205))})
	}
}
