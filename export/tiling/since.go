package tiling

import (
	"errors"
	"slices"

	"wallshoal/export/elevation"
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

// A Change is what becomes of the sheets of one face.
type Change struct {
	Printed, Thrown, Staying []Marked
	replaced                 map[string]Marked // what a sheet printed anew replaces, by name
}

// revised returns a face with the sheets of all of its maps, one after the other, taken into account.
func revised(w holemap.Work, older []holemap.Work, face int, p Print) (CutFace, error) {
	var hanging []Marked
	var f CutFace
	for _, o := range append(slices.Clip(older), w) {
		v, err := elevation.Look(o, face)
		if err != nil {
			return CutFace{}, err
		}
		if err := cuttable(v, p); err != nil {
			return CutFace{}, err
		}
		grids, tiles := onto(v, f.Grids, f.Holes, p)
		f = CutFace{View: v, Grids: grids, Tiles: tiles, Around: around(v, tiles), Since: compare(v, hanging, tiles, p)}
		if len(grids) > 0 {
			f.Cut = Cutting{Face: face, Landscape: grids[0].landscape}
		}
		hanging = f.Since.hanging(tiles)
	}
	return f, nil
}

// onto returns the sheets of a face by the ways in which it was cut before, with one more where some
// holes have no place on them: a hole belongs to the first that has a sheet for it. One that is not among
// those drilled before needs room for its mark as well.
func onto(v elevation.View, grids []grid, before []holemap.Hole, p Print) ([]grid, []Tile) {
	old := map[plane.Point]bool{}
	for _, h := range before {
		old[h.At] = true
	}
	rest, sheets := v.Holes, 0
	var tiles []Tile
	for _, g := range grids {
		own, others := v, v
		own.Holes, others.Holes = nil, nil
		for _, h := range rest {
			if _, found := g.cellOf(h.At); found {
				own.Holes = append(own.Holes, h)
			} else {
				others.Holes = append(others.Holes, h)
			}
		}
		printed, _ := Printed(own, g)
		for _, h := range own.Holes {
			if _, lost := g.Seam(h, printed); lost && !old[h.At] {
				others.Holes = append(others.Holes, h)
			}
		}
		rest = others.Holes
		tiles = append(tiles, cells(own, g)...)
		sheets = max(sheets, g.added+g.tiles()-1)
	}
	if len(rest) == 0 {
		return grids, tiles
	}
	own := v
	own.Holes = rest
	g := GridFor(own, p)
	if len(grids) > 0 {
		if close := gridFrom(own, p, func(format) grid { return grid{} }); len(close.Rows) > 0 {
			g = close
		}
		g.added = 1
		if last := grids[len(grids)-1]; last.added > 0 {
			g.added = last.added + last.tiles()
		}
	}
	return append(slices.Clip(grids), g), append(tiles, cells(own, g)...)
}

// cells returns the tiles of a grid; of one that was added only those that have holes.
func cells(v elevation.View, g grid) []Tile {
	tiles := TilesOf(v, g)
	if g.added > 0 {
		tiles = slices.DeleteFunc(tiles, func(t Tile) bool { return len(t.Holes) == 0 })
	}
	return tiles
}

// compare says what becomes of sheets that hang or were printed, now that there are these tiles.
func compare(v elevation.View, hanging []Marked, tiles []Tile, p Print) *Change {
	byName := map[string]Marked{}
	for _, m := range hanging {
		byName[m.Name] = m
	}
	out := &Change{replaced: map[string]Marked{}}
	for _, t := range tiles {
		if len(t.Holes) == 0 {
			continue
		}
		m := Marked{Face: v.Index, Name: t.Name, Mark: OwnMark(v, t, p.Mirror), Fingerprint: v.Work.Map.Fingerprint}
		was, is := byName[t.Name]
		delete(byName, t.Name)
		switch {
		case !is:
			out.Printed = append(out.Printed, m)
		case was.Mark == m.Mark:
			out.Staying = append(out.Staying, was)
		default:
			out.Printed, out.Thrown = append(out.Printed, m), append(out.Thrown, was)
			out.replaced[t.Name] = was
		}
	}
	for _, m := range hanging {
		if _, left := byName[m.Name]; left {
			out.Thrown = append(out.Thrown, m)
		}
	}
	return out
}

// hanging returns all that belongs on the face after the change.
func (s *Change) hanging(tiles []Tile) []Marked {
	all := slices.Concat(s.Staying, s.Printed)
	var out []Marked
	for _, t := range tiles {
		if i := slices.IndexFunc(all, func(m Marked) bool { return m.Name == t.Name }); i >= 0 {
			out = append(out, all[i])
		}
	}
	return out
}

// Prints reports whether a tile is printed; all are where there is no older map.
func (s *Change) Prints(t Tile) bool {
	if len(t.Holes) == 0 {
		return false
	}
	return s == nil || slices.ContainsFunc(s.Printed, func(m Marked) bool { return m.Name == t.Name })
}

// Notice says on a sheet that is printed what it is to older ones.
func (s *Change) Notice(t Tile) string {
	if s == nil {
		return ""
	}
	if was, is := s.replaced[t.Name]; is {
		return "REPLACES " + was.String()
	}
	return "ADDED to older sheets"
}
