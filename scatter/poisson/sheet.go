package poisson

import (
	"cmp"
	"slices"
)

// A spot is a place in steps of 1/PerMM mm from the corner of the bounds of its chart. Distances
// between spots are exact in whole numbers.
type spot struct{ x, y int32 }

// far is beyond any chart, in steps: where no spot stands, one is kept that is nowhere near.
const far = 1 << 29

var nowhere = spot{2 * far, 2 * far}

// square returns the squared distance from s to the place x, y.
func (s spot) square(x, y int32) int64 {
	dx, dy := int64(s.x-x), int64(s.y-y)
	return dx*dx + dy*dy
}

// A sheet holds points of one chart in square cells, one in each. Cells are kept in square blocks
// that come into being when they are needed, so that a large chart with little of it in use costs
// little. Every block has a rim that repeats the cells of its neighbours: a look round a cell
// never leaves its block.
type sheet struct {
	level   int   // of the radii here
	size    int32 // of a cell, steps
	reach   int32 // the most that a radius here comes to, steps
	inverse float64
	columns int32 // of cells
	rows    int32

	pages       []*page
	pageColumns int32
	low, high   spot   // the corners of what the points take up
	spots       []spot // of all blocks, row by row
	index       []int32
	squares     []int64 // of the radii, in square steps; nil where one holds for all
}

// A page finds the blocks in a square part of a sheet: one more than their number, 0 where none is.
type page [side * side]int32

// Cells: side is how many a block has each way and how many blocks a page has, rim how many a block
// repeats on each side.
const (
	shift = 5
	side  = 1 << shift
	rim   = 3
	pitch = side + 2*rim
)

// newSheet returns an empty sheet for a chart of the given extent in steps.
func newSheet(width, height int32, level int, size, reach int32) *sheet {
	s := &sheet{level: level, size: size, reach: reach, inverse: 1 / float64(size)}
	s.columns, s.rows = width/size+1, height/size+1
	s.low, s.high = spot{far, far}, spot{-far, -far}
	s.pageColumns = s.columns>>(2*shift) + 1
	s.pages = make([]*page, int(s.pageColumns)*int(s.rows>>(2*shift)+1))
	return s
}

// column returns the column of the cell that holds x, cut off at the edges of the sheet; row does
// for rows. Half a step keeps the quotient off the whole numbers that rounding could miss.
func (s *sheet) column(x int32) int32 { return clamp(x, s.inverse, s.columns) }
func (s *sheet) row(y int32) int32    { return clamp(y, s.inverse, s.rows) }

func clamp(x int32, inverse float64, n int32) int32 {
	if x <= 0 {
		return 0
	}
	return min(int32((float64(x)+0.5)*inverse), n-1)
}

// cell returns where in spots the cell stands, below 0 where its block is not there.
func (s *sheet) cell(column, row int32) int {
	p := s.pages[(row>>(2*shift))*s.pageColumns+column>>(2*shift)]
	if p == nil {
		return -1
	}
	n := p[(row>>shift%side)<<shift+column>>shift%side]
	return (int(n)-1)*pitch*pitch + (int(row%side)+rim)*pitch + int(column%side) + rim
}

// make returns where in spots the cell stands, whose block it makes if need be.
func (s *sheet) make(column, row int32) int {
	at := &s.pages[(row>>(2*shift))*s.pageColumns+column>>(2*shift)]
	if *at == nil {
		*at = new(page)
	}
	n := &(*at)[(row>>shift%side)<<shift+column>>shift%side]
	if *n == 0 {
		s.spots, s.index = longer(s.spots), longer(s.index)
		if s.squares != nil {
			s.squares = longer(s.squares)
		}
		block := s.spots[len(s.spots)-pitch*pitch:]
		for i := range block {
			block[i] = nowhere
		}
		*n = int32(len(s.spots) / (pitch * pitch))
	}
	return s.cell(column, row)
}

// longer returns the cells with one block more at their end. They move to a place of twice the size
// when they must: the runtime would do so three times as often.
func longer[T any](cells []T) []T {
	n := len(cells) + pitch*pitch
	if n > cap(cells) {
		cells = append(make([]T, 0, 2*n), cells...)
	}
	return cells[:n]
}

// put puts a point into its cell and into the rims that repeat it, and reports whether the cell
// was free.
func (s *sheet) put(at spot, index int32, square int64) bool {
	column, row := s.column(at.x), s.row(at.y)
	if i := s.cell(column, row); i >= 0 && s.spots[i] != nowhere {
		return false
	}
	s.low = spot{min(s.low.x, at.x), min(s.low.y, at.y)}
	s.high = spot{max(s.high.x, at.x), max(s.high.y, at.y)}
	for blockRow := max(row-rim, 0) >> shift; blockRow <= min(row+rim, s.rows-1)>>shift; blockRow++ {
		for blockColumn := max(column-rim, 0) >> shift; blockColumn <= min(column+rim, s.columns-1)>>shift; blockColumn++ {
			first := s.make(blockColumn<<shift, blockRow<<shift)
			i := first + int(row-blockRow<<shift)*pitch + int(column-blockColumn<<shift)
			s.spots[i], s.index[i] = at, index
			if s.squares != nil {
				s.squares[i] = square
			}
		}
	}
	return true
}

