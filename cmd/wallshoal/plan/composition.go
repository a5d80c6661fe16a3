package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/scatter/mixing"
	"wallshoal/wall"
)

// CompositionSection is what the artist asks for.
//
//	count:    pieces in all; needed, unless every kind of piece has a count or the density a base
//	spacing:  least distance between the centres of two pieces, measured in the room; needed
//	gap:      least distance between the outlines of two pieces; 5 mm if left out
//	overlap:  in place of a gap, the share of a piece's outline that another may cover, like 20 % or
//	          0.2
//	density:  how dense the work is where, see DensitySection; evenly if left out
//	flow:     a list of currents that are added up, see CurrentSection; a sweep to the right if left
//	          out
//	part:     true for the flow to go round what is in the way on each face; false if left out
//	spread:   how far headings stray from the flow: their circular standard deviation, in degrees; 12
//	          if left out
//	strays:   share of the pieces that head anywhere, like 5 % or 0.05; none if left out
//	second:   a second direction, see SecondSection; none if left out
//	differ:   a piece's heading is to differ from those of its nearest few by so many degrees, where
//	          the spread has such; 0 if left out
//	mix:      see MixSection; scattered if left out
//	seating:  see SeatingSection
type CompositionSection = scatter.Composition

const defaultGap = 5 // mm

// composition reads what is asked for and checks it against the room and the kinds.
func (r *reader) composition(v yamlfile.Value, room wall.Room, kinds []scatter.Kind) scatter.Composition {
	m, ok := v.Map("count", "spacing", "gap", "overlap", "density", "flow", "part", "spread", "strays", "second", "differ", "mix", "seating")
	if !ok {
		return scatter.Composition{}
	}
	var c scatter.Composition
	dense, ok := m.Get("density").Map(densityKeys...)
	c.Count = r.count(m.Get("count"), dense.Get("base"), kinds)
	c.Spacing = r.size(m.Get("spacing").Need("give the least distance between the centres of two pieces"), "a spacing")
	c.Overlap, c.Gap = r.overlap(m)
	c.Headings = r.headings(m)
	c.Mixing = r.mixing(m.Get("mix"))
	c.Seating = r.seating(m.Get("seating"), c.Overlap)
	stage := r.stage(room)
	c.Flow = stage.flow(m.Get("flow"))
	if c.Mixing.Way == mixing.Drifting {
		stage.leads(m.Get("mix"), c.Flow)
	}
	if ok {
		c.Density = stage.density(dense, c.Count, c.Flow)
	}
	c.Part, _ = m.Get("part").Bool()
	if r.file.Faulty("pieces") {
		kinds = nil
	}
	r.judge(c.Check(kinds, r.units))
	return c
}

// count reads the number of pieces, which kinds that all have a count give as well. It is 0 where the
// density has a base, which says it then.
func (r *reader) count(v, base yamlfile.Value, kinds []scatter.Kind) int {
	sum, all := 0, len(kinds) > 0
	for _, k := range kinds {
		sum += k.Count
		all = all && k.Share == 0
	}
	if !v.Given() && all && sum > 0 {
		return sum
	}
	if !v.Given() && base.Given() {
		return 0
	}
	n, _ := v.Need("say how many pieces there are to be").Whole("a number of pieces", 1, MaxPieces)
	return n
}
