package wall

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// Limits of a room.
const (
	MaxWalls        = 64
	MaxObstructions = 500  // on one wall
	MaxInRoom       = 2000 // obstructions in the whole room
	MaxMarked       = 200  // zones that the plan names, on one wall
	MaxCorners      = 400  // of one outline
	MaxName         = 60   // characters
	MaxReason       = 200  // characters
	MinLength       = 1    // of anything measured, mm
	MaxLength       = 1e6  // of anything measured, mm
	MaxDepth        = 50e3 // of an obstruction, mm
)

// flush is how far, in mm, something may reach past the edge of its wall and still count as
// standing on it: sums of measured lengths are seldom exact in the last bits.
const flush = 0.01

// Check returns everything that is wrong with the room, wall by wall. Lengths in what it says are
// in the given unit. A room without problems can be surveyed.
func (r Room) Check(units measure.Unit) []Problem {
	c := checker{units: units}
	switch {
	case len(r.Walls) == 0:
		c.add("room.walls", "there is no wall", "describe at least one")
	case len(r.Walls) > MaxWalls:
		c.add("room.walls", fmt.Sprintf("there are %d walls", len(r.Walls)), fmt.Sprintf("plan at most %d at a time", MaxWalls))
		return c.problems
	}
	c.within("room.datum", r.Datum, -MaxLength, MaxLength)
	names := map[string]int{}
	for i, w := range r.Walls {
		field := fmt.Sprintf("room.walls[%d]", i)
		c.wallName(field, w.Name, i, names)
		c.wall(field, w)
	}
	if r.Ceiling != nil {
		c.wallName("room.ceiling", r.Ceiling.Name, len(r.Walls), names)
		c.ceiling("room.ceiling", *r.Ceiling)
	}
	all := 0
	for _, w := range r.Walls {
		all += len(w.Obstructions) + len(w.FarSide)
	}
	if r.Ceiling != nil {
		all += len(r.Ceiling.Obstructions) + len(r.Ceiling.FarSide)
	}
	if all > MaxInRoom {
		c.add("room.walls", fmt.Sprintf("there are %d obstructions in all", all),
			fmt.Sprintf("keep within %d: leave out what is on walls that take no pieces, or plan fewer walls at a time", MaxInRoom))
	}
	if len(c.problems) == 0 {
		c.fits(r)
	}
	return c.problems
}

// A checker gathers problems.
type checker struct {
	units    measure.Unit
	problems []Problem
}

func (c *checker) add(field, wrong, fix string) {
	c.problems = append(c.problems, Problem{Field: field, Wrong: wrong, Fix: fix})
}

func (c *checker) show(mm float64) string { return measure.Precise(mm, c.units) }

// within complains unless low ≤ mm ≤ high.
func (c *checker) within(field string, mm, low, high float64) {
	if !(low <= mm && mm <= high) {
		c.add(field, c.show(mm)+" is out of range", "give a length from "+c.show(low)+" to "+c.show(high))
	}
}

func (c *checker) wallName(field, name string, i int, names map[string]int) {
	if wrong, fix := CheckName(name); wrong != "" {
		c.add(field+".name", wrong, fix)
		return
	}
	key := FoldName(name)
	if first, taken := names[key]; taken {
		c.add(field+".name", fmt.Sprintf("%q is also the name of wall %d", name, first+1), "give each wall a name of its own")
		return
	}
	names[key] = i
}

// CheckName returns what is wrong with name as the name of a wall or a piece, and what to write
// instead; nothing where it is good. Names become parts of file names, so they are letters and
// digits of any script, spaces and - _ . ' and the comma, and neither begin nor end with a dot or
// a space.
func CheckName(name string) (wrong, fix string) {
	const allowed = "use letters, digits, spaces and - _ . , ' only"
	switch n := utf8.RuneCountInString(name); {
	case n == 0:
		return "there is no name", "give one"
	case n > MaxName:
		return fmt.Sprintf("the name has %d characters", n), fmt.Sprintf("keep it within %d", MaxName)
	case strings.HasPrefix(name, ".") || strings.HasSuffix(name, "."):
		return fmt.Sprintf("%q begins or ends with a dot", name), "remove the dot"
	case strings.TrimSpace(name) != name:
		return fmt.Sprintf("%q begins or ends with a space", name), "remove the space"
	case !strings.ContainsFunc(name, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }):
		return fmt.Sprintf("%q has no letter and no digit", name), "give a name that can be read out"
	}
	for _, r := range name {
		if !unicode.In(r, unicode.L, unicode.M, unicode.Nd) && !strings.ContainsRune(" -_.',’", r) {
			return fmt.Sprintf("%q has the character %q, which not every system takes in a file name", name, r), allowed
		}
	}
	return "", ""
}

