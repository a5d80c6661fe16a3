// Package optionpage draws a plan beside its options: what each looks like, and its figures.
package optionpage

import (
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/scope"
	"wallshoal/wall/plane"
)

// A SideBySide is the options of a plan with what is to be said of them.
type SideBySide struct {
	Works []holemap.Work // one an option, of one room
	Table scope.Table    // a column of words, and one for every option
	Says  []string       // what each option is
	Notes []scope.Meaning

	room []holemap.Work // of all options, where these are only some of them
}

// Options returns the options of a scope, given their works, side by side.
func Options(s scope.Scope, works []holemap.Work) SideBySide {
	side := SideBySide{Works: works, Table: s.OptionTable(), Notes: s.OptionNotes()}
	for _, o := range s.Options {
		side.Says = append(side.Says, o.Says())
	}
	return side
}

// ForClient returns the options with the figures of the same scope that are for the client.
func (s SideBySide) ForClient(of scope.Scope) SideBySide {
	s.Table = of.ClientOptionTable()
	s.Notes = slices.DeleteFunc(slices.Clone(s.Notes), func(m scope.Meaning) bool { return m.Term == scope.ToBeGiven })
	return s
}

// The parts of options side by side, mm.
const (
	optionGap     = 4.0 // between columns
	optionLine    = 3.1 // from one line of small letters to the next
	optionLines   = 4   // of what an option says, at most
	optionRow     = 4.9
	optionPicture = 26.0 // least height of the pictures
	optionWords   = 0.25 // of the width, at most, for the names of rows
	optionAlone   = 100.0
)

// A Part is what of options side by side stands on one page.
type Part struct {
	Height    float64 // that it takes, mm
	side      SideBySide
	width     float64
	most      float64 // height that there was for it
	rows      int     // of the table
	abreast   int     // columns that there is room for
	noteLines []string
	ratio     float64 // of the pictures, which are drawn at a scale of 1:ratio
	closes    bool    // it is the last, and the notes are written
}

// Parts divides the options over as many areas of a width and a height as they take, in mm: pictures and
// figures in the first, further figures in the others, and the same again where not all options have
// room beside one another. A height that the pictures and a row or two fit into is the least there can be. The
// error says why a work cannot be drawn.
func (s SideBySide) Parts(width, most float64) ([]Part, error) {
	var parts []Part
	if len(s.Table.Rows) == 0 {
		return nil, nil
	}
	each, n, ratio := s.abreast(width), len(s.Says), 0.0
	for from := 0; from < n; from += each {
		some := s.some(from, min(n, from+each))
		for len(some.Table.Rows) > 0 {
			p := some.part(width, most, each)
			p.closes = from+each >= n
			fits, err := p.fitting()
			if err != nil {
				return nil, err
			}
			ratio = math.Max(ratio, fits)
			parts = append(parts, p)
			some.Works, some.Table.Rows = nil, some.Table.Rows[p.rows:]
		}
	}
	for i := range parts {
		p := &parts[i]
		p.ratio = ratio
		var err error
		if p.Height, err = p.draw(draw.NewRecord(), plane.Point{}); err != nil {
			return nil, err
		}
	}
	return parts, nil
}

// abreast returns how many options stand beside one another, so that every figure can be read.
func (s SideBySide) abreast(width float64) int {
	widest := 0.0
	for _, row := range s.Table.Rows {
		for _, cell := range row[1:] {
			widest = math.Max(widest, drafting.TextWidth(cell, drafting.Least, false)*elevation.OtherFonts)
		}
	}
	n := len(s.Says)
	most := n
	for most > 1 && s.columns(plane.Rect{Max: plane.Point{X: width}}, most)[0].Width() < widest {
		most--
	}
	groups := (n + most - 1) / most
	return (n + groups - 1) / groups
}

// some returns the options with indices from one up to before another, in a table that has room for all.
func (s SideBySide) some(from, to int) SideBySide {
	out := SideBySide{Says: s.Says[from:to], Notes: s.Notes}
	if len(s.Works) > 0 {
		out.Works = s.Works[from:to]
		out.room = s.Works
	}
	out.Table = scope.Table{Text: s.Table.Text, Heads: append([]string{s.Table.Heads[0]}, s.Table.Heads[1+from:1+to]...)}
	for _, row := range s.Table.Rows {
		out.Table.Rows = append(out.Table.Rows, append([]string{row[0]}, row[1+from:1+to]...))
	}
	return out
}

