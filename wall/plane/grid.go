package plane

import (
	"cmp"
	"math"
	"slices"
)

// How many cells the grid of an index has: so many for each edge of its region that most cells
// hold no edge, within bounds that keep a small region quick and a large one small in memory.
const (
	cellsPerEdge = 8
	minCells     = 1 << 10
	maxCells     = 1 << 16
)

// A grid cuts the box of a region into square cells. It says of each which edges can be the
// nearest to a point of the cell, and of each row which edges pass through it.
type grid struct {
	box        Rect
	size       float64 // side of a cell, mm
	half       float64 // half the diagonal of a cell, mm
	cols, rows int
	edges      []edge
	nearest    lists     // by cell; every edge that passes through the cell is among them
	across     lists     // by row, sorted by the left ends of the edges
	middle     []float64 // by cell: the signed distance from its middle to the boundary, mm
}

// An edge is one side of a ring of a region.
type edge struct {
	a, b, along Point
	whole       float64 // square of its length, mm²
	left        float64 // x of its left end
}

// Lists are many short lists of edges in one piece of memory: list i is all[from[i]:from[i+1]].
type lists struct {
	from, all []int32
}

func (l lists) at(i int) []int32 { return l.all[l.from[i]:l.from[i+1]] }

func listsOf(each [][]int32) lists {
	l := lists{from: make([]int32, 1, len(each)+1)}
	for _, list := range each {
		l.all = append(l.all, list...)
		l.from = append(l.from, int32(len(l.all)))
	}
	return l
}

// newGrid returns the grid of a region that is not empty.
func newGrid(r Region) *grid {
	g := &grid{box: r.Bounds()}
	for _, ring := range r.rings() {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			along := b.Sub(a)
			g.edges = append(g.edges, edge{a, b, along, along.Dot(along), math.Min(a.X, b.X)})
		}
	}
	cells := float64(min(max(len(g.edges)*cellsPerEdge, minCells), maxCells))
	w, h := g.box.Width(), g.box.Height()
	g.size = math.Max(math.Sqrt(w*h/cells), math.Max(w, h)/cells)
	g.half = g.size / math.Sqrt2
	g.cols, g.rows = 1+int(w/g.size), 1+int(h/g.size)
	g.fillRows()
	g.fillCells()
	return g
}

func (g *grid) fillRows() {
	each := make([][]int32, g.rows)
	for i, e := range g.edges {
		low, high := math.Min(e.a.Y, e.b.Y), math.Max(e.a.Y, e.b.Y)
		for row := g.rowOf(low - slack); row <= g.rowOf(high+slack); row++ {
			each[row] = append(each[row], int32(i))
		}
	}
	for _, list := range each {
		slices.SortFunc(list, func(i, j int32) int {
			return cmp.Or(cmp.Compare(g.edges[i].left, g.edges[j].left), cmp.Compare(i, j))
		})
	}
	g.across = listsOf(each)
}

func (g *grid) fillCells() {
	every := make([]int32, len(g.edges))
	for i := range every {
		every[i] = int32(i)
	}
	each := make([][]int32, g.cols*g.rows)
	g.share(block{0, 0, g.cols, g.rows}, every, each)
	g.nearest = listsOf(each)

	g.middle = make([]float64, len(each))
	for row := range g.rows {
		for col := range g.cols {
			cell := row*g.cols + col
			p := g.boxOf(block{col, row, 1, 1}).Centre()
			g.middle[cell] = g.signed(p, row, math.Sqrt(g.near2(p, cell)))
		}
	}
}

// A block is a rectangle of cells.
type block struct{ col, row, cols, rows int }

// share hands the edges that can be nearest to a point of b down to its cells, halving b until it
// is a single cell.
func (g *grid) share(b block, edges []int32, each [][]int32) {
	edges = g.canBeNearest(g.boxOf(b), edges)
	switch {
	case b.cols == 1 && b.rows == 1:
		each[b.row*g.cols+b.col] = edges
	case b.cols >= b.rows:
		half := b.cols / 2
		g.share(block{b.col, b.row, half, b.rows}, edges, each)
		g.share(block{b.col + half, b.row, b.cols - half, b.rows}, edges, each)
	default:
		half := b.rows / 2
		g.share(block{b.col, b.row, b.cols, half}, edges, each)
		g.share(block{b.col, b.row + half, b.cols, b.rows - half}, edges, each)
	}
}

// canBeNearest returns those of the edges that can be nearest to a point of box: those no farther
// from its middle than the nearest is, but for the box's diagonal.
func (g *grid) canBeNearest(box Rect, edges []int32) []int32 {
	p := box.Centre()
	off := make([]float64, len(edges))
	near := math.Inf(1)
	for k, i := range edges {
		off[k] = math.Sqrt(g.edges[i].distance2(p))
		near = math.Min(near, off[k])
	}
	far := near + box.Min.Distance(box.Max) + slack
	var kept []int32
	for k, i := range edges {
		if off[k] <= far {
			kept = append(kept, i)
		}
	}
	return kept
}

func (g *grid) boxOf(b block) Rect {
	corner := func(col, row int) Point {
		return Point{g.box.Min.X + float64(float64(col)*g.size), g.box.Min.Y + float64(float64(row)*g.size)}
	}
	return Rect{corner(b.col, b.row), corner(b.col+b.cols, b.row+b.rows)}
}

// rowOf returns the row that y lies in, or the row nearest to it.
func (g *grid) rowOf(y float64) int { return min(max(int((y-g.box.Min.Y)/g.size), 0), g.rows-1) }

// colOf returns the column that x lies in, or the column nearest to it.
func (g *grid) colOf(x float64) int { return min(max(int((x-g.box.Min.X)/g.size), 0), g.cols-1) }

// distance2 returns the square of the distance from p to e, in mm².
func (e *edge) distance2(p Point) float64 {
	to := p.Sub(e.a)
	t := to.Dot(e.along)
	switch {
	case t <= 0:
		return to.Dot(to)
	case t >= e.whole:
		past := p.Sub(e.b)
		return past.Dot(past)
	}
	off := e.along.Cross(to)
	return float64(off*off) / e.whole
}

// near2 returns the square of the distance from p, which lies in the cell, to the boundary.
func (g *grid) near2(p Point, cell int) float64 {
	near := math.Inf(1)
	for _, i := range g.nearest.at(cell) {
		if d := g.edges[i].distance2(p); d < near {
			near = d
		}
	}
	return near
}

// signed returns d, or -d where p, which lies in the row, is outside the region.
func (g *grid) signed(p Point, row int, d float64) float64 {
	if g.inRow(p, row) {
		return d
	}
	return -d
}

// inRow reports whether p, which lies in the row, is inside the region.
func (g *grid) inRow(p Point, row int) bool {
	inside := false
	for _, i := range g.across.at(row) {
		e := &g.edges[i]
		if e.left > p.X {
			break
		}
		if (e.a.Y > p.Y) == (e.b.Y > p.Y) {
			continue
		}
		side := e.along.Cross(p.Sub(e.a))
		if (e.along.Y > 0) == (side < 0) {
			inside = !inside
		}
	}
	return inside
}
