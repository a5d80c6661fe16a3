// Package quality measures how evenly pieces are spread, and how their kinds lie among one another.
//
// Distances are mm, measured between places on the faces of a site as wall.Way says; areas are mm².
package quality

import (
	"math"

	"gonum.org/v1/gonum/spatial/kdtree"

	"wallshoal/scatter/neighbour"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A Place is a point of a face.
type Place = neighbour.Place

// NearestDistances returns, for every place in order, the distance in mm to the nearest of the
// others; infinite where there is none to measure to. Two in one place are 0 apart.
func NearestDistances(site wall.Site, places []Place) []float64 {
	ways := site.Ways()
	crowds := gather(places, len(site.Faces))
	nearest := make([]float64, len(places))
	for i, p := range places {
		nearest[i] = crowds[p.Face].toOther(p.At)
		place := site.Faces[p.Face].Frame.At(p.At)
		for face := range crowds {
			if face == p.Face {
				continue
			}
			way := ways.Between(p.Face, face)
			if way.Straight {
				foot, off := site.Faces[face].Frame.Local(place)
				nearest[i] = crowds[face].to(foot, off, nearest[i])
			}
			for _, fold := range way.Folds {
				nearest[i] = crowds[face].to(fold.Apply(p.At), 0, nearest[i])
			}
		}
	}
	return nearest
}

// A crowd is the places on one face.
type crowd struct {
	bounds plane.Rect
	shared map[plane.Point]int // how many are in each place
	tree   *kdtree.Tree        // of each place once: it is slow where many points share one
}

func gather(places []Place, faces int) []crowd {
	crowds := make([]crowd, faces)
	points := make([]kdtree.Points, faces)
	for _, p := range places {
		c := &crowds[p.Face]
		spot := plane.Rect{Min: p.At, Max: p.At}
		if c.shared == nil {
			c.shared, c.bounds = map[plane.Point]int{}, spot
		}
		c.bounds = c.bounds.Union(spot)
		if c.shared[p.At]++; c.shared[p.At] == 1 {
			points[p.Face] = append(points[p.Face], kdtree.Point{p.At.X, p.At.Y})
		}
	}
	for i := range crowds {
		if len(points[i]) > 0 {
			// The tree turns its branches by chance, which changes no distance.
			crowds[i].tree = kdtree.New(points[i], false)
		}
	}
	return crowds
}

// toOther returns the distance from p, which is one of the crowd, to the nearest other.
func (c crowd) toOther(p plane.Point) float64 {
	if c.shared[p] > 1 {
		return 0
	}
	two := kdtree.NewNKeeper(2) // the place itself and its neighbour, nearest first, squared
	c.tree.NearestSet(two, kdtree.Point{p.X, p.Y})
	if two.Len() < 2 {
		return math.Inf(1)
	}
	return math.Sqrt(two.Heap[1].Dist)
}

// to returns the distance to the nearest of the crowd from the place that stands off mm before
// foot, or limit where that is less.
func (c crowd) to(foot plane.Point, off, limit float64) float64 {
	if c.tree == nil || math.Abs(off) >= limit || !c.bounds.Grow(limit).Contains(foot) {
		return limit
	}
	_, square := c.tree.Nearest(kdtree.Point{foot.X, foot.Y})
	return math.Min(limit, math.Sqrt(square+float64(off*off)))
}

// ClarkEvans returns the index R of P. J. Clark and F. C. Evans, Distance to nearest neighbor as
// a measure of spatial relationships in populations, Ecology 35 (1954) 445-453: the mean of the
// nearest-neighbour distances against the mean that points strewn at random would have at the
// same density, in points per mm². It is below 1 for clusters, 1 for chance, 2 for a square
// lattice and 2.149 for a hexagonal one, the most there can be; 0 where there is no distance.
//
// The index is not corrected for edges. Points near one have fewer neighbours, so R comes out a
// little high for a few points in a narrow space.
func ClarkEvans(distances []float64, density float64) float64 {
	if len(distances) == 0 || !(density > 0) {
		return 0
	}
	var sum float64
	for _, d := range distances {
		sum += d
	}
	return 2 * sum / float64(len(distances)) * math.Sqrt(density)
}

// RelativeRadius returns how close to the densest packing n points come whose closest two are
// the given distance apart, in an area in mm²: half that distance against the radius that n equal
// discs could have, √(area / (2√3 n)). It is 1 for a hexagonal lattice without edges; 0 for no
// points. The measure is that of A. Lagae and P. Dutré, A comparison of methods for generating
// Poisson disk distributions, Computer Graphics Forum 27 (2008) 114-129.
func RelativeRadius(closest float64, n int, area float64) float64 {
	if n <= 0 || !(area > 0) {
		return 0
	}
	return closest / 2 / math.Sqrt(area/(2*math.Sqrt(3)*float64(n)))
}

// Closest returns the least of distances; 0 where there is none.
func Closest(distances []float64) float64 {
	if len(distances) == 0 {
		return 0
	}
	least := distances[0]
	for _, d := range distances[1:] {
		least = math.Min(least, d)
	}
	return least
}
