package plane

import "slices"

// Simplify returns the ring without the corners that lie within slack mm of what is left; the ring itself
// where that would leave no area, or where it has few corners (Douglas and Peucker, Algorithms for the
// reduction of the number of points required to represent a digitized line or its caricature,
// Cartographica 10, 1973). The first corner and the one half-way round stay.
func (r Ring) Simplify(slack float64) Ring {
	const few = 8
	if len(r) < few {
		return r
	}
	half := len(r) / 2
	out := append(straightened(r[:half+1], slack), straightened(append(slices.Clone(r[half:]), r[0]), slack)...)
	if len(out) < 3 {
		return r
	}
	return out
}

// straightened returns the line without its last point and without the points that lie within slack of
// what is left.
func straightened(line []Point, slack float64) Ring {
	last := len(line) - 1
	far, where := 0.0, 0
	for i := 1; i < last; i++ {
		if d := SegmentDistance(line[i], line[0], line[last]); d > far {
			far, where = d, i
		}
	}
	if far <= slack {
		return Ring{line[0]}
	}
	return append(straightened(line[:where+1], slack), straightened(line[where:], slack)...)
}
