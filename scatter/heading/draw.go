package heading

import (
	"math"
	"math/rand/v2"
)

const (
	// Few is how many of the nearest pieces a piece is to differ from in its heading.
	Few = 3
	// draws is how many headings are drawn, at most, for one that differs as much as asked.
	draws = 8
)

// A Drawer draws the headings of a scheme, with everything worked out that the draws have in common.
type Drawer struct {
	scheme Scheme
	about  vonMises
}

// NewDrawer returns the drawer of the scheme.
func NewDrawer(s Scheme) Drawer { return Drawer{s, newVonMises(Kappa(s.Spread))} }

// Draw returns the heading of a piece with the given role, where the flow runs at the angle flow,
// in radians counter-clockwise from +x, and its kind is turned from there by offset degrees
// clockwise: from the von Mises distribution about that, or about the second direction, with the
// scheme's spread, or from all headings alike.
//
// near are the headings of the Few nearest pieces that stand already. Of a few draws it is the first
// that differs from all of them by the scheme's Apart or more, or, where none does, the one that
// differs most. That widens the spread a little: who stands among alike neighbours heads farther off.
func (d *Drawer) Draw(rng *rand.Rand, role Role, flow, offset float64, near []Bearing) Bearing {
	best := d.one(rng, role, flow, offset)
	if !(d.scheme.Apart > 0) || len(near) == 0 {
		return best
	}
	apart := Least(best, near)
	for n := 1; n < draws && apart < d.scheme.Apart; n++ {
		next := d.one(rng, role, flow, offset)
		if other := Least(next, near); other > apart {
			best, apart = next, other
		}
	}
	return best
}

// one draws one heading.
func (d *Drawer) one(rng *rand.Rand, role Role, flow, offset float64) Bearing {
	clockwise := offset
	if role == Turned {
		clockwise += d.scheme.Second.Turn
	}
	var off float64
	if role == Straying {
		off = math.Pi * (2*rng.Float64() - 1)
	} else {
		off = d.about.draw(rng)
	}
	return FromAngle(flow - float64(clockwise*(math.Pi/180)) + off)
}

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
