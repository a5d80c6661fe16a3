package scatter

import (
	"math"

	"wallshoal/scatter/density"
	"wallshoal/scatter/poisson"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// bare is the radius that stands for a density of 0, against 1 for the densest place of a face.
// Where the radii come to so much nothing is placed.
const bare = 100

// nodes is how many places of a face a density is looked up at, at most, and grain how near to one
// another where the density itself says no more, in mm.
const (
	nodes  = 60_000
	coarse = 80
)

// radiiOn returns how far pieces keep from one another over a face, one place against another: the
// inverse of the density's root, rounded to what is the same on every machine. It returns nil where
// they are to lie evenly.
func radiiOn(face wall.Face, dense density.Scheme) poisson.Radii {
	if dense.Field == nil {
		return nil
	}
	box := face.Free().Bounds()
	step := math.Max(math.Min(coarse, density.Grain(dense.Field)/4), math.Sqrt(box.Width()*box.Height()/nodes))
	return poisson.NewRaster(box, step, func(p plane.Point) float64 {
		d := dense.At(face.Frame, p)
		if !(d > 1/float64(bare*bare)) {
			return bare
		}
		return math.Round(1e6/math.Sqrt(d)) / 1e6
	})
}

// dressed reports whether the work is not to be bare anywhere within d mm of p; with d below 0,
// whether there is a place within -d where it is not.
func dressed(radii poisson.Radii, p plane.Point, d float64) bool {
	if d == 0 {
		return radii.At(p) < bare
	}
	least, most := radii.Within(plane.Rect{Min: p, Max: p}.Grow(math.Abs(d)))
	if d > 0 {
		return most < bare
	}
	return least < bare
}

// measure adds what the free part of a chart comes to, the sum of the density over it being known.
func (g *ground) measure(chart int, free plane.Region, sum float64) {
	area, rim := free.Area(), 0.0
	for _, p := range free.Polygons() {
		rim += p.Outer.Perimeter()
		for _, h := range p.Holes {
			rim += h.Perimeter()
		}
	}
	mean := sum / area
	if radii := g.charts[chart].Radii; radii != nil {
		_, most := radii.Within(free.Bounds())
		g.widest = math.Max(g.widest, most)
	} else {
		g.widest = 1
	}
	g.area += area
	g.weight += float64(mean * math.Max(area/4, area-float64(g.inset()*rim)))
	g.rim += float64(rim * math.Sqrt(mean))
}

// inset returns how far from the edge of what is free the centres of pieces keep, about, in mm.
// Some of them lie along the edge and some across: the mean between core and reach is what fills of
// rooms come to.
func (g *ground) inset() float64 {
	sum := 0.0
	for _, s := range g.shapes {
		sum += (s.core + s.reach) / 2
	}
	return sum / float64(len(g.shapes))
}

// samples is how many places of a face the sum of a density is taken over, about.
const samples = 1000

// sum returns the sum of the density over what is free of a face, in mm² where the density is 1.
func sum(face wall.Face, dense density.Scheme) float64 {
	free := face.Free()
	if dense.Field == nil {
		return free.Area()
	}
	return density.Integral(dense.Field, density.Area{Frame: face.Frame, Region: free}, math.Sqrt(free.Area()/samples))
}

// CountFor returns how many pieces a composition comes to on the site: its count, or where there is
// none what its density per square metre makes of all that is free.
func CountFor(site wall.Site, comp Composition) int {
	if comp.Count > 0 || comp.Density.PerSquareMetre == 0 {
		return comp.Count
	}
	var all float64
	for _, face := range site.Faces {
		if face.Used && !face.Free().Empty() {
			all += sum(face, comp.Density)
		}
	}
	return int(math.Round(all / 1e6 * comp.Density.PerSquareMetre))
}
