// Package heading is directions on a face and their statistics.
//
// People say a heading as a bearing: degrees clockwise from straight up. Code turns by angles:
// radians counter-clockwise from +x. Bearing.Angle and FromAngle are the only place where one
// becomes the other.
package heading

import "math"

// A Bearing is a heading in degrees clockwise from straight up on the face, in [0, 360).
// 0 is 12 o'clock and 90 is 3 o'clock.
type Bearing float64

// FromAngle returns the bearing of an angle in radians counter-clockwise from +x, rounded to 0.01°.
func FromAngle(radians float64) Bearing {
	hundredths := math.Mod(math.Round((90-radians*180/math.Pi)*100), 36000)
	if hundredths < 0 {
		hundredths += 36000
	}
	return Bearing(hundredths / 100)
}

// Angle returns b in radians counter-clockwise from +x.
func (b Bearing) Angle() float64 { return (90 - float64(b)) * math.Pi / 180 }
