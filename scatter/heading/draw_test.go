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

// inTurn draws pieces that each have the three before them for the nearest, and returns the share
// that differs from those by so much, how much they differ on average, and the resultant of all.
func inTurn(s Scheme, role Role, apart float64) (share, mean, resultant float64) {
	const n = 10_000
	d, rng := NewDrawer(s), rand.New(rand.NewPCG(8, 9))
	var drawn []Bearing
	for i := range n {
		near := drawn[max(0, i-Few):]
		b := d.Draw(rng, role, 0, 0, near)
		least := Least(b, near)
		if mean += least / n; least >= apart {
			share += 1. / n
		}
		drawn = append(drawn, b)
	}
	_, resultant, _ = MeanBearing(drawn)
	return share, mean, resultant
}

// TestDrawKeepsApartFromItsNearest: pieces differ by more than chance would have it, many more by as
// much as asked where the spread has room for it, and all together are spread as without that.
func TestDrawKeepsApartFromItsNearest(t *testing.T) {
	for _, apart := range []float64{5, 10, 20, 30} {
		chance, usual, _ := inTurn(Scheme{Spread: 20}, Flowing, apart)
		share, mean, resultant := inTurn(Scheme{Spread: 20, Apart: apart}, Flowing, apart)
		assert.Greater(t, mean, 1.1*usual, "apart %v°", apart)
		if apart <= 10 {
			assert.Greater(t, share, min(1.5*chance, 0.95), "apart %v°", apart)
		}
		assert.InEpsilon(t, 20, Deviation(resultant), 0.03, "apart %v°", apart)
	}
	share, _, resultant := inTurn(Scheme{Spread: 20, Apart: 40}, Straying, 40)
	assert.Greater(t, share, 0.99)
	assert.Less(t, resultant, 0.03)
}

// TestDrawSpreadsAsAskedAmongAlikePieces: where every neighbour heads with the flow, whoever differs
// from them leaves a heading for another that does not.
func TestDrawSpreadsAsAskedAmongAlikePieces(t *testing.T) {
	_, resultant, _ := MeanBearing(drawn(Scheme{Spread: 14, Apart: 30}, Flowing, 0, 0, []Bearing{88, 90, 92}, 10_000))
	assert.InEpsilon(t, 14, Deviation(resultant), 0.03)
	for _, b := range drawn(Scheme{Apart: 40}, Flowing, 0, 0, []Bearing{85, 95}, 5) {
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
