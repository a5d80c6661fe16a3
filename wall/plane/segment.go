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
	return min(a.X, b.X) <= c.X && c.X <= max(a.X, b.X) &&
		min(a.Y, b.Y) <= c.Y && c.Y <= max(a.Y, b.Y)
}

// SegmentDistance returns the distance in mm from p to the nearest point of the segment ab.
func SegmentDistance(p, a, b Point) float64 { return math.Sqrt(segmentDistance2(p, a, b)) }

// segmentDistance2 returns the square of SegmentDistance, in mm².
func segmentDistance2(p, a, b Point) float64 {
	ab, ap := b.Sub(a), p.Sub(a)
	along, whole := ap.Dot(ab), ab.Dot(ab)
	switch {
	case along <= 0 || whole == 0:
		return ap.Dot(ap)
	case along >= whole:
		bp := p.Sub(b)
		return bp.Dot(bp)
	}
	off := ab.Cross(ap)
	return float64(off*off) / whole
}

// segmentsCloser reports whether the segments ab and cd meet, or come nearer to one another than
// the square root of gap2.
func segmentsCloser(a, b, c, d Point, gap2 float64) bool {
	return SegmentsMeet(a, b, c, d) || (gap2 > 0 &&
		(segmentDistance2(a, c, d) < gap2 || segmentDistance2(b, c, d) < gap2 ||
			segmentDistance2(c, a, b) < gap2 || segmentDistance2(d, a, b) < gap2))
}

// Closer reports whether the areas enclosed by r and s are less than gap mm apart anywhere. With a
// gap of 0 it reports whether their boundaries meet or one lies within the other.
func Closer(r, s Ring, gap float64) bool {
	if len(r) == 0 || len(s) == 0 {
		return false
	}
	boxR, boxS := r.Bounds(), s.Bounds()
	nearR, nearS := boxR.Grow(gap), boxS.Grow(gap)
	if !nearR.Overlaps(boxS) {
		return false
	}
	if (boxR.Contains(s[0]) && r.Contains(s[0])) || (boxS.Contains(r[0]) && s.Contains(r[0])) {
		return true
	}
	// Most edges are out of the other's reach, so those of s that are not get listed once.
	var room [192]int
	reached := room[:0]
	for j, c := range s {
		if overlap(nearR, c, s[s.after(j)]) {
			reached = append(reached, j)
		}
	}
	gap2 := float64(gap * gap)
	for i, a := range r {
		b := r[r.after(i)]
		if !overlap(nearS, a, b) {
			continue
		}
		box := Rect{Point{min(a.X, b.X), min(a.Y, b.Y)}, Point{max(a.X, b.X), max(a.Y, b.Y)}}.Grow(gap)
		for _, j := range reached {
			c, d := s[j], s[s.after(j)]
			if overlap(box, c, d) && segmentsCloser(a, b, c, d, gap2) {
				return true
			}
		}
	}
	return false
}

// overlap reports whether the box of the segment cd shares at least a point with box.
func overlap(box Rect, c, d Point) bool {
	return !(c.X > box.Max.X && d.X > box.Max.X) && !(c.X < box.Min.X && d.X < box.Min.X) &&
		!(c.Y > box.Max.Y && d.Y > box.Max.Y) && !(c.Y < box.Min.Y && d.Y < box.Min.Y)
}
