package scope

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/export/number"
)

// An Option is one way of carrying out a plan, in the figures that tell it from the others. They are those
// of a scope of its own.
type Option struct {
	Name        string       `json:"name"`
	Planned     bool         `json:"as_planned"` // it is the work that all the rest of the scope is of
	Changes     []string     `json:"changes"`    // what is otherwise than in the plan
	Picture     string       `json:"picture,omitempty"`
	Fingerprint string       `json:"fingerprint"`
	Pieces      int          `json:"pieces"`
	Holes       int          `json:"holes"`
	Walls       []OptionWall `json:"walls"`      // all, in the order of the room
	Kinds       []Hung       `json:"kinds"`      // in the order of the plan
	Area        float64      `json:"area_m2"`    // what can be seen of the faces that carry pieces or could
	Covered     float64      `json:"covered_m2"` // the sum of the outlines of the pieces
	Coverage    *float64     `json:"coverage"`   // covered against area, from 0 to 1
	Hours       *Span        `json:"hours"`
	Cost        *OptionCost  `json:"cost"`
	Days        *Days        `json:"days"`
	Missing     []string     `json:"to_be_given"` // figures that the plan lacks
}

// OptionWall counts what goes on one wall and on what stands there.
type OptionWall struct {
	Wall   string `json:"wall"`
	Used   bool   `json:"used"` // it carries pieces or could
	Pieces int    `json:"pieces"`
	Holes  int    `json:"holes"`
}

// Span is how long something takes: minutes of all hands together, to 0.1.
type Span struct {
	Expected float64 `json:"expected_min"`
	Low      float64 `json:"low_min"`
	High     float64 `json:"high_min"`
}

// OptionCost is what an option costs in all, in the currency of the scope.
type OptionCost struct {
	Money
	Over *string `json:"over"` // as Cost has it
}

// ToBeGiven is before what the plan lacks for a figure.
const ToBeGiven = "To be given:"

// AsPlanned is what the plan as it is written is called where none of its options is that.
const AsPlanned = "as planned"

// OptionOf returns a work as one of several options, given what the scope of that work counts.
func OptionOf(name string, changes []string, work holemap.Work, s Scope) Option {
	o := Option{
		Name: name, Planned: len(changes) == 0, Changes: some(changes), Fingerprint: s.Fingerprint, Pieces: s.Pieces, Holes: s.Holes,
		Missing: []string{},
	}
	for _, w := range work.Site.Room.Walls {
		on := OptionWall{Wall: w.Name}
		for _, f := range s.Faces {
			if f.Wall == w.Name {
				on.Used, on.Pieces, on.Holes = true, on.Pieces+f.Pieces, on.Holes+f.Holes
			}
		}
		o.Walls = append(o.Walls, on)
	}
	for _, k := range s.Kinds {
		o.Kinds = append(o.Kinds, Hung{k.Code, k.Pieces})
	}
	sum := s.all()
	o.Area, o.Covered, o.Coverage = *known(sum.Area, 10_000), *known(sum.Covered, 10_000), sum.Coverage
	m := s.Making
	if m == nil {
		return o
	}
	o.Days, o.Missing = m.Days, m.Missing
	if h := m.Hours; h != nil {
		o.Hours = &Span{h.Expected, h.Low, h.High}
	}
	if c := m.Cost; c != nil {
		o.Cost = &OptionCost{c.Total, c.Over}
	}
	return o
}

// Beside returns s with the options of its plan, one of which is the work that s is of.
func (s Scope) Beside(options []Option) Scope {
	s.Options = options
	return s
}

// Title returns what stands over the option: its name, and that it is the plan as it is written.
func (o Option) Title() string {
	if o.Planned && o.Name != AsPlanned {
		return o.Name + " (" + AsPlanned + ")"
	}
	return o.Name
}

// OptionTable sets the options side by side, a column each. It has no rows where there are none.
func (s Scope) OptionTable() Table { return s.optionTable(true) }

// ClientOptionTable is OptionTable without what is the maker's own: hours, the budget, and when the work begins.
func (s Scope) ClientOptionTable() Table { return s.optionTable(false) }

func (s Scope) optionTable(ours bool) Table {
	t := Table{Text: 1, Heads: []string{""}}
	for _, o := range s.Options {
		t.Heads = append(t.Heads, o.Title())
	}
	if len(s.Options) == 0 {
		return t
	}
	row := func(name string, cell func(Option) string) {
		cells := []string{name}
		said := false
		for _, o := range s.Options {
			text := cell(o)
			cells, said = append(cells, text), said || text != ""
		}
		if said {
			t.Rows = append(t.Rows, cells)
		}
	}
	row("Pieces", func(o Option) string { return number.Whole(o.Pieces) })
	row("Holes", func(o Option) string { return number.Whole(o.Holes) })
	for _, i := range s.usedWalls() {
		row("Holes in "+s.Options[0].Walls[i].Wall, func(o Option) string {
			if w := o.Walls[i]; w.Used {
				return number.Whole(w.Holes)
			}
			return "bare"
		})
	}
	row("Covered of the faces used", func(o Option) string {
		if o.Coverage == nil {
			return ""
		}
		return fmt.Sprintf("%.1f %%", 100**o.Coverage)
	})
	if ours {
		s.workRows(row)
	}
	s.costRows(row)
	if ours {
		s.budgetRow(row)
	}
	s.dayRows(row, ours)
	return t
}

