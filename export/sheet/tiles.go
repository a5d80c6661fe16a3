package sheet

import (
	"errors"
	"fmt"
	"math"

	"wallshoal/export/holemap"
	"wallshoal/wall/plane"
)

// A Tile is one sheet of the full-size hole map: its place in the grid of its face, and where the
// face comes to lie on the paper. Rows are lettered from the top and columns numbered from the
// left; the grid starts at the top-left corner of the face, so that register marks stand on the
// same points of the wall whatever hangs there.
//
// A sheet is cut along the left and the top of its cell, and laid over the sheets to its left and
// above it, which show more than their cells to the right and below. So every cut edge comes to lie
// on a landing line, both on the lines of the grid.
type Tile struct {
	Name        string     // row letter and column number, after the face's number where several faces carry pieces
	Face        int        // index into the faces of the site
	Row, Column int        // from 0 at the top left
	Cell        plane.Rect // the tile's own part of the face; its corners bear the register marks
	Area        plane.Rect // all that it shows: the cell, and the overlap to its right and below it
	Frame       plane.Rect // where Area lies on the page, y downwards
	Holes       []int      // indices into the holes of the map, in Area; none where the tile is left out

	Left, Right, Above, Below Neighbour

	pieces []int // indices into the pieces of the view, in Area
	beyond []int // indices into the holes of the map, not in Area, whose marks reach into it
}

// A Neighbour is the tile beside another.
type Neighbour struct {
	Name    string // empty where the grid ends
	Printed bool   // it has holes
}

// ToPage returns where a point of the face lies on the page, in mm from its top-left corner, y
// downwards.
func (t Tile) ToPage(p plane.Point) plane.Point { return t.mapping().at(p) }

// ToFace returns the point of the face that lies at a point of the page.
func (t Tile) ToFace(p plane.Point) plane.Point {
	o := t.mapping().origin
	return plane.Point{X: p.X - o.X, Y: o.Y - p.Y}
}

func (t Tile) mapping() mapping {
	return mapping{k: 1, origin: plane.Point{X: t.Frame.Min.X - t.Area.Min.X, Y: t.Frame.Max.Y + t.Area.Min.Y}}
}

// mostTiles is the most tiles that one face is cut into, printed or not.
const mostTiles = 1_000_000

// Tiles cuts a face into tiles for the given print, row by row from the top left. Every tile of
// the grid is there, those without holes too. A hole near a seam belongs to every tile that shows
// it. The error says what is wrong with the print or the face.
func Tiles(w holemap.Work, face int, p Print) ([]Tile, error) {
	v, err := look(w, face)
	if err != nil {
		return nil, err
	}
	return v.tiles(p)
}

func (v view) tiles(p Print) ([]Tile, error) {
	if problems := p.Problems(); len(problems) > 0 {
		errs := make([]error, len(problems))
		for i, problem := range problems {
			errs[i] = problem
		}
		return nil, errors.Join(errs...)
	}
	g := v.grid(p)
	if g.columns*g.rows > mostTiles {
		return nil, fmt.Errorf("%s would take %.0f sheets of %s; the most is %d", v.name(), g.columns*g.rows, p.Paper.Name, mostTiles)
	}
	tiles := make([]Tile, 0, int(g.columns*g.rows))
	for row := range int(g.rows) {
		for column := range int(g.columns) {
			tiles = append(tiles, g.tile(row, column))
		}
	}
	v.share(tiles, g)
	for i := range tiles {
		g.introduce(tiles, i)
	}
	return tiles, nil
}

// A grid is how a face is cut.
type grid struct {
	face          int
	prefix        string
	columns, rows float64
	left, top     float64 // of the grid on the face
	pitchX        float64
	pitchY        float64
	overlap       float64
	corner        plane.Point // top left of a tile's drawing on the page
}

