package scope

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/export/number"
	"wallshoal/wall/measure"
)

// A Table is a table of a scope as people read it, in plain text. One without rows is not shown.
type Table struct {
	Text  int // columns that lean left; the others are figures and lean right
	Heads []string
	Rows  [][]string
	Sum   bool // the last row adds up the others
}

// WallTable lists holes, pieces and areas face by face, in the units of the work, and adds them up where
// there are several faces.
func (s Scope) WallTable(units measure.Unit) Table {
	t := Table{Text: 2, Heads: []string{"Wall", "Face", "Holes", "Pieces", "Area", "Free for pieces", "Covered", "Share covered"}}
	row := func(f Face) {
		covered := "not known"
		if f.Coverage != nil {
			covered = fmt.Sprintf("%.1f %%", 100**f.Coverage)
		}
		t.Rows = append(t.Rows, []string{f.Wall, f.Face, number.Whole(f.Holes), number.Whole(f.Pieces),
			Area(f.Area, units), Area(f.Free, units), Area(f.Covered, units), covered})
	}
	for _, f := range s.Faces {
		row(f)
	}
	if len(s.Faces) > 1 {
		row(s.all())
		t.Sum = true
	}
	return t
}

// all adds up the faces.
func (s Scope) all() Face {
	sum := Face{Wall: "All"}
	for _, f := range s.Faces {
		sum.Holes, sum.Pieces = sum.Holes+f.Holes, sum.Pieces+f.Pieces
		sum.Area, sum.Free, sum.Covered = sum.Area+f.Area, sum.Free+f.Free, sum.Covered+f.Covered
	}
	sum.Coverage = known(sum.Covered/sum.Area, 10_000)
	return sum
}

// A drill is one way of drilling.
type drill struct {
	bit, depth float64
	fixing     string
}

// DrillTable counts the holes that are drilled alike, the thinnest first.
func DrillTable(work holemap.Work) Table {
	count := map[drill]int{}
	var ways []drill
	for _, h := range work.Map.Holes {
		d := drill{h.Bit, h.Depth, h.Fixing}
		if count[d]++; count[d] == 1 {
			ways = append(ways, d)
		}
	}
	slices.SortFunc(ways, func(a, b drill) int {
		return cmp.Or(cmp.Compare(a.bit, b.bit), cmp.Compare(a.depth, b.depth), cmp.Compare(a.fixing, b.fixing))
	})
	t := Table{Text: 1, Heads: []string{"Fixing", "Bit", "Depth", "Holes"}}
	for _, d := range ways {
		t.Rows = append(t.Rows, []string{named(d.fixing), measure.Precise(d.bit, work.Units), measure.Precise(d.depth, work.Units), number.Whole(count[d])})
	}
	return t
}

// KindTable counts pieces and holes by kind, and adds them up where there are several.
func (s Scope) KindTable() Table {
	t := Table{Text: 2, Heads: []string{"Code", "Kind", "Pieces", "Holes"}}
	row := func(k Kind) {
		t.Rows = append(t.Rows, []string{k.Code, k.Name, number.Whole(k.Pieces), number.Whole(k.Holes)})
	}
	for _, k := range s.Kinds {
		row(k)
	}
	if len(s.Kinds) > 1 {
		row(Kind{Code: "All", Pieces: s.Pieces, Holes: s.Holes})
		t.Sum = true
	}
	return t
}

