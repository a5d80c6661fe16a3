package sheet

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A view is one face of a work with what hangs on it.
type view struct {
	work    holemap.Work
	index   int // of the face in the site
	face    wall.Face
	outline plane.Region // of all that is drawn of the face
	wall    wall.Wall
	rings   []plane.Ring       // the outline of the face, with its holes
	bounds  plane.Rect         // of the outline
	things  []wall.Obstruction // what stands on the face, where it lies there: first what is its wall's own
	own     int                // how many of the things are its wall's own
	pieces  []hung
	holes   []holemap.Hole
	joins   []wall.Join // corners with other faces, where somebody asked for them
	several bool        // the work has several faces that carry pieces
	number  int         // of the face among those that carry pieces, from 1; 0 where it carries none

	notes map[string]bool // codes of the cautions that are only to be kept in mind
}

// A hung is one piece as it hangs on the face.
type hung struct {
	scatter.Piece
	kind   scatter.Kind
	ring   plane.Ring
	bounds plane.Rect
}

// look returns the view of one face of a work, or says why there is none.
func look(w holemap.Work, face int) (view, error) {
	if face < 0 || face >= len(w.Site.Faces) {
		return view{}, fmt.Errorf("face number %d is not among the %d faces of the site", face, len(w.Site.Faces))
	}
	f := w.Site.Faces[face]
	if f.Wall < 0 || f.Wall >= len(w.Site.Room.Walls) {
		return view{}, fmt.Errorf("face number %d belongs to wall number %d, and there are %d walls", face, f.Wall, len(w.Site.Room.Walls))
	}
	if f.Outline.Empty() && f.Whole.Empty() {
		return view{}, fmt.Errorf("face number %d has no outline", face)
	}
	v := view{work: w, index: face, face: f, wall: w.Site.Room.Walls[f.Wall], outline: f.Outline}
	if v.isWall() && !f.Whole.Empty() {
		v.outline = f.Whole
	}
	v.bounds, v.rings = v.outline.Bounds(), ringsOf(v.outline)
	v.things = v.obstructions()
	if f.IsBack() {
		v.things = w.Site.On(face)
	}
	v.own = len(v.things)
	v.things = append(slices.Clip(v.things), v.covers()...)
	for _, p := range w.Layout.Pieces {
		if p.Face != face {
			continue
		}
		if p.Kind < 0 || p.Kind >= len(w.Kinds) {
			return view{}, fmt.Errorf("piece %d is of kind number %d, and there are %d kinds", p.ID, p.Kind, len(w.Kinds))
		}
		ring := p.Outline(w.Kinds)
		v.pieces = append(v.pieces, hung{Piece: p, kind: w.Kinds[p.Kind], ring: ring, bounds: ring.Bounds()})
	}
	for _, h := range w.Map.Holes {
		if h.Face == face {
			v.holes = append(v.holes, h)
		}
	}
	v.notes = map[string]bool{}
	for _, c := range w.Map.Cautions {
		v.notes[c.Code] = c.Severity == caution.Note
	}
	carrying := carryingFaces(w)
	v.several = len(carrying) > 1
	v.number = slices.Index(carrying, face) + 1
	return v, nil
}

// carryingFaces returns the faces that carry pieces, or are made to, in the order of the site.
func carryingFaces(w holemap.Work) []int {
	carries := make([]bool, len(w.Site.Faces))
	for i, f := range w.Site.Faces {
		carries[i] = f.Used
	}
	for _, p := range w.Layout.Pieces {
		if p.Face >= 0 && p.Face < len(carries) {
			carries[p.Face] = true
		}
	}
	var out []int
	for i, c := range carries {
		if c {
			out = append(out, i)
		}
	}
	return out
}

// ringsOf returns every ring of a region: outer ones and holes.
func ringsOf(r plane.Region) []plane.Ring {
	var out []plane.Ring
	for _, p := range r.Polygons() {
		out = append(out, p.Outer)
		out = append(out, p.Holes...)
	}
	return out
}

// covered reports whether some of what is drawn of the face cannot be seen, because something
// stands before it or is let into it.
func (v view) covered() bool { return v.outline.Area()-v.face.Outline.Area() > 1 }

// isWall reports whether the face is the wall itself and not a side of something on it.
func (v view) isWall() bool { return v.face.Name == wall.WallFace || v.face.Name == "" }

// name returns what the sheets call the face.
func (v view) name() string {
	if v.isWall() {
		return v.wall.Name
	}
	return v.wall.Name + ", " + v.face.Name
}

// shown returns what the sheets call the face, and from where it is seen where that is not from
// before it.
func (v view) shown() string {
	if v.wall.Ceiling {
		return v.name() + ", as seen looking up"
	}
	return v.name()
}

// owner returns the thing that has the face as one of its sides, and whether there is one.
func (v view) owner() (wall.Obstruction, bool) {
	i := v.face.Obstruction
	if v.isWall() || i < 0 || i >= len(v.wall.Obstructions) {
		return wall.Obstruction{}, false
	}
	return v.wall.Obstructions[i], true
}

