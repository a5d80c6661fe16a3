package apportion_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/scatter/apportion"
)

func TestLargestRemainders(t *testing.T) {
	for _, row := range []struct {
		n      int
		shares []float64
		want   []int
	}{
		{10, []float64{1, 1, 1}, []int{4, 3, 3}},      // equal remainders: the first
		{10, []float64{6, 3, 2}, []int{5, 3, 2}},      // 5.45, 2.73, 1.82
		{7, []float64{0, 1, 0, 2}, []int{0, 2, 0, 5}}, // 2.33, 4.67
		{100, []float64{0.29, 0.71}, []int{29, 71}},   // 28.999999999999996
		{0, []float64{1, 2}, []int{0, 0}},
		{3, []float64{0, 0}, []int{0, 0}},
		{3, nil, []int{}},
	} {
		assert.Equal(t, row.want, apportion.LargestRemainders(row.n, row.shares), "%d by %v", row.n, row.shares)
	}
}

// TestLargestRemaindersKeepsTheQuota: nobody gets less than the whole part of what is exactly
// theirs, nor a whole one more than that, and all is dealt.
func TestLargestRemaindersKeepsTheQuota(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		shares := make([]float64, 1+rng.IntN(8))
		sum := 0.0
		for i := range shares {
			shares[i] = rng.Float64()
			sum += shares[i]
		}
		n, total := rng.IntN(1000), 0
		for i, got := range apportion.LargestRemainders(n, shares) {
			assert.InDelta(t, float64(n)*shares[i]/sum, float64(got), 1)
			total += got
		}
		assert.Equal(t, n, total)
	}
}
