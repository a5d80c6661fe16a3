package parting

import (
	"math"

	"wallshoal/scatter/flow"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A grid is square cells, row by row from the bottom. The corners of its cells are one more each
// way; the standing sides one more to a row, and the lying sides one row more.
type grid struct {
	min           plane.Point
	cell          float64
	columns, rows int
}

func newGrid(box plane.Rect, cell float64) grid {
	count := func(extent float64) int { return max(1, int(math.Ceil(extent/cell))) }
	return grid{box.Min, cell, count(box.Width()), count(box.Height())}
}

// corner returns where the corner is that has i cells to its left and j below it.
func (g grid) corner(i, j int) plane.Point {
	return plane.Point{X: g.min.X + float64(float64(i)*g.cell), Y: g.min.Y + float64(float64(j)*g.cell)}
}

// depths returns how far inside r every corner lies, below 0 outside. Two cells are far enough:
// beyond, only the side of the boundary matters.
func (g grid) depths(r plane.Region) []float64 {
	s := sounding{g, plane.NewIndex(r), 2 * g.cell, make([]float64, (g.columns+1)*(g.rows+1))}
	s.sound(0, g.columns+1, 0, g.rows+1)
	return s.deep
}

// A sounding measures depths.
type sounding struct {
	grid
	index *plane.Index
	far   float64
	deep  []float64
}

// sound sets the depths of the corners from column i to before k and from row j to before l: all at
// once where they are all far inside or outside.
func (s sounding) sound(i, k, j, l int) {
	low, high := s.corner(i, j), s.corner(k-1, l-1)
	middle, reach := low.Lerp(high, 0.5), low.Distance(high)/2
	switch {
	case s.index.Clear(middle, s.far+reach):
		s.set(i, k, j, l, s.far)
	case !s.index.Clear(middle, -s.far-reach):
		s.set(i, k, j, l, -s.far)
	case k-i == 1 && l-j == 1:
		s.set(i, k, j, l, math.Max(-s.far, math.Min(s.far, s.index.Distance(middle))))
	case k-i > l-j:
		s.sound(i, (i+k)/2, j, l)
		s.sound((i+k)/2, k, j, l)
	default:
		s.sound(i, k, j, (j+l)/2)
		s.sound(i, k, (j+l)/2, l)
	}
}

func (s sounding) set(i, k, j, l int, depth float64) {
	for row := j; row < l; row++ {
		for c := i; c < k; c++ {
			s.deep[row*(s.columns+1)+c] = depth
		}
	}
}

// depthsNear is depths where the corners are as deep in free as told and free lies in r: measured only
// near the boundary of free, for nothing runs elsewhere.
func (g grid) depthsNear(r plane.Region, free []float64) []float64 {
	index, far := plane.NewIndex(r), 2*g.cell
	deep := make([]float64, len(free))
	for c, d := range free {
		if deep[c] = d; -far < d && d < far {
			at := g.corner(c%(g.columns+1), c/(g.columns+1))
			deep[c] = math.Max(-far, math.Min(far, index.Distance(at)))
		}
	}
	return deep
}

// apertures is the share of every side of the cells that is open.
type apertures struct{ standing, lying []float64 }

func (g grid) apertures(deep []float64) apertures {
	a := apertures{make([]float64, 0, (g.columns+1)*g.rows), make([]float64, 0, g.columns*(g.rows+1))}
	w := g.columns + 1
	for j := range g.rows {
		for i := range w {
			a.standing = append(a.standing, openShare(deep[j*w+i], deep[(j+1)*w+i]))
		}
	}
	for j := range g.rows + 1 {
		for i := range g.columns {
			a.lying = append(a.lying, openShare(deep[j*w+i], deep[j*w+i+1]))
		}
	}
	return a
}

// openShare returns how much of a side is open whose ends lie so deep inside.
func openShare(c, d float64) float64 {
	switch {
	case c > 0 && d > 0:
		return 1
	case c <= 0 && d <= 0:
		return 0
	}
	return math.Max(c, d) / math.Abs(c-d)
}

// closed returns what closes the cell in column i and row j: the sum of the lengths of its closed
// sides, each in the direction out of the cell. The open rest of the boundary is its opposite.
func (g grid) closed(a apertures, i, j int) plane.Point {
	s := j*(g.columns+1) + i
	l := j*g.columns + i
	return plane.Point{
		X: float64(g.cell * (a.standing[s] - a.standing[s+1])),
		Y: float64(g.cell * (a.lying[l] - a.lying[l+g.columns])),
	}
}

// running returns how much of the field runs into the walls in every cell: into what closes the
// cell in room but not in open.
func (g grid) running(f space.Frame, field flow.Field, room, open apertures, deep []float64) []float64 {
	b := make([]float64, g.columns*g.rows)
	for j := range g.rows {
		for i := range g.columns {
			wall := g.closed(room, i, j).Sub(g.closed(open, i, j))
			if wall.Len() < rough*g.cell {
				continue
			}
			_, middle := g.cut(deep, i, j)
			v := field.At(f, middle).Snap(steps)
			b[j*g.columns+i] = v.Dot(wall)
		}
	}
	return b
}

// A wall shorter than rough cells is an error of rounding. Flows are rounded to steps of 1/steps,
// so that the last bits of a sine, which differ between processors, are the same everywhere.
const (
	rough = 1e-9
	steps = 1e9
)

// cut returns the part of a cell that is open where its corners lie so deep inside, and the middle
// of the places where the boundary crosses its sides; the middle of the cell where it crosses none.
func (g grid) cut(deep []float64, i, j int) (part plane.Ring, wall plane.Point) {
	n := 0.0
	ring := [4][2]int{{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}}
	for k, from := range ring {
		to := ring[(k+1)%4]
		c, d := deep[from[1]*(g.columns+1)+from[0]], deep[to[1]*(g.columns+1)+to[0]]
		if c > 0 {
			part = append(part, g.corner(from[0], from[1]))
		}
		if (c > 0) != (d > 0) {
			at := g.corner(from[0], from[1]).Lerp(g.corner(to[0], to[1]), c/(c-d))
			part, wall, n = append(part, at), wall.Add(at), n+1
		}
	}
	if n == 0 {
		return part, g.corner(i, j).Lerp(g.corner(i+1, j+1), 0.5)
	}
	return part, wall.Scale(1 / n)
}

// balance makes b sum to nothing in every part of the grid whose cells are open to one another, as
// a potential needs. What is over is shared out evenly over the area of that part.
func (g grid) balance(b []float64, a apertures, deep []float64) {
	area := make([]float64, len(b))
	for c := range area {
		part, _ := g.cut(deep, c%g.columns, c/g.columns)
		area[c] = math.Max(0, part.Area())
	}
	seen := make([]bool, len(b))
	for start := range b {
		if seen[start] {
			continue
		}
		part := g.joined(start, a, seen)
		var over, all float64
		for _, c := range part {
			over += b[c]
			all += area[c]
		}
		for _, c := range part {
			if len(part) == 1 {
				b[c] = 0
			} else if all > 0 {
				b[c] -= float64(over * area[c] / all)
			}
		}
	}
}

// joined returns the cells that are open to the first, itself among them, and marks them as seen.
func (g grid) joined(first int, a apertures, seen []bool) []int {
	seen[first] = true
	part := []int{first}
	for k := 0; k < len(part); k++ {
		for _, n := range g.neighbours(part[k], a) {
			if n.share > 0 && !seen[n.cell] {
				seen[n.cell] = true
				part = append(part, n.cell)
			}
		}
	}
	return part
}

// neighbour is a cell beside another, and the open share of the side between them.
type neighbour struct {
	cell  int
	share float64
}

// neighbours returns the four cells beside c; one past the edge of the grid is c itself, closed.
func (g grid) neighbours(c int, a apertures) [4]neighbour {
	i, j := c%g.columns, c/g.columns
	s, l := j*(g.columns+1)+i, c
	all := [4]neighbour{
		{c - 1, a.standing[s]}, {c + 1, a.standing[s+1]}, {c - g.columns, a.lying[l]}, {c + g.columns, a.lying[l+g.columns]},
	}
	for k, past := range [4]bool{i == 0, i == g.columns-1, j == 0, j == g.rows-1} {
		if past {
			all[k] = neighbour{c, 0}
		}
	}
	return all
}

// slopes returns the correction that the potential stands for.
func (g grid) slopes(potential []float64, a apertures) Correction {
	c := Correction{grid: g, across: make([]float64, len(a.standing)), up: make([]float64, len(a.lying))}
	w := g.columns + 1
	for j := range g.rows {
		for i := 1; i < g.columns; i++ {
			p := j*g.columns + i
			c.across[j*w+i] = (potential[p-1] - potential[p]) / g.cell
		}
	}
	for j := 1; j < g.rows; j++ {
		for i := range g.columns {
			p := j*g.columns + i
			c.up[p] = (potential[p-g.columns] - potential[p]) / g.cell
		}
	}
	spread(c.across, a.standing, w)
	spread(c.up, a.lying, g.columns)
	return c
}
