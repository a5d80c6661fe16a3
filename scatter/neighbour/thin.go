package neighbour

import "slices"

// An edge joins two spots.
type edge struct {
	a, b   int32
	length float64 // in steps of the lattice
}

// far is how many times as long as those round its ends an edge leads over a gap. Between points of
// a maximal sample no edge is twice the least distance.
const far = 2.5

// thin returns the edges of m that are neither slivers nor lead over a gap.
func thin(m *mesh) []edge {
	var edges []edge
	for e := int32(0); e < int32(len(m.from)); e += 2 {
		if m.from[e] == gone || m.passes(e) || m.passes(e^1) {
			continue
		}
		a, b := m.from[e], m.to(e)
		edges = append(edges, edge{a, b, m.spots[a].sub(m.spots[b]).length()})
	}
	for { // edges over a gap hide one another, until the first are gone
		usual := usualLengths(len(m.spots), edges)
		before := len(edges)
		edges = slices.DeleteFunc(edges, func(e edge) bool { return e.length > far*max(usual[e.a], usual[e.b]) })
		if len(edges) == before {
			return edges
		}
	}
}

// passes reports whether the third spot of the triangle on the left of e sees the ends of e more
// than 135° apart: where the square of the cosine is above a half.
func (m *mesh) passes(e int32) bool {
	c, ok := m.apex(e)
	if !ok {
		return false
	}
	a, b := m.spots[m.from[e]].sub(c), m.spots[m.to(e)].sub(c)
	dot := a.dot(b)
	return dot < 0 && float64(2*float64(dot)*float64(dot)) > float64(a.dot(a))*float64(b.dot(b))
}

// usualLengths returns how long edges are round each of n spots: the median, over the spot and those
// it is joined to, of the median of their edges. The lower median holds where half of a spot's
// edges lead over a gap, and the second one where more of them do.
func usualLengths(n int, edges []edge) []float64 {
	starts := make([]int32, n+1) // of each spot's part of what is gathered
	for _, e := range edges {
		starts[e.a+1]++
		starts[e.b+1]++
	}
	for i := range n {
		starts[i+1] += starts[i]
	}
	gathered := make([]float64, 2*len(edges))
	next := make([]int32, n)
	gather := func(ofA, ofB func(e edge) float64) {
		copy(next, starts)
		for _, e := range edges {
			gathered[next[e.a]] = ofA(e)
			gathered[next[e.b]] = ofB(e)
			next[e.a]++
			next[e.b]++
		}
	}
	length := func(e edge) float64 { return e.length }
	gather(length, length)
	own := make([]float64, n)
	for i := range own {
		own[i] = lowerMedian(gathered[starts[i]:starts[i+1]])
	}
	gather(func(e edge) float64 { return own[e.b] }, func(e edge) float64 { return own[e.a] })
	usual := make([]float64, n)
	var room []float64
	for i := range usual {
		room = append(append(room[:0], own[i]), gathered[starts[i]:starts[i+1]]...)
		usual[i] = lowerMedian(room)
	}
	return usual
}

// lowerMedian sorts some values and returns the one in the middle, or the lower of the two there.
func lowerMedian(of []float64) float64 {
	if len(of) == 0 {
		return 0
	}
	slices.Sort(of)
	return of[(len(of)-1)/2]
}
