package sheet

import (
	"fmt"
	"math"
	"strings"

	"wallshoal/export/client"
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
	all := block{heading: "All together", items: []item{
		{count(b.sum.Holes, "hole", "holes"), fmt.Sprintf("for %s on %s", count(b.sum.Pieces, "piece", "pieces"), count(len(b.sum.Walls), "wall", "walls"))},
	}}
	if b.sum.Holes > 0 {
		all.items = append(all.items, item{"", "Their mouths together are " + b.sum.Mouths() + "."})
	}
	blocks := []block{all}
	for _, w := range b.sum.Walls {
		blocks = append(blocks, b.wallBlock(w))
	}
	b.flow(columns, shows, 2).write(blocks)
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
func (b *clientBook) wallBlock(w client.Wall) block {
	out := block{heading: w.Name, items: []item{{count(w.Holes, "hole", "holes"), "for " + count(w.Pieces, "piece", "pieces")}}}
	if w.Surface != "" {
		out.items[0].text += ", in " + w.Surface
	}
	if w.Weight > 0 {
		out.items[0].text += fmt.Sprintf("; they weigh %s in all", measure.Mass(w.Weight, b.sum.Units))
	}
	for _, way := range w.Ways {
		out.items = append(out.items, item{fmt.Sprintf("%d ×", way.Holes), b.sum.Says(way)})
	}
	if len(w.Faces) > 1 {
		var on []string
		for _, f := range w.Faces {
			on = append(on, fmt.Sprintf("%d on %s", f.Holes, f.Name))
		}
		out.items = append(out.items, item{"", "That is " + strings.Join(on, ", ") + "."})
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
	y := b.words(area, "Each size of hole, at full size", item{"", "Print this page at 100 % and hold a rule against the bars below. Where they do not measure what they say, the holes here are not true either."})
	for i, bar := range bars() {
		at := y + 6 + 6.5*float64(i)
		b.Group("check bar " + bar.name)
		b.levelBar(bar, area.Min.X, at)
		b.End()
		b.say(area.Min.X+bar.length+2, at, draw.Letter25, bar.name, area.Max.X-area.Min.X-bar.length-2, style{})
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
			b.say(x+wide/2, y+tall+4.5, draw.Letter25, b.sum.Length(s.Bit), 0, style{align: draw.Centre, bold: true})
			b.say(x+wide/2, y+tall+8, least, count(s.Holes, "hole", "holes"), 0, style{align: draw.Centre, colour: quiet})
			x += wide + mouthGap
		}
		y += tall + mouthWords + mouthGap
		sizes = sizes[n:]
	}
	return nil
}

// mouthWide returns how wide a mouth and the words below it are.
func (b *clientBook) mouthWide(s client.Size) float64 {
	return max(s.Bit, wide(b.sum.Length(s.Bit), draw.Letter25, true), wide(count(s.Holes, "hole", "holes"), least, false))
}

// mouth draws one, its outer edge true.
func (b *clientBook) mouth(at plane.Point, bit float64) {
	if bit <= mouthSolid {
		b.Circle(at, bit/2, draw.Paint{Fill: draw.Solid(ink)})
		return
	}
	b.Circle(at, bit/2-thin.Width/2, draw.Paint{Stroke: thin})
}

// goodPage says what making good takes.
func (b *clientBook) goodPage() {
	const shows = "When it comes down: making good"
	b.page(shows)
	left, right := b.parts(0.54)
	var items []item
	for _, w := range b.sum.GoodWords() {
		items = append(items, item{"", w})
	}
	right.Min.Y = b.words(right, "What it takes", items...) + 3
	items = nil
	for _, c := range b.sum.Good.Cautions {
		items = append(items, item{"", c.Text})
	}
	b.words(right, "Before anybody scrapes or sands", append(items, item{"", client.Standing})...)
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
