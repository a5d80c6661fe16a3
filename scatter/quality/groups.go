package quality

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/stat"

	"wallshoal/scatter/neighbour"
)

// Groups returns the sizes, largest first, of the groups of equals: of the pieces of one kind that are
// joined through neighbours of that kind.
func Groups(g neighbour.Graph, kinds []int) []int {
	var sizes []int
	seen := make([]bool, len(g))
	var edge []int32
	for i := range g {
		if seen[i] {
			continue
		}
		seen[i] = true
		size := 0
		for edge = append(edge[:0], int32(i)); len(edge) > 0; size++ {
			at := edge[len(edge)-1]
			edge = edge[:len(edge)-1]
			for _, j := range g[at] {
				if !seen[j] && kinds[j] == kinds[i] {
					seen[j] = true
					edge = append(edge, j)
				}
			}
		}
		sizes = append(sizes, size)
	}
	slices.SortFunc(sizes, func(a, b int) int { return b - a })
	return sizes
}

// Company returns how many pieces the group of a piece has, the piece itself included, in the mean
// over all pieces: 1 where no equals are neighbours. It is 0 for no groups.
func Company(groups []int) float64 {
	var pieces, company float64
	for _, size := range groups {
		pieces += float64(size)
		company += float64(size) * float64(size)
	}
	if pieces == 0 {
		return 0
	}
	return company / pieces
}

// Drift returns how much one kind gives way to the next: the rank correlation of C. Spearman (American
// Journal of Psychology 15 (1904) 72-101) between how far along the flow each piece is and the
// number of its kind. Equal values share the mean of their ranks. It is highest where kinds follow one another
// in their order, about 0 where they are mixed, -1 in
// the reverse order, and 0 where all pieces are of one kind or in one place.
//
// With several equals in each kind the ranks cannot agree throughout, so that pieces sorted by kind
// in n even parts come to √(1 - 1/n²), and less than 1.
func Drift(progress []float64, kinds []int) float64 {
	order := make([]float64, len(kinds))
	for i, k := range kinds {
		order[i] = float64(k)
	}
	x, y := midranks(progress), midranks(order)
	if len(x) == 0 || slices.Min(x) == slices.Max(x) || slices.Min(y) == slices.Max(y) {
		return 0
	}
	return stat.Correlation(x, y, nil)
}

// midranks returns the rank of every value from 1; equal ones share the mean of theirs.
func midranks(values []float64) []float64 {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	ranks := make([]float64, len(values))
	for first := 0; first < len(order); {
		last := first + 1
		for last < len(order) && values[order[last]] == values[order[first]] {
			last++
		}
		for _, i := range order[first:last] {
			ranks[i] = float64(first+1+last) / 2
		}
		first = last
	}
	return ranks
}
