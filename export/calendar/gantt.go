package calendar

import (
	"fmt"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A Chart is what a drawing of the days of work shows.
type Chart struct {
	Title    string
	Issued   string // date of issue, as it is to be printed; empty for none
	Calendar Calendar
	Answer   Answer
	Notes    []string // what more is to be said, under the chart; as much of it as there is room for
}

// Measures of a chart, mm.
const (
	leftWidth   = 58.0 // of the names of operations
	rowHeight   = 9.0
	headHeight  = 14.0 // months, weeks, dates and weekdays
	flagHeight  = 8.0  // what stands over the lines across the chart
	titleHeight = 8.0
	linePitch   = 4.0 // of running text
	footHeight  = 8.0
	leastColumn = 5.2 // of a day
	mostColumn  = 9.0
	leastMargin = 6.0
	leastWidth  = 210.0
	leastHeight = 150.0
	maxNotes    = 4 // lines
)

// Whole returns the size of the one page, in mm, that a chart fits on with the margin round it, as a
// drawing that cannot have two pages needs it.
func Whole(ch Chart, margin float64) draw.Size {
	g := gantt{Chart: ch, margin: max(margin, leastMargin)}
	first, last := g.span()
	width := 2*g.margin + leftWidth + leastColumn*float64(last-first+1)
	g.size = draw.Size{Width: max(width, 297), Height: 210}
	g.compose()
	height := g.top() + g.bottom() + rowHeight*float64(len(g.rows()))
	g.size.Height = max(height, leastHeight)
	return g.size
}

// Gantt draws the days of work on pages of the given size, in mm, as a bar chart after Gantt: a row for
// each operation, a column for each day, the hours of work over each bar. Bars of work are dark and
// waits are hatched, so that it reads without colour. A column is the day's hours of work; night falls
// between two columns, and on a day off the column is the whole day. It fails where the pages are too
// small.
func Gantt(c draw.Canvas, ch Chart, page draw.Size, margin float64) error {
	g := gantt{Canvas: c, Chart: ch, size: page, margin: max(margin, leastMargin)}
	if !(page.Width >= leastWidth && page.Height >= leastHeight) || !(margin <= 30) {
		return fmt.Errorf("a chart of days needs pages of at least %g × %g mm with margins of at most 30 mm", leastWidth, leastHeight)
	}
	g.compose()
	sheets := g.sheets()
	for i, s := range sheets {
		c.Page(page.Width, page.Height)
		g.sheet(s, i+1, len(sheets))
	}
	return nil
}

// A gantt draws one chart.
type gantt struct {
	draw.Canvas
	Chart
	size   draw.Size
	margin float64

	answer, notes []string // lines of running text
	tight         bool     // the weeks of the schedule and no more, since more would take more sheets
	days          int      // columns of a sheet
	column        float64  // width, mm
	perSheet      int      // rows
}

// A part is what one sheet shows.
type part struct {
	first Day   // of its columns
	rows  []int // indices of operations
}

// compose breaks the text into lines, and finds how many days and rows a sheet holds.
func (g *gantt) compose() {
	width := g.size.Width - 2*g.margin
	g.answer = draw.Text{Say: g.Answer.String(), Height: draw.Letter25}.Wrap(width / otherFonts)
	for _, n := range g.Notes {
		g.notes = append(g.notes, draw.Text{Say: n, Height: draw.Letter18}.Wrap(width/otherFonts)...)
	}
	if len(g.notes) > maxNotes {
		g.notes = append(g.notes[:maxNotes-1:maxNotes-1], "More is said beside this chart.")
	}
	// Sheets are of whole weeks, from Monday on.
	room := width - leftWidth
	most := max(int(room/(7*leastColumn)+1e-9), 1)
	weeks := g.weeks()
	if g.tight = true; (g.weeks()+most-1)/most == (weeks+most-1)/most {
		g.tight = false
	}
	g.days = 7 * min(g.weeks(), most)
	g.column = min(room/float64(g.days), mostColumn)
	for room >= float64(g.days+7)*g.column {
		g.days += 7
	}
	g.perSheet = max(1, int((g.size.Height-g.top()-g.bottom())/rowHeight))
}

// otherFonts is how much wider a line may come out where a reader of SVG has not the font that it was
// measured in.
const otherFonts = 1.2

// top and bottom return how much of a sheet is above and below the rows, mm.
func (g *gantt) top() float64 {
	return g.margin + titleHeight + float64(len(g.answer))*linePitch + 3 + headHeight + g.flags()
}

func (g *gantt) bottom() float64 {
	return g.margin + footHeight + float64(len(g.notes))*(draw.Letter18*1.6)
}

// flags returns how much height the names of the lines across the chart need.
func (g *gantt) flags() float64 {
	if g.Answer.Install == nil {
		return 0
	}
	return flagHeight
}

// span returns the first and the last day to be drawn, in whole weeks: those of the schedule, and a few
// weeks more where the lines across the chart are near.
func (g *gantt) span() (first, last Day) {
	const near = 28
	first, last = g.Answer.Schedule.First(), g.Answer.Schedule.Last()
	if g.Answer.Install != nil && !g.tight {
		for _, d := range []Day{g.Answer.LastStart, *g.Answer.Install} {
			if d < first && d >= first-near {
				first = d
			}
			if d > last && d <= last+near {
				last = d
			}
		}
	}
	return first.monday(), last.monday() + 6
}

// weeks returns how many weeks there are to be drawn.
func (g *gantt) weeks() int {
	first, last := g.span()
	return int(last-first+1) / 7
}

// rows returns the operations that take time, in order.
func (g *gantt) rows() []int {
	var out []int
	for i, o := range g.Answer.Schedule.Operations {
		if o.Minutes > 0 || o.Wait > 0 {
			out = append(out, i)
		}
	}
	return out
}

// sheets divides the chart into sheets: all rows of the first weeks, then of the next. Rows that have
// nothing in the weeks of a sheet stay out of it where there are more than it holds.
func (g *gantt) sheets() []part {
	var out []part
	first, last := g.span()
	for d := first; d <= last; d += Day(g.days) {
		rows := g.rows()
		if len(rows) > g.perSheet {
			rows = g.busy(rows, d, d+Day(g.days)-1)
		}
		for len(rows) > g.perSheet {
			out = append(out, part{d, rows[:g.perSheet]})
			rows = rows[g.perSheet:]
		}
		if len(rows) > 0 || len(out) == 0 {
			out = append(out, part{d, rows})
		}
	}
	return out
}

// busy returns those of the rows that have work or a wait on the days.
func (g *gantt) busy(rows []int, from, to Day) []int {
	has := map[int]bool{}
	for _, s := range g.Answer.Schedule.Shifts {
		has[s.Operation] = has[s.Operation] || from <= s.Day && s.Day <= to
	}
	for _, w := range g.Answer.Schedule.Waits {
		has[w.Operation] = has[w.Operation] || from <= (w.To-1).Day() && w.From.Day() <= to
	}
	var out []int
	for _, i := range rows {
		if has[i] {
			out = append(out, i)
		}
	}
	return out
}

// x returns where a moment stands on a sheet that begins with the day first: hours of work spread over
// the day's column, the night between columns.
func (g *gantt) x(first Day, m Moment) float64 {
	d := m.Day()
	part := float64(m.Minute()) / minutesOfDay
	if open := g.Calendar.Minutes(d); open > 0 {
		part = min(max(float64(m-g.Calendar.opening(d))/float64(open), 0), 1)
	}
	at := g.margin + leftWidth + float64((float64(d-first)+part)*g.column)
	return min(max(at, g.margin+leftWidth), g.right())
}

// right returns where the last column ends.
func (g *gantt) right() float64 { return g.margin + leftWidth + float64(float64(g.days)*g.column) }

func (g *gantt) say(x, y, height float64, text string, width float64, t draw.Text) {
	t.At, t.Say, t.Height = plane.Point{X: x, Y: y}, text, height
	if width > 0 {
		t = t.Fit(width, leastLetter)
	}
	g.Text(t)
}

// leastLetter is the least height of a letter, mm: hours in narrow columns.
const leastLetter = 1.5

func (g *gantt) line(x1, y1, x2, y2 float64, s draw.Stroke) {
	g.Line(plane.Point{X: x1, Y: y1}, plane.Point{X: x2, Y: y2}, s)
}

// box draws a rectangle between two corners.
func (g *gantt) box(x1, y1, x2, y2 float64, p draw.Paint) {
	g.Polygon([]plane.Ring{boxRing(x1, y1, x2, y2)}, p)
}

func boxRing(x1, y1, x2, y2 float64) plane.Ring {
	return plane.Ring{{X: x1, Y: y1}, {X: x2, Y: y1}, {X: x2, Y: y2}, {X: x1, Y: y2}}
}
