package sheet

import (
	"math"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A block is a run of text under a heading, after the rows of a legend if there are any.
type block struct {
	heading string
	rows    []row
	items   []item
}

// An item is one paragraph of a block, with what stands before it, such as its number.
type item struct {
	lead string
	text string
}

// The letters of running text, mm.
const (
	headingHeight = draw.Letter35
	textHeight    = 2.2
	textPitch     = textHeight * 1.7
)

// A column flow writes blocks into columns, left to right, and asks for more columns when they are
// full.
type columnFlow struct {
	pen
	columns []plane.Rect
	more    func() []plane.Rect
	y       float64
	letters float64 // height of running text, mm; textHeight where 0
	hang    float64 // how far the lines of a paragraph after its first stand in, mm; as far as the first does where 0
}

// letter and pitch return the height of running text and how far its lines are apart.
func (f *columnFlow) letter() float64 {
	if f.letters > 0 {
		return f.letters
	}
	return textHeight
}

func (f *columnFlow) pitch() float64 { return f.letter() * (textPitch / textHeight) }

// write writes the blocks one after the other.
func (f *columnFlow) write(blocks []block) {
	f.y = f.columns[0].Min.Y
	for _, b := range blocks {
		f.block(b)
	}
}

func (f *columnFlow) block(b block) {
	if f.y > f.columns[0].Min.Y {
		f.y += 3
	}
	f.room(f.head(b))
	f.y += headingHeight
	f.say(f.columns[0].Min.X, f.y, headingHeight, b.heading, f.columns[0].Width(), style{bold: true})
	f.y += 1.5
	for _, r := range b.rows {
		f.row(r)
	}
	for _, i := range b.items {
		f.item(i)
	}
}

// head returns how tall the heading of a block is with what it stays with: its first row or paragraph,
// or two lines of one that is longer than a column.
func (f *columnFlow) head(b block) float64 {
	const heading = headingHeight + 2
	first := 2 * f.pitch()
	switch {
	case len(b.rows) > 0 && b.rows[0].mark:
		first = markHeight + 0.9
	case len(b.rows) > 0:
		first = sampleHeight + 0.9
	case len(b.items) > 0:
		lines, _ := f.lines(b.items[0])
		first = math.Max(first, float64(len(lines))*f.pitch())
	}
	if heading+first > f.columns[0].Height() {
		return heading + 2*f.pitch()
	}
	return heading + first
}

// lines returns the lines of a paragraph, and how far they stand in.
func (f *columnFlow) lines(i item) (lines []string, indent float64) {
	if i.lead != "" {
		indent = wide(i.lead, f.letter(), true) + 1.6
	}
	first := draw.Text{Say: i.text, Height: f.letter()}
	lines = first.Wrap(f.columns[0].Width() - indent)
	if f.hang == 0 || len(lines) < 2 {
		return lines, indent
	}
	clean, _ := draw.Clean(i.text)
	rest := strings.TrimSpace(strings.TrimPrefix(strings.Join(strings.Fields(clean), " "), lines[0]))
	return append(lines[:1:1], draw.Text{Say: rest, Height: f.letter()}.Wrap(f.columns[0].Width()-f.hang)...), indent
}

func (f *columnFlow) item(i item) {
	lines, indent := f.lines(i)
	f.whole(float64(len(lines)) * f.pitch())
	for n, line := range lines {
		f.room(f.pitch())
		f.y += f.pitch()
		x := f.columns[0].Min.X
		if n == 0 && i.lead != "" {
			f.say(x, f.y, f.letter(), i.lead, 0, style{bold: true})
		}
		if n > 0 && f.hang > 0 {
			indent = f.hang
		}
		f.say(x+indent, f.y, f.letter(), line, 0, style{})
	}
	f.y += 0.9
}

// The sample of a row, mm.
const (
	sampleWidth  = 14.0
	sampleHeight = 6.0
	markHeight   = 2*crossReach + 1
)

func (f *columnFlow) row(r row) {
	indent := sampleWidth + 2
	if r.lead != "" {
		indent += wide(r.lead, f.letter(), true) + 1.6
	}
	lines := draw.Text{Say: r.text, Height: f.letter()}.Wrap(f.columns[0].Width() - indent)
	text := float64(len(lines)) * f.pitch()
	tall := sampleHeight
	if r.mark {
		tall = markHeight
	}
	height := math.Max(text, tall) + 0.9
	f.room(height)
	left, top := f.columns[0].Min.X, f.y+0.6
	r.sample(f.pen, plane.Rect{Min: plane.Point{X: left, Y: top}, Max: plane.Point{X: left + sampleWidth, Y: top + tall - 0.6}})
	y := f.y + (height-text)/2
	for n, line := range lines {
		y += f.pitch()
		if n == 0 && r.lead != "" {
			f.say(left+sampleWidth+2, y-0.8, f.letter(), r.lead, 0, style{bold: true})
		}
		f.say(left+indent, y-0.8, f.letter(), line, 0, style{})
	}
	f.y += height
}

// whole goes on to the next column where a text of the given height would break off in this one,
// unless it is too long for any.
func (f *columnFlow) whole(height float64) {
	if height <= f.columns[0].Height() {
		f.room(height)
	}
}

// room goes on to the next column where less than height is left in this one.
func (f *columnFlow) room(height float64) {
	if f.y+height <= f.columns[0].Max.Y {
		return
	}
	f.columns = f.columns[1:]
	if len(f.columns) == 0 {
		f.columns = f.more()
	}
	f.y = f.columns[0].Min.Y
}

// columnsOf divides an area into n columns with the gap between them.
func columnsOf(area plane.Rect, n int, gap float64) []plane.Rect {
	width := (area.Width() - gap*float64(n-1)) / float64(n)
	out := make([]plane.Rect, n)
	for i := range out {
		left := area.Min.X + float64(i)*(width+gap)
		out[i] = plane.Rect{Min: plane.Point{X: left, Y: area.Min.Y}, Max: plane.Point{X: left + width, Y: area.Max.Y}}
	}
	return out
}

// left returns the columns of the page that are still empty as one area, and whether there are any.
func (f *columnFlow) left() (area plane.Rect, found bool) {
	if len(f.columns) < 2 {
		return plane.Rect{}, false
	}
	return f.columns[1].Union(f.columns[len(f.columns)-1]), true
}
