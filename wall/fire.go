package wall

import (
	"math"
	"slices"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A FireRule says how far what burns keeps from the opening of a fireplace, and how far it may stand
// out near it.
type FireRule string

// The rules for fireplaces. Each is a usual one and none is a clearance: a listed unit follows its own
// manual.
const (
	FireSlope  FireRule = "slope"  // 6 in clear, then to 12 in off at most 1/8 in out for every inch of distance
	FireStep   FireRule = "step"   // 6 in clear, and above the opening to 12 in off at most 1-1/2 in out
	FireMetric FireRule = "150 mm" // 150 mm clear, and above the opening to 300 mm off at most 38 mm out
)

// FireRules returns every rule for fireplaces.
func FireRules() []FireRule { return []FireRule{FireSlope, FireStep, FireMetric} }

// A fireFigure is what a rule for fireplaces consists of, in mm.
type fireFigure struct {
	clear float64 // nothing that burns so near to the opening
	far   float64 // farther off there is no limit
	out   float64 // between the two, how far pieces that burn may stand out above the opening; 0 for none
	slope float64 // in place of out, and all round: how far they may stand out for every mm of distance
	from  string  // where it comes from
}

func (r FireRule) figure() fireFigure {
	switch r {
	case FireStep:
		return fireFigure{clear: 152.4, far: 304.8, out: 38.1, from: "NFPA 211, as two fireplace manuals quote it"}
	case FireMetric:
		return fireFigure{clear: 150, far: 300, out: 38, from: "Ontario Building Code, clearance to the fireplace opening"}
	}
	return fireFigure{clear: 152.4, far: 304.8, slope: 1. / 8, from: "IRC 2018 R1001.11 exception 4, as quoted in trade press"}
}

// Limit returns how far a piece that burns may stand out at a distance from the opening, both in mm;
// above tells whether it hangs above the opening. Where nothing that burns may hang it is 0, and
// where the rule sets no limit it is infinite.
func (r FireRule) Limit(distance float64, above bool) float64 {
	f := r.figure()
	switch {
	case distance < f.clear-flush:
		return 0
	case distance > f.far+flush, f.slope == 0 && !above:
		return math.Inf(1)
	case f.slope > 0:
		return float64(distance * f.slope)
	}
	return f.out
}

// listed ends what is said of fireplaces.
const listed = "; a listed unit has its own distances in its manual" + lookUp

// fireClearance finds where nothing that burns may hang beside the opening of a fireplace.
func fireClearance(s scene) ([]Zone, error) {
	f := s.rules.Fire.figure()
	return s.each(func(o Obstruction) (Zone, error) {
		shape, err := o.grown(f.clear)
		return Zone{
			Code: "fire-opening", Strength: Forbidden, Binds: Combustible, Shape: shape,
			Reason: "nothing that burns within " + s.rules.show(f.clear) + " of a fireplace opening" + listed,
			Source: f.from,
		}, err
	}, Fireplace)
}

// fireProjection finds where pieces that burn may stand out only so far.
func fireProjection(s scene) ([]Zone, error) {
	f := s.rules.Fire.figure()
	return s.each(func(o Obstruction) (Zone, error) {
		far, err := o.grown(f.far)
		if err != nil {
			return Zone{}, err
		}
		near, err := o.grown(f.clear)
		if err != nil {
			return Zone{}, err
		}
		shape, err := far.Difference(near)
		if f.slope > 0 {
			return Zone{
				Code: "fire-slope", Strength: Caution, Binds: Combustible, Shape: shape,
				Limit: float64(f.clear * f.slope), Slope: f.slope, from: o.Shape, face: s.frame, wall: s.frame,
				Reason: "up to " + s.rules.show(f.far) + " from a fireplace opening, what burns stands out at most 1/8 of its distance" + listed,
				Source: f.from,
			}, err
		}
		if err == nil {
			shape, err = above(shape, o.Shape, f.far)
		}
		return Zone{
			Code: "fire-step", Strength: Caution, Binds: Combustible, Limit: f.out, Shape: shape,
			Reason: "above a fireplace opening, up to " + s.rules.show(f.far) + " from it, what burns stands out at most " + s.rules.show(f.out) + listed,
			Source: f.from,
		}, err
	}, Fireplace)
}

// above returns the part of shape, which reaches no more than far mm beyond the opening, that lies
// higher than the opening or straight over one of its upper edges.
func above(shape plane.Region, opening plane.Ring, far float64) (plane.Region, error) {
	b := opening.Bounds().Grow(far + 1)
	parts := []plane.Region{plane.RegionOf(plane.Rectangle(plane.Point{X: b.Min.X, Y: opening.Bounds().Max.Y}, b.Width(), far+1))}
	for i, p := range opening {
		q := opening[(i+1)%len(opening)]
		if up := (plane.Point{Y: far + 1}); p.X > q.X { // the opening lies below this edge
			parts = append(parts, plane.RegionOf(plane.Ring{p, p.Add(up), q.Add(up), q}.CounterClockwise()))
		}
	}
	over, err := plane.Union(parts...)
	if err != nil {
		return plane.Region{}, err
	}
	return shape.Intersection(over)
}

// Allowed returns how far a piece with that outline on the face may stand out where it lies, in mm:
// the zone's limit, or what its slope comes to at the nearest place of the outline. As all zones do,
// it measures along the wall, whatever the piece is before or behind.
func (z Zone) Allowed(outline plane.Ring) float64 {
	if z.Slope == 0 {
		return z.Limit
	}
	return float64(z.Off(outline) * z.Slope)
}

// Off returns how far an outline on the face is from what a zone with a slope is about, in mm to a
// hundredth; 0 for any other zone.
func (z Zone) Off(outline plane.Ring) float64 {
	if z.Slope == 0 {
		return 0
	}
	foot := outline.Map(func(p plane.Point) plane.Point {
		q, _ := z.wall.Local(z.face.At(p))
		return q
	})
	return math.Round(distanceBetween(foot, z.from)*100) / 100
}

// Reaches reports whether the zone binds a piece that loads the face with l and lies there with that
// outline. A zone that binds holes reaches no piece as such.
func (z Zone) Reaches(l Load, outline plane.Ring) bool {
	if !z.Concerns(l) || !z.Shape.Bounds().Overlaps(outline.Bounds()) || !z.Shape.Touches(outline) {
		return false
	}
	return z.Slope == 0 || l.StandOff > z.Allowed(outline)+flush
}

// distanceBetween returns the distance between two areas in mm, 0 where they meet. One of them may be as thin
// as a line.
func distanceBetween(r, s plane.Ring) float64 {
	if plane.Closer(r, s, 0) {
		return 0
	}
	near := math.Inf(1)
	for _, pair := range [2][2]plane.Ring{{r, s}, {s, r}} {
		for _, p := range pair[0] {
			for i, a := range pair[1] {
				near = math.Min(near, plane.SegmentDistance(p, a, pair[1][(i+1)%len(pair[1])]))
			}
		}
	}
	return near
}

// placed returns the zones, known to be of a wall in its own coordinates, such that those with a slope
// measure from places of the face in their wall's plane.
func placed(zones []Zone, wall, face space.Frame) []Zone {
	out := slices.Clone(zones)
	for i := range out {
		if out[i].Slope > 0 {
			out[i].wall, out[i].face = wall, face
		}
	}
	return out
}
