package clientpage

import (
	"fmt"
	"math"

	"wallshoal/export/client"
	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/roompage"
	"wallshoal/wall/plane"
)

// A clientBook draws the pages for the client that follow the pictures: what is drilled, what making
// good takes, what the site provides, the cautions, and what is agreed.
type clientBook struct {
	drafting.Pen
	view   elevation.View // of the whole room, for what all pages say
	sum    client.Summary
	paper  drafting.Paper
	number int // of the last page
	all    int
	body   plane.Rect // of the page, between head and foot
	y      float64    // how far down it is used
}

// pages draws them all.
func (b *clientBook) pages() {
	b.holesPage()
	if b.sum.Holes > 0 {
		b.goodPage()
	}
	b.datesPage()
	b.checksPage()
	b.cautionsPage()
	b.agreePage()
}

// bookPages returns how many pages follow the pictures.
func (b clientBook) bookPages() int {
	b.Pen = drafting.Pen{Canvas: draw.NewRecord()}
	b.number, b.all = 0, 0
	b.pages()
	return b.number
}

// The strips along the edges of a page of a client's book, mm.
const (
	bookHead = 20.0
	bookFoot = 7.0
	bookGap  = 9.0 // between columns

	bookText = draw.Letter25 // letters of running text, beside lists that have to be short
)

// page begins a page that says what it shows.
func (b *clientBook) page(shows string) {
	b.number++
	b.Page(b.paper.Height, b.paper.Width)
	area := plane.Rect{Max: plane.Point{X: b.paper.Height, Y: b.paper.Width}}.Grow(-14)
	roompage.Header(b.view, b.Pen, area, shows)
	note := fmt.Sprintf("fingerprint %s · page %d of %d", b.sum.Fingerprint, b.number, b.all)
	b.Say(area.Max.X, area.Max.Y, drafting.Least, note, area.Width()*0.4, drafting.Style{Align: draw.Right, Colour: drafting.Quiet})
	b.body = area
	b.body.Min.Y += bookHead
	b.body.Max.Y -= bookFoot
	b.y = b.body.Min.Y
}

// parts divides the body into two parts, the left one so much of it.
func (b *clientBook) parts(share float64) (left, right plane.Rect) {
	left, right = b.body, b.body
	left.Max.X = b.body.Min.X + share*(b.body.Width()-bookGap)
	right.Min.X = left.Max.X + bookGap
	return left, right
}

// flow returns a flow into the columns, and on to pages of so many columns that say what they show.
func (b *clientBook) flow(columns []plane.Rect, shows string, more int) *drafting.ColumnFlow {
	return &drafting.ColumnFlow{Pen: b.Pen, Letters: bookText, Columns: columns, Y: columns[0].Min.Y, More: func() []plane.Rect {
		b.page(shows + ", continued")
		return drafting.ColumnsOf(b.body, more, bookGap)
	}}
}

// words writes paragraphs under a heading at the top of an area, and returns how far down they reach.
func (b *clientBook) words(area plane.Rect, heading string, items ...drafting.Item) float64 {
	area.Max.Y = math.Inf(1)
	f := drafting.ColumnFlow{Pen: b.Pen, Letters: bookText, Columns: []plane.Rect{area}}
	f.Write([]drafting.Block{{Heading: heading, Items: items}})
	return f.Y
}

// A column of a table: its heading, how wide it is against the others, and whether it holds figures.
type column struct {
	title   string
	share   float64
	figures bool
}

// The rows of a table for the client, mm.
const (
	bookRow   = 5.4
	tableHead = 6.0 // of its headings
)

// tableRows returns how many rows of a table there is room for in a height.
func tableRows(height float64) int { return max(0, int((height-tableHead)/bookRow)) }

// table draws rows across the area from its top, the last one bold where it is a sum, and returns how
// far down it reaches.
func (b *clientBook) table(area plane.Rect, columns []column, rows [][]string, sum bool) float64 {
	total := 0.0
	for _, c := range columns {
		total += c.share
	}
	line := func(y, height float64, cells []string, s drafting.Style) {
		x := area.Min.X
		for i, c := range columns {
			width := area.Width() * c.share / total
			if c.figures {
				s.Align = draw.Right
				b.Say(x+width-1, y, height, cells[i], width-3, s)
			} else {
				s.Align = draw.Left
				b.Say(x, y, height, cells[i], width-3, s)
			}
			x += width
		}
	}
	titles := make([]string, len(columns))
	for i, c := range columns {
		titles[i] = c.title
	}
	y := area.Min.Y + 3
	line(y, drafting.Least, titles, drafting.Style{Colour: drafting.Quiet})
	b.Segment(area.Min.X, y+1.8, area.Max.X, y+1.8, drafting.Thin)
	y = area.Min.Y + tableHead
	for i, cells := range rows {
		last := sum && i == len(rows)-1
		if last {
			b.Segment(area.Min.X, y, area.Max.X, y, drafting.Thin)
		}
		line(y+3.8, draw.Letter25, cells, drafting.Style{Bold: last})
		y += bookRow
		if !last {
			b.Segment(area.Min.X, y, area.Max.X, y, drafting.Shade(drafting.Hair, drafting.Faint))
		}
	}
	return y
}

// tables draws a table of any length from the top of the area on, and goes on over pages.
func (b *clientBook) tables(area plane.Rect, shows string, columns []column, rows [][]string) float64 {
	for {
		n := min(len(rows), tableRows(area.Height()))
		y := b.table(area, columns, rows[:n], n == len(rows))
		rows = rows[n:]
		if len(rows) == 0 {
			return y
		}
		b.page(shows + ", continued")
		area = b.body
	}
}
