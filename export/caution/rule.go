package caution

import (
	"fmt"
	"slices"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/measure"
)

// noSurface counts the holes of p that fall where there is no wall to drill, and reports whether
// there are any.
func (g gathering) noSurface(p scatter.Piece, kinds []scatter.Kind) bool {
	face := g.site.Faces[p.Face]
	off := g.onFace(p, Stop, "off-face", "a hole falls beyond the edge of the wall",
		"move the piece", "the measured outline")
	on := g.onFace(p, Stop, "on-obstruction", "a hole falls on something that stands on the wall",
		"move the piece", "the plan")
	found := false
	for i := range kinds[p.Kind].Holes {
		at := p.HoleAt(kinds, i)
		if !face.Outline.Contains(at) {
			g.add(off, "", p, i)
			found = true
		}
		for _, o := range g.standingOn(p.Face) {
			if o.Shape.Contains(at) {
				g.add(on, o.Name, p, i)
				found = true
			}
		}
	}
	return found
}

// standingOn returns what stands on the face or is let into it, found once for all the pieces there.
// Cables and pipes are left out: they have zones that say how near to them may be drilled.
func (g gathering) standingOn(face int) []wall.Obstruction {
	on, known := g.things[face]
	if !known {
		on = slices.DeleteFunc(g.site.On(face), func(o wall.Obstruction) bool {
			return o.Kind == wall.Cable || o.Kind == wall.Pipe
		})
		g.things[face] = on
	}
	return on
}

// notFree counts p where it reaches over the edge of what is free for any piece. Only a piece that
// a person put there does.
func (g gathering) notFree(p scatter.Piece, kinds []scatter.Kind) {
	if g.freeOn(p.Face).Holds(p.Outline(kinds)) {
		return
	}
	g.addAll(g.onFace(p, Ask, "not-free",
		"a piece reaches into an edge margin, or into the clearance of something on the wall",
		"move the piece, or make sure that it may hang there",
		"the plan's margins and clearances"), "", p, kinds)
}

// depths counts the holes of p that go so deep into a board wall, or into a known stud under another
// lining, that they may reach a cable which was run through the studs as it should be.
func (g gathering) depths(p scatter.Piece, kinds []scatter.Kind, limits Limits) {
	face := g.site.Faces[p.Face]
	board := g.site.Room.Walls[face.Wall].Surface == wall.Plasterboard
	if _, framed := face.Studs(); !board && !framed {
		return
	}
	deepest := limits.BoardDepth()
	s := g.onFace(p, Ask, "deep-in-board",
		fmt.Sprintf("holes deeper than %s can reach cables that run through or along the studs, %s behind the face of a stud under %s of board or lining",
			limits.length(deepest, fmt.Sprintf("%.1f mm", deepest)), limits.show(limits.StudCover), limits.show(limits.BoardCover)),
		"use a shorter fixing, or have the cables traced",
		"NEC 300.4(A)(1) and (D): 1-1/4 in from the face of a stud, or a plate of steel over it; the board is the plan's, or 1/2 in")
	for i, h := range kinds[p.Kind].Holes {
		if h.Depth > deepest && (board || face.OffStud(p.HoleAt(kinds, i)) < h.Bit/2) {
			g.add(s, "", p, i)
		}
	}
}

// A rule says what is true of one wall, given the pieces on it, and whether it is.
type rule func(w int, on []scatter.Piece, kinds []scatter.Kind, limits Limits) (subject, bool)

// ofWall counts what is true of everything on one wall.
func (g gathering) ofWall(w int, on []scatter.Piece, kinds []scatter.Kind, limits Limits) {
	for _, rule := range []rule{g.combustible, g.behind, g.hiddenServices, g.oldFinishes, g.dust, g.weight} {
		s, applies := rule(w, on, kinds, limits)
		if !applies {
			continue
		}
		s.wall, s.face = w, wholeWall
		for _, p := range on {
			if s.code != codeCombustible || kinds[p.Kind].Combustible {
				g.addAll(s, "", p, kinds)
			}
		}
	}
}

const codeCombustible = "combustible-share"

