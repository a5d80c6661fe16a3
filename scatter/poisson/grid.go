package poisson

import (
	"math"

	"wallshoal/wall/space"
)

// A Grid holds points on the charts of a domain and finds those near a place, on its own chart
// and on the others, by the straight distance through the room.
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
	g.visit(p, g.radius, func(_ int, square float64) bool {
		crowded = square < float64(g.radius*g.radius)
		return !crowded
	})
	return crowded
}

// Near calls visit with the index of every point at most reach mm from p, p itself included where
// it is in the grid, and with its distance, until visit returns false. The order is the same for
// the same grid.
func (g *Grid) Near(p Point, reach float64, visit func(i int, distance float64) bool) {
	g.visit(p, reach, func(i int, square float64) bool {
		return square > float64(reach*reach) || visit(i, math.Sqrt(square))
	})
}

// visit calls f with the points in the grid cells within reach of p and the squares of their
// distances, some of them farther than reach.
func (g *Grid) visit(p Point, reach float64, f func(i int, square float64) bool) {
	goOn := g.sheets[p.Chart].visit(p.At, reach, func(n int32) bool {
		d := g.points[n-1].At.Sub(p.At)
		return f(int(n-1), d.Dot(d))
	})
	if !goOn || len(g.charts) == 1 {
		return
	}
	place := g.charts[p.Chart].Frame.At(p.At)
	for i, chart := range g.charts {
		if i == p.Chart {
			continue
		}
		foot, off := chart.Frame.Local(place)
		if math.Abs(off) > reach || !chart.Bounds.Grow(reach).Contains(foot) {
			continue
		}
		goOn := g.sheets[i].visit(foot, reach, func(n int32) bool {
			d := g.places[n-1].Sub(place)
			return f(int(n-1), d.Dot(d))
		})
		if !goOn {
			return
		}
	}
}

// covers reports whether one point of the grid keeps every other out of the whole of c.
func (g *Grid) covers(c cell, size float64) bool {
	chart, half := int(c.chart), size/2
	middle := Point{chart, c.square(size).Centre()}
	covered := false
	g.visit(middle, g.radius, func(i int, _ float64) bool {
		foot, off := g.points[i].At, 0.0
		if g.points[i].Chart != chart {
			foot, off = g.charts[chart].Frame.Local(g.places[i])
		}
		d := foot.Sub(middle.At)
		corner := space.Vec{X: math.Abs(d.X) + half, Y: math.Abs(d.Y) + half, Z: off}
		covered = corner.Dot(corner) < float64(g.radius*g.radius)
		return !covered
	})
	return covered
}
