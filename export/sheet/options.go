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

// A Part is what of options side by side stands on one page.
type Part struct {
	Height    float64 // that it takes, mm
	side      SideBySide
	width     float64
	most      float64 // height that there was for it
	rows      int     // of the table
	noteLines []string
}

// Parts divides the options over as many areas of a width and a height as they take, in mm: pictures and
// figures in the first, further figures in the others. A height that the pictures and a row or two fit
// into is the least there can be. The error says why a work cannot be drawn.
func (s SideBySide) Parts(width, most float64) ([]Part, error) {
	var parts []Part
	for len(s.Table.Rows) > 0 {
		p := s.part(width, most)
		var err error
		if p.Height, err = p.draw(draw.NewRecord(), plane.Point{}); err != nil {
			return nil, err
		}
		parts = append(parts, p)
		s.Works, s.Table.Rows = nil, s.Table.Rows[p.rows:]
	}
	return parts, nil
}

// part returns as much as goes into one area.
func (s SideBySide) part(width, most float64) Part {
	p := Part{side: s, width: width, most: most}
	notes := wrappedNotes(s.Notes, width)
	pictures := 0.0
	if len(s.Works) > 0 {
		pictures = optionPicture
	}
	room := most - s.heads(pen{draw.NewRecord()}, s.columns(p.box(plane.Point{}))) - pictures
	all := len(s.Table.Rows)
	p.rows = int((room - notesHeight(notes)) / optionRow)
	if p.rows < all {
		p.rows = max(1, min(int(room/optionRow), all-1))
	}
	if p.rows >= all {
		p.rows, p.noteLines = all, notes
	}
	return p
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
	s, d, box := p.side, pen{c}, p.box(at)
	columns := s.columns(box)
	y := s.heads(d, columns)
	if len(s.Works) > 0 {
		room := box.Max.Y - y - notesHeight(p.noteLines) - float64(p.rows)*optionRow - 2
		high, err := s.pictures(c, columns, y, plane.Point{X: columns[0].Width(), Y: room})
		if err != nil {
			return 0, err
		}
		y += high + 2
	}
	for _, row := range s.Table.Rows[:p.rows] {
		d.line(box.Min.X, y, box.Max.X, y, shade(hair, faint))
		d.say(box.Min.X, y+3.5, draw.Letter25, row[0], columns[0].Min.X-box.Min.X-2, style{colour: quiet})
		for i, column := range columns {
			d.say(column.Min.X, y+3.5, draw.Letter25, row[i+1], column.Width(), style{})
		}
		y += optionRow
	}
	d.line(box.Min.X, y, box.Max.X, y, thin)
	for _, line := range p.noteLines {
		y += optionLine
		d.say(box.Min.X, y+1, least, line, 0, style{colour: quiet})
	}
	return y + 1 - at.Y, nil
}

// columns returns where the options stand, from the top of the box to its foot.
func (s SideBySide) columns(box plane.Rect) []plane.Rect {
	words := 0.0
	for _, row := range s.Table.Rows {
		words = math.Max(words, wide(row[0], draw.Letter25, false)*otherFonts)
	}
	right := box
	right.Min.X += math.Min(words+2, optionWords*box.Width()) + 2
	return columnsOf(right, len(s.Table.Heads)-1, optionGap)
}

// heads writes the names of the options and what they are at the top of their columns, and returns how
// far down they reach.
func (s SideBySide) heads(p pen, columns []plane.Rect) float64 {
	lines, height := 0, draw.Letter35
	for i, column := range columns {
		height = math.Min(height, draw.Letter35*column.Width()/(otherFonts*wide(s.Table.Heads[i+1], draw.Letter35, true)))
	}
	height = math.Max(height, least)
	for i, column := range columns {
		p.line(column.Min.X, column.Min.Y, column.Max.X, column.Min.Y, medium)
		p.say(column.Min.X, column.Min.Y+4.6, height, s.Table.Heads[i+1], column.Width(), style{bold: true})
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

// wrappedNotes returns the lines of what stands under the table.
func wrappedNotes(notes []scope.Meaning, width float64) []string {
	var lines []string
	for _, n := range notes {
		lines = append(lines, wrapped(n.Term+" "+n.Text, least, width/otherFonts)...)
	}
	return lines
}

func notesHeight(lines []string) float64 { return optionLine*float64(len(lines)) + 2 }

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
