package poisson

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Grid holds points on the charts of a domain and finds those near a place, on its own chart
// and on those it is linked to.
type Grid struct {
	charts []Chart
	radius float64
	size   float64 // of a grid cell: small enough to hold no two points of one chart
	sheets []sheet
	points []Point
	places []space.Vec
}

// slack is how much farther than the radius two points must be, in mm, so that whoever measures
// them again in another order of operations finds the radius kept.
const slack = 1e-6

// NewGrid returns an empty grid for points that are as far apart as spacing says.
func NewGrid(charts []Chart, spacing Spacing) *Grid {
	radius := max(spacing.Least, spacing.Scale)
	g := &Grid{charts: charts, radius: radius + slack, size: radius / math.Sqrt2}
	g.sheets = make([]sheet, len(charts))
	for i := range g.sheets {
		g.sheets[i] = newSheet(charts[i].Bounds, g.size)
	}
	return g
}

// Len returns the number of points.
func (g *Grid) Len() int { return len(g.points) }

// Radius returns the least distance that the points keep, in mm.
func (g *Grid) Radius() float64 { return g.radius }

// RadiusAt returns the least distance that a point at p keeps, in mm.
func (g *Grid) RadiusAt(Point) float64 { return g.radius }

// Point returns the point with the index i, in the order in which they were added.
func (g *Grid) Point(i int) Point { return g.points[i] }

// Add puts p into the grid; its index is the Len before. Points of one chart must keep the
// grid's radius.
func (g *Grid) Add(p Point) {
	g.points = append(g.points, p)
	g.places = append(g.places, g.charts[p.Chart].Frame.At(p.At))
	g.sheets[p.Chart].set(p.At, int32(len(g.points)))
}

// Crowded reports whether a point lies nearer to p than the radius.
func (g *Grid) Crowded(p Point) bool {
	square := float64(g.radius * g.radius)
	var room [roughly]int32
	for _, i := range g.sheets[p.Chart].gather(p.At, g.radius, room[:0]) {
		d := g.points[i].At.Sub(p.At)
		if d.Dot(d) < square {
			return true
		}
	}
	crowded := false
	g.visitLinked(p, g.radius, func(_ int, s step) bool {
		crowded = s.square() < square
		return !crowded
	})
	return crowded
}

// roughly is how many points a look round finds, at the distances that the fill looks at; where
// there are more, room for them is made.
const roughly = 48

// Near calls visit with the index of every point at most reach mm from p, p itself included where
// it is in the grid, and with its distance, until visit returns false. Where two ways lead to a
// point the shorter counts. The order is the same for the same grid.
func (g *Grid) Near(p Point, reach float64, visit func(i int, distance float64) bool) {
	g.visit(p, reach, func(i int, s step) bool {
		square := s.square()
		return square > float64(reach*reach) || g.detour(p, i, square) || visit(i, math.Sqrt(square))
	})
}

// A step is the way to a point, as the chart it starts on sees it: along the chart, and off it.
type step struct {
	along plane.Point
	off   float64
}

func (s step) square() float64 { return s.along.Dot(s.along) + float64(s.off*s.off) }

// visit calls f with the points in the grid cells within reach of p and the way there, some of
// them farther than reach, until f returns false.
func (g *Grid) visit(p Point, reach float64, f func(i int, s step) bool) {
	var room [roughly]int32
	for _, i := range g.sheets[p.Chart].gather(p.At, reach, room[:0]) {
		if !f(int(i), step{along: g.points[i].At.Sub(p.At)}) {
			return
		}
	}
	g.visitLinked(p, reach, f)
}

// visitLinked is visit for the points on other charts than that of p.
func (g *Grid) visitLinked(p Point, reach float64, f func(i int, s step) bool) {
	for _, link := range g.charts[p.Chart].Links {
		if link.Straight && !g.visitStraight(p, link.To, reach, f) {
			return
		}
		for _, fold := range link.Folds {
			if !g.visitFolded(p, link.To, fold, reach, f) {
				return
			}
		}
	}
}

func (g *Grid) visitStraight(p Point, to int, reach float64, f func(i int, s step) bool) bool {
	own := g.charts[p.Chart].Frame
	foot, off := g.charts[to].Frame.Local(own.At(p.At))
	if math.Abs(off) > reach || !g.charts[to].Bounds.Grow(reach).Contains(foot) {
		return true
	}
	var room [roughly]int32
	for _, i := range g.sheets[to].gather(foot, reach, room[:0]) {
		along, off := own.Local(g.places[i])
		if !f(int(i), step{along.Sub(p.At), off}) {
			return false
		}
	}
	return true
}

func (g *Grid) visitFolded(p Point, to int, fold plane.Motion, reach float64, f func(i int, s step) bool) bool {
	foot := fold.Apply(p.At)
	if !g.charts[to].Bounds.Grow(reach).Contains(foot) {
		return true
	}
	back := fold.Inverse()
	var room [roughly]int32
	for _, i := range g.sheets[to].gather(foot, reach, room[:0]) {
		if !f(int(i), step{along: back.Apply(g.points[i].At).Sub(p.At)}) {
			return false
		}
	}
	return true
}

// detour reports whether another fold than the one that gave the squared distance leads from p to
// the point with the index i by a shorter way.
func (g *Grid) detour(p Point, i int, square float64) bool {
	q := g.points[i]
	for _, link := range g.charts[p.Chart].Links {
		if link.To != q.Chart || len(link.Folds) < 2 {
			continue
		}
		for _, fold := range link.Folds {
			d := fold.Inverse().Apply(q.At).Sub(p.At)
			if d.Dot(d) < square {
				return true
			}
		}
	}
	return false
}

// uncovered appends to open those quarters of c, each of the given size, that no single point of
// the grid keeps every other out of. A point that covers a quarter lies within the radius of all
// its corners, of which one is the middle of c.
func (g *Grid) uncovered(open []cell, c cell, size float64) []cell {
	square, half := float64(g.radius*g.radius), size/2
	middle := Point{int(c.chart), plane.Point{X: c.corner.X + size, Y: c.corner.Y + size}}
	var covered [4]bool
	left := 4
	g.visit(middle, g.radius, func(_ int, s step) bool {
		for i := range covered {
			// The quarters stand left and right of the middle, below and above it.
			centre := plane.Point{X: half * float64(i%2*2-1), Y: half * float64(i/2*2-1)}
			d := s.along.Sub(centre)
			farthest := step{plane.Point{X: math.Abs(d.X) + half, Y: math.Abs(d.Y) + half}, s.off}
			if !covered[i] && farthest.square() < square {
				covered[i] = true
				left--
			}
		}
		return left > 0
	})
	for i, q := range quarters(c, size) {
		if !covered[i] {
			open = append(open, q)
		}
	}
	return open
}
