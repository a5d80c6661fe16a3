package nesting

import (
	"math"
	"sort"

	"wallshoal/wall/plane"
)

// A floor is the open part of a sheet while it is being filled, row by row from its foot.
type floor struct {
	width, height, step float64
	taken               [][]span // by row, in order, none meeting another
}

// A spot is where a shape's origin goes on a floor.
type spot struct {
	row int
	x   float64
}

func newFloor(width, height, step float64) *floor {
	return &floor{width: width, height: height, step: step, taken: make([][]span, int(height/step)+2)}
}

// find returns the lowest spot for the shape that is not below from, and the leftmost in its row, or
// false where there is none. What has been looked through stays taken, so the search goes on from the
// last spot of the same shape.
func (f *floor) find(s *shape, from spot) (spot, bool) {
	most := f.width - s.width + touch
	if most < 0 {
		return spot{}, false
	}
	x := from.x
	hint := 0
	for row := from.row; float64(float64(row)*f.step)+s.height <= f.height+touch; row++ {
		for x <= most {
			free, next := f.free(s, row, x, &hint)
			if free {
				return spot{row, x}, true
			}
			x = next
		}
		x = 0
	}
	return spot{}, false
}

// free reports whether the shape has room at x in the row, and if not, the least x past what is in its
// way there. Rows are looked at from the one that was in the way last.
func (f *floor) free(s *shape, row int, x float64, hint *int) (bool, float64) {
	for k := range s.rows {
		i := *hint + k
		if i >= len(s.rows) {
			i -= len(s.rows)
		}
		taken := f.taken[row+i]
		if len(taken) == 0 {
			continue
		}
		for _, own := range s.rows[i] {
			low := x + own.low + touch
			j := sort.Search(len(taken), func(j int) bool { return taken[j].high > low })
			if j < len(taken) && taken[j].low < x+own.high-touch {
				*hint = i
				// Just above the place where they would touch, on the grid of a hundredth of a mm.
				return false, math.Ceil(float64((taken[j].high-own.low)*100)-1e-6) / 100
			}
		}
	}
	return true, x
}

// take marks the floor under the shape, and the gap round it.
func (f *floor) take(s *shape, at spot) {
	for i, spans := range s.grown {
		row := at.row + i - s.reach
		if row < 0 || row >= len(f.taken) {
			continue
		}
		for _, g := range spans {
			f.taken[row] = insert(f.taken[row], span{g.low + at.x, g.high + at.x})
		}
	}
}

// insert adds a span to those in order, and joins it to what it meets.
func insert(spans []span, s span) []span {
	first := sort.Search(len(spans), func(j int) bool { return spans[j].high >= s.low })
	last := first
	for last < len(spans) && spans[last].low <= s.high {
		s.low, s.high = min(s.low, spans[last].low), max(s.high, spans[last].high)
		last++
	}
	if first == last {
		spans = append(spans, span{})
		copy(spans[first+1:], spans[first:])
		spans[first] = s
		return spans
	}
	spans[first] = s
	return append(spans[:first+1], spans[last:]...)
}

// A way is one way to fill sheets: which turns, in which order, along which side.
type way struct {
	stock  Stock
	order  []int      // of the parts
	shapes [][]*shape // by part
	across bool
	step   float64
}

// fill lays what is left of the parts on one sheet, as much as goes.
func (w way) fill(left []int) []Placement {
	width, height := w.stock.openWidth(), w.stock.openHeight()
	if w.across {
		width, height = height, width
	}
	f := newFloor(width, height, w.step)
	var out []Placement
	for _, part := range w.order {
		shapes := w.shapes[part]
		next := make([]spot, len(shapes))
		full := make([]bool, len(shapes))
		for range left[part] {
			best := -1
			for i, s := range shapes {
				if full[i] {
					continue
				}
				at, ok := f.find(s, next[i])
				if next[i] = at; !ok {
					full[i] = true
					continue
				}
				if best < 0 || w.lower(s, at, shapes[best], next[best]) {
					best = i
				}
			}
			if best < 0 {
				break
			}
			f.take(shapes[best], next[best])
			out = append(out, w.placed(shapes[best], next[best]))
		}
	}
	return out
}

// lower reports whether a shape ends lower at its spot than another, or as low and farther left.
func (w way) lower(a *shape, at spot, b *shape, bt spot) bool {
	top := float64(float64(at.row)*w.step) + a.height
	other := float64(float64(bt.row)*w.step) + b.height
	if math.Abs(top-other) > touch {
		return top < other
	}
	return at.x < bt.x-touch
}

func (w way) placed(s *shape, at spot) Placement {
	p := plane.Point{X: at.x, Y: float64(float64(at.row) * w.step)}
	if s.across {
		p.X, p.Y = p.Y, p.X
	}
	p = p.Add(plane.Point{X: w.stock.Margin, Y: w.stock.Margin}).Add(s.shift)
	return Placement{Part: s.part, Turn: s.turn, At: p.Snap(1000)}
}
