// Package apportion deals whole things out by shares.
package apportion

import (
	"cmp"
	"math"
	"slices"
)

// LargestRemainders returns n whole things dealt out by shares, which are 0 or more and count
// against one another: each gets the whole part of what is exactly its own, and what is left goes to
// the largest remainders, of equal ones to the first (the method of Hamilton). A share of 0 gets
// nothing; without a share above 0 nobody does, and the sum is 0 in place of n.
func LargestRemainders(n int, shares []float64) []int {
	dealt := make([]int, len(shares))
	var sum float64
	for _, s := range shares {
		sum += s
	}
	type remainder struct {
		of   int
		part float64
	}
	var rest []remainder
	left := n
	for i, s := range shares {
		if s <= 0 {
			continue
		}
		exact := float64(n) * s / sum
		dealt[i] = int(math.Floor(exact))
		left -= dealt[i]
		rest = append(rest, remainder{i, exact - math.Floor(exact)})
	}
	if len(rest) == 0 {
		return dealt
	}
	slices.SortStableFunc(rest, func(a, b remainder) int { return cmp.Compare(b.part, a.part) })
	for i := range left {
		dealt[rest[i%len(rest)].of]++
	}
	return dealt
}
