package plane

import (
	"errors"
	"fmt"
	"slices"

	"github.com/peterstace/simplefeatures/geom"
)

// quadSegments is how many sides a quarter of a rounded corner is drawn with: the sides of a
// corner of 100 mm stay within 0.03 mm of the true arc.
const quadSegments = 32

// errUnsettled is returned where clearing thin parts does not make a region sound.
var errUnsettled = errors.New("a region does not settle on its lattice")

// NewRegion returns the region that the polygons cover together; where two overlap, the overlap
// counts once. Rings may run either way round. It returns an error for a corner that is not
// finite, for sides that cross, and for holes that leave their outer ring.
func NewRegion(polys ...Polygon) (Region, error) {
	parts := make([]geom.Geometry, 0, len(polys))
	for i, p := range polys {
		for _, ring := range append([]Ring{p.Outer}, p.Holes...) {
			for _, corner := range ring {
				if !corner.Finite() {
					return Region{}, fmt.Errorf("polygon %d has a corner at %v, %v", i+1, corner.X, corner.Y)
				}
			}
		}
		for _, settled := range canonical([]Polygon{p}).polygons {
			g := settled.geometry()
			if err := g.Validate(); err != nil {
				return Region{}, fmt.Errorf("polygon %d: %w", i+1, err)
			}
			parts = append(parts, g.AsGeometry())
		}
	}
	return united(parts)
}

// Union returns what lies in any of rs.
func Union(rs ...Region) (Region, error) {
	var parts []geom.Geometry
	for _, r := range rs {
		for _, p := range r.polygons {
			parts = append(parts, p.geometry().AsGeometry())
		}
	}
	return united(parts)
}

// united returns the union of the parts, all at once: folding them one by one is slower and
// gathers slivers.
func united(parts []geom.Geometry) (Region, error) {
	if len(parts) == 0 {
		return Region{}, nil
	}
	return settle(geom.UnionMany(parts))
}

// Difference returns what lies in r and in none of s.
func (r Region) Difference(s ...Region) (Region, error) {
	away, err := Union(s...)
	switch {
	case err != nil:
		return Region{}, err
	case r.Empty() || away.Empty() || !r.Bounds().Overlaps(away.Bounds()):
		return r, nil
	}
	return settle(geom.Difference(r.geometry(), away.geometry()))
}

// Intersection returns what lies in both r and s.
func (r Region) Intersection(s Region) (Region, error) {
	if r.Empty() || s.Empty() || !r.Bounds().Overlaps(s.Bounds()) {
		return Region{}, nil
	}
	return settle(geom.Intersection(r.geometry(), s.geometry()))
}

// Grow returns r with its boundary moved outwards by d mm, or inwards where d is below 0. Corners
// that open are rounded, with sides that touch the true arc from within.
func (r Region) Grow(d float64) (Region, error) {
	if !(Point{d, d}).Finite() {
		return Region{}, fmt.Errorf("a region cannot grow by %v", d)
	}
	if r.Empty() || d == 0 {
		return r, nil
	}
	return settle(geom.Buffer(r.geometry(), d,
		geom.BufferQuadSegments(quadSegments), geom.BufferSimplifyFactor(0)))
}

// settle puts what a boolean operation returned onto the lattice. Snapping can make two sides
// that nearly touched cross; then what is thinner than a few steps is cleared first, necks and
// gaps alike, and at most a few steps are ever needed.
func settle(g geom.Geometry, err error) (Region, error) {
	for width := 1.0; width <= 16; width *= 2 {
		if err != nil {
			return Region{}, fmt.Errorf("region: %w", err)
		}
		r := canonical(polygonsOf(g))
		if r.Empty() || r.geometry().Validate() == nil {
			return r, nil
		}
		g, err = clearThin(g, width/stepsPerMM)
	}
	return Region{}, errUnsettled
}

// clearThin returns g without the parts, and then without the gaps, less than 2d mm wide.
func clearThin(g geom.Geometry, d float64) (geom.Geometry, error) {
	var err error
	for _, move := range []float64{-d, d, d, -d} {
		g, err = geom.Buffer(g, move, geom.BufferJoinStyleMitre(50), geom.BufferSimplifyFactor(0))
		if err != nil {
			return geom.Geometry{}, err
		}
	}
	return g, nil
}

// canonical returns the region of polygons that do not overlap, with every ring tidied, turned
// and begun the one way that regions are.
func canonical(polys []Polygon) Region {
	var r Region
	for _, p := range polys {
		outer := tidy(p.Outer)
		if outer == nil {
			continue
		}
		kept := Polygon{Outer: fromCorner(outer.CounterClockwise())}
		for _, h := range p.Holes {
			if h = tidy(h); h != nil {
				kept.Holes = append(kept.Holes, fromCorner(h.CounterClockwise().Reverse()))
			}
		}
		slices.SortFunc(kept.Holes, compareRings)
		r.polygons = append(r.polygons, kept)
	}
	slices.SortFunc(r.polygons, func(p, q Polygon) int { return compareRings(p.Outer, q.Outer) })
	return r
}

func (r Region) geometry() geom.Geometry {
	parts := make([]geom.Polygon, len(r.polygons))
	for i, p := range r.polygons {
		parts[i] = p.geometry()
	}
	return geom.NewMultiPolygon(parts).AsGeometry()
}

func (p Polygon) geometry() geom.Polygon {
	lines := []geom.LineString{lineOf(p.Outer)}
	for _, h := range p.Holes {
		lines = append(lines, lineOf(h))
	}
	return geom.NewPolygon(lines)
}

func lineOf(r Ring) geom.LineString {
	flat := make([]float64, 0, 2*len(r)+2)
	for _, p := range r {
		flat = append(flat, p.X, p.Y)
	}
	flat = append(flat, r[0].X, r[0].Y)
	return geom.NewLineString(geom.NewSequence(flat, geom.DimXY))
}

// polygonsOf returns the polygons in g and passes over the points and lines that an operation
// leaves where two regions only touch.
func polygonsOf(g geom.Geometry) []Polygon {
	var out []Polygon
	for _, part := range g.Dump() {
		p, ok := part.AsPolygon()
		if !ok || p.IsEmpty() {
			continue
		}
		poly := Polygon{Outer: ringOf(p.ExteriorRing())}
		for i := range p.NumInteriorRings() {
			poly.Holes = append(poly.Holes, ringOf(p.InteriorRingN(i)))
		}
		out = append(out, poly)
	}
	return out
}

func ringOf(l geom.LineString) Ring {
	seq := l.Coordinates()
	ring := make(Ring, max(seq.Length()-1, 0))
	for i := range ring {
		xy := seq.GetXY(i)
		ring[i] = Point{xy.X, xy.Y}
	}
	return ring
}
