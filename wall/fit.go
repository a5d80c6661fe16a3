package wall

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"wallshoal/wall/plane"
)

// Limits of the things with a depth in all of a room.
const (
	MaxSides    = 800  // that they have
	MaxMeetings = 5000 // of a side with another thing, or with one of the parts that a thing with inward corners falls into
)

// use complains of sides that o has not.
func (c *checker) use(field string, o Obstruction) {
	if o.Margin != nil && !(*o.Margin >= 0 && *o.Margin <= MaxLength) {
		c.add(field+".margin", c.show(*o.Margin)+" is not a margin", "give 0 or more")
	}
	has := Sides(o.Depth)
	if len(o.Use) > 0 && (len(has) == 0 || o.hidden()) {
		c.add(field+".use", "it is flat and has no sides", "give a depth of "+c.show(MinLength)+" or more, or remove use")
		return
	}
	for _, s := range o.Use {
		if s == All {
			continue
		}
		known := false
		for _, own := range has {
			known = known || (s == own && (!o.Round || s == Front || s == Back))
		}
		if !known {
			c.add(field+".use", fmt.Sprintf("it has no side called %q", string(s)), "write all, or some of "+sideNames(o))
		}
	}
}

func sideNames(o Obstruction) string {
	var names []string
	for _, s := range Sides(o.Depth) {
		if !o.Round || s == Front || s == Back {
			names = append(names, string(s))
		}
	}
	return strings.Join(names, ", ")
}

// alone complains of a wall that stands alone where it cannot.
func (c *checker) alone(field string, s *Stand) {
	if s == nil {
		return
	}
	if s.At != nil {
		c.within(field+".at", s.At.X, -MaxLength, MaxLength)
		c.within(field+".at", s.At.Y, -MaxLength, MaxLength)
	}
	if !(-360 <= s.Angle && s.Angle <= 360) {
		c.add(field+".angle", fmt.Sprintf("%v is not an angle", s.Angle), "give degrees between -360 and 360")
	}
	c.within(field+".gap", s.Gap, 0, MaxLength)
	c.within(field+".thickness", s.Thickness, 0, MaxDepth)
	if s.Back && s.Thickness < MinLength {
		c.add(field+".thickness", c.show(s.Thickness)+" parts the front from the back", "give a thickness of "+c.show(MinLength)+" or more, or remove back")
	}
}

// fits complains of walls and things that are sound one by one and do not go together: walls that
// cross, a room that cannot have its ceiling, things deeper than the room, and sides that are to
// carry pieces of which nothing can be seen.
func (c *checker) fits(r Room) {
	sides := 0
	for _, w := range r.Walls {
		sides += w.sides()
	}
	if r.Ceiling != nil {
		sides += r.Ceiling.sides()
	}
	if sides > MaxSides {
		c.add("room.walls", fmt.Sprintf("the things with a depth have %d sides", sides),
			fmt.Sprintf("keep within %d: leave out the depth of things that need no faces, or plan fewer walls at a time", MaxSides))
		return
	}
	if c.crossings(r) {
		return
	}
	b, err := lay(r)
	if err != nil {
		var p Problem
		if !errors.As(err, &p) {
			p = Problem{Field: "room", Wrong: err.Error(), Fix: "correct it"}
		}
		c.problems = append(c.problems, p)
		return
	}
	if r.Ceiling != nil && !c.onCeiling(b) {
		return
	}
	if n := b.meetings(); n > MaxMeetings {
		c.add("room.walls", fmt.Sprintf("the things with a depth run into one another in %d places", n),
			fmt.Sprintf("keep within %d: draw as one what is one, with fewer corners", MaxMeetings))
		return
	}
	if c.tooDeep(b) {
		return
	}
	if err := b.see(); err != nil {
		c.add("room", err.Error(), "correct it")
		return
	}
	c.unseen(b)
}

// sides returns how many sides the things with a depth on w have.
func (w Wall) sides() int {
	n := 0
	for _, o := range w.Obstructions {
		switch {
		case o.flat() || o.hidden():
		case o.Round:
			n++
		default:
			n += 1 + len(o.Shape)
		}
	}
	return n
}

// meetings returns how often the sides of things may meet other things.
func (b *building) meetings() int {
	n := 0
	for _, d := range b.drafts {
		reach := d.box()
		for _, bodies := range [2][]body{b.solids, b.recesses} {
			for _, s := range bodies {
				if !s.owns(d) && s.box.touches(reach) {
					n += len(s.parts)
				}
			}
		}
	}
	return n
}

// field returns the path of a wall in the plan.
func (b *building) field(wall int) string {
	if b.room.Walls[wall].Ceiling {
		return "room.ceiling"
	}
	return fmt.Sprintf("room.walls[%d]", wall)
}

// crossings complains of walls that cross in plan, and reports whether there are any. Walls that
// only meet, as carefully as a room is measured, do not cross.
func (c *checker) crossings(r Room) bool {
	frames := r.frames()
	next := map[[2]int]bool{}
	r.corners(func(a, b int) { next[[2]int{a, b}], next[[2]int{b, a}] = true, true })
	ends := make([][2]plane.Point, len(frames))
	for i, f := range frames {
		length := r.Walls[i].length()
		short := math.Min(roughly, length/3)
		for k, x := range [2]float64{short, length - short} {
			v := f.At(plane.Point{X: x})
			ends[i][k] = plane.Point{X: v.X, Y: v.Y}
		}
	}
	found, row := false, false // row: joined walls that cross; those after them stand nowhere right
	for i := range frames {
		for j := range i {
			if row && r.Walls[i].Alone == nil || next[[2]int{j, i}] || !plane.SegmentsMeet(ends[j][0], ends[j][1], ends[i][0], ends[i][1]) {
				continue
			}
			found = true
			row = row || r.Walls[i].Alone == nil
			fix := "correct the lengths and turns of the walls up to here"
			if r.Walls[i].Alone != nil {
				fix = "place it where it stands free"
			}
			c.add(fmt.Sprintf("room.walls[%d]", i), fmt.Sprintf("the wall crosses %s in plan", r.Walls[j].Name), fix)
			break
		}
	}
	return found
}

