package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"

	"wallshoal/export/holemap"
	"wallshoal/wall/plane"
)

// A grid is how a face is cut into rows, and each row into sheets.
type grid struct {
	format
	face           int
	prefix         string
	rows           []band // from the top
	pitchX, pitchY float64
	added          int // where the sheets are added to older ones: the number of the first, from 1
}

// A band is a row of sheets.
type band struct {
	top   float64   // on the face
	lefts []float64 // of its sheets, from the left
	tops  []float64 // of each sheet, a little off the line of the row to keep clear of a hole; nil where all start at the line
	first int       // index of its first tile
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

// grid returns the way of cutting the face that takes the fewest sheets, and of those the one with
// the fewest holes near a seam: the plain grid where none is better.
func (v view) grid(p Print) grid { return v.gridFrom(p, v.plainGrid) }

// gridFrom is grid with what is taken where none is better; nothing may be.
func (v view) gridFrom(p Print, usual func(format) grid) grid {
	var best grid
	var found verdict
	for i, f := range p.formats() {
		atMost := math.MaxInt
		if i > 0 && found.lost == 0 {
			atMost = found.sheets
		}
		g, worth := v.gridOf(f, usual(f), atMost)
		if i == 0 || worth.compare(found) < 0 {
			best, found = g, worth
		}
	}
	return best
}

// gridOf is grid for sheets one way round, where more than so many are of no use. The wider the strips
// to the left and above, the nearer a seam may be to a hole on its far side, and the less a sheet
// shows; so they are widened only where some mark would have no room.
func (v view) gridOf(f format, best grid, atMost int) (grid, verdict) {
	if len(v.holes) == 0 {
		return best, verdict{}
	}
	found := verdict{lost: math.MaxInt}
	if len(best.rows) > 0 {
		found = v.judge(best)
	}
	reach := 0.0
	for _, h := range v.holes {
		reach = math.Max(reach, math.Min(markReach(h.Bit), mostReach))
	}
	for i, lip := range []float64{stripLeft, reach + 2 + tabRim, 2*reach + tabRim} {
		f.lip = math.Max(stripLeft, lip)
		if width, height := f.room(); i > 0 && (found.lost == 0 || width-f.Overlap < leastWidth || height < leastTall) {
			break
		}
		if g := v.fewest(v.plainGrid(f), atMost); len(g.rows) > 0 {
			if worth := v.judge(g); worth.compare(found) < 0 {
				best, found = g, worth
			}
		}
	}
	return best, found
}

// plainGrid returns the grid of full sheets from the top left of the face.
func (v view) plainGrid(f format) grid {
	g := grid{format: f, face: v.index}
	g.pitchX, g.pitchY = f.pitch(v.work.Units)
	if v.several {
		g.prefix = fmt.Sprintf("%d-", v.number)
	}
	across, down := g.axes(v)
	left, top := across.down(across.from), -down.down(down.from)
	columns := math.Max(1, math.Ceil((v.bounds.Max.X-left)/g.pitchX))
	rows := math.Max(1, math.Ceil((top-v.bounds.Min.Y)/g.pitchY))
	var lefts []float64
	for i := range int(columns) {
		lefts = append(lefts, left+float64(float64(i)*g.pitchX))
	}
	for i := range int(rows) {
		g.rows = append(g.rows, band{top: top - float64(float64(i)*g.pitchY), lefts: lefts, first: i * len(lefts)})
	}
	return g
}

// axes returns the axes along which a face is cut. The sheets stand where the units show it exactly,
// so that the places of the register marks are true as they are printed.
func (g grid) axes(v view) (across, down axis) {
	foot := 0.0 // of the face, above what its sheets measure from
	if holemap.Upright(v.face) {
		foot = v.face.Frame.Origin.Z
	}
	step := exactly(v.work.Units)
	width, height := g.room()
	across = axis{from: v.bounds.Min.X, step: step, pitch: g.pitchX, least: leastWidth, apart: width, lip: g.lip}
	down = axis{from: -v.bounds.Max.Y, foot: -foot, step: step, pitch: g.pitchY, least: leastHeight, apart: height, lip: g.lip, thin: true}
	return across, down
}

// fewest returns a grid of the same sheets that is cut so that there are few, with few holes near their
// seams; one without rows where that cannot be had, or takes more than so many.
func (v view) fewest(g grid, atMost int) grid {
	across, down := g.axes(v)
	holes := make([]placed, len(v.holes))
	for i, h := range v.holes {
		holes[i] = placed{at: -h.At.Y, across: h.At.X, reach: math.Min(markReach(h.Bit), mostReach)}
	}
	search := newRowSearch(across, down, holes)
	if !g.Paper.Roll {
		search.rise, search.drop = 2*seamAir, g.Overlap-leastOverlap
	}
	lines, rows := search.best(atMost)
	g.rows = nil
	tiles := 0
	for i, r := range rows {
		if len(r.lefts) == 0 {
			continue
		}
		b := band{top: -lines[i], lefts: r.lefts, first: tiles}
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
		tiles += len(b.lefts)
		g.rows = append(g.rows, b)
	}
	return g
}

// tiles returns how many cells the grid has.
func (g grid) tiles() int {
	last := g.rows[len(g.rows)-1]
	return last.first + len(last.lefts)
}

// row returns the row that a height on the face lies in or below, -1 above the first.
func (g grid) row(y float64) int {
	return sort.Search(len(g.rows), func(i int) bool { return g.rows[i].top < y }) - 1
}

// top returns where a sheet starts.
func (g grid) top(row, column int) float64 {
	if b := g.rows[row]; b.tops != nil {
		return b.tops[column]
	}
	return g.rows[row].top
}

// cell returns the part of the face that is a tile's own: from its start to that of the next, or as
// far as a sheet reaches.
func (g grid) cell(row, column int) plane.Rect {
	b := g.rows[row]
	left, right, top := b.lefts[column], b.lefts[column]+g.pitchX, g.top(row, column)
	bottom := math.Max(top, b.top) - g.pitchY
	if column+1 < len(b.lefts) {
		right = math.Min(right, b.lefts[column+1])
	}
	if row+1 < len(g.rows) {
		bottom = math.Max(bottom, g.rows[row+1].top)
	}
	return plane.Rect{Min: plane.Point{X: left, Y: bottom}, Max: plane.Point{X: right, Y: top}}
}

// cellOf returns the index of the tile in whose cell a place lies, and whether there is one.
func (g grid) cellOf(p plane.Point) (tile int, found bool) {
	row := g.row(p.Y)
	if row < 0 {
		return 0, false
	}
	column := bandOf(g.rows[row].lefts, p.X)
	if column < 0 {
		return 0, false
	}
	c := g.cell(row, column)
	return g.rows[row].first + column, p.X < c.Max.X && p.Y > c.Min.Y
}

// about calls f with every cell that may touch a box.
func (g grid) about(box plane.Rect, f func(row, column int)) {
	for r := max(g.row(box.Max.Y)-1, 0); r <= min(g.row(box.Min.Y)+1, len(g.rows)-1); r++ {
		lefts := g.rows[r].lefts
		for c := max(bandOf(lefts, box.Min.X)-1, 0); c <= min(bandOf(lefts, box.Max.X)+1, len(lefts)-1); c++ {
			f(r, c)
		}
	}
}

// printed tells which tiles of the grid have holes of the face in their cells, and whether every hole
// lies in one.
func (v view) printed(g grid) (own []bool, whole bool) {
	own = make([]bool, g.tiles())
	for _, h := range v.holes {
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
func (v view) judge(g grid) verdict {
	own, whole := v.printed(g)
	if !whole {
		return verdict{lost: math.MaxInt}
	}
	var out verdict
	for _, is := range own {
		if is {
			out.sheets++
		}
	}
	for _, h := range v.holes {
		near, lost := g.seam(h, own)
		if near < seamAir-speck {
			out.near++
		}
		if near < math.Min(markReach(h.Bit), mostReach)-speck {
			out.cut++
		}
		if lost {
			out.lost++
		}
	}
	return out
}

// seam returns how far a hole is from the nearest edge along which a printed sheet is cut, mm, a great
// length where none is near; and whether its mark has no room on a sheet beyond such an edge.
func (g grid) seam(h holemap.Hole, printed []bool) (near float64, lost bool) {
	reach := math.Min(markReach(h.Bit), mostReach)
	near = math.Inf(1)
	// off is how far past the edge the hole lies on the sheet.
	edge := func(off float64) {
		near = math.Min(near, math.Abs(off))
		lost = lost || math.Abs(off) < reach-speck && reach-off+tabRim > g.lip+speck
	}
	g.about(sized(h.At, 2*mostReach, 2*mostReach), func(r, c int) {
		if !printed[g.rows[r].first+c] {
			return
		}
		cell := g.cell(r, c)
		if h.At.Y > cell.Min.Y-seamAir && h.At.Y < cell.Max.Y+seamAir {
			edge(h.At.X - cell.Min.X)
		}
		if h.At.X > cell.Min.X-seamAir && h.At.X < cell.Max.X+seamAir {
			edge(cell.Max.Y - h.At.Y)
		}
	})
	return near, lost
}
