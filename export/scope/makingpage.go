package scope

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"wallshoal/export/calendar"
	"wallshoal/export/caution"
	"wallshoal/export/decimal"
	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/export/materials"
	"wallshoal/export/number"
)

// Show returns a sum as people write it, its digits in groups of three; text is the sum in plain digits.
func (c Currency) Show(text string) string {
	text = number.Group(text)
	if rest, below := strings.CutPrefix(text, "-"); below {
		return "-" + c.Before + rest + c.After
	}
	return c.Before + text + c.After
}

// String returns the amount as people write it.
func (a Amount) String() string {
	if exact, err := materials.ParseAmount(a.Value + " " + a.Unit); err == nil {
		return exact.String()
	}
	return strings.TrimSpace(a.Value + " " + a.Unit)
}

// A direction is where an amount is rounded to: what is needed up, what is left over down, so that both
// still add up to what is bought.
type direction bool

const (
	up   direction = true
	down direction = false
)

// inTenths returns a, from one unit on in tenths, finer than which nobody weighs it out.
func (a Amount) inTenths(to direction) Amount {
	exact, err := decimal.Parse(a.Value)
	if one := decimal.Of(1); err != nil || exact.Cmp(one) < 0 {
		return a
	}
	zero, ten := decimal.Number{}, decimal.Of(10)
	tenths := exact.Mul(ten)
	if to == up {
		tenths = tenths.Ceil()
	} else {
		tenths = zero.Sub(zero.Sub(tenths).Ceil())
	}
	return Amount{tenths.Div(ten).String(), a.Unit}
}

// short says in a few lines whether one can agree to the work, where the plan says what that takes.
func (p *page) short(work holemap.Work, s Scope) {
	m := s.Making
	if m == nil || (m.Cost == nil && m.Days == nil && m.Hours == nil) {
		return
	}
	p.heading("In short")
	in, on := s.bears(work)
	p.line("- **%s** in %s, %s on %s.", number.Of(s.Holes, "hole"), in, number.Of(s.Pieces, "piece"), on)
	if n := s.Pressing(); n > 0 {
		p.line("- %s to settle before the first hole.", number.Of(n, "caution"))
	}
	if m.Hours != nil {
		p.line("- %s of work, or from %s to %s.", hours.Clock(m.Hours.Expected), hours.Clock(m.Hours.Low), hours.Clock(m.Hours.High))
	}
	if c := m.Cost; c != nil {
		p.line("- **%s**, or from %s to %s%s.", plain(c.Currency.Show(c.Total.Likely)), plain(c.Currency.Show(c.Total.Low)), plain(c.Currency.Show(c.Total.High)), c.verdict())
	}
	if m.Days != nil {
		p.line("- %s", m.Days.Text)
	}
	for _, missing := range m.Missing {
		p.line("- To be given: %s", plain(missing))
	}
}

// bears says what carries the pieces: walls, the ceiling or both; and how one refers to that.
func (s Scope) bears(work holemap.Work) (in, on string) {
	walls, ceiling := 0, false
	for _, w := range work.Site.Room.Walls {
		switch {
		case !slices.ContainsFunc(s.Faces, func(f Face) bool { return f.Wall == w.Name && f.Pieces > 0 }):
		case w.Ceiling:
			ceiling = true
		default:
			walls++
		}
	}
	switch {
	case walls == 0 && ceiling:
		return "the ceiling", "it"
	case walls == 1 && ceiling:
		return "one wall and the ceiling", "them"
	case ceiling:
		return number.Of(walls, "wall") + " and the ceiling", "them"
	case walls > 1:
		return number.Of(walls, "wall"), "them"
	}
	return "the wall", "it"
}

// Pressing returns how many cautions have to be settled before the first hole. What is the same on several
// faces counts once, as it is listed.
func (s Scope) Pressing() int {
	n := 0
	for _, severity := range []string{caution.Stop, caution.Ask} {
		for _, group := range s.Alike(severity) {
			if group.Open {
				n++
			}
		}
	}
	return n
}

// Verdict says how the cost stands to the budget, and whether it is over it; empty without a budget.
func (c Cost) Verdict() (text string, over bool) {
	if c.Over == nil {
		return "", false
	}
	by := c.Currency.Show(strings.TrimPrefix(*c.Over, "-"))
	budget := c.Currency.Show(*c.Budget)
	switch {
	case strings.Trim(*c.Over, "-0.") == "":
		return "that is the budget exactly", false
	case strings.HasPrefix(*c.Over, "-"):
		return fmt.Sprintf("the %s figure is %s under the budget of %s", c.Hold, by, budget), false
	}
	return fmt.Sprintf("the %s figure is %s over the budget of %s", c.Hold, by, budget), true
}

// verdict returns the verdict as it ends a sentence, bold where the cost is over the budget.
func (c Cost) verdict() string {
	text, over := c.Verdict()
	switch {
	case text == "":
		return ""
	case over:
		return "; **" + plain(text) + "**"
	}
	return "; " + plain(text)
}

// making writes what making the work takes, and what the plan would have to say for more of it.
func (p *page) making(s Scope) {
	m := s.Making
	if m == nil {
		return
	}
	p.toMake(m)
	p.stocks(m)
	p.materials(m)
	p.hours(m)
	p.days(m)
	p.cost(m)
	if len(m.Assumed) > 0 {
		p.heading("What the making takes for granted")
		for _, n := range m.Assumed {
			p.line("- %s", plain(n))
		}
	}
	if unsaid := m.Unsaid(); len(unsaid) > 0 {
		p.heading("What the plan does not say yet")
		for _, add := range unsaid {
			p.line("- %s", add)
		}
	}
}

