package caution

import (
	"fmt"
	"math"

	"wallshoal/scatter"
	"wallshoal/wall"
)

// solid returns how much wall there is behind a face that runs along its wall, in mm, and whether that is
// known: the wall is as thick as the plan says, a front is before it and the back of a recess within it.
func (g gathering) solid(face int) (mm float64, known bool) {
	f := g.site.Faces[face]
	w := g.site.Room.Walls[f.Wall]
	mm = w.Through()
	if mm <= 0 {
		return 0, false
	}
	if f.IsWall() || f.IsBack() {
		if w.Alone != nil && w.Alone.Back {
			mm /= 2 // holes are drilled from both sides
		}
		return mm, true
	}
	for _, own := range g.site.Faces {
		if own.Wall == f.Wall && own.IsWall() {
			_, off := own.Frame.Local(f.Frame.Origin)
			return math.Max(mm+off, 0), f.Frame.Out.Dot(own.Frame.Out) > 0.999
		}
	}
	return 0, false
}

// comesThrough counts the holes of p that come out behind the wall, that end so near to its other side
// that they may break it or meet what is fixed there, or that may meet one drilled from that side.
func (g gathering) comesThrough(p scatter.Piece, kinds []scatter.Kind, limits Limits) {
	room, known := g.solid(p.Face)
	if !known {
		return
	}
	w := g.site.Room.Walls[g.site.Faces[p.Face].Wall]
	thick := limits.length(room, fmt.Sprintf("%.1f mm", room))
	what, todo, source := "holes deeper than "+thick+" come out behind, or meet those drilled from the other side",
		"use a shorter fixing, and a stop on the bit", "the plan's thickness; half of it where both sides carry pieces"
	near := subject{}
	if w.Alone == nil {
		source = "the plan's thickness; common practice"
		what = "holes deeper than " + thick + " come out on the other side" + through(w.Behind)
		todo = "use a shorter fixing, and a stop on the bit; see who and what is on the other side before the first hole"
		near = g.onFace(p, Ask, "comes-through",
			"holes leave less than "+limits.show(limits.FarCover)+" of the "+thick+" of wall here: its other side can break out, and what is fixed there can be met",
			todo, source)
	}
	s := g.onFace(p, Ask, "comes-through", what, todo, source)
	for i, h := range kinds[p.Kind].Holes {
		switch {
		case h.Depth > room:
			g.add(s, "", p, i)
		case w.Alone == nil && h.Depth > room-limits.FarCover:
			g.add(near, "", p, i)
		}
	}
}

// through says what a hole does that comes out behind the wall.
func through(b wall.Behind) string {
	switch b {
	case wall.BehindWet:
		return ", through tiles and what keeps the water out"
	case wall.BehindOutside:
		return ", and let the weather in"
	case wall.BehindPlant:
		return ", where pipes, ducts and cables run along the wall"
	}
	return ""
}

// behind speaks of what lies on the other side of a wall, where the plan says so.
func (g gathering) behind(w int, on []scatter.Piece, _ []scatter.Kind, limits Limits) (subject, bool) {
	at := g.site.Room.Walls[w]
	s := subject{severity: Ask, code: "behind", source: "the plan; common practice"}
	const ask = "ask for drawings, look at the other side, and say in the plan what is there"
	switch {
	case at.Behind == wall.BehindWet:
		s.what, s.todo = "a wet room lies behind: pipes run in such a wall, and a hole that comes through lets water into it", "find out where pipes and the waterproof layer lie, and set a stop on the bit"
	case at.Behind == wall.BehindPlant:
		s.what, s.todo = "a plant room lies behind: pipes, ducts and cables are fixed to such a wall and go through it", "ask whoever looks after the plant what is on the wall and in it, and see it before the first hole"
	case at.Behind == wall.BehindUnknown:
		s.what, s.todo = "nobody knows what lies behind this wall", ask
	case at.Behind == wall.BehindOutside:
		s.severity = Note
		s.what, s.todo = "outside lies behind: lamps, cables and pipes are fixed there and go through, and there can be a layer inside that keeps damp out", "look at the other side, set a stop on the bit, and seal every hole"
	case at.Behind == wall.BehindRoom && at.Thin(g.site.Room.Rules) && len(at.FarSide) == 0:
		s.what = "a room lies behind, and this wall is only " + limits.length(at.Through(), fmt.Sprintf("%.0f mm", at.Through())) + " thick: cables to its switches and sockets run in it too, and what hangs there is fixed into it"
		s.todo = ask
		s.source = "BS 7671:2018 regulation 522.6.202(i), as a trade guide has it; other countries differ"
	}
	return s, s.what != "" && len(on) > 0
}

// glass counts all holes of p in glass.
func (g gathering) glass(p scatter.Piece, kinds []scatter.Kind) {
	if g.site.Room.Walls[g.site.Faces[p.Face].Wall].Surface != wall.Glass {
		return
	}
	g.addAll(g.onFace(p, Ask, "glass",
		"glass shatters: toughened glass bursts when it is drilled, panes are weak near their edges and near other holes, and a laminated, insulating or fire-rated pane is spoilt by a hole",
		"ask a glazier what this glass is and whether it may be drilled at all, or fix without holes; where it may, drill wet with a bit made for glass, without hammer and slowly, in gloves and a visor, with nobody near and the pieces of a break caught",
		"common practice; ask the glazier"), "", p, kinds)
}
