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

// gather appends what stands in the cells within reach of p to found, row by row of each block.
func (s *sheet) gather(p plane.Point, reach float64, found []int32) []int32 {
	left, bottom := s.cell(plane.Point{X: p.X - reach, Y: p.Y - reach})
	right, top := s.cell(plane.Point{X: p.X + reach, Y: p.Y + reach})
	for blockRow := bottom / side; blockRow <= top/side; blockRow++ {
		low, high := max(bottom-blockRow*side, 0), min(top-blockRow*side, side-1)
		for blockColumn := left / side; blockColumn <= right/side; blockColumn++ {
			b := s.blocks[blockRow*s.columns+blockColumn]
			if b == nil {
				continue
			}
			first, last := max(left-blockColumn*side, 0), min(right-blockColumn*side, side-1)
			for row := low; row <= high; row++ {
				for _, n := range b[row][first : last+1] {
					if n != 0 {
						found = append(found, n-1)
					}
				}
			}
		}
	}
	return found
}
