package draw

import (
	"math"

	"wallshoal/wall/plane"
)

// Hatch fills the rings, by the even-odd rule, with parallel lines that stand pitch mm apart and
// run at the given angle. The lines lie on a grid through the origin of the page, so that areas
// which touch are hatched as one.
func Hatch(c Canvas, rings []plane.Ring, pitch, angle float64, s Stroke) {
	box, found := plane.Rect{}, false
	for _, r := range rings {
		if len(r) < 3 {
			continue
		}
		if !found {
			box, found = r.Bounds(), true
		}
		box = box.Union(r.Bounds())
	}
	if !found || pitch <= 0 {
		return
	}
	c.Clip(rings...)
	for _, l := range hatchLines(box, pitch, angle) {
		c.Line(l[0], l[1], s)
	}
	c.Unclip()
}

// hatchLines returns the lines that cross the box, cut to the circle round it.
func hatchLines(box plane.Rect, pitch, angle float64) [][2]plane.Point {
	along := plane.Point{X: math.Cos(angle), Y: -math.Sin(angle)}
	across := plane.Point{X: -along.Y, Y: along.X}
	centre := box.Centre()
	reach := math.Hypot(box.Width(), box.Height()) / 2
	middle, run := centre.Dot(across), along.Scale(reach)
	var out [][2]plane.Point
	for i := math.Ceil((middle - reach) / pitch); i*pitch <= middle+reach; i++ {
		foot := centre.Add(across.Scale(i*pitch - middle))
		out = append(out, [2]plane.Point{foot.Sub(run), foot.Add(run)})
	}
	return out
}
