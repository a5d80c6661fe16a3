package poisson

import (
	"math"
	"slices"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Grid holds points on the charts of a domain and finds those near a place, on its own chart
// and on those it is linked to. Every place given to it is rounded to 1/PerMM mm.
//
// Where radii differ it is one grid over another, each for wider radii than the one below: however
// wide its radius, a point looks at a few cells of each.
type Grid struct {
	charts  []Chart
	spacing Spacing
	even    bool  // one radius holds everywhere
	joined  bool  // a chart is linked to another
	size    int32 // of the smallest cells, steps
	square  int64 // of the radius where it is one, in square steps

	sheets [][]*sheet // by chart
	origin []plane.Point
	ways   [][]way // by chart
	points []Point
	places []space.Vec // of the points in the room; none where no chart is linked
	radii  []float64   // of the points with slack; none where it is one
}

// slack is how much farther than the radius two points must be, in mm, so that whoever measures
// them again in another order of operations finds the radius kept.
const slack = 1e-6

// widest is the most that a radius counts for, in mm.
const widest = far/PerMM - 1

// NewGrid returns an empty grid for points that are as far apart as spacing says. No chart may be
// more than 5 km across.
func NewGrid(charts []Chart, spacing Spacing) *Grid {
	g := &Grid{charts: charts, spacing: spacing, even: true, ways: waysOf(charts)}
	g.sheets = make([][]*sheet, len(charts))
	least := math.Inf(1)
	for _, c := range charts {
		low := 1.0
		g.joined = g.joined || len(c.Links) > 0
		if c.Radii != nil {
			g.even = false
			low, _ = c.Radii.Within(c.Bounds)
		}
		least = min(least, g.radius(low))
		g.origin = append(g.origin, plane.Point{X: math.Floor(c.Bounds.Min.X * PerMM), Y: math.Floor(c.Bounds.Min.Y * PerMM)})
	}
	least = min(least, widest)
	g.size = max(1, int32(least*PerMM/math.Sqrt2))
	g.square = squared(least)
	for i := range charts {
		g.sheets[i] = append(g.sheets[i], g.sheet(i, 0))
	}
	return g
}

// radius returns the distance that goes with a value of Radii.
func (g *Grid) radius(value float64) float64 {
	return max(g.spacing.Least, float64(g.spacing.Scale*value))
}

// squared returns the square of a radius in steps: points that are that far apart keep it.
func squared(radius float64) int64 {
	steps := (min(radius, widest) + slack) * PerMM
	return int64(math.Ceil(steps * steps))
}

// steps returns a distance in whole steps, rounded up.
func steps(mm float64) int32 { return int32(math.Ceil((min(mm, widest) + slack) * PerMM)) }

// Radii of one level go from √2 cells to growth times that: for a factor of 2 a point would look at
// half as many cells again, for a smaller one at more sheets.
const growth = 1.5

// sheet returns an empty sheet of a chart for radii of the level.
func (g *Grid) sheet(chart, level int) *sheet {
	size := float64(g.size)
	for range level {
		size *= growth
	}
	reach := math.Sqrt2 * growth * size
	if g.even {
		reach = math.Sqrt(float64(g.square))
	}
	extent := g.spot(chart, g.charts[chart].Bounds.Max)
	s := newSheet(extent.x, extent.y, level, int32(math.Ceil(size)), int32(math.Ceil(reach)))
	if !g.even {
		s.squares = []int64{}
	}
	return s
}

// level returns the level of a radius.
func (g *Grid) level(radius float64) int {
	level := 0
	for reach := math.Sqrt2 * growth * float64(g.size); min(radius, widest)*PerMM >= reach; reach *= growth {
		level++
	}
	return level
}

// spot returns p in steps from the corner of its chart.
func (g *Grid) spot(chart int, p plane.Point) spot {
	o := g.origin[chart]
	return spot{near(math.Round(p.X*PerMM) - o.X), near(math.Round(p.Y*PerMM) - o.Y)}
}

func near(x float64) int32 { return int32(min(max(x, -far), far)) }

// place returns the place of s in mm.
func (g *Grid) place(chart int, s spot) plane.Point {
	o := g.origin[chart]
	return plane.Point{X: (o.X + float64(s.x)) / PerMM, Y: (o.Y + float64(s.y)) / PerMM}
}

// Len returns the number of points.
func (g *Grid) Len() int { return len(g.points) }

// Radius returns the least distance that points keep where the radii are 1, in mm.
func (g *Grid) Radius() float64 { return g.radius(1) }

// RadiusAt returns the least distance that a point at p keeps, in mm.
func (g *Grid) RadiusAt(p Point) float64 {
	if radii := g.charts[p.Chart].Radii; radii != nil {
		return g.radius(radii.At(p.At))
	}
	return g.radius(1)
}

// Point returns the point with the index i, in the order in which they were added.
func (g *Grid) Point(i int) Point { return g.points[i] }

// Add puts p into the grid; its index is the Len before. It need not keep its distance.
func (g *Grid) Add(p Point) {
	s := g.spot(p.Chart, p.At)
	p.At = g.place(p.Chart, s)
	radius, square := 0.0, g.square
	if !g.even {
		radius = g.RadiusAt(p)
		square = squared(radius)
	}
	g.add(p, s, radius, square)
}

// reserve makes room for so many points more.
func (g *Grid) reserve(n int) {
	g.points = slices.Grow(g.points, n)
	if g.joined {
		g.places = slices.Grow(g.places, n)
	}
	if !g.even {
		g.radii = slices.Grow(g.radii, n)
	}
}

func (g *Grid) add(p Point, at spot, radius float64, square int64) {
	index := int32(len(g.points))
	g.points = append(g.points, p)
	if g.joined {
		g.places = append(g.places, g.charts[p.Chart].Frame.At(p.At))
	}
	level := 0
	if !g.even {
		g.radii = append(g.radii, min(radius, widest)+slack)
		level = g.level(radius)
	}
	// Where somebody else stands in the cell already, the point goes into another sheet.
	for _, s := range g.sheets[p.Chart] {
		if s.level == level && s.put(at, index, square) {
			return
		}
	}
	s := g.sheet(p.Chart, level)
	s.put(at, index, square)
	g.sheets[p.Chart] = append(g.sheets[p.Chart], s)
}

// Crowded reports whether a point lies nearer to p than the radius there and than its own.
func (g *Grid) Crowded(p Point) bool {
	at := g.spot(p.Chart, p.At)
	p.At = g.place(p.Chart, at)
	radius := g.RadiusAt(p)
	return g.crowded(p.Chart, at, steps(radius), squared(radius)) || g.crowdedAcross(p, radius)
}

func (g *Grid) crowded(chart int, at spot, reach int32, square int64) bool {
	for _, s := range g.sheets[chart] {
		if s.crowded(at.x, at.y, reach, square) {
			return true
		}
	}
	return false
}

// roughly is how many points a look round finds, at the distances that the fill looks at; where
// there are more, room for them is made.
const roughly = 48

// Near calls visit with the index of every point at most reach mm from p, p itself included where
// it is in the grid, and with its distance, until visit returns false. Where two ways lead to a
// point the shorter counts. The order is the same for the same grid.
func (g *Grid) Near(p Point, reach float64, visit func(i int, distance float64) bool) {
	var room [roughly]int32
	at := g.spot(p.Chart, p.At)
	p.At = g.place(p.Chart, at)
	for _, s := range g.sheets[p.Chart] {
		for _, i := range s.gather(at.x, at.y, steps(reach), room[:0]) {
			d := g.points[i].At.Sub(p.At)
			if square := d.Dot(d); square <= float64(reach*reach) && !visit(int(i), math.Sqrt(square)) {
				return
			}
		}
	}
	if len(g.ways[p.Chart]) == 0 {
		return
	}
	g.visitAcross(p, reach, func(i int, s stretch) bool {
		square := s.square()
		return square > float64(reach*reach) || g.detour(p, i, square) || visit(i, math.Sqrt(square))
	})
}
