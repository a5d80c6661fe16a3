package roomview

import (
	"math"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Picture is a scene seen through a camera.
type Picture struct {
	camera Camera
	facets []facet // back to front
	box    plane.Rect
	shown  []bool
	light  space.Vec // the unit step towards it
	scene  Scene
}

// Perspective returns the room as it looks from a place at the height of a standing person's eyes,
// in or before the room, where the faces that may carry pieces are seen best and none is cut off. It stays
// the same while pieces come, go and move.
func (s Scene) Perspective() Picture { return s.seen(s.perspective()) }

// Isometric returns the isometric drawing of the room (ISO 5456-3) from the quarter from which the
// faces that may carry pieces are seen best.
func (s Scene) Isometric() Picture { return s.seen(s.isometric()) }

// Like returns the scene as it looks from where the picture of another work in the same room was
// taken.
func (s Scene) Like(p Picture) Picture { return s.seen(p.camera) }

// seen returns the scene as the camera shows it.
func (s Scene) seen(c Camera) Picture {
	shown := s.shown(c)
	p := Picture{camera: c, shown: shown, light: s.light(c, shown), scene: s}
	facets := p.gathered()
	p.box = s.frame(c, facets)
	for _, f := range ordered(facets, c) {
		if f = c.clip(f); len(f.loops) > 0 {
			p.facets = append(p.facets, f)
		}
	}
	return p
}

// gathered returns every facet of the picture, in no order, in the light that falls on it.
func (p Picture) gathered() []facet {
	var out []facet
	s, c := p.scene, p.camera
	for _, list := range [][]facet{s.ground, s.faces, s.fixed} {
		for _, f := range list {
			if c.sees(f.level) && (f.face < 0 || s.wallShown(c, f.face)) {
				out = append(out, p.shaded(f))
			}
		}
	}
	for _, h := range s.hung {
		if !p.shown[h.face] {
			continue
		}
		out = append(out, p.shaded(h.facet))
		if shadow, falls := p.shadow(h); falls {
			out = append(out, shadow)
		}
	}
	return append(out, s.person(c)...)
}

// shaded returns f in the light of the picture.
func (p Picture) shaded(f facet) facet {
	f.fill = lit(f.fill, f.level.normal, p.light)
	return f
}

// shadow returns the shadow that a piece throws on its face, and whether it throws one: where the
// light does not fall on the face, or hardly, all of it is in shade.
func (p Picture) shadow(h hung) (facet, bool) {
	const faint, longest = 0.15, 2.5
	face := p.scene.work.Site.Faces[h.face]
	light := p.light
	rise := face.Frame.Out.Dot(light)
	if rise < faint || h.off <= 0 {
		return facet{}, false
	}
	step := face.Frame.Flatten(light).Scale(-h.off / rise)
	if n := step.Len() / h.off; n > longest {
		step = step.Scale(longest / n)
	}
	rings := make([]plane.Ring, len(h.rings))
	for i, r := range h.rings {
		rings[i] = r.Map(step.Add)
	}
	if !h.inside {
		kept, err := plane.RegionOf(rings[0]).Intersection(face.Outline)
		if err != nil {
			return facet{}, false
		}
		rings = kept.Rings()
	}
	colour := wallColour
	if i := slices.IndexFunc(p.scene.faces, func(f facet) bool { return f.face == h.face }); i >= 0 {
		colour = p.scene.faces[i].fill
	}
	return facet{
		name: p.scene.work.Site.Title(h.face), face: h.face, rank: rankShadow,
		level: levelAt(face.Frame.Origin, face.Frame.Out),
		loops: lifted(face.Frame, rings, 0),
		fill:  mix(lit(colour, face.Frame.Out, light), shadeColour, 0.22),
	}.settle(), len(rings) > 0
}

// frame returns the box of what the picture must hold: every face that is shown and the standing
// figure, and the floor: in a perspective as far as it makes the picture only a little larger.
//
// A face that may carry pieces takes its room as far out as any piece stands, so that none makes it larger.
func (s Scene) frame(c Camera, facets []facet) plane.Rect {
	var box, floor plane.Rect
	first, carry := true, s.carries()
	for _, f := range facets {
		if f.rank == rankFace && f.face >= 0 && carry(f) {
			facets = append(slices.Clip(facets), s.raised(f))
		}
	}
	for _, f := range facets {
		f = c.clip(f)
		if len(f.loops) == 0 {
			continue
		}
		b := boxOf(c, f)
		switch {
		case f.name == "floor":
			floor = b
		case f.face >= 0 && (f.rank == rankFitting || f.rank == rankPane || f.rank == rankShadow):
		case first:
			box, first = b, false
		default:
			box = box.Union(b)
		}
	}
	if floor != (plane.Rect{}) {
		spare := box.Height() * 0.3
		if c.eye[3] == 0 { // no part of it comes near the eye
			spare = math.Inf(1)
		}
		box.Max.Y = math.Max(box.Max.Y, math.Min(floor.Max.Y, box.Max.Y+spare))
		box.Min.X = math.Min(box.Min.X, math.Max(floor.Min.X, box.Min.X-spare))
		box.Max.X = math.Max(box.Max.X, math.Min(floor.Max.X, box.Max.X+spare))
	}
	return box
}

// raised returns a face as far out as the pieces that stand out most.
func (s Scene) raised(f facet) facet {
	out := 0.0
	for _, k := range s.work.Kinds {
		out = math.Max(out, k.StandOff)
	}
	face := s.work.Site.Faces[f.face]
	f.loops = lifted(face.Frame, face.Outline.Rings(), out)
	f.level = levelAt(face.Frame.Lift(plane.Point{}, out), face.Frame.Out)
	return f.settle()
}

// Shape returns how wide the picture is, for 1 of its height.
func (p Picture) Shape() float64 { return p.box.Width() / p.box.Height() }

// Missing returns how many pieces hang on faces that the picture leaves out.
func (p Picture) Missing() int {
	n := 0
	for _, h := range p.scene.hung {
		if !p.shown[h.face] {
			n++
		}
	}
	return n
}

// Draw draws the picture as large as the area lets it, in its middle, and returns the box that it
// takes up. Nothing is drawn outside that box.
func (p Picture) Draw(c draw.Canvas, area plane.Rect) plane.Rect {
	camera := p.camera.framed(p.box, area)
	k := math.Min(area.Width()/p.box.Width(), area.Height()/p.box.Height())
	half := plane.Point{X: p.box.Width() * k / 2, Y: p.box.Height() * k / 2}
	taken := plane.Rect{Min: area.Centre().Sub(half), Max: area.Centre().Add(half)}
	const lines = 0.3 // half of an edge lies outside
	c.Clip(plane.Rectangle(taken.Min, taken.Width(), taken.Height()).Map(func(q plane.Point) plane.Point {
		return q.Add(plane.Point{X: math.Copysign(lines, q.X-area.Centre().X), Y: math.Copysign(lines, q.Y-area.Centre().Y)})
	}))
	// A small picture has finer lines, so that they do not fill it.
	fine := math.Min(1, math.Max(0.4, math.Sqrt(taken.Width()*taken.Height())/140))
	for _, f := range p.facets {
		f.edge.Width *= fine
		paint(c, camera, f)
	}
	c.Unclip()
	return taken
}

// paint draws one facet: its area in one go, and its edges where it was cut only as far as they
// are its own.
func paint(c draw.Canvas, camera Camera, f facet) {
	rings := make([]plane.Ring, len(f.loops))
	whole := true
	for i, l := range f.loops {
		rings[i] = make(plane.Ring, len(l))
		for j, k := range l {
			rings[i][j] = camera.At(k.at)
			whole = whole && !k.cut
		}
	}
	look := draw.Paint{Fill: draw.Solid(f.fill)}
	if whole {
		look.Stroke = f.edge
	}
	c.Group(f.name)
	c.Polygon(rings, look)
	if !whole && f.edge.Width > 0 {
		for i, l := range f.loops {
			for _, line := range runs(l, rings[i]) {
				c.Polyline(line, f.edge)
			}
		}
	}
	c.End()
}

// runs returns the parts of a ring that are edges of the thing itself. At least one edge is cut.
func runs(l loop, ring plane.Ring) [][]plane.Point {
	first := slices.IndexFunc(l, func(k corner) bool { return k.cut })
	if first < 0 {
		return [][]plane.Point{append(slices.Clone(ring), ring[0])}
	}
	var out [][]plane.Point
	var line []plane.Point
	for i := 1; i <= len(l); i++ {
		at := (first + i) % len(l)
		line = append(line, ring[at])
		if l[at].cut {
			if len(line) > 1 {
				out = append(out, line)
			}
			line = nil
		}
	}
	return out
}
