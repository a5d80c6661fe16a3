// Package heading is directions on a face and their statistics.
//
// People say a heading as a bearing: degrees clockwise from straight up. Code turns by angles:
// radians counter-clockwise from +x. Bearing.Angle and FromAngle are the only place where one
// becomes the other.
//
// The statistics are those of directions, where 359° and 1° are neighbours: K. V. Mardia and
// P. E. Jupp, Directional Statistics (2000), and N. I. Fisher, Statistical Analysis of Circular
// Data (1993). What comes out of a sine, a logarithm or an exponential may differ in its last
// bits between processors, so a caller that keeps a direction keeps it as a Bearing, which
// FromAngle rounds to 0.01°.
package heading

import "math"

// A Bearing is a heading in degrees clockwise from straight up on the face, in [0, 360).
// 0 is 12 o'clock and 90 is 3 o'clock.
type Bearing float64

// FromAngle returns the bearing of an angle in radians counter-clockwise from +x, rounded to 0.01°.
func FromAngle(radians float64) Bearing {
	hundredths := math.Mod(math.Round((90-radians*180/math.Pi)*100), 36000)
	switch {
	case hundredths < 0:
		hundredths += 36000
	case hundredths == 0: // -0 too, which would print with its sign
		hundredths = 0
	}
	return Bearing(hundredths / 100)
}

// Angle returns b in radians counter-clockwise from +x.
func (b Bearing) Angle() float64 { return (90 - float64(b)) * math.Pi / 180 }

// Turned returns b turned clockwise by so many degrees, rounded to 0.01°.
func (b Bearing) Turned(clockwise float64) Bearing {
	hundredths := math.Mod(math.Round((float64(b)+clockwise)*100), 36000)
	if hundredths < 0 {
		hundredths += 36000
	}
	return Bearing(hundredths/100 + 0)
}