// usedWalls returns the indices of the walls that some option uses, where there are several.
func (s Scope) usedWalls() []int {
	var out []int
	for i := range s.Options[0].Walls {
		if slices.ContainsFunc(s.Options, func(o Option) bool { return o.Walls[i].Used }) {
			out = append(out, i)
		}
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

func (s Scope) workRows(row func(name string, cell func(Option) string)) {
	clock := func(of func(Span) float64) func(Option) string {
		return func(o Option) string {
			if o.Hours == nil {
				return ""
			}
			return hours.Clock(of(*o.Hours))
		}
	}
	row("Work, expected", clock(func(h Span) float64 { return h.Expected }))
	row("Work, low", clock(func(h Span) float64 { return h.Low }))
	row("Work, high", clock(func(h Span) float64 { return h.High }))
}

func (s Scope) costRows(row func(name string, cell func(Option) string)) {
	if s.Making == nil || s.Making.Cost == nil {
		return
	}
	c := s.Making.Cost
	sum := func(of func(Money) string) func(Option) string {
		return func(o Option) string {
			if o.Cost == nil {
				return ""
			}
			return c.Currency.Show(of(o.Cost.Money))
		}
	}
	row("Cost, likely", sum(func(m Money) string { return m.Likely }))
	row("Cost, low", sum(func(m Money) string { return m.Low }))
	row("Cost, high", sum(func(m Money) string { return m.High }))
}

// budgetRow says how far the cost is off the budget.
func (s Scope) budgetRow(row func(name string, cell func(Option) string)) {
	if s.Making == nil || s.Making.Cost == nil || s.Making.Cost.Budget == nil {
		return
	}
	c := s.Making.Cost
	budget := "Budget of " + c.Currency.Show(*c.Budget)
	if c.Hold == "high" {
		budget += ", high"
	}
	row(budget, func(o Option) string {
		if o.Cost == nil || o.Cost.Over == nil {
			return ""
		}
		by := c.Currency.Show(strings.TrimPrefix(*o.Cost.Over, "-"))
		switch {
		case strings.Trim(*o.Cost.Over, "-0.") == "":
			return "just that"
		case strings.HasPrefix(*o.Cost.Over, "-"):
			return by + " under"
		}
		return by + " over"
	})
}

func (s Scope) dayRows(row func(name string, cell func(Option) string), ours bool) {
	at := slices.IndexFunc(s.Options, func(o Option) bool { return o.Days != nil })
	if at < 0 {
		return
	}
	of := func(cell func(Days) string) func(Option) string {
		return func(o Option) string {
			if o.Days == nil {
				return "not within ten years"
			}
			return cell(*o.Days)
		}
	}
	row("Done on", of(func(d Days) string { return Words(d.Done) }))
	due := s.Options[at].Days.Install
	if due == nil {
		return
	}
	row("In time for "+Words(*due), of(func(d Days) string {
		switch {
		case d.Fits == nil:
			return ""
		case !*d.Fits:
			return "no"
		case d.FitsLate == nil || !*d.FitsLate:
			return "barely"
		}
		return "yes"
	}))
	last := func(name string, day func(Days) *string) {
		row(name, of(func(d Days) string {
			if day(d) == nil {
				return ""
			}
			return Words(*day(d))
		}))
	}
	last("Last day to agree", func(d Days) *string { return d.LastYes })
	if !ours {
		return
	}
	last("Last day to begin", func(d Days) *string { return d.LastStart })
	row("Days of work to spare", of(func(d Days) string {
		if d.Spare < 0 {
			return fmt.Sprintf("%d too few", -d.Spare)
		}
		return number.Whole(d.Spare)
	}))
}

// Says says what the option is.
func (o Option) Says() string {
	if o.Planned {
		return "the plan as it is written"
	}
	return strings.Join(o.Changes, "; ")
}

// OptionNotes says what holds of all options.
func (s Scope) OptionNotes() []Meaning {
	var out []Meaning
	out = append(out, Meaning{"Every option", "but the plan as it is written is laid out afresh by the same rules, so its pieces lie elsewhere; what was fixed in its place or moved by hand is so in the plan alone."})
	barely := func(o Option) bool {
		return o.Days != nil && o.Days.Fits != nil && *o.Days.Fits && (o.Days.FitsLate == nil || !*o.Days.FitsLate)
	}
	if slices.ContainsFunc(s.Options, barely) {
		out = append(out, Meaning{"Barely", "in time is what is late if it takes as long as the high end of the hours."})
	}
	for _, o := range s.Options {
		for _, ask := range o.Missing {
			if m := (Meaning{ToBeGiven, ask}); !slices.Contains(out, m) {
				out = append(out, m)
			}
		}
	}
	return out
}

// options writes the options side by side.
func (p *page) options(s Scope) {
	if len(s.Options) == 0 {
		return
	}
	p.heading("Options side by side")
	t := s.OptionTable()
	rest := t
	t.Rows = nil
	p.table(t)
	if slices.ContainsFunc(s.Options, func(o Option) bool { return o.Picture != "" }) {
		pictures := []string{""}
		for _, o := range s.Options {
			picture := ""
			if o.Picture != "" {
				picture = fmt.Sprintf("![%s](%s)", plain(o.Name), o.Picture)
			}
			pictures = append(pictures, picture)
		}
		p.line("| %s |", strings.Join(pictures, " | "))
	}
	for _, row := range rest.Rows {
		p.row(row, false)
	}
	p.line("")
	for _, o := range s.Options {
		p.line("- **%s**: %s", plain(o.Name), plain(o.Says()))
	}
	for _, n := range s.OptionNotes() {
		p.line("\n*%s* %s", plain(n.Term), plain(n.Text))
	}
}
