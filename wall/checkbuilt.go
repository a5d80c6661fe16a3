package wall

import (
	"fmt"
	"math"

	"wallshoal/wall/plane"
)

// built complains of what cannot be of the studs and joints of a wall, whatever its outline is, and
// reports whether there is nothing of that kind.
func (c *checker) built(field string, w Wall) bool {
	before := len(c.problems)
	if !(w.HoleEdge >= 0 && w.HoleEdge <= MaxLength) {
		c.add(field+".holes.edge", c.show(w.HoleEdge)+" is not a distance from an edge", "give 0 or more")
	}
	if w.Studs != nil {
		c.studs(field+".studs", *w.Studs)
	}
	if w.Joints != nil {
		c.joints(field+".joints", *w.Joints)
	}
	return len(c.problems) == before
}

// builtOn complains of studs and joints, sound by themselves, that do not go with the outline.
func (c *checker) builtOn(field string, w Wall) {
	box := w.Outline.Bounds()
	if !w.Bare && w.HoleEdge > 0 && 2*w.HoleEdge >= math.Min(box.Width(), box.Height()) {
		c.add(field+".holes.edge", c.show(w.HoleEdge)+" along every edge leaves nothing to drill", "give a smaller distance")
	}
	if w.Studs != nil {
		c.studsOn(field+".studs", w, box)
	}
	if j := w.Joints; j != nil && !box.Grow(math.Max(j.Course, j.Length)).Contains(j.First) {
		c.add(field+".joints.first", "the place lies off the wall, at x = "+c.show(j.First.X)+", y = "+c.show(j.First.Y),
			"measure, from the wall's left end and from the floor, where an upright joint meets the level one below it")
	}
}

// ruled complains of a rule for holes that is none.
func (c *checker) ruled(field string, rule HoleRule, keep float64) {
	switch rule {
	case HolesAnywhere, HolesOn, HolesOff:
	default:
		c.add(field+".holes", fmt.Sprintf("%q is not a rule for holes", rule), "write on or off")
	}
	if !(keep >= 0 && keep <= MaxLength) {
		c.add(field+".keep", c.show(keep)+" is not a distance to keep", "give 0 or more")
	}
}

func (c *checker) studs(field string, s Studs) {
	before := len(c.problems)
	c.within(field+".width", s.Width, MinLength, MaxLength)
	c.ruled(field, s.Holes, s.Keep)
	switch s.Material {
	case "", TimberStud, SteelStud:
	default:
		c.add(field+".material", fmt.Sprintf("%q is nothing that studs are made of", s.Material), "write timber or steel")
	}
	if len(s.At) == 0 {
		c.within(field+".spacing", s.Spacing, MinLength, MaxLength)
		c.within(field+".first", s.First, -MaxLength, MaxLength)
	}
	if len(c.problems) > before {
		return
	}
	gap := c.between(field, s)
	if len(c.problems) > before {
		return
	}
	switch {
	case s.Holes == HolesOn && 2*s.Keep >= s.Width:
		c.add(field+".keep", c.show(s.Keep)+" from both edges leaves nothing of a stud of "+c.show(s.Width), "give less than half of the width")
	case s.Holes == HolesOff && 2*s.Keep >= gap:
		c.add(field+".keep", c.show(s.Keep)+" from every stud leaves nothing between two that are "+c.show(gap)+" apart", "give less than half of that")
	}
}

