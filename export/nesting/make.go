package nesting

import (
	"cmp"
	"math"
	"slices"

	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// rowStep is the height of a row on sheets up to a metre or so, in mm; larger sheets have maxRows.
const (
	rowStep    = 0.5
	maxRows    = 2500
	maxOnSheet = 4000 // pieces
)

// A filling lays what is left of each part on one sheet.
type filling func(left []int) []Placement

// Make lays the parts out on sheets of the stock. The error is the first problem of Check, in mm.
// The same stock and parts give the same nest on every machine.
func Make(s Stock, parts []Part) (Nest, error) {
	if problems := Check("sheets", s, parts, measure.Millimetre); len(problems) > 0 {
		return Nest{}, problems[0]
	}
	n := Nest{Stock: s, Parts: slices.Clone(parts)}
	// Places are to 0.001 mm, so what is kept between them is too, and never less than asked.
	s.Margin, s.Gap = math.Ceil(float64(s.Margin*1000)-touch)/1000, math.Ceil(float64(s.Gap*1000)-touch)/1000
	n.Stock.Margin, n.Stock.Gap = s.Margin, s.Gap
	cells := cellsOf(s, parts)
	best := n.better(n.sheets(gridOne(s, cells)), n.sheets(shelves(s, cells)))
	n.Grid = Nest{Sheets: best}.Total()
	if !crowded(best) && slices.ContainsFunc(parts, func(p Part) bool { return p.Count > 0 }) {
		for _, f := range n.ways() {
			best = n.better(best, n.sheets(f))
		}
	}
	n.Sheets = best
	return n, nil
}

// crowded reports whether a sheet holds so many pieces that nobody would wait for more than the grid.
func crowded(sheets []Sheet) bool {
	return slices.ContainsFunc(sheets, func(s Sheet) bool { return len(s.Placements) > maxOnSheet })
}

// sheets cuts all parts by one filling, each sheet as often as what is left allows; nil where the
// filling cannot lay them.
func (n Nest) sheets(fill filling) []Sheet {
	left, open := make([]int, len(n.Parts)), 0
	for i, p := range n.Parts {
		left[i] = p.Count
		open += p.Count
	}
	var out []Sheet
	for open > 0 {
		s := Sheet{Placements: fill(left)}
		if len(s.Placements) == 0 {
			return nil
		}
		used := n.Counts(s)
		s.Copies = math.MaxInt
		for i, u := range used {
			if u > 0 {
				s.Copies = min(s.Copies, left[i]/u)
			}
		}
		for i, u := range used {
			left[i] -= u * s.Copies
			open -= u * s.Copies
		}
		out = append(out, s)
	}
	return out
}

// better returns which of two takes fewer sheets, or as many and less of the last one; the first where
// they are alike. One that is empty could not be laid.
func (n Nest) better(a, b []Sheet) []Sheet {
	if len(a) == 0 || len(b) == 0 {
		if len(a) == 0 {
			return b
		}
		return a
	}
	by := cmp.Or(
		cmp.Compare(Nest{Sheets: a}.Total(), Nest{Sheets: b}.Total()),
		cmp.Compare(n.lastBox(a), n.lastBox(b)),
		cmp.Compare(len(a), len(b)),
	)
	if by > 0 {
		return b
	}
	return a
}

// lastBox returns the part of the last sheet that is used, as a strip off either side, in mm² to 1.
func (n Nest) lastBox(sheets []Sheet) float64 {
	far := plane.Point{}
	for _, p := range sheets[len(sheets)-1].Placements {
		box := n.Outline(p).Bounds()
		far = plane.Point{X: max(far.X, box.Max.X), Y: max(far.Y, box.Max.Y)}
	}
	return math.Round(min(float64(far.X*n.Stock.Height), float64(far.Y*n.Stock.Width)))
}

// ways returns the fillings that are tried: each set of turns, upwards and from left to right.
func (n Nest) ways() []filling {
	step := max(rowStep, math.Ceil(2*max(n.Stock.openWidth(), n.Stock.openHeight())/maxRows)/2)
	order := make([]int, len(n.Parts))
	sets := make([][][]float64, len(n.Parts))
	most := 0
	for i, p := range n.Parts {
		order[i] = i
		sets[i] = n.Stock.sets(p)
		most = max(most, len(sets[i]))
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(n.Parts[b].Outline.Area(), n.Parts[a].Outline.Area())
	})
	type turn struct {
		part    int
		degrees float64
		across  bool
	}
	made := map[turn]*shape{}
	var out []filling
	for k := range most {
		for _, across := range []bool{false, true} {
			w := way{stock: n.Stock, order: order, across: across, step: step}
			for i, p := range n.Parts {
				var shapes []*shape
				for _, degrees := range sets[i][min(k, len(sets[i])-1)] {
					t := turn{i, degrees, across}
					if made[t] == nil {
						made[t] = shapeOf(i, p, degrees, across, step, n.Stock.Gap)
					}
					shapes = append(shapes, made[t])
				}
				w.shapes = append(w.shapes, shapes)
			}
			out = append(out, w.fill)
		}
	}
	return out
}
