package wall

import (
	"math"
	"slices"

	"wallshoal/wall/plane"
)

// A HoleRule says where holes go as regards the studs of a wall, or its joints.
type HoleRule string

// The rules for holes.
const (
	HolesAnywhere HoleRule = ""    // studs and joints are only shown
	HolesOn       HoleRule = "on"  // in a stud, or in a joint, and nowhere else
	HolesOff      HoleRule = "off" // beside the studs, or in the units between the joints
)

// A structure is what is known of what a face is built of, in the coordinates of its wall.
type structure struct {
	studs    *Studs
	joints   *Joints
	last     int     // index of the last stud on the wall
	length   float64 // of the wall, mm
	mirrored bool    // the face is the back of the wall
	overhead bool    // the face is a ceiling
}

// structure returns what is known of what a wall, or the back of it, is built of. What stands on a
// wall or is let into it is built of itself: the wall's studs and joints do not go on there.
func (w Wall) structure(d draft) structure {
	if d.obstruction >= 0 || w.Studs == nil && w.Joints == nil {
		return structure{}
	}
	s := structure{studs: w.Studs, joints: w.Joints, length: w.length(), mirrored: d.side == Back, overhead: w.Ceiling}
	if s.studs != nil {
		s.last = s.studs.last(w.Outline.Bounds())
	}
	return s
}

// onWall returns where a place of the face lies on its wall, as seen from before that. It is its own
// inverse.
func (s structure) onWall(p plane.Point) plane.Point {
	if s.mirrored {
		p.X = s.length - p.X
	}
	return p
}

// grain is by how much sums of measured lengths may be out, mm.
const grain = 1e-6

// MayDrill reports whether the studs and joints of the wall let a hole be drilled at a place of the
// face with a bit of that diameter, in mm: all of the hole lies in a stud or a joint where the plan
// wants it there, and clear of them where it does not. Where it may not, the reason says why, as the
// end of a sentence about the hole. It takes as long however many there are, and allocates nothing.
//
// It says nothing of zones and of what stands on the face: DrillFor does.
func (f Face) MayDrill(at plane.Point, bit float64) (reason string, ok bool) {
	if f.built.studs == nil && f.built.joints == nil {
		return "", true
	}
	at = f.built.onWall(at)
	if f.built.studRoom(at, bit) < -grain {
		return f.built.studReason(), false
	}
	if f.built.jointRoom(at, bit) < -grain {
		return f.built.jointReason(), false
	}
	return "", true
}

// DrillMargin returns how far inside of what MayDrill allows a place of the face is, in mm: the
// distance to the nearest place where it does not let a hole of that bit be drilled. Outside it is
// below 0, and nothing nearer than its amount allows one. It is infinite where neither studs nor
// joints bind holes, and minus infinite where none of them is wide enough for the bit.
func (f Face) DrillMargin(at plane.Point, bit float64) float64 {
	if f.built.studs == nil && f.built.joints == nil {
		return math.Inf(1)
	}
	at = f.built.onWall(at)
	return math.Min(f.built.studRoom(at, bit), f.built.jointRoom(at, bit))
}

func (s structure) studRoom(at plane.Point, bit float64) float64 {
	if s.studs == nil {
		return math.Inf(1)
	}
	return s.studs.room(at, bit, s.last)
}

func (s structure) jointRoom(at plane.Point, bit float64) float64 {
	if s.joints == nil {
		return math.Inf(1)
	}
	return s.joints.room(at, bit)
}

func (s structure) studReason() string {
	switch {
	case s.studs.Holes == HolesOn && s.overhead:
		return "does not lie within a joist, and the plan wants holes in joists only"
	case s.studs.Holes == HolesOn:
		return "does not lie within a stud, and the plan wants holes in studs only"
	case s.overhead:
		return "lies in a joist or too near to one, and the plan keeps holes off joists"
	}
	return "lies in a stud or too near to one, and the plan keeps holes off studs"
}

func (s structure) jointReason() string {
	if s.joints.Holes == HolesOn {
		return "does not lie within a joint, and the plan wants holes in joints only"
	}
	return "lies in a joint or too near to one, and the plan keeps holes off joints"
}

