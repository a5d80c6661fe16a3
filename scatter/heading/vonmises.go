package heading

import (
	"math"
	"math/rand/v2"
)

const (
	// nearlyUniform and nearlyNormal bound the concentrations that the rejection method is used
	// for. Beyond them its envelope is lost in rounding, and the distribution differs from the
	// uniform, or from the normal with the variance 1/kappa, by less than anybody can draw.
	nearlyUniform = 1e-8
	nearlyNormal  = 1e6
)

// VonMises returns an angle in radians, in [-π, π], drawn from the von Mises distribution about 0
// with the concentration kappa. A kappa of 0 or less gives every direction alike; +Inf gives 0.
//
// The method is rejection from a wrapped Cauchy envelope: D. J. Best and N. I. Fisher, Efficient
// simulation of the von Mises distribution, Applied Statistics 28 (1979) 152-157. An acceptance
// rests on math.Cos and math.Log, whose last bits may differ between processors: about one draw
// in 10^15 can turn on them. The angle itself may differ in its last bits as well, so round it
// before anything is decided by it.
func VonMises(rng *rand.Rand, kappa float64) float64 { return newVonMises(kappa).draw(rng) }

// A vonMises is a distribution to draw from often.
type vonMises struct {
	kappa float64
	r     float64 // of the envelope, where the rejection method is used
}

func newVonMises(kappa float64) vonMises {
	v := vonMises{kappa: kappa}
	if kappa > nearlyUniform && kappa <= nearlyNormal {
		v.r = envelope(kappa)
	}
	return v
}

func (v vonMises) draw(rng *rand.Rand) float64 {
	switch {
	case math.IsInf(v.kappa, 1):
		return 0
	case v.kappa > nearlyNormal:
		return math.Remainder(rng.NormFloat64()/math.Sqrt(v.kappa), 2*math.Pi)
	case v.kappa > nearlyUniform:
		return v.reject(rng)
	}
	return math.Pi * (2*rng.Float64() - 1)
}

// reject draws from the envelope until a draw is accepted.
func (v vonMises) reject(rng *rand.Rand) float64 {
	for {
		z := math.Cos(math.Pi * rng.Float64())
		f := (1 + float64(v.r*z)) / (v.r + z)
		c := v.kappa * (v.r - f)
		u := 1 - rng.Float64() // above 0, for the logarithm
		if float64(c*(2-c))-u > 0 || math.Log(c/u)+1-c >= 0 {
			return math.Copysign(math.Acos(math.Min(1, math.Max(-1, f))), rng.Float64()-0.5)
		}
	}
}

// envelope returns the parameter r of Best and Fisher's wrapped Cauchy envelope.
func envelope(kappa float64) float64 {
	if kappa < 1e-5 {
		return 1/kappa + kappa // the formula below loses its digits; this is its series
	}
	tau := 1 + math.Sqrt(1+float64(4*kappa*kappa))
	rho := (tau - math.Sqrt(2*tau)) / (2 * kappa)
	return (1 + float64(rho*rho)) / (2 * rho)
}