// FoldName returns what tells names apart: the letters and digits of name, in small letters.
func FoldName(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.In(r, unicode.L, unicode.M, unicode.Nd) {
			return unicode.ToLower(unicode.ToUpper(r))
		}
		return -1
	}, norm.NFC.String(name))
}

// few complains of more things on a wall than can be planned, and reports whether there are not.
func (c *checker) few(field string, w Wall) bool {
	if len(w.Obstructions) > MaxObstructions {
		c.add(field+".obstructions", fmt.Sprintf("there are %d obstructions", len(w.Obstructions)), fmt.Sprintf("give at most %d on one wall", MaxObstructions))
		return false
	}
	if len(w.Marked) > MaxMarked {
		c.add(field+".zones", fmt.Sprintf("there are %d zones", len(w.Marked)), fmt.Sprintf("give at most %d on one wall", MaxMarked))
		return false
	}
	return true
}

func (c *checker) surface(field string, s Surface) {
	if !knownSurface(s) {
		c.add(field+".surface", fmt.Sprintf("%q is not a surface", s), "write one of "+surfaceNames())
	}
}

// ceiling complains of what is wrong with a ceiling whatever its outline is.
func (c *checker) ceiling(field string, w Wall) {
	c.surface(field, w.Surface)
	c.beyond(field, w, false)
	if !c.few(field, w) {
		return
	}
	if !(w.Margin >= 0 && w.Margin <= MaxLength) {
		c.add(field+".margin", c.show(w.Margin)+" is not a margin", "give 0 or more")
	}
	c.built(field, w)
	for i, o := range w.Obstructions {
		c.obstruction(fmt.Sprintf("%s.obstructions[%d]", field, i), o, nil, false)
	}
	for i, z := range w.Marked {
		c.marked(fmt.Sprintf("%s.zones[%d]", field, i), z, nil, false)
	}
}

func (c *checker) wall(field string, w Wall) {
	if !(-180 < w.Turn && w.Turn < 180) {
		c.add(field+".turn", fmt.Sprintf("%v is not a turn", w.Turn),
			"give degrees between -180 and 180: 90 an inside corner, -90 an outside corner, 0 straight on")
	}
	c.surface(field, w.Surface)
	c.alone(field, w.Alone)
	if !c.few(field, w) {
		return
	}
	sound := c.ring(field+".outline", w.Outline) && c.stands(field+".outline", w.Outline)
	c.margin(field+".margin", w, sound)
	c.floor(field+".floor", w.Floor, w.Outline, sound)
	c.beyond(field, w, sound)
	if c.built(field, w) && sound {
		c.builtOn(field, w)
	}
	for i, o := range w.Obstructions {
		c.obstruction(fmt.Sprintf("%s.obstructions[%d]", field, i), o, w.Outline, sound)
	}
	for i, z := range w.Marked {
		c.marked(fmt.Sprintf("%s.zones[%d]", field, i), z, w.Outline, sound)
	}
}

func knownSurface(s Surface) bool {
	for _, known := range Surfaces() {
		if s == known {
			return true
		}
	}
	return false
}

func surfaceNames() string {
	var names []string
	for _, s := range Surfaces() {
		names = append(names, string(s))
	}
	return strings.Join(names, ", ")
}

// stands complains unless the wall's outline stands where a wall does.
func (c *checker) stands(field string, r plane.Ring) bool {
	b := r.Bounds()
	switch {
	case math.Abs(b.Min.X) > flush:
		c.add(field, "its leftmost corner is at x = "+c.show(b.Min.X), "measure x from the wall's left end, so that the leftmost corner has x = 0")
	case b.Min.Y < -flush:
		c.add(field, "its lowest corner is "+c.show(-b.Min.Y)+" below the floor", "measure y from the floor up")
	default:
		return true
	}
	return false
}