// obstructions returns what stands on the face, where it lies there: all that stands on a wall, and
// what of it stands on or before the front of a thing, or the back of a recess.
func (v view) obstructions() []wall.Obstruction {
	if v.isWall() {
		return v.wall.Obstructions
	}
	own, is := v.owner()
	frame, found := v.wallFrame()
	if !is || !found || v.face.Frame.Out.Dot(frame.Out) < level {
		return nil
	}
	_, z := frame.Local(v.face.Frame.Origin)
	var out []wall.Obstruction
	for i, o := range v.wall.Obstructions {
		behind := o.Depth >= wall.MinLength && o.Depth < z+wall.MinLength
		under := math.Abs(o.Depth) >= wall.MinLength && plane.RegionOf(o.Shape).Holds(own.Shape)
		if i == v.face.Obstruction || behind || under {
			continue
		}
		o.Shape = o.Shape.Map(func(p plane.Point) plane.Point {
			q, _ := v.face.Frame.Local(frame.At(p))
			return q
		})
		if v.face.Outline.Touches(o.Shape) {
			out = append(out, o)
		}
	}
	return out
}

// level is the least cosine of the angle between two directions that count as one.
const level = 0.999

// wallFrame returns the frame of the wall that the face belongs to, and whether the wall is there
// to be seen.
func (v view) wallFrame() (space.Frame, bool) {
	for _, f := range v.work.Site.Faces {
		if f.Wall == v.face.Wall && f.Name == wall.WallFace {
			return f.Frame, true
		}
	}
	return space.Frame{}, false
}

// zonesThatSpeak returns the zones of the face that can bind something in the work: a zone for what
// burns says nothing where no kind burns, nor one for what stands out where none stands out so far.
func (v view) zonesThatSpeak() []wall.Zone {
	var out []wall.Zone
	for _, z := range v.face.Zones {
		speaks := z.Binds == wall.Holes || slices.ContainsFunc(v.work.Kinds, func(k scatter.Kind) bool { return z.Concerns(k.Load()) })
		if speaks && !z.Shape.Empty() {
			out = append(out, z)
		}
	}
	return out
}

// flagged reports whether a caution on the hole has to be settled before it is drilled.
func (v view) flagged(h holemap.Hole) bool {
	return slices.ContainsFunc(h.Cautions, func(code string) bool { return !v.notes[code] })
}

// datum returns the height on the face, in mm above its foot, at which the datum crosses it, and
// whether the face stands upright, so that there is such a height.
func (v view) datum() (y float64, upright bool) {
	if !holemap.Upright(v.face) {
		return 0, false
	}
	return v.work.Site.Room.Datum - v.face.Frame.Origin.Z, true
}

// heightOf returns the height above the floor, in mm, of a point of the face.
func (v view) heightOf(p plane.Point) float64 { return v.face.Frame.At(p).Z }

// length returns a length as the sheets show it, with its unit.
func (v view) length(mm float64) string { return measure.Format(mm, v.work.Units) }

// figure returns a length as a drawing that states its unit once shows it.
func (v view) figure(mm float64) string { return measure.Figure(mm, v.work.Units) }

// drill returns the diameter of a bit as the sheets show it: in millimetres, or in the fraction of
// an inch that the bit is sold by where the plan is in feet or inches and there is one.
func (v view) drill(mm float64) string {
	if v.work.Units.Imperial() {
		parts := mm * 64 / inch
		if whole := math.Round(parts); whole > 0 && math.Abs(parts-whole) < 0.02 {
			return fraction(int(whole)) + `"`
		}
		return fmt.Sprintf("Ø%g mm", round2(mm))
	}
	return fmt.Sprintf("Ø%g", round2(mm))
}

// fraction returns a number of sixty-fourths in lowest terms.
func fraction(n int) string {
	d := 64
	for n%2 == 0 && d > 1 {
		n, d = n/2, d/2
	}
	switch {
	case d == 1:
		return fmt.Sprint(n)
	case n > d:
		return fmt.Sprintf("%d-%d/%d", n/d, n%d, d)
	}
	return fmt.Sprintf("%d/%d", n, d)
}

func round2(v float64) float64 { return math.Round(v*100) / 100 }

// A mapping carries the points of a face onto a page.
type mapping struct {
	origin plane.Point // where the face's origin stands on the page, mm
	k      float64     // millimetres on the page for each on the face
	turn   float64     // of the face as it lies on the page, radians counter-clockwise
}

func (m mapping) at(p plane.Point) plane.Point {
	if m.turn != 0 {
		p = p.Rotate(m.turn)
	}
	return plane.Point{X: m.origin.X + float64(p.X*m.k), Y: m.origin.Y - float64(p.Y*m.k)}
}

// back returns the point of the face at a point of the page.
func (m mapping) back(q plane.Point) plane.Point {
	p := plane.Point{X: (q.X - m.origin.X) / m.k, Y: (m.origin.Y - q.Y) / m.k}
	if m.turn != 0 {
		p = p.Rotate(-m.turn)
	}
	return p
}

func (m mapping) ring(r plane.Ring) plane.Ring { return r.Map(m.at) }

func (m mapping) rings(rs []plane.Ring) []plane.Ring {
	out := make([]plane.Ring, len(rs))
	for i, r := range rs {
		out[i] = m.ring(r)
	}
	return out
}

// box returns the smallest upright rectangle on the page round what r becomes.
func (m mapping) box(r plane.Rect) plane.Rect {
	return m.ring(corners(r)).Bounds()
}

// way returns the step of length 1 on the page along a heading on the face.
func (m mapping) way(h heading.Bearing) plane.Point {
	sin, cos := math.Sincos(h.Angle() + m.turn)
	return plane.Point{X: cos, Y: -sin}
}
