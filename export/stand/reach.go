package stand

import (
	"math"

	"wallshoal/wall"
	"wallshoal/wall/measure"
)

// Reach is how far one reaches. It differs from one person to another.
type Reach struct {
	Width  float64 // along the wall from one place, mm
	Height float64 // above the floor where one stands, without a ladder, mm; and up and down from one place
	Ladder float64 // above that floor from a step ladder, mm; what is higher takes a platform
}

// The limits of a reach, mm.
const (
	leastWidth, mostWidth   = 300, 3000
	leastHeight, mostHeight = 1000, 3000
	mostLadder              = 6000
)

// UsualReach returns a width of 1.2 m and heights of 2.0 m and 3.0 m (common practice). The height is
// the one above which a caution speaks of a ladder.
func UsualReach() Reach { return Reach{Width: 1200, Height: 2000, Ladder: 3000} }

// Problems returns what is wrong with the reach, with fields as a plan names them and lengths in the
// given units.
func (r Reach) Problems(units measure.Unit) []wall.Problem {
	var out []wall.Problem
	check := func(field string, mm, low, high float64, fix string) {
		if mm >= low && mm <= high && !math.IsNaN(mm) {
			return
		}
		out = append(out, wall.Problem{
			Field: "install.reach." + field,
			Wrong: measure.Precise(mm, units) + " is no reach " + fix,
			Fix:   "write a length from " + measure.Precise(low, units) + " to " + measure.Precise(high, units),
		})
	}
	check("width", r.Width, leastWidth, mostWidth, "along a wall from one place")
	check("height", r.Height, leastHeight, mostHeight, "above the floor without a ladder")
	least := float64(leastHeight)
	if len(out) == 0 || r.Height >= leastHeight && r.Height <= mostHeight {
		least = r.Height
	}
	check("ladder", r.Ladder, least, mostLadder, "above the floor from a step ladder")
	return out
}

// access returns what one stands on to reach so high above the floor there: nobody drills overhead from a
// step ladder, nor sets one up across steps.
func (r Reach) access(height float64, overhead, steps bool) Access {
	switch {
	case height <= r.Height:
		return Floor
	case steps:
		return StairPlatform
	case overhead || height > r.Ladder:
		return Platform
	}
	return Ladder
}