func (v view) grid(p Print) grid {
	x, y := p.pitch(v.work.Units)
	// The grid starts where the units show it exactly, so that the places of the register marks are
	// true as they are printed.
	step := exactly(v.work.Units)
	const speck = 1e-6 // of a step, so that rounding adds none
	foot := 0.0        // of the face, above what its sheets measure from
	if holemap.Upright(v.face) {
		foot = v.face.Frame.Origin.Z
	}
	g := grid{
		face:    v.index,
		left:    math.Floor(v.bounds.Min.X/step+speck) * step,
		top:     math.Ceil((v.bounds.Max.Y+foot)/step-speck)*step - foot,
		pitchX:  x,
		pitchY:  y,
		overlap: p.Overlap,
		corner:  p.printable().Min.Add(plane.Point{X: stripLeft, Y: stripTop}),
	}
	g.columns = math.Max(1, math.Ceil((v.bounds.Max.X-g.left)/x))
	g.rows = math.Max(1, math.Ceil((g.top-v.bounds.Min.Y)/y))
	if v.several {
		g.prefix = fmt.Sprintf("%d-", v.number)
	}
	return g
}

func (g grid) tile(row, column int) Tile {
	left, top := g.left+float64(float64(column)*g.pitchX), g.top-float64(float64(row)*g.pitchY)
	cell := plane.Rect{Min: plane.Point{X: left, Y: top - g.pitchY}, Max: plane.Point{X: left + g.pitchX, Y: top}}
	area := cell
	area.Max.X += g.overlap
	area.Min.Y -= g.overlap
	return Tile{
		Name:   g.prefix + rowLetters(row) + fmt.Sprint(column+1),
		Face:   g.face,
		Row:    row,
		Column: column,
		Cell:   cell,
		Area:   area,
		Frame:  plane.Rect{Min: g.corner, Max: g.corner.Add(plane.Point{X: area.Width(), Y: area.Height()})},
	}
}

// share gives every tile the holes and the pieces that it shows.
func (v view) share(tiles []Tile, g grid) {
	for i, h := range v.work.Map.Holes {
		if h.Face != v.index {
			continue
		}
		mark := sized(h.At, 2*markReach(h.Bit), 2*markReach(h.Bit))
		g.within(mark, tiles, func(t *Tile) {
			if t.Area.Contains(h.At) {
				t.Holes = append(t.Holes, i)
			} else {
				t.beyond = append(t.beyond, i)
			}
		})
	}
	for i, p := range v.pieces {
		g.within(p.bounds, tiles, func(t *Tile) { t.pieces = append(t.pieces, i) })
	}
}

// within calls f with every tile that shows a part of the box.
func (g grid) within(box plane.Rect, tiles []Tile, f func(*Tile)) {
	column := func(x float64) int { return int(math.Floor((x - g.left) / g.pitchX)) }
	row := func(y float64) int { return int(math.Floor((g.top - y) / g.pitchY)) }
	// One cell more on every side, so that rounding at a seam decides nothing.
	for r := max(row(box.Max.Y+g.overlap)-1, 0); r <= min(row(box.Min.Y)+1, int(g.rows)-1); r++ {
		for c := max(column(box.Min.X-g.overlap)-1, 0); c <= min(column(box.Max.X)+1, int(g.columns)-1); c++ {
			t := &tiles[r*int(g.columns)+c]
			if t.Area.Overlaps(box) {
				f(t)
			}
		}
	}
}

// introduce tells the tile with index i who its neighbours are.
func (g grid) introduce(tiles []Tile, i int) {
	t := &tiles[i]
	at := func(row, column int) Neighbour {
		if row < 0 || column < 0 || row >= int(g.rows) || column >= int(g.columns) {
			return Neighbour{}
		}
		n := tiles[row*int(g.columns)+column]
		return Neighbour{Name: n.Name, Printed: len(n.Holes) > 0}
	}
	t.Left, t.Right = at(t.Row, t.Column-1), at(t.Row, t.Column+1)
	t.Above, t.Below = at(t.Row-1, t.Column), at(t.Row+1, t.Column)
}

// rowLetters returns the letters of a row, counted from 0: A to Z, then AA, AB and so on.
func rowLetters(row int) string {
	letters := ""
	for row >= 0 {
		letters = string(rune('A'+row%26)) + letters
		row = row/26 - 1
	}
	return letters
}
