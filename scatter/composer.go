package scatter

import (
	"context"
	"math"
	"math/rand/v2"

	"wallshoal/scatter/heading"
	"wallshoal/scatter/mixing"
	"wallshoal/scatter/poisson"
	"wallshoal/wall/plane"
)

// A composer builds one layout on a ground: first too many pieces, then the number asked.
type composer struct {
	*ground
	kinds  []Kind
	comp   Composition
	quotas []int
	rng    *rand.Rand
	drawer heading.Drawer
	wish   *mixing.Wish // which kinds belong where; nil where that is all the same
	reach  float64      // of the farthest reaching kind, mm
	core   float64      // least of all kinds, mm
	report func(done int)

	grid   *poisson.Grid
	placed []placed // parallel to the points of grid
	have   []int    // pieces of each kind that are not gone
	roles  [heading.Roles]int
	parts  [heading.Roles]int // how many are to have each role
	off    int                // kept pieces that stand where there is no chart

	floored bool // the last fill was at the shortest distance there is

	hand    []int     // room for what deal returns
	lack    []float64 // by kind, as deal last saw it
	weights []float64 // room for what the wish says of a place
}

// placed is a piece as the composer handles it.
type placed struct {
	point   poisson.Point
	kind    int
	heading heading.Bearing
	role    heading.Role
	outline plane.Ring
	bounds  plane.Rect
	gone    bool
	id      int     // of a kept piece; 0 for a new one
	thrown  *stance // as it was thrown, where it was then seated otherwise
}

// stance returns how p stands.
func (p *placed) stance() stance { return stance{p.point, p.kind, p.heading} }

// stance is a kind that stands at a place and heads somewhere.
type stance struct {
	point   poisson.Point
	kind    int
	heading heading.Bearing
}

// neighbourly is how many least distances apart pieces count as neighbours.
const neighbourly = 1.5

// newComposer returns a composer on which only the kept pieces stand.
func newComposer(s *search, rng *rand.Rand) *composer {
	c := &composer{
		ground: s.ground, kinds: s.kinds, comp: s.comp, quotas: s.quotas, wish: s.wish, rng: rng, report: s.report,
		drawer: heading.NewDrawer(s.comp.Headings), parts: s.comp.Headings.Quotas(s.comp.Count),
		core: s.leastCore(s.quotas), have: make([]int, len(s.kinds)),
		hand: make([]int, 0, tries+1), lack: make([]float64, len(s.kinds)),
	}
	for _, s := range c.shapes {
		c.reach = math.Max(c.reach, s.reach)
	}
	charts := map[int]int{}
	for chart, face := range c.faces {
		charts[face] = chart
	}
	for _, p := range s.kept {
		c.have[p.Kind]++
		chart, ok := charts[p.Face]
		if !ok {
			c.off++
			continue
		}
		piece := c.laid(stance{poisson.Point{Chart: chart, At: p.At}, p.Kind, p.Heading})
		piece.id = p.ID
		c.placed = append(c.placed, piece)
	}
	return c
}

// fill places pieces between those that stand, each as far from the others as scale and the density
// say and at least least mm, until none further fits.
func (c *composer) fill(ctx context.Context, least, scale float64) error {
	given := make([]poisson.Point, len(c.placed))
	for i := range c.placed {
		given[i] = c.placed[i].point
	}
	var err error
	c.grid, err = poisson.Fill(ctx, c.charts, poisson.Spacing{Least: least, Scale: scale}, given, c.judge, c.rng)
	return err
}

// judge tries to stand a piece at p, and says whether one stands there. It is asked only where the
// centre keeps its distance. A piece that it seats near by it puts into the grid itself.
func (c *composer) judge(p poisson.Point, grid *poisson.Grid) bool {
	c.grid = grid
	if c.comp.Overlap == 0 && c.taken(p) {
		return false
	}
	angle, role, near := c.flowAt(p), c.role(), c.headingsBy(p)
	for _, kind := range c.deal(p) {
		s := stance{p, kind, c.drawer.Draw(c.rng, role, angle, c.kinds[kind].Offset, near)}
		piece, found := c.stand(s, -1)
		if found == badHole {
			piece, found = c.seat(s)
		}
		if found == fits {
			piece.role = role
			c.add(piece)
			if piece.point != p {
				grid.Add(piece.point)
			}
			return piece.point == p
		}
	}
	return false
}

// add puts a piece among those that stand.
func (c *composer) add(p placed) {
	c.placed = append(c.placed, p)
	c.have[p.kind]++
	c.roles[p.role]++
	c.report(c.count())
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
	if c.parted != nil {
		way = way.Add(c.parted[p.Chart].At(p.At))
	}
	return way.Angle()
}

// headingsBy returns the headings of the few pieces nearest to p that stand already, where they
// matter.
func (c *composer) headingsBy(p poisson.Point) []heading.Bearing {
	if c.comp.Headings.Apart == 0 {
		return nil
	}
	var near []heading.Bearing
	var far [heading.Few]float64
	c.grid.Near(p, 2*neighbourly*c.grid.RadiusAt(p), func(i int, d float64) bool {
		at := len(near)
		for at > 0 && d < far[at-1] {
			at--
		}
		if at == heading.Few {
			return true
		}
		if len(near) < heading.Few {
			near = append(near, 0)
		}
		copy(near[at+1:], near[at:])
		copy(far[at+1:len(near)], far[at:])
		near[at], far[at] = c.placed[i].heading, d
		return true
	})
	return near
}

// count returns how many pieces there are, those that were kept among them.
func (c *composer) count() int { return len(c.placed) + c.off }

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
	c.roles[c.placed[i].role]--
}

// replace puts piece in the place of the piece with the index i, which has the same role.
func (c *composer) replace(i int, piece placed) {
	c.have[c.placed[i].kind]--
	c.have[piece.kind]++
	piece.role, piece.thrown = c.placed[i].role, c.placed[i].thrown
	c.placed[i] = piece
}

// fresh returns the new pieces that stand, without IDs.
func (c *composer) fresh() []Piece {
	var out []Piece
	for i := range c.placed {
		if p := &c.placed[i]; !p.gone && p.id == 0 {
			out = append(out, c.piece(p.stance()))
		}
	}
	return out
}

// piece returns what stands so, as a layout has it.
func (c *composer) piece(s stance) Piece {
	return Piece{Kind: s.kind, Face: c.faces[s.point.Chart], At: s.point.At, Heading: s.heading}
}
