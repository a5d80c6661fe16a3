package calendar

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// The lines and greys of a chart.
var (
	hair     = draw.Stroke{Width: draw.Width013, Colour: draw.Grey(150)}
	thin     = draw.Stroke{Width: draw.Width018}
	toHang   = draw.Stroke{Width: draw.Width070}
	toBegin  = draw.Stroke{Width: draw.Width070, Dash: draw.Dashed}
	dayOff   = draw.Paint{Fill: draw.Solid(draw.Grey(228))}
	work     = draw.Paint{Fill: draw.Solid(draw.Grey(60)), Stroke: thin}
	waiting  = draw.Paint{Fill: draw.Solid(draw.White), Stroke: thin}
	quiet    = draw.Grey(80)
	hatching = draw.Stroke{Width: draw.Width018}
)

// sheet draws one sheet.
func (g *gantt) sheet(p part, number, all int) {
	g.title(number, all)
	top := g.top()
	bottom := top + rowHeight*float64(len(p.rows))
	g.columns(p.first, top-g.flags()-headHeight, top-g.flags(), top, bottom)
	for n, i := range p.rows {
		g.row(p.first, i, top+rowHeight*float64(n))
	}
	g.line(g.margin, bottom, g.right(), bottom, thin)
	g.across(p.first, top, bottom)
	g.foot(bottom)
}

func (g *gantt) title(number, all int) {
	right := g.size.Width - g.margin
	sheet := fmt.Sprintf("Days of work · sheet %d/%d", number, all)
	if g.Issued != "" {
		sheet = g.Issued + " · " + sheet
	}
	wide := draw.Text{Say: sheet, Height: draw.Letter25}.Width() * otherFonts
	g.Group("title")
	y := g.margin + draw.Letter50
	g.say(g.margin, y, draw.Letter50, g.Title, (right-g.margin-wide-5)/otherFonts, draw.Text{Bold: true})
	g.say(right, y, draw.Letter25, sheet, 0, draw.Text{Align: draw.Right, Colour: quiet})
	for n, l := range g.answer {
		g.say(g.margin, g.margin+titleHeight+float64(n)*linePitch+draw.Letter25, draw.Letter25, l, 0, draw.Text{})
	}
	g.End()
}

// columns draws the head of the days between head and under, and their columns from top to bottom.
func (g *gantt) columns(first Day, head, under, top, bottom float64) {
	g.Group("days")
	left := g.margin + leftWidth
	x := func(d Day) float64 { return left + float64(float64(d-first)*g.column) }
	last := first + Day(g.days)
	for d := first; d < last; d++ {
		if g.Calendar.Minutes(d) == 0 {
			g.box(x(d), under-7, x(d+1), under, dayOff)
			g.box(x(d), top, x(d+1), bottom, dayOff)
		}
	}
	for d := first; d < last; {
		t := d.Time()
		next := min(DayOf(t.AddDate(0, 1, 1-t.Day())), last)
		g.month(t, (x(d)+x(next))/2, head+2.7, (x(next)-x(d)-0.6)/otherFonts)
		g.line(x(d), head, x(d), head+3.6, thin)
		d = next
	}
	for d := first; d < last; d += 7 {
		_, week := d.Time().ISOWeek()
		g.say(x(d)+g.column*3.5, head+6, draw.Letter18, fmt.Sprintf("week %d", week), 0, draw.Text{Align: draw.Centre, Colour: quiet})
		g.line(x(d), head+3.6, x(d), bottom, thin)
	}
	for d := first; d < last; d++ {
		middle := x(d) + g.column/2
		g.say(middle, under-4.4, draw.Letter18, strconv.Itoa(d.Time().Day()), g.column-0.6, draw.Text{Align: draw.Centre})
		g.say(middle, under-1.2, draw.Letter18, d.Weekday().String()[:2], g.column-0.6, draw.Text{Align: draw.Centre, Colour: quiet})
		if d.monday() == d {
			continue
		}
		edge := hair
		if d.Time().Day() == 1 {
			edge = thin
		}
		g.line(x(d), under-7, x(d), under, edge)
		g.line(x(d), top, x(d), bottom, edge)
	}
	for _, y := range []float64{head, head + 3.6, under - 7, under} {
		g.line(left, y, g.right(), y, thin)
	}
	g.line(g.right(), head, g.right(), bottom, thin)
	g.End()
}

// month names a month over its days, by a shorter name or none where there is not the room.
func (g *gantt) month(t time.Time, x, y, width float64) {
	for _, layout := range []string{"January 2006", "Jan 2006", "Jan"} {
		name := draw.Text{Say: t.Format(layout), Height: 2.2, Bold: true}
		if name.Width() <= width {
			g.say(x, y, name.Height, name.Say, 0, draw.Text{Align: draw.Centre, Bold: true})
			return
		}
	}
}