func (c *checker) margin(field string, w Wall, sound bool) {
	if !(w.Margin >= 0 && w.Margin <= MaxLength) {
		c.add(field, c.show(w.Margin)+" is not a margin", "give 0 or more")
		return
	}
	b := w.Outline.Bounds()
	if sound && !w.Bare && w.Margin > 0 && 2*w.Margin >= math.Min(b.Width(), b.Height()) {
		c.add(field, c.show(w.Margin)+" along every edge leaves nothing of the wall", "give a smaller margin, or write use: false for a wall that takes no pieces")
	}
}

func (c *checker) obstruction(field string, o Obstruction, outline plane.Ring, sound bool) {
	if !knownKind(o.Kind) {
		c.add(field+".kind", fmt.Sprintf("%q is not a kind of obstruction", o.Kind), "write one of "+kindNames())
	}
	if o.Name == "" {
		c.add(field+".name", "there is no name", "give one")
	}
	if !(math.Abs(o.Depth) <= MaxDepth) {
		c.add(field+".depth", c.show(o.Depth)+" is deeper than any room", "give at most "+c.show(MaxDepth))
	}
	if !(o.Clearance >= 0 && o.Clearance <= MaxLength) {
		c.add(field+".clearance", c.show(o.Clearance)+" is not a clearance", "give 0 or more")
	}
	c.use(field, o)
	if c.ring(field, o.Shape) && sound {
		c.onWall(field, o.Shape, outline)
	}
}

func (c *checker) marked(field string, z Zone, outline plane.Ring, sound bool) {
	if z.Name == "" {
		c.add(field+".name", "there is no name", "give one")
	}
	if z.Strength != Forbidden && z.Strength != Caution {
		c.add(field+".strength", fmt.Sprintf("%q is not a strength", z.Strength), "write forbidden or caution")
	}
	switch z.Binds {
	case Pieces, Holes, Combustible, Projecting:
	default:
		c.add(field+".binds", fmt.Sprintf("%q is nothing a zone can bind", z.Binds), "write pieces, holes, combustible or projecting")
	}
	if !(z.Limit >= 0 && z.Limit <= MaxDepth) {
		c.add(field+".limit", c.show(z.Limit)+" is not a limit", "give 0 or more")
	}
	switch {
	case z.Shape.Empty():
		c.add(field, "the zone has no area", "give a width and a height above 0")
	case sound && !z.Shape.Bounds().Overlaps(outline.Bounds()):
		c.add(field, "the zone lies wholly outside the wall", "measure it from the wall's left end and from the floor")
	}
}

// ring complains unless r is a sound outline, and reports whether it is.
func (c *checker) ring(field string, r plane.Ring) bool {
	problem, found := CheckRing(r, c.units)
	if found {
		c.add(field, problem.Wrong, problem.Fix)
	}
	return !found
}

// CheckRing returns what is wrong with r as the outline of something: its corners must be finite
// and few, its sides must not cross, it must run counter-clockwise and its box must measure
// between MinLength and MaxLength both ways.
func CheckRing(r plane.Ring, units measure.Unit) (Problem, bool) {
	wrong := func(wrong, fix string) (Problem, bool) { return Problem{Wrong: wrong, Fix: fix}, true }
	switch {
	case len(r) < 3:
		return wrong(fmt.Sprintf("the outline has %d corners", len(r)), "give at least 3")
	case len(r) > MaxCorners:
		return wrong(fmt.Sprintf("the outline has %d corners", len(r)), fmt.Sprintf("give at most %d", MaxCorners))
	}
	for i, p := range r {
		if !p.Finite() {
			return wrong(fmt.Sprintf("corner %d is at no place", i+1), "give two lengths")
		}
	}
	b := r.Bounds()
	small, large := math.Min(b.Width(), b.Height()), math.Max(b.Width(), b.Height())
	switch {
	case small < MinLength:
		return wrong("it is only "+measure.Precise(small, units)+" across", "give at least "+measure.Precise(MinLength, units)+" each way")
	case large > MaxLength:
		return wrong("it is "+measure.Precise(large, units)+" across", "give at most "+measure.Precise(MaxLength, units)+" each way")
	}
	if i, j, crosses := r.Crossing(); crosses {
		return wrong(fmt.Sprintf("the side after corner %d and the side after corner %d cross or touch", i+1, j+1),
			"give the corners in order round the outline, each of them once")
	}
	if r.Area() <= 0 {
		return wrong("the outline runs clockwise", "give its corners counter-clockwise")
	}
	return Problem{}, false
}