// part returns as much as goes into one area.
func (s SideBySide) part(width, most float64, abreast int) Part {
	p := Part{side: s, width: width, most: most, abreast: abreast}
	notes := wrappedNotes(s.Notes, width)
	pictures := 0.0
	if len(s.Works) > 0 {
		pictures = optionPicture
	}
	room := most - s.heads(drafting.Pen{Canvas: draw.NewRecord()}, s.columns(p.box(plane.Point{}), abreast)) - pictures
	all := len(s.Table.Rows)
	p.rows = int((room - notesHeight(notes)) / optionRow)
	if p.rows < all {
		p.rows = max(1, min(int((room-notesHeight(nil))/optionRow), all-1))
	}
	if p.rows >= all {
		p.rows, p.noteLines = all, notes
	}
	return p
}

// fitting returns the scale, 1:ratio, at which the pictures fit; 0 where there are none.
func (p Part) fitting() (ratio float64, err error) {
	if len(p.side.Works) == 0 {
		return 0, nil
	}
	c := draw.NewRecord()
	columns := p.side.columns(p.box(plane.Point{}), p.abreast)
	y := p.side.heads(drafting.Pen{Canvas: c}, columns)
	all, err := optionWalls(c, p.side.Works[:1], p.side.room)
	if err != nil {
		return 0, err
	}
	return elevation.RatioFor(all[0], columns[0].Width(), p.most-y-notesHeight(p.noteLines)-float64(p.rows)*optionRow-2), nil
}

// box returns where the part is drawn, its top-left corner being at a place.
func (p Part) box(at plane.Point) plane.Rect {
	return plane.Rect{Min: at, Max: at.Add(plane.Point{X: p.width, Y: p.most})}
}

// Draw draws the part with its top-left corner at a place. The error says why a work cannot be drawn.
func (p Part) Draw(c draw.Canvas, at plane.Point) error {
	_, err := p.draw(c, at)
	return err
}

// draw is Draw, and returns how high the part is.
func (p Part) draw(c draw.Canvas, at plane.Point) (float64, error) {
	s, d, box := p.side, drafting.Pen{Canvas: c}, p.box(at)
	columns := s.columns(box, p.abreast)
	y := s.heads(d, columns)
	if len(s.Works) > 0 {
		all, err := optionWalls(c, s.Works, s.room)
		if err != nil {
			return 0, err
		}
		high := 0.0
		for i, walls := range all {
			took := drawOption(walls, plane.Point{X: columns[i].Min.X, Y: y}, columns[i].Width(), p.ratio)
			high = math.Max(high, took.Y)
		}
		y += high + 2
	}
	for _, row := range s.Table.Rows[:p.rows] {
		d.Segment(box.Min.X, y, box.Max.X, y, drafting.Shade(drafting.Hair, drafting.Faint))
		d.Say(box.Min.X, y+3.5, draw.Letter25, row[0], columns[0].Min.X-box.Min.X-2, drafting.Style{Colour: drafting.Quiet})
		for i, cell := range row[1:] {
			d.Say(columns[i].Min.X, y+3.5, draw.Letter25, cell, columns[i].Width(), drafting.Style{})
		}
		y += optionRow
	}
	d.Segment(box.Min.X, y, box.Max.X, y, drafting.Thin)
	if p.closes {
		for _, line := range p.noteLines {
			y += optionLine
			d.Say(box.Min.X, y+1, drafting.Least, line, 0, drafting.Style{Colour: drafting.Quiet})
		}
	}
	return y + 1 - at.Y, nil
}

// columns returns where so many options stand, from the top of the box to its foot.
func (s SideBySide) columns(box plane.Rect, n int) []plane.Rect {
	words := 0.0
	for _, row := range s.Table.Rows {
		words = math.Max(words, drafting.TextWidth(row[0], draw.Letter25, false)*elevation.OtherFonts)
	}
	right := box
	right.Min.X += math.Min(words+2, optionWords*box.Width()) + 2
	return drafting.ColumnsOf(right, n, optionGap)
}