// Unsaid says what a plan would have to say for more of the making, with its words in backticks.
func (m Making) Unsaid() []string {
	var out []string
	for _, part := range []struct {
		said bool
		add  string
	}{
		{len(m.Sheets) > 0, "`sheets:` for how many sheets to cut, and drawings to cut them by"},
		{len(m.Materials) > 0, "`materials:` for what to buy, and `recipes:` for how it is mixed"},
		{m.Hours != nil, "`hours:` for how long it takes"},
		{m.Days != nil, "`calendar:`, with `hours:`, for when it is done, and by when all must be agreed"},
		{m.Cost != nil, "`cost:` for what it costs"},
	} {
		if !part.said {
			out = append(out, "Add "+part.add+".")
		}
	}
	return out
}

func (p *page) toMake(m *Making) {
	p.heading("To make")
	p.table(m.PieceTable())
}

func (p *page) stocks(m *Making) {
	if len(m.Sheets) == 0 {
		return
	}
	p.heading("Sheets to cut")
	p.table(m.StockTable(p.units))
	p.line("")
	for _, s := range m.Sheets {
		for _, c := range s.Cuts {
			times, pieces := c.Says()
			if c.Times > 1 {
				times = "**" + times + "**"
			}
			p.line("- `%s`, of %s: cut %s; %s", c.Drawing, plain(s.Name), times, plain(pieces))
		}
	}
}

func (p *page) materials(m *Making) {
	if len(m.Materials) == 0 {
		return
	}
	p.heading("Materials")
	p.table(m.MaterialTable())
	for _, l := range m.Materials {
		if l.Mix != nil {
			p.line("\n%s, %s in a batch:\n", plain(l.Name), l.Mix.Amount)
			p.table(l.Mix.Table())
			for _, n := range l.Mix.Notes {
				p.line("\n**%s**", plain(n))
			}
		}
	}
}

// pad returns a decimal number with at least so many decimals.
func pad(text string, digits int) string {
	whole, decimals, _ := strings.Cut(text, ".")
	if len(decimals) >= digits {
		return text
	}
	return whole + "." + decimals + strings.Repeat("0", digits-len(decimals))
}

func (p *page) hours(m *Making) {
	h := m.Hours
	if h == nil {
		return
	}
	p.heading("Hours")
	p.table(h.Table())
	p.line("\n%s\n", HourWords(*h))
	for _, o := range h.Operations {
		for _, n := range o.Notes {
			p.line("- %s: %s.", plain(o.Name), plain(strings.TrimSuffix(n, ".")))
		}
	}
	for _, n := range h.Notes {
		p.line("- %s.", plain(strings.TrimSuffix(n, ".")))
	}
}

// HourWords says how the hours are to be read.
func HourWords(h Hours) string {
	return fmt.Sprintf("Of all hands together. From low to high is where it falls %.0f times in a hundred; the sum is surer than its parts.", 100*h.Likelihood)
}

// counted returns so many units with their noun.
func counted(units float64, noun string) string {
	text := number.Group(strconv.FormatFloat(units, 'f', -1, 64))
	switch {
	case noun == "square metre":
		return fmt.Sprintf("%.2f m²", units)
	case noun == "square foot":
		return fmt.Sprintf("%.1f sq ft", units)
	case units == 1:
		return text + " " + noun
	case noun == "batch":
		return text + " batches"
	}
	return text + " " + noun + "s"
}

func (p *page) days(m *Making) {
	d := m.Days
	if d == nil {
		return
	}
	p.heading("Days")
	p.line("%s", d.Text)
	if late := d.Late(); late != "" {
		p.line("%s", late)
	}
	if m.Hours != nil && len(m.Hours.Missing) > 0 {
		p.line("It is without %s, of which nothing is known: it will be **later**.", plain(strings.Join(m.Hours.Missing, ", ")))
	}
	p.line("\n`gantt.pdf` shows it day by day, `days.csv` lists it, and the `.ics` file puts it into a calendar.")
}

// Late says when the work is done if it takes as long as the interval of the hours allows; empty where
// that is not known.
func (d Days) Late() string {
	if d.DoneLate == nil {
		return ""
	}
	still := ""
	if d.FitsLate != nil && *d.FitsLate {
		still = ", which is still in time"
	} else if d.FitsLate != nil {
		still = ", which is not in time"
	}
	return fmt.Sprintf("If it takes as long as the high end of the hours, it is done on %s%s.", Words(*d.DoneLate), still)
}

// Words returns a date as people read it.
func Words(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return calendar.DayOf(t).Words()
}

func (p *page) cost(m *Making) {
	c := m.Cost
	if c == nil {
		return
	}
	p.heading("Cost")
	p.table(c.Table())
	if v := c.verdict(); v != "" {
		p.line("\nThe total is %s%s.", plain(c.Currency.Show(c.Total.Likely)), v)
	}
	for _, missing := range m.Missing {
		p.line("\nTo be given: %s", plain(missing))
	}
	if len(c.Stages) > 0 {
		p.line("\nDue of the likely total:\n")
		for _, s := range c.Stages {
			p.line("- %s: %s", plain(s.Name), plain(c.Currency.Show(s.Due)))
		}
	}
}
