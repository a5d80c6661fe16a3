package scopepage

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"wallshoal/export/calendar"
	"wallshoal/export/draw"
	"wallshoal/export/scope"
	"wallshoal/wall/plane"
)

// spanWide is how wide the drawing of a range is, mm.
const spanWide = 34.0

// span draws a range in an area: a line from low to high with a tick at what is likely, where most is the
// right edge of the area.
func (b *book) span(low, likely, high, most float64, area plane.Rect, heavy bool) {
	if most <= 0 {
		return
	}
	x := func(v float64) float64 { return area.Min.X + v/most*area.Width() }
	y := area.Centre().Y
	b.line(area.Min.X, y, area.Max.X, y, draw.Stroke{Width: draw.Width013, Colour: draw.Grey(205)})
	s := draw.Stroke{Width: draw.Width100, Colour: draw.Grey(110)}
	if heavy {
		s.Colour = draw.Black
	}
	b.line(x(low), y, math.Max(x(high), x(low)+0.3), y, s)
	b.line(x(likely), y-1.4, x(likely), y+1.4, edge)
}

// hours lists how long everything takes, with its range as a line.
func (b *book) hours() {
	m := b.scope.Making
	if m == nil || m.Hours == nil {
		return
	}
	h := m.Hours
	most := h.High
	for _, o := range h.Operations {
		most = math.Max(most, o.High)
	}
	g := &grid{Table: h.Table(), wide: spanWide}
	g.picture = func(row int, area plane.Rect) {
		switch {
		case row == len(h.Operations):
			b.span(h.Low, h.Expected, h.High, most, area, true)
		case h.Operations[row].Worked():
			o := h.Operations[row]
			b.span(o.Low, o.Expected, o.High, most, area, false)
		}
	}
	b.section("Hours", 0, g)
	b.grid(g)
	b.para(paragraph{text: scope.HourWords(*h)})
	var notes []string
	for _, o := range h.Operations {
		for _, n := range o.Notes {
			notes = append(notes, o.Name+": "+strings.TrimSuffix(n, ".")+".")
		}
	}
	for _, n := range h.Notes {
		notes = append(notes, strings.ToUpper(n[:1])+strings.TrimSuffix(n[1:], ".")+".")
	}
	b.list(notes)
}

// days says when the work is done, and shows it on a strip of days.
func (b *book) days() {
	m := b.scope.Making
	if m == nil || m.Days == nil || b.made.Days == nil {
		return
	}
	d, answer := m.Days, b.made.Days.Expected
	b.heading("Days", 60)
	b.para(paragraph{lead: verdict(*d), text: d.Text})
	if late := d.Late(); late != "" {
		b.para(paragraph{text: late})
	}
	if m.Hours != nil && len(m.Hours.Missing) > 0 {
		b.para(paragraph{lead: "It will be later:", text: "this is without " + strings.Join(m.Hours.Missing, ", ") + ", of which nothing is known."})
	}
	bands := answer.Schedule.Bands()
	var marks []calendar.Mark
	if answer.Install != nil {
		marks = append(marks,
			calendar.Mark{Day: answer.LastYes, End: true, Dashed: true, Says: "all must be agreed by the end of " + answer.LastYes.Words()},
			calendar.Mark{Day: *answer.Install, End: true, Says: "hangs by the end of " + answer.Install.Words()})
	}
	const most = 30 // bands of one strip
	for len(bands) > 0 {
		part := bands[:min(most, len(bands))]
		tall := calendar.StripHeight(part, marks)
		b.need(tall + 8)
		calendar.Strip(b.Canvas, plane.Rect{Min: plane.Point{X: b.body.Min.X, Y: b.y}, Max: plane.Point{X: b.body.Max.X, Y: b.y + tall}}, part, marks)
		b.y += tall + 3
		bands = bands[len(part):]
	}
	b.para(paragraph{small: true, text: "Dark: worked on. Hatched: waited for, by day and night. gantt.pdf shows it day by day with the hours of each."})
}

