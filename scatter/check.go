package scatter

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"wallshoal/scatter/heading"
	"wallshoal/scatter/mixing"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// Limits of a composition.
const (
	MaxKinds    = 52
	MaxHoles    = 12      // in one kind of piece
	MaxPieces   = 200_000 // in one work
	MaxStandOff = 5e3     // farther than a room is deep, mm
	MinBit      = 0.1     // mm
	MaxBit      = 100     // mm
	MaxDrill    = 1e3     // how deep a hole may go, mm
	MaxWeight   = 1e6     // of one piece, grams
	MaxShare    = 1e6
	MaxSpread   = 120  // of headings, degrees; beyond it any is as likely
	MaxApart    = 180  // of headings, degrees
	MaxFamily   = 1000 // pieces of one kind side by side
	MaxMove     = 1e3  // of a piece for its holes, mm
	MaxReseat   = 180  // by which a piece is turned for its holes, degrees
	MaxHoleGap  = 1e3  // between the holes of different pieces, mm
)

// CheckKinds returns everything that is wrong with the kinds of pieces, one by one. Lengths in
// what it says are in the given unit.
func CheckKinds(kinds []Kind, units measure.Unit) []wall.Problem {
	c := checker{units: units}
	switch {
	case len(kinds) == 0:
		c.add("pieces", "there is no kind of piece", "describe at least one")
	case len(kinds) > MaxKinds:
		c.add("pieces", fmt.Sprintf("there are %d kinds of pieces", len(kinds)), fmt.Sprintf("give at most %d", MaxKinds))
		return c.problems
	}
	if len(kinds) > 0 && !slices.ContainsFunc(kinds, func(k Kind) bool { return k.Count != 0 || k.Share != 0 }) {
		c.add("pieces", "no kind has a share or a count above 0", "give at least one of them some pieces")
	}
	names, codes := map[string]int{}, map[string]int{}
	for i, k := range kinds {
		field := fmt.Sprintf("pieces[%d]", i)
		c.names(field, k, i, names, codes)
		c.kind(field, k)
	}
	return c.problems
}

// Check returns everything that is wrong with what the artist asks for of the kinds, which must be
// good; without kinds it does not ask whether their counts add up. Lengths in what it says are in the given unit.
func (comp Composition) Check(kinds []Kind, units measure.Unit) []wall.Problem {
	c := checker{units: units}
	switch {
	case comp.Count == 0 && comp.Density.PerSquareMetre > 0: // the walls say how many
	case comp.Count < 1 || comp.Count > MaxPieces:
		c.add("composition.count", fmt.Sprintf("%d is not a number of pieces", comp.Count), fmt.Sprintf("give a whole number from 1 to %d", MaxPieces))
	case len(kinds) > 0:
		_, err := Quotas(kinds, comp.Count)
		if p, ok := err.(wall.Problem); ok {
			c.problems = append(c.problems, p)
		}
	}
	if !(comp.Spacing >= wall.MinLength && comp.Spacing <= wall.MaxLength) {
		c.add("composition.spacing", c.show(comp.Spacing)+" is not a spacing", "give at least "+c.show(wall.MinLength))
	}
	if !(comp.Gap >= 0 && comp.Gap <= wall.MaxLength) {
		c.add("composition.gap", c.show(comp.Gap)+" is not a gap", "give 0 or more")
	}
	if !(comp.Overlap >= 0 && comp.Overlap < 1) {
		c.add("composition.overlap", fmt.Sprintf("%v is not a share that may be covered", comp.Overlap), "give 0 or more, below 1, like 0.2 or 20 %")
	}
	c.headings(comp.Headings)
	c.mixing(comp.Mixing)
	c.seating(comp.Seating)
	return c.problems
}

