package scatter

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"

	"wallshoal/scatter/mixing"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// WholeRoom stands in a FaceCapacity for all used faces together.
const WholeRoom = -1

// A FaceCapacity says how many pieces a face holds at the spacing, the gap and the sizes that are
// asked, before anything is laid.
type FaceCapacity struct {
	Face int // index into the faces of the site, or WholeRoom
	// Least is how many are as good as sure to find room: what a fill by chance holds that goes on until no
	// further piece fits, less what such fills vary by. Where that is few it is the fewest of several
	// fills. Of the whole room the kinds are in the proportions asked, of a face as they come.
	Least int
	// Most is a bound that geometry sets and no real layout reaches: the fewer of the centres that
	// could keep the spacing if they lay as in a honeycomb, and of the outlines that would cover the
	// free area whole. For one face it holds whatever the mix of kinds. No more than MaxPieces.
	Most int
	// More says that counting was stopped at Least, and that more fit.
	More bool
}

// Bounds on the counting: how many fills a count is the least of, the bound past which one fill
// says enough, and the number of pieces past which it is not worth while to go on, unless the plan
// itself asks for so many.
const (
	capacityFills = 3
	capacityFew   = 400
	capacityWorth = 5000
)

// Capacity returns how many pieces fit on each used face by itself, in the order of the site, and
// last in the whole room, which is less than the faces together where pieces of one face keep their
// distance from those of another. Faces where the density asks for none hold none. The flow is taken
// as it runs before it parts.
//
// The same arguments give the same capacities. The error is a wall.Problem where the kinds' counts
// contradict the composition's, that of a site that cannot be measured, or ctx's.
func Capacity(ctx context.Context, site wall.Site, kinds []Kind, comp Composition, seed uint64) ([]FaceCapacity, error) {
	m, err := newCapacities(ctx, site, kinds, comp, seed)
	if err != nil {
		return nil, err
	}
	all := FaceCapacity{Face: WholeRoom}
	var free float64
	for i, f := range site.Faces {
		if !f.Used {
			continue
		}
		most, err := m.most(f)
		if err != nil {
			return nil, err
		}
		lies, err := m.lies(f)
		if err != nil {
			return nil, err
		}
		m.found = append(m.found, FaceCapacity{Face: i, Most: most})
		all.Most += most
		free += lies
	}
	if comp.Overlap == 0 && comp.Count > 0 {
		all.Most = min(all.Most, m.byArea(free))
	}
	m.found = append(m.found, all)
	return m.found, m.fill(ctx)
}

// capacities counts what fits on several sites.
type capacities struct {
	kinds     []Kind
	comp      Composition
	quotas    []int
	seed      uint64
	ground    *ground
	worth     int       // pieces past which counting is stopped
	footprint []float64 // by kind: the area that an outline keeps to itself, with half of the gap round it, mm²
	core      float64   // radius of the largest disc about the centre that all outlines hold, mm
	found     []FaceCapacity
}

func newCapacities(ctx context.Context, site wall.Site, kinds []Kind, comp Composition, seed uint64) (*capacities, error) {
	quotas, err := Quotas(kinds, comp.Count)
	if err != nil {
		return nil, err
	}
	comp.Part = false
	g, err := newGround(ctx, site, kinds, comp, nil)
	if err != nil {
		return nil, err
	}
	m := &capacities{
		kinds: kinds, comp: comp, quotas: quotas, seed: seed, ground: g,
		worth: max(capacityWorth, comp.Count), core: math.Inf(1),
	}
	for i, k := range kinds {
		outline := plane.RegionOf(k.Outline)
		around, err := outline.Grow(comp.Gap / 2)
		if err != nil {
			return nil, err
		}
		m.footprint = append(m.footprint, around.Area())
		if quotas[i] > 0 {
			m.core = math.Min(m.core, math.Max(0, outline.Distance(plane.Point{})))
		}
	}
	return m, nil
}

// fill finds the least of every capacity, on all processors. A face of many is counted as it fills
// with the whole room.
func (m *capacities) fill(ctx context.Context) error {
	room := len(m.found) - 1
	type job struct{ at, fill int }
	var jobs []job
	for i, c := range m.found {
		if i == room || c.Most <= capacityFew || m.stops(m.found[room]) {
			for n := range fillsFor(c) {
				jobs = append(jobs, job{i, n})
			}
		}
	}
	fills, faults := make([]*composer, len(jobs)), make([]error, len(jobs))
	turn := make(chan struct{}, runtime.GOMAXPROCS(0))
	var working sync.WaitGroup
	for n, j := range slices.Backward(jobs) { // the whole room, which takes longest, first
		turn <- struct{}{}
		working.Go(func() {
			defer func() { <-turn }()
			fills[n], faults[n] = m.filled(ctx, m.found[j.at], uint64(j.fill))
		})
	}
	working.Wait()
	if err := cmp.Or(faults...); err != nil {
		return err
	}
	last := len(jobs) - 1 // a fill of the whole room
	for i := range m.found[:room] {
		m.found[i].Least = fills[last].on(m.found[i].Face)
	}
	for n, j := range jobs {
		c := &m.found[j.at]
		if held := fills[n].on(c.Face); j.fill == 0 || held < c.Least {
			c.Least = held
		}
	}
	for i := range m.found {
		c := &m.found[i]
		c.Least = max(0, c.Least-varies(c.Least, fillsFor(*c)))
		if c.More = m.stops(*c); c.More {
			c.Least = min(c.Least, m.worth)
		}
	}
	return nil
}

