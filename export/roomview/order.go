package roomview

import (
	"cmp"
	"slices"
)

// ordered returns the facets from back to front as seen by the camera, so that whatever is painted
// later is nearer wherever two of them meet in the picture.
//
// It divides the room by the plane of one facet after another: all that lies beyond a plane is
// painted before what lies in it, and that before what lies on the eye's side (Fuchs, Kedem and
// Naylor, On visible surface generation by a priori tree structures, SIGGRAPH 1980). A facet that
// stands through a plane is painted twice, whole with what lies beyond, and its nearer part again
// with what lies on the eye's side: that leaves no seam, and does no harm, as the nearer part
// hides what lies beyond the plane anyway.
func ordered(facets []facet, c Camera) []facet {
	var out []facet
	var divide func([]facet)
	divide = func(fs []facet) {
		if len(fs) == 0 {
			return
		}
		at := divider(fs)
		if !c.sees(at) {
			at = at.turned()
		}
		var beyond, here, near []facet
		for _, f := range fs {
			low, high := f.extent(at)
			switch {
			case low >= -flush && high <= flush:
				here = append(here, f)
			case low >= -flush:
				near = append(near, f)
			case high <= flush:
				beyond = append(beyond, f)
			default:
				beyond = append(beyond, f)
				near = append(near, f.clip(at))
			}
		}
		slices.SortStableFunc(here, func(a, b facet) int { return cmp.Compare(a.rank, b.rank) })
		divide(beyond)
		out = append(out, here...)
		divide(near)
	}
	divide(facets)
	return out
}

// tries returns how many planes are compared before one is chosen to divide n facets by: many where
// that costs little.
func tries(n int) int { return max(5, min(40, 20_000/n)) }

// divider returns the plane to divide the facets by: that of a face while there is one, else that
// of a piece; of those tried the one that cuts the fewest faces, then the fewest pieces, and then
// leaves sides of like size.
func divider(fs []facet) level {
	planes := planesOf(fs, true)
	if len(planes) == 0 {
		planes = planesOf(fs, false)
	}
	var best level
	var least cost
	n := min(tries(len(fs)), len(planes))
	for i := range n {
		at := planes[i*len(planes)/n]
		if c := costOf(at, fs); i == 0 || c.below(least) {
			best, least = at, c
		}
	}
	return best
}

// A cost says what is lost by dividing at a plane.
type cost struct{ faces, pieces, balance int }

func (c cost) below(d cost) bool {
	return cmp.Or(cmp.Compare(c.faces, d.faces), cmp.Compare(c.pieces, d.pieces), cmp.Compare(c.balance, d.balance)) < 0
}

func costOf(at level, fs []facet) cost {
	var c cost
	for _, f := range fs {
		low, high := f.extent(at)
		switch {
		case low >= -flush && high <= flush:
		case low >= -flush:
			c.balance++
		case high <= flush:
			c.balance--
		case f.rank < rankShadow:
			c.faces++
		default:
			c.pieces++
		}
	}
	c.balance = max(c.balance, -c.balance)
	return c
}

// planesOf returns the planes of the faces, or of all else, each once.
func planesOf(fs []facet, solid bool) []level {
	seen := map[level]bool{}
	var out []level
	for _, f := range fs {
		if f.solid == solid && !seen[f.level] {
			seen[f.level] = true
			out = append(out, f.level)
		}
	}
	return out
}
