package clientpage

import (
	"fmt"
	"math"
	"strings"

	"wallshoal/export/client"
	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// holesPage says what is drilled into each wall, and draws the mouth of each size of hole as large as
// it is.
func (b *clientBook) holesPage() {
	const shows = "Holes and fixings, wall by wall"
	b.page(shows)
	columns := []plane.Rect{b.body}
	var rest []client.Size
	if len(b.sum.Sizes) > 0 {
		left, right := b.parts((b.body.Width() - bookGap - mouthsWidth) / (b.body.Width() - bookGap))
		columns[0] = left
		rest = b.mouths(right, b.sum.Sizes)
	}
	all := drafting.Block{Heading: "All together", Items: []drafting.Item{
		{Lead: drafting.Count(b.sum.Holes, "hole", "holes"), Text: fmt.Sprintf("for %s on %s", drafting.Count(b.sum.Pieces, "piece", "pieces"), drafting.Count(len(b.sum.Walls), "wall", "walls"))},
	}}
	if b.sum.Holes > 0 {
		all.Items = append(all.Items, drafting.Item{Lead: "", Text: "Their mouths together are " + b.sum.Mouths() + "."})
	}
	blocks := []drafting.Block{all}
	for _, w := range b.sum.Walls {
		blocks = append(blocks, b.wallBlock(w))
	}
	b.flow(columns, shows, 2).Write(blocks)
	for len(rest) > 0 {
		b.page("Sizes of hole, at full size, continued")
		b.Group(mouthsName)
		rest = b.mouthRows(b.body, rest)
		b.End()
	}
}

// mouthsName is the group of all that is drawn as large as it is.
const mouthsName = "mouths at full size"

// wallBlock says what is drilled into one wall.
func (b *clientBook) wallBlock(w client.Wall) drafting.Block {
	out := drafting.Block{Heading: w.Name, Items: []drafting.Item{{Lead: drafting.Count(w.Holes, "hole", "holes"), Text: "for " + drafting.Count(w.Pieces, "piece", "pieces")}}}
	if w.Surface != "" {
		out.Items[0].Text += ", in " + w.Surface
	}
	if w.Weight > 0 {
		out.Items[0].Text += fmt.Sprintf("; they weigh %s in all", measure.Mass(w.Weight, b.sum.Units))
	}
	for _, way := range w.Ways {
		out.Items = append(out.Items, drafting.Item{Lead: fmt.Sprintf("%d ×", way.Holes), Text: b.sum.Says(way)})
	}
	if len(w.Faces) > 1 {
		var on []string
		for _, f := range w.Faces {
			on = append(on, fmt.Sprintf("%d on %s", f.Holes, f.Name))
		}
		out.Items = append(out.Items, drafting.Item{Lead: "", Text: "That is " + strings.Join(on, ", ") + "."})
	}
	return out
}

// The mouths of holes, mm.
const (
	mouthsWidth = 124.0 // of their part of the page
	mouthWords  = 8.5   // below each
	mouthGap    = 6.0
	mouthSolid  = 20.0 // the widest that is drawn solid
)

// mouths draws sizes of hole at full size beside check bars, as many as there is room for, and returns
// the others.
func (b *clientBook) mouths(area plane.Rect, sizes []client.Size) []client.Size {
	b.Group(mouthsName)
	defer b.End()
	y := b.words(area, "Each size of hole, at full size", drafting.Item{Lead: "", Text: "Print this page at 100 % and hold a rule against the bars below. Where they do not measure what they say, the holes here are not true either."})
	for i, bar := range drafting.Bars() {
		at := y + 6 + 6.5*float64(i)
		b.Group("check bar " + bar.Name)
		b.LevelBar(bar, area.Min.X, at)
		b.End()
		b.Say(area.Min.X+bar.Length+2, at, draw.Letter25, bar.Name, area.Max.X-area.Min.X-bar.Length-2, drafting.Style{})
	}
	area.Min.Y = y + 19
	return b.mouthRows(area, sizes)
}

// mouthRows draws as many sizes as an area has room for, and returns the others.
func (b *clientBook) mouthRows(area plane.Rect, sizes []client.Size) []client.Size {
	y := area.Min.Y
	for len(sizes) > 0 {
		x, n := area.Min.X, 0
		for n < len(sizes) && x+b.mouthWide(sizes[n]) <= area.Max.X {
			x += b.mouthWide(sizes[n]) + mouthGap
			n++
		}
		if n == 0 {
			return sizes
		}
		tall := sizes[n-1].Bit // the widest of the row
		if y+tall+mouthWords > area.Max.Y {
			return sizes
		}
		x = area.Min.X
		for _, s := range sizes[:n] {
			wide := b.mouthWide(s)
			b.mouth(plane.Point{X: x + wide/2, Y: y + tall - s.Bit/2}, s.Bit)
			b.Say(x+wide/2, y+tall+4.5, draw.Letter25, b.sum.Length(s.Bit), 0, drafting.Style{Align: draw.Centre, Bold: true})
			b.Say(x+wide/2, y+tall+8, drafting.Least, drafting.Count(s.Holes, "hole", "holes"), 0, drafting.Style{Align: draw.Centre, Colour: drafting.Quiet})
			x += wide + mouthGap
		}
		y += tall + mouthWords + mouthGap
		sizes = sizes[n:]
	}
	return nil
}

// mouthWide returns how wide a mouth and the words below it are.
func (b *clientBook) mouthWide(s client.Size) float64 {
	return max(s.Bit, drafting.TextWidth(b.sum.Length(s.Bit), draw.Letter25, true), drafting.TextWidth(drafting.Count(s.Holes, "hole", "holes"), drafting.Least, false))
}

// mouth draws one, its outer edge true.
func (b *clientBook) mouth(at plane.Point, bit float64) {
	if bit <= mouthSolid {
		b.Circle(at, bit/2, draw.Paint{Fill: draw.Solid(drafting.Ink)})
		return
	}
	b.Circle(at, bit/2-drafting.Thin.Width/2, draw.Paint{Stroke: drafting.Thin})
}

// goodPage says what making good takes.
func (b *clientBook) goodPage() {
	const shows = "When it comes down: making good"
	b.page(shows)
	left, right := b.parts(0.54)
	var items []drafting.Item
	for _, w := range b.sum.GoodWords() {
		items = append(items, drafting.Item{Lead: "", Text: w})
	}
	right.Min.Y = b.words(right, "What it takes", items...) + 3
	items = nil
	for _, c := range b.sum.Good.Cautions {
		items = append(items, drafting.Item{Lead: "", Text: c.Text})
	}
	b.words(right, "Before anybody scrapes or sands", append(items, drafting.Item{Lead: "", Text: client.Standing})...)
	var rows [][]string
	for _, w := range b.sum.Walls {
		rows = append(rows, []string{w.Name, fmt.Sprint(w.Holes), b.sum.Volume(w.Filler), b.sum.Area(w.Touched), b.sum.Area(w.Repainted)})
	}
	g := b.sum.Good
	rows = append(rows, []string{"All", fmt.Sprint(g.Holes), b.sum.Volume(g.Filler), b.sum.Area(g.Touched), b.sum.Area(g.Repainted)})
	columns := []column{{"Wall", 3, false}, {"Holes to fill", 1.3, true}, {"Filler", 1.3, true}, {"Touched up", 1.3, true}, {"or painted whole", 1.6, true}}
	left.Max.Y = math.Min(left.Max.Y, b.body.Max.Y)
	b.tables(left, shows, columns, rows)
}
