package scope

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"wallshoal/export/calendar"
	"wallshoal/export/caution"
	"wallshoal/export/hours"
	"wallshoal/export/materials"
)

// show returns a sum as people write it.
func (c Currency) show(text string) string {
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

func (m Money) row(c Currency) []string {
	return []string{plain(c.show(m.Low)), plain(c.show(m.Likely)), plain(c.show(m.High))}
}

// short says in a few lines whether one can agree to the work, where the plan says what that takes.
func (p *page) short(s Scope) {
	m := s.Making
	if m == nil || (m.Cost == nil && m.Days == nil && m.Hours == nil) {
		return
	}
	p.heading("In short")
	p.line("- **%s** in the wall, %s on it.", many(s.Holes, "hole"), many(s.Pieces, "piece"))
	if n := pressing(s); n > 0 {
		p.line("- %s to settle before the first hole.", many(n, "caution"))
	}
	if m.Hours != nil {
		p.line("- %s of work, or from %s to %s.", hours.Clock(m.Hours.Expected), hours.Clock(m.Hours.Low), hours.Clock(m.Hours.High))
	}
	if c := m.Cost; c != nil {
		p.line("- **%s**, or from %s to %s%s.", plain(c.Currency.show(c.Total.Likely)), plain(c.Currency.show(c.Total.Low)), plain(c.Currency.show(c.Total.High)), c.verdict())
	}
	if m.Days != nil {
		p.line("- %s", m.Days.Text)
	}
	for _, missing := range m.Missing {
		p.line("- To be given: %s", plain(missing))
	}
}

// pressing returns how many cautions have to be settled before the first hole. What is the same on several
// faces counts once, as it is listed.
func pressing(s Scope) int {
	n := 0
	for _, severity := range []string{caution.Stop, caution.Ask} {
		for _, group := range alike(s.Cautions, severity) {
			if slices.ContainsFunc(group, func(c Caution) bool { return c.Acknowledged == nil }) {
				n++
			}
		}
	}
	return n
}

// verdict says how the cost stands to the budget; empty without one.
func (c Cost) verdict() string {
	if c.Over == nil {
		return ""
	}
	over := *c.Over
	by := plain(c.Currency.show(strings.TrimPrefix(over, "-")))
	budget := plain(c.Currency.show(*c.Budget))
	switch {
	case strings.Trim(over, "-0.") == "":
		return "; that is the budget exactly"
	case strings.HasPrefix(over, "-"):
		return fmt.Sprintf("; the %s figure is %s under the budget of %s", c.Hold, by, budget)
	}
	return fmt.Sprintf("; the %s figure is **%s over** the budget of %s", c.Hold, by, budget)
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
	var unsaid []string
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
			unsaid = append(unsaid, part.add)
		}
	}
	if len(unsaid) > 0 {
		p.heading("What the plan does not say yet")
		for _, add := range unsaid {
			p.line("- Add %s.", add)
		}
	}
}

func (p *page) toMake(m *Making) {
	p.heading("To make")
	rows := make([][]string, len(m.ToMake))
	for i, k := range m.ToMake {
		rows[i] = []string{plain(k.Code), plain(k.Name), strconv.Itoa(k.Placed), strconv.Itoa(k.Spare), strconv.Itoa(k.InHand), strconv.Itoa(k.Make)}
	}
	p.table(2, []string{"Code", "Kind", "Placed", "Spare", "In hand", "To make"}, rows)
}

func (p *page) stocks(m *Making) {
	if len(m.Sheets) == 0 {
		return
	}
	p.heading("Sheets to cut")
	var rows [][]string
	for _, s := range m.Sheets {
		rows = append(rows, []string{plain(s.Name), fmt.Sprintf("%g × %g mm", s.Width, s.Height), strings.Join(s.Of, ", "), strconv.Itoa(s.Sheets), share(s.Offcut)})
	}
	p.table(3, []string{"Stock", "Sheet", "Kinds", "Sheets", "Offcut"}, rows)
	p.line("")
	for _, s := range m.Sheets {
		for _, c := range s.Cuts {
			var on []string
			for _, h := range c.Pieces {
				on = append(on, fmt.Sprintf("%d %s", h.Pieces, plain(h.Code)))
			}
			times := "cut once"
			if c.Times > 1 {
				times = fmt.Sprintf("cut **%d times**", c.Times)
			}
			p.line("- `%s`, of %s: %s; %s", c.Drawing, plain(s.Name), times, strings.Join(on, ", "))
		}
	}
}

