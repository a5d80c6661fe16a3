package scopepage

import (
	"math"
	"slices"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/export/scope"
	"wallshoal/wall/plane"
)

// Measures of a table, mm.
const (
	cellGap   = 4.5 // least room between two columns
	cellPad   = 1.7 // of a row, beside its lines
	cellPitch = textHeight * 1.45
	headFont  = draw.Letter18
	headLine  = 13.0 // headings as short as this keep to one line
	leastTxt  = 20.0 // a column of text is not made narrower
	longTable = 0.45 // of the height of a page: a table that is longer may be divided
	leastRow  = 3    // rows of a table that are never left alone
)

// A grid is a table as it is drawn.
type grid struct {
	scope.Table
	// A column of drawings after the text: how wide it is, how tall its rows are at least, and what draws
	// into the row with an index.
	wide, tall float64
	picture    func(row int, area plane.Rect)

	columns []float64 // widths, without the gaps
	gap     float64
}

// lay finds the widths of the columns, and how wide the table is in all.
func (g *grid) lay(room float64) float64 {
	n := len(g.Heads)
	g.columns = make([]float64, n)
	for c := range n {
		for _, word := range strings.Fields(g.Heads[c]) {
			g.columns[c] = math.Max(g.columns[c], wide(word, headFont, false))
		}
		if whole := wide(g.Heads[c], headFont, false); whole <= headLine {
			g.columns[c] = math.Max(g.columns[c], whole)
		}
		for r, row := range g.Rows {
			g.columns[c] = math.Max(g.columns[c], wide(row[c], textHeight, g.sum(r)))
		}
	}
	gaps := float64(n - 1)
	used := gaps * cellGap
	if g.picture != nil {
		used += g.wide + cellGap
		gaps++
	}
	for _, w := range g.columns {
		used += w
	}
	for c := 0; used > room && c < g.Text; c++ {
		widest := 0
		for t := range g.Text {
			if g.columns[t] > g.columns[widest] {
				widest = t
			}
		}
		less := math.Min(used-room, math.Max(0, g.columns[widest]-leastTxt))
		g.columns[widest] -= less
		used -= less
	}
	g.gap = cellGap
	if gaps > 0 && used < room {
		more := math.Min((room-used)/gaps, cellGap)
		g.gap += more
		used += more * gaps
	}
	return used
}

func (g *grid) sum(row int) bool { return g.Sum && row == len(g.Rows)-1 }

// cell breaks a cell into lines.
func (g *grid) cell(row, column int) []string {
	t := draw.Text{Say: g.Rows[row][column], Height: textHeight, Bold: g.sum(row)}
	if t.Width() <= g.columns[column]+1e-6 {
		return []string{t.Say}
	}
	return t.Wrap(g.columns[column])
}

// heads breaks the headings into lines, and returns how many there are at most.
func (g *grid) heads() (cells [][]string, most int) {
	for c, h := range g.Heads {
		lines := draw.Text{Say: h, Height: headFont}.Wrap(g.columns[c] + 0.01)
		cells, most = append(cells, lines), max(most, len(lines))
	}
	return cells, most
}

func (g *grid) headHeight() float64 {
	_, most := g.heads()
	return float64(most)*smallPitch + 1.6
}

func (g *grid) rowHeight(row int) float64 {
	most := 1
	for c := range g.columns {
		most = max(most, len(g.cell(row, c)))
	}
	return math.Max(float64(most)*cellPitch+cellPad, g.tall)
}

func (g *grid) height(from, to int) float64 {
	h := g.headHeight()
	for r := from; r < to; r++ {
		h += g.rowHeight(r)
	}
	return h
}

// keep returns how much of a table stands with its heading: all of it, or its first rows where it is long.
func (b *book) keep(g *grid) float64 {
	g = g.divided(b.body.Width())[0]
	if whole := g.height(0, len(g.Rows)); whole <= longTable*b.body.Height() {
		return whole
	}
	return g.height(0, min(leastRow, len(g.Rows)))
}

// headed draws a table under a heading of its own.
func (b *book) headed(text string, t scope.Table) {
	g := &grid{Table: t}
	b.under(text, b.keep(g))
	b.grid(g)
}

// section begins a section that is a table, or a paragraph of two or three lines and then a table: room is how
// much of the page the paragraph takes.
func (b *book) section(text string, room float64, g *grid) { b.heading(text, room+b.keep(g)) }

// table draws a table. It stays whole where it fits a page, and a longer one is divided between rows, with
// its headings again, never so that few rows or the sum stand alone.
func (b *book) table(t scope.Table) { b.grid(&grid{Table: t}) }

