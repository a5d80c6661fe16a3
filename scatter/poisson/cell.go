package poisson

import (
	"math"
	"math/bits"
	"slices"

	"wallshoal/wall/plane"
)

// A cell is a square of a chart that may still have room for a point. It is as wide and high as
// all cells of its level at the time, or a step less.
type cell struct {
	x, y    int32 // of its bottom-left spot
	home    int32 // the cell of the first sheet it lies in, where one radius holds everywhere
	least   int32 // no radius in it is less, steps; where radii differ
	chart   int32
	level   uint8 // of its size
	refused uint8 // refusals so far, weighed by size
	spread  uint8 // no radius in it is wider than least by a power of 2 with this exponent, steps
	traits  uint8
}

// Traits of a cell.
const (
	narrow uint8 = 1 << iota // a step less wide than others
	low                      // a step less high
	inner                    // all of it lies in the domain
	linked                   // points on other charts may be near
	right                    // it lies in the right half of home
	upper                    // and in the upper one
)

// quadrant returns the quadrant of home that c lies in.
func (c *cell) quadrant() uint8 { return c.traits / right % 4 }

// extent returns how wide and high c is where cells of its level are of the given size.
func (c *cell) extent(size int32) (width, height int32) {
	width, height = size, size
	if c.traits&narrow != 0 {
		width--
	}
	if c.traits&low != 0 {
		height--
	}
	return width, height
}

// takesOne reports whether no two points fit in c, so wide and high; where radii differ.
func (c *cell) takesOne(width, height int32) bool {
	across, up := int64(width), int64(height)
	return across*across+up*up <= int64(c.least)*int64(c.least)
}

// box returns the rectangle that the spots of c lie in.
func (f *filler) box(c *cell, width, height int32) plane.Rect {
	return plane.Rect{
		Min: f.grid.place(int(c.chart), spot{c.x, c.y}),
		Max: f.grid.place(int(c.chart), spot{c.x + width - 1, c.y + height - 1}),
	}
}

// cover returns the cells that between them hold the whole domain.
func (f *filler) cover() []cell {
	var open []cell
	for i := range f.charts {
		extent := f.grid.spot(i, f.charts[i].Bounds.Max)
		level := uint8(0)
		for f.grid.size<<level <= max(extent.x, extent.y) {
			level++
		}
		open = f.descend(open, cell{chart: int32(i), level: level, traits: linked})
	}
	return open
}

func (f *filler) descend(open []cell, c cell) []cell {
	size := f.grid.size << c.level
	if f.outside(&c, size, size) {
		return open
	}
	box := f.box(&c, size, size)
	if !f.bound(&c, box, size) {
		return open
	}
	if c.traits&linked != 0 {
		most := float64(int64(c.least)+int64(1)<<c.spread) / PerMM
		if !f.grid.bridges(int(c.chart), box.Centre(), most+slack+box.Min.Distance(box.Max)/2) {
			c.traits &^= linked
		}
	}
	if c.level == 0 || !f.grid.even && c.least >= size {
		if f.grid.even {
			s := f.grid.sheets[c.chart][0]
			c.home = int32(s.make(s.column(c.x), s.row(c.y)))
		}
		if len(open) == cap(open) {
			open = slices.Grow(open, len(open)+256)
		}
		return append(open, c)
	}
	c.level--
	half := size / 2
	for i := range int32(4) {
		q := c
		q.x += i % 2 * half
		q.y += i / 2 * half
		open = f.descend(open, q)
	}
	return open
}

// atLeast returns a distance in whole steps, rounded down.
func atLeast(mm float64) int32 { return int32((min(mm, widest) + slack) * PerMM) }

// A radius that varies by less than one part in so many of the size of a cell, and of itself, is as
// good as known: what that costs in cells which are kept too long is less than finding it out again.
const known = 8

// bound finds out between which bounds the radii in c lie, if what is known of a larger cell that c
// is part of does not do, and reports whether any has an end.
func (f *filler) bound(c *cell, box plane.Rect, size int32) bool {
	radii := f.charts[c.chart].Radii
	if c.least > 0 && (radii == nil || 1<<c.spread <= min(size, c.least)/known) {
		return true
	}
	low, high := 1.0, 1.0
	if radii != nil {
		low, high = radii.Within(box)
	}
	least, most := f.grid.radius(low), f.grid.radius(high)
	c.least = atLeast(least)
	c.spread = uint8(bits.Len32(uint32(steps(most) - c.least)))
	return !math.IsInf(least, 1)
}

// outside reports whether no place of c lies in the domain, and finds out whether all of c does.
func (f *filler) outside(c *cell, width, height int32) bool {
	if c.traits&inner != 0 {
		return false
	}
	chart := &f.charts[c.chart]
	whole := f.box(c, width, height)
	if !whole.Overlaps(chart.Bounds) {
		return true
	}
	box := whole.Intersection(chart.Bounds)
	reach := box.Min.Distance(box.Max) / 2
	if !chart.Deep(box.Centre(), reach) {
		return !chart.Deep(box.Centre(), -reach)
	}
	if box == whole {
		c.traits |= inner
	}
	return false
}