// combustible compares what the pieces that burn cover with the part of a wall they may cover.
func (g gathering) combustible(w int, on []scatter.Piece, kinds []scatter.Kind, limits Limits) (subject, bool) {
	share := g.share(w, on, kinds, limits)
	return subject{
		severity: Ask,
		code:     codeCombustible,
		what: fmt.Sprintf("pieces that burn cover %.1f %% of this wall, and %.1f %% is the limit set here; some codes allow 20 %% for paper fixed flat to it, and more in a sprinklered building",
			100*share.Of(), 100*share.Limit),
		todo:   "ask the fire authority or building control which limit holds here, or treat or leave out some of the pieces",
		source: "IBC 2021 §806.2 (10 %); NFPA Journal, September/October 2012, p. 38 (20 %, paper attached directly to the wall)",
	}, !share.Kept()
}

// hiddenServices speaks of every wall that is drilled: no drawing shows all that lies behind.
func (g gathering) hiddenServices(_ int, on []scatter.Piece, _ []scatter.Kind, _ Limits) (subject, bool) {
	return subject{
		severity: Ask,
		code:     "hidden-services",
		what:     "cables and pipes can lie anywhere behind a surface, outside the usual bands too, and older work may follow no rule",
		todo:     "have the circuits isolated and proved dead, sweep the wall with a detector before the first hole, ask for drawings of what runs in it, and stop where anything is found",
		source:   "BS 7671:2018 regulation 522.6.202(i), as quoted in trade guides",
	}, len(on) > 0
}

// oldFinishes speaks of every wall that is drilled, because nothing tells how old its finish is.
func (g gathering) oldFinishes(_ int, on []scatter.Piece, _ []scatter.Kind, _ Limits) (subject, bool) {
	return subject{
		severity: Ask,
		code:     "old-finishes",
		what:     "old paint can hold lead, and old plaster, insulating board and textured coatings can hold asbestos",
		todo:     "find out the age of the finish and ask for the asbestos register or a survey before any hole; where nobody knows, have it tested, and do not drill or sand it meanwhile",
		source:   "HSE L143, 2nd edition (Control of Asbestos Regulations 2012, regulation 4) and HSE task sheets A1 and A26; US EPA, FQ 23002-14867 (small holes in plaster disturb its paint)",
	}, len(on) > 0
}

// dust speaks of the surfaces that turn into fine mineral dust under a bit.
func (g gathering) dust(w int, on []scatter.Piece, _ []scatter.Kind, _ Limits) (subject, bool) {
	surface := g.site.Room.Walls[w].Surface
	return subject{
		severity: Note,
		code:     "mineral-dust",
		what:     fmt.Sprintf("drilling %s makes fine dust that harms the lungs", surface),
		todo:     "drill with a shroud or cowling and a dust collector at the bit, and clean the holes with a HEPA vacuum cleaner instead of blowing them out",
		source:   "29 CFR 1926.1153, Table 1 (vii), and the OSHA fact sheet on it",
	}, len(on) > 0 && surface.Dusty()
}

// weight gives the sums that a person compares with the packet of the fixings.
func (g gathering) weight(_ int, on []scatter.Piece, kinds []scatter.Kind, limits Limits) (subject, bool) {
	var sum, most float64
	var heaviest scatter.Kind
	var unknown []string
	for _, p := range on {
		k := kinds[p.Kind]
		if k.Weight <= 0 {
			unknown = append(unknown, k.Name)
			continue
		}
		sum += k.Weight
		if each := k.Weight / float64(max(len(k.Holes), 1)); each > most {
			most, heaviest = each, k
		}
	}
	slices.Sort(unknown)
	unknown = slices.Compact(unknown)
	const compare = "compare it with the packet of the fixing for this very surface; figures on packets are often those at which it fails, so keep to a quarter of them or less"
	weighed := subject{severity: Note, code: "weight", source: "common practice"}
	if sum == 0 {
		weighed.what = "the plan gives no weight for the pieces on this wall"
		weighed.todo = "weigh one of each kind, share its weight among its fixings, and " + compare
		return weighed, len(on) > 0
	}
	without := ""
	if len(unknown) > 0 {
		without = ", without " + list(unknown) + ", whose weight is not given"
	}
	weighed.what = fmt.Sprintf("the pieces on this wall weigh %s in all%s; the most that one fixing carries, if all of a piece's fixings share alike, is %s (%s)",
		measure.Mass(sum, limits.Units), without, measure.Mass(most, limits.Units), heaviest.Name)
	weighed.todo = compare
	return weighed, true
}