// cost lists what is paid for.
func (b *book) cost() {
	m := b.scope.Making
	if m == nil || m.Cost == nil {
		return
	}
	c := m.Cost
	sums := c.Sums()
	most := reading(c.Total.High)
	g := &grid{Table: c.Table(), wide: spanWide, picture: func(row int, area plane.Rect) {
		s := sums[row]
		b.span(reading(s.Low), reading(s.Likely), reading(s.High), most, area, row == len(sums)-1)
	}}
	b.section("Cost", 0, g)
	b.grid(g)
	if text, over := c.Verdict(); text != "" {
		lead := "Within the budget:"
		if over {
			lead = "Over the budget:"
		}
		b.para(paragraph{lead: lead, text: fmt.Sprintf("the total is %s; %s.", c.Currency.Show(c.Total.Likely), text)})
	}
	for _, missing := range m.Missing {
		b.para(paragraph{lead: "To be given:", text: missing})
	}
	if stages := c.StageTable(); len(stages.Rows) > 0 {
		b.headed("Due of the likely total", stages)
	}
}

// reading returns a sum as a length to draw.
func reading(sum string) float64 {
	v, err := strconv.ParseFloat(sum, 64)
	if err != nil {
		return 0
	}
	return v
}

// cautions lists them in full, the gravest first, then acknowledgements of none and what burns.
func (b *book) cautions() {
	b.heading("Cautions", 30)
	b.found()
	for i, words := range b.scope.UnmetWords() {
		if i == 0 {
			b.under(scope.UnmetHeading, b.tall(words+".", textHeight, textPitch))
		}
		b.para(paragraph{text: words + "."})
	}
	if t := b.scope.BurnTable(b.work.Units); len(t.Rows) > 0 {
		b.under(scope.BurnHeading, b.tall(scope.BurnWords, textHeight, textPitch)+20)
		b.para(paragraph{text: scope.BurnWords})
		b.table(t)
	}
}

// found lists the cautions that were found.
func (b *book) found() {
	if len(b.scope.Cautions) == 0 {
		b.para(paragraph{text: scope.NoCautions})
		return
	}
	b.para(paragraph{text: scope.Standing()})
	for _, part := range scope.Severities() {
		for i, a := range b.scope.Alike(part.Name) {
			tall := b.tall(a.Code+" "+a.Where, textHeight, textPitch) + b.tall(a.Text, textHeight, textPitch) + b.tall("Source: "+a.Source+".", draw.Letter18, smallPitch)
			if i == 0 {
				b.under(part.Heading, tall+2)
			}
			if tall < 0.5*b.body.Height() {
				b.need(tall)
			}
			b.para(paragraph{lead: a.Code, text: a.Where + "."})
			b.y -= parting * 0.7
			b.para(paragraph{text: a.Text})
			b.y -= parting * 0.7
			b.para(paragraph{text: "Source: " + a.Source + ".", small: true})
			b.y += 0.8
		}
	}
}

// tall returns how tall a paragraph is.
func (b *book) tall(text string, height, pitch float64) float64 {
	lines := draw.Text{Say: text, Height: height, Bold: true}.Wrap(b.body.Width())
	return float64(len(lines))*pitch + parting
}

// lie says how the pieces lie.
func (b *book) lie() {
	s := b.scope
	b.heading("How the pieces lie", 30)
	b.list(s.Spread(b.work.Units))
	if t := s.AskedTable(b.work.Units); len(t.Rows) > 0 {
		b.headed("What the plan asks, and what came out", t)
		for _, n := range s.Lie.Notes() {
			b.para(paragraph{lead: n.Term, text: n.Text})
		}
	}
	if len(s.Seated) > 0 {
		b.heading("Moved for their holes", 20)
		b.para(paragraph{text: scope.SeatedWords})
		var moved []string
		for _, g := range s.Seated {
			moved = append(moved, g.Text)
		}
		b.list(moved)
	}
}

// ends says what is taken for granted, what the plan leaves out, and what nothing here knows.
func (b *book) ends() {
	if m := b.scope.Making; m != nil {
		if len(m.Assumed) > 0 {
			b.heading("What the making takes for granted", 20)
			b.list(m.Assumed)
		}
		if unsaid := m.Unsaid(); len(unsaid) > 0 {
			b.heading("What the plan does not say yet", 20)
			for i, u := range unsaid {
				unsaid[i] = strings.ReplaceAll(u, "`", "")
			}
			b.list(unsaid)
		}
	}
	b.heading("What this does not know", 25)
	b.list(b.scope.Limits())
}