func (b *book) grid(g *grid) {
	if len(g.Rows) == 0 {
		return
	}
	if parts := g.divided(b.body.Width()); len(parts) > 1 {
		for _, p := range parts {
			b.grid(p)
		}
		return
	}
	g.lay(b.body.Width())
	if whole := g.height(0, len(g.Rows)); whole > b.left() && (whole <= longTable*b.body.Height() || b.left() < g.height(0, min(leastRow, len(g.Rows)))) {
		b.need(whole)
	}
	from := 0
	for from < len(g.Rows) {
		to, h := from, g.headHeight()
		for to < len(g.Rows) && h+g.rowHeight(to) <= b.left() {
			h += g.rowHeight(to)
			to++
		}
		if rest := len(g.Rows) - to; rest > 0 && rest < leastRow {
			to = max(from+1, len(g.Rows)-leastRow)
		}
		to = max(to, from+1)
		b.rows(g, b.body.Min.X, from, to)
		if from = to; from < len(g.Rows) {
			b.page()
		}
	}
	b.y += 3
}

// divided divides a table that has too many columns of figures for the width: each part has the columns
// of text again.
func (g *grid) divided(room float64) []*grid {
	if g.lay(room) <= room+1e-6 || len(g.Heads)-g.Text < 2 {
		return []*grid{g}
	}
	half := g.Text + (len(g.Heads)-g.Text)/2
	part := func(from, to int) *grid {
		p := &grid{Table: scope.Table{Text: g.Text, Sum: g.Sum}, wide: g.wide, tall: g.tall, picture: g.picture}
		pick := func(row []string) []string { return slices.Concat(row[:g.Text], row[from:to]) }
		p.Heads = pick(g.Heads)
		for _, row := range g.Rows {
			p.Rows = append(p.Rows, pick(row))
		}
		return p
	}
	return slices.Concat(part(g.Text, half).divided(room), part(half, len(g.Heads)).divided(room))
}

// rows draws the headings and some rows with their left edge at x, from where the page is used to.
func (b *book) rows(g *grid, x float64, from, to int) {
	width := float64(len(g.columns)-1) * g.gap
	for _, w := range g.columns {
		width += w
	}
	if g.picture != nil {
		width += g.wide + g.gap
	}
	write := func(column int, left, y, height, pitch float64, lines []string, t draw.Text) {
		if column >= g.Text {
			left, t.Align = left+g.columns[column], draw.Right
		}
		for i, l := range lines {
			b.say(left, y+float64(i)*pitch, height, l, t)
		}
	}
	lefts := make([]float64, len(g.columns))
	drawn := 0.0 // left edge of the drawings
	for c, at := 0, x; c < len(g.columns); c++ {
		if c == g.Text && g.picture != nil {
			drawn = at
			at += g.wide + g.gap
		}
		lefts[c] = at
		at += g.columns[c] + g.gap
	}
	if g.picture != nil && drawn == 0 {
		drawn = x + width - g.wide
	}
	cells, most := g.heads()
	for c, lines := range cells {
		write(c, lefts[c], b.y+float64(most-len(lines)+1)*smallPitch-0.8, headFont, smallPitch, lines, draw.Text{Colour: quiet})
	}
	b.y += g.headHeight()
	b.line(x, b.y, x+width, b.y, thin)
	for r := from; r < to; r++ {
		tall := g.rowHeight(r)
		if g.sum(r) {
			b.line(x, b.y, x+width, b.y, edge)
		} else if r > from {
			b.line(x, b.y, x+width, b.y, hair)
		}
		for c := range g.columns {
			lines := g.cell(r, c)
			y := b.y + (tall-float64(len(lines))*cellPitch)/2 + textHeight*1.22
			write(c, lefts[c], y, textHeight, cellPitch, lines, draw.Text{Bold: g.sum(r)})
		}
		if g.picture != nil {
			g.picture(r, plane.Rect{Min: plane.Point{X: drawn, Y: b.y}, Max: plane.Point{X: drawn + g.wide, Y: b.y + tall}})
		}
		b.y += tall
	}
	b.line(x, b.y, x+width, b.y, thin)
}

// A named table has a title of its own.
type named struct {
	title string
	scope.Table
}

// abreast draws two tables under their titles beside one another where they have the room, else below.
func (b *book) abreast(one, two named) {
	const gap = 14.0
	left, right := &grid{Table: one.Table}, &grid{Table: two.Table}
	width := (b.body.Width() - gap) / 2
	tall := 0.0
	fits := len(one.Rows) > 0 && len(two.Rows) > 0
	for _, g := range []*grid{left, right} {
		if fits = fits && g.lay(width) <= width+1e-6; fits {
			tall = math.Max(tall, g.height(0, len(g.Rows)))
		}
	}
	if !fits || tall > longTable*b.body.Height() {
		for _, n := range []named{one, two} {
			if len(n.Rows) > 0 {
				b.headed(n.title, n.Table)
			}
		}
		return
	}
	b.need(8 + tall)
	b.y += 3
	start := b.y
	for i, g := range []*grid{left, right} {
		x := b.body.Min.X + float64(i)*(width+gap)
		b.y = start + draw.Letter25
		b.fitted(x, b.y, draw.Letter25, []string{one.title, two.title}[i], width, draw.Text{Bold: true})
		b.y += 1.6
		b.rows(g, x, 0, len(g.Rows))
	}
	b.y = start + draw.Letter25 + 1.6 + tall + 3
}
