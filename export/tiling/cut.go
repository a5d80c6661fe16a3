package tiling

import (
	"runtime"
	"slices"
	"sync"

	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/wall/plane"
)

// A Cut is a work cut into the sheets of its hole map, printed one way. Cutting takes longer than most of
// what is made of it, so it is made once, by CutOf, and whatever draws the sheets, counts or names them
// takes it. Nothing changes it: several goroutines may use one at once.
type Cut struct {
	work  holemap.Work
	print Print
	Over  bool // sheets of older works, some of which stay
	Faces []CutFace
}

// A CutFace is a face of the site, and the sheets of it.
type CutFace struct {
	elevation.View
	Grids  []grid // the ways in which it is cut, the oldest first; the one where no sheets hang from before
	Tiles  []Tile
	Around plane.Rect // the box about the face and all of its tiles
	Cut    Cutting
	Since  *Change // nil where no sheets hang from before
}

// CutOf cuts a work into the sheets of its hole map.
//
// Older are works on the same walls whose maps were printed the same way and still hang, the oldest first:
// then only sheets whose holes differ are to be printed, see Cut.Revision. Sheets keep the cutting of the
// oldest map that has some on their face. A hole where that has no sheet, or no room for its mark, is on
// a sheet that is added, which is measured, cut all round and laid over the others. The numbers of holes
// must be those of the older maps, see holemap.Map.NumberedAs.
//
// The error says what is wrong with the print or the work.
func CutOf(w holemap.Work, p Print, older ...holemap.Work) (Cut, error) {
	out := Cut{work: w, print: p, Over: len(older) > 0, Faces: make([]CutFace, len(w.Site.Faces))}
	errs := make([]error, len(out.Faces))
	turn := make(chan struct{}, runtime.GOMAXPROCS(0))
	var cutting sync.WaitGroup
	for i := range out.Faces {
		turn <- struct{}{}
		cutting.Go(func() {
			defer func() { <-turn }()
			if out.Over {
				out.Faces[i], errs[i] = revised(w, older, i, p)
			} else {
				out.Faces[i], errs[i] = cutAnew(w, i, p)
			}
		})
	}
	cutting.Wait()
	for _, err := range errs {
		if err != nil {
			return Cut{}, err
		}
	}
	return out, nil
}

// cutAnew cuts a face on which no sheets hang.
func cutAnew(w holemap.Work, face int, p Print) (CutFace, error) {
	v, err := elevation.Look(w, face)
	if err != nil {
		return CutFace{}, err
	}
	if err := cuttable(v, p); err != nil {
		return CutFace{}, err
	}
	g := GridFor(v, p)
	tiles := TilesOf(v, g)
	return CutFace{View: v, Grids: []grid{g}, Tiles: tiles, Around: around(v, tiles), Cut: CuttingOf(v, g, p)}, nil
}

func around(v elevation.View, tiles []Tile) plane.Rect {
	box := v.Bounds
	for _, t := range tiles {
		box = box.Union(t.Cell)
	}
	return box
}

// Work returns the work that is cut.
func (c Cut) Work() holemap.Work { return c.work }

// Print returns how the sheets are printed.
func (c Cut) Print() Print { return c.print }

// Tiles returns the tiles of the face with this index in the site, row by row from the top left. Every
// tile of the grid is there, those without holes too; only those with some are printed. A hole near a seam
// belongs to every printed tile that shows it.
func (c Cut) Tiles(face int) []Tile { return slices.Clone(c.Faces[face].Tiles) }

// Cuttings returns how every face with holes is cut, in the order of the site.
func (c Cut) Cuttings() []Cutting {
	var out []Cutting
	for _, f := range c.Faces {
		if len(f.Holes) > 0 {
			out = append(out, f.Cut)
		}
	}
	return out
}

// Sheets returns how many sheets have holes, key pages not counted.
func (c Cut) Sheets() int {
	n := 0
	for _, f := range c.Cuttings() {
		n += f.Sheets
	}
	return n
}

// Revision returns what becomes of the sheets of older works; it is empty where there are none.
func (c Cut) Revision() Revision {
	var out Revision
	for _, f := range c.Faces {
		if f.Since != nil {
			out.Printed = append(out.Printed, f.Since.Printed...)
			out.Thrown = append(out.Thrown, f.Since.Thrown...)
			out.Staying = append(out.Staying, f.Since.Staying...)
		}
	}
	return out
}
