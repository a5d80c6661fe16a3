package sheet

import (
	"math"

	"wallshoal/export/draw"
	"wallshoal/export/stand"
	"wallshoal/wall/plane"
)

// shownOn returns the face that a stand is drawn on: its wall, onto which a side of what stands there is
// seen edge on, or its own.
func (o *orderBook) shownOn(s stand.Stand) int {
	f := o.work.Site.Faces[s.Face]
	if f.IsBack() {
		return s.Face
	}
	for i, w := range o.work.Site.Faces {
		if w.Wall == f.Wall && w.IsWall() {
			return i
		}
	}
	return s.Face
}

// locateHeight returns how much room the small drawing of a stand takes at a width, with its caption, mm.
func (o *orderBook) locateHeight(s stand.Stand, width float64) float64 {
	v := o.views[o.shownOn(s)]
	high := v.bounds.Height() * math.Min(width/v.bounds.Width(), standTop/v.bounds.Height())
	if v.wall.Ceiling {
		high = standTop
	}
	return high + locateBelow
}

// mostShown is how many pieces a small drawing shows beside those of the stand.
const mostShown = 2000

// locate draws the face small, with the pieces of the stand dark and its window marked.
func (o *orderBook) locate(s stand.Stand, area plane.Rect) {
	v := o.views[o.shownOn(s)]
	free := newSpots(area.Grow(8))
	if v.wall.Ceiling {
		area = area.Grow(-least - 1.5) // for the names of the walls round it
	}
	k := math.Min(area.Width()/v.bounds.Width(), area.Height()/v.bounds.Height())
	m := mapping{k: k, origin: plane.Point{
		X: area.Min.X + (area.Width()-v.bounds.Width()*k)/2 - v.bounds.Min.X*k, Y: area.Min.Y + v.bounds.Height()*k + v.bounds.Min.Y*k,
	}}
	on := func(p plane.Point) plane.Point {
		q, _ := v.face.Frame.Local(o.work.Site.Faces[s.Face].Frame.At(p))
		return m.at(q)
	}
	o.Polygon(m.rings(v.rings), draw.Paint{Fill: draw.Solid(draw.White), Stroke: medium})
	for _, t := range v.things {
		o.Polygon([]plane.Ring{m.ring(t.Shape)}, draw.Paint{Fill: draw.Solid(draw.Grey(235)), Stroke: shade(hair, soft)})
	}
	if len(v.pieces) <= mostShown {
		for _, h := range v.pieces {
			o.Polygon([]plane.Ring{m.ring(h.ring)}, draw.Paint{Stroke: draw.Stroke{Width: draw.Width013 / 2, Colour: soft}})
		}
	}
	window := corners(s.Bounds).Map(on).Bounds()
	for _, id := range s.Pieces {
		ring := o.pieces[id].Outline(o.work.Kinds).Map(on)
		window = window.Union(ring.Bounds())
		o.Polygon([]plane.Ring{ring}, draw.Paint{Fill: draw.Solid(draw.Grey(60))})
	}
	o.box(window.Grow(0.6), draw.Paint{Stroke: draw.Stroke{Width: draw.Width035, Colour: ink}})
	caption := v.shown()
	if v.isWall() && !v.wall.Ceiling && !s.Place.Back {
		foot := m.at(plane.Point{X: v.bounds.Min.X + s.Place.Left, Y: v.bounds.Min.Y})
		o.arrow(plane.Point{X: foot.X, Y: foot.Y + 0.6}, plane.Point{Y: -1}, 3, ink)
		caption += "; the arrow is where you stand"
	}
	v.wallNames(o.pen, m, free, true)
	o.say(area.Centre().X, m.at(v.bounds.Min).Y+6.5, least, caption, area.Width(), style{align: draw.Centre, colour: quiet})
}
