package sheet

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/holemap"
	"wallshoal/wall/plane"
)

// ErrNoChange is returned where every sheet of the older map stays as it is.
var ErrNoChange = errors.New("no sheet differs from those printed before")

// A Marked is one sheet as it is told from all others: by its name, the mark of what is drilled on it,
// and the fingerprint of the layout that it was printed of.
type Marked struct {
	Face                    int // index into the faces of the site
	Name, Mark, Fingerprint string
}

// String returns the name and the mark.
func (m Marked) String() string { return m.Name + " " + m.Mark }

// A Revision says what becomes of the sheets of older maps, each list in the order of the faces and of
// their sheets.
type Revision struct {
	Printed []Marked // anew
	Thrown  []Marked // sheets of older maps that no longer belong on the wall
	Staying []Marked // sheets of older maps that do
}

// A change is what becomes of the sheets of one face.
type change struct {
	printed, thrown, staying []Marked
	replaced                 map[string]Marked // what a sheet printed anew replaces, by name
}

// revised returns a face with the sheets of all of its maps, one after the other, taken into account.
func revised(w holemap.Work, older []holemap.Work, face int, p Print) (cutFace, error) {
	var hanging []Marked
	var f cutFace
	for _, o := range append(slices.Clip(older), w) {
		v, err := look(o, face)
		if err != nil {
			return cutFace{}, err
		}
		if err := v.cuttable(p); err != nil {
			return cutFace{}, err
		}
		grids, tiles := v.onto(f.grids, f.holes, p)
		f = cutFace{view: v, grids: grids, tiles: tiles, around: v.around(tiles), since: v.compare(hanging, tiles, p)}
		if len(grids) > 0 {
			f.cut = Cutting{Face: face, Landscape: grids[0].landscape}
		}
		hanging = f.since.hanging(tiles)
	}
	return f, nil
}

// onto returns the sheets of a face by the ways in which it was cut before, with one more where some
// holes have no place on them: a hole belongs to the first that has a sheet for it. One that is not among
// those drilled before needs room for its mark as well.
func (v view) onto(grids []grid, before []holemap.Hole, p Print) ([]grid, []Tile) {
	old := map[plane.Point]bool{}
	for _, h := range before {
		old[h.At] = true
	}
	rest, sheets := v.holes, 0
	var tiles []Tile
	for _, g := range grids {
		own, others := v, v
		own.holes, others.holes = nil, nil
		for _, h := range rest {
			if _, found := g.cellOf(h.At); found {
				own.holes = append(own.holes, h)
			} else {
				others.holes = append(others.holes, h)
			}
		}
		printed, _ := own.printed(g)
		for _, h := range own.holes {
			if _, lost := g.seam(h, printed); lost && !old[h.At] {
				others.holes = append(others.holes, h)
			}
		}
		rest = others.holes
		tiles = append(tiles, own.cells(g)...)
		sheets = max(sheets, g.added+g.tiles()-1)
	}
	if len(rest) == 0 {
		return grids, tiles
	}
	own := v
	own.holes = rest
	g := own.grid(p)
	if len(grids) > 0 {
		if close := own.gridFrom(p, func(format) grid { return grid{} }); len(close.rows) > 0 {
			g = close
		}
		g.added = 1
		if last := grids[len(grids)-1]; last.added > 0 {
			g.added = last.added + last.tiles()
		}
	}
	return append(slices.Clip(grids), g), append(tiles, own.cells(g)...)
}

// cells returns the tiles of a grid; of one that was added only those that have holes.
func (v view) cells(g grid) []Tile {
	tiles := v.tilesOf(g)
	if g.added > 0 {
		tiles = slices.DeleteFunc(tiles, func(t Tile) bool { return len(t.Holes) == 0 })
	}
	return tiles
}

// compare says what becomes of sheets that hang or were printed, now that there are these tiles.
func (v view) compare(hanging []Marked, tiles []Tile, p Print) *change {
	byName := map[string]Marked{}
	for _, m := range hanging {
		byName[m.Name] = m
	}
	out := &change{replaced: map[string]Marked{}}
	for _, t := range tiles {
		if len(t.Holes) == 0 {
			continue
		}
		m := Marked{Face: v.index, Name: t.Name, Mark: v.ownMark(t, p.Mirror), Fingerprint: v.work.Map.Fingerprint}
		was, is := byName[t.Name]
		delete(byName, t.Name)
		switch {
		case !is:
			out.printed = append(out.printed, m)
		case was.Mark == m.Mark:
			out.staying = append(out.staying, was)
		default:
			out.printed, out.thrown = append(out.printed, m), append(out.thrown, was)
			out.replaced[t.Name] = was
		}
	}
	for _, m := range hanging {
		if _, left := byName[m.Name]; left {
			out.thrown = append(out.thrown, m)
		}
	}
	return out
}

// hanging returns all that belongs on the face after the change.
func (s *change) hanging(tiles []Tile) []Marked {
	all := slices.Concat(s.staying, s.printed)
	var out []Marked
	for _, t := range tiles {
		if i := slices.IndexFunc(all, func(m Marked) bool { return m.Name == t.Name }); i >= 0 {
			out = append(out, all[i])
		}
	}
	return out
}

// prints reports whether a tile is printed; all are where there is no older map.
func (s *change) prints(t Tile) bool {
	if len(t.Holes) == 0 {
		return false
	}
	return s == nil || slices.ContainsFunc(s.printed, func(m Marked) bool { return m.Name == t.Name })
}

// notice says on a sheet that is printed what it is to older ones.
func (s *change) notice(t Tile) string {
	if s == nil {
		return ""
	}
	if was, is := s.replaced[t.Name]; is {
		return "REPLACES " + was.String()
	}
	return "ADDED to older sheets"
}

// sinceBlock says which sheets are printed, which are thrown away, and which stay.
func (k *keyPage) sinceBlock() block {
	if k.faces[0].since == nil {
		return block{}
	}
	var all change
	var added []string
	for _, f := range k.faces {
		all.printed = append(all.printed, f.since.printed...)
		all.thrown = append(all.thrown, f.since.thrown...)
		all.staying = append(all.staying, f.since.staying...)
		for _, t := range f.tiles {
			if t.added {
				added = append(added, t.Name)
			}
		}
	}
	var items []item
	add := func(lead, text string, marked []Marked) {
		if len(marked) > 0 {
			items = append(items, item{lead, text + listed(marked) + "."})
		}
	}
	add("", "Throw away, before anything is hung: ", all.thrown)
	add("", fmt.Sprintf("New, with the fingerprint %s: ", k.first().work.Map.Fingerprint), all.printed)
	for len(all.staying) > 0 {
		print := all.staying[0].Fingerprint
		of := func(m Marked) bool { return m.Fingerprint == print }
		add("", fmt.Sprintf("These stay, with the fingerprint %s: ", print), slices.DeleteFunc(slices.Clone(all.staying), func(m Marked) bool { return !of(m) }))
		all.staying = slices.DeleteFunc(all.staying, of)
	}
	if len(added) > 0 {
		items = append(items, item{"", strings.Join(added, ", ") + ": measure it, cut it along its frame on all four sides, and lay it over the others, last. It shows every hole that it covers."})
	}
	return block{heading: "Which sheets belong on this wall", items: append(items, item{"!", "Only these do, by name and mark. A sheet that is not in these lists, whatever its fingerprint, is of another layout."})}
}

// listed lists sheets by name and mark.
func listed(all []Marked) string {
	var out []string
	for _, m := range all {
		out = append(out, m.String())
	}
	return strings.Join(out, ", ")
}
