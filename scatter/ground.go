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
	faces  []int // index into the faces of the site, for each chart
	charts []poisson.Chart
	room   [][]allowed          // by chart, then by kind
	shapes []shape              // by kind
	parted []parting.Correction // of the flow, by chart, once part has been called
}

// allowed is where pieces of one kind may lie on a face.
type allowed struct{ free, drill *plane.Index }

// A shape is what a kind's outline comes to for quick decisions, in mm.
type shape struct {
	reach float64        // no part of the outline or a hole is farther from the centre
	core  float64        // the outline covers everything nearer to the centre
	tips  [4]plane.Point // the corners of the outline farthest ahead, left, back and right
}

func newGround(site wall.Site, kinds []Kind) (*ground, error) {
	g := &ground{}
	lift := 0.0
	for _, k := range kinds {
		g.shapes = append(g.shapes, shapeOf(k))
		lift = math.Max(lift, k.StandOff)
	}
	ways := site.Ways()
	for i, face := range site.Faces {
		if !face.Used || face.Free().Empty() {
			continue
		}
		room, err := allowedOn(face, kinds, keepOff(ways.Joins(i), lift))
		if err != nil {
			return nil, err
		}
		g.faces = append(g.faces, i)
		g.room = append(g.room, room)
		g.charts = append(g.charts, poisson.Chart{
			Frame:  face.Frame,
			Bounds: face.Free().Bounds(),
			Deep:   g.deep(room),
		})
	}
	for from := range g.charts {
		for to := range g.charts {
			if way := ways.Between(g.faces[from], g.faces[to]); from != to && (way.Straight || len(way.Folds) > 0) {
				g.charts[from].Links = append(g.charts[from].Links, poisson.Link{To: to, Straight: way.Straight, Folds: way.Folds})
			}
		}
	}
	return g, nil
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
func (g *ground) part(ctx context.Context, site wall.Site, field flow.Field) error {
	area := 0.0
	for _, f := range g.faces {
		box := site.Faces[f].Open().Bounds()
		area += float64(box.Width() * box.Height())
	}
	g.parted = make([]parting.Correction, len(g.faces))
	faults := make([]error, len(g.faces))
	var working sync.WaitGroup
	for i, f := range g.faces {
		working.Go(func() {
			face := site.Faces[f]
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
		drill, err := face.DrillFor(k.Load())
		if err != nil {
			return nil, err
		}
		free, err := face.FreeFor(k.Load())
		if err == nil {
			free, err = free.Difference(corners...)
		}
		if err != nil {
			return nil, err
		}
		out[i] = allowed{plane.NewIndex(free), plane.NewIndex(drill)}
	}
	return out, nil
}

// deep returns what says how far inside the domain of centres a place is: the domain holds every
// place where the core of one kind or another lies free.
func (g *ground) deep(room []allowed) func(plane.Point, float64) bool {
	type bed struct {
		free *plane.Index
		core float64
	}
	var beds []bed
	for i, a := range room {
		known := slices.IndexFunc(beds, func(b bed) bool { return b.free == a.free })
		if known < 0 {
			beds = append(beds, bed{a.free, g.shapes[i].core})
			continue
		}
		beds[known].core = math.Min(beds[known].core, g.shapes[i].core)
	}
	return func(p plane.Point, d float64) bool {
		for _, b := range beds {
			if b.free.Clear(p, d+b.core) {
				return true
			}
		}
		return false
	}
}

// area returns the free area of all used faces in mm².
func (g *ground) area(site wall.Site) float64 {
	var sum float64
	for _, f := range g.faces {
		sum += site.Faces[f].Free().Area()
	}
	return sum
}

// holds reports whether a piece of the kind k lies free with its outline, and may be drilled for
// at its holes.
func (g *ground) holds(p placed, k Kind) bool {
	room := g.room[p.point.Chart][p.kind]
	if !room.free.Clear(p.point.At, g.shapes[p.kind].reach) && !room.free.Holds(p.outline) {
		return false
	}
	for i := range k.Holes {
		if !room.drill.Inside(k.holeAt(i, p.point.At, p.heading)) {
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

// sticksOut reports whether a tip of a piece of the kind lies outside what is free for it, which is
// quicker to say than whether all of its outline lies inside.
func (g *ground) sticksOut(p poisson.Point, s stance) bool {
	const slack = 0.01 // mm: more than the rounding of an outline can make up
	free := g.room[p.Chart][s.kind].free
	if free.Clear(p.At, g.shapes[s.kind].reach) {
		return false
	}
	sin, cos := math.Sincos(s.heading.Angle())
	for _, t := range g.shapes[s.kind].tips {
		tip := plane.Point{
			X: p.At.X + float64(t.X*cos) - float64(t.Y*sin),
			Y: p.At.Y + float64(t.X*sin) + float64(t.Y*cos),
		}
		if !free.Clear(tip, -slack) {
			return true
		}
	}
	return false
}
