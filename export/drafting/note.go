package drafting

import (
	"math"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A Note is a few short lines written into an area, upright or turned to read upwards.
type Note struct {
	Lines  []string
	Height float64
	Turned bool
}

// notePitch is how far apart the lines of a note stand, in heights of its letters.
const notePitch = 1.55

// NotesFor returns the ways in which a text can be written into an area width × height mm large,
// the best first: level before turned. Where it cannot be written whole, its beginning is one way.
func NotesFor(text string, size, width, height, longest float64, most int) []Note {
	var out []Note
	for _, turned := range []bool{false, true} {
		along, across := width, height
		if turned {
			along, across = across, along
		}
		for _, letters := range []float64{size, Least} {
			lines := draw.Text{Say: text, Height: letters}.Wrap(math.Min(longest, along-1.5))
			n := Note{Lines: lines, Height: letters, Turned: turned}
			if along <= 3 || len(lines) == 0 || len(lines) > most || n.deep()+0.8 > across || Broken(text, lines) {
				continue
			}
			out = append(out, n)
			break
		}
	}
	const worth = 25 // mm below which the beginning of a text says nothing
	if len(out) == 0 && width > worth && height > 2*Least {
		cut := draw.Text{Say: text, Height: Least}.Fit(math.Min(longest, width-1.5), Least)
		out = append(out, Note{Lines: []string{cut.Say}, Height: Least})
	}
	return out
}

// Wrapped returns the lines of a text in letters of the given height, no longer than length.
func Wrapped(text string, height, length float64) []string {
	return draw.Text{Say: text, Height: height}.Wrap(length)
}

// Broken reports whether a word had to be broken to wrap the text.
func Broken(text string, lines []string) bool {
	clean, _ := draw.Clean(text)
	words := 0
	for _, l := range lines {
		words += len(strings.Fields(l))
	}
	return words != len(strings.Fields(clean))
}

// Long returns the length of the longest line, mm.
func (n Note) Long() float64 {
	far := 0.0
	for _, l := range n.Lines {
		far = math.Max(far, TextWidth(l, n.Height, false))
	}
	return far
}

// deep returns how much room the lines take one under the other, mm.
func (n Note) deep() float64 { return n.Height * (1 + notePitch*float64(len(n.Lines)-1)) }

// Size returns the width and height of the note on the page, with a rim round it.
func (n Note) Size() (width, height float64) {
	const rim = 0.4
	if n.Turned {
		return n.deep() + 2*rim, n.Long() + 2*rim
	}
	return n.Long() + 2*rim, n.deep() + 2*rim
}

// Note writes the lines of n in the middle of a box.
func (p Pen) Note(n Note, box plane.Rect, colour draw.Colour) {
	c := box.Centre()
	for i, l := range n.Lines {
		// The baseline of each line, from the middle of the note.
		down := n.Height*(1+notePitch*float64(i)) - n.deep()/2
		s := Style{Align: draw.Centre, Colour: colour}
		if n.Turned {
			s.Turn = math.Pi / 2
			p.Say(c.X+down, c.Y, n.Height, l, 0, s)
			continue
		}
		p.Say(c.X, c.Y+down, n.Height, l, 0, s)
	}
}

// CornersWithin reports whether all four corners of a box lie inside, as inside sees them.
func CornersWithin(box plane.Rect, inside func(plane.Point) bool) bool {
	for _, p := range Corners(box) {
		if !inside(p) {
			return false
		}
	}
	return true
}
