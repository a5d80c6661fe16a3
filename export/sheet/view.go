package sheet

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// A view is one face of a work with what hangs on it.
type view struct {
	work    holemap.Work
	index   int // of the face in the site
	face    wall.Face
	wall    wall.Wall
	rings   []plane.Ring // the outline of the face, with its holes
	bounds  plane.Rect   // of the outline
	pieces  []hung
	holes   []holemap.Hole
	several bool // the work has several faces that carry pieces

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
	if f.Outline.Empty() {
		return view{}, fmt.Errorf("face number %d has no outline", face)
	}
	v := view{work: w, index: face, face: f, wall: w.Site.Room.Walls[f.Wall], bounds: f.Outline.Bounds()}
	v.rings = ringsOf(f.Outline)
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
	carrying := 0
	for _, f := range w.Site.Faces {
		if f.Used {
			carrying++
		}
	}
	v.several = carrying > 1
	return v, nil
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

// isWall reports whether the face is the wall itself and not a side of something on it.
func (v view) isWall() bool { return v.face.Name == "wall" || v.face.Name == "" }

// name returns what the sheets call the face.
func (v view) name() string {
	if v.isWall() {
		return v.wall.Name
	}
	return v.wall.Name + ", " + v.face.Name
}

// obstructions returns what stands on the face.
func (v view) obstructions() []wall.Obstruction {
	if v.isWall() {
		return v.wall.Obstructions
	}
	return nil
}

// zonesThatSpeak returns the zones of the face that can bind something in the work: a zone for what
// burns says nothing where no kind burns, nor one for what stands out where none stands out so far.
func (v view) zonesThatSpeak() []wall.Zone {
	var out []wall.Zone
	for _, z := range v.face.Zones {
		speaks := z.Binds != wall.Combustible && z.Binds != wall.Projecting
		for _, k := range v.work.Kinds {
			speaks = speaks || z.Binds == wall.Combustible && k.Combustible || z.Binds == wall.Projecting && k.StandOff > z.Limit
		}
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
	if v.face.Frame.Up.Z < 0.999 {
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
}

func (m mapping) at(p plane.Point) plane.Point {
	return plane.Point{X: m.origin.X + float64(p.X*m.k), Y: m.origin.Y - float64(p.Y*m.k)}
}

func (m mapping) ring(r plane.Ring) plane.Ring { return r.Map(m.at) }

func (m mapping) rings(rs []plane.Ring) []plane.Ring {
	out := make([]plane.Ring, len(rs))
	for i, r := range rs {
		out[i] = m.ring(r)
	}
	return out
}

// box returns the upright rectangle on the page that r becomes.
func (m mapping) box(r plane.Rect) plane.Rect {
	a, b := m.at(r.Min), m.at(r.Max)
	return plane.Rect{Min: plane.Point{X: a.X, Y: b.Y}, Max: plane.Point{X: b.X, Y: a.Y}}
}
