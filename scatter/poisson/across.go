package poisson

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A way is a link with what is asked of it over and over.
type way struct {
	to       int
	straight bool
	frame    space.Frame // of the other chart
	bounds   plane.Rect
	folds    []plane.Motion
	backs    []plane.Motion // the folds undone
}

func waysOf(charts []Chart) [][]way {
	ways := make([][]way, len(charts))
	for i, c := range charts {
		for _, l := range c.Links {
			w := way{to: l.To, straight: l.Straight, frame: charts[l.To].Frame, bounds: charts[l.To].Bounds, folds: l.Folds}
			for _, f := range l.Folds {
				w.backs = append(w.backs, f.Inverse())
			}
			ways[i] = append(ways[i], w)
		}
	}
	return ways
}

// A stretch is the way to a point, as the chart it starts on sees it: along the chart, and off it.
type stretch struct {
	along plane.Point
	off   float64
}

func (s stretch) square() float64 { return s.along.Dot(s.along) + float64(s.off*s.off) }

// foot returns where on the other chart the place stands and how far off it, and whether anything
// there can be within reach.
func (w *way) foot(place space.Vec, reach float64) (foot plane.Point, off float64, ok bool) {
	d := place.Sub(w.frame.Origin)
	if off = d.Dot(w.frame.Out); math.Abs(off) > reach {
		return foot, off, false
	}
	foot = plane.Point{X: d.Dot(w.frame.Right), Y: d.Dot(w.frame.Up)}
	return foot, off, w.near(foot, reach)
}

// near reports whether foot is within reach of the bounds of the other chart, each way.
func (w *way) near(foot plane.Point, reach float64) bool {
	return foot.X >= w.bounds.Min.X-reach && foot.X <= w.bounds.Max.X+reach &&
		foot.Y >= w.bounds.Min.Y-reach && foot.Y <= w.bounds.Max.Y+reach
}

// bridges reports whether any link leads from within reach of the place p of a chart to another.
func (g *Grid) bridges(chart int, p plane.Point, reach float64) bool {
	if len(g.ways[chart]) == 0 {
		return false
	}
	place := g.charts[chart].Frame.At(p)
	for i := range g.ways[chart] {
		w := &g.ways[chart][i]
		if w.straight {
			if _, _, ok := w.foot(place, reach); ok {
				return true
			}
		}
		for _, fold := range w.folds {
			if w.near(fold.Apply(p), reach) {
				return true
			}
		}
	}
	return false
}

// crowdedAcross is Crowded for the points on other charts than that of p.
func (g *Grid) crowdedAcross(p Point, radius float64) bool {
	if len(g.ways[p.Chart]) == 0 {
		return false
	}
	crowded := false
	radius += slack
	square := float64(radius * radius)
	g.visitAcross(p, radius, func(i int, s stretch) bool {
		d := s.square()
		crowded = d < square && (g.even || d < float64(g.radii[i]*g.radii[i]))
		return !crowded
	})
	return crowded
}

// visitAcross calls f with the points on other charts within reach of p and the way there, some of
// them farther than reach, until f returns false.
func (g *Grid) visitAcross(p Point, reach float64, f func(i int, s stretch) bool) {
	var room [roughly]int32
	own := g.charts[p.Chart].Frame
	place := own.At(p.At)
	for n := range g.ways[p.Chart] {
		w := &g.ways[p.Chart][n]
		if w.straight {
			if foot, off, ok := w.foot(place, reach); ok {
				rest := math.Sqrt(max(0, float64(reach*reach)-float64(off*off)))
				for _, i := range g.gather(w.to, foot, rest, room[:0]) {
					along, off := own.Local(g.places[i])
					if !f(int(i), stretch{along.Sub(p.At), off}) {
						return
					}
				}
			}
		}
		for k, fold := range w.folds {
			foot := fold.Apply(p.At)
			if !w.near(foot, reach) {
				continue
			}
			for _, i := range g.gather(w.to, foot, reach, room[:0]) {
				if !f(int(i), stretch{along: w.backs[k].Apply(g.points[i].At).Sub(p.At)}) {
					return
				}
			}
		}
	}
}

// gather appends the points of a chart within reach of foot to found, and some a step farther.
func (g *Grid) gather(chart int, foot plane.Point, reach float64, found []int32) []int32 {
	at := g.spot(chart, foot)
	for _, s := range g.sheets[chart] {
		found = s.gather(at.x, at.y, steps(reach)+1, found)
	}
	return found
}

// detour reports whether another fold than the one that gave the squared distance leads from p to
// the point with the index i by a shorter way.
func (g *Grid) detour(p Point, i int, square float64) bool {
	q := g.points[i]
	for n := range g.ways[p.Chart] {
		w := &g.ways[p.Chart][n]
		if w.to != q.Chart || len(w.backs) < 2 {
			continue
		}
		for _, back := range w.backs {
			d := back.Apply(q.At).Sub(p.At)
			if d.Dot(d) < square {
				return true
			}
		}
	}
	return false
}
