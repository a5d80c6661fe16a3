package plan

import (
	"fmt"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// StudsSection is what is known of the studs behind a wall, or the joists over a ceiling. What
// stands on the wall has none of them. They are measured to their middles: from the wall's left end,
// or from the floor where they run across; on the back of a screen they are the front's.
//
//	spacing:   from the middle of one to the middle of the next, and
//	first:     the middle of the first; the others follow as far as the wall goes; or
//	at:        a list of the middles, in order
//	width:     as it is seen from before the wall; needed
//	run:       up, or across for joists, battens and rails that run level; up if left out
//	material:  timber or steel
//	holes:     on, for holes in studs only; off, for holes beside studs only; if left out, the studs
//	           are shown and bind nothing
//	keep:      with holes, how far the rim of a hole is to be from the edges of a stud; 0 if left out
type StudsSection = wall.Studs

// JointsSection is what is known of the joints of masonry or tiles in level courses.
//
//	course:  the height of a unit and a joint together; needed
//	length:  of a unit and a joint together; needed
//	width:   of a joint; needed
//	first:   where the middle of an upright joint meets the middle of the level one below it, [x, y]
//	         from the wall's left end and the floor; [0, 0] if left out
//	bond:    half, where every other course is moved by half a unit, or stack; half if left out, and
//	         stack on tile
//	holes:   on, for holes in joints only; off, for holes in units only; if left out, the joints are
//	         shown and bind nothing
//	keep:    with holes, how far the rim of a hole is to be from the edges of the units; 0 if left out
type JointsSection = wall.Joints

// holeEdge reads how far holes keep from edges.
//
//	edge:  of all the wall's faces, and of openings in them; 0 if left out
func (r *reader) holeEdge(v yamlfile.Value, edge float64) float64 {
	if !v.Given() {
		return edge
	}
	m, ok := v.Map("edge")
	if !ok {
		return edge
	}
	return r.length(m.Get("edge"), "a distance from an edge", 0, MaxLength, edge)
}

// rule reads how holes go with studs or joints.
func (r *reader) rule(m yamlfile.Map) (rule wall.HoleRule, keep float64) {
	word, _ := m.Get("holes").ChoiceMeant("a rule for holes", map[string]string{"yes": "on", "true": "on", "no": "off", "false": "off"},
		string(wall.HolesOn), string(wall.HolesOff))
	given := m.Get("keep")
	if given.Given() && !m.Get("holes").Given() {
		given.Fault("is only used with holes", "write holes: on or holes: off, or remove it")
	}
	return wall.HoleRule(word), r.length(given, "a distance to keep", 0, MaxLength, 0)
}

// studs reads what is known of the studs; nil where that is nothing, or cannot be made out.
func (r *reader) studs(v yamlfile.Value) *wall.Studs {
	if !v.Given() {
		return nil
	}
	m, ok := v.Map("spacing", "first", "at", "width", "run", "material", "holes", "keep")
	if !ok {
		return nil
	}
	var s wall.Studs
	s.Width = r.size(m.Get("width").Need("give the width of a stud, like 45"), "a width")
	run, _ := m.Get("run").ChoiceMeant("a way to run", map[string]string{"upright": "up", "vertical": "up", "level": "across", "horizontal": "across"}, "up", "across")
	s.Across = run == "across"
	s.Material, _ = m.Get("material").ChoiceMeant("a material of studs", map[string]string{"wood": wall.TimberStud, "metal": wall.SteelStud}, wall.TimberStud, wall.SteelStud)
	s.Holes, s.Keep = r.rule(m)
	if list := m.Get("at"); list.Given() {
		for _, key := range []string{"spacing", "first"} {
			if v := m.Get(key); v.Given() {
				v.Fault("stands beside at, which says it already", "keep at, or spacing and first")
			}
		}
		if s.At, ok = r.lengths(list); !ok {
			return nil
		}
		return &s
	}
	const fix = "give spacing and first, or a list of middles as at"
	s.Spacing = r.size(m.Get("spacing").Need(fix), "a spacing")
	s.First = r.length(m.Get("first").Need("measure to the middle of the first"), "a place", -MaxLength, MaxLength, 0)
	return &s
}

// lengths reads a list of places along a wall, and reports whether all are good.
func (r *reader) lengths(v yamlfile.Value) ([]float64, bool) {
	items, good := v.List(wall.MaxStuds, "a list of middles, like [215, 615, 1015]")
	if good && len(items) == 0 {
		v.Fault("is empty", "give at least one, like [215, 615, 1015]")
		return nil, false
	}
	var all []float64
	for _, item := range items {
		mm, ok := item.Length("a place", r.units, -MaxLength, MaxLength)
		all, good = append(all, mm), good && ok
	}
	return all, good
}

// joints reads what is known of the joints of a surface; nil where that is nothing.
func (r *reader) joints(v yamlfile.Value, surface wall.Surface) *wall.Joints {
	if !v.Given() {
		return nil
	}
	m, ok := v.Map("course", "length", "width", "first", "bond", "holes", "keep")
	if !ok {
		return nil
	}
	j := wall.Joints{Bond: wall.HalfBond}
	if surface == wall.Tile || surface == wall.Glass {
		j.Bond = wall.StackBond
	}
	j.Course = r.length(m.Get("course").Need("give the height of a unit and a joint together"), "a course", wall.MinUnit, MaxLength, 0)
	j.Length = r.length(m.Get("length").Need("give the length of a unit and a joint together"), "a length of a unit", wall.MinUnit, MaxLength, 0)
	j.Width = r.length(m.Get("width").Need("give the width of a joint, like 10"), "the width of a joint", leastJoint, MaxLength, 0)
	if first := m.Get("first"); first.Given() {
		j.First, _ = r.point(first, -MaxLength, MaxLength)
	}
	if bond, ok := m.Get("bond").ChoiceMeant("a bond", bondWords(), string(wall.HalfBond), string(wall.StackBond)); ok {
		j.Bond = wall.Bond(bond)
	}
	j.Holes, j.Keep = r.rule(m)
	return &j
}

// leastJoint is how wide a joint is at least, mm.
const leastJoint = 0.1

// bondWords returns other words for bonds, and which of ours they mean.
func bondWords() map[string]string {
	return map[string]string{
		"running": string(wall.HalfBond), "stretcher": string(wall.HalfBond), "brick": string(wall.HalfBond),
		"stacked": string(wall.StackBond), "grid": string(wall.StackBond), "straight": string(wall.StackBond),
	}
}

// bits complains of a bit that is too wide for where holes may be on every wall. What stands on a
// wall is built of itself, and takes any.
func (r *reader) bits(room wall.Room, kinds []scatter.Kind) {
	if r.file.Faulty("room") {
		return
	}
	for _, k := range kinds {
		for _, h := range k.Holes {
			field, what, refused := refusal(room, h.Bit)
			if refused {
				r.file.Fault(field, fmt.Sprintf("the %s leave no room for the bit of %s that %s needs, and no other wall does", what, r.show(h.Bit), k.Name),
					"use a finer bit, keep less, or let holes be elsewhere")
				return
			}
		}
	}
}

// refusal returns which part of the plan first refuses a bit that none of the walls takes, and reports
// whether none does.
func refusal(room wall.Room, bit float64) (field, what string, refused bool) {
	walls := room.Walls
	if room.Ceiling != nil {
		walls = append(walls[:len(walls):len(walls)], *room.Ceiling)
	}
	for i, w := range walls {
		for _, o := range w.Obstructions {
			if len(o.Use) > 0 {
				return "", "", false
			}
		}
		if w.Bare {
			continue
		}
		by, ok := w.TakesBit(bit)
		if ok {
			return "", "", false
		}
		if field == "" {
			field, what = fmt.Sprintf("room.walls[%d].%s.holes", i, by), by
			if i == len(room.Walls) {
				field = "room.ceiling." + by + ".holes"
			}
		}
	}
	return field, what, field != ""
}
