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
	usual := usualLengths(len(m.spots), edges)
	return slices.DeleteFunc(edges, func(e edge) bool { return e.length > far*max(usual[e.a], usual[e.b]) })
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
// it is joined to, of the median of their edges. The lower medians hold where half of a spot's
// edges lead over a gap, and the second median where more of them do.
func usualLengths(n int, edges []edge) []float64 {
	lengths := make([][]float64, n)
	for _, e := range edges {
		lengths[e.a] = append(lengths[e.a], e.length)
		lengths[e.b] = append(lengths[e.b], e.length)
	}
	own := make([]float64, n)
	around := make([][]float64, n)
	for i := range lengths {
		own[i] = lowerMedian(lengths[i])
		around[i] = append(lengths[i][:0], own[i])
	}
	for _, e := range edges {
		around[e.a] = append(around[e.a], own[e.b])
		around[e.b] = append(around[e.b], own[e.a])
	}
	for i := range around {
		own[i] = lowerMedian(around[i])
	}
	return own
}

func lowerMedian(of []float64) float64 {
	if len(of) == 0 {
		return 0
	}
	slices.Sort(of)
	return of[(len(of)-1)/2]
}
