package scope

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"wallshoal/export/cost"
	"wallshoal/export/decimal"
	"wallshoal/export/hours"
	"wallshoal/export/number"
)

// MaxBytes is the most that a scope.json may hold.
const MaxBytes = 64 << 20

// Read returns the scope in data, which is the contents of the scope.json called name. The error says what
// is wrong, and after a semicolon what to do.
func Read(name string, data []byte) (Scope, error) {
	const fix = "name a scope.json that this program wrote"
	if len(data) > MaxBytes {
		return Scope{}, fmt.Errorf("%q is too large for a scope; %s", name, fix)
	}
	var s Scope
	if err := json.Unmarshal(data, &s); err != nil {
		return Scope{}, fmt.Errorf("%q is no scope; %s", name, fix)
	}
	if s.Fingerprint == "" || s.Pieces < 0 || s.Holes < 0 {
		return Scope{}, fmt.Errorf("%q says nothing of holes; %s", name, fix)
	}
	if m := s.Making; m != nil && m.Cost != nil && (m.Cost.Currency.Digits < 0 || m.Cost.Currency.Digits > cost.MaxDigits) {
		return Scope{}, fmt.Errorf("%q has a currency that cannot be; %s", name, fix)
	}
	return s, nil
}

// A Change is something that is otherwise than it was.
type Change struct {
	Part string // holes, pieces, walls, making, cost or days
	Text string // what it is, and what it was
}

// Parts of a scope in which something can change, in the order in which changes are told.
const (
	Holes       = "Holes"
	Pieces      = "Pieces"
	Walls       = "Walls"
	MakingParts = "Making"
	CostPart    = "Cost"
	DaysPart    = "Days"
)

// Compare returns what changed from one scope to another of the same work: holes first, then pieces, walls,
// what making takes, cost and days. It is empty where nothing did.
func Compare(old, now Scope) []Change {
	c := &changes{}
	if old.Title != now.Title {
		c.add(Holes, "these are of %q; what was agreed is of %q", now.Title, old.Title)
	}
	c.number(Holes, "holes", old.Holes, now.Holes)
	if old.Fingerprint != now.Fingerprint {
		c.add(Holes, "they are not the same holes: fingerprint %s, was %s", now.Fingerprint, old.Fingerprint)
		c.drilled(old.Drilled, now.Drilled)
	}
	each(old.Fixings, now.Fixings, func(f Fixing) string { return f.Name }, func(name string, a, b Fixing) {
		c.number(Holes, fmt.Sprintf("fixings %q", name), a.Count, b.Count)
	})
	c.number(Pieces, "pieces", old.Pieces, now.Pieces)
	each(old.Kinds, now.Kinds, func(k Kind) string { return k.Code }, func(code string, a, b Kind) {
		c.number(Pieces, "pieces of "+code, a.Pieces, b.Pieces)
	})
	each(old.Faces, now.Faces, func(f Face) string { return f.Wall + ", " + f.Face }, func(name string, a, b Face) {
		c.number(Walls, name+": holes", a.Holes, b.Holes)
		c.number(Walls, name+": pieces", a.Pieces, b.Pieces)
		c.text(Walls, name+": area", squares(a), squares(b))
	})
	before, after := old.Making, now.Making
	if before == nil {
		before = &Making{}
	}
	if after == nil {
		after = &Making{}
	}
	c.making(*before, *after)
	c.cost(before.Cost, after.Cost)
	c.days(before.Days, after.Days)
	return c.found
}

// changes gathers what changed.
type changes struct{ found []Change }

func (c *changes) add(part, format string, args ...any) {
	c.found = append(c.found, Change{part, fmt.Sprintf(format, args...)})
}

func (c *changes) number(part, what string, old, now int) {
	switch {
	case now > old:
		c.add(part, "%s: %s, were %s: %s more", what, number.Whole(now), number.Whole(old), number.Whole(now-old))
	case now < old:
		c.add(part, "%s: %s, were %s: %s fewer", what, number.Whole(now), number.Whole(old), number.Whole(old-now))
	}
}

// text says that something is otherwise; empty is for what is not there.
func (c *changes) text(part, what, old, now string) {
	switch {
	case old == now:
	case old == "":
		c.add(part, "%s: %s, was not given", what, now)
	case now == "":
		c.add(part, "%s: is not given any more, was %s", what, old)
	default:
		c.add(part, "%s: %s, was %s", what, now, old)
	}
}

func squares(f Face) string {
	if f.Area == 0 {
		return ""
	}
	return fmt.Sprintf("%.2f m²", f.Area)
}