func (p *page) materials(m *Making) {
	if len(m.Materials) == 0 {
		return
	}
	p.heading("Materials")
	money := Currency{}
	if m.Cost != nil {
		money = m.Cost.Currency
	}
	var rows [][]string
	for _, l := range m.Materials {
		buy, price := l.Buy.String(), ""
		switch {
		case l.Mix != nil:
			buy = "mixed"
		case l.Packs > 0:
			buy = fmt.Sprintf("%d × %s", l.Packs, l.Pack)
			if l.Pack.Unit == "" {
				buy = many(l.Packs, "pack") + " of " + l.Pack.Value
			}
		}
		switch {
		case l.Cost != nil:
			price = plain(money.show(pad(*l.Cost, money.Digits)))
		case l.Mix == nil && l.Buy.Value != "0":
			price = "not known"
		}
		rows = append(rows, []string{plain(l.Name), l.Need.String(), l.Hand.String(), buy, l.Left.String(), price})
	}
	p.table(1, []string{"Material", "Needed", "In hand", "To buy", "Left over", "Cost"}, rows)
	for _, l := range m.Materials {
		if l.Mix == nil {
			continue
		}
		p.line("\n%s, %s in a batch:\n", plain(l.Name), l.Mix.Amount)
		var parts [][]string
		for _, part := range l.Mix.Parts {
			parts = append(parts, []string{plain(part.Name), part.Parts, part.Amount.String()})
		}
		p.table(1, []string{"Of", "Parts", "Amount"}, parts)
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
	var rows [][]string
	for _, o := range h.Operations {
		units := ""
		if o.Per != "" {
			units = counted(o.Units, o.Per)
		}
		row := []string{plain(o.Name), units, hours.Clock(o.Expected), hours.Clock(o.Low), hours.Clock(o.High)}
		switch hours.Basis(o.Basis) {
		case hours.Unknown:
			row = []string{plain(o.Name), units, "to be given", "", ""}
		case hours.Nothing:
			row = []string{plain(o.Name), units, "", "", ""}
		}
		rows = append(rows, row)
	}
	rows = append(rows, []string{"**Together**", "", hours.Clock(h.Expected), hours.Clock(h.Low), hours.Clock(h.High)})
	p.table(2, []string{"Work", "Of", "Expected", "Low", "High"}, rows)
	p.line("\nOf all hands together. From low to high is where it falls %.0f times in a hundred; the sum is surer than its parts.\n", 100*h.Likelihood)
	for _, o := range h.Operations {
		for _, n := range o.Notes {
			p.line("- %s: %s.", plain(o.Name), plain(strings.TrimSuffix(n, ".")))
		}
	}
	for _, n := range h.Notes {
		p.line("- %s.", plain(strings.TrimSuffix(n, ".")))
	}
}

// counted returns so many units with their noun.
func counted(units float64, noun string) string {
	text := strconv.FormatFloat(units, 'f', -1, 64)
	switch {
	case noun == "square metre":
		return fmt.Sprintf("%.2f m²", units)
	case noun == "square foot":
		return fmt.Sprintf("%.1f sq ft", units)
	case units == 1:
		return text + " " + noun
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
	if d.DoneLate != nil {
		still := ""
		if d.FitsLate != nil && *d.FitsLate {
			still = ", which is still in time"
		} else if d.FitsLate != nil {
			still = ", which is **not** in time"
		}
		p.line("If it takes as long as the high end of the hours, it is done on %s%s.", words(*d.DoneLate), still)
	}
	if m.Hours != nil && len(m.Hours.Missing) > 0 {
		p.line("It is without %s, of which nothing is known: it will be **later**.", plain(strings.Join(m.Hours.Missing, ", ")))
	}
	p.line("\n`gantt.pdf` shows it day by day, `days.csv` lists it, and the `.ics` file puts it into a calendar.")
}

// words returns a date as people read it.
func words(date string) string {
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
	var rows [][]string
	add := func(name string, sum Money) { rows = append(rows, append([]string{name}, sum.row(c.Currency)...)) }
	for _, l := range c.Lines {
		add(plain(l.Name), l.Money)
	}
	if c.Shares.Contingency != "0 %" {
		add("Contingency, "+c.Shares.Contingency, c.Contingency)
	}
	if c.Shares.Tax != "0 %" {
		add("Tax, "+c.Shares.Tax, c.Tax)
	}
	add("**Total**", c.Total)
	p.table(1, []string{"", "Low", "Likely", "High"}, rows)
	if v := c.verdict(); v != "" {
		p.line("\nThe total is %s%s.", plain(c.Currency.show(c.Total.Likely)), v)
	}
	for _, missing := range m.Missing {
		p.line("\nTo be given: %s", plain(missing))
	}
	if len(c.Stages) > 0 {
		p.line("\nDue of the likely total:\n")
		for _, s := range c.Stages {
			p.line("- %s: %s", plain(s.Name), plain(c.Currency.show(s.Due)))
		}
	}
}
