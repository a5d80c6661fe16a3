// Package poisson fills the faces of a room with points that keep a least distance.
//
// A fill is maximal Poisson-disc sampling: points thrown uniformly at what is still open, until no
// place is left that is far enough from all of them. The method is dart throwing over shrinking
// cells, after Ebeida et al., "A Simple Algorithm for Maximal Poisson-Disk Sampling in High
// Dimensions" (2012). Ours differs in three ways: the domain is any number of flat faces and the
// distance holds across corners, straight through the room or along the surface; the edge of the
// domain is known by a signed distance; and the caller has the last word on a point,
// so that a place may be refused for reasons the fill knows nothing of.
//
// Where radii differ, two points are as far apart as the smaller of theirs. Measured with six fills
// of some 260 to 500 points, ten bands each: on a ramp and a bump the bands followed r⁻² as well by
// this rule as by the mean of both radii or by the larger, within what so few points vary. At a step
// from 1 to 3 the first band past the step had 17 % too many, 9 % by the mean and 2 % too few by the
// larger, which in turn thins the band before it by 9 %. The mean follows a step best; but by it and
// by the larger one point of a very wide radius empties all that is round it, and a point would have
// to look as far as the widest radius anywhere. By the smaller no point looks farther than its own.
package poisson

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

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

// Where the judge has refused as many as stern darts at one size, and taken hardly one in a hundred of
// them, it is no use to go on with smaller cells. Where only the distance decides, every dart that
// keeps it sticks.
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
	f := filler{charts: charts, grid: NewGrid(charts, spacing), judge: judge, rng: rng}
	for _, p := range given {
		f.grid.Add(p)
	}
	f.quick = f.grid.even && f.grid.size >= plain
	open, spare := f.cover(), []cell(nil)
	f.grid.reserve(len(open) * 2 / 5)
	if len(given) > len(open)/8 { // hardly a dart would find room
		open, spare = f.split(open, nil), open
		f.depth++
	}
	for len(open) > 0 {
		before := f.grid.Len()
		f.refusals = 0
		var err error
		if open, err = f.throw(ctx, open); err != nil {
			return nil, err
		}
		if stuck := f.grid.Len() - before; f.refusals >= stern && float64(stuck) < hopeless*float64(f.refusals) {
			break
		}
		open, spare = f.split(open, spare[:0]), open
		f.depth++
	}
	return f.grid, nil
}

type filler struct {
	charts []Chart
	grid   *Grid
	judge  Judge
	rng    *rand.Rand
	quick  bool // one radius holds, and cells are large enough for the tables of what is beside them
	depth  int  // how often cells have been split

	tiles   []tile
	touched int32 // of no meaning

	refusals int // by the judge, since cells were last split
}

// singles is how often cells are split until each is a single spot for certain.
const singles = 40

// size returns the size of the open cells of a level.
func (f *filler) size(level uint8) int32 {
	n := int64(f.grid.size) << level
	if f.depth > singles {
		return 1
	}
	return int32((n + 1<<f.depth - 1) >> f.depth)
}

// volley is how many darts are drawn before the first of them flies: what they will look at is on
// its way from memory by then.
const volley = 16

// A dart hits a cell, so far from its corner.
type dart struct {
	cell int
	x, y int32
}

// A tile is a run of open cells that lie near one another, of which the first few are still live.
type tile struct{ first, live int }

// Where there are more than tileCells cells, darts are thrown at one tile after another, in several
// rounds and each time in another order: what one dart looks at is then at hand for the next, and
// yet of two darts that contend for a place across the border of two tiles either may be the first.
const (
	tileCells = 4096
	rounds    = 4
)

// throw throws about one dart for every open cell, each at a cell of a tile chosen evenly, and returns
// the cells that may still take one.
func (f *filler) throw(ctx context.Context, open []cell) ([]cell, error) {
	f.tiles = f.tiles[:0]
	for first := 0; first < len(open); first += tileCells {
		f.tiles = append(f.tiles, tile{first, min(tileCells, len(open)-first)})
	}
	times := rounds
	if len(f.tiles) == 1 {
		times = 1
	}
	for round := range times {
		f.rng.Shuffle(len(f.tiles), func(i, j int) { f.tiles[i], f.tiles[j] = f.tiles[j], f.tiles[i] })
		for i := range f.tiles {
			if ctx.Err() != nil {
				return nil, context.Cause(ctx)
			}
			t := &f.tiles[i]
			t.live = f.pelt(open[t.first:t.first+t.live], (t.live+round)/times)
		}
	}
	slices.SortFunc(f.tiles, func(s, t tile) int { return s.first - t.first })
	left := open[:0]
	for _, t := range f.tiles {
		left = append(left, open[t.first:t.first+t.live]...)
	}
	return left, nil
}

