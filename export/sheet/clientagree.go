package sheet

import (
	"cmp"
	"fmt"
	"math"

	"wallshoal/export/caution"
	"wallshoal/export/client"
	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// tickBox draws a box to tick with its foot at (x, y).
func (p pen) tickBox(x, y float64) {
	p.box(plane.Rect{Min: plane.Point{X: x, Y: y - 2.9}, Max: plane.Point{X: x + 3.2, Y: y + 0.3}}, draw.Paint{Stroke: thin})
}

// The parts of a check, mm.
const (
	checkIndent = 5.5
	checkGap    = 1.2
	whyHeight   = draw.Letter18
	whyPitch    = 3.2
	writeRoom   = 5.8
)

// checksPage lists what the site provides and confirms.
func (b *clientBook) checksPage() {
	const shows = "What the site provides and confirms"
	b.page(shows)
	groups := b.checkGroups(true)
	if trial := b.trial(); trial.checks(shows, groups) > 1 {
		groups = b.checkGroups(false)
	}
	b.checks(shows, groups)
}

// checkGroups returns the checks as they are to stay together: all of a heading, or the heading with the
// first.
func (b *clientBook) checkGroups(whole bool) []client.Checks {
	var out []client.Checks
	for _, c := range b.sum.Checks {
		if whole {
			out = append(out, c)
			continue
		}
		for i := range c.Items {
			one := client.Checks{Items: c.Items[i : i+1]}
			if i == 0 {
				one.Heading = c.Heading
			}
			out = append(out, one)
		}
	}
	return out
}

// trial returns a book that draws nothing to be seen, on a page of its own.
func (b *clientBook) trial() *clientBook {
	t := *b
	t.pen = pen{draw.NewRecord()}
	t.Page(b.paper.Height, b.paper.Width)
	t.number = 0
	return &t
}

// checks writes groups of checks into columns, and returns how many pages they take from the one on which
// they begin.
func (b *clientBook) checks(shows string, groups []client.Checks) int {
	first := b.number
	f := b.flow(columnsOf(b.body, 3, bookGap), shows, 3)
	f.letters = 0
	for _, g := range groups {
		height := 0.0
		if g.Heading != "" {
			height = 3 + headingHeight + 2
		}
		for _, i := range g.Items {
			height += f.checkHeight(i)
		}
		f.whole(height)
		if g.Heading != "" {
			f.block(block{heading: g.Heading})
		}
		for _, i := range g.Items {
			f.check(i)
		}
	}
	f.check(client.Check{Ask: client.Ticked, Write: "Name and date"})
	return b.number - first + 1
}

// checkLines breaks what a check says into lines.
func (f *columnFlow) checkLines(c client.Check) (asks, why []string) {
	width := f.columns[0].Width() - checkIndent
	if c.Why != "" {
		why = wrapped("Here: "+c.Why, whyHeight, width)
	}
	return wrapped(c.Ask, textHeight, width), why
}

// checkHeight returns how much room a check takes.
func (f *columnFlow) checkHeight(c client.Check) float64 {
	asks, why := f.checkLines(c)
	height := float64(len(asks))*textPitch + float64(len(why))*whyPitch + checkGap
	if c.Write != "" {
		height += writeRoom
	}
	return height
}

// check writes one box with what it asks, why, and a line to write on.
func (f *columnFlow) check(c client.Check) {
	asks, why := f.checkLines(c)
	f.whole(f.checkHeight(c))
	for i, line := range asks {
		f.room(textPitch)
		f.y += textPitch
		x := f.columns[0].Min.X
		if i == 0 {
			f.tickBox(x, f.y)
		}
		f.say(x+checkIndent, f.y, textHeight, line, 0, style{})
	}
	for _, line := range why {
		f.room(whyPitch)
		f.y += whyPitch
		x := f.columns[0].Min.X
		f.say(x+checkIndent, f.y, whyHeight, line, 0, style{colour: quiet})
	}
	if c.Write != "" {
		f.room(writeRoom)
		f.y += writeRoom
		x := f.columns[0].Min.X
		name := c.Write + ":"
		f.say(x+checkIndent, f.y-0.6, whyHeight, name, 0, style{colour: quiet})
		f.line(x+checkIndent+wide(name, whyHeight, false)+2, f.y, f.columns[0].Max.X, f.y, thin)
	}
	f.y += checkGap
}

// cautionsPage lists the cautions in the client's words.
func (b *clientBook) cautionsPage() {
	const shows = "Cautions, in short"
	b.page(shows)
	blocks := []block{}
	for _, part := range []struct{ severity, heading string }{
		{caution.Stop, "Stop: not to be hung like this"},
		{caution.Ask, "To be found out before the first hole"},
		{caution.Note, "To be kept in mind at work"},
	} {
		one := block{heading: part.heading}
		for _, c := range b.sum.Cautions {
			if c.Severity == part.severity {
				one.items = append(one.items, cautionItem(c))
			}
		}
		if len(one.items) > 0 {
			blocks = append(blocks, one)
		}
	}
	end := []item{{"", client.Standing}, {"", "Each is given in full, with its source, in scope.pdf, and beside the holes that it speaks of in the hole map."}}
	if len(blocks) == 0 {
		end = append([]item{{"", "None of the usual cautions was found to apply. That clears nothing."}}, end...)
	}
	blocks = append(blocks, block{heading: "How far these go", items: end})
	columns := columnsOf(b.body, 2, bookGap)
	if at := b.divide(blocks, columns[0]); at > 0 {
		b.flow(columns[:1], shows, 2).write(blocks[:at])
		b.flow(columns[1:], shows, 2).write(blocks[at:])
		return
	}
	b.flow(columns, shows, 2).write(blocks)
}

// divide returns with which block the second of two columns like the given one begins, so that the longer
// of the two is as short as can be; 0 where they do not fit.
func (b *clientBook) divide(blocks []block, column plane.Rect) int {
	best, least := 0, column.Height()
	for at := 1; at <= len(blocks); at++ {
		tall := 0.0
		for _, part := range [][]block{blocks[:at], blocks[at:]} {
			if len(part) == 0 {
				continue
			}
			area := column
			area.Max.Y = math.Inf(1)
			f := columnFlow{pen: pen{draw.NewRecord()}, letters: bookText, columns: []plane.Rect{area}}
			f.Page(b.paper.Height, b.paper.Width)
			f.write(part)
			tall = max(tall, f.y-column.Min.Y)
		}
		if tall < least {
			best, least = at, tall
		}
	}
	return best
}

// cautionItem words one caution, with who decided about it where somebody has.
func cautionItem(c client.Caution) item {
	text := c.Says + " " + c.On() + "."
	if c.By != "" {
		return item{"Decided", c.Decision() + " It was: " + text}
	}
	return item{"–", text}
}

// The parts of the page to sign, mm.
const (
	signHeight = 40.0
	signLine   = 9.0
)

// agreePage is what both sides sign.
func (b *clientBook) agreePage() {
	const shows = "To agree and sign"
	columns := []column{{"Wall", 3, false}, {"Made of", 1.5, false}, {"Pieces", 1, true}, {"Up to so many holes", 1.9, true}, {"Widest", 1.2, true}, {"Deepest", 1.2, true}}
	var rows [][]string
	for _, w := range b.sum.Walls {
		rows = append(rows, b.agreed(w))
	}
	all := b.agreed(b.everywhere())
	rows = append(rows, all)

	b.page(shows)
	left, right := b.parts(0.56)
	foot := b.body.Max.Y - signHeight
	y := b.words(left, "What is agreed", item{"", b.sum.Promise()}, item{"", "Date of the layout: " + cmp.Or(b.sum.Date, "________________")}) + 2
	left.Min.Y, left.Max.Y = y, foot
	elsewhere := tableRows(left.Height()) < len(rows)
	if elsewhere {
		b.words(left, "", item{"", "Wall by wall as on the pages that follow, which belong to this one."})
		b.table(plane.Rect{Min: plane.Point{X: left.Min.X, Y: y + 9}, Max: left.Max}, columns, [][]string{all}, true)
	} else {
		b.table(left, columns, rows, true)
	}
	y = b.words(right, "When the layout changes", item{"", b.sum.Changes()}) + 3
	right.Min.Y = y
	f := columnFlow{pen: b.pen, letters: bookText, columns: []plane.Rect{right}, y: y}
	f.columns[0].Max.Y = foot
	f.more = func() []plane.Rect { return []plane.Rect{right} }
	for _, c := range b.sum.Choices() {
		f.item(item{"", c.About + " (tick one):"})
		for _, a := range c.Answers {
			f.check(client.Check{Ask: a})
		}
	}
	b.sign(plane.Rect{Min: plane.Point{X: b.body.Min.X, Y: foot}, Max: b.body.Max})
	if elsewhere {
		b.page("What is agreed, wall by wall")
		b.tables(b.body, "What is agreed, wall by wall", columns, rows)
	}
}

// agreed returns the row of a wall.
func (b *clientBook) agreed(w client.Wall) []string {
	widest, deepest := "–", "–"
	bit, depth := 0.0, 0.0
	for _, way := range w.Ways {
		bit, depth = max(bit, way.Bit), max(depth, way.Depth)
	}
	if w.Holes > 0 {
		widest, deepest = b.sum.Length(bit), b.sum.Length(depth)
	}
	return []string{w.Name, w.Surface, fmt.Sprint(w.Pieces), fmt.Sprint(w.Holes), widest, deepest}
}

// everywhere returns all walls as one.
func (b *clientBook) everywhere() client.Wall {
	all := client.Wall{Name: "All", Pieces: b.sum.Pieces, Holes: b.sum.Holes}
	for _, w := range b.sum.Walls {
		all.Ways = append(all.Ways, w.Ways...)
	}
	return all
}

// sign draws what stands over the lines to sign on, and the lines for both sides.
func (b *clientBook) sign(area plane.Rect) {
	b.line(area.Min.X, area.Min.Y+1, area.Max.X, area.Min.Y+1, thin)
	top := area.Min.Y + 1
	for _, line := range wrapped(client.Advice, textHeight, area.Width()) {
		top += textPitch
		b.say(area.Min.X, top, textHeight, line, 0, style{})
	}
	area.Min.Y = top + 2
	sides := columnsOf(area, 2, bookGap)
	for i, party := range b.sum.Parties() {
		side := sides[i]
		b.say(side.Min.X, side.Min.Y+3, draw.Letter25, party, side.Width(), style{bold: true})
		for n, row := range [][]string{{"Name", "Role"}, {"Signature", "Date"}} {
			y := side.Min.Y + 3 + (signLine+1.8)*float64(n+1)
			for m, cell := range columnsOf(side, 2, 5) {
				b.line(cell.Min.X, y, cell.Max.X, y, thin)
				b.say(cell.Min.X, y+2.7, least, row[m], 0, style{colour: quiet})
			}
		}
	}
}
