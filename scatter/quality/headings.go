package quality

import (
	"math"
	"slices"

	"wallshoal/scatter/heading"
)

// A Headed is the heading of a piece, and what it is held against.
type Headed struct {
	Heading heading.Bearing
	Flow    float64 // the direction of the flow at the piece, radians counter-clockwise from +x
	Offset  float64 // how far its kind is turned from the flow, degrees clockwise
}

// Headings is how the headings of a layout lie about its flow and beside one another. A piece
// deviates by how far it is turned from where the flow, and the offset of its kind, would have it
// head. Angles are degrees and shares are from 0 to 1; what there is nothing to measure for is 0.
type Headings struct {
	// Deviation is the mean of the deviations, either way: the circular mean deviation about the flow,
	// Σ(π - |π - |θ||)/n. Resultant is their mean resultant length R, and Spread their circular
	// standard deviation √(-2 ln R), 360° at most (Mardia and Jupp 2000; Fisher 1993).
	Deviation, Resultant, Spread float64

	// Along is the circular standard deviation of the pieces that go with the flow, which is what the
	// scheme's spread asks for.
	Along float64

	// Second is the share of the pieces that go with the second direction, and Strays the share of
	// those that head anywhere. A piece goes with the nearer of the two directions where it is within
	// three times the spread of it, as 997 of 1000 by the normal law are; others are strays, and more
	// of these lie by chance within those reaches, as the reaches' part of the circle says: so many
	// are taken from the one share and added to the other.
	Second, Strays float64

	// Apart is the share of the pieces that differ from all of their nearest few by what the scheme
	// asks for.
	Apart float64

	// Alike is the mean cosine of the difference between the headings of two neighbours, and Chance
	// that of any two pieces: (nR² - 1)/(n - 1), with the R of the headings themselves, as
	// |Σ exp(iθ)|² counts every pair twice and every piece once. Neighbours that are no more alike
	// than chance have them equal.
	Alike, Chance float64
}

// MeasureHeadings measures the headings of pieces against the scheme they were drawn by. The indices
// of the neighbours of a piece are what adjacent returns, and of its nearest few, nearest; nil stands
// for none. Who is a neighbour must have the other for one.
func MeasureHeadings(pieces []Headed, s heading.Scheme, adjacent, nearest func(i int) []int32) Headings {
	var h Headings
	if len(pieces) == 0 {
		return h
	}
	n := float64(len(pieces))
	deviations := make([]float64, len(pieces))
	for i, p := range pieces {
		deviations[i] = p.deviation()
		h.Deviation += math.Abs(deviations[i]) / n
	}
	h.Resultant, h.Spread = spread(deviations)
	h.roles(deviations, s)
	if nearest != nil {
		h.Apart = apart(pieces, s.Apart, nearest)
	}
	if len(pieces) > 1 {
		own := make([]heading.Bearing, len(pieces))
		for i, p := range pieces {
			own[i] = p.Heading
		}
		_, r, _ := heading.MeanBearing(own)
		h.Chance = (n*r*r - 1) / (n - 1)
	}
	if adjacent != nil {
		h.Alike = alike(pieces, adjacent)
	}
	return h
}

// deviation returns how far p heads clockwise of where it should, in degrees from -180 to 180, to
// 0.01°.
func (p Headed) deviation() float64 {
	meant := heading.FromAngle(p.Flow - float64(p.Offset*(math.Pi/180)))
	return wrap(float64(p.Heading - meant))
}

// wrap returns the degrees as a turn from -180 to 180, to 0.01°.
func wrap(degrees float64) float64 {
	return math.Remainder(math.Round(degrees*100), 36000) / 100
}

// spread returns the mean resultant length of deviations in degrees, and their circular standard
// deviation.
func spread(degrees []float64) (resultant, deviation float64) {
	if len(degrees) == 0 {
		return 0, 0
	}
	angles := make([]float64, len(degrees))
	for i, d := range degrees {
		angles[i] = d * math.Pi / 180
	}
	_, resultant, _ = heading.Mean(angles)
	return resultant, math.Min(360, heading.Deviation(resultant))
}

// reaches is how many times the spread a piece may be off to go with a direction, and leastOff the least
// that counts as off, in degrees.
const (
	reaches  = 3
	leastOff = 0.02
)

// roles tells the pieces apart by which way they go.
func (h *Headings) roles(deviations []float64, s heading.Scheme) {
	reach := math.Max(leastOff, reaches*s.Spread)
	n := float64(len(deviations))
	var along []float64
	var second, off float64
	for _, d := range deviations {
		other := math.Inf(1)
		if s.Second.Share > 0 {
			other = math.Abs(wrap(d - s.Second.Turn))
		}
		switch {
		case math.Min(math.Abs(d), other) > reach:
			off++
		case other < math.Abs(d):
			second++
		default:
			along = append(along, d)
		}
	}
	_, h.Along = spread(along)
	free, shared := uncovered(reach, s.Second)
	if free > 0 {
		h.Strays = math.Min(1, off/n/free)
	}
	if s.Second.Share > 0 {
		h.Second = math.Max(0, second/n-h.Strays*(1-free)/shared)
	}
}

// uncovered returns the part of the circle that is farther than reach degrees from both directions,
// and how many directions share the rest.
func uncovered(reach float64, second heading.Second) (free, shared float64) {
	gap, shared := 0.0, 1.0
	if second.Share > 0 {
		gap, shared = math.Abs(wrap(second.Turn)), 2
	}
	return (math.Max(0, gap-2*reach) + math.Max(0, 360-gap-2*reach)) / 360, shared
}

// apart returns the share of the pieces that differ from their nearest by so many degrees.
func apart(pieces []Headed, degrees float64, nearest func(i int) []int32) float64 {
	met := 0
	for i, p := range pieces {
		least := 180.0
		for _, j := range nearest(i) {
			least = math.Min(least, heading.Difference(p.Heading, pieces[j].Heading))
		}
		if least >= degrees {
			met++
		}
	}
	return float64(met) / float64(len(pieces))
}

// alike returns the mean cosine of the differences between neighbours.
func alike(pieces []Headed, adjacent func(i int) []int32) float64 {
	sum, pairs := 0.0, 0
	for i, p := range pieces {
		for _, j := range adjacent(i) {
			if int(j) > i {
				sum += math.Cos(heading.Difference(p.Heading, pieces[j].Heading) * math.Pi / 180)
				pairs++
			}
		}
	}
	return sum / float64(max(1, pairs))
}

// NearestOf returns which of its neighbours are the nearest heading.Few of a piece, the nearest first,
// of equally near ones the first.
func NearestOf(adjacent func(i int) []int32, distance func(i, j int) float64) func(i int) []int32 {
	return func(i int) []int32 {
		near := slices.Clone(adjacent(i))
		slices.SortStableFunc(near, func(a, b int32) int {
			if d, e := distance(i, int(a)), distance(i, int(b)); d < e {
				return -1
			} else if d > e {
				return 1
			}
			return int(a) - int(b)
		})
		return near[:min(len(near), heading.Few)]
	}
}
