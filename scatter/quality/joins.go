package quality

import (
	"math"

	"wallshoal/scatter/neighbour"
)

// A Join is a number of pairs of neighbours of some sort, and what chance would make of it.
type Join struct {
	Pairs     int
	Mean      float64 // expected where the same kinds are dealt to the same pieces by chance
	Deviation float64 // standard deviation of that
}

// Z returns by how many standard deviations there are more pairs than chance would make; 0 where
// chance leaves no choice.
func (j Join) Z() float64 {
	if j.Deviation == 0 {
		return 0
	}
	return (float64(j.Pairs) - j.Mean) / j.Deviation
}

// Joins counts the pairs of neighbours among pieces of several kinds.
type Joins struct {
	Same   []Join // by kind: both of that kind
	Unlike []Join // by kind: one of that kind, the other of another
	Equal  Join   // both of one kind, whichever
	Mixed  Join   // of two kinds
}

// CountJoins returns the join counts of pieces whose neighbours are as g has them and whose kinds are
// numbers from 0 up to n.
//
// Mean and deviation are those of non-free sampling, the numbers of each kind fixed, of A. D. Cliff
// and J. K. Ord, Spatial processes (1981): sums over the pairs of pairs that share no piece, one
// piece or both of the chance that kinds fall so. They are written out here per graph, with no
// weights; the sum over kinds follows in the same way.
func CountJoins(g neighbour.Graph, kinds []int, n int) Joins {
	c := Joins{Same: make([]Join, n), Unlike: make([]Join, n)}
	number := make([]float64, n)
	var s shape
	for i, near := range g {
		number[kinds[i]]++
		s.pairs += float64(len(near)) / 2
		s.forks += float64(len(near)*(len(near)-1)) / 2
		for _, j := range near {
			switch {
			case kinds[i] != kinds[j]:
				c.Unlike[kinds[i]].Pairs++
			case int(j) > i:
				c.Same[kinds[i]].Pairs++
				c.Equal.Pairs++
			}
		}
	}
	all := float64(len(g))
	var two, three, four, square, quartic float64
	for k, m := range number {
		t := falling(m, 2)
		c.Same[k].chance(s, over(t, all, 2), over(falling(m, 3), all, 3), over(falling(m, 4), all, 4))
		rest := all - m
		c.Unlike[k].chance(s, over(2*m*rest, all, 2), over(m*rest*(all-2), all, 3), over(4*t*falling(rest, 2), all, 4))
		two, three, four = two+t, three+falling(m, 3), four+falling(m, 4)
		square, quartic = square+t, quartic+t*t
	}
	// Two pairs apart may be equal within themselves and not to one another.
	c.Equal.chance(s, over(two, all, 2), over(three, all, 3), over(four+square*square-quartic, all, 4))
	c.Mixed = Join{int(s.pairs) - c.Equal.Pairs, s.pairs - c.Equal.Mean, c.Equal.Deviation}
	return c
}

// A shape is what the variance needs of a graph.
type shape struct {
	pairs float64 // of neighbours
	forks float64 // pairs of those that share a piece
}

// chance sets mean and deviation from the chances that one pair is of the sort counted, that two with
// a piece in common are, and that two apart are.
func (j *Join) chance(s shape, one, fork, apart float64) {
	aparts := s.pairs*(s.pairs-1)/2 - s.forks
	j.Mean = s.pairs * one
	variance := j.Mean + 2*s.forks*fork + 2*aparts*apart - j.Mean*j.Mean
	j.Deviation = math.Sqrt(math.Max(0, variance))
}

// falling returns n(n-1)(n-2)… with k factors.
func falling(n float64, k int) float64 {
	out := 1.0
	for i := range k {
		out *= math.Max(0, n-float64(i))
	}
	return out
}

// over returns ways against the number of ways to draw k of n in order; 0 where there are none.
func over(ways, n float64, k int) float64 {
	if total := falling(n, k); total > 0 {
		return ways / total
	}
	return 0
}
