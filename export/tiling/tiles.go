// Package tiling cuts faces into the sheets of the full-size hole map: as few as will do, with few holes near a
// seam. It draws nothing.
package tiling

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/wall/plane"
)

// A Tile is one sheet of the full-size hole map: its place in the grid of its face, and where the
// face comes to lie on the paper. The face is cut into rows, lettered from the top, and each row into
// sheets of its own, numbered from the left, where that takes the fewest sheets and leaves the fewest
// holes near a seam. So cells differ in size, do not stand one under the other, and leave parts of
// the face without holes between them.
//
// A sheet is cut along the left and the top of its cell, and laid over the sheets to its left and
// above it, which show more than their cells to the right and below. So where cells touch every cut
// edge comes to lie on a landing line. The sheets of a row start at one line, but for those that start a
// little above or below it so as to keep clear of a hole; their cells may reach into those above them,
// never to a hole of theirs.
type Tile struct {
	Name        string     // row letter and column number, after the face's number where several faces carry pieces
	Face        int        // index into the faces of the site
	Row, Column int        // from 0 at the top left
	Cell        plane.Rect // the tile's own part of the face; its corners bear the register marks, inside the edge of the face
	Area        plane.Rect // all that it shows: the cell, and the overlap to its right and below it, as far as the face goes
	Frame       plane.Rect // where Area lies on the page, y downwards
	Sheet       draw.Size  // of paper, mm of the drawing: where a printer is corrected for, not quite those of the page
	Holes       []int      // indices into the holes of the map, in Area; none where the tile is left out for having none in its cell

	Marks []plane.Point // of the face, where register marks stand: the corners of the cell that others share, and what of theirs lies on its edges

	Left, Right  Neighbour
	Above, Below []Neighbour // from the left

	EndsRight, EndsBelow bool       // the face ends there, and the paper with it
	marked               plane.Rect // the cell, without what lies close to where the face ends: its corners bear the register marks
	Body                 plane.Rect // on the page, the frame, and below and beside it what the check bars and the foot need

	Clear []plane.Point // corners of the cell with no cross and no other mark close by

	Added  bool  // to older sheets: it lies over the others
	Pieces []int // indices into the pieces of the view, in Area
	Beyond []int // indices into the holes of the map, not in Area, whose marks reach into it
}

// A Neighbour is the tile beside another.
type Neighbour struct {
	Name     string  // empty where no cell follows on this one
	Printed  bool    // it has holes
	From, To float64 // what both cells share from left to right on the face, mm; of use above and below
	Edge     float64 // where the sheet below starts on the face, mm; of use above and below
}

// ToPage returns where a point of the face lies on the page, in mm from its top-left corner, y
// downwards.
func (t Tile) ToPage(p plane.Point) plane.Point { return t.Mapping().At(p) }

// ToFace returns the point of the face that lies at a point of the page.
func (t Tile) ToFace(p plane.Point) plane.Point {
	o := t.Mapping().Origin
	return plane.Point{X: p.X - o.X, Y: o.Y - p.Y}
}

// Mapping returns how the face lies on the page, at full size.
func (t Tile) Mapping() drafting.Mapping {
	return drafting.Mapping{K: 1, Origin: plane.Point{X: t.Frame.Min.X - t.Area.Min.X, Y: t.Frame.Max.Y + t.Area.Min.Y}}
}

// mostTiles is the most tiles that one face is cut into, printed or not.
const mostTiles = 1_000_000

// cuttable says what keeps the face from being cut into tiles for the print.
func cuttable(v elevation.View, p Print) error {
	if problems := p.Problems(); len(problems) > 0 {
		errs := make([]error, len(problems))
		for i, problem := range problems {
			errs[i] = problem
		}
		return errors.Join(errs...)
	}
	for _, f := range p.formats() {
		x, y := f.pitch(v.Work.Units)
		if n := math.Ceil(v.Bounds.Width()/x) * math.Ceil(v.Bounds.Height()/y); n > mostTiles {
			return fmt.Errorf("%s would take %.0f sheets of %s; the most is %d", v.Name(), n, p.Paper.Name, mostTiles)
		}
	}
	return nil
}

// TilesOf returns the tiles of a grid.
func TilesOf(v elevation.View, g grid) []Tile {
	var tiles []Tile
	for row, b := range g.Rows {
		for column := range b.Lefts {
			tiles = append(tiles, g.tile(row, column))
		}
	}
	share(v, tiles, g)
	for i := range tiles {
		endAtFace(v, &tiles[i], g)
	}
	for i := range tiles {
		g.introduce(tiles, i)
	}
	if g.Paper.Roll {
		for i := range tiles {
			cutOff(v, &tiles[i], g)
		}
	}
	settleMarks(v, tiles)
	return tiles
}

func (g grid) tile(row, column int) Tile {
	cell := g.Cell(row, column)
	area := cell
	area.Max.X += g.Overlap
	_, tall := g.room()
	area.Min.Y = math.Min(cell.Min.Y-g.Overlap, math.Max(g.lowestBelow(row, cell)-g.Overlap, area.Max.Y-tall))
	area.Min.Y = math.Min(area.Min.Y, area.Max.Y-math.Min(rowTall, tall))
	width, height := g.size()
	corner := g.corner()
	name := drafting.Letters(row) + fmt.Sprint(column+1)
	if g.added > 0 {
		name = fmt.Sprintf("+%d", g.added+g.Rows[row].First+column)
	}
	return Tile{
		Name:   g.prefix + name,
		Added:  g.added > 0,
		Face:   g.face,
		Row:    row,
		Column: column,
		Cell:   cell,
		Area:   area,
		Frame:  plane.Rect{Min: corner, Max: corner.Add(plane.Point{X: area.Width(), Y: area.Height()})},
		Sheet:  draw.Size{Width: width, Height: height},
	}
}