func (c *checker) headings(s heading.Scheme) {
	c.figure("composition.spread", "a spread of headings", s.Spread, 0, MaxSpread, "degrees")
	strays := c.figure("composition.strays", "a share of strays", s.Strays, 0, 1, "a share")
	second := c.figure("composition.second.share", "a share of the pieces", s.Second.Share, 0, 1, "a share")
	c.figure("composition.second.turn", "a turn from the flow", s.Second.Turn, -360, 360, "degrees clockwise")
	if strays && second && s.Strays+s.Second.Share > 1 {
		c.add("composition.second.share", fmt.Sprintf("it and the strays come to %v", s.Strays+s.Second.Share), "give shares that come to 1 at most")
	}
	c.figure("composition.differ", "a difference between headings", s.Apart, 0, MaxApart, "degrees")
}

func (c *checker) mixing(s mixing.Scheme) {
	switch s.Way {
	case "", mixing.Scattered, mixing.Drifting:
		if s.Size != 0 {
			c.add("composition.mix", "there is a size of families, and no families", "give it with families")
		}
	case mixing.Families:
		if s.Size < 2 || s.Size > MaxFamily {
			c.add("composition.mix.families", fmt.Sprintf("%d is not a number of pieces in a family", s.Size), fmt.Sprintf("give a whole number from 2 to %d", MaxFamily))
		}
	default:
		c.add("composition.mix", fmt.Sprintf("%q is not a way to mix", s.Way), "give scattered, drifting or families")
	}
}

func (c *checker) seating(s Seating) {
	c.within("composition.seating.move", "a move", s.Move, 0, MaxMove)
	c.figure("composition.seating.turn", "a turn", s.Turn, 0, MaxReseat, "degrees")
	c.within("composition.seating.holes", "a distance between holes", s.Holes, 0, MaxHoleGap)
}

// figure complains of a figure that is not from low to high, and reports whether it is.
func (c *checker) figure(field, noun string, n, low, high float64, of string) bool {
	if low <= n && n <= high {
		return true
	}
	c.add(field, fmt.Sprintf("%v is not %s", n, noun), fmt.Sprintf("give %s from %v to %v", of, low, high))
	return false
}

// A checker gathers problems.
type checker struct {
	units    measure.Unit
	problems []wall.Problem
}

func (c *checker) add(field, wrong, fix string) {
	c.problems = append(c.problems, wall.Problem{Field: field, Wrong: wrong, Fix: fix})
}

func (c *checker) show(mm float64) string { return measure.Precise(mm, c.units) }

func (c *checker) names(field string, k Kind, i int, names, codes map[string]int) {
	if wrong, fix := wall.CheckName(k.ofAnySize()); wrong != "" {
		c.add(field+".name", wrong, fix)
	} else if first, taken := names[wall.FoldName(k.Name)]; taken {
		c.add(field+".name", fmt.Sprintf("%q is also the name of piece %d", k.Name, first+1), "give each kind a name of its own")
	} else {
		names[wall.FoldName(k.Name)] = i
	}
	code := strings.ToUpper(k.Code)
	first, taken := codes[code]
	switch {
	case !goodCode(k.Code):
		c.add(field+".code", fmt.Sprintf("%q is not a code", k.Code), "give one or two letters or digits, like A or B2")
	case taken:
		c.add(field+".code", fmt.Sprintf("%q is also the code of piece %d", k.Code, first+1), "give each kind a code of its own")
	default:
		codes[code] = i
	}
}

// ofAnySize returns the name of k less its size, which may have signs that names have not.
func (k Kind) ofAnySize() string {
	if k.Size == "" {
		return k.Name
	}
	return strings.TrimSuffix(k.Name, ", "+k.Size)
}