// heads writes the names of the options and what they are at the top of their columns, and returns how
// far down they reach.
func (s SideBySide) heads(p drafting.Pen, columns []plane.Rect) float64 {
	names, height := s.names(columns[0].Width())
	most := 0
	for _, lines := range names {
		most = max(most, len(lines))
	}
	foot := columns[0].Min.Y + 1
	pitch := 1.45 * height
	lines := 0
	for i, column := range columns[:len(names)] {
		p.Segment(column.Min.X, column.Min.Y, column.Max.X, column.Min.Y, drafting.Medium)
		for n, line := range names[i] {
			p.Say(column.Min.X, foot+pitch*float64(n+1)-0.25*height, height, line, column.Width(), drafting.Style{Bold: true})
		}
		says := drafting.Wrapped(s.Says[i], drafting.Least, column.Width()/elevation.OtherFonts)
		if len(says) > optionLines {
			says = append(says[:optionLines-1], "…")
		}
		for n, line := range says {
			p.Say(column.Min.X, foot+pitch*float64(most)+optionLine*float64(n+1)-0.4, drafting.Least, line, column.Width(), drafting.Style{Colour: drafting.Quiet})
		}
		lines = max(lines, len(says))
	}
	return foot + pitch*float64(most) + optionLine*float64(lines) + 1.5
}

// names returns the names of the options in lines of a width, all in letters of one height: the largest in
// which each is one line, else in which no word is broken.
func (s SideBySide) names(width float64) (names [][]string, height float64) {
	width /= elevation.OtherFonts
	fits := func(height float64, whole bool) bool {
		names = nil
		for _, name := range s.Table.Heads[1:] {
			lines := draw.Text{Say: name, Height: height, Bold: true}.Wrap(width)
			if whole && len(lines) > 1 || drafting.Broken(name, lines) {
				return false
			}
			names = append(names, lines)
		}
		return true
	}
	if fits(draw.Letter35, true) {
		return names, draw.Letter35
	}
	if fits(draw.Letter25, false) {
		return names, draw.Letter25
	}
	names = nil
	for _, name := range s.Table.Heads[1:] {
		names = append(names, draw.Text{Say: name, Height: drafting.Least, Bold: true}.Wrap(width))
	}
	return names, drafting.Least
}

// wrappedNotes returns the lines of what stands under the table.
func wrappedNotes(notes []scope.Meaning, width float64) []string {
	var lines []string
	for _, n := range notes {
		lines = append(lines, drafting.Wrapped(n.Term+" "+n.Text, drafting.Least, width/elevation.OtherFonts)...)
	}
	return lines
}

func notesHeight(lines []string) float64 { return optionLine*float64(len(lines)) + 2 }

// optionWalls returns the walls of works in small pictures: those that carry pieces in any of all works.
func optionWalls(c draw.Canvas, works, of []holemap.Work) ([][]*elevation.Picture, error) {
	carries := map[int]bool{}
	for _, w := range of {
		for _, p := range w.Layout.Pieces {
			carries[w.Site.Faces[p.Face].Wall] = true
		}
	}
	if len(carries) == 0 {
		return nil, elevation.ErrNoPieces
	}
	all := make([][]*elevation.Picture, len(works))
	for i, w := range works {
		var err error
		all[i], err = elevation.Miniatures(drafting.Pen{Canvas: c}, w, func(d *elevation.Development) bool { return carries[d.Main.Face.Wall] })
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}

// drawOption draws small pictures of walls in rows from a corner on, and returns how much they take.
func drawOption(walls []*elevation.Picture, corner plane.Point, width, ratio float64) plane.Point {
	corners, took := elevation.InRows(walls, width, ratio)
	for i, p := range walls {
		p.Miniature(corners[i].Add(corner), ratio)
	}
	return took
}

// OptionPicture draws the walls of one of several works of one room on a page of its own, no larger than
// it must be: those that carry pieces in any of the works, all at one scale, whichever work it is.
func OptionPicture(c draw.Canvas, works []holemap.Work, index int) error {
	all, err := optionWalls(c, works, works)
	if err != nil {
		return err
	}
	ratio := elevation.RatioFor(all[index], optionAlone, 2*optionAlone)
	_, took := elevation.InRows(all[index], optionAlone, ratio)
	const rim = 2.0
	c.Page(optionAlone+2*rim, took.Y+2*rim)
	drawOption(all[index], plane.Point{X: rim, Y: rim}, optionAlone, ratio)
	return nil
}
