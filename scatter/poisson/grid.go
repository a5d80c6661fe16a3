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

// NewGrid returns an empty grid for points that keep at least radius mm from one another.
func NewGrid(charts []Chart, radius float64) *Grid {
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
	crowded := false
	g.visit(p, g.radius, func(_ int, s step) bool {
		crowded = s.square() < float64(g.radius*g.radius)
		return !crowded
	})
	return crowded
}

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
	goOn := g.sheets[p.Chart].visit(p.At, reach, func(n int32) bool {
		return f(int(n-1), step{along: g.points[n-1].At.Sub(p.At)})
	})
	for _, link := range g.charts[p.Chart].Links {
		if !goOn {
			return
		}
		if link.Straight {
			goOn = g.visitStraight(p, link.To, reach, f)
		}
		for _, fold := range link.Folds {
			goOn = goOn && g.visitFolded(p, link.To, fold, reach, f)
		}
	}
}

func (g *Grid) visitStraight(p Point, to int, reach float64, f func(i int, s step) bool) bool {
	own := g.charts[p.Chart].Frame
	foot, off := g.charts[to].Frame.Local(own.At(p.At))
	if math.Abs(off) > reach || !g.charts[to].Bounds.Grow(reach).Contains(foot) {
		return true
	}
	return g.sheets[to].visit(foot, reach, func(n int32) bool {
		along, off := own.Local(g.places[n-1])
		return f(int(n-1), step{along.Sub(p.At), off})
	})
}

func (g *Grid) visitFolded(p Point, to int, fold plane.Motion, reach float64, f func(i int, s step) bool) bool {
	foot := fold.Apply(p.At)
	if !g.charts[to].Bounds.Grow(reach).Contains(foot) {
		return true
	}
	back := fold.Inverse()
	return g.sheets[to].visit(foot, reach, func(n int32) bool {
		return f(int(n-1), step{along: back.Apply(g.points[n-1].At).Sub(p.At)})
	})
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

// covers reports whether one point of the grid keeps every other out of the whole of c.
func (g *Grid) covers(c cell, size float64) bool {
	half := size / 2
	covered := false
	g.visit(Point{int(c.chart), c.square(size).Centre()}, g.radius, func(_ int, s step) bool {
		farthest := step{plane.Point{X: math.Abs(s.along.X) + half, Y: math.Abs(s.along.Y) + half}, s.off}
		covered = farthest.square() < float64(g.radius*g.radius)
		return !covered
	})
	return covered
}