// on returns how many pieces stand on a face, or in the whole room with the kinds in the proportions
// asked. Nothing stands in a fill that was not worth while to begin.
func (c *composer) on(face int) int {
	if c == nil {
		return 0
	}
	if face == WholeRoom {
		n, _ := c.fits()
		return n
	}
	n := 0
	for i := range c.placed {
		if c.faces[c.placed[i].point.Chart] == face {
			n++
		}
	}
	return n
}

// fillsFor returns how many fills the least of a capacity is found by.
func fillsFor(c FaceCapacity) int {
	if c.Most > capacityFew {
		return 1
	}
	return capacityFills
}

// varies returns by how much another fill may hold less than the fewest of so many that held n. The
// number that fills hold varies by about a third of its root.
func varies(n, fills int) int {
	root := math.Sqrt(float64(n))
	if fills > 1 {
		root /= 3
	}
	return int(math.Ceil(root))
}

// packed is how far apart centres are at least, against the root of the area that an outline keeps
// to itself, where the outlines bind: closer ones find no room, and are only tried in vain.
const packed = 0.9

// stops reports whether there is room for so many that counting stops before the end: a fill by
// chance holds some half of what a honeycomb does.
func (m *capacities) stops(c FaceCapacity) bool { return c.Most > 2*m.worth }

// filled returns a fill of a face, or of the whole room, at the least distance, or at one at which the
// pieces come to somewhat more than it is worth while to count; nil where there is room for none.
func (m *capacities) filled(ctx context.Context, f FaceCapacity, fill uint64) (*composer, error) {
	if f.Most == 0 {
		return nil, nil
	}
	s := &search{ground: m.ground, kinds: make([]Kind, len(m.kinds)), comp: m.comp, seed: m.seed}
	s.comp.Count = 4*f.Most + 1                                    // more than there can be: no fill comes to its end before
	s.comp.Mixing.Way, s.comp.Headings.Apart = mixing.Scattered, 0 // which change little in how many fit
	for i, k := range m.kinds {
		k.Count, k.Share = 0, float64(m.quotas[i])
		s.kinds[i] = k
	}
	var err error
	if s.quotas, err = Quotas(s.kinds, s.comp.Count); err != nil {
		return nil, err
	}
	if f.Face != WholeRoom {
		s.ground = m.ground.only(f.Face)
	}
	least := s.leastRadius()
	if m.comp.Overlap == 0 {
		least = math.Max(least, packed*math.Sqrt(m.meanFootprint()))
	}
	if m.stops(f) {
		const ample = 1.5
		least = math.Max(least, math.Sqrt(4*randomSequential*s.area/(math.Pi*ample*float64(m.worth))))
	}
	c := newComposer(s, rand.New(rand.NewPCG(m.seed, fill)))
	return c, c.fill(ctx, least, least/s.widest)
}

// only returns the ground with room for new pieces on one face alone.
func (g *ground) only(face int) *ground {
	one := *g
	one.charts = slices.Clone(g.charts)
	for chart, f := range g.faces {
		if f == face {
			one.area = g.site.Faces[f].Free().Area()
		} else {
			one.charts[chart].Deep = func(plane.Point, float64) bool { return false }
		}
	}
	return &one
}

// most returns the bound of one face. Centres keep the spacing, and where outlines may not cover
// one another, twice the core and the gap.
//
// No disc of radius r in a packing has less of the plane to itself, within 2r/√3 of its centre,
// than the hexagon about it, 2√3 r²: the corners of its Voronoi cell are no nearer than that
// (L. Fejes Tóth, from memory). So n centres that are s apart need √3/2 s² each of what lies within
// s/√3 of where they may be.
func (m *capacities) most(f wall.Face) (int, error) {
	if m.comp.Count == 0 || f.Free().Empty() {
		return 0, nil
	}
	apart := m.comp.Spacing
	if m.comp.Overlap == 0 {
		apart = math.Max(apart, 2*m.core+m.comp.Gap-grain)
	}
	centres, err := f.Free().Grow(grain - m.core)
	if err != nil || centres.Empty() {
		return 0, err
	}
	about, err := centres.Grow(arcs * apart / math.Sqrt(3))
	if err != nil {
		return 0, err
	}
	most := math.Floor(about.Area() / (math.Sqrt(3) / 2 * apart * apart))
	if m.comp.Overlap == 0 {
		lies, err := m.lies(f)
		if err != nil {
			return 0, err
		}
		most = math.Min(most, math.Floor(lies/m.smallest()))
	}
	return int(math.Min(most, MaxPieces)), nil
}

// arcs makes up for what the sides of a rounded corner fall short of the true arc.
const arcs = 1.0005

// lies returns the area, in mm², of all that outlines with half of the gap round them may cover of
// a face.
func (m *capacities) lies(f wall.Face) (float64, error) {
	about, err := f.Free().Grow(arcs*m.comp.Gap/2 + grain)
	return about.Area(), err
}

// smallest returns the least area that an outline of the kinds asked for keeps to itself, mm².
func (m *capacities) smallest() float64 {
	least := math.Inf(1)
	for i, q := range m.quotas {
		if q > 0 {
			least = math.Min(least, m.footprint[i])
		}
	}
	return least
}

// meanFootprint returns the area that an outline keeps to itself on average, mm².
func (m *capacities) meanFootprint() float64 {
	var sum float64
	for i, q := range m.quotas {
		sum += float64(q) * m.footprint[i]
	}
	return sum / float64(m.comp.Count)
}

// byArea returns how many pieces would cover the area, in mm², whole, the kinds in the proportions
// asked.
func (m *capacities) byArea(area float64) int {
	for i, q := range m.quotas {
		if q > 0 {
			area += m.footprint[i] // a quota is less than one off its share
		}
	}
	return int(math.Min(MaxPieces, math.Floor(area/m.meanFootprint())))
}
