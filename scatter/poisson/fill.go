// Package poisson fills the faces of a room with points that keep a least distance.
//
// A fill is maximal Poisson-disc sampling: points thrown uniformly at what is still open, until no
// place is left that is far enough from all of them. The method is dart throwing over shrinking
// cells, after Ebeida et al., "A Simple Algorithm for Maximal Poisson-Disk Sampling in High
// Dimensions" (2012). Ours differs in three ways: the domain is any number of flat faces and the
// distance holds across corners, straight through the room or along the surface; the edge of the
// domain is known by a signed distance; and the caller has the last word on a point,
// so that a place may be refused for reasons the fill knows nothing of.
package poisson

import (
	"context"
	"math"
	"math/rand/v2"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// PerMM is how many steps a millimetre has on the lattice that points are rounded to.
const PerMM = 100

// A Chart is one flat part of the domain.
type Chart struct {
	Frame  space.Frame
	Bounds plane.Rect // holds every place where a point may lie
	// Deep reports whether p, which lies in Bounds, lies at least d mm inside the domain; with d
	// below 0, whether it lies no more than -d outside.
	Deep  func(p plane.Point, d float64) bool
	Radii Radii  // nil for 1 everywhere
	Links []Link // to the other charts that its points keep their distance from
}

// A Link says how the distance from the points of one chart to those of another is measured. A
// link has its counterpart on the other chart, with the folds undone.
type Link struct {
	To       int            // index of the other chart
	Straight bool           // through the room
	Folds    []plane.Motion // along the surface, by laying this chart flat in the plane of the other
}

// A Point is one point of a fill.
type Point struct {
	Chart int
	At    plane.Point // rounded to 1/PerMM mm
}

// A Spacing says how far apart points are: at each place Scale times what the chart's Radii say
// there, but never less than Least. Of two points the smaller of their distances counts.
type Spacing struct{ Least, Scale float64 } // mm

// Radii are distances over a chart, one place against another.
type Radii interface {
	At(p plane.Point) float64
	// Within returns the least and the most in the box.
	Within(box plane.Rect) (least, most float64)
}

// A Judge has the last word on a point that keeps its distance and lies in the domain. It may look
// round in the grid; a point that it takes is added there and to the fill.
type Judge func(p Point, placed *Grid) bool

// patience is how many refusals by the judge a cell and those it was split from outlast. A refusal
// in a cell of half the size counts for two: the smaller the place, the less is lost with it.
const patience = 4

// Where the judge has refused as many as stern darts at one size, and taken hardly one in a
// hundred of them, it is no use to go on with smaller cells. Where only the distance decides, every
// dart that keeps it sticks.
const (
	stern    = 400
	hopeless = 1.0 / 100
)

// Fill throws points at the charts until none further fits, each as far as spacing says from every
// other, and returns the grid that holds them. A nil judge takes every point.
//
// The points given come first in the grid, in their order. Nobody judges them, they may lie anywhere
// on their charts and as near to one another as they like; the others keep their distance from them.
//
// The result follows from the arguments and the state of rng alone. The only error is ctx's.
func Fill(ctx context.Context, charts []Chart, spacing Spacing, given []Point, judge Judge, rng *rand.Rand) (*Grid, error) {
	if judge == nil {
		judge = func(Point, *Grid) bool { return true }
	}
	radius := max(spacing.Least, spacing.Scale)
	f := filler{charts: charts, grid: NewGrid(charts, spacing), judge: judge, rng: rng}
	for _, p := range given {
		f.grid.Add(p)
	}
	size := radius / math.Sqrt2
	open := f.cover(size)
	for len(open) > 0 && size*PerMM > 2 {
		before := f.grid.Len()
		var err error
		if open, err = f.throw(ctx, open, size); err != nil {
			return nil, err
		}
		if stuck := f.grid.Len() - before; f.refusals >= stern && float64(stuck) < hopeless*float64(f.refusals) {
			break
		}
		size /= 2
		open = f.split(open, size)
	}
	return f.grid, nil
}

type filler struct {
	charts []Chart
	grid   *Grid
	judge  Judge
	rng    *rand.Rand

	refusals int // by the judge, at the present size
}

// A cell is a square of a chart that may still have room for a point.
type cell struct {
	corner  plane.Point // bottom-left
	chart   int32
	refused float32 // refusals so far, weighed by size
	inner   bool    // all of it that is in the bounds of its chart lies in the domain
}

func (c cell) square(size float64) plane.Rect {
	return plane.Rect{Min: c.corner, Max: plane.Point{X: c.corner.X + size, Y: c.corner.Y + size}}
}

// cover returns the cells of the given size that between them hold the whole domain.
func (f *filler) cover(size float64) []cell {
	var open []cell
	for i, chart := range f.charts {
		whole := size
		for whole < chart.Bounds.Width() || whole < chart.Bounds.Height() {
			whole *= 2
		}
		root := cell{corner: chart.Bounds.Min, chart: int32(i)}
		open = f.descend(open, root, whole, size)
	}
	return open
}

func (f *filler) descend(open []cell, c cell, size, last float64) []cell {
	if f.outside(&c, size) {
		return open
	}
	if size <= last {
		return append(open, c)
	}
	for _, q := range quarters(c, size/2) {
		open = f.descend(open, q, size/2, last)
	}
	return open
}

// outside reports whether no place of c lies in the domain, and finds out whether all of c does.
func (f *filler) outside(c *cell, size float64) bool {
	if c.inner {
		return false
	}
	chart := f.charts[c.chart]
	square := c.square(size)
	if !square.Overlaps(chart.Bounds) {
		return true
	}
	square = square.Intersection(chart.Bounds)
	reach := square.Min.Distance(square.Max) / 2
	c.inner = chart.Deep(square.Centre(), reach)
	return !c.inner && !chart.Deep(square.Centre(), -reach)
}

// holds reports whether p, a place of c, lies in the domain.
func (f *filler) holds(c *cell, p plane.Point) bool {
	chart := f.charts[c.chart]
	return chart.Bounds.Contains(p) && (c.inner || chart.Deep(p, 0))
}

// quarters splits c into cells of half its size.
func quarters(c cell, half float64) [4]cell {
	q := [4]cell{c, c, c, c}
	q[1].corner.X += half
	q[2].corner.Y += half
	q[3].corner.X += half
	q[3].corner.Y += half
	return q
}

// throw throws one dart for every open cell, each at a cell chosen evenly, and returns the cells
// that got none that stuck.
func (f *filler) throw(ctx context.Context, open []cell, size float64) ([]cell, error) {
	weight := float32(f.grid.size / size)
	f.refusals = 0
	for n := range len(open) {
		if n%1024 == 0 && ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
		if len(open) == 0 {
			break
		}
		i := f.rng.IntN(len(open))
		c := &open[i]
		p := Point{int(c.chart), plane.Point{
			X: c.corner.X + float64(size*f.rng.Float64()),
			Y: c.corner.Y + float64(size*f.rng.Float64()),
		}.Snap(PerMM)}
		switch {
		case f.grid.Crowded(p):
			continue
		case !f.holds(c, p.At):
			if c.refused > 0 {
				c.refused += weight // a place at the edge that the judge does not like is not worth a search
			}
			continue
		case !f.judge(p, f.grid):
			c.refused += weight
			f.refusals++
			continue
		}
		f.grid.Add(p)
		open[i] = open[len(open)-1]
		open = open[:len(open)-1]
	}
	return open, nil
}

// split returns the quarters, of the given size, of the open cells that may still take a point.
func (f *filler) split(open []cell, size float64) []cell {
	var next []cell
	for _, c := range open {
		if c.refused >= patience {
			continue
		}
		from := len(next)
		next = f.grid.uncovered(next, c, size)
		kept := next[:from]
		for _, q := range next[from:] {
			if !f.outside(&q, size) {
				kept = append(kept, q)
			}
		}
		next = kept
	}
	return next
}