// onWall complains of a shape that does not lie wholly on the wall.
func (c *checker) onWall(field string, shape, outline plane.Ring) {
	out, side := past(shape, outline)
	if out <= flush {
		return
	}
	how := "reaches " + c.show(out) + " past " + side
	fix := "move it or make it smaller, or correct the wall"
	if apart(shape, outline) {
		how = "lies wholly outside the wall, up to " + c.show(out) + " past " + side
		fix = "measure it from the wall's left end and from the floor"
	}
	c.add(field, how, fix)
}

// past returns how far shape reaches out of outline, in mm, and past which side.
func past(shape, outline plane.Ring) (mm float64, side string) {
	s, o := shape.Bounds(), outline.Bounds()
	for _, edge := range []struct {
		out  float64
		name string
	}{
		{o.Min.X - s.Min.X, "the left end of the wall"},
		{s.Max.X - o.Max.X, "the right end of the wall"},
		{o.Min.Y - s.Min.Y, "the foot of the wall"},
		{s.Max.Y - o.Max.Y, "the top of the wall"},
	} {
		if edge.out > mm {
			mm, side = edge.out, edge.name
		}
	}
	if mm > flush || upright(outline) {
		return mm, side
	}
	return farthestOut(shape, outline), "the outline of the wall"
}

// upright reports whether r is an upright rectangle, so that its box says all.
func upright(r plane.Ring) bool {
	b := r.Bounds()
	return len(r) == 4 && math.Abs(r.Area()-b.Width()*b.Height()) < 1e-9*r.Area()
}

// farthestOut returns how far the boundary of shape strays from the area inside outline, measured
// at its corners and halfway between the places where it crosses the outline.
func farthestOut(shape, outline plane.Ring) float64 {
	var far float64
	for i, a := range shape {
		b := shape[(i+1)%len(shape)]
		stops := append(crossings(a, b, outline), 1)
		last := 0.0
		for _, t := range stops {
			for _, p := range []plane.Point{a.Lerp(b, (last+t)/2), a.Lerp(b, t)} {
				if !outline.Contains(p) {
					far = math.Max(far, toEdge(p, outline))
				}
			}
			last = t
		}
	}
	return far
}

// crossings returns where the sides of r cross the segment ab, as shares of the way from a to b in
// rising order.
func crossings(a, b plane.Point, r plane.Ring) []float64 {
	var stops []float64
	along := b.Sub(a)
	for i, c := range r {
		side := r[(i+1)%len(r)].Sub(c)
		lean := along.Cross(side)
		if lean == 0 {
			continue
		}
		t, u := c.Sub(a).Cross(side)/lean, c.Sub(a).Cross(along)/lean
		if t > 0 && t < 1 && u >= 0 && u <= 1 {
			stops = append(stops, t)
		}
	}
	slices.Sort(stops)
	return stops
}

// toEdge returns the distance from p to the boundary of r.
func toEdge(p plane.Point, r plane.Ring) float64 {
	near := math.Inf(1)
	for i, a := range r {
		near = math.Min(near, plane.SegmentDistance(p, a, r[(i+1)%len(r)]))
	}
	return near
}

// apart reports whether shape and outline share no area.
func apart(shape, outline plane.Ring) bool {
	return !plane.RegionOf(outline).Touches(shape)
}

// ObstructionKinds returns every kind of obstruction a plan can name, in alphabetical order.
func ObstructionKinds() []ObstructionKind {
	return []ObstructionKind{
		Alarm, Boxing, Bulkhead, Cable, CallPoint, Chimney, Column, Detector, Door, ExitDoor, ExitSign,
		Extinguisher, Fireplace, Fixture, Flue, Hatch, Lamp, Niche, Panel, Pipe, Radiator, Shelf, Sign,
		Socket, Sprinkler, Switch, Vent, Window,
	}
}

// knownKind reports whether a plan can name k.
func knownKind(k ObstructionKind) bool {
	for _, known := range ObstructionKinds() {
		if k == known {
			return true
		}
	}
	return false
}

func kindNames() string {
	var names []string
	for _, k := range ObstructionKinds() {
		names = append(names, string(k))
	}
	return strings.Join(names, ", ")
}
