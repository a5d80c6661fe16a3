package plane

import "math"

// side returns above 0 where c lies left of the line from a to b, below 0 right of it, 0 on it.
func side(a, b, c Point) float64 { return b.Sub(a).Cross(c.Sub(a)) }

// SegmentsMeet reports whether the segments ab and cd share at least a point.
func SegmentsMeet(a, b, c, d Point) bool {
	abc, abd := side(a, b, c), side(a, b, d)
	cda, cdb := side(c, d, a), side(c, d, b)
	if ((abc > 0 && abd < 0) || (abc < 0 && abd > 0)) && ((cda > 0 && cdb < 0) || (cda < 0 && cdb > 0)) {
		return true
	}
	return (abc == 0 && between(a, b, c)) || (abd == 0 && between(a, b, d)) ||
		(cda == 0 && between(c, d, a)) || (cdb == 0 && between(c, d, b))
}

// between reports whether c, known to lie on the line through a and b, lies on the segment ab.
func between(a, b, c Point) bool {
	return math.Min(a.X, b.X) <= c.X && c.X <= math.Max(a.X, b.X) &&
		math.Min(a.Y, b.Y) <= c.Y && c.Y <= math.Max(a.Y, b.Y)
}

// SegmentDistance returns the distance in mm from p to the nearest point of the segment ab.
func SegmentDistance(p, a, b Point) float64 {
	ab, ap := b.Sub(a), p.Sub(a)
	along, whole := ap.Dot(ab), ab.Dot(ab)
	switch {
	case along <= 0 || whole == 0:
		return ap.Len()
	case along >= whole:
		return p.Distance(b)
	}
	return math.Abs(ab.Cross(ap)) / math.Sqrt(whole)
}

// segmentGap returns the least distance in mm between the segments ab and cd; 0 where they meet.
func segmentGap(a, b, c, d Point) float64 {
	if SegmentsMeet(a, b, c, d) {
		return 0
	}
	return math.Min(
		math.Min(SegmentDistance(a, c, d), SegmentDistance(b, c, d)),
		math.Min(SegmentDistance(c, a, b), SegmentDistance(d, a, b)))
}

// Closer reports whether the areas enclosed by r and s are less than gap apart anywhere. With a
// gap of 0 it reports whether their boundaries meet or one lies within the other.
func Closer(r, s Ring, gap float64) bool {
	if len(r) == 0 || len(s) == 0 || !r.Bounds().Grow(gap).Overlaps(s.Bounds()) {
		return false
	}
	if r.Contains(s[0]) || s.Contains(r[0]) {
		return true
	}
	for i, a := range r {
		b := r[(i+1)%len(r)]
		edge := Ring{a, b}.Bounds().Grow(gap)
		for j, c := range s {
			d := s[(j+1)%len(s)]
			if !edge.Overlaps(Ring{c, d}.Bounds()) {
				continue
			}
			if g := segmentGap(a, b, c, d); g < gap || g == 0 {
				return true
			}
		}
	}
	return false
}
