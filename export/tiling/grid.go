package tiling

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"

	"wallshoal/export/drafting"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/wall/plane"
)

// A grid is how a face is cut into rows, and each row into sheets.
type grid struct {
	format
	face           int
	prefix         string
	Rows           []band // from the top
	pitchX, pitchY float64
	added          int // where the sheets are added to older ones: the number of the first, from 1
}

// A band is a row of sheets.
type band struct {
	top   float64   // on the face
	Lefts []float64 // of its sheets, from the left
	tops  []float64 // of each sheet, a little off the line of the row to keep clear of a hole; nil where all start at the line
	First int       // index of its first tile
}

// A verdict is how well a grid cuts a face.
type verdict struct {
	lost   int // marks that have no room on a sheet that they should be on
	sheets int
	near   int // holes near a seam
	cut    int // marks that the cut of a sheet goes round
}

func (a verdict) compare(b verdict) int {
	return cmp.Or(cmp.Compare(a.lost, b.lost), cmp.Compare(a.sheets, b.sheets), cmp.Compare(a.near, b.near), cmp.Compare(a.cut, b.cut))
}

// GridFor returns the way of cutting the face that takes the fewest sheets, and of those the one with
// the fewest holes near a seam: the plain grid where none is better.
func GridFor(v elevation.View, p Print) grid {
	return gridFrom(v, p, func(f format) grid { return plainGrid(v, f) })
}

// gridFrom is grid with what is taken where none is better; nothing may be.
func gridFrom(v elevation.View, p Print, usual func(format) grid) grid {
	var best grid
	var found verdict
	for i, f := range p.formats() {
		atMost := math.MaxInt
		if i > 0 && found.lost == 0 {
			atMost = found.sheets
		}
		g, worth := gridOf(v, f, usual(f), atMost)
		if i == 0 || worth.compare(found) < 0 {
			best, found = g, worth
		}
	}
	return best
}

// gridOf is grid for sheets one way round, where more than so many are of no use. The wider the strips
// to the left and above, the nearer a seam may be to a hole on its far side, and the less a sheet
// shows; so they are widened only where some mark would have no room.
func gridOf(v elevation.View, f format, best grid, atMost int) (grid, verdict) {
	if len(v.Holes) == 0 {
		return best, verdict{}
	}
	found := verdict{lost: math.MaxInt}
	if len(best.Rows) > 0 {
		found = judge(v, best)
	}
	reach := 0.0
	for _, h := range v.Holes {
		reach = math.Max(reach, math.Min(drafting.MarkReach(h.Bit), mostReach))
	}
	for i, lip := range []float64{StripLeft, reach + 2 + TabRim, 2*reach + TabRim} {
		f.lip = math.Max(StripLeft, lip)
		if width, height := f.room(); i > 0 && (found.lost == 0 || width-f.Overlap < leastWidth || height < leastTall) {
			break
		}
		if g := fewest(v, plainGrid(v, f), atMost); len(g.Rows) > 0 {
			if worth := judge(v, g); worth.compare(found) < 0 {
				best, found = g, worth
			}
		}
	}
	return best, found
}

// plainGrid returns the grid of full sheets from the top left of the face.
func plainGrid(v elevation.View, f format) grid {
	g := grid{format: f, face: v.Index}
	g.pitchX, g.pitchY = f.pitch(v.Work.Units)
	if v.Several {
		g.prefix = fmt.Sprintf("%d-", v.Number)
	}
	across, down := g.axes(v)
	left, top := across.down(across.from), -down.down(down.from)
	columns := math.Max(1, math.Ceil((v.Bounds.Max.X-left)/g.pitchX))
	rows := math.Max(1, math.Ceil((top-v.Bounds.Min.Y)/g.pitchY))
	var lefts []float64
	for i := range int(columns) {
		lefts = append(lefts, left+float64(float64(i)*g.pitchX))
	}
	for i := range int(rows) {
		g.Rows = append(g.Rows, band{top: top - float64(float64(i)*g.pitchY), Lefts: lefts, First: i * len(lefts)})
	}
	return g
}

// axes returns the axes along which a face is cut. The sheets stand where the units show it exactly,
// so that the places of the register marks are true as they are printed.
func (g grid) axes(v elevation.View) (across, down axis) {
	foot := 0.0 // of the face, above what its sheets measure from
	if holemap.Upright(v.Face) {
		foot = v.Face.Frame.Origin.Z
	}
	step := Exactly(v.Work.Units)
	width, height := g.room()
	across = axis{from: v.Bounds.Min.X, step: step, pitch: g.pitchX, least: leastWidth, apart: width, lip: g.lip}
	down = axis{from: -v.Bounds.Max.Y, foot: -foot, step: step, pitch: g.pitchY, least: leastHeight, apart: height, lip: g.lip, thin: true}
	return across, down
}

