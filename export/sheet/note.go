package sheet

import (
	"math"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A note is a few short lines written into an area, upright or turned to read upwards.
type note struct {
	lines  []string
	height float64
	turned bool
}

// notePitch is how far apart the lines of a note stand, in heights of its letters.
const notePitch = 1.55

// notesFor returns the ways in which a text can be written into an area width × height mm large,
// the best first: level before turned. Where it cannot be written whole, its beginning is one way.
func notesFor(text string, size, width, height, longest float64, most int) []note {
	var out []note
	for _, turned := range []bool{false, true} {
		along, across := width, height
		if turned {
			along, across = across, along
		}
		for _, letters := range []float64{size, least} {
			lines := draw.Text{Say: text, Height: letters}.Wrap(math.Min(longest, along-1.5))
			n := note{lines: lines, height: letters, turned: turned}
			if along <= 3 || len(lines) == 0 || len(lines) > most || n.deep()+0.8 > across || broken(text, lines) {
				continue
			}
			out = append(out, n)
			break
		}
	}
	const worth = 25 // mm below which the beginning of a text says nothing
	if len(out) == 0 && width > worth && height > 2*least {
		cut := draw.Text{Say: text, Height: least}.Fit(math.Min(longest, width-1.5), least)
		out = append(out, note{lines: []string{cut.Say}, height: least})
	}
	return out
}

// wrapped returns the lines of a text in letters of the given height, no longer than length.
func wrapped(text string, height, length float64) []string {
	return draw.Text{Say: text, Height: height}.Wrap(length)
}

// broken reports whether a word had to be broken to wrap the text.
func broken(text string, lines []string) bool {
	clean, _ := draw.Clean(text)
	words := 0
	for _, l := range lines {
		words += len(strings.Fields(l))
	}
	return words != len(strings.Fields(clean))
}

// long returns the length of the longest line, mm.
func (n note) long() float64 {
	far := 0.0
	for _, l := range n.lines {
		far = math.Max(far, wide(l, n.height, false))
	}
	return far
}

// deep returns how much room the lines take one under the other, mm.
func (n note) deep() float64 { return n.height * (1 + notePitch*float64(len(n.lines)-1)) }

// size returns the width and height of the note on the page, with a rim round it.
func (n note) size() (width, height float64) {
	const rim = 0.4
	if n.turned {
		return n.deep() + 2*rim, n.long() + 2*rim
	}
	return n.long() + 2*rim, n.deep() + 2*rim
}

// note writes the lines of n in the middle of a box.
func (p pen) note(n note, box plane.Rect, colour draw.Colour) {
	c := box.Centre()
	for i, l := range n.lines {
		// The baseline of each line, from the middle of the note.
		down := n.height*(1+notePitch*float64(i)) - n.deep()/2
		s := style{align: draw.Centre, colour: colour}
		if n.turned {
			s.turn = math.Pi / 2
			p.say(c.X+down, c.Y, n.height, l, 0, s)
			continue
		}
		p.say(c.X, c.Y+down, n.height, l, 0, s)
	}
}

// cornersWithin reports whether all four corners of a box lie inside, as inside sees them.
func cornersWithin(box plane.Rect, inside func(plane.Point) bool) bool {
	for _, p := range corners(box) {
		if !inside(p) {
			return false
		}
	}
	return true
}
