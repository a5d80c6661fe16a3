package poisson

import (
	"math"

	"wallshoal/wall/plane"
)

// A Raster holds Radii as values at the nodes of a lattice over a rectangle, bilinear between them;
// beyond the rectangle it goes on as at its edge. Where a node that counts is infinite, so is the
// radius.
type Raster struct {
	min           plane.Point
	step          plane.Point // between nodes, each way, mm
	columns, rows int         // of nodes, two or more
	levels        []level     // the nodes, then the bounds of ever larger squares of them
}

// A level is the least and the most of every square of nodes of one size; at the nodes themselves
// they are equal and share their memory.
type level struct {
	columns, rows int
	least, most   []float64
}

// NewRaster reads at once at every node of a lattice over bounds, whose step is at most the one
// given, in mm. Values are rounded to 24 bits, so that the last bits of what they come of do not
// decide where a point lies.
func NewRaster(bounds plane.Rect, step float64, at func(plane.Point) float64) *Raster {
	r := &Raster{min: bounds.Min}
	r.columns, r.step.X = nodes(bounds.Width(), step)
	r.rows, r.step.Y = nodes(bounds.Height(), step)
	values := make([]float64, 0, r.columns*r.rows)
	for row := range r.rows {
		for column := range r.columns {
			p := plane.Point{X: r.min.X + float64(float64(column)*r.step.X), Y: r.min.Y + float64(float64(row)*r.step.Y)}
			values = append(values, float64(float32(at(p))))
		}
	}
	base := level{r.columns, r.rows, values, values}
	r.levels = append(r.levels, base)
	for base.columns > 1 || base.rows > 1 {
		base = base.halved()
		r.levels = append(r.levels, base)
	}
	return r
}

// nodes returns how many nodes a length takes and how far apart they are.
func nodes(length, step float64) (n int, apart float64) {
	gaps := math.Max(1, math.Ceil(length/step))
	return int(gaps) + 1, math.Max(length, step/2) / gaps
}

// halved returns the bounds over squares of twice the size.
func (l level) halved() level {
	h := level{columns: (l.columns + 1) / 2, rows: (l.rows + 1) / 2}
	for row := range h.rows {
		for column := range h.columns {
			least, most := l.over(2*column, 2*row, min(2*column+1, l.columns-1), min(2*row+1, l.rows-1))
			h.least, h.most = append(h.least, least), append(h.most, most)
		}
	}
	return h
}

// over returns the bounds over the squares from left to right and bottom to top, these included.
func (l level) over(left, bottom, right, top int) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	for row := bottom; row <= top; row++ {
		for i := row*l.columns + left; i <= row*l.columns+right; i++ {
			least, most = min(least, l.least[i]), max(most, l.most[i])
		}
	}
	return least, most
}

// At implements Radii.
func (r *Raster) At(p plane.Point) float64 {
	column, right := split((p.X-r.min.X)/r.step.X, r.columns)
	row, up := split((p.Y-r.min.Y)/r.step.Y, r.rows)
	values := r.levels[0].least[row*r.columns+column:]
	low := blend(values[0], values[1], right)
	if up == 0 {
		return low
	}
	return blend(low, blend(values[r.columns], values[r.columns+1], right), up)
}

// split returns the node before x, with another after it, and how far on from it x is, 0 to 1.
func split(x float64, n int) (node int, rest float64) {
	x = min(max(x, 0), float64(n-1))
	node = min(int(x), n-2)
	return node, x - float64(node)
}

// blend returns the value a share t of the way from a to b. What has no share does not count, be it
// infinite.
func blend(a, b, t float64) float64 {
	switch {
	case t == 0 || a == b:
		return a
	case t == 1:
		return b
	}
	return float64(a*(1-t)) + float64(b*t)
}

// Within implements Radii. The bounds of a box that few lines of the lattice cross are exact, for a
// bilinear patch has its extremes at its corners; those of a larger one are the bounds of nodes in
// it and round it.
func (r *Raster) Within(box plane.Rect) (least, most float64) {
	left, x0 := split((box.Min.X-r.min.X)/r.step.X, r.columns)
	right, x1 := split((box.Max.X-r.min.X)/r.step.X, r.columns)
	bottom, y0 := split((box.Min.Y-r.min.Y)/r.step.Y, r.rows)
	top, y1 := split((box.Max.Y-r.min.Y)/r.step.Y, r.rows)
	if right-left <= 1 && top-bottom <= 1 {
		return r.patches(left, bottom, right, top, x0, y0, x1, y1)
	}
	right, top = right+1, top+1
	n := 0
	for right>>n-left>>n > 3 || top>>n-bottom>>n > 3 {
		n++
	}
	return r.levels[n].over(left>>n, bottom>>n, right>>n, top>>n)
}

// patches returns the bounds over at most two patches each way, from the shares x0 and y0 of the
// first to x1 and y1 of the last.
func (r *Raster) patches(left, bottom, right, top int, x0, y0, x1, y1 float64) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	if left == right && bottom == top {
		v := r.levels[0].least[bottom*r.columns+left:]
		a, b, c, d := v[0], v[1], v[r.columns], v[r.columns+1]
		from, to := blend(a, b, x0), blend(a, b, x1)
		over, beyond := blend(c, d, x0), blend(c, d, x1)
		p, q, s, t := blend(from, over, y0), blend(to, beyond, y0), blend(from, over, y1), blend(to, beyond, y1)
		return min(p, q, s, t), max(p, q, s, t)
	}
	for row := bottom; row <= top; row++ {
		low, high := shares(row, bottom, top, y0, y1)
		for column := left; column <= right; column++ {
			v := r.levels[0].least[row*r.columns+column:]
			from, to := shares(column, left, right, x0, x1)
			for _, up := range [2]float64{low, high} {
				for _, on := range [2]float64{from, to} {
					value := blend(blend(v[0], v[1], on), blend(v[r.columns], v[r.columns+1], on), up)
					least, most = min(least, value), max(most, value)
				}
			}
		}
	}
	return least, most
}

// shares returns which part of patch n a span from the share first of one patch to the share last
// of another takes up.
func shares(n, from, to int, first, last float64) (low, high float64) {
	low, high = 0, 1
	if n == from {
		low = first
	}
	if n == to {
		high = last
	}
	return low, high
}