// A window is a part of a block: width cells from first on, and as many in each of the rows above.
type window struct{ first, width, rows int }

// round returns the cells within reach of a place, which must be no more than rim cells; an empty
// window where there is no block.
func (s *sheet) round(x, y, reach int32) window {
	column, row := s.column(x), s.row(y)
	home := s.cell(column, row)
	if home < 0 {
		return window{}
	}
	left, right := s.column(x-reach), s.column(x+reach)
	bottom, top := s.row(y-reach), s.row(y+reach)
	return window{
		first: home - int(row-bottom)*pitch - int(column-left),
		width: int(right-left) + 1,
		rows:  int(top-bottom) + 1,
	}
}

// crowded reports whether a point lies nearer to x, y than the roots of both square and its own.
func (s *sheet) crowded(x, y, reach int32, square int64) bool {
	home, around := s.about(x, y, reach)
	for _, n := range around {
		i := home + int(n)
		if d := s.spots[i].square(x, y); d < square && (s.squares == nil || d < s.squares[i]) {
			return true
		}
	}
	return false
}

// about returns where in spots the cell of x, y stands, and how far from there those do that may hold
// a point within reach, the likeliest first; none where no point can be.
func (s *sheet) about(x, y, reach int32) (home int, around []int32) {
	reach = min(reach, s.reach)
	if s.beyond(x, y, reach) {
		return 0, nil
	}
	column, row := s.column(x), s.row(y)
	if home = s.cell(column, row); home < 0 {
		return 0, nil
	}
	half := s.size / 2
	quadrant := quadrantOf(x-column*s.size > half, y-row*s.size > half)
	ratio := float64(2*reach) * s.inverse
	return home, spirals[quadrant][:turns[min(int(ratio*ratio), len(turns)-1)]]
}

// beyond reports whether all points together are farther than reach from x, y.
func (s *sheet) beyond(x, y, reach int32) bool {
	return x+reach < s.low.x || x-reach > s.high.x || y+reach < s.low.y || y-reach > s.high.y
}

// spirals lead from each quadrant of a cell to the cells round it, the nearest first; turns is how
// many of them are no farther than the root of the index, in half cells.
var spirals, turns = windings()

func windings() (spirals [4][]int32, turns [4*rim*rim + 1]int) {
	type step struct{ right, up, square, rest int }
	var steps []step
	for right := -rim; right <= rim; right++ {
		for up := -rim; up <= rim; up++ {
			// From the quadrant on the right and the top, in half cells.
			x, y := max(2*right-2, -2*right-1, 0), max(2*up-2, -2*up-1, 0)
			middles := max(4*right-1, 1-4*right) + max(4*up-1, 1-4*up)
			steps = append(steps, step{right, up, x*x + y*y, middles})
		}
	}
	slices.SortStableFunc(steps, func(s, t step) int {
		return cmp.Or(cmp.Compare(s.square, t.square), cmp.Compare(s.rest, t.rest))
	})
	for _, s := range steps {
		for quadrant := range spirals {
			right, up := s.right*(quadrant%2*2-1), s.up*(quadrant/2*2-1)
			spirals[quadrant] = append(spirals[quadrant], int32(up*pitch+right))
		}
		for i := s.square; i < len(turns); i++ {
			turns[i]++
		}
	}
	return spirals, turns
}

// gather appends the indices of the points at most reach from x, y to found.
func (s *sheet) gather(x, y, reach int32, found []int32) []int32 {
	if s.beyond(x, y, reach) {
		return found
	}
	if int64(reach) <= rim*int64(s.size) {
		return s.within(s.round(x, y, reach), x, y, reach, found)
	}
	left, right := s.column(x-reach), s.column(x+reach)
	bottom, top := s.row(y-reach), s.row(y+reach)
	for blockRow := bottom >> shift; blockRow <= top>>shift; blockRow++ {
		low, high := max(bottom-blockRow<<shift, 0), min(top-blockRow<<shift, side-1)
		for blockColumn := left >> shift; blockColumn <= right>>shift; blockColumn++ {
			from, to := max(left-blockColumn<<shift, 0), min(right-blockColumn<<shift, side-1)
			if first := s.cell(blockColumn<<shift+from, blockRow<<shift+low); first >= 0 {
				found = s.within(window{first, int(to-from) + 1, int(high-low) + 1}, x, y, reach, found)
			}
		}
	}
	return found
}

func (s *sheet) within(w window, x, y, reach int32, found []int32) []int32 {
	square := int64(reach) * int64(reach)
	for range w.rows {
		for i, at := range s.spots[w.first : w.first+w.width] {
			if at.square(x, y) <= square {
				found = append(found, s.index[w.first+i])
			}
		}
		w.first += pitch
	}
	return found
}