func goodCode(code string) bool {
	n := utf8.RuneCountInString(code)
	return 1 <= n && n <= 2 && !strings.ContainsFunc(code, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

func (c *checker) kind(field string, k Kind) {
	problem, found := wall.CheckRing(k.Outline, c.units)
	if found {
		c.add(field+".outline", problem.Wrong, problem.Fix)
	}
	switch {
	case len(k.Holes) == 0:
		c.add(field+".holes", "there is no hole", "give at least one")
	case len(k.Holes) > MaxHoles:
		c.add(field+".holes", fmt.Sprintf("there are %d holes", len(k.Holes)), fmt.Sprintf("give at most %d", MaxHoles))
	default:
		c.holes(field, k, !found)
	}
	if !(k.StandOff >= 0 && k.StandOff <= MaxStandOff) {
		c.add(field+".stand-off", c.show(k.StandOff)+" is not a stand-off in any room", "give 0 to "+c.show(MaxStandOff))
	}
	c.figure(field+".turned", "a turn from the flow", k.Offset, -360, 360, "degrees clockwise")
	if !(k.Weight >= 0 && k.Weight <= MaxWeight) {
		c.add(field+".weight", fmt.Sprintf("%v g is not a weight", k.Weight), "give grams, 0 or more, or leave it out")
	}
	c.quota(field, k)
}

func (c *checker) quota(field string, k Kind) {
	switch {
	case k.Count < 0 || k.Count > MaxPieces:
		c.add(field+".count", fmt.Sprintf("%d is not a number of pieces", k.Count), fmt.Sprintf("give a whole number from 1 to %d", MaxPieces))
	case !(k.Share >= 0 && k.Share <= MaxShare):
		c.add(field+".share", fmt.Sprintf("%v is not a share", k.Share), "give a number above 0, like 1")
	case k.Count > 0 && k.Share > 0:
		c.add(field+".share", "there is a share and a count", "keep one of them")
	}
}

// holes complains of holes that the piece cannot hold.
func (c *checker) holes(field string, k Kind, sound bool) {
	for i, h := range k.Holes {
		hole := fmt.Sprintf("%s.holes[%d]", field, i)
		good := c.within(hole+".bit", "a bit", h.Bit, MinBit, MaxBit)
		c.within(hole+".depth", "a depth to drill", h.Depth, MinBit, MaxDrill)
		if h.Fixing == "" {
			c.add(hole+".fixing", "there is no fixing", "say what goes into the hole")
		}
		if h.Anchor != "" && !slices.Contains(Anchors(), h.Anchor) {
			c.add(hole+".anchor", fmt.Sprintf("%q is no way to hold", h.Anchor), "write pin, plug or expansion")
		}
		switch {
		case !h.At.Finite():
			c.add(hole+".at", "the hole is at no place", "give two numbers")
		case sound && good:
			c.inside(hole+".at", h, k.Outline)
			c.apart(hole+".at", k.Holes[:i], h)
		}
	}
}

func (c *checker) within(field, noun string, mm, low, high float64) bool {
	if low <= mm && mm <= high {
		return true
	}
	c.add(field, c.show(mm)+" is not "+noun, "give "+c.show(low)+" to "+c.show(high))
	return false
}

// inside complains of a hole that breaks through the outline or lies outside it.
func (c *checker) inside(field string, h Hole, outline plane.Ring) {
	const grain = 0.002 // corners and holes are rounded to 0.001 mm
	edge := math.Inf(1)
	for i, a := range outline {
		edge = math.Min(edge, plane.SegmentDistance(h.At, a, outline[(i+1)%len(outline)]))
	}
	switch {
	case !outline.Contains(h.At):
		c.add(field, "the hole lies "+c.show(edge)+" outside the outline", "move it inside")
	case edge+grain < h.Bit/2:
		c.add(field, fmt.Sprintf("a hole of %s lies %s from the edge and breaks through it", c.show(h.Bit), c.show(edge)), "move it inwards, or use a finer bit")
	}
}

// apart complains of a hole that meets one of those before it.
func (c *checker) apart(field string, before []Hole, h Hole) {
	for i, other := range before {
		if h.At.Distance(other.At) < (h.Bit+other.Bit)/2 {
			c.add(field, fmt.Sprintf("the hole meets hole %d", i+1), "move them apart")
			return
		}
	}
}
