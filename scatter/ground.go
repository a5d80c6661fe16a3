package scatter

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"sync"

	"wallshoal/scatter/flow"
	"wallshoal/scatter/flow/parting"
	"wallshoal/scatter/poisson"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A ground is what the pieces stand on: the used faces of a site, and for each kind where it may
// lie and be drilled there.
type ground struct {
	site   wall.Site
	faces  []int // index into the faces of the site, for each chart
	charts []poisson.Chart
	room   [][]allowed          // by chart, then by kind
	shapes []shape              // by kind
	parted []parting.Correction // of the flow, by chart; nil where it does not part

	area   float64 // free for pieces where new ones may go, mm²
	weight float64 // of that, the sum of the density over it
	rim    float64 // length of its boundary, each part by the root of the density, mm
	widest float64 // the most that the charts' radii come to
}

// allowed is where pieces of one kind may lie on a face.
type allowed struct{ free, drill *plane.Index }

// A shape is what a kind's outline comes to for quick decisions, in mm.
type shape struct {
	reach float64        // no part of the outline or a hole is farther from the centre
	core  float64        // the outline covers everything nearer to the centre
	tips  [4]plane.Point // the corners of the outline farthest ahead, left, back and right
}

// newGround makes ready the used faces of the site for new pieces on those of them that are among
// only, or on all of them where only is nil.
func newGround(ctx context.Context, site wall.Site, kinds []Kind, comp Composition, only []int) (*ground, error) {
	g := &ground{site: site}
	lift := 0.0
	for _, k := range kinds {
		g.shapes = append(g.shapes, shapeOf(k))
		lift = math.Max(lift, k.StandOff)
	}
	for i, face := range site.Faces {
		if face.Used && !face.Free().Empty() {
			g.faces = append(g.faces, i)
		}
	}
	g.charts = make([]poisson.Chart, len(g.faces))
	g.room = make([][]allowed, len(g.faces))
	faults := make([]error, len(g.faces)+1)
	sums := make([]float64, len(g.faces)) // of the density
	ways := site.Ways()
	var working sync.WaitGroup
	if comp.Part {
		working.Go(func() { faults[len(g.faces)] = g.part(ctx, comp.Flow) })
	}
	for chart, i := range g.faces {
		working.Go(func() {
			face := site.Faces[i]
			g.room[chart], faults[chart] = allowedOn(face, kinds, keepOff(ways.Joins(i), lift))
			g.charts[chart] = poisson.Chart{Frame: face.Frame, Bounds: face.Free().Bounds(), Radii: radiiOn(face, comp.Density)}
			sums[chart] = sum(face, comp.Density)
		})
	}
	working.Wait()
	if err := errors.Join(faults...); err != nil {
		return nil, err
	}
	for chart, i := range g.faces {
		if only == nil || slices.Contains(only, i) {
			g.charts[chart].Deep = g.deep(chart, kinds, comp.Seating.Move)
			g.measure(chart, site.Faces[i].Free(), sums[chart])
		} else {
			g.charts[chart].Deep = func(plane.Point, float64) bool { return false }
		}
	}
	g.link(ways)
	return g, nil
}

// link says how far the charts are from one another.
func (g *ground) link(ways *wall.Ways) {
	for from := range g.charts {
		for to := range g.charts {
			if way := ways.Between(g.faces[from], g.faces[to]); from != to && (way.Straight || len(way.Folds) > 0) {
				g.charts[from].Links = append(g.charts[from].Links, poisson.Link{To: to, Straight: way.Straight, Folds: way.Folds})
			}
		}
	}
}

// keepOff returns the strips along a face's inside corners where a piece that stands out by lift
// mm, or one on the adjoining face, would reach into the other's room: as wide as a square body of
// that size pushed into the corner is along either face, and as much longer than the corner.
func keepOff(joins []wall.Join, lift float64) []plane.Region {
	var strips []plane.Region
	for _, j := range joins {
		if width := lift / math.Tan(j.Angle/2); j.Angle < math.Pi && width > 0.01 {
			along := j.B.Sub(j.A).Scale(width / j.A.Distance(j.B))
			across := plane.Point{X: -along.Y, Y: along.X}
			a, b := j.A.Sub(along), j.B.Add(along)
			strips = append(strips, plane.RegionOf(plane.Ring{a.Sub(across), b.Sub(across), b.Add(across), a.Add(across)}))
		}
	}
	return strips
}

// part finds how the flow goes round what is in the way on each chart. Over the edges of a face and
// over things that carry pieces themselves, as near to them as pieces may go, it runs as it did.
func (g *ground) part(ctx context.Context, field flow.Field) error {
	area := 0.0
	for _, f := range g.faces {
		box := g.site.Faces[f].Open().Bounds()
		area += float64(box.Width() * box.Height())
	}
	g.parted = make([]parting.Correction, len(g.faces))
	faults := make([]error, len(g.faces))
	var working sync.WaitGroup
	for i, f := range g.faces {
		working.Go(func() {
			face := g.site.Faces[f]
			g.parted[i], faults[i] = parting.Solve(ctx, face.Frame, field, face.Open(), face.Free(), parting.Cell(area))
		})
	}
	working.Wait()
	return errors.Join(faults...)
}

