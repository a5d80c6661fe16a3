package draw

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"wallshoal/wall/plane"
)

// Letter heights of ISO 3098, in mm: the height of a capital.
const (
	Letter18 = 1.8
	Letter25 = 2.5
	Letter35 = 3.5
	Letter50 = 5.0
	Letter70 = 7.0
	Letter10 = 10.0
	Letter14 = 14.0
	Letter20 = 20.0
)

// An Align says which part of a line of text stands at its point.
type Align int

// The parts of a line that can stand at its point.
const (
	Left Align = iota
	Centre
	Right
)

// A Text is one line of text.
type Text struct {
	At     plane.Point // on the baseline, at the end or middle that Align names
	Say    string
	Height float64 // of a capital, mm
	Bold   bool
	Align  Align
	Turn   float64 // about At, radians counter-clockwise as the reader sees it
	Colour Colour
}

// noBreak is a space at which no line ends, such as the one within a number.
const noBreak = '\u00a0'

// Clean returns s as it can be printed, and the characters that could not be and became boxes.
// What comes out is in normal form C on one line: tabs, line ends and unusual spaces become
// spaces, those that hold words together the no-break space of the fonts, other controls and marks of direction go, and a box stands for bytes that are not UTF-8
// and for characters that the fonts lack.
func Clean(s string) (clean string, lost []rune) {
	if isPlain(s) {
		return s, nil
	}
	fonts := regular()
	var out strings.Builder
	for _, r := range norm.NFC.String(strings.ToValidUTF8(s, string(utf8.RuneError))) {
		switch {
		case r == noBreak, r == '\u202f', r == '\u2007':
			out.WriteRune(noBreak)
		case unicode.IsSpace(r):
			out.WriteByte(' ')
		case unicode.In(r, unicode.Cc, unicode.Cf, unicode.Variation_Selector):
		case r == utf8.RuneError || fonts.advance(r) == 0:
			out.WriteRune(box)
			lost = append(lost, r)
		default:
			out.WriteRune(r)
		}
	}
	return out.String(), lost
}

// isPlain reports whether a text is printing ASCII alone, all of which the fonts have.
func isPlain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// Points returns the size of the font for t, in points, rounded to the 0.01 that a PDF file keeps.
func (t Text) Points() float64 {
	return math.Round(t.Height/faceOf(t.Bold).capital*72/25.4*100) / 100
}

// em returns the size of the font for t in mm.
func (t Text) em() float64 { return t.Points() * 25.4 / 72 }

// Width returns how wide t is, in mm, before it is turned.
func (t Text) Width() float64 {
	clean, _ := Clean(t.Say)
	return t.width(clean)
}

// width measures a string that is clean already.
func (t Text) width(clean string) float64 {
	font := faceOf(t.Bold)
	var sum float64
	for _, r := range clean {
		sum += font.advance(r)
	}
	return sum * t.em()
}

// start returns where the left end of a turned line stands, when the line is width wide.
func (t Text) start(width float64) plane.Point {
	back := map[Align]float64{Left: 0, Centre: width / 2, Right: width}[t.Align]
	return plane.Point{
		X: t.At.X - float64(back*math.Cos(t.Turn)),
		Y: t.At.Y + float64(back*math.Sin(t.Turn)),
	}
}

// Box returns the corners of the rectangle that holds the capitals of t, as drawn, grown by pad
// on every side.
func (t Text) Box(pad float64) plane.Ring {
	width := t.Width()
	left := t.start(width)
	sin, cos := math.Sincos(t.Turn)
	corner := func(along, up float64) plane.Point {
		return plane.Point{
			X: left.X + float64(along*cos) - float64(up*sin),
			Y: left.Y - float64(along*sin) - float64(up*cos),
		}
	}
	return plane.Ring{
		corner(-pad, -pad), corner(width+pad, -pad),
		corner(width+pad, t.Height+pad), corner(-pad, t.Height+pad),
	}
}

// Fit returns t made to fit the width: first its letters shrink, down to least, then its end
// gives way to an ellipsis. A width too small for even that leaves t empty.
func (t Text) Fit(width, least float64) Text {
	t.Say, _ = Clean(t.Say)
	if t.width(t.Say) <= width {
		return t
	}
	const step = 0.05
	shrunk := math.Floor(t.Height*width/t.width(t.Say)/step) * step
	t.Height = math.Min(t.Height, math.Max(shrunk, least))
	if t.width(t.Say) <= width {
		return t
	}
	runes := []rune(t.Say)
	for n := len(runes) - 1; n >= 0; n-- {
		t.Say = strings.TrimRight(string(runes[:n]), " ") + "…"
		if t.width(t.Say) <= width {
			return t
		}
	}
	t.Say = ""
	return t
}

// Words returns the parts of a text between which a line may end: what stands between spaces. A no-break
// space is within a part.
func Words(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r != noBreak && unicode.IsSpace(r) })
}

// Wrap breaks what t says into lines no wider than width, at spaces. A word wider than a line is
// broken where it must be, in a width that holds none after every character.
func (t Text) Wrap(width float64) []string {
	clean, _ := Clean(t.Say)
	var lines []string
	line := ""
	for _, word := range Words(clean) {
		for word != "" {
			longer := strings.TrimLeft(line+" "+word, " ")
			if t.width(longer) <= width {
				line = longer
				break
			}
			if line != "" {
				lines, line = append(lines, line), ""
				continue
			}
			n := t.prefix(word, width)
			lines, word = append(lines, word[:n]), word[n:]
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// prefix returns how many bytes of word fit the width: at least one character.
func (t Text) prefix(word string, width float64) int {
	n := 0
	for i, r := range word {
		end := i + utf8.RuneLen(r)
		if n > 0 && t.width(word[:end]) > width {
			break
		}
		n = end
	}
	return n
}

// lack words the warning for a character that became a box.
func lack(r rune, in string) string {
	if r == utf8.RuneError {
		return fmt.Sprintf("part of %q is not readable text and prints as %c", in, box)
	}
	return fmt.Sprintf("the character %q (%U) in %q is not in the font and prints as %c", r, r, in, box)
}