// onCeiling complains of what does not lie on the ceiling, and reports whether all does.
func (c *checker) onCeiling(b *building) bool {
	before := len(c.problems)
	w := b.room.Walls[len(b.room.Walls)-1]
	c.margin("room.ceiling.margin", w, true)
	c.builtOn("room.ceiling", w)
	for i, o := range w.Obstructions {
		if out, _ := past(o.Shape, w.Outline); out > flush {
			c.add(fmt.Sprintf("room.ceiling.obstructions[%d]", i), "reaches "+c.show(out)+" past the edge of the ceiling",
				"measure x from its left end and y from the first wall, as seen facing that wall with the head back")
		}
	}
	return len(c.problems) == before
}

// tooDeep complains of things that reach through a wall that is not next to their own, or through
// the floor, and reports whether there are any.
func (c *checker) tooDeep(b *building) bool {
	found := false
	for _, s := range b.solids {
		if s.obstruction < 0 {
			continue
		}
		field := fmt.Sprintf("%s.obstructions[%d].depth", b.field(s.wall), s.obstruction)
		if b.room.Walls[s.wall].Ceiling {
			if low := s.box.min.Z; low < -flush {
				found = true
				c.add(field, c.show(s.high)+" reaches "+c.show(-low)+" below the floor", "make it less deep, or correct the walls' height")
			}
			continue
		}
		near, at := math.Inf(1), -1
		for i := range b.frames {
			if i == s.wall || b.room.Walls[i].Ceiling || b.isNext(s.wall, i) {
				continue
			}
			if z, met := s.metBy(b, i); met && z < near {
				near, at = z, i
			}
		}
		if at >= 0 {
			found = true
			wrong := fmt.Sprintf("%s is deeper than the room, where %s stands %s off", c.show(s.high), b.room.Walls[at].Name, c.show(near))
			if b.room.Walls[at].Alone != nil {
				wrong = fmt.Sprintf("%s reaches through %s, which stands %s off", c.show(s.high), b.room.Walls[at].Name, c.show(near))
			}
			c.add(field, wrong, "make it less deep, or correct the walls")
		}
	}
	return found
}

func (b *building) isNext(wall, other int) bool {
	for _, n := range b.neighbours(wall) {
		if n == other {
			return true
		}
	}
	return false
}

// metBy reports whether the wall with that index passes through the inside of s, and how far off
// the wall of s it does so at the nearest, in mm.
func (s body) metBy(b *building, wall int) (float64, bool) {
	f := b.frames[wall]
	shrunk := s
	if s.high-s.low > 4*flush {
		shrunk.low, shrunk.high = s.low+2*flush, s.high-2*flush
	}
	met, err := shrunk.slice(f, behind)
	if err == nil && !met.Empty() {
		met, err = met.Intersection(plane.RegionOf(b.room.Walls[wall].Outline))
	}
	if err != nil || met.Empty() {
		return 0, false
	}
	near := math.Inf(1)
	for _, p := range met.Polygons() {
		for _, q := range p.Outer {
			_, z := s.frame.Local(f.At(q))
			near = math.Max(s.low, math.Min(near, z))
		}
	}
	return near, true
}

// unseen complains of sides that are to carry pieces and of which nothing can be seen, or nothing
// is left by their margins. A side that is only meant with all the others may be hidden.
func (c *checker) unseen(b *building) {
	type asked struct {
		wall, obstruction int
		side              Side
	}
	seen := map[asked]bool{}
	any := map[[2]int]bool{}
	for _, d := range b.drafts {
		if d.obstruction < 0 || !d.used || d.outline.Empty() {
			continue
		}
		seen[asked{d.wall, d.obstruction, d.side}] = true
		any[[2]int{d.wall, d.obstruction}] = true
		own := b.room.Walls[d.wall].Obstructions[d.obstruction].Margin
		box := d.limit.Bounds()
		if own != nil && *own > 0 && 2**own >= math.Min(box.Width(), box.Height()) && !b.usesAll(d) {
			c.add(fmt.Sprintf("%s.obstructions[%d].margin", b.field(d.wall), d.obstruction),
				fmt.Sprintf("%s along every edge leaves nothing of the %s", c.show(*own), d.side.words(b.room.Walls[d.wall].Obstructions[d.obstruction].Depth)),
				"give a smaller margin, or take the side out of use")
		}
	}
	for i, w := range b.room.Walls {
		for j, o := range w.Obstructions {
			field := fmt.Sprintf("%s.obstructions[%d].use", b.field(i), j)
			for _, s := range o.Use {
				switch {
				case s == All && !any[[2]int{i, j}]:
					c.add(field, "nothing can be seen of "+o.Name, "correct its place and depth, or remove use")
				case s != All && !seen[asked{i, j, s}]:
					c.add(field, fmt.Sprintf("nothing can be seen of the %s of %s", s.words(o.Depth), o.Name),
						"take "+string(s)+" out of use, or correct the places and depths of what hides it")
				}
			}
		}
	}
}

func (b *building) usesAll(d draft) bool {
	for _, s := range b.room.Walls[d.wall].Obstructions[d.obstruction].Use {
		if s == All {
			return true
		}
	}
	return false
}
