package poisson

import "wallshoal/wall/plane"

// A sheet is the part of a grid that lies on one chart. Its cells are kept in square blocks that
// come into being when a point falls in one, so that a large chart with little of it in use costs
// little.
type sheet struct {
	min     plane.Point
	size    float64
	columns int // of blocks
	rows    int
	blocks  map[int]*block
}

// side is how many cells a block has each way.
const side = 16

type block [side][side]int32 // one more than the index of the point in each cell

func newSheet(bounds plane.Rect, size float64) sheet {
	return sheet{
		min:     bounds.Min,
		size:    size,
		columns: int(bounds.Width()/(size*side)) + 1,
		rows:    int(bounds.Height()/(size*side)) + 1,
		blocks:  map[int]*block{},
	}
}

// cell returns the column and row of the cell that holds p, cut off at the edges of the sheet.
func (s *sheet) cell(p plane.Point) (column, row int) {
	return clamp((p.X-s.min.X)/s.size, s.columns*side), clamp((p.Y-s.min.Y)/s.size, s.rows*side)
}

func clamp(x float64, n int) int {
	switch {
	case x <= 0:
		return 0
	case x >= float64(n):
		return n - 1
	}
	return int(x)
}

func (s *sheet) set(p plane.Point, n int32) {
	column, row := s.cell(p)
	key := row/side*s.columns + column/side
	b := s.blocks[key]
	if b == nil {
		b = new(block)
		s.blocks[key] = b
	}
	b[row%side][column%side] = n
}

// visit calls f with what stands in the cells within reach of p, row by row, until f returns
// false, and reports whether f never did.
func (s *sheet) visit(p plane.Point, reach float64, f func(n int32) bool) bool {
	left, bottom := s.cell(plane.Point{X: p.X - reach, Y: p.Y - reach})
	right, top := s.cell(plane.Point{X: p.X + reach, Y: p.Y + reach})
	for blockRow := bottom / side; blockRow <= top/side; blockRow++ {
		for blockColumn := left / side; blockColumn <= right/side; blockColumn++ {
			b := s.blocks[blockRow*s.columns+blockColumn]
			if b == nil {
				continue
			}
			for row := max(bottom, blockRow*side); row <= min(top, blockRow*side+side-1); row++ {
				for column := max(left, blockColumn*side); column <= min(right, blockColumn*side+side-1); column++ {
					if n := b[row%side][column%side]; n != 0 && !f(n) {
						return false
					}
				}
			}
		}
	}
	return true
}
