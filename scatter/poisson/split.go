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
			if at := s.spots[int(c.home)+n]; at.square(middle.x, middle.y) < square {
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
	p := Point{int(c.chart), f.grid.place(int(c.chart), middle)}
	f.grid.visitAcross(p, least, func(i int, s stretch) bool {
		radius := least
		if !f.grid.even {
			radius = min(radius, f.grid.radii[i])
		}
		square := float64(radius*radius) - float64(s.off*s.off)
		q.markAcross(s.along.X*PerMM, s.along.Y*PerMM, square*PerMM*PerMM)
		return q.done != 15
	})
}
