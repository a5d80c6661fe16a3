package poisson

import (
	"math"

	"wallshoal/wall/plane"
)

// packed is how many points of radius 1 a maximal fill has in a unit of area: discs of that
// diameter cover a share of 0.547 of it (Feder 1980; Zhang and Torquato 2013, from memory beyond
// three digits).
const packed = 0.547 * 4 / math.Pi

// overhang is by how many radii the domain is as good as wider at its edge, for discs there lean
// over it. Measured on squares of 300 to 100,000 points.
const overhang = 0.35

// unmet is by how much wider discs are as good as, in mm, for the narrowest gaps between them hold no
// place of the lattice. Measured at radii of 37 to 800 steps: 0.15 to 0.3 steps.
const unmet = 0.25 / PerMM

// leeway is how many more points there are in a place, to how steep the radius is there: of two
// points the smaller radius counts, so that the half of a disc on the side of smaller ones is
// narrower by the slope times |cos|, and its area by a share of 2/π of the slope.
const leeway = 2 / math.Pi

// A measure is the size of a domain in discs of radius 1: the integrals of r⁻² over its area, which
// allows for the lattice and for slopes, and of r⁻¹ along its edge.
type measure struct{ area, edge float64 }

// count returns how many points a maximal fill at the scale has, as a rule.
func (m measure) count(scale float64) float64 {
	return packed * (m.area/scale/scale + overhang*m.edge/scale)
}

// scale returns the scale at which a maximal fill has so many points, as a rule.
func (m measure) scale(count float64) float64 {
	half := overhang * m.edge / 2
	root := math.Sqrt(float64(half*half) + float64(m.area*count/packed))
	return m.area / (root - half)
}

// measured returns the size of the domain that the charts make, closely enough for points at the
// given scale.
func measured(charts []Chart, scale float64) measure {
	var total measure
	for i := range charts {
		b := charts[i].Bounds
		size := max(b.Width(), b.Height())
		m := measurer{chart: &charts[i], scale: scale, widest: size / 16}
		// A little more than the bounds, so that no edge of theirs falls on one of the squares.
		lean := plane.Point{X: float64(size * 0.0131), Y: float64(size * 0.0173)}
		least, most := 0.0, math.Inf(1)
		if charts[i].Radii == nil {
			least, most = 1, 1
		}
		m.add(squareAt(b.Min.Sub(lean), float64(1.04*size)), least, most, 0)
		total.area += m.area
		total.edge += m.edge
	}
	return total
}

// A measurer measures a chart square by square. The edge it finds as the area of the strip along
// it, which is half a radius wide but never wider than widest.
type measurer struct {
	measure
	chart  *Chart
	scale  float64
	widest float64 // mm
}

func (m *measurer) strip(radius float64) float64 { return min(float64(m.scale*radius)/2, m.widest) }

// Squares are split at least so often and at most so often; those on the edge are split to a share
// of the strip, and to half of it where radii differ within them by a third and more.
const (
	coarse = 3
	fine   = 14
	sharp  = 1.0 / 2
)

// add adds a square of which the radii lie between least and most.
func (m *measurer) add(square plane.Rect, least, most float64, depth int) {
	chart := m.chart
	if !square.Overlaps(chart.Bounds) {
		return
	}
	if most > 1.1*least {
		least, most = chart.Radii.Within(square.Intersection(chart.Bounds))
	}
	size, centre := square.Width(), square.Centre()
	reach := square.Min.Distance(square.Max) / 2
	strip := m.strip(least)
	step := math.Inf(1) // squares no larger are not split
	across := false     // the edge
	switch {
	case !chart.Bounds.Contains(centre):
		across, step = true, sharp*strip
	case !chart.Deep(centre, -reach):
		return
	case !chart.Deep(centre, reach):
		across, step = true, sharp*strip
	case !chart.Deep(centre, reach+m.strip(most)):
		step = strip
	}
	if depth < coarse || depth < fine && (size > step || size > strip/2 && most > 1.3*least) {
		half := size / 2
		m.add(squareAt(square.Min, half), least, most, depth+1)
		m.add(squareAt(plane.Point{X: centre.X, Y: square.Min.Y}, half), least, most, depth+1)
		m.add(squareAt(plane.Point{X: square.Min.X, Y: centre.Y}, half), least, most, depth+1)
		m.add(squareAt(centre, half), least, most, depth+1)
		return
	}
	// The four places of a Gauss rule stand for a quarter of the square each.
	const off = 0.28867513459481287 // 1 / (2√3)
	part := float64(size*size) / 4
	var places [4]plane.Point
	var inside [4]bool
	values := [4]float64{1, 1, 1, 1}
	for i := range places {
		p := centre.Add(plane.Point{X: float64(size * off * float64(i%2*2-1)), Y: float64(size * off * float64(i/2*2-1))})
		places[i], inside[i] = p, !across || chart.Bounds.Contains(p) && chart.Deep(p, 0)
		if inside[i] && chart.Radii != nil {
			values[i] = chart.Radii.At(p)
		}
	}
	share := part
	if inside == [4]bool{true, true, true, true} && chart.Radii != nil {
		share += float64(part * leeway * m.grade(values, 2*off*size))
	}
	for i, r := range values {
		if !inside[i] {
			continue
		}
		wide := r + unmet/m.scale
		m.area += share / float64(wide*wide)
		if strip := m.strip(r); across || !math.IsInf(step, 1) && !chart.Deep(places[i], strip) {
			m.edge += part / float64(r*strip)
		}
	}
}

// grade returns how steep the radius is in a square, in mm a mm, from its values at the corners of one
// of the given size, 1 at most; 0 where the scale is not known yet.
func (m *measurer) grade(values [4]float64, size float64) float64 {
	across := values[1] + values[3] - values[0] - values[2]
	up := values[2] + values[3] - values[0] - values[1]
	slope := math.Sqrt(float64(across*across)+float64(up*up)) / (2 * size) * m.scale
	if math.IsInf(m.scale, 1) || math.IsNaN(slope) {
		return 0
	}
	return min(slope, 1)
}

func squareAt(corner plane.Point, size float64) plane.Rect {
	return plane.Rect{Min: corner, Max: plane.Point{X: corner.X + size, Y: corner.Y + size}}
}
