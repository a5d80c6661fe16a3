// Package quality measures how evenly pieces are spread.
//
// Distances are mm and areas mm², in the room: two pieces on either side of an inside corner are
// as near to one another as the straight line between them is long.
package quality

import (
	"math"

	"gonum.org/v1/gonum/spatial/kdtree"

	"wallshoal/wall/space"
)

// NearestDistances returns, for every point in order, the distance in mm to the nearest of the
// other points; nil for fewer than two points. Two points in one place are 0 apart.
func NearestDistances(points []space.Vec) []float64 {
	if len(points) < 2 {
		return nil
	}
	shared, places := gather(points)
	// The tree turns its branches by chance, which changes no distance.
	tree := kdtree.New(places, false)
	distances := make([]float64, len(points))
	for i, p := range points {
		if shared[p] > 1 {
			continue
		}
		two := kdtree.NewNKeeper(2) // the point itself and its neighbour
		tree.NearestSet(two, coordinate(p))
		distances[i] = math.Sqrt(two.Heap[1].Dist) // nearest first, squared
	}
	return distances
}

// gather returns how many points share each place, and the places once each: a tree of many
// points in one place is slow to build and to search.
func gather(points []space.Vec) (shared map[space.Vec]int, places kdtree.Points) {
	shared = make(map[space.Vec]int, len(points))
	for _, p := range points {
		if shared[p]++; shared[p] == 1 {
			places = append(places, coordinate(p))
		}
	}
	return shared, places
}

func coordinate(p space.Vec) kdtree.Point { return kdtree.Point{p.X, p.Y, p.Z} }

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
