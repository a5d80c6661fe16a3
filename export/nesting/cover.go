package nesting

import (
	"cmp"
	"math"
	"slices"

	"wallshoal/wall/plane"
)

// touch is how far apart two lengths can be and count as one, in mm: what is lost where places are
// rounded, far below what any cutter does.
const touch = 1e-7

// A span is a stretch of a row, from low to high, in mm.
type span struct{ low, high float64 }

// A shape is a part in one of its turns, with its lowest left corner at the origin. Where the sheet is
// filled along its height, x and y change places.
type shape struct {
	part          int
	turn          float64
	shift         plane.Point // from the outline's origin to the shape's
	width, height float64
	across        bool     // x and y have changed places
	rows          [][]span // what the shape touches, row by row
	grown         [][]span // the same with the gap round it, from row -reach on
	reach         int
}

// shapeOf returns the part in a turn.
func shapeOf(part int, p Part, degrees float64, across bool, step, gap float64) *shape {
	ring, box := turned(p.Outline, degrees)
	ring = ring.Map(func(q plane.Point) plane.Point {
		q = q.Sub(box.Min).Snap(1000)
		if across {
			q.X, q.Y = q.Y, q.X
		}
		return q
	})
	s := &shape{part: part, turn: degrees, across: across, shift: plane.Point{X: -box.Min.X, Y: -box.Min.Y}}
	b := ring.Bounds()
	s.width, s.height = b.Max.X, b.Max.Y
	s.rows = rowsOf(ring, s.height, step)
	s.grow(step, gap)
	return s
}

// rowsOf returns what the ring touches in each row: the rows' own projections onto x. A point of the
// ring in a row that is moved straight up meets an edge within the row, or the line along its top; so
// the edges in the row and the stretches inside along its top are all there is.
func rowsOf(ring plane.Ring, height, step float64) [][]span {
	rows := make([][]span, max(1, int(math.Ceil(height/step-touch))))
	crossings := make([][]float64, len(rows)) // of the line along the top of each row, just below it
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		low, high := a, b
		if low.Y > high.Y {
			low, high = high, low
		}
		at := func(y float64) float64 {
			switch {
			case y <= low.Y:
				return low.X
			case y >= high.Y:
				return high.X
			}
			return low.X + float64((high.X-low.X)*((y-low.Y)/(high.Y-low.Y)))
		}
		for j := max(0, int(low.Y/step)-1); j < len(rows) && float64(float64(j)*step) < high.Y; j++ {
			foot, top := float64(float64(j)*step), float64(float64(j+1)*step)
			if low.Y >= top {
				continue
			}
			if high.Y > foot {
				p, q := at(foot), at(top)
				rows[j] = append(rows[j], span{min(p, q), max(p, q)})
			}
			if low.Y < top && top <= high.Y {
				crossings[j] = append(crossings[j], at(top))
			}
		}
	}
	for j, xs := range crossings {
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			rows[j] = append(rows[j], span{xs[i], xs[i+1]})
		}
		rows[j] = merged(rows[j])
	}
	return rows
}

// grow lays the gap round the rows. Two points in rows i and j are at least |i-j|-1 rows apart, which
// leaves only a part of the gap to be kept along the row.
func (s *shape) grow(step, gap float64) {
	s.reach = int(math.Ceil(gap/step - touch))
	s.grown = make([][]span, len(s.rows)+2*s.reach)
	for i, row := range s.rows {
		for d := -s.reach; d <= s.reach; d++ {
			rise := float64(max(0, float64(max(d, -d)-1)) * step)
			aside := math.Sqrt(max(0, float64(gap*gap)-float64(rise*rise)))
			to := &s.grown[i+d+s.reach]
			for _, r := range row {
				*to = append(*to, span{r.low - aside, r.high + aside})
			}
		}
	}
	for i := range s.grown {
		s.grown[i] = merged(s.grown[i])
	}
}

// merged returns the spans in order, those that meet as one.
func merged(spans []span) []span {
	slices.SortFunc(spans, func(a, b span) int { return cmp.Compare(a.low, b.low) })
	out := spans[:0]
	for _, s := range spans {
		if n := len(out); n > 0 && s.low <= out[n-1].high {
			out[n-1].high = max(out[n-1].high, s.high)
			continue
		}
		out = append(out, s)
	}
	return out
}