// WhereTable counts the pieces of each kind face by face. It has no rows where there is but one kind, or
// one face.
func (s Scope) WhereTable() Table {
	t := Table{Text: 2, Heads: []string{"Wall", "Face"}}
	if len(s.Kinds) < 2 || len(s.Faces) < 2 {
		return t
	}
	for _, k := range s.Kinds {
		t.Heads = append(t.Heads, k.Code)
	}
	for _, f := range s.Faces {
		row := []string{f.Wall, f.Face}
		for _, h := range f.Hung {
			row = append(row, number.Whole(h.Pieces))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// FixingTable counts the fixings, by name.
func (s Scope) FixingTable() Table {
	t := Table{Text: 1, Heads: []string{"Fixing", "Count"}}
	for _, f := range s.Fixings {
		t.Rows = append(t.Rows, []string{named(f.Name), number.Whole(f.Count)})
	}
	return t
}

// SheetTable counts the sheets of the hole map face by face, and adds them up where there are several.
func (s Scope) SheetTable() Table {
	t := Table{Text: 2, Heads: []string{"Wall", "Face", "Sheets", "Saved", "Near", "Cut goes round"}}
	var sum Sheets
	row := func(wall, face string, c Sheets) {
		t.Rows = append(t.Rows, []string{wall, face, number.Whole(c.Sheets), number.Whole(c.Saved), number.Whole(c.Near), number.Whole(c.Round)})
	}
	for _, c := range s.Sheets {
		row(c.Wall, c.Face, c)
		sum.Sheets, sum.Saved, sum.Near, sum.Round = sum.Sheets+c.Sheets, sum.Saved+c.Saved, sum.Near+c.Near, sum.Round+c.Round
	}
	if len(s.Sheets) > 1 {
		row("All", "", sum)
		t.Sum = true
	}
	return t
}

// PieceTable counts what is to be made of each kind, and adds it up where there are several.
func (m Making) PieceTable() Table {
	t := Table{Text: 2, Heads: []string{"Code", "Kind", "Placed", "Spare", "In hand", "To make"}}
	var sum ToMake
	row := func(k ToMake) {
		t.Rows = append(t.Rows, []string{k.Code, k.Name, number.Whole(k.Placed), number.Whole(k.Spare), number.Whole(k.InHand), number.Whole(k.Make)})
	}
	for _, k := range m.ToMake {
		row(k)
		sum.Placed, sum.Spare, sum.InHand, sum.Make = sum.Placed+k.Placed, sum.Spare+k.Spare, sum.InHand+k.InHand, sum.Make+k.Make
	}
	if len(m.ToMake) > 1 {
		sum.Code = "All"
		row(sum)
		t.Sum = true
	}
	return t
}

// StockTable counts the sheets that pieces are cut from.
func (m Making) StockTable(units measure.Unit) Table {
	t := Table{Text: 3, Heads: []string{"Stock", "Sheet", "Kinds", "Sheets", "Offcut"}}
	for _, s := range m.Sheets {
		t.Rows = append(t.Rows, []string{s.Name, size(s.Width, s.Height, units), strings.Join(s.Of, ", "), number.Whole(s.Sheets), share(s.Offcut)})
	}
	return t
}

// size returns the width and the height of a sheet.
func size(width, height float64, units measure.Unit) string {
	if units.Imperial() {
		return measure.Format(width, units) + " × " + measure.Format(height, units)
	}
	return fmt.Sprintf("%g × %g mm", width, height)
}

// Says tells how often a sheet is cut so, and what lies on it.
func (c Cut) Says() (times, pieces string) {
	var on []string
	for _, h := range c.Pieces {
		on = append(on, fmt.Sprintf("%d %s", h.Pieces, h.Code))
	}
	times = "once"
	if c.Times > 1 {
		times = fmt.Sprintf("%d times", c.Times)
	}
	return times, strings.Join(on, ", ")
}

// MaterialTable lists what the work takes and what is to be bought of it.
func (m Making) MaterialTable() Table {
	money := Currency{}
	if m.Cost != nil {
		money = m.Cost.Currency
	}
	t := Table{Text: 1, Heads: []string{"Material", "Needed", "In hand", "To buy", "Left over", "Cost"}}
	for _, l := range m.Materials {
		buy, price := l.Buy.inTenths(up).String(), ""
		switch {
		case l.Mix != nil:
			buy = "mixed"
		case l.Packs > 0:
			buy = fmt.Sprintf("%d × %s", l.Packs, l.Pack)
			if l.Pack.Unit == "" {
				buy = number.Of(l.Packs, "pack") + " of " + l.Pack.Value
			}
		}
		switch {
		case l.Cost != nil:
			price = money.Show(pad(*l.Cost, money.Digits))
		case l.Mix == nil && l.Buy.Value != "0":
			price = "not known"
		}
		t.Rows = append(t.Rows, []string{l.Name, l.Need.inTenths(up).String(), l.Hand.String(), buy, l.Left.inTenths(down).String(), price})
	}
	return t
}

// Table lists what goes into a batch, and what all batches come to against what is needed.
func (m Mix) Table() Table {
	t := Table{Text: 1, Heads: []string{"Of", "Parts", "Amount"}}
	for _, part := range m.Parts {
		t.Rows = append(t.Rows, []string{part.Name, part.Parts, part.Amount.String()})
	}
	t.Rows = append(t.Rows,
		[]string{"Batches", "", number.Whole(m.Batches)},
		[]string{"Needed", "", m.Need.inTenths(up).String()},
		[]string{"Left over", "", m.Over.inTenths(down).String()},
	)
	return t
}

// Table lists the operations, with what their hours are known from, and their sum.
func (h Hours) Table() Table {
	t := Table{Text: 3, Heads: []string{"Work", "Of", "Known from", "Expected", "Low", "High"}, Sum: true}
	for _, o := range h.Operations {
		units := ""
		if o.Per != "" {
			units = counted(o.Units, o.noun())
		}
		row := []string{o.Name, units, o.Known(), hours.Clock(o.Expected), hours.Clock(o.Low), hours.Clock(o.High)}
		if !o.Worked() {
			row[3], row[4], row[5] = "", "", ""
		}
		t.Rows = append(t.Rows, row)
	}
	t.Rows = append(t.Rows, []string{"Together", "", "", hours.Clock(h.Expected), hours.Clock(h.Low), hours.Clock(h.High)})
	return t
}

// noun returns what the units of the operation are.
func (o Operation) noun() string {
	if o.Batch > 0 {
		return "batch"
	}
	return o.Per
}

// Worked reports whether there are hours of the operation: it is worked on, and something is known of it.
func (o Operation) Worked() bool {
	basis := hours.Basis(o.Basis)
	return basis != hours.Unknown && basis != hours.Nothing
}

// Known says in a word or two what the hours of the operation are known from.
func (o Operation) Known() string {
	switch hours.Basis(o.Basis) {
	case hours.Fitted, hours.Proportional:
		return "logged jobs"
	case hours.TwoJobs:
		return "two logged jobs"
	case hours.OneJob:
		return "guess from one job"
	case hours.Threefold:
		return "judgement"
	case hours.Unknown:
		return "to be given"
	}
	return ""
}

// Sums returns what is paid for and what comes on top, and at last the total, each under its name.
func (c Cost) Sums() []CostLine {
	out := slices.Clone(c.Lines)
	if c.Shares.Contingency != "0 %" {
		out = append(out, CostLine{"Contingency, " + c.Shares.Contingency, c.Contingency})
	}
	if c.Shares.Tax != "0 %" {
		out = append(out, CostLine{"Tax, " + c.Shares.Tax, c.Tax})
	}
	return append(out, CostLine{"Total", c.Total})
}

// Table lists what is paid for, and the total.
func (c Cost) Table() Table {
	t := Table{Text: 1, Heads: []string{"", "Low", "Likely", "High"}, Sum: true}
	for _, l := range c.Sums() {
		t.Rows = append(t.Rows, []string{l.Name, c.Currency.Show(l.Low), c.Currency.Show(l.Likely), c.Currency.Show(l.High)})
	}
	return t
}

// StageTable lists what is due when.
func (c Cost) StageTable() Table {
	t := Table{Text: 1, Heads: []string{"When", "Due"}}
	for _, s := range c.Stages {
		t.Rows = append(t.Rows, []string{s.Name, c.Currency.Show(s.Due)})
	}
	return t
}

// AskedTable sets what the plan asks of how the pieces lie beside what came out.
func (s Scope) AskedTable(units measure.Unit) Table {
	t := Table{Text: 1, Heads: []string{"", "Asked", "Came out"}}
	l := s.Lie
	if l == nil {
		return t
	}
	add := func(what, asked, found string) { t.Rows = append(t.Rows, []string{what, asked, found}) }
	add("Pieces", number.Whole(l.Asked.Pieces), number.Whole(s.Pieces))
	if s.Spacing.Closest != nil {
		add("The two closest centres", measure.Precise(l.Asked.Spacing, units)+" or more", measure.Precise(*s.Spacing.Closest, units))
	}
	if l.MeanNearest != nil {
		add("From a centre to the nearest, on average", "as far as goes", measure.Precise(math.Round(*l.MeanNearest), units))
	}
	if l.Astray != nil {
		add("Pieces astray from the density", "as few as goes", share(*l.Astray))
	}
	l.headings(add)
	l.mixing(add)
	if len(s.Seated) > 0 {
		add("Pieces moved or turned for their holes", "as few as goes", number.Whole(len(s.Seated)))
	}
	return t
}
