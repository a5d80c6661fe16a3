package parting

import (
	"math"
	"slices"

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
	deep := make([]float64, (g.columns+1)*(g.rows+1))
	for c := range deep {
		deep[c] = 2 * g.cell
	}
	crossed := make([][]float64, g.rows+1) // by row of corners, where the boundary crosses it
	for _, p := range r.Polygons() {
		for _, ring := range append([]plane.Ring{p.Outer}, p.Holes...) {
			for i, a := range ring {
				b := ring[(i+1)%len(ring)]
				g.near(deep, a, b)
				g.cross(crossed, a, b)
			}
		}
	}
	for j, xs := range crossed {
		slices.Sort(xs)
		n := 0 // of the boundary's crossings that are left of a corner
		for i := range g.columns + 1 {
			for x := g.corner(i, j).X; n < len(xs) && xs[n] < x; n++ {
			}
			if c := j*(g.columns+1) + i; n%2 == 0 {
				deep[c] = -deep[c]
			}
		}
	}
	return deep
}

// near lowers the depths of the corners that are less than two cells from the side ab to their
// distance from it.
func (g grid) near(deep []float64, a, b plane.Point) {
	far := 2 * g.cell
	i, k := g.span(math.Min(a.X, b.X)-g.min.X-far, math.Max(a.X, b.X)-g.min.X+far, g.columns)
	for ; i < k; i++ {
		// Of a sloping side only the part above and below the column.
		low, high := math.Min(a.Y, b.Y), math.Max(a.Y, b.Y)
		if x := g.corner(i, 0).X; a.X != b.X {
			y := func(x float64) float64 {
				t := math.Min(math.Max((x-a.X)/(b.X-a.X), 0), 1)
				return a.Y + float64(t*(b.Y-a.Y))
			}
			low, high = math.Min(y(x-far), y(x+far)), math.Max(y(x-far), y(x+far))
		}
		j, l := g.span(low-g.min.Y-far, high-g.min.Y+far, g.rows)
		for ; j < l; j++ {
			c := j*(g.columns+1) + i
			deep[c] = math.Min(deep[c], plane.SegmentDistance(g.corner(i, j), a, b))
		}
	}
}

// span returns the corners, from the first to before the last, that lie from low to high along rows
// or columns of so many cells.
func (g grid) span(low, high float64, cells int) (first, last int) {
	return max(0, int(math.Ceil(low/g.cell))), min(cells+1, int(math.Floor(high/g.cell))+1)
}

// cross notes where the side ab crosses the rows of corners. A corner of the region on a row counts as
// just above it.
func (g grid) cross(crossed [][]float64, a, b plane.Point) {
	j, l := g.span(math.Min(a.Y, b.Y)-g.min.Y, math.Max(a.Y, b.Y)-g.min.Y, g.rows)
	for ; j < l; j++ {
		if y := g.corner(0, j).Y; (a.Y < y) != (b.Y < y) {
			crossed[j] = append(crossed[j], a.X+float64((y-a.Y)/(b.Y-a.Y)*(b.X-a.X)))
		}
	}
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

// whole reports whether all of the cell is open.
func (g grid) whole(deep []float64, c int) bool {
	corner := c/g.columns*(g.columns+1) + c%g.columns
	above := corner + g.columns + 1
	return deep[corner] > 0 && deep[corner+1] > 0 && deep[above] > 0 && deep[above+1] > 0
}

// balance makes b sum to nothing in every part of the grid whose cells are open to one another, as
// a potential needs. What is over is shared out evenly over the area of that part.
func (g grid) balance(b []float64, a apertures, deep []float64) {
	area := make([]float64, len(b))
	for c := range area {
		if area[c] = float64(g.cell * g.cell); !g.whole(deep, c) {
			part, _ := g.cut(deep, c%g.columns, c/g.columns)
			area[c] = math.Max(0, part.Area())
		}
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