// pelt throws so many darts at the cells, moves those in which one stuck and that take no more than
// one to their end, and returns how many are left before them.
func (f *filler) pelt(cells []cell, count int) int {
	var sizes [32]uint64
	for i := range sizes {
		sizes[i] = uint64(f.size(uint8(i)))
	}
	var darts [volley]dart
	var hit [volley]int
	for ; count > 0 && len(cells) > 0; count -= volley {
		drawn, hits := darts[:min(volley, count)], hit[:0]
		for k := range drawn {
			i := int(f.rng.Uint64() >> 32 * uint64(len(cells)) >> 32)
			size, draw := sizes[cells[i].level%32], f.rng.Uint64()
			drawn[k] = dart{i, int32(draw >> 32 * size >> 32), int32(draw & math.MaxUint32 * size >> 32)}
			f.touch(&cells[i])
		}
		for _, d := range drawn {
			c := &cells[d.cell]
			width, height := c.extent(int32(sizes[c.level%32]))
			if d.x < width && d.y < height && f.land(c, spot{c.x + d.x, c.y + d.y}) && (f.grid.even || c.takesOne(width, height)) {
				hits = append(hits, d.cell)
			}
		}
		// From the last on, so that none moves that is still to go.
		slices.Sort(hits)
		for k := len(hits) - 1; k >= 0; k-- {
			if k+1 < len(hits) && hits[k] == hits[k+1] {
				continue
			}
			last := len(cells) - 1
			cells[hits[k]], cells[last] = cells[last], cells[hits[k]]
			cells = cells[:last]
		}
	}
	return len(cells)
}

// touch looks at what is round c.
func (f *filler) touch(c *cell) {
	if f.quick {
		f.touched += f.grid.sheets[c.chart][0].spots[c.home].x
	}
}

// land puts a point where a dart has hit c, if it may stand there, and reports whether it does.
func (f *filler) land(c *cell, at spot) bool {
	g, radius, square := f.grid, 0.0, f.grid.square
	var p Point
	if f.quick {
		if f.beset(c, at) {
			return false
		}
		p = Point{int(c.chart), g.place(int(c.chart), at)}
	} else {
		p = Point{int(c.chart), g.place(int(c.chart), at)}
		radius = g.RadiusAt(p)
		square = squared(radius)
		if math.IsInf(radius, 1) || g.crowded(p.Chart, at, steps(radius), square) {
			return false
		}
	}
	if c.traits&linked != 0 && g.crowdedAcross(p, g.RadiusAt(p)) {
		return false
	}
	weight := uint8(patience)
	if f.depth < 2 {
		weight = 1 << f.depth
	}
	chart := &f.charts[c.chart]
	switch {
	case c.traits&inner == 0 && !(chart.Bounds.Contains(p.At) && chart.Deep(p.At, 0)):
		if c.refused > 0 {
			c.refused = min(patience, c.refused+weight) // a place at the edge that the judge does not like is not worth a search
		}
		return false
	case f.judge != nil && !f.judge(p, g):
		f.refusals++
		c.refused = min(patience, c.refused+weight)
		return false
	}
	g.add(p, at, radius, square)
	return true
}

// beset is crowded for a place of c where one radius holds everywhere.
func (f *filler) beset(c *cell, at spot) bool {
	sheets := f.grid.sheets[c.chart]
	s, quadrant := sheets[0], c.quadrant()
	if f.depth == 0 {
		half := (f.grid.size + 1) / 2
		quadrant = quadrantOf(at.x-c.x >= half, at.y-c.y >= half)
	}
	for _, n := range &beside[quadrant%4] {
		if s.spots[c.home+n].square(at.x, at.y) < f.grid.square {
			return true
		}
	}
	for _, s := range sheets[1:] {
		if s.crowded(at.x, at.y, s.reach, f.grid.square) {
			return true
		}
	}
	return false
}

func quadrantOf(right, top bool) uint8 {
	q := uint8(0)
	if right {
		q = 1
	}
	if top {
		q += 2
	}
	return q
}

// plain is the least size of a cell, in steps, at which beside holds to the rounding of sizes.
const plain = 100

// beside lists, for each quadrant of a cell of the first sheet, the cells within a radius of some
// place of the quadrant, and nearby the cells within a radius of the middle of a cell. A radius is
// the diagonal of a cell; the sixteenth cell of a spiral only touches one.
var (
	beside = [4][15]int32{first15(0), first15(1), first15(2), first15(3)}
	nearby = [9]int32{0, -1, 1, -pitch, pitch, -pitch - 1, -pitch + 1, pitch - 1, pitch + 1}
)

func first15(quadrant int) [15]int32 { return [15]int32(spirals[quadrant]) }
