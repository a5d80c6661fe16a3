package poisson

// split appends to next the quarters of the open cells that may still take a point.
func (f *filler) split(open, next []cell) []cell {
	if cap(next) < len(open) {
		next = make([]cell, 0, len(open)+len(open)/4)
	}
	for i := range open {
		c := &open[i]
		if c.refused >= patience {
			continue
		}
		size := f.size(c.level)
		width, height := c.extent(size)
		q := c.quarters(width, height)
		if !f.mark(c, &q) {
			continue
		}
		half := (size + 1) / 2
		for n := range uint8(4) {
			if q.done>>n&1 != 0 {
				continue
			}
			child := *c
			child.traits &^= narrow | low
			wide, high := q.left[1]-q.left[0]+1, q.bottom[1]-q.bottom[0]+1
			if n%2 == 1 {
				child.x, wide = q.right[0], q.right[1]-q.right[0]+1
			}
			if n/2 == 1 {
				child.y, high = q.top[0], q.top[1]-q.top[0]+1
			}
			if wide < half {
				child.traits |= narrow
			}
			if high < half {
				child.traits |= low
			}
			if f.depth == 0 {
				child.traits |= n * right
			}
			if f.outside(&child, wide, high) {
				continue
			}
			if !f.grid.even && !f.bound(&child, f.box(&child, wide, high), half) {
				continue
			}
			next = append(next, child)
		}
	}
	return next
}

// mark marks the quarters of c in which no point can stand for a point that keeps every place of
// theirs crowded, and reports whether any is left.
func (f *filler) mark(c *cell, q *quarters) bool {
	g := f.grid
	sheets := g.sheets[c.chart]
	// What covers a quarter lies as near to the middle, but for a step that is left to the next split.
	middle := spot{q.right[0], q.top[0]}
	square, reach, least := int64(c.least)*int64(c.least), c.least+1, float64(c.least)/PerMM
	switch {
	case g.even:
		square, least = g.square, g.radius(1)+slack
	case q.done == single: // now all must be exact
		radius := g.RadiusAt(Point{int(c.chart), g.place(int(c.chart), spot{c.x, c.y})})
		square, reach, least = squared(radius), steps(radius), radius+slack
	}
	if q.done == single {
		middle = spot{c.x, c.y}
	}
	if f.quick {
		s := sheets[0]
		around := beside[c.quadrant()][:]
		if f.depth == 0 {
			around = nearby[:]
		}
		for _, n := range around {
			if at := s.spots[c.home+n]; at.square(middle.x, middle.y) < square {
				q.mark(at, square)
			}
		}
		sheets = sheets[1:]
	}
	for _, s := range sheets {
		if q.done == 15 {
			break
		}
		home, around := s.about(middle.x, middle.y, reach)
		for _, n := range around {
			i := home + int(n)
			at := s.spots[i]
			if at.square(middle.x, middle.y) >= square {
				continue
			}
			if s.squares != nil {
				q.mark(at, min(square, s.squares[i]))
			} else {
				q.mark(at, square)
			}
			if q.done == 15 {
				break
			}
		}
	}
	if q.done != 15 && c.traits&linked != 0 {
		f.markAcross(c, q, middle, least)
	}
	return q.done != 15
}

// markAcross is mark for points on other charts.
func (f *filler) markAcross(c *cell, q *quarters, middle spot, least float64) {
	p, alone := Point{int(c.chart), f.grid.place(int(c.chart), middle)}, q.done == single
	f.grid.visitAcross(p, least, func(i int, s stretch) bool {
		radius := least
		if !f.grid.even {
			radius = min(radius, f.grid.radii[i])
		}
		square := float64(radius*radius) - float64(s.off*s.off)
		q.markAcross(s.along.X*PerMM, s.along.Y*PerMM, square*PerMM*PerMM)
		return q.done != 15
	})
	// The quarters of a single spot are taken to lie a step off, so that one which no dart may hit can stay open. Such a
	// one is given up in the end, and no sooner: layouts are what they were.
	if alone && f.depth > singles && f.grid.crowdedAcross(p, f.grid.RadiusAt(p)) {
		q.done = 15
	}
}

// quarters are the four parts a cell is split into, and which of them are taken care of.
type quarters struct {
	left, right, bottom, top [2]int32 // the first and the last column or row
	done                     uint8
}

// single is what is done of the quarters of a single spot before anything is marked.
const single = 0b1110

func (c *cell) quarters(width, height int32) quarters {
	x, y := c.x+(width+1)/2, c.y+(height+1)/2
	q := quarters{
		left: [2]int32{c.x, x - 1}, right: [2]int32{x, c.x + width - 1},
		bottom: [2]int32{c.y, y - 1}, top: [2]int32{y, c.y + height - 1},
	}
	if width == 1 {
		q.done |= 0b1010
	}
	if height == 1 {
		q.done |= 0b1100
	}
	return q
}

// mark marks those quarters of which every spot lies nearer to at than the root of square.
func (q *quarters) mark(at spot, square int64) {
	left := int64(max(at.x-q.left[0], q.left[1]-at.x))
	right := int64(max(at.x-q.right[0], q.right[1]-at.x))
	bottom := int64(max(at.y-q.bottom[0], q.bottom[1]-at.y))
	top := int64(max(at.y-q.top[0], q.top[1]-at.y))
	x, y := min(left, right), min(bottom, top)
	if x*x+y*y >= square {
		return
	}
	left, right, bottom, top = left*left, right*right, bottom*bottom, top*top
	if left+bottom < square {
		q.done |= 1
	}
	if right+bottom < square {
		q.done |= 2
	}
	if left+top < square {
		q.done |= 4
	}
	if right+top < square {
		q.done |= 8
	}
}

// markAcross does what mark does for a point on another chart, which lies along x, y from the first
// spot of the right top quarter, in steps, and off the chart by what is taken from square.
func (q *quarters) markAcross(x, y, square float64) {
	for i := range 4 {
		columns, rows := q.left, q.bottom
		if i%2 == 1 {
			columns = q.right
		}
		if i/2 == 1 {
			rows = q.top
		}
		dx := max(x-float64(columns[0]-q.right[0]), float64(columns[1]-q.right[0])-x)
		dy := max(y-float64(rows[0]-q.top[0]), float64(rows[1]-q.top[0])-y)
		if float64(dx*dx)+float64(dy*dy) < square {
			q.done |= 1 << i
		}
	}
}
