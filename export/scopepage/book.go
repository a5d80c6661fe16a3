package scopepage

import (
	"fmt"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/making"
	"wallshoal/export/scope"
	"wallshoal/wall/plane"
)

// A book draws the pages one after the other, from the top of the first down.
type book struct {
	draw.Canvas
	work   holemap.Work
	scope  scope.Scope
	made   making.Making
	size   draw.Size
	number int // of the page
	all    int
	body   plane.Rect
	y      float64 // how far down the body is used
}

// Measures of a page, mm.
const (
	side   = 18.0 // left and right of the body
	top    = 22.0
	bottom = 20.0

	textHeight = 2.2 // of running text
	textPitch  = 3.8
	leadRoom   = 12.0 // of the paragraph that a section begins with
	smallPitch = 3.2  // of letters of 1.8 mm
	parting    = 1.6  // between paragraphs
)

var (
	quiet = draw.Grey(80)
	hair  = draw.Stroke{Width: draw.Width013, Colour: draw.Grey(150)}
	thin  = draw.Stroke{Width: draw.Width018}
	edge  = draw.Stroke{Width: draw.Width035}
)

func (b *book) say(x, y, height float64, text string, t draw.Text) {
	t.At, t.Say, t.Height = plane.Point{X: x, Y: y}, text, height
	b.Text(t)
}

// fitted writes one line that shrinks, and at last is cut, where it is wider than width.
func (b *book) fitted(x, y, height float64, text string, width float64, t draw.Text) {
	t.At, t.Say, t.Height = plane.Point{X: x, Y: y}, text, height
	b.Text(t.Fit(width, draw.Letter18))
}

func (b *book) line(x1, y1, x2, y2 float64, s draw.Stroke) {
	b.Line(plane.Point{X: x1, Y: y1}, plane.Point{X: x2, Y: y2}, s)
}

func wide(text string, height float64, bold bool) float64 {
	return draw.Text{Say: text, Height: height, Bold: bold}.Width()
}

// page begins a page with its head and foot.
func (b *book) page() {
	b.number++
	b.Page(b.size.Width, b.size.Height)
	b.body = plane.Rect{Min: plane.Point{X: side, Y: top}, Max: plane.Point{X: b.size.Width - side, Y: b.size.Height - bottom}}
	b.y = b.body.Min.Y
	left, right, width := b.body.Min.X, b.body.Max.X, b.body.Width()
	if b.number > 1 {
		b.fitted(left, top-8, draw.Letter18, b.scope.Title, 0.6*width, draw.Text{Bold: true, Colour: quiet})
		b.fitted(right, top-8, draw.Letter18, "Scope", 0.35*width, draw.Text{Align: draw.Right, Colour: quiet})
		b.line(left, top-6, right, top-6, hair)
	}
	foot := b.size.Height - bottom + 9
	b.line(left, foot-4, right, foot-4, hair)
	b.fitted(left, foot, draw.Letter18, fmt.Sprintf("fingerprint %s · seed %d · the same figures as scope.md", b.scope.Fingerprint, b.scope.Seed), 0.75*width, draw.Text{Colour: quiet})
	b.say(right, foot, draw.Letter18, fmt.Sprintf("page %d of %d", b.number, b.all), draw.Text{Align: draw.Right, Colour: quiet})
}

// left returns how much of the page is left below what is used.
func (b *book) left() float64 { return b.body.Max.Y - b.y }

// need begins a page where less than height is left, unless the page is still empty.
func (b *book) need(height float64) {
	if height > b.left() && b.y > b.body.Min.Y {
		b.page()
	}
}

// heading begins a section, with room for so much of what follows it.
func (b *book) heading(text string, keep float64) {
	if b.y > b.body.Min.Y {
		b.need(7 + draw.Letter35 + 2.6 + keep)
	}
	if b.y > b.body.Min.Y {
		b.y += 7
	}
	b.y += draw.Letter35
	b.fitted(b.body.Min.X, b.y, draw.Letter35, text, b.body.Width(), draw.Text{Bold: true})
	b.y += 2.6
}

// under begins a part of a section, with room for so much of what follows it.
func (b *book) under(text string, keep float64) {
	b.need(3 + 4 + keep)
	if b.y > b.body.Min.Y {
		b.y += 3
	}
	b.y += draw.Letter25
	b.fitted(b.body.Min.X, b.y, draw.Letter25, text, b.body.Width(), draw.Text{Bold: true})
	b.y += 1.6
}

// A paragraph is running text: what leads it stands before it in bold, and all its lines stand in by as
// much where it hangs.
type paragraph struct {
	lead, text string
	hang       float64 // mm that lines stand in, besides
	small      bool
}

// para writes a paragraph. One of up to five lines stays whole, and a longer one leaves no line alone.
func (b *book) para(p paragraph) {
	height, pitch, colour := textHeight, textPitch, draw.Black
	if p.small {
		height, pitch, colour = draw.Letter18, smallPitch, quiet
	}
	x, width := b.body.Min.X+p.hang, b.body.Width()-p.hang
	first := 0.0
	if p.lead != "" {
		first = wide(p.lead+" ", height, true)
	}
	lines := hung(p.text, height, first, width)
	keep := len(lines)
	if keep > 5 {
		keep = 2
	}
	b.need(float64(keep) * pitch)
	for i, l := range lines {
		rest := len(lines) - i
		if keep == 2 && rest == 2 {
			b.need(2 * pitch)
		} else {
			b.need(pitch)
		}
		b.y += pitch
		at := x
		if i == 0 && p.lead != "" {
			b.say(x, b.y-0.9, height, p.lead, draw.Text{Bold: true, Colour: colour})
			at += first
		}
		b.say(at, b.y-0.9, height, l, draw.Text{Colour: colour})
	}
	b.y += parting
}

// hung breaks text into lines of a width, of which the first begins so far in.
func hung(text string, height, first, width float64) []string {
	t := draw.Text{Say: text, Height: height}
	if first == 0 {
		return t.Wrap(width)
	}
	var head []string
	words := draw.Words(text)
	for n := 1; n <= len(words); n++ {
		if wide(strings.Join(words[:n], " "), height, false) > width-first {
			break
		}
		head = words[:n]
	}
	rest := draw.Text{Say: strings.Join(words[len(head):], " "), Height: height}.Wrap(width)
	return append([]string{strings.Join(head, " ")}, rest...)
}

// list writes points with a dash before each.
func (b *book) list(points []string) {
	for _, p := range points {
		before := b.number
		lines := len(draw.Text{Say: p, Height: textHeight}.Wrap(b.body.Width() - 4))
		b.need(float64(min(lines, 5)) * textPitch)
		if b.number != before {
			b.y = b.body.Min.Y
		}
		b.say(b.body.Min.X, b.y+textPitch-0.9, textHeight, "–", draw.Text{})
		b.para(paragraph{text: p, hang: 4})
		b.y -= parting / 2
	}
	b.y += parting / 2
}