// allowedOn returns where each kind may lie on the face, off its inside corners. Kinds that the
// face treats alike share.
func allowedOn(face wall.Face, kinds []Kind, corners []plane.Region) ([]allowed, error) {
	out := make([]allowed, len(kinds))
	for i, k := range kinds {
		like := slices.IndexFunc(kinds[:i], func(other Kind) bool { return face.Alike(k.Load(), other.Load()) })
		if like >= 0 {
			out[i] = out[like]
			continue
		}
		free, err := face.FreeFor(k.Load(), corners...)
		if err != nil {
			return nil, err
		}
		out[i].free = plane.NewIndex(free)
		if out[i].drill = out[i].free; face.BindsHoles() {
			drill, err := face.DrillFor(k.Load())
			if err != nil {
				return nil, err
			}
			out[i].drill = plane.NewIndex(drill)
		}
	}
	return out, nil
}

// deep returns what says how far inside the domain of centres of a chart a place is: the domain
// holds every place where the core of one kind or another lies free, and the work is not to be bare.
func (g *ground) deep(chart int, kinds []Kind, move float64) func(plane.Point, float64) bool {
	type bed struct {
		free  *plane.Index
		core  float64
		bound bool // the wall's studs or joints bind the hole
		hole  Hole // the one nearest to the centre
	}
	face := g.site.Faces[g.faces[chart]]
	var beds []bed
	for i, a := range g.room[chart] {
		if hole := nearestHole(kinds[i]); !math.IsInf(face.DrillMargin(plane.Point{}, hole.Bit), 1) {
			beds = append(beds, bed{a.free, g.shapes[i].core, true, hole})
			continue
		}
		known := slices.IndexFunc(beds, func(b bed) bool { return b.free == a.free && !b.bound })
		if known < 0 {
			beds = append(beds, bed{free: a.free, core: g.shapes[i].core})
			continue
		}
		beds[known].core = math.Min(beds[known].core, g.shapes[i].core)
	}
	radii := g.charts[chart].Radii
	return func(p plane.Point, d float64) bool {
		for _, b := range beds {
			if b.free.Clear(p, d+b.core) && (!b.bound || face.DrillMargin(p, b.hole.Bit)+b.hole.At.Len()+move >= d) {
				return radii == nil || dressed(radii, p, d)
			}
		}
		return false
	}
}

// liesFree reports whether all of the outline lies where its kind may.
func (g *ground) liesFree(p *placed) bool {
	free := g.room[p.point.Chart][p.kind].free
	return free.Clear(p.point.At, g.shapes[p.kind].reach) || free.Holds(p.outline)
}

// mayDrill reports whether every hole of the piece lies where it may be drilled.
func (g *ground) mayDrill(p *placed, k Kind) bool {
	drill := g.room[p.point.Chart][p.kind].drill
	face := &g.site.Faces[g.faces[p.point.Chart]]
	for i, h := range k.Holes {
		at := k.holeAt(i, p.point.At, p.heading)
		if !drill.Inside(at) {
			return false
		}
		if _, ok := face.MayDrill(at, h.Bit); !ok {
			return false
		}
	}
	return true
}

// leastCore returns the least core of the kinds that have a quota.
func (g *ground) leastCore(quotas []int) float64 {
	core := math.Inf(1)
	for kind, q := range quotas {
		if q > 0 {
			core = math.Min(core, g.shapes[kind].core)
		}
	}
	return core
}

func shapeOf(k Kind) shape {
	s := shape{reach: k.Outline.Reach()}
	var centre plane.Point
	if k.Outline.Contains(centre) {
		s.core = math.Inf(1)
		for i, a := range k.Outline {
			s.core = math.Min(s.core, plane.SegmentDistance(centre, a, k.Outline[(i+1)%len(k.Outline)]))
		}
	}
	// Turned outlines are rounded to a thousandth of a millimetre.
	s.reach += 2.0 / micron
	s.core = math.Max(0, s.core-2.0/micron)
	for i, way := range []plane.Point{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}} {
		s.tips[i] = slices.MaxFunc(k.Outline, func(a, b plane.Point) int { return cmp.Compare(a.Dot(way), b.Dot(way)) })
	}
	return s
}

// sticksOut reports whether a tip of a piece that stands so lies outside what is free for it, which
// is quicker to say than whether all of its outline lies inside.
func (g *ground) sticksOut(s stance) bool {
	const slack = 0.01 // mm: more than the rounding of an outline can make up
	free := g.room[s.point.Chart][s.kind].free
	if free.Clear(s.point.At, g.shapes[s.kind].reach) {
		return false
	}
	sin, cos := math.Sincos(s.heading.Angle())
	for _, t := range g.shapes[s.kind].tips {
		tip := plane.Point{
			X: s.point.At.X + float64(t.X*cos) - float64(t.Y*sin),
			Y: s.point.At.Y + float64(t.X*sin) + float64(t.Y*cos),
		}
		if !free.Clear(tip, -slack) {
			return true
		}
	}
	return false
}

// nearestHole returns the hole of k that is nearest to its centre.
func nearestHole(k Kind) Hole {
	if len(k.Holes) == 0 {
		return Hole{}
	}
	return slices.MinFunc(k.Holes, func(a, b Hole) int { return cmp.Compare(a.At.Len(), b.At.Len()) })
}
