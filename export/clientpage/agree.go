package clientpage

import (
	"cmp"
	"fmt"
	"math"

	"wallshoal/export/caution"
	"wallshoal/export/client"
	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// tickBox draws a box to tick with its foot at (x, y).
func tickBox(p drafting.Pen, x, y float64) {
	p.Box(plane.Rect{Min: plane.Point{X: x, Y: y - 2.9}, Max: plane.Point{X: x + 3.2, Y: y + 0.3}}, draw.Paint{Stroke: drafting.Thin})
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
	t.Pen = drafting.Pen{Canvas: draw.NewRecord()}
	t.Page(b.paper.Height, b.paper.Width)
	t.number = 0
	return &t
}

// checks writes groups of checks into columns, and returns how many pages they take from the one on which
// they begin.
func (b *clientBook) checks(shows string, groups []client.Checks) int {
	first := b.number
	f := b.flow(drafting.ColumnsOf(b.body, 3, bookGap), shows, 3)
	f.Letters = 0
	for _, g := range groups {
		height := 0.0
		if g.Heading != "" {
			height = 3 + drafting.HeadingHeight + 2
		}
		for _, i := range g.Items {
			height += checkHeight(f, i)
		}
		f.Whole(height)
		if g.Heading != "" {
			f.Block(drafting.Block{Heading: g.Heading})
		}
		for _, i := range g.Items {
			check(f, i)
		}
	}
	check(f, client.Check{Ask: client.Ticked, Write: "Name and date"})
	return b.number - first + 1
}

// checkLines breaks what a check says into lines.
func checkLines(f *drafting.ColumnFlow, c client.Check) (asks, why []string) {
	width := f.Columns[0].Width() - checkIndent
	if c.Why != "" {
		why = drafting.Wrapped("Here: "+c.Why, whyHeight, width)
	}
	return drafting.Wrapped(c.Ask, drafting.TextHeight, width), why
}

// checkHeight returns how much room a check takes.
func checkHeight(f *drafting.ColumnFlow, c client.Check) float64 {
	asks, why := checkLines(f, c)
	height := float64(len(asks))*drafting.TextPitch + float64(len(why))*whyPitch + checkGap
	if c.Write != "" {
		height += writeRoom
	}
	return height
}

// check writes one box with what it asks, why, and a line to write on.
func check(f *drafting.ColumnFlow, c client.Check) {
	asks, why := checkLines(f, c)
	f.Whole(checkHeight(f, c))
	for i, line := range asks {
		f.Room(drafting.TextPitch)
		f.Y += drafting.TextPitch
		x := f.Columns[0].Min.X
		if i == 0 {
			tickBox(f.Pen, x, f.Y)
		}
		f.Say(x+checkIndent, f.Y, drafting.TextHeight, line, 0, drafting.Style{})
	}
	for _, line := range why {
		f.Room(whyPitch)
		f.Y += whyPitch
		x := f.Columns[0].Min.X
		f.Say(x+checkIndent, f.Y, whyHeight, line, 0, drafting.Style{Colour: drafting.Quiet})
	}
	if c.Write != "" {
		f.Room(writeRoom)
		f.Y += writeRoom
		x := f.Columns[0].Min.X
		name := c.Write + ":"
		f.Say(x+checkIndent, f.Y-0.6, whyHeight, name, 0, drafting.Style{Colour: drafting.Quiet})
		f.Segment(x+checkIndent+drafting.TextWidth(name, whyHeight, false)+2, f.Y, f.Columns[0].Max.X, f.Y, drafting.Thin)
	}
	f.Y += checkGap
}

// cautionsPage lists the cautions in the client's words.
func (b *clientBook) cautionsPage() {
	const shows = "Cautions, in short"
	b.page(shows)
	blocks := []drafting.Block{}
	for _, part := range []struct{ severity, heading string }{
		{caution.Stop, "Stop: not to be hung like this"},
		{caution.Ask, "To be found out before the first hole"},
		{caution.Note, "To be kept in mind at work"},
	} {
		one := drafting.Block{Heading: part.heading}
		for _, c := range b.sum.Cautions {
			if c.Severity == part.severity {
				one.Items = append(one.Items, cautionItem(c))
			}
		}
		if len(one.Items) > 0 {
			blocks = append(blocks, one)
		}
	}
	end := []drafting.Item{{Lead: "", Text: client.Standing}, {Lead: "", Text: "Each is given in full, with its source, in scope.pdf, and beside the holes that it speaks of in the hole map."}}
	if len(blocks) == 0 {
		end = append([]drafting.Item{{Lead: "", Text: "None of the usual cautions was found to apply. That clears nothing."}}, end...)
	}
	blocks = append(blocks, drafting.Block{Heading: "How far these go", Items: end})
	columns := drafting.ColumnsOf(b.body, 2, bookGap)
	if at := b.divide(blocks, columns[0]); at > 0 {
		b.flow(columns[:1], shows, 2).Write(blocks[:at])
		b.flow(columns[1:], shows, 2).Write(blocks[at:])
		return
	}
	b.flow(columns, shows, 2).Write(blocks)
}

// divide returns with which block the second of two columns like the given one begins, so that the longer
// of the two is as short as can be; 0 where they do not fit.
func (b *clientBook) divide(blocks []drafting.Block, column plane.Rect) int {
	best, least := 0, column.Height()
	for at := 1; at <= len(blocks); at++ {
		tall := 0.0
		for _, part := range [][]drafting.Block{blocks[:at], blocks[at:]} {
			if len(part) == 0 {
				continue
			}
			area := column
			area.Max.Y = math.Inf(1)
			f := drafting.ColumnFlow{Pen: drafting.Pen{Canvas: draw.NewRecord()}, Letters: bookText, Columns: []plane.Rect{area}}
			f.Page(b.paper.Height, b.paper.Width)
			f.Write(part)
			tall = max(tall, f.Y-column.Min.Y)
		}
		if tall < least {
			best, least = at, tall
		}
	}
	return best
}

// cautionItem words one caution, with who decided about it where somebody has.
func cautionItem(c client.Caution) drafting.Item {
	text := c.Says + " " + c.On() + "."
	if c.By != "" {
		return drafting.Item{Lead: "Decided", Text: c.Decision() + " It was: " + text}
	}
	return drafting.Item{Lead: "–", Text: text}
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
	y := b.words(left, "What is agreed", drafting.Item{Lead: "", Text: b.sum.Promise()}, drafting.Item{Lead: "", Text: "Date of the layout: " + cmp.Or(b.sum.Date, "________________")}) + 2
	left.Min.Y, left.Max.Y = y, foot
	elsewhere := tableRows(left.Height()) < len(rows)
	if elsewhere {
		b.words(left, "", drafting.Item{Lead: "", Text: "Wall by wall as on the pages that follow, which belong to this one."})
		b.table(plane.Rect{Min: plane.Point{X: left.Min.X, Y: y + 9}, Max: left.Max}, columns, [][]string{all}, true)
	} else {
		b.table(left, columns, rows, true)
	}
	y = b.words(right, "When the layout changes", drafting.Item{Lead: "", Text: b.sum.Changes()}) + 3
	right.Min.Y = y
	f := drafting.ColumnFlow{Pen: b.Pen, Letters: bookText, Columns: []plane.Rect{right}, Y: y}
	f.Columns[0].Max.Y = foot
	f.More = func() []plane.Rect { return []plane.Rect{right} }
	for _, c := range b.sum.Choices() {
		f.Item(drafting.Item{Lead: "", Text: c.About + " (tick one):"})
		for _, a := range c.Answers {
			check(&f, client.Check{Ask: a})
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
	b.Segment(area.Min.X, area.Min.Y+1, area.Max.X, area.Min.Y+1, drafting.Thin)
	top := area.Min.Y + 1
	for _, line := range drafting.Wrapped(client.Advice, drafting.TextHeight, area.Width()) {
		top += drafting.TextPitch
		b.Say(area.Min.X, top, drafting.TextHeight, line, 0, drafting.Style{})
	}
	area.Min.Y = top + 2
	sides := drafting.ColumnsOf(area, 2, bookGap)
	for i, party := range b.sum.Parties() {
		side := sides[i]
		b.Say(side.Min.X, side.Min.Y+3, draw.Letter25, party, side.Width(), drafting.Style{Bold: true})
		for n, row := range [][]string{{"Name", "Role"}, {"Signature", "Date"}} {
			y := side.Min.Y + 3 + (signLine+1.8)*float64(n+1)
			for m, cell := range drafting.ColumnsOf(side, 2, 5) {
				b.Segment(cell.Min.X, y, cell.Max.X, y, drafting.Thin)
				b.Say(cell.Min.X, y+2.7, drafting.Least, row[m], 0, drafting.Style{Colour: drafting.Quiet})
			}
		}
	}
}
