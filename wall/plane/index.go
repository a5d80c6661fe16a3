package plane

// An Index answers many questions about where points and rings lie in one region. It may be read
// by several goroutines at once.
type Index struct{ region Region }

// NewIndex returns the index of r.
func NewIndex(r Region) *Index { return &Index{r} }

// Inside reports whether p lies in the region; a point on the boundary may fall on either side.
func (x *Index) Inside(p Point) bool { return x.region.Contains(p) }

// Distance returns the distance in mm from p to the boundary: above 0 inside the region, below 0
// outside, and minus infinity where the region is empty.
func (x *Index) Distance(p Point) float64 { return x.region.Distance(p) }

// Clear reports whether the disc of radius d mm about p lies in the region.
func (x *Index) Clear(p Point, d float64) bool { return x.Distance(p) >= d }

// Holds reports whether all of the area inside ring lies in the region. Touching the boundary
// from inside is allowed.
func (x *Index) Holds(ring Ring) bool {
	if x.region.Empty() || len(ring) == 0 {
		return false
	}
	box := ring.Bounds()
	for _, own := range x.region.rings() {
		for i, c := range own {
			d := own[(i+1)%len(own)]
			if overlap(box, c, d) && ring.entered(c, d) {
				return false
			}
		}
	}
	return sideOf(ring, x.region.Distance) > 0
}
