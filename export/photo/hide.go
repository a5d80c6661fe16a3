package photo

import (
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// hidden returns what of the plane of a face, off mm before it, the bodies before the wall hide from
// the camera, in the face's measures. Own is the thing the face belongs to, -1 for the wall. Without a
// camera it is the shape of all that stands out further than the plane.
func (v View) hidden(site wall.Site, face wall.Face, front space.Frame, off float64) (plane.Region, error) {
	var away []plane.Region
	for _, o := range site.Room.Walls[v.Wall].Obstructions {
		if o.Depth <= 0 {
			continue
		}
		if !v.Known {
			if o.Depth > off {
				away = append(away, plane.RegionOf(o.Shape))
			}
			continue
		}
		for _, f := range sides(o) {
			places := make([]space.Vec, len(f))
			for i, p := range f {
				places[i] = front.Lift(plane.Point{X: p.X, Y: p.Y}, p.Z)
			}
			if ring := cast(places, v.eye(front), face.Frame, off); len(ring) > 2 {
				away = append(away, plane.RegionOf(ring))
			}
		}
	}
	return plane.Union(away...)
}

// eye returns where the camera is in the room.
func (v View) eye(front space.Frame) space.Vec {
	c := v.camera.Centre
	return front.Lift(plane.Point{X: c.X, Y: c.Y}, c.Z)
}

// sides returns the front of a thing and the strips between it and the wall, in the wall's measures.
func sides(o wall.Obstruction) [][]space.Vec {
	var end []space.Vec
	var out [][]space.Vec
	for i, a := range o.Shape {
		b := o.Shape[(i+1)%len(o.Shape)]
		end = append(end, space.Vec{X: a.X, Y: a.Y, Z: o.Depth})
		out = append(out, []space.Vec{{X: a.X, Y: a.Y}, {X: b.X, Y: b.Y}, {X: b.X, Y: b.Y, Z: o.Depth}, {X: a.X, Y: a.Y, Z: o.Depth}})
	}
	return append(out, end)
}

// cast returns the shadow that a flat area between the eye and a plane throws on the plane, with the
// eye as the lamp: exactly what it hides there.
func cast(area []space.Vec, eye space.Vec, frame space.Frame, off float64) plane.Ring {
	foot, rise := frame.Local(eye)
	rise -= off
	above := func(p space.Vec) float64 { _, z := frame.Local(p); return z - off }
	area = cut(area, func(p space.Vec) float64 { return above(p) - 0.01 })
	area = cut(area, func(p space.Vec) float64 { return 0.99*rise - above(p) })
	var out plane.Ring
	for _, p := range area {
		q, _ := frame.Local(p)
		out = append(out, foot.Lerp(q, rise/(rise-above(p))))
	}
	return out
}

// cut returns what of a flat area is where side is not below 0 (Sutherland and Hodgman 1974).
func cut(area []space.Vec, side func(space.Vec) float64) []space.Vec {
	var out []space.Vec
	for i, p := range area {
		q := area[(i+1)%len(area)]
		a, b := side(p), side(q)
		if a >= 0 {
			out = append(out, p)
		}
		if (a >= 0) != (b >= 0) {
			out = append(out, p.Add(q.Sub(p).Scale(a/(a-b))))
		}
	}
	return out
}
