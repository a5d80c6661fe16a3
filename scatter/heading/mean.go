package heading

import "math"

// cancelled is the resultant below which directions are taken to cancel out: the sines of a
// million directions leave a rounding error far below it.
const cancelled = 1e-12

// Mean returns the mean direction of angles, in radians in (-π, π], and their mean resultant
// length, from 0 for directions that cancel out to 1 for directions all alike. Where they cancel
// out, or there are none, there is no mean direction: ok is false, and mean and resultant are 0.
func Mean(angles []float64) (mean, resultant float64, ok bool) {
	var x, y float64
	for _, a := range angles {
		sin, cos := math.Sincos(a)
		x += cos
		y += sin
	}
	resultant = math.Hypot(x, y) / float64(max(1, len(angles)))
	if !(resultant > cancelled) {
		return 0, 0, false
	}
	return math.Atan2(y, x), math.Min(1, resultant), true
}

// MeanBearing is Mean for bearings.
func MeanBearing(bearings []Bearing) (mean Bearing, resultant float64, ok bool) {
	angles := make([]float64, len(bearings))
	for i, b := range bearings {
		angles[i] = b.Angle()
	}
	angle, resultant, ok := Mean(angles)
	if !ok {
		return 0, 0, false
	}
	return FromAngle(angle), resultant, true
}

// Deviation returns the circular standard deviation of directions with the given mean resultant
// length, √(-2 ln R), in degrees (Mardia and Jupp; Fisher): 0 for directions
// all alike, and +Inf for those that cancel out.
func Deviation(resultant float64) float64 {
	return math.Sqrt(math.Max(0, -2*math.Log(resultant))) * 180 / math.Pi
}