// row draws one operation with its top edge at y: what it is, its bars, and the hours over them.
func (g *gantt) row(first Day, i int, y float64) {
	o := g.Answer.Schedule.Operations[i]
	g.Group(o.Name)
	g.line(g.margin, y, g.right(), y, thin)
	g.say(g.margin, y+3.8, draw.Letter25, o.Name, (leftWidth-2)/otherFonts, draw.Text{Bold: true})
	g.say(g.margin, y+7.4, draw.Letter18, g.under(o, i), (leftWidth-2)/otherFonts, draw.Text{Colour: quiet})
	last := first + Day(g.days)
	for _, w := range g.Answer.Schedule.Waits {
		if w.Operation == i && w.From.Day() < last && (w.To-1).Day() >= first {
			g.wait(g.x(first, w.From), g.x(first, w.To), y)
		}
	}
	for _, s := range g.Answer.Schedule.Shifts {
		if s.Operation != i || s.Day < first || s.Day >= last {
			continue
		}
		begin := s.Day.begins()
		x1, x2 := g.x(first, begin+Moment(s.From)), g.x(first, begin+Moment(s.To)-1)
		g.box(x1, y+4.6, max(x2, x1+0.3), y+7.8, work)
		middle := g.margin + leftWidth + float64((float64(s.Day-first)+0.5)*g.column)
		g.say(middle, y+3.5, draw.Letter18, tenthHours(s.Minutes()), g.column-0.6, draw.Text{Align: draw.Centre})
	}
	g.End()
}

// under returns what stands under the name of an operation: its work, its hands and its wait.
func (g *gantt) under(o Operation, i int) string {
	minutes, crew := 0, 0
	for _, s := range g.Answer.Schedule.Shifts {
		if s.Operation == i {
			minutes += s.Minutes()
			crew = s.Crew
		}
	}
	text := ""
	if minutes > 0 {
		text = tenthHours(minutes) + " h of work, " + people(crew)
	}
	if o.Wait > 0 {
		text = joined(text, "then wait "+spanOf(o.Wait))
	}
	return text
}

// tenthHours returns minutes as hours to a tenth, and never as none.
func tenthHours(minutes int) string {
	return strconv.FormatFloat(max(math.Round(float64(minutes)/6)/10, 0.1), 'f', -1, 64)
}

// wait draws the bar of a wait from x1 to x2 in the row at y, hatched.
func (g *gantt) wait(x1, x2, y float64) {
	const pitch, tall = 1.0, 2.4
	x2 = max(x2, x1+0.6)
	top, foot := y+5, y+5+tall
	g.box(x1, top, x2, foot, waiting)
	for x := math.Floor((x1-tall)/pitch)*pitch + pitch; x < x2; x += pitch {
		from, to := max(x, x1), min(x+tall, x2)
		g.line(from, foot-(from-x), to, foot-(to-x), hatching)
	}
}

// across draws the lines that stand for the last day to begin and the day to hang, from their names down
// to the bottom, where the sheet has them. Each name has a line of its own, so that they never meet.
func (g *gantt) across(first Day, top, bottom float64) {
	a := g.Answer
	if a.Install == nil {
		return
	}
	var names []draw.Text
	g.Group("bounds")
	for n, f := range []struct {
		day    Day
		x      float64
		text   string
		stroke draw.Stroke
	}{
		{a.LastStart, g.x(first, a.LastStart.begins()), "last day to begin: " + a.LastStart.Words(), toBegin},
		{*a.Install, g.x(first, g.Calendar.closingColumn(*a.Install)), "hangs by the end of " + a.Install.Words(), toHang},
	} {
		if f.day < first || f.day >= first+Day(g.days) {
			continue
		}
		y := top - g.flags() + 3 + 3.6*float64(n)
		g.line(f.x, y-2, f.x, bottom, f.stroke)
		t := draw.Text{At: plane.Point{X: f.x + 1.2, Y: y}, Say: f.text, Height: draw.Letter18}
		if t.At.X+t.Width()*otherFonts > g.size.Width-g.margin {
			t.At.X, t.Align = f.x-1.2, draw.Right
		}
		names = append(names, t)
	}
	// The line of one may run behind the name of the other, and is broken there.
	for _, t := range names {
		g.Polygon([]plane.Ring{t.Box(0.5)}, draw.Paint{Fill: draw.Solid(draw.White)})
		g.Text(t)
	}
	g.End()
}

// closingColumn returns a moment that stands at the right edge of the day's column.
func (c Calendar) closingColumn(d Day) Moment {
	if c.Minutes(d) > 0 {
		return c.closing(d) - 1
	}
	return (d + 1).begins() - 1
}

// foot draws the legend and the notes under the rows.
func (g *gantt) foot(bottom float64) {
	g.Group("legend")
	x, y := g.margin, bottom+5.5
	sample := func(text string, mark func(x1, x2, y float64)) {
		mark(x, x+7, y-5)
		g.say(x+8.5, y, draw.Letter18, text, 0, draw.Text{})
		x += 8.5 + draw.Text{Say: text, Height: draw.Letter18}.Width()*otherFonts + 5
	}
	sample("work, with the hours of all hands", func(x1, x2, y float64) { g.box(x1, y+2.8, x2, y+5, work) })
	if len(g.Answer.Schedule.Waits) > 0 {
		sample("to wait, by day and night", func(x1, x2, y float64) { g.wait(x1, x2, y-2.3) })
	}
	sample("no work", func(x1, x2, y float64) {
		p := dayOff
		p.Stroke = hair
		g.box(x1, y+2.8, x2, y+5, p)
	})
	for n, l := range g.notes {
		g.say(g.margin, bottom+footHeight+1+float64(n)*(draw.Letter18*1.6), draw.Letter18, l, 0, draw.Text{})
	}
	g.End()
}
