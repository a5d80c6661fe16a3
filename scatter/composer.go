package scatter

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"wallshoal/scatter/heading"
	"wallshoal/scatter/poisson"
	"wallshoal/wall/plane"
)

// A composer builds one layout on a ground: first too many pieces, then the number asked.
type composer struct {
	*ground
	kinds  []Kind
	comp   Composition
	quotas []int
	kappa  float64
	reach  float64 // of the farthest reaching kind, mm
	core   float64 // least of all kinds, mm
	rng    *rand.Rand

	grid   *poisson.Grid
	placed []placed // parallel to the points of grid
	have   []int    // pieces of each kind that are not gone
	report func(done int)

	hand []int     // room for what deal returns
	lack []float64 // by kind, as deal last saw it
}

// placed is a piece as the composer handles it.
type placed struct {
	point   poisson.Point
	kind    int
	heading heading.Bearing
	outline plane.Ring
	bounds  plane.Rect
	gone    bool
}

// stance is a kind and a heading tried at a place.
type stance struct {
	kind    int
	heading heading.Bearing
}

// neighbourly is how many least distances apart pieces count as neighbours.
const neighbourly = 1.5

// tries is how many kinds are tried at a place before it is given up.
const tries = 3

func newComposer(g *ground, kinds []Kind, comp Composition, quotas []int, rng *rand.Rand) *composer {
	c := &composer{
		ground: g, kinds: kinds, comp: comp, quotas: quotas,
		kappa: heading.Kappa(comp.Headings.Spread), rng: rng, have: make([]int, len(kinds)),
		report: func(int) {}, hand: make([]int, 0, tries+1), lack: make([]float64, len(kinds)),
	}
	for _, s := range g.shapes {
		c.reach = math.Max(c.reach, s.reach)
	}
	c.core = g.leastCore(quotas)
	return c
}

// fill places pieces at least radius apart until none further fits.
func (c *composer) fill(ctx context.Context, radius float64) error {
	var err error
	c.grid, err = poisson.Fill(ctx, c.charts, poisson.Spacing{Scale: radius}, nil, c.judge, c.rng)
	return err
}

// judge tries to stand a piece at p. It is asked only where the centre keeps its distance.
func (c *composer) judge(p poisson.Point, grid *poisson.Grid) bool {
	c.grid = grid
	if c.taken(p) {
		return false
	}
	angle := c.flowAt(p)
	for _, kind := range c.deal(p) {
		s := stance{kind, c.stray(angle)}
		if piece, ok := c.stand(p, s, -1); ok {
			c.placed = append(c.placed, piece)
			c.have[kind]++
			c.report(len(c.placed))
			return true
		}
	}
	return false
}

// taken reports whether p is too near the outline of a piece for any kind to have its centre there.
func (c *composer) taken(p poisson.Point) bool {
	taken := false
	keep := c.core + c.comp.Gap
	centre := plane.Ring{p.At}
	c.grid.Near(p, c.reach+keep, func(i int, _ float64) bool {
		other := &c.placed[i]
		taken = other.point.Chart == p.Chart && other.bounds.Grow(keep).Contains(p.At) &&
			plane.Closer(centre, other.outline, keep)
		return !taken
	})
	return taken
}

// flowAt returns the direction of the flow at p, in radians; along +x where nothing flows.
func (c *composer) flowAt(p poisson.Point) float64 {
	way := c.comp.Flow.At(c.charts[p.Chart].Frame, p.At)
	if c.comp.Part {
		way = way.Add(c.parted[p.Chart].At(p.At))
	}
	return way.Angle()
}

// stray draws a heading about the angle.
func (c *composer) stray(angle float64) heading.Bearing {
	return heading.FromAngle(angle + heading.VonMises(c.rng, c.kappa))
}

// stand returns the piece that stands at p as s says, and whether it fits: free of everything on
// the face, and clear of every other piece but the one with the index except.
func (c *composer) stand(p poisson.Point, s stance, except int) (placed, bool) {
	if c.sticksOut(p, s) {
		return placed{}, false
	}
	outline := place(c.kinds[s.kind].Outline, p.At, s.heading)
	piece := placed{point: p, kind: s.kind, heading: s.heading, outline: outline, bounds: outline.Bounds()}
	clear := true
	reach := c.shapes[s.kind].reach + c.reach + c.comp.Gap
	box := piece.bounds.Grow(c.comp.Gap)
	c.grid.Near(p, reach, func(i int, _ float64) bool {
		other := &c.placed[i]
		if i == except || other.gone || other.point.Chart != p.Chart || !box.Overlaps(other.bounds) {
			return true
		}
		clear = !plane.Closer(outline, other.outline, c.comp.Gap)
		return clear
	})
	return piece, clear && c.holds(piece, c.kinds[s.kind])
}

// deal returns the kinds to try at p, the best first: those that are behind their quota, less
// those that stand next to p already.
func (c *composer) deal(p poisson.Point) []int {
	beside := c.beside(p, -1)
	progress := float64(len(c.placed)+1) / float64(c.comp.Count)
	best := c.hand[:0]
	for k, q := range c.quotas {
		if q == 0 {
			continue
		}
		lack := float64(float64(q)*progress) - float64(c.have[k]+beside[k]) + c.rng.Float64()
		at := len(best)
		for at > 0 && c.lack[best[at-1]] < lack {
			at--
		}
		c.lack[k] = lack
		best = slices.Insert(best, at, k)
		best = best[:min(len(best), tries)]
	}
	return best
}

// beside counts the neighbours of p of each kind, leaving out the piece with the index except.
func (c *composer) beside(p poisson.Point, except int) []int {
	counts := make([]int, len(c.kinds))
	c.grid.Near(p, neighbourly*c.grid.Radius(), func(i int, _ float64) bool {
		if i != except && !c.placed[i].gone {
			counts[c.placed[i].kind]++
		}
		return true
	})
	return counts
}

// remaining returns the indices of the pieces that are not gone.
func (c *composer) remaining() []int {
	out := make([]int, 0, len(c.placed))
	for i := range c.placed {
		if !c.placed[i].gone {
			out = append(out, i)
		}
	}
	return out
}

func (c *composer) remove(i int) {
	c.placed[i].gone = true
	c.have[c.placed[i].kind]--
}

// replace puts piece in the place of the piece with the index i.
func (c *composer) replace(i int, piece placed) {
	c.have[c.placed[i].kind]--
	c.have[piece.kind]++
	c.placed[i] = piece
}