// Studs returns what is known of the studs behind the face, and whether anything is.
func (f Face) Studs() (Studs, bool) {
	if f.built.studs == nil {
		return Studs{}, false
	}
	return *f.built.studs, true
}

// Joints returns what is known of the joints in the face, and whether anything is.
func (f Face) Joints() (Joints, bool) {
	if f.built.joints == nil {
		return Joints{}, false
	}
	return *f.built.joints, true
}

// OffStud returns how far a place of the face is from the edge of the nearest stud, in mm: below 0
// in a stud, and infinite where no stud is known.
func (f Face) OffStud(at plane.Point) float64 {
	if f.built.studs == nil {
		return math.Inf(1)
	}
	return f.built.studs.off(f.built.onWall(at), f.built.last) - f.built.studs.Width/2
}

// StudLines returns the centre lines of the studs, as far as they can be seen of the face.
func (f Face) StudLines() [][2]plane.Point {
	if f.built.studs == nil {
		return nil
	}
	return f.seen(f.built.studs.lines(f.Whole.Bounds(), f.built.last), f.Outline.Bounds())
}

// JointLines returns the centre lines of the joints, as far as they lie within the box and can be
// seen of the face.
func (f Face) JointLines(within plane.Rect) [][2]plane.Point {
	if f.built.joints == nil || !within.Overlaps(f.Outline.Bounds()) {
		return nil
	}
	box := within.Intersection(f.Outline.Bounds())
	a, b := f.built.onWall(box.Min), f.built.onWall(box.Max)
	on := plane.Rect{
		Min: plane.Point{X: math.Min(a.X, b.X), Y: a.Y},
		Max: plane.Point{X: math.Max(a.X, b.X), Y: b.Y},
	}
	return f.seen(f.built.joints.lines(on), box)
}

// seen returns the parts of lines on the wall that lie in the box and on what can be seen of the
// face, in its coordinates.
func (f Face) seen(lines [][2]plane.Point, box plane.Rect) [][2]plane.Point {
	var rings []plane.Ring
	for _, p := range f.Outline.Polygons() {
		rings = append(append(rings, p.Outer), p.Holes...)
	}
	var out [][2]plane.Point
	for _, l := range lines {
		a, b := f.built.onWall(l[0]), f.built.onWall(l[1])
		stops := []float64{0, 1}
		for _, r := range append([]plane.Ring{plane.Rectangle(box.Min, box.Width(), box.Height())}, rings...) {
			stops = append(stops, crossings(a, b, r)...)
		}
		slices.Sort(stops)
		for i, t := range stops[1:] {
			from, to := a.Lerp(b, stops[i]), a.Lerp(b, t)
			middle := from.Lerp(to, 0.5)
			if from.Distance(to) < flush || !box.Contains(middle) || !f.Outline.Contains(middle) {
				continue
			}
			if n := len(out); n > 0 && out[n-1][1] == from {
				out[n-1][1] = to
				continue
			}
			out = append(out, [2]plane.Point{from, to})
		}
	}
	return out
}

// TakesBit reports whether there is room for a hole of that bit, in mm, where the wall's studs and
// joints let holes be; where there is none, what says which of them it is.
func (w Wall) TakesBit(bit float64) (what string, ok bool) {
	if s := w.Studs; s != nil {
		if s.Holes == HolesOn && bit+2*s.Keep > s.Width+grain {
			return "studs", false
		}
		if s.Holes == HolesOff && len(s.At) == 0 && bit+2*s.Keep > s.Spacing-s.Width+grain && !w.beside(bit) {
			return "studs", false
		}
	}
	if j := w.Joints; j != nil {
		if j.Holes == HolesOn && bit+2*j.Keep > j.Width+grain || j.Holes == HolesOff && bit+2*j.Keep > math.Min(j.Course, j.Length)-j.Width+grain {
			return "joints", false
		}
	}
	return "", true
}

// beside reports whether a hole of that bit goes beside the first or the last of the wall's studs.
func (w Wall) beside(bit float64) bool {
	box := w.Outline.Bounds()
	low, high := w.Studs.extent(box)
	last := w.Studs.last(box)
	room := math.Max(w.Studs.First-low, high-w.Studs.centre(last))
	return room >= w.Studs.Width/2+w.Studs.Keep+bit/2
}
