package plane

import (
	"math"
	"slices"
)

// Shared returns the area in mm² that the insides of two rings share, to the rounding of a sum. The
// sides of neither cross. It is the area that is walked round by those parts of each that lie inside
// the other; where they run along one another for a stretch the answer may be out by a part of the
// area beside that stretch, and Region.Intersection is exact.
func Shared(r, s Ring) float64 {
	if !r.Bounds().Overlaps(s.Bounds()) {
		return 0
	}
	r, s = r.CounterClockwise(), s.CounterClockwise()
	origin := r[0]
	return math.Max(0, (r.walkedIn(s, origin)+s.walkedIn(r, origin))/2)
}

// walkedIn returns twice the area that is swept from the origin along the parts of r inside s.
func (r Ring) walkedIn(s Ring, origin Point) float64 {
	box := s.Bounds()
	var room [16]float64
	sum := 0.0
	for i, a := range r {
		b := r[r.after(i)]
		if !overlap(box, a, b) {
			continue
		}
		cuts := append(room[:0], 0)
		way := b.Sub(a)
		for j, c := range s {
			d := s[s.after(j)]
			across := d.Sub(c)
			turn := way.Cross(across)
			if turn == 0 {
				continue
			}
			t, u := c.Sub(a).Cross(across)/turn, c.Sub(a).Cross(way)/turn
			if t > 0 && t < 1 && u >= 0 && u <= 1 {
				cuts = append(cuts, t)
			}
		}
		cuts = append(cuts, 1)
		slices.Sort(cuts)
		for k := 1; k < len(cuts); k++ {
			if cuts[k] > cuts[k-1] && s.Contains(a.Lerp(b, (cuts[k-1]+cuts[k])/2)) {
				sum += a.Lerp(b, cuts[k-1]).Sub(origin).Cross(a.Lerp(b, cuts[k]).Sub(origin))
			}
		}
	}
	return sum
}
