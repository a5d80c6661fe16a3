package heading

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestQuotasAreExact(t *testing.T) {
	for _, row := range []struct {
		scheme Scheme
		n      int
		want   [Roles]int
	}{
		{Scheme{}, 320, [Roles]int{320, 0, 0}},
		{Scheme{Strays: 0.05}, 320, [Roles]int{304, 0, 16}},
		{Scheme{Strays: 0.05, Second: Second{90, 0.25}}, 320, [Roles]int{224, 80, 16}},
		{Scheme{Strays: 0.1, Second: Second{90, 0.2}}, 7, [Roles]int{5, 1, 1}}, // 4.9, 1.4, 0.7
		{Scheme{Strays: 0.4, Second: Second{90, 0.6}}, 5, [Roles]int{0, 3, 2}},
		{Scheme{Strays: 1}, 9, [Roles]int{0, 0, 9}},
		{Scheme{Strays: 0.5}, 0, [Roles]int{}},
	} {
		assert.Equal(t, row.want, row.scheme.Quotas(row.n), "%v of %d", row.scheme, row.n)
	}
}

func drawn(s Scheme, role Role, flow, offset float64, near []Bearing, n int) []Bearing {
	d, rng := NewDrawer(s), rand.New(rand.NewPCG(5, 6))
	out := make([]Bearing, n)
	for i := range out {
		out[i] = d.Draw(rng, role, flow, offset, near)
	}
	return out
}

// TestDrawAboutTheDirectionOfItsRole: the mean of n draws errs by spread/√n.
func TestDrawAboutTheDirectionOfItsRole(t *testing.T) {
	const n = 20_000
	s := Scheme{Spread: 14, Second: Second{Turn: 120, Share: 0.3}}
	for _, row := range []struct {
		role         Role
		flow, offset float64
		want         Bearing
	}{
		{Flowing, Bearing(80).Angle(), 0, 80},
		{Flowing, Bearing(80).Angle(), 90, 170},
		{Flowing, Bearing(80).Angle(), -90, 350},
		{Turned, Bearing(80).Angle(), 0, 200},
		{Turned, Bearing(300).Angle(), 20, 80},
	} {
		mean, resultant, ok := MeanBearing(drawn(s, row.role, row.flow, row.offset, nil, n))
		assert.True(t, ok)
		assert.Less(t, Difference(row.want, mean), 3*14/math.Sqrt(n), "%+v", row)
		assert.InEpsilon(t, 14, Deviation(resultant), 0.02, "%+v", row)
	}
	_, resultant, _ := MeanBearing(drawn(s, Straying, 0, 0, nil, n))
	assert.Less(t, resultant, 3/math.Sqrt(n), "strays head anywhere")
}

func TestDrawWithoutSpreadKeepsToTheFlow(t *testing.T) {
	for _, b := range drawn(Scheme{}, Flowing, Bearing(33.33).Angle(), 11.11, nil, 20) {
		assert.Equal(t, Bearing(44.44), b)
	}
}

// TestDrawIsAsVonMises: without anything near, a drawer takes the stream of VonMises.
func TestDrawIsAsVonMises(t *testing.T) {
	got := drawn(Scheme{Spread: 14, Apart: 40}, Flowing, 0, 0, nil, 50)
	rng := rand.New(rand.NewPCG(5, 6))
	for _, b := range got {
		assert.Equal(t, FromAngle(VonMises(rng, Kappa(14))), b)
	}
}

func TestDrawKeepsApartFromItsNearest(t *testing.T) {
	near := []Bearing{85, 90, 95}
	least := func(apart float64) (share, mean float64) {
		const n = 4000
		for _, b := range drawn(Scheme{Spread: 30, Apart: apart}, Flowing, 0, 0, near, n) {
			d := Least(b, near)
			mean += d / n
			if d >= apart {
				share += 1. / n
			}
		}
		return share, mean
	}
	share, mean := least(0)
	assert.InDelta(t, 1, share, 1e-9)
	for _, apart := range []float64{10, 20, 40} {
		s, m := least(apart)
		assert.Greater(t, m, mean, "apart %v°", apart)
		mean = m
		// One draw of the normal law with 30° passes 5° + apart in 62, 40 and 13 of 100 cases; eight
		// in practically all, 98 and 68.
		assert.Greater(t, s, map[float64]float64{10: 0.99, 20: 0.96, 40: 0.6}[apart], "apart %v°", apart)
	}
	for _, b := range drawn(Scheme{Apart: 40}, Flowing, 0, 0, near, 5) {
		assert.Equal(t, Bearing(90), b, "without spread there is no other")
	}
}

func TestDifference(t *testing.T) {
	for _, row := range []struct {
		a, b Bearing
		want float64
	}{{0, 0, 0}, {359, 1, 2}, {1, 359, 2}, {0, 180, 180}, {10, 190.01, 179.99}, {90, 90.01, 0.01}, {359.99, 0, 0.01}} {
		assert.Equal(t, row.want, Difference(row.a, row.b), "%v and %v", row.a, row.b)
	}
	assert.Equal(t, 2.0, Least(1, []Bearing{90, 359, 180}))
	assert.Equal(t, 180.0, Least(1, nil))
}

func BenchmarkDraw(b *testing.B) {
	rng, near := rand.New(rand.NewPCG(1, 2)), []Bearing{80, 90, 100}
	for name, s := range map[string]Scheme{"plain": {Spread: 14}, "apart": {Spread: 14, Apart: 15}} {
		d := NewDrawer(s)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				d.Draw(rng, Flowing, 0.3, 0, near)
			}
		})
	}
}
