package caution

import (
	"wallshoal/scatter"
	"wallshoal/wall"
)

// built counts the holes of p by what of the wall they go into, as far as the plan knows: studs or the
// board between them, joints or the tiles between those.
func (g gathering) built(p scatter.Piece, kinds []scatter.Kind) {
	face := g.site.Faces[p.Face]
	on := g.site.Room.Walls[face.Wall]
	studs, framed := face.Studs()
	joints, jointed := face.Joints()
	for i, h := range kinds[p.Kind].Holes {
		at := p.HoleAt(kinds, i)
		if reason, may := face.MayDrill(at, h.Bit); !may {
			g.add(g.onFace(p, Stop, "off-structure", "a hole "+reason, "move the piece", "the plan"), "", p, i)
		}
		switch {
		case !framed:
		case face.OffStud(at) < h.Bit/2:
			g.add(g.intoStud(p, on, studs), "", p, i)
		case on.Surface == wall.Plasterboard:
			g.add(g.intoBoard(p, on, studs), "", p, i)
		}
		switch {
		case !jointed:
		case joints.Holes == wall.HolesOn && on.Surface != wall.Tile && on.Surface != wall.Glass:
			g.add(g.intoJoint(p), "", p, i)
		}
		if on.Surface == wall.Tile && !(jointed && joints.Holes == wall.HolesOn) {
			g.add(g.intoTile(p), "", p, i)
		}
	}
}

// intoStud speaks of holes that meet a stud. Cables run along studs and through them: near the face
// of one they are to lie behind a plate of steel.
func (g gathering) intoStud(p scatter.Piece, on wall.Wall, studs wall.Studs) subject {
	word := studWord(on)
	todo := "keep to the plan's depth, and stop where the bit meets steel: it may be a plate that guards a cable"
	switch studs.Material {
	case wall.TimberStud:
		todo = "bore for the screw so that the timber does not split, keep to the plan's depth, and stop where the bit meets steel: it may be a plate that guards a cable"
	case wall.SteelStud:
		todo = "use a bit and a screw made for thin steel, turn slowly, and stop as soon as the bit is through: cables run inside steel " + word + "s"
	}
	return g.onFace(p, Note, "in-stud", "holes go into "+word+"s, and cables run beside these and through them", todo,
		"NEC 300.4(A)(1) and (D) for the plates; common practice")
}

// intoBoard speaks of holes beside the studs.
func (g gathering) intoBoard(p scatter.Piece, on wall.Wall, studs wall.Studs) subject {
	todo := "use fixings made for hollow board there, and keep to the load that their packet gives for this board"
	if studs.Holes != wall.HolesOff {
		todo += "; hang heavy pieces on the " + studWord(on) + "s"
	}
	return g.onFace(p, Note, "board-only", "holes go into board alone, beside the "+studWord(on)+"s, and a plain screw pulls out of it", todo, "common practice")
}

// intoJoint speaks of holes in mortar.
func (g gathering) intoJoint(p scatter.Piece) subject {
	return g.onFace(p, Note, "in-joint", "holes go into mortar, which holds less than what it joins, and old mortar can be soft",
		"try one first with more than it has to carry, and where the mortar crumbles use another fixing or drill into the units",
		"common practice")
}

// intoTile speaks of holes in tiles.
func (g gathering) intoTile(p scatter.Piece) subject {
	return g.onFace(p, Note, "in-tile", "tiles crack under a hammering drill, and water gets in behind them where they are holed",
		"start slowly with a bit made for tile and without hammer until it is through, and seal every hole where the wall gets wet",
		"common practice")
}

// studWord returns what the studs of a wall or a ceiling are called.
func studWord(w wall.Wall) string {
	if w.Ceiling {
		return "joist"
	}
	return "stud"
}
