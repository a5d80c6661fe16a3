package plane

import (
	"errors"
	"fmt"
	"math"

	"github.com/peterstace/simplefeatures/geom"
)

// quadSegments is how many sides a quarter of a rounded corner is drawn with: the sides of a
// corner of 100 mm stay within 0.03 mm of the true arc.
const quadSegments = 32

// NewRegion returns the region that the polygons cover together; where two overlap, the overlap
// counts once. Rings may run either way round. It returns an error for a corner that is not a
// number or more than 100 km away, for sides that cross, and for holes that leave their outer
// ring.
func NewRegion(polys ...Polygon) (Region, error) {
	var all []loop
	for i, p := range polys {
		if err := p.check(); err != nil {
			return Region{}, fmt.Errorf("polygon %d: %w", i+1, err)
		}
		all = append(all, p.loops()...)
	}
	return regionWhere(all, nil, func(first, _ int) bool { return first > 0 })
}

// Union returns what lies in any of rs.
func Union(rs ...Region) (Region, error) {
	var all []loop
	for _, r := range rs {
		all = append(all, r.loops()...)
	}
	return regionWhere(all, nil, func(first, _ int) bool { return first > 0 })
}

// Difference returns what lies in r and in none of s.
func (r Region) Difference(s ...Region) (Region, error) {
	var away []loop
	for _, gone := range s {
		if !gone.Empty() && gone.Bounds().Overlaps(r.Bounds()) {
			away = append(away, gone.loops()...)
		}
	}
	if r.Empty() || len(away) == 0 {
		return r, nil
	}
	return regionWhere(r.loops(), away, func(first, second int) bool { return first > 0 && second <= 0 })
}

// Intersection returns what lies in both r and s.
func (r Region) Intersection(s Region) (Region, error) {
	if r.Empty() || s.Empty() || !r.Bounds().Overlaps(s.Bounds()) {
		return Region{}, nil
	}
	return regionWhere(r.loops(), s.loops(), func(first, second int) bool { return first > 0 && second > 0 })
}

// Grow returns r with its boundary moved outwards by d mm, or inwards where d is below 0. Corners
// that open are rounded, with sides that lie within the true arc by at most d/750.
func (r Region) Grow(d float64) (Region, error) {
	if !(math.Abs(d) <= farthest) {
		return Region{}, fmt.Errorf("a region does not grow by %v mm", d)
	}
	if r.Empty() || d == 0 {
		return r, nil
	}
	grown, err := geom.Buffer(r.geometry(), d,
		geom.BufferQuadSegments(quadSegments), geom.BufferSimplifyFactor(0))
	if err != nil {
		return Region{}, fmt.Errorf("a region does not grow by %v mm: %w", d, err)
	}
	var all []loop
	for _, p := range polygonsOf(grown) {
		if !p.Outer.onLattice() {
			return Region{}, fmt.Errorf("a region does not grow by %v mm: it gets too large", d)
		}
		all = append(all, p.loops()...)
	}
	return regionWhere(all, nil, func(first, _ int) bool { return first > 0 })
}

// Map returns the region whose corners are f(p) for every corner p of r. The map f must move,
// turn or mirror the plane as a whole.
func (r Region) Map(f func(Point) Point) (Region, error) {
	var all []loop
	for _, p := range r.polygons {
		moved := Polygon{Outer: p.Outer.Map(f)}
		for _, h := range p.Holes {
			moved.Holes = append(moved.Holes, h.Map(f))
		}
		for _, ring := range append([]Ring{moved.Outer}, moved.Holes...) {
			if !ring.onLattice() {
				return Region{}, errors.New("a corner is not a number, or more than 100 km away")
			}
		}
		all = append(all, moved.loops()...)
	}
	return regionWhere(all, nil, func(first, _ int) bool { return first > 0 })
}

func regionWhere(first, second []loop, keep func(first, second int) bool) (Region, error) {
	polys, err := combined(first, second, keep)
	if err != nil || len(polys) == 0 {
		return Region{}, err
	}
	return Region{polys}, nil
}

// loops returns the rings of r on the lattice.
func (r Region) loops() []loop {
	var all []loop
	for _, p := range r.polygons {
		all = append(all, p.loops()...)
	}
	return all
}

// loops returns the rings of p on the lattice, the outer one counter-clockwise and the holes
// clockwise.
func (p Polygon) loops() []loop {
	var all []loop
	if l := loopOf(p.Outer.CounterClockwise()); l != nil {
		all = append(all, l)
	}
	for _, h := range p.Holes {
		if l := loopOf(h.CounterClockwise().Reverse()); l != nil {
			all = append(all, l)
		}
	}
	return all
}

// check returns why p is no polygon, or nil.
func (p Polygon) check() error {
	for _, ring := range append([]Ring{p.Outer}, p.Holes...) {
		switch {
		case !ring.onLattice():
			return errors.New("a corner is not a number, or more than 100 km away")
		case len(ring) < 3:
			return errors.New("a ring has fewer than three corners")
		}
	}
	return p.geometry().Validate()
}

func (p Polygon) geometry() geom.Polygon {
	lines := []geom.LineString{lineOf(p.Outer)}
	for _, h := range p.Holes {
		lines = append(lines, lineOf(h))
	}
	return geom.NewPolygon(lines)
}

func (r Region) geometry() geom.Geometry {
	parts := make([]geom.Polygon, len(r.polygons))
	for i, p := range r.polygons {
		parts[i] = p.geometry()
	}
	return geom.NewMultiPolygon(parts).AsGeometry()
}

func lineOf(r Ring) geom.LineString {
	flat := make([]float64, 0, 2*len(r)+2)
	for _, p := range r {
		flat = append(flat, p.X, p.Y)
	}
	flat = append(flat, r[0].X, r[0].Y)
	return geom.NewLineString(geom.NewSequence(flat, geom.DimXY))
}

// polygonsOf returns the polygons in g.
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
