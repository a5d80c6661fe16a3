package plane

import "math"

// A Motion turns the plane about its origin and then moves it, as laying one sheet of paper on
// another does. The zero value is no use: make one by Stay or Carry.
type Motion struct {
	cos, sin float64
	shift    Point
}

// Stay returns the motion that leaves every point where it is.
func Stay() Motion { return Motion{cos: 1} }

// Carry returns the motion that takes the line from a to b onto the line from c to d, a falling on
// c. The two must be as long as one another and longer than nothing.
func Carry(a, b, c, d Point) Motion {
	from, to := b.Sub(a), d.Sub(c)
	scale := 1 / math.Sqrt(float64(from.Dot(from))*to.Dot(to))
	m := Motion{cos: from.Dot(to) * scale, sin: from.Cross(to) * scale}
	m.shift = c.Sub(m.turn(a))
	return m
}

func (m Motion) turn(p Point) Point {
	return Point{
		float64(p.X*m.cos) - float64(p.Y*m.sin),
		float64(p.X*m.sin) + float64(p.Y*m.cos),
	}
}

// Apply returns where p comes to lie.
func (m Motion) Apply(p Point) Point { return m.turn(p).Add(m.shift) }

// Then returns the motion that does m first and n after it.
func (m Motion) Then(n Motion) Motion {
	return Motion{
		cos:   float64(m.cos*n.cos) - float64(m.sin*n.sin),
		sin:   float64(m.sin*n.cos) + float64(m.cos*n.sin),
		shift: n.Apply(m.shift),
	}
}

// Inverse returns the motion that undoes m.
func (m Motion) Inverse() Motion {
	back := Motion{cos: m.cos, sin: -m.sin}
	back.shift = back.turn(m.shift).Scale(-1)
	return back
}

// Angle returns how far m turns, in radians counter-clockwise, in (-π, π].
func (m Motion) Angle() float64 { return math.Atan2(m.sin, m.cos) }
