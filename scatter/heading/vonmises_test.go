package heading

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

func draw(kappa float64, n int) []float64 {
	rng := rand.New(rand.NewPCG(1, 2))
	angles := make([]float64, n)
	for i := range angles {
		angles[i] = VonMises(rng, kappa)
	}
	return angles
}

// TestVonMisesRecoversItsResultant draws 100,000 angles. The cosine of one has the mean A and the
// variance (1 + A2)/2 - A², with A2 = 1 - 2A/κ; its sine has the mean 0 and the variance A/κ
// (Mardia and Jupp 2000, §3.5.4).
func TestVonMisesRecoversItsResultant(t *testing.T) {
	const n, errors = 100_000, 3
	for _, kappa := range []float64{1e-6, 0.1, 0.5, 1, 2, 4, 8, 16, 100, 1e4, 9e5, 2e6, 1e12} {
		var x, y float64
		for _, a := range draw(kappa, n) {
			if !(math.Abs(a) <= math.Pi) {
				t.Fatalf("an angle of %v at kappa %v", a, kappa)
			}
			x += 1 - math.Cos(a)
			y += math.Sin(a)
		}
		a := MeanResultant(kappa)
		short, variance := shortfallAndVariance(kappa)
		assert.InDelta(t, short, x/n, errors*math.Sqrt(variance/n), "mean cosine at kappa %v", kappa)
		assert.InDelta(t, 0, y/n, errors*math.Sqrt(a/kappa/n), "mean sine at kappa %v", kappa)
	}
}

// shortfallAndVariance returns 1 - A and the variance of the cosine; for large kappa from the
// normal law with the variance 1/kappa, where the closed forms cancel away.
func shortfallAndVariance(kappa float64) (short, variance float64) {
	if kappa > 1e5 {
		return 1/(2*kappa) + 1/(8*kappa*kappa), 1 / (2 * kappa * kappa)
	}
	a := MeanResultant(kappa)
	return 1 - a, 1 - a/kappa - a*a
}

func TestVonMisesWithoutConcentrationIsUniform(t *testing.T) {
	const n, bins = 100_000, 36
	var count [bins]float64
	for _, a := range draw(0, n) {
		count[int((a+math.Pi)/(2*math.Pi)*bins)%bins]++
	}
	var chi float64
	for _, c := range count {
		chi += (c - n/bins) * (c - n/bins) / (n / bins)
	}
	// 35 degrees of freedom: 66.6 is passed once in a thousand times.
	assert.Less(t, chi, 66.6)
	mean, resultant, _ := Mean(draw(0, n))
	assert.Less(t, resultant, 3/math.Sqrt(n), "mean %v", mean)
}

func TestVonMisesAtTheEnds(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 100 {
		assert.Zero(t, VonMises(rng, math.Inf(1)))
		assert.Less(t, math.Abs(VonMises(rng, 1e300)), 1e-140)
		for _, kappa := range []float64{math.SmallestNonzeroFloat64, 2e-8, 1e-5, 1e6, math.MaxFloat64} {
			a := VonMises(rng, kappa)
			assert.False(t, math.IsNaN(a), "kappa %v", kappa)
			assert.LessOrEqual(t, math.Abs(a), math.Pi, "kappa %v", kappa)
		}
	}
}

// TestVonMisesFollowsItsSeed holds the sequence of a seed: plans keep their layouts by it.
func TestVonMisesFollowsItsSeed(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	var got []Bearing
	for range 6 {
		got = append(got, FromAngle(VonMises(rng, Kappa(14))))
	}
	assert.Equal(t, sequence, got)
}

func TestKappaGivesTheSpreadAskedFor(t *testing.T) {
	for _, spread := range []float64{1, 14, 40, 80} {
		_, resultant, ok := Mean(draw(Kappa(spread), 100_000))
		assert.True(t, ok)
		got := math.Sqrt(-2*math.Log(resultant)) * 180 / math.Pi
		assert.InEpsilon(t, spread, got, 0.01, "spread %v°", spread)
	}
}

func BenchmarkVonMises(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 2))
	for b.Loop() {
		VonMises(rng, 17)
	}
}

var sequence = []Bearing{94.04, 92.95, 87.61, 80.74, 109.71, 84.43}
