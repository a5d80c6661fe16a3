package nesting

import (
	"slices"

	"wallshoal/wall/plane"
)

// A cell is a part's bounding box in a turn, as a plain grid takes it.
type cell struct {
	part          int
	turn          float64
	shift         plane.Point // from the corner of the cell to the outline's origin
	width, height float64
}

// cellsOf returns each part's cell in the turn, as drawn or by a quarter where that is allowed, of
// which a sheet holds more.
func cellsOf(s Stock, parts []Part) []cell {
	turns := []float64{0}
	if s.Turn == Any || s.Turn == Quarter {
		turns = append(turns, 90)
	}
	if s.Turn == Any {
		turns = append(turns, -1) // stands for the least box
	}
	out := make([]cell, len(parts))
	for i, p := range parts {
		most := -1
		for _, t := range turns {
			if t < 0 {
				t = leastBox(p)
			}
			_, box := turned(p.Outline, t)
			c := cell{i, t, plane.Point{X: -box.Min.X, Y: -box.Min.Y}, box.Width(), box.Height()}
			if n := s.perRow(c) * s.perColumn(c); n > most {
				out[i], most = c, n
			}
		}
	}
	return out
}

func (s Stock) perRow(c cell) int { return fits(s.openWidth(), c.width, s.Gap) }

func (s Stock) perColumn(c cell) int { return fits(s.openHeight(), c.height, s.Gap) }

// fits returns how many lengths with a gap between each two go into a whole.
func fits(whole, length, gap float64) int { return int((whole + gap + touch) / (length + gap)) }

// gridOne returns a filling of sheets with a plain grid of the part alone of which something is left
// first.
func gridOne(s Stock, cells []cell) filling {
	return func(left []int) []Placement {
		i := slices.IndexFunc(left, func(n int) bool { return n > 0 })
		if i < 0 {
			return nil
		}
		c, columns := cells[i], s.perRow(cells[i])
		var out []Placement
		for k := range min(left[i], columns*s.perColumn(c)) {
			out = append(out, c.placed(s, float64(float64(k%columns)*(c.width+s.Gap)), float64(float64(k/columns)*(c.height+s.Gap))))
		}
		return out
	}
}

// shelves returns a filling of sheets with rows of bounding boxes, the highest parts first.
func shelves(s Stock, cells []cell) filling {
	order := make([]int, len(cells))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case cells[a].height > cells[b].height:
			return -1
		case cells[a].height < cells[b].height:
			return 1
		}
		return 0
	})
	return func(left []int) []Placement {
		var out []Placement
		foot, top, x := 0.0, 0.0, 0.0 // of the shelf
		for _, i := range order {
			c := cells[i]
			for range left[i] {
				if x+c.width > s.openWidth()+touch {
					foot, x = top+s.Gap, 0
				}
				if foot+c.height > s.openHeight()+touch || c.width > s.openWidth()+touch {
					break
				}
				out = append(out, c.placed(s, x, foot))
				top = max(top, foot+c.height)
				x += c.width + s.Gap
			}
		}
		return out
	}
}

func (c cell) placed(s Stock, x, y float64) Placement {
	at := plane.Point{X: s.Margin + x, Y: s.Margin + y}.Add(c.shift)
	return Placement{Part: c.part, Turn: c.turn, At: at.Snap(1000)}
}
