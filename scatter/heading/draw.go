package heading

import (
	"math"
	"math/rand/v2"
)

const (
	// Few is how many of the nearest pieces a piece is to differ from in its heading.
	Few = 3
	// pool is how many draws there are at a time to choose a heading from.
	pool = 32
)

// A Drawer draws the headings of a scheme, with everything worked out that the draws have in common.
//
// Where pieces are to differ from their nearest, it chooses from a pool of draws about the flow. What
// is not taken stays there for another piece, so that whichever is chosen, all of them together are
// spread as the scheme says. Who chose from fresh draws each time would widen the spread.
type Drawer struct {
	scheme Scheme
	about  vonMises
	drawn  [pool]float64 // the first are the eldest
	left   int           // in the pool
}

// NewDrawer returns the drawer of the scheme.
func NewDrawer(s Scheme) Drawer { return Drawer{scheme: s, about: newVonMises(Kappa(s.Spread))} }

// Draw returns the heading of a piece with the given role, where the flow runs at the angle flow,
// in radians counter-clockwise from +x, and its kind is turned from there by offset degrees
// clockwise: from the von Mises distribution about that, or about the second direction, with the
// scheme's spread, or from all headings alike.
//
// near are the headings of the Few nearest pieces that stand already. Of the pool the eldest is taken
// that differs from all of them by the scheme's Apart or more, or, where none does, the one that
// differs most.
func (d *Drawer) Draw(rng *rand.Rand, role Role, flow, offset float64, near []Bearing) Bearing {
	clockwise := offset
	if role == Turned {
		clockwise += d.scheme.Second.Turn
	}
	meant := flow - float64(clockwise*(math.Pi/180))
	switch {
	case role == Straying && d.scheme.Apart > 0:
		return d.stray(rng, near)
	case role == Straying:
		return anywhere(rng)
	case !(d.scheme.Apart > 0):
		return FromAngle(meant + d.about.draw(rng))
	}
	for ; d.left < pool; d.left++ {
		d.drawn[d.left] = d.about.draw(rng)
	}
	taken, best, apart := 0, Bearing(0), -1.0
	for i, off := range d.drawn {
		next := FromAngle(meant + off)
		if least := Least(next, near); least > apart {
			taken, best, apart = i, next, least
		}
		if apart >= d.scheme.Apart {
			break
		}
	}
	copy(d.drawn[taken:], d.drawn[taken+1:])
	d.left--
	return best
}

// stray returns a heading of any that differs from those near, or of some the one that differs most.
func (d *Drawer) stray(rng *rand.Rand, near []Bearing) Bearing {
	best := anywhere(rng)
	apart := Least(best, near)
	for n := 1; n < pool && apart < d.scheme.Apart; n++ {
		next := anywhere(rng)
		if least := Least(next, near); least > apart {
			best, apart = next, least
		}
	}
	return best
}

func anywhere(rng *rand.Rand) Bearing { return FromAngle(math.Pi * (2*rng.Float64() - 1)) }

// Difference returns how far a and b differ, the shorter way round, in degrees from 0 to 180. It is
// exact to 0.01°.
func Difference(a, b Bearing) float64 {
	d := int(math.Round(math.Abs(float64(a-b))*100)) % 36000
	return float64(min(d, 36000-d)) / 100
}

// Least returns the least difference of b from the others, in degrees; 180 where there is none.
func Least(b Bearing, others []Bearing) float64 {
	least := 180.0
	for _, o := range others {
		least = min(least, Difference(b, o))
	}
	return least
}