// each walks over what two lists have, by name: in the order of the second, and then what only the first
// has.
func each[T any](old, now []T, name func(T) string, do func(name string, old, now T)) {
	was, is := map[string]T{}, map[string]bool{}
	for _, v := range old {
		was[name(v)] = v
	}
	for _, v := range now {
		if !is[name(v)] {
			is[name(v)] = true
			do(name(v), was[name(v)], v)
		}
	}
	for _, v := range old {
		if !is[name(v)] {
			is[name(v)] = true
			var none T
			do(name(v), v, none)
		}
	}
}

func (c *changes) making(old, now Making) {
	each(old.ToMake, now.ToMake, func(k ToMake) string { return k.Code }, func(code string, a, b ToMake) {
		c.number(MakingParts, "to make of "+code, a.Make, b.Make)
	})
	each(old.Sheets, now.Sheets, func(s Stock) string { return s.Name }, func(name string, a, b Stock) {
		c.number(MakingParts, "sheets of "+name, a.Sheets, b.Sheets)
	})
	each(old.Materials, now.Materials, func(m Material) string { return m.Name }, func(name string, a, b Material) {
		amount := func(m Material) string {
			if m.Name == "" {
				return ""
			}
			return m.Need.String()
		}
		c.text(MakingParts, name, amount(a), amount(b))
	})
	worked := func(h *Hours) string {
		if h == nil {
			return ""
		}
		return fmt.Sprintf("%s (%s to %s)", hours.Clock(h.Expected), hours.Clock(h.Low), hours.Clock(h.High))
	}
	c.text(MakingParts, "work", worked(old.Hours), worked(now.Hours))
}

func (c *changes) cost(old, now *Cost) {
	if old == nil && now == nil {
		return
	}
	if old == nil {
		old = &Cost{}
	}
	if now == nil {
		now = &Cost{}
	}
	c.money("total", old.Total, now.Total, *old, *now)
	each(old.Lines, now.Lines, func(l CostLine) string { return l.Name }, func(name string, a, b CostLine) {
		c.money(name, a.Money, b.Money, *old, *now)
	})
	c.money("tax", old.Tax, now.Tax, *old, *now)
	budget := func(of Cost) string {
		if of.Budget == nil {
			return ""
		}
		return of.Currency.Show(*of.Budget)
	}
	c.text(CostPart, "budget", budget(*old), budget(*now))
}

func (c *changes) money(what string, old, now Money, before, after Cost) {
	show := func(m Money, in Cost) string {
		if m.Likely == "" {
			return ""
		}
		likely := in.Currency.Show(m.Likely)
		if m.Low == m.Likely && m.High == m.Likely {
			return likely
		}
		return fmt.Sprintf("%s (%s to %s)", likely, in.Currency.Show(m.Low), in.Currency.Show(m.High))
	}
	was, is := show(old, before), show(now, after)
	a, wrong := decimal.Parse(old.Likely)
	b, wrong2 := decimal.Parse(now.Likely)
	if was == is || wrong != nil || wrong2 != nil || before.Currency != after.Currency || a.Cmp(b) == 0 {
		c.text(CostPart, what, was, is)
		return
	}
	more, by := "more", b.Sub(a)
	if by.Sign() < 0 {
		more, by = "less", a.Sub(b)
	}
	c.add(CostPart, "%s: %s, was %s: %s %s", what, is, was, after.Currency.Show(by.Text(after.Currency.Digits)), more)
}

func (c *changes) days(old, now *Days) {
	if old == nil {
		old = &Days{}
	}
	if now == nil {
		now = &Days{}
	}
	given := func(text *string) string {
		if text == nil {
			return ""
		}
		return *text
	}
	fits := func(d Days) string {
		switch {
		case d.Fits == nil:
			return ""
		case *d.Fits:
			return "can be done"
		}
		return "cannot be done"
	}
	c.text(DaysPart, "begun", old.Begin, now.Begin)
	c.text(DaysPart, "done", old.Done, now.Done)
	c.text(DaysPart, "to hang by the end of", given(old.Install), given(now.Install))
	c.text(DaysPart, "in time", fits(*old), fits(*now))
	c.text(DaysPart, "last day to agree", given(old.LastYes), given(now.LastYes))
}

// WriteChanges writes what changed as a page for a person, and returns the first error.
func WriteChanges(w io.Writer, all []Change) error {
	if len(all) == 0 {
		_, err := fmt.Fprintln(w, "Nothing has changed.")
		return err
	}
	var b strings.Builder
	b.WriteString("# What has changed\n")
	part := ""
	for _, c := range all {
		if c.Part != part {
			part = c.Part
			fmt.Fprintf(&b, "\n## %s\n\n", part)
		}
		fmt.Fprintf(&b, "- %s\n", plain(c.Text))
	}
	_, err := io.WriteString(w, b.String())
	return err
}