// lowestBelow returns where the lowest of the sheets starts that land on a cell from below, or where the
// cell ends.
func (g grid) lowestBelow(row int, cell plane.Rect) float64 {
	lowest := cell.Min.Y
	if row+1 == len(g.Rows) || g.Rows[row+1].tops == nil || g.Rows[row+1].top < cell.Min.Y-Touch {
		return lowest
	}
	for i := range g.Rows[row+1].Lefts {
		if c := g.Cell(row+1, i); c.Min.X < cell.Max.X && c.Max.X > cell.Min.X {
			lowest = math.Min(lowest, c.Max.Y)
		}
	}
	return lowest
}

// Touch is how far apart cells and marks may lie that belong together, mm.
const Touch = 0.5

// share gives every tile that has holes of its own those that it shows, and the pieces.
func share(v elevation.View, tiles []Tile, g grid) {
	own, _ := Printed(v, g)
	showing := func(box plane.Rect, f func(*Tile)) {
		reach := box
		reach.Min.X -= g.Overlap
		reach.Max.Y += g.Overlap
		g.about(reach, func(row, column int) {
			if i := g.Rows[row].First + column; own[i] && tiles[i].Area.Overlaps(box) {
				f(&tiles[i])
			}
		})
	}
	for i, h := range v.Work.Map.Holes {
		if h.Face != v.Index {
			continue
		}
		showing(drafting.BoxAt(h.At, 2*drafting.MarkReach(h.Bit), 2*drafting.MarkReach(h.Bit)), func(t *Tile) {
			if t.Area.Contains(h.At) {
				t.Holes = append(t.Holes, i)
			} else {
				t.Beyond = append(t.Beyond, i)
			}
		})
	}
	for i, p := range v.Pieces {
		showing(p.Bounds, func(t *Tile) { t.Pieces = append(t.Pieces, i) })
	}
}

// introduce tells the tile with index i who its neighbours are: beside it the tiles whose cells touch its
// own, above and below those whose sheets start where paper of the upper one lies.
func (g grid) introduce(tiles []Tile, i int) {
	t := &tiles[i]
	t.Marks = t.MarkCorners()
	g.about(t.Cell.Grow(Touch), func(row, column int) {
		n := tiles[g.Rows[row].First+column]
		from, to := math.Max(n.Cell.Min.X, t.Cell.Min.X), math.Min(n.Cell.Max.X, t.Cell.Max.X)
		other := Neighbour{Name: n.Name, Printed: len(n.Holes) > 0, From: from, To: to}
		switch {
		case row == t.Row && column == t.Column+1 && n.Cell.Min.X < t.Cell.Max.X+Touch:
			t.Right = other
		case row == t.Row && column == t.Column-1 && n.Cell.Max.X > t.Cell.Min.X-Touch:
			t.Left = other
		case row == t.Row-1 && to > from && n.lands(t.Cell.Max.Y):
			other.Edge = t.Cell.Max.Y
			t.Above = append(t.Above, other)
		case row == t.Row+1 && to > from && t.lands(n.Cell.Max.Y):
			other.Edge = n.Cell.Max.Y
			t.Below = append(t.Below, other)
		default:
			return
		}
		if !other.Printed {
			return
		}
		for _, m := range n.MarkCorners() {
			near := func(q plane.Point) bool { return q.Distance(m) < Touch }
			if t.atSeam(m, row-t.Row) && !slices.ContainsFunc(t.Marks, near) {
				t.Marks = append(t.Marks, m)
			}
		}
	})
}

// lands reports whether a sheet of the row below that starts at this height lands on the tile.
func (t Tile) lands(y float64) bool { return y > t.Area.Min.Y+LeastOverlap-Touch }

// atSeam reports whether a mark of a neighbour one row above, in the same row or one row below, so many
// rows down, stands where both sheets show it: between rows on the lower one's cut edge, beside one another
// at the upright line between them.
func (t Tile) atSeam(m plane.Point, down int) bool {
	within := m.X > t.Cell.Min.X && m.X < t.Area.Max.X
	switch down {
	case -1:
		return within && math.Abs(m.Y-t.Cell.Max.Y) < Touch
	case 1:
		return within && m.Y > t.Area.Min.Y && m.Y < t.Cell.Min.Y+2*SeamAir+Touch
	}
	return m.Y < t.Cell.Max.Y+Touch && m.Y > t.Area.Min.Y && (math.Abs(m.X-t.Cell.Min.X) < Touch || math.Abs(m.X-t.Cell.Max.X) < Touch)
}

// cellCorners returns the corners of a cell, from the top left by rows.
func cellCorners(c plane.Rect) []plane.Point {
	return []plane.Point{{X: c.Min.X, Y: c.Max.Y}, c.Max, c.Min, {X: c.Max.X, Y: c.Min.Y}}
}

// Owns reports whether a point of the face is on the part of the tile that no neighbour covers.
func (t Tile) Owns(p plane.Point) bool {
	c := t.Cell
	return p.X >= c.Min.X && p.X < c.Max.X && p.Y > c.Min.Y && p.Y <= c.Max.Y
}
