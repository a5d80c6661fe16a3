package sheet

import (
	"math"

	"wallshoal/export/draw"
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
}

// Options returns the options of a scope, given their works, side by side.
func Options(s scope.Scope, works []holemap.Work) SideBySide {
	side := SideBySide{Works: works, Table: s.OptionTable(), Notes: s.OptionNotes()}
	for _, o := range s.Options {
		side.Says = append(side.Says, o.Says())
	}
	return side
}

// The parts of options side by side, mm.
const (
	optionGap     = 4.0 // between columns
	optionName    = 6.0 // over what it says
	optionLine    = 3.1 // from one line of small letters to the next
	optionLines   = 4   // of what an option says, at most
	optionRow     = 4.9
	optionPicture = 26.0 // least height of the pictures
	optionWords   = 0.25 // of the width, at most, for the names of rows
	optionAlone   = 100.0
)

// Draw draws as much into the box as there is room for, and returns what of it is left, with no pictures,
// and how much of the box it took. A box that holds the pictures and a row or two is the least it takes.
// The error says why a work cannot be drawn.
func (s SideBySide) Draw(c draw.Canvas, box plane.Rect) (left SideBySide, took plane.Rect, err error) {
	p := pen{c}
	columns := s.columns(box)
	took = plane.Rect{Min: box.Min, Max: plane.Point{X: box.Max.X, Y: box.Min.Y}}
	if len(columns) == 0 {
		return SideBySide{}, took, nil
	}
	y := s.heads(p, columns)
	notes, noteLines := s.noteLines(box.Width())
	room := box.Max.Y - y
	pictures := 0.0
	if len(s.Works) > 0 {
		pictures = optionPicture
	}
	fits := int((room - pictures - notes) / optionRow)
	last := fits >= len(s.Table.Rows)
	if !last {
		fits = max(1, int((room-pictures)/optionRow))
		noteLines, notes = nil, 0
	}
	fits = min(fits, len(s.Table.Rows))
	if len(s.Works) > 0 {
		area := plane.Point{X: columns[0].Width(), Y: room - notes - float64(fits)*optionRow - 2}
		high, err := s.pictures(c, columns, y, area)
		if err != nil {
			return left, took, err
		}
		y += high + 2
	}
	for _, row := range s.Table.Rows[:fits] {
		p.line(box.Min.X, y, box.Max.X, y, shade(hair, faint))
		p.say(box.Min.X, y+3.5, draw.Letter25, row[0], columns[0].Min.X-box.Min.X-2, style{colour: quiet})
		for i, column := range columns {
			p.say(column.Min.X, y+3.5, draw.Letter25, row[i+1], column.Width(), style{})
		}
		y += optionRow
	}
	p.line(box.Min.X, y, box.Max.X, y, thin)
	for _, line := range noteLines {
		y += optionLine
		p.say(box.Min.X, y+1, least, line, 0, style{colour: quiet})
	}
	took.Max.Y = y + 1
	if !last {
		left = s
		left.Works, left.Table.Rows = nil, s.Table.Rows[fits:]
	}
	return left, took, nil
}

// columns returns where the options stand, from the top of the box to its foot.
func (s SideBySide) columns(box plane.Rect) []plane.Rect {
	n := len(s.Table.Heads) - 1
	if n < 1 || len(s.Table.Rows) == 0 {
		return nil
	}
	words := 0.0
	for _, row := range s.Table.Rows {
		words = math.Max(words, wide(row[0], draw.Letter25, false)*otherFonts)
	}
	right := box
	right.Min.X += math.Min(words+2, optionWords*box.Width()) + 2
	return columnsOf(right, n, optionGap)
}

// heads writes the names of the options and what they are at the top of their columns, and returns how
// far down they reach.
func (s SideBySide) heads(p pen, columns []plane.Rect) float64 {
	lines := 0
	for i, column := range columns {
		p.line(column.Min.X, column.Min.Y, column.Max.X, column.Min.Y, medium)
		p.say(column.Min.X, column.Min.Y+4.6, draw.Letter35, s.Table.Heads[i+1], column.Width(), style{bold: true})
		says := wrapped(s.Says[i], least, column.Width())
		if len(says) > optionLines {
			says = append(says[:optionLines-1], "…")
		}
		for n, line := range says {
			p.say(column.Min.X, column.Min.Y+optionName+2+optionLine*float64(n), least, line, 0, style{colour: quiet})
		}
		lines = max(lines, len(says))
	}
	return columns[0].Min.Y + optionName + optionLine*float64(lines) + 1
}

// noteLines returns what stands under the table, and how high it is.
func (s SideBySide) noteLines(width float64) (high float64, lines []string) {
	for _, n := range s.Notes {
		lines = append(lines, wrapped(n.Term+" "+n.Text, least, width/otherFonts)...)
	}
	return optionLine*float64(len(lines)) + 2, lines
}

// pictures draws the walls of each work at the top of what is left of its column, all at one scale as
// large as the area allows, and returns how high they are.
func (s SideBySide) pictures(c draw.Canvas, columns []plane.Rect, y float64, area plane.Point) (float64, error) {
	all, err := optionWalls(c, s.Works)
	if err != nil {
		return 0, err
	}
	high := 0.0
	ratio := ratioFor(all[0], area.X, area.Y)
	for i, walls := range all {
		took := drawOption(walls, plane.Point{X: columns[i].Min.X, Y: y}, area.X, ratio)
		high = math.Max(high, took.Y)
	}
	return high, nil
}

// optionWalls returns the walls of works of one room that carry pieces in any of them, in small pictures.
func optionWalls(c draw.Canvas, works []holemap.Work) ([][]*picture, error) {
	carries := map[int]bool{}
	for _, w := range works {
		for _, p := range w.Layout.Pieces {
			carries[w.Site.Faces[p.Face].Wall] = true
		}
	}
	if len(carries) == 0 {
		return nil, ErrNoPieces
	}
	all := make([][]*picture, len(works))
	for i, w := range works {
		var err error
		all[i], err = miniatures(pen{c}, w, func(d *development) bool { return carries[d.main.face.Wall] })
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}

// drawOption draws small pictures of walls in rows from a corner on, and returns how much they take.
func drawOption(walls []*picture, corner plane.Point, width, ratio float64) plane.Point {
	corners, took := inRows(walls, width, ratio)
	for i, p := range walls {
		p.miniature(corners[i].Add(corner), ratio)
	}
	return took
}

// OptionPicture draws the walls of one of several works of one room on a page of its own, no larger than
// it must be: those that carry pieces in any of the works, all at one scale, whichever work it is.
func OptionPicture(c draw.Canvas, works []holemap.Work, index int) error {
	all, err := optionWalls(c, works)
	if err != nil {
		return err
	}
	ratio := ratioFor(all[index], optionAlone, 2*optionAlone)
	_, took := inRows(all[index], optionAlone, ratio)
	const rim = 2.0
	c.Page(optionAlone+2*rim, took.Y+2*rim)
	drawOption(all[index], plane.Point{X: rim, Y: rim}, optionAlone, ratio)
	return nil
}
