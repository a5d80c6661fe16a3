package photo

import (
	"fmt"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Shape is what shows of one piece, in pixels of the photo.
type Shape struct {
	ID     int
	Rings  []plane.Ring // by the even-odd rule
	Shadow []plane.Ring
	Lift   float64 // of the piece off its face, in pixels
	Colour draw.Colour
}

// A Scene is what is drawn over a photo, back to front.
type Scene struct {
	Shapes []Shape
	Hidden int // pieces of the wall of which nothing shows
	Left   int // pieces on what stands on the wall, left out as the camera is not known
}

// Scene returns the pieces of a work as the photo shows them. The error says which piece or face makes
// no sense.
func (v View) Scene(w holemap.Work) (Scene, error) {
	var s Scene
	front, found := space.Frame{}, false
	for _, f := range w.Site.Faces {
		if f.Wall == v.Wall && f.IsWall() {
			front, found = f.Frame, true
		}
	}
	if !found || v.Wall >= len(w.Site.Room.Walls) {
		return s, fmt.Errorf("the photo %s is of wall number %d, which is not in the room", v.Name, v.Wall)
	}
	away := map[[2]float64]plane.Region{}
	for _, walls := range []bool{true, false} { // what stands on the wall is nearer
		for _, p := range w.Layout.Pieces {
			if p.Face < 0 || p.Face >= len(w.Site.Faces) || p.Kind < 0 || p.Kind >= len(w.Kinds) {
				return s, fmt.Errorf("piece %d is on no face or of no kind", p.ID)
			}
			f, k := w.Site.Faces[p.Face], w.Kinds[p.Kind]
			if f.Wall != v.Wall || f.IsBack() || f.IsWall() != walls {
				continue
			}
			if !walls && !v.Known {
				s.Left++
				continue
			}
			if _, rise := f.Frame.Local(v.eye(front)); v.Known && rise <= k.StandOff+1 {
				s.Hidden++
				continue
			}
			key := [2]float64{float64(p.Face), k.StandOff}
			gone, done := away[key]
			if !done {
				var err error
				if gone, err = v.hides(w.Site, f, front, k.StandOff); err != nil {
					return s, err
				}
				away[key] = gone
			}
			ring := p.Outline(w.Kinds)
			seen, err := plane.RegionOf(ring).Difference(gone)
			if err != nil {
				return s, err
			}
			shape := Shape{ID: p.ID, Colour: draw.Colour(k.Colour), Rings: v.rings(seen, f, front, k.StandOff)}
			if len(shape.Rings) == 0 {
				s.Hidden++
				continue
			}
			if k.StandOff > 0 {
				shift := plane.Point{X: 0.4, Y: -0.7}.Scale(k.StandOff)
				shade, err := plane.RegionOf(ring.Map(shift.Add)).Intersection(f.Outline)
				if err == nil {
					shade, err = shade.Difference(gone)
				}
				if err != nil {
					return s, err
				}
				shape.Shadow = v.rings(shade, f, front, 0)
				c := ring.Bounds().Centre()
				if drawn := v.rings(plane.RegionOf(plane.Rectangle(c, k.StandOff, k.StandOff)), f, front, 0); len(drawn) > 0 {
					shape.Lift = drawn[0].Bounds().Height()
				}
			}
			s.Shapes = append(s.Shapes, shape)
		}
	}
	return s, nil
}

// hides returns what of the plane off mm before a face cannot be seen from the camera. What is in a
// recess shows through its mouth alone.
func (v View) hides(site wall.Site, f wall.Face, front space.Frame, off float64) (plane.Region, error) {
	gone, err := v.hidden(site, f, front, off)
	if err != nil || !v.Known || f.Obstruction < 0 {
		return gone, err
	}
	o := site.Room.Walls[v.Wall].Obstructions[f.Obstruction]
	if o.Depth >= 0 {
		return gone, nil
	}
	mouth := 0.0
	for _, g := range site.Faces {
		if g.Wall == f.Wall && g.Obstruction == f.Obstruction && g.Side == wall.Back {
			_, z := front.Local(g.Frame.Origin)
			mouth = z - o.Depth
		}
	}
	var rim []space.Vec
	for _, p := range o.Shape {
		rim = append(rim, front.Lift(p, mouth))
	}
	open := plane.RegionOf(cast(rim, v.eye(front), f.Frame, off))
	b := f.Outline.Bounds().Grow(1000)
	return plane.RegionOf(plane.Rectangle(b.Min, b.Width(), b.Height())).Difference(open)
}

// rings returns the region off mm before a face in pixels, less what is behind the camera.
func (v View) rings(r plane.Region, f wall.Face, front space.Frame, off float64) []plane.Ring {
	var out []plane.Ring
	add := func(ring plane.Ring) {
		places := make([]space.Vec, len(ring))
		for i, p := range ring {
			q, z := front.Local(f.Frame.Lift(p, off))
			places[i] = space.Vec{X: q.X, Y: q.Y, Z: z}
		}
		// W is 1 at the first of the points.
		places = cut(places, func(p space.Vec) float64 { _, _, w := v.project(p); return w - 0.02 })
		if len(places) < 3 {
			return
		}
		drawn := make(plane.Ring, len(places))
		for i, p := range places {
			x, y, w := v.project(p)
			drawn[i] = plane.Point{X: x / w, Y: y / w}.Snap(1000)
		}
		out = append(out, drawn)
	}
	for _, p := range r.Polygons() {
		add(p.Outer)
		for _, h := range p.Holes {
			add(h)
		}
	}
	return out
}
