package drafting

import (
	"math"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A Block is a run of text under a heading, after the rows of a legend if there are any.
type Block struct {
	Heading string
	Rows    []Row
	Items   []Item
}

// An Item is one paragraph of a block, with what stands before it, such as its number.
type Item struct {
	Lead string
	Text string
}

// The letters of running text, mm.
const (
	HeadingHeight = draw.Letter35
	TextHeight    = 2.2
	TextPitch     = TextHeight * 1.7
)

// A ColumnFlow writes blocks into columns, left to right, and asks for more columns when they are
// full.
type ColumnFlow struct {
	Pen
	Columns []plane.Rect
	More    func() []plane.Rect
	Y       float64
	Letters float64 // height of running text, mm; textHeight where 0
	Hang    float64 // how far the lines of a paragraph after its first stand in, mm; as far as the first does where 0
}

// letter and pitch return the height of running text and how far its lines are apart.
func (f *ColumnFlow) letter() float64 {
	if f.Letters > 0 {
		return f.Letters
	}
	return TextHeight
}

func (f *ColumnFlow) pitch() float64 { return f.letter() * (TextPitch / TextHeight) }

// Write writes the blocks one after the other.
func (f *ColumnFlow) Write(blocks []Block) {
	f.Y = f.Columns[0].Min.Y
	for _, b := range blocks {
		f.Block(b)
	}
}

// Block writes one block, in as many columns as it takes.
func (f *ColumnFlow) Block(b Block) {
	if f.Y > f.Columns[0].Min.Y {
		f.Y += 3
	}
	f.Room(f.head(b))
	f.Y += HeadingHeight
	f.Say(f.Columns[0].Min.X, f.Y, HeadingHeight, b.Heading, f.Columns[0].Width(), Style{Bold: true})
	f.Y += 1.5
	for _, r := range b.Rows {
		f.row(r)
	}
	for _, i := range b.Items {
		f.Item(i)
	}
}

// head returns how tall the heading of a block is with what it stays with: its first row or paragraph,
// or two lines of one that is longer than a column.
func (f *ColumnFlow) head(b Block) float64 {
	const heading = HeadingHeight + 2
	first := 2 * f.pitch()
	switch {
	case len(b.Rows) > 0 && b.Rows[0].Mark:
		first = markHeight + 0.9
	case len(b.Rows) > 0:
		first = sampleHeight + 0.9
	case len(b.Items) > 0:
		lines, _ := f.lines(b.Items[0])
		first = math.Max(first, float64(len(lines))*f.pitch())
	}
	if heading+first > f.Columns[0].Height() {
		return heading + 2*f.pitch()
	}
	return heading + first
}

// lines returns the lines of a paragraph, and how far they stand in.
func (f *ColumnFlow) lines(i Item) (lines []string, indent float64) {
	if i.Lead != "" {
		indent = TextWidth(i.Lead, f.letter(), true) + 1.6
	}
	first := draw.Text{Say: i.Text, Height: f.letter()}
	lines = first.Wrap(f.Columns[0].Width() - indent)
	if f.Hang == 0 || len(lines) < 2 {
		return lines, indent
	}
	clean, _ := draw.Clean(i.Text)
	rest := strings.TrimSpace(strings.TrimPrefix(strings.Join(strings.Fields(clean), " "), lines[0]))
	return append(lines[:1:1], draw.Text{Say: rest, Height: f.letter()}.Wrap(f.Columns[0].Width()-f.Hang)...), indent
}

// Item writes one item.
func (f *ColumnFlow) Item(i Item) {
	lines, indent := f.lines(i)
	f.Whole(float64(len(lines)) * f.pitch())
	for n, line := range lines {
		f.Room(f.pitch())
		f.Y += f.pitch()
		x := f.Columns[0].Min.X
		if n == 0 && i.Lead != "" {
			f.Say(x, f.Y, f.letter(), i.Lead, 0, Style{Bold: true})
		}
		if n > 0 && f.Hang > 0 {
			indent = f.Hang
		}
		f.Say(x+indent, f.Y, f.letter(), line, 0, Style{})
	}
	f.Y += 0.9
}

// The sample of a row, mm.
const (
	sampleWidth  = 14.0
	sampleHeight = 6.0
	markHeight   = 2*CrossReach + 1
)

func (f *ColumnFlow) row(r Row) {
	indent := sampleWidth + 2
	if r.Lead != "" {
		indent += TextWidth(r.Lead, f.letter(), true) + 1.6
	}
	lines := draw.Text{Say: r.Text, Height: f.letter()}.Wrap(f.Columns[0].Width() - indent)
	text := float64(len(lines)) * f.pitch()
	tall := sampleHeight
	if r.Mark {
		tall = markHeight
	}
	height := math.Max(text, tall) + 0.9
	f.Room(height)
	left, top := f.Columns[0].Min.X, f.Y+0.6
	r.Sample(f.Pen, plane.Rect{Min: plane.Point{X: left, Y: top}, Max: plane.Point{X: left + sampleWidth, Y: top + tall - 0.6}})
	y := f.Y + (height-text)/2
	for n, line := range lines {
		y += f.pitch()
		if n == 0 && r.Lead != "" {
			f.Say(left+sampleWidth+2, y-0.8, f.letter(), r.Lead, 0, Style{Bold: true})
		}
		f.Say(left+indent, y-0.8, f.letter(), line, 0, Style{})
	}
	f.Y += height
}

// Whole goes on to the next column where a text of the given height would break off in this one,
// unless it is too long for any.
func (f *ColumnFlow) Whole(height float64) {
	if height <= f.Columns[0].Height() {
		f.Room(height)
	}
}

// Room goes on to the next column where less than height is left in this one.
func (f *ColumnFlow) Room(height float64) {
	if f.Y+height <= f.Columns[0].Max.Y {
		return
	}
	f.Columns = f.Columns[1:]
	if len(f.Columns) == 0 {
		f.Columns = f.More()
	}
	f.Y = f.Columns[0].Min.Y
}

// ColumnsOf divides an area into n columns with the gap between them.
func ColumnsOf(area plane.Rect, n int, gap float64) []plane.Rect {
	width := (area.Width() - gap*float64(n-1)) / float64(n)
	out := make([]plane.Rect, n)
	for i := range out {
		left := area.Min.X + float64(i)*(width+gap)
		out[i] = plane.Rect{Min: plane.Point{X: left, Y: area.Min.Y}, Max: plane.Point{X: left + width, Y: area.Max.Y}}
	}
	return out
}

// Left returns the columns of the page that are still empty as one area, and whether there are any.
func (f *ColumnFlow) Left() (area plane.Rect, found bool) {
	if len(f.Columns) < 2 {
		return plane.Rect{}, false
	}
	return f.Columns[1].Union(f.Columns[len(f.Columns)-1]), true
}

// A Row is one line of a legend: a sample, and what it stands for.
type Row struct {
	Sample func(p Pen, box plane.Rect)
	Lead   string
	Text   string
	Mark   bool // the sample is a mark at the size it has on the sheets
}
