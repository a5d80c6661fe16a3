package caution

import (
	"fmt"
	"math"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// Multiples of the depth and of the bit of a hole, between anchors and from them to an edge.
const (
	plugEdge, plugSpacing         = 2, 4  // of the depth, plastic plugs in masonry; a maker's table
	concreteEdge, concreteSpacing = 1, 2  // of the depth, plastic plugs in concrete; the same
	metalEdge, metalSpacing       = 5, 10 // of the diameter, metal anchors in concrete; rule of thumb
)

const anchorSource = "a maker's table of plastic plugs (2 and 4 depths in masonry, 1 and 2 in concrete) and a rule of thumb for metal anchors in concrete (5 and 10 diameters); the packet decides"

// holds returns how the fixing of a hole holds; empty where that is an anchor of some sort. A thin
// fixing of which nothing is said is a pin, which spreads nothing and so needs no such distances.
func (l Limits) holds(h scatter.Hole) scatter.Anchor {
	if h.Anchor == "" && h.Bit < l.AnchorFrom {
		return scatter.Pin
	}
	return h.Anchor
}

// AnchorDistances returns how far a fixing that spreads in a hole in a surface is usually to be from an
// edge and from another one, in mm; 0 for a surface that no such distance is known of, and for a pin. The
// distances of what is not known to be of plastic or of metal are the greater ones.
func AnchorDistances(surface wall.Surface, holds scatter.Anchor, bit, depth float64) (edge, spacing float64) {
	if holds == scatter.Pin {
		return 0, 0
	}
	switch surface {
	case wall.Brick, wall.Block, wall.Stone:
		edge, spacing = plugEdge*depth, plugSpacing*depth
	case wall.Concrete:
		if holds != scatter.Expansion {
			edge, spacing = concreteEdge*depth, concreteSpacing*depth
		}
	default:
		return 0, 0
	}
	if holds == scatter.Expansion || holds == "" && surface == wall.Concrete {
		edge, spacing = math.Max(edge, metalEdge*bit), math.Max(spacing, metalSpacing*bit)
	}
	return edge, spacing
}

// anchorDistances is AnchorDistances of a hole, with what the limits say instead.
func (l Limits) anchorDistances(surface wall.Surface, h scatter.Hole) (edge, spacing float64) {
	edge, spacing = AnchorDistances(surface, l.holds(h), h.Bit, h.Depth)
	if spacing == 0 {
		return 0, 0
	}
	if l.AnchorEdge > 0 {
		edge = l.AnchorEdge
	}
	if l.AnchorSpacing > 0 {
		spacing = l.AnchorSpacing
	}
	return edge, spacing
}

// An anchor is one hole in masonry.
type anchor struct {
	piece, hole   int // index of the piece, and of the hole in it
	at            plane.Point
	edge, spacing float64
}

// anchors counts holes in masonry that are near to an edge, an opening, or one another.
func (g gathering) anchors(pieces []scatter.Piece, kinds []scatter.Kind, limits Limits) {
	byFace := make([][]anchor, len(g.site.Faces))
	for i, p := range pieces {
		surface := g.site.Room.Walls[g.site.Faces[p.Face].Wall].Surface
		for h, hole := range kinds[p.Kind].Holes {
			if edge, spacing := limits.anchorDistances(surface, hole); spacing > 0 {
				byFace[p.Face] = append(byFace[p.Face], anchor{i, h, p.HoleAt(kinds, h), edge, spacing})
			}
		}
	}
	for face, all := range byFace {
		close := crowdedAnchors(all)
		for i, a := range all {
			p := pieces[a.piece]
			if g.offEdge(face, a.at) < a.edge {
				g.add(g.onFace(p, Note, "anchor-edge", "holes are so near to an edge, a corner or an opening that the masonry can break out there",
					"read on the packet how far the fixing has to be from an edge in this masonry, and drill without hammer", anchorSource), "", p, a.hole)
			}
			if close[i] {
				g.add(g.onFace(p, Note, "anchor-spacing", fmt.Sprintf("holes are nearer to one another than anchors in %s usually are", g.site.Room.Walls[g.site.Faces[face].Wall].Surface),
					"read on the packet how far apart the fixings have to be for their load, or count them as one", anchorSource), "", p, a.hole)
			}
		}
	}
}

// offEdge returns how far a place of a face is from its edge and from the openings in it, in mm.
func (g gathering) offEdge(face int, at plane.Point) float64 {
	near := g.site.Faces[face].Outline.Distance(at)
	for _, o := range g.standingOn(face) {
		if o.Depth < 0 || o.Opening() {
			near = math.Min(near, -plane.RegionOf(o.Shape).Distance(at))
		}
	}
	return near
}

// crowdedAnchors reports for each anchor whether another is nearer than one of the two allows.
func crowdedAnchors(all []anchor) []bool {
	crowded := make([]bool, len(all))
	size := 0.0
	for _, a := range all {
		size = math.Max(size, a.spacing)
	}
	type cell struct{ x, y int }
	of := func(p plane.Point) cell { return cell{int(math.Floor(p.X / size)), int(math.Floor(p.Y / size))} }
	cells := map[cell][]int{}
	for i, a := range all {
		c := of(a.at)
		for x := c.x - 1; x <= c.x+1; x++ {
			for y := c.y - 1; y <= c.y+1; y++ {
				for _, j := range cells[cell{x, y}] {
					if a.at.Distance(all[j].at) < math.Max(a.spacing, all[j].spacing)-0.01 {
						crowded[i], crowded[j] = true, true
					}
				}
			}
		}
		cells[c] = append(cells[c], i)
	}
	return crowded
}

// loads compares what each fixing of p carries with what its packet says.
func (g gathering) loads(p scatter.Piece, kinds []scatter.Kind, limits Limits) {
	k := kinds[p.Kind]
	each := k.Weight / float64(max(len(k.Holes), 1))
	said := func(grams float64) string { return measure.Mass(grams, limits.Units) }
	for i, h := range k.Holes {
		for _, r := range limits.Ratings {
			if r.Fixing != h.Fixing || float64(each*r.Factor) <= r.Holds {
				continue
			}
			g.add(g.onFace(p, Stop, "fixing-load",
				fmt.Sprintf("one %s carries %s of %s, and by the plan it holds %s, which with a factor of %g leaves %s", r.Fixing, said(each), k.Name, said(r.Holds), r.Factor, said(r.Holds/r.Factor)),
				"use a stronger fixing or more of them; a piece that stands out also pulls", "the plan's rating, as read off the packet"), "", p, i)
		}
	}
}

// overhead counts the holes of p that are drilled upwards.
func (g gathering) overhead(p scatter.Piece, kinds []scatter.Kind) {
	if g.site.Faces[p.Face].Frame.Out.Z > -0.5 {
		return
	}
	g.addAll(g.onFace(p, Note, "overhead", "holes are drilled overhead: dust and chips fall into eyes and machine",
		"wear goggles and keep a cup or a collector round the bit, stand below on a platform and not on a ladder's top, and try every fixing before it carries anything over people", "common practice"), "", p, kinds)
}

// deep counts the holes of p that go deeper into a wall that is not of board than cables in the usual
// bands lie.
func (g gathering) deep(p scatter.Piece, kinds []scatter.Kind, limits Limits) {
	on := g.site.Room.Walls[g.site.Faces[p.Face].Wall]
	if on.Surface == wall.Plasterboard || limits.CableDepth <= 0 {
		return
	}
	for i, h := range kinds[p.Kind].Holes {
		if h.Depth > limits.CableDepth {
			g.add(g.onFace(p, Ask, "deep-hole",
				"holes deeper than "+limits.show(limits.CableDepth)+" can reach cables that keep to no band",
				"use a shorter fixing, or have the circuits traced, isolated and proved dead", "BS 7671:2018 regulation 522.6.202(i), as quoted in trade guides"), "", p, i)
		}
	}
}
