package elevation

import (
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/wall/plane"
)

// InRows puts pictures at a scale of 1:ratio in rows of at most the given width, and returns their
// top-left corners from that of all, and the width and height that they take.
func InRows(pictures []*Picture, width, ratio float64) (corners []plane.Point, took plane.Point) {
	var at plane.Point
	deep := 0.0
	for _, p := range pictures {
		wide, high := p.Bounds.Width()/ratio, p.Bounds.Height()/ratio+miniatureName
		if at.X > 0 && at.X+wide > width {
			at, deep = plane.Point{Y: at.Y + deep + MiniatureGap/2}, 0
		}
		corners = append(corners, at)
		deep = math.Max(deep, high)
		took = plane.Point{X: math.Max(took.X, at.X+wide), Y: math.Max(took.Y, at.Y+high)}
		at.X += wide + MiniatureGap
	}
	return corners, took
}

// Miniatures returns pictures of the walls that are to be shown, so small that they show nothing but the
// wall, what stands on it and what hangs there.
func Miniatures(p drafting.Pen, w holemap.Work, shown func(*Development) bool) ([]*Picture, error) {
	var walls []*Picture
	for _, i := range Faces(w.Site) {
		d, err := Develop(p, w, i, true)
		if err != nil {
			return nil, err
		}
		if !shown(d) {
			continue
		}
		for _, p := range append([]*Picture{d.Main}, d.Main.Fronts...) {
			p.tiny = true
		}
		walls = append(walls, d.Main)
	}
	return walls, nil
}

// Miniature draws the picture at a scale of 1:ratio with the top-left corner of the wall at the given
// point, and its name below where there is room for it.
func (p *Picture) Miniature(corner plane.Point, ratio float64) {
	p.Mapping = drafting.Mapping{K: 1 / ratio, Origin: plane.Point{X: corner.X - p.Bounds.Min.X/ratio, Y: corner.Y + p.Bounds.Max.Y/ratio}}
	p.Settle(drafting.NewSpots(p.Mapping.Box(p.Bounds)))
	p.Group("wall " + p.Name())
	defer p.End()
	p.Polygon(p.Mapping.Rings(p.View.Rings), draw.Paint{Fill: draw.Solid(draw.White), Stroke: drafting.Medium})
	p.Standing()
	p.hang()
	for _, f := range p.Fronts {
		at, _ := p.Face.Frame.Local(f.Face.Frame.Origin)
		f.Mapping = drafting.Mapping{Origin: p.Mapping.At(at), K: p.K}
		f.Settle(p.Spots)
		f.hang()
	}
	b := p.Mapping.Box(p.Bounds)
	if drafting.TextWidth(p.Wall.Name, drafting.Least, false)*OtherFonts < b.Width()+MiniatureGap {
		p.Say(b.Min.X, b.Max.Y+miniatureName-0.4, drafting.Least, p.Wall.Name, 0, drafting.Style{Colour: drafting.Quiet})
	}
}

// RatioFor returns the scale, 1:ratio, at which pictures in rows fit into an area.
func RatioFor(walls []*Picture, width, height float64) float64 {
	ratio := 1.0
	_, took := InRows(walls, width, ratio)
	for (took.X > width || took.Y > height) && ratio < 1e6 {
		ratio *= 1.01
		_, took = InRows(walls, width, ratio)
	}
	return ratio
}

// MiniatureGap is how far miniatures stand apart, mm.
const MiniatureGap = 2.5

const miniatureName = 3.0 // the name under a wall
