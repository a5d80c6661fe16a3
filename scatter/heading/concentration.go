package heading

import "math"

// manyTimes is the concentration above which the series in 1/kappa is used: its first term left
// out is below 1e-12 from there on.
const manyTimes = 100

// MeanResultant returns A(kappa) = I1(kappa)/I0(kappa), the mean resultant length of the von
// Mises distribution with the concentration kappa ≥ 0: 0 for the uniform distribution and 1 for
// +Inf. The ratio of the Bessel functions is their continued fraction, 1/(2/κ + 1/(4/κ + …)),
// summed from its far end (Mardia and Jupp 2000, §3.5.4 for A).
func MeanResultant(kappa float64) float64 {
	switch {
	case kappa <= 0:
		return 0
	case kappa > manyTimes:
		return 1 - tail(kappa)/(2*kappa)
	}
	var ratio float64
	for n := int(kappa) + 40; n > 0; n-- {
		ratio = 1 / (2*float64(n)/kappa + ratio)
	}
	return ratio
}

// tail returns 2κ(1 - A(κ)) for a large kappa, by the series that A' = 1 - A/κ - A² asks for
// (the derivative is Fisher 1993, equation 3.48).
func tail(kappa float64) float64 {
	x := 1 / kappa
	return 1 + x*(1./4+x*(1./4+x*(25./64+x*(13./16+x*1073./512))))
}

// Concentration returns the kappa with MeanResultant(kappa) = resultant: 0 for a resultant of 0
// or less, +Inf for one of 1 or more.
func Concentration(resultant float64) float64 { return concentration(1 - resultant) }

// Kappa returns the concentration of the von Mises distribution whose circular standard
// deviation, √(-2 ln A(kappa)), is the given number of degrees. A spread of 0 or less gives +Inf:
// every heading on the flow.
func Kappa(spreadDegrees float64) float64 {
	if spreadDegrees <= 0 {
		return math.Inf(1)
	}
	deviation := spreadDegrees * math.Pi / 180
	return concentration(-math.Expm1(-deviation * deviation / 2))
}

// concentration returns the kappa whose mean resultant falls short of 1 by shortfall. It takes
// the shortfall because close to 1 the resultant itself has no digits left to tell one kappa
// from another.
func concentration(shortfall float64) float64 {
	switch {
	case shortfall >= 1:
		return 0
	case shortfall <= 0:
		return math.Inf(1)
	case shortfall < 1-MeanResultant(manyTimes):
		return solveTail(shortfall)
	}
	return bisect(1 - shortfall)
}

// solveTail solves shortfall = tail(κ)/2κ. Each round leaves less than a hundredth of the error.
func solveTail(shortfall float64) float64 {
	kappa := 1 / (2 * shortfall)
	for range 10 {
		kappa = tail(kappa) / (2 * shortfall)
	}
	return kappa
}

// bisect returns the kappa up to manyTimes with MeanResultant(kappa) = resultant.
func bisect(resultant float64) float64 {
	low, high := 0.0, float64(manyTimes)
	for {
		middle := low + (high-low)/2
		if middle <= low || middle >= high {
			return middle
		}
		if MeanResultant(middle) < resultant {
			low = middle
		} else {
			high = middle
		}
	}
}
