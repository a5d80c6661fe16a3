package draw

import (
	"math"

	"wallshoal/wall/plane"
)

// Hatch fills the part of the rings, taken by the even-odd rule, that lies within a box with
// parallel lines that stand pitch mm apart and run at the given angle. The lines lie on a grid
// through the origin of the page, so that areas which touch are hatched as one.
func Hatch(c Canvas, rings []plane.Ring, within plane.Rect, pitch, angle float64, s Stroke) {
	bounds, found := extent(rings)
	if !found || !bounds.Overlaps(within) || pitch <= 0 {
		return
	}
	c.Clip(rings...)
	for _, l := range hatchLines(meet(bounds, within), pitch, angle) {
		c.Line(l[0], l[1], s)
	}
	c.Unclip()
}

// extent returns the box round the rings that have an area, and whether there is one.
func extent(rings []plane.Ring) (box plane.Rect, found bool) {
	for _, r := range rings {
		switch {
		case len(r) < 3:
		case !found:
			box, found = r.Bounds(), true
		default:
			box = box.Union(r.Bounds())
		}
	}
	return box, found
}

// meet returns what two overlapping boxes share.
func meet(a, b plane.Rect) plane.Rect {
	return plane.Rect{
		Min: plane.Point{X: math.Max(a.Min.X, b.Min.X), Y: math.Max(a.Min.Y, b.Min.Y)},
		Max: plane.Point{X: math.Min(a.Max.X, b.Max.X), Y: math.Min(a.Max.Y, b.Max.Y)},
	}
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
