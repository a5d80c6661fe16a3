package neighbour

// A mesh is edges between spots, held as two arrows each: 2i one way and 2i+1 the other. The arrows
// that leave a spot form a ring, counter-clockwise.
//
// It is the edge half of the quad-edge structure of L. Guibas and J. Stolfi, Primitives for the
// manipulation of general subdivisions and the computation of Voronoi diagrams, ACM Transactions on
// Graphics 4 (1985) 74-123; triangulate is their divide and conquer.
type mesh struct {
	spots []spot
	from  []int32 // the spot that an arrow leaves; gone where its edge was deleted
	next  []int32 // the following arrow of the ring
	prev  []int32
	free  []int32 // arrows of deleted edges, the even ones
}

const gone = -1

// delaunay returns the Delaunay triangulation of spots, which are distinct and in order. Of spots
// in line it is the way along them. Where more than three are on one circle it is one of several,
// always the same.
func delaunay(spots []spot) *mesh {
	m := &mesh{spots: spots}
	if len(spots) > 1 {
		m.triangulate(0, int32(len(spots)))
	}
	return m
}

func (m *mesh) to(e int32) int32 { return m.from[e^1] }

// around returns the arrow that follows e round the face on its left.
func (m *mesh) around(e int32) int32 { return m.prev[e^1] }

// add returns a new arrow from a to b that is alone in both its rings.
func (m *mesh) add(a, b int32) int32 {
	if last := len(m.free) - 1; last >= 0 {
		e := m.free[last]
		m.free = m.free[:last]
		m.from[e], m.from[e^1] = a, b
		return e
	}
	e := int32(len(m.from))
	m.from = append(m.from, a, b)
	m.next = append(m.next, e, e+1)
	m.prev = append(m.prev, e, e+1)
	return e
}

// follow puts e, alone in its ring, into the ring of a right after it.
func (m *mesh) follow(a, e int32) {
	b := m.next[a]
	m.next[a], m.next[e] = e, b
	m.prev[b], m.prev[e] = e, a
}

// connect adds the arrow from the end of a to the start of b that closes the face on their left.
func (m *mesh) connect(a, b int32) int32 {
	e := m.add(m.to(a), m.from[b])
	m.follow(m.around(a), e)
	m.follow(b, e^1)
	return e
}

func (m *mesh) remove(e int32) {
	for _, e := range [2]int32{e, e ^ 1} {
		a, b := m.prev[e], m.next[e]
		m.next[a], m.prev[b] = b, a
		m.next[e], m.prev[e], m.from[e] = e, e, gone
	}
	m.free = append(m.free, e&^1)
}

func (m *mesh) turnsLeft(a, b, c int32) bool { return leftTurn(m.spots[a], m.spots[b], m.spots[c]) }

func (m *mesh) leftOf(p, e int32) bool { return m.turnsLeft(p, m.from[e], m.to(e)) }

func (m *mesh) rightOf(p, e int32) bool { return m.turnsLeft(p, m.to(e), m.from[e]) }

func (m *mesh) within(a, b, c, d int32) bool {
	return within(m.spots[a], m.spots[b], m.spots[c], m.spots[d])
}

// triangulate joins the spots from lo up to hi, two at least, and returns the arrow of the hull that
// leaves the first counter-clockwise and the one that leaves the last clockwise.
func (m *mesh) triangulate(lo, hi int32) (first, last int32) {
	switch hi - lo {
	case 2:
		e := m.add(lo, lo+1)
		return e, e ^ 1
	case 3:
		a, b := m.add(lo, lo+1), m.add(lo+1, lo+2)
		m.follow(a^1, b)
		switch {
		case m.turnsLeft(lo, lo+1, lo+2):
			m.connect(b, a)
		case m.turnsLeft(lo, lo+2, lo+1):
			c := m.connect(b, a)
			return c ^ 1, c
		}
		return a, b ^ 1
	}
	middle := lo + (hi-lo)/2
	first, left := m.triangulate(lo, middle)
	right, last := m.triangulate(middle, hi)
	for { // down to the lower common tangent
		if m.leftOf(m.from[right], left) {
			left = m.around(left)
		} else if m.rightOf(m.from[left], right) {
			right = m.next[right^1]
		} else {
			break
		}
	}
	base := m.connect(right^1, left)
	if m.from[left] == m.from[first] {
		first = base ^ 1
	}
	if m.from[right] == m.from[last] {
		last = base
	}
	m.zip(base)
	return first, last
}

// zip joins two halves from their lower common tangent upwards. Of the edges that a new triangle
// could take, those go that have a further spot in their circle.
func (m *mesh) zip(base int32) {
	for {
		l, r := m.next[base^1], m.prev[base]
		start, end := m.from[base], m.to(base)
		above := func(e int32) bool { return m.rightOf(m.to(e), base) }
		if above(l) {
			for m.within(end, start, m.to(l), m.to(m.next[l])) {
				l = m.next[l]
				m.remove(m.prev[l])
			}
		}
		if above(r) {
			for m.within(end, start, m.to(r), m.to(m.prev[r])) {
				r = m.prev[r]
				m.remove(m.next[r])
			}
		}
		switch {
		case !above(l) && !above(r):
			return
		case !above(l) || above(r) && m.within(m.to(l), m.from[l], m.from[r], m.to(r)):
			base = m.connect(r, base^1)
		default:
			base = m.connect(base^1, l^1)
		}
	}
}

// apex returns the third spot of the triangle on the left of e, and whether there is one.
func (m *mesh) apex(e int32) (spot, bool) {
	b := m.around(e)
	c := m.to(b)
	return m.spots[c], m.around(m.around(b)) == e && m.leftOf(c, e)
}
