package orderpage

import (
	"math"

	"wallshoal/export/drafting"
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
	high := v.Bounds.Height() * math.Min(width/v.Bounds.Width(), standTop/v.Bounds.Height())
	if v.Wall.Ceiling {
		high = standTop
	}
	return high + locateBelow
}

// mostShown is how many pieces a small drawing shows beside those of the stand.
const mostShown = 2000

// locate draws the face small, with the pieces of the stand dark and its window marked.
func (o *orderBook) locate(s stand.Stand, area plane.Rect) {
	v := o.views[o.shownOn(s)]
	free := drafting.NewSpots(area.Grow(8))
	if v.Wall.Ceiling {
		area = area.Grow(-drafting.Least - 1.5) // for the names of the walls round it
	}
	k := math.Min(area.Width()/v.Bounds.Width(), area.Height()/v.Bounds.Height())
	m := drafting.Mapping{K: k, Origin: plane.Point{
		X: area.Min.X + (area.Width()-v.Bounds.Width()*k)/2 - v.Bounds.Min.X*k, Y: area.Min.Y + v.Bounds.Height()*k + v.Bounds.Min.Y*k,
	}}
	on := func(p plane.Point) plane.Point {
		q, _ := v.Face.Frame.Local(o.work.Site.Faces[s.Face].Frame.At(p))
		return m.At(q)
	}
	o.Polygon(m.Rings(v.Rings), draw.Paint{Fill: draw.Solid(draw.White), Stroke: drafting.Medium})
	for _, t := range v.Things {
		o.Polygon([]plane.Ring{m.Ring(t.Shape)}, draw.Paint{Fill: draw.Solid(draw.Grey(235)), Stroke: drafting.Shade(drafting.Hair, drafting.Soft)})
	}
	if len(v.Pieces) <= mostShown {
		for _, h := range v.Pieces {
			o.Polygon([]plane.Ring{m.Ring(h.Ring)}, draw.Paint{Stroke: draw.Stroke{Width: draw.Width013 / 2, Colour: drafting.Soft}})
		}
	}
	window := drafting.Corners(s.Bounds).Map(on).Bounds()
	for _, id := range s.Pieces {
		ring := o.pieces[id].Outline(o.work.Kinds).Map(on)
		window = window.Union(ring.Bounds())
		o.Polygon([]plane.Ring{ring}, draw.Paint{Fill: draw.Solid(draw.Grey(60))})
	}
	o.Box(window.Grow(0.6), draw.Paint{Stroke: draw.Stroke{Width: draw.Width035, Colour: drafting.Ink}})
	caption := v.Shown()
	if v.IsWall() && !v.Wall.Ceiling && !s.Place.Back {
		foot := m.At(plane.Point{X: v.Bounds.Min.X + s.Place.Left, Y: v.Bounds.Min.Y})
		o.Arrow(plane.Point{X: foot.X, Y: foot.Y + 0.6}, plane.Point{Y: -1}, 3, drafting.Ink)
		caption += "; the arrow is where you stand"
	}
	v.WallNames(o.Pen, m, free, true)
	o.Say(area.Centre().X, m.At(v.Bounds.Min).Y+6.5, drafting.Least, caption, area.Width(), drafting.Style{Align: draw.Centre, Colour: drafting.Quiet})
}
