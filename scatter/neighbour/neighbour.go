// Package neighbour says which pieces are neighbours of which.
//
// Neighbours are those that the Delaunay triangulation of a face joins, less what joins pieces that
// nobody would call so: over a gap, past a third piece, or across what is not open. Pieces on
// different faces are none.
package neighbour

import (
	"slices"

	"wallshoal/wall/plane"
)

// A Place is a point of a face.
type Place struct {
	Face int // index into the faces of the site
	At   plane.Point
}

// A Graph holds, for every place, the indices of its neighbours in ascending order. Who is a
// neighbour has the other for one, and nobody is their own.
type Graph [][]int32

// Edges returns how many pairs of neighbours there are.
func (g Graph) Edges() int {
	ends := 0
	for _, near := range g {
		ends += len(near)
	}
	return ends / 2
}

// Open says whether the straight line from a to b on a face is open: not across a window, say.
type Open func(face int, a, b plane.Point) bool

// Of returns who is whose neighbour among places; open may be nil where all is.
//
// An edge of the triangulation is left out where
//   - a third place sees its ends more than 135° apart, so lies all but between them: the slivers
//     along the hull; a maximal sample has no angle above 120° elsewhere;
//   - it is more than 2.5 times as long as edges are round either of its ends: it leads over a gap;
//   - it is not open.
//
// No place loses its nearest for the first two reasons, unless that is far off from all others.
//
// Places are taken to 0.01 mm, and every decision of the triangulation is exact, so the graph is the
// same on every machine and whatever the order of the places; where four are on a circle, either
// pair of opposite ones may be joined. Places that several share are joined as beads on a string,
// the first of them to the rest of the face. A place that is not finite, or more than 5 km from the
// origin of its face, has no neighbours.
func Of(places []Place, open Open) Graph {
	g := make(Graph, len(places))
	for face, members := range byFace(places) {
		joinFace(g, places, members, func(a, b int32) bool {
			return open == nil || open(face, places[a].At, places[b].At)
		})
	}
	for _, near := range g {
		slices.Sort(near)
	}
	return g
}

// A bead is a place on the lattice.
type bead struct {
	spot  spot
	index int32
}

// byFace returns the places of every face in the order of the triangulation.
func byFace(places []Place) [][]bead {
	var faces [][]bead
	for i, p := range places {
		s, ok := spotAt(p.At)
		if !ok || p.Face < 0 {
			continue
		}
		for p.Face >= len(faces) {
			faces = append(faces, nil)
		}
		faces[p.Face] = append(faces[p.Face], bead{s, int32(i)})
	}
	for _, f := range faces {
		slices.SortFunc(f, func(a, b bead) int {
			if c := a.spot.compare(b.spot); c != 0 {
				return c
			}
			return int(a.index - b.index)
		})
	}
	return faces
}

// joinFace adds to g the edges of one face.
func joinFace(g Graph, places []Place, beads []bead, open func(a, b int32) bool) {
	join := func(a, b int32) {
		g[a] = append(g[a], b)
		g[b] = append(g[b], a)
	}
	var spots []spot
	var index []int32 // of the first place at a spot
	for i, b := range beads {
		if i > 0 && b.spot == beads[i-1].spot {
			join(beads[i-1].index, b.index)
			continue
		}
		spots = append(spots, b.spot)
		index = append(index, b.index)
	}
	for _, e := range thin(delaunay(spots)) {
		if a, b := index[e.a], index[e.b]; open(min(a, b), max(a, b)) {
			join(a, b)
		}
	}
}