// between complains of studs that overlap, and returns the widest gap between two; infinity where
// there is one stud alone.
func (c *checker) between(field string, s Studs) float64 {
	if len(s.At) == 0 {
		if s.Width >= s.Spacing {
			c.add(field+".width", "studs of "+c.show(s.Width)+" overlap where one comes every "+c.show(s.Spacing), "give a width below the spacing, which is from middle to middle")
		}
		return s.Spacing - s.Width
	}
	if len(s.At) > MaxStuds {
		c.add(field+".at", fmt.Sprintf("there are %d studs", len(s.At)), fmt.Sprintf("give at most %d on one wall", MaxStuds))
		return 0
	}
	gap := math.Inf(1)
	for i, at := range s.At {
		one := fmt.Sprintf("%s.at[%d]", field, i)
		if !(math.Abs(at) <= MaxLength) {
			c.within(one, at, -MaxLength, MaxLength)
			return 0
		}
		if i == 0 {
			continue
		}
		if apart := at - s.At[i-1]; apart < s.Width {
			c.add(one, "a stud of "+c.show(s.Width)+" at "+c.show(at)+" overlaps the one before it, at "+c.show(s.At[i-1]), "list the middles of the studs in order, each of them once")
			return 0
		} else if i == 1 || apart-s.Width > gap {
			gap = apart - s.Width
		}
	}
	return gap
}

// studsOn complains of studs that do not stand on the wall, which fills that box.
func (c *checker) studsOn(field string, w Wall, box plane.Rect) {
	s := *w.Studs
	low, high := s.extent(box)
	fix := "measure the middle of the stud from the wall's left end"
	switch {
	case w.Ceiling && s.Across:
		fix = "measure the middle of the joist from the first wall, since the joists run across"
	case w.Ceiling:
		fix = "measure the middle of the joist from the ceiling's left end, as it is seen facing the first wall"
	case s.Across:
		fix = "measure the middle of the stud from the floor, since the studs run across"
	}
	off := func(field string, at float64) {
		if at < low-flush || at > high+flush {
			c.add(field, c.show(at)+" is off the wall, which goes from "+c.show(low)+" to "+c.show(high), fix)
		}
	}
	for i, at := range s.At {
		off(fmt.Sprintf("%s.at[%d]", field, i), at)
	}
	if len(s.At) > 0 {
		return
	}
	off(field+".first", s.First)
	if n := math.Floor((high-s.First)/s.Spacing+grain) + 1; n > MaxStuds {
		c.add(field+".spacing", fmt.Sprintf("%s makes %.0f studs", c.show(s.Spacing), n), fmt.Sprintf("give a spacing that makes at most %d on one wall", MaxStuds))
	}
}

func (c *checker) joints(field string, j Joints) {
	before := len(c.problems)
	c.within(field+".course", j.Course, MinUnit, MaxLength)
	c.within(field+".length", j.Length, MinUnit, MaxLength)
	c.ruled(field, j.Holes, j.Keep)
	if j.Bond != HalfBond && j.Bond != StackBond {
		c.add(field+".bond", fmt.Sprintf("%q is not a bond", j.Bond), "write half or stack")
	}
	if !j.First.Finite() {
		c.add(field+".first", "it is at no place", "give two lengths")
	}
	if !(j.Width > 0 && j.Width <= MaxLength) {
		c.add(field+".width", c.show(j.Width)+" is not the width of a joint", "give a number above 0")
	}
	if len(c.problems) > before {
		return
	}
	small, what := j.Course, "a course"
	if j.Length < small {
		small, what = j.Length, "a unit and its joint"
	}
	if j.Bond == HalfBond && j.Length/2 < small {
		small, what = j.Length/2, "half of a unit and its joint"
	}
	unit := math.Min(j.Course, j.Length) - j.Width
	switch {
	case j.Width >= small:
		c.add(field+".width", fmt.Sprintf("joints of %s leave nothing of the units: %s measures %s in all", c.show(j.Width), what, c.show(small)),
			"give the width of a joint; course and length are of a unit and a joint together")
	case j.Holes == HolesOn && 2*j.Keep >= j.Width:
		c.add(field+".keep", c.show(j.Keep)+" from both edges leaves nothing of a joint of "+c.show(j.Width), "give less than half of the width")
	case j.Holes == HolesOff && 2*j.Keep >= unit:
		c.add(field+".keep", c.show(j.Keep)+" from every joint leaves nothing of a unit of "+c.show(unit), "give less than half of that")
	}
}
