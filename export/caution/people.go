package caution

import (
	"math"

	"wallshoal/scatter"
	"wallshoal/wall/plane"
)

// lowest returns how high the lowest place of p is above the floor under it, in mm.
func (g gathering) lowest(p scatter.Piece, kinds []scatter.Kind) float64 {
	frame := g.site.Faces[p.Face].Frame
	low := math.Inf(1)
	var at plane.Point
	for _, q := range p.Outline(kinds) {
		if z := frame.At(q).Z; z < low {
			low, at = z, q
		}
	}
	return low - g.site.FloorBelow(p.Face, at)
}

// inReach counts p where it can cut somebody who passes or leans on the wall, or hangs so low and stands
// out so far that children, feet and brooms get at it.
func (g gathering) inReach(p scatter.Piece, kinds []scatter.Kind, limits Limits) {
	kind := kinds[p.Kind]
	low := g.lowest(p, kinds)
	switch {
	case kind.Sharp && low < limits.SharpTo:
		g.addAll(g.onFace(p, Ask, "sharp-piece",
			"pieces with sharp edges or points hang lower than "+limits.show(limits.SharpTo)+" above the floor, where people pass and children reach",
			"hang them higher, dull or guard their edges, or ask whoever answers for the room whether they may hang there",
			"common practice; check locally"), "", p, kinds)
	case low < limits.Low && kind.StandOff > limits.LowOut:
		g.addAll(g.onFace(p, Note, "low-piece",
			"pieces that stand out more than "+limits.show(limits.LowOut)+" hang lower than "+limits.show(limits.Low)+" above the floor, within reach of children, feet, bags and brooms",
			"ask who uses the room, round what can be caught, and fix these so that they can be neither pulled off nor swallowed",
			"common practice; check locally"), "", p, kinds)
	}
}
