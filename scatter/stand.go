package scatter

import "wallshoal/wall/plane"

// An obstacle is what keeps a piece from standing somewhere.
type obstacle int

// What a piece can meet, in the order in which it is asked. Only a bad hole may be mended by
// putting the piece a little otherwise.
const (
	fits obstacle = iota
	notFree
	tooNear
	badHole
)

// laid returns the piece that stands so.
func (c *composer) laid(s stance) placed {
	outline := place(c.kinds[s.kind].Outline, s.point.At, s.heading)
	return placed{point: s.point, kind: s.kind, heading: s.heading, outline: outline, bounds: outline.Bounds()}
}

// stand returns the piece that stands so, and what keeps it from it: anything on the face, or
// another piece than the one with the index except.
func (c *composer) stand(s stance, except int) (placed, obstacle) {
	if c.sticksOut(s) {
		return placed{}, notFree
	}
	piece := c.laid(s)
	switch {
	case !c.clears(&piece, except):
		return piece, tooNear
	case !c.liesFree(&piece):
		return piece, notFree
	case !c.mayDrill(&piece, c.kinds[s.kind]) || !c.holesApart(&piece, except):
		return piece, badHole
	}
	return piece, fits
}

// clears reports whether the piece keeps off the outlines of all others but the one with the index
// except, or overlaps them by no more than it may.
func (c *composer) clears(p *placed, except int) bool {
	clear := true
	box := p.bounds.Grow(c.comp.Gap)
	c.grid.Near(p.point, c.shapes[p.kind].reach+c.reach+c.comp.Gap, func(i int, _ float64) bool {
		other := &c.placed[i]
		if i == except || other.gone || other.point.Chart != p.point.Chart || !box.Overlaps(other.bounds) {
			return true
		}
		if c.comp.Overlap > 0 {
			clear = c.mayOverlap(p, other)
		} else {
			clear = !plane.Closer(p.outline, other.outline, c.comp.Gap)
		}
		return clear
	})
	return clear
}

// mayOverlap reports whether two pieces share so little of the wall that they may: no more than the
// share asked of the one that lies under the other, or of either where they stand out alike, and no
// hole of one under or through the other.
func (c *composer) mayOverlap(p, q *placed) bool {
	if !plane.Closer(p.outline, q.outline, 0) {
		return true
	}
	a, b := c.piece(p.stance()), c.piece(q.stance())
	return !pierces(c.kinds, a, laid{outline: q.outline, box: q.bounds}) &&
		!pierces(c.kinds, b, laid{outline: p.outline, box: p.bounds}) &&
		covered(c.kinds, a, b, p.outline, q.outline) <= c.comp.Overlap
}

// holesApart reports whether the holes of p keep off those of all other pieces but the one with the
// index except.
func (c *composer) holesApart(p *placed, except int) bool {
	keep := c.comp.Seating.Holes
	if keep == 0 {
		return true
	}
	apart := true
	c.grid.Near(p.point, c.shapes[p.kind].reach+c.reach+keep, func(i int, _ float64) bool {
		other := &c.placed[i]
		if i == except || other.gone || other.point.Chart != p.point.Chart || !p.bounds.Grow(keep).Overlaps(other.bounds) {
			return true
		}
		apart = holesApart(c.kinds, c.piece(p.stance()), c.piece(other.stance())) >= keep
		return apart
	})
	return apart
}
