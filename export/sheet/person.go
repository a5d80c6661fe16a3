package sheet

import (
	"wallshoal/export/draw"
	"wallshoal/export/figure"
	"wallshoal/wall/plane"
)

// person draws the standing figure with its feet at the given point of the page, k millimetres
// for each of its own.
func (p pen) person(feet plane.Point, k float64) {
	m := mapping{origin: feet, k: k}
	for _, r := range figure.Rings() {
		p.Polygon([]plane.Ring{m.ring(r)}, draw.Paint{Fill: draw.Solid(draw.Grey(205))})
	}
}