// fewest returns a grid of the same sheets that is cut so that there are few, with few holes near their
// seams; one without rows where that cannot be had, or takes more than so many.
func fewest(v elevation.View, g grid, atMost int) grid {
	across, down := g.axes(v)
	holes := make([]placed, len(v.Holes))
	for i, h := range v.Holes {
		holes[i] = placed{at: -h.At.Y, across: h.At.X, reach: math.Min(drafting.MarkReach(h.Bit), mostReach)}
	}
	search := newRowSearch(across, down, holes)
	if !g.Paper.Roll {
		search.rise, search.drop = 2*SeamAir, g.Overlap-LeastOverlap
	}
	lines, rows := search.best(atMost)
	g.Rows = nil
	tiles := 0
	for i, r := range rows {
		if len(r.lefts) == 0 {
			continue
		}
		b := band{top: -lines[i], Lefts: r.lefts, First: tiles}
		if slices.ContainsFunc(r.tops, func(top float64) bool { return top != lines[i] }) {
			for _, top := range r.tops {
				b.tops = append(b.tops, -top)
			}
		}
		if g.Paper.Roll {
			end := math.Inf(1)
			if i+1 < len(lines) {
				end = lines[i+1]
			}
			b = g.hugged(b, across, down, search.between(lines[i], end))
		}
		tiles += len(b.Lefts)
		g.Rows = append(g.Rows, b)
	}
	return g
}

// tiles returns how many cells the grid has.
func (g grid) tiles() int {
	last := g.Rows[len(g.Rows)-1]
	return last.First + len(last.Lefts)
}

// row returns the row that a height on the face lies in or below, -1 above the first.
func (g grid) row(y float64) int {
	return sort.Search(len(g.Rows), func(i int) bool { return g.Rows[i].top < y }) - 1
}

// top returns where a sheet starts.
func (g grid) top(row, column int) float64 {
	if b := g.Rows[row]; b.tops != nil {
		return b.tops[column]
	}
	return g.Rows[row].top
}

// Cell returns the part of the face that is a tile's own: from its start to that of the next, or as
// far as a sheet reaches.
func (g grid) Cell(row, column int) plane.Rect {
	b := g.Rows[row]
	left, right, top := b.Lefts[column], b.Lefts[column]+g.pitchX, g.top(row, column)
	bottom := math.Max(top, b.top) - g.pitchY
	if column+1 < len(b.Lefts) {
		right = math.Min(right, b.Lefts[column+1])
	}
	if row+1 < len(g.Rows) {
		bottom = math.Max(bottom, g.Rows[row+1].top)
	}
	return plane.Rect{Min: plane.Point{X: left, Y: bottom}, Max: plane.Point{X: right, Y: top}}
}

// cellOf returns the index of the tile in whose cell a place lies, and whether there is one.
func (g grid) cellOf(p plane.Point) (tile int, found bool) {
	row := g.row(p.Y)
	if row < 0 {
		return 0, false
	}
	column := bandOf(g.Rows[row].Lefts, p.X)
	if column < 0 {
		return 0, false
	}
	c := g.Cell(row, column)
	return g.Rows[row].First + column, p.X < c.Max.X && p.Y > c.Min.Y
}

// about calls f with every cell that may touch a box.
func (g grid) about(box plane.Rect, f func(row, column int)) {
	for r := max(g.row(box.Max.Y)-1, 0); r <= min(g.row(box.Min.Y)+1, len(g.Rows)-1); r++ {
		lefts := g.Rows[r].Lefts
		for c := max(bandOf(lefts, box.Min.X)-1, 0); c <= min(bandOf(lefts, box.Max.X)+1, len(lefts)-1); c++ {
			f(r, c)
		}
	}
}

// Printed tells which tiles of the grid have holes of the face in their cells, and whether every hole
// lies in one.
func Printed(v elevation.View, g grid) (own []bool, whole bool) {
	own = make([]bool, g.tiles())
	for _, h := range v.Holes {
		i, found := g.cellOf(h.At)
		if !found {
			return own, false
		}
		own[i] = true
	}
	return own, true
}

// judge counts the sheets that a grid takes, and the holes whose marks are cut by the edge of one, or
// that lie near it.
func judge(v elevation.View, g grid) verdict {
	own, whole := Printed(v, g)
	if !whole {
		return verdict{lost: math.MaxInt}
	}
	var out verdict
	for _, is := range own {
		if is {
			out.sheets++
		}
	}
	for _, h := range v.Holes {
		near, lost := g.Seam(h, own)
		if near < SeamAir-Speck {
			out.near++
		}
		if near < math.Min(drafting.MarkReach(h.Bit), mostReach)-Speck {
			out.cut++
		}
		if lost {
			out.lost++
		}
	}
	return out
}

// Seam returns how far a hole is from the nearest edge along which a printed sheet is cut, mm, a great
// length where none is near; and whether its mark has no room on a sheet beyond such an edge.
func (g grid) Seam(h holemap.Hole, printed []bool) (near float64, lost bool) {
	reach := math.Min(drafting.MarkReach(h.Bit), mostReach)
	near = math.Inf(1)
	// off is how far past the edge the hole lies on the sheet.
	edge := func(off float64) {
		near = math.Min(near, math.Abs(off))
		lost = lost || math.Abs(off) < reach-Speck && reach-off+TabRim > g.lip+Speck
	}
	g.about(drafting.BoxAt(h.At, 2*mostReach, 2*mostReach), func(r, c int) {
		if !printed[g.Rows[r].First+c] {
			return
		}
		cell := g.Cell(r, c)
		if h.At.Y > cell.Min.Y-SeamAir && h.At.Y < cell.Max.Y+SeamAir {
			edge(h.At.X - cell.Min.X)
		}
		if h.At.X > cell.Min.X-SeamAir && h.At.X < cell.Max.X+SeamAir {
			edge(cell.Max.Y - h.At.Y)
		}
	})
	return near, lost
}

// ErrNoHoles says that there is nothing to drill.
var ErrNoHoles = errors.New("the work has no holes")
