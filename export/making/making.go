// Package making brings together what making a work takes: how many pieces of each kind, the sheets that
// they are cut from, what to buy, the hours, the days, and the money.
//
// A plan that leaves out one of these gets none of it, and is told what to add. A figure that is missing
// is asked for, and sums say what they are without. Money, parts and amounts are exact throughout.
package making

import (
	"math"
	"slices"

	"wallshoal/export/calendar"
	"wallshoal/export/cost"
	"wallshoal/export/decimal"
	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/export/materials"
	"wallshoal/export/nesting"
	"wallshoal/scatter"
)

// Asked is a work as it is counted, and what a plan says of making it.
type Asked struct {
	Counts
	Kinds     []scatter.Kind
	Sheets    []Sheets // none where the plan says nothing of sheets
	Spares    materials.Spares
	Stock     map[string]int // pieces in hand by the codes of kinds
	Materials []materials.Material
	Recipes   []materials.Recipe
	Hours     *Hours // nil where the plan has none
	Log       []hours.Record
	Calendar  *Calendar // likewise; nothing comes of it without hours
	Cost      *Cost     // likewise
}

// Counts is what of a work is counted.
type Counts struct {
	Placed []int   // pieces, by kind
	Area   float64 // of the faces that carry pieces, m² to 0.0001
	Pages  int     // sheets of paper of the hole map
}

// Calendar is when people work on it.
type Calendar struct {
	calendar.Calendar
	From    calendar.Day // the first day that work could begin
	Today   bool         // which is today, since the plan gives none
	Install *calendar.Day
}

// A Making is what making a work takes. Parts of which the plan says nothing are nil.
type Making struct {
	Asked
	Pieces      []materials.Piece // by kind
	Nests       []nesting.Nest    // by stock
	Bill        []materials.Line  // by material
	Work        *hours.Work
	Days        *Days
	Unscheduled error // why there are no days although there is a calendar; a wall.Problem
	Costs       *Costs
	Notes       []string // what is taken for granted, in plain words
	Missing     []string // figures to be given, each with what is without it
}

// Days is when the work is done.
type Days struct {
	Expected calendar.Answer
	AtMost   *calendar.Answer // if it takes as long as the interval of the hours allows; nil where that is past the calendar's limits
}

// Costs is what the work costs.
type Costs struct {
	Estimate cost.Estimate
	Sum      cost.Sum
	Budget   *decimal.Number
	High     bool            // the budget is to hold at the high end
	Over     *decimal.Number // by how much that end is over the budget, below 0 by how much it is under; nil without a budget
}

// Count counts what a work holds; pages is how many sheets of paper its hole map has.
func Count(w holemap.Work, pages int) Counts {
	c := Counts{Placed: make([]int, len(w.Kinds)), Pages: pages}
	carries := make([]bool, len(w.Site.Faces))
	for _, p := range w.Layout.Pieces {
		c.Placed[p.Kind]++
		carries[p.Face] = true
	}
	for i, f := range w.Site.Faces {
		if carries[i] {
			c.Area += math.Round(f.Outline.Area()/100) / 10_000
		}
	}
	c.Area = math.Round(c.Area*10_000) / 10_000
	return c
}

// Of returns what making the work takes. What the plan says has passed the checks of the packages that it
// is from. The error is a wall.Problem.
func Of(a Asked) (Making, error) {
	m := Making{Asked: a}
	pieces, err := a.pieces(a.Placed)
	if err != nil {
		return m, err
	}
	for _, s := range a.Sheets {
		n, err := nesting.Make(s.Stock, s.Parts(a.Kinds, toMake(pieces)))
		if err != nil {
			return m, err
		}
		m.Nests = append(m.Nests, n)
	}
	totals := make([]int, len(m.Nests))
	for i, n := range m.Nests {
		totals[i] = n.Total()
	}
	r, err := a.reckon(a.Counts, pieces, totals)
	if err != nil {
		return m, err
	}
	m.Pieces, m.Bill, m.Work = pieces, r.bill, r.work
	if a.Hours != nil && a.Calendar != nil && !a.allIdle(*r.work) {
		m.Days, m.Unscheduled = a.days(*r.work)
	}
	if c := a.Cost; c != nil {
		m.Costs = &Costs{Estimate: r.estimate, Sum: r.estimate.Sum(), Budget: c.Budget, High: c.High}
		if c.Budget != nil {
			end := m.Costs.Sum.Total.Likely
			if c.High {
				end = m.Costs.Sum.Total.High
			}
			m.Costs.Over = new(end.Sub(*c.Budget))
		}
	}
	m.Notes, m.Missing = m.notes(), m.missing()
	return m, nil
}

// pieces returns how many of each kind to make where so many are placed.
func (a Asked) pieces(placed []int) ([]materials.Piece, error) {
	kinds := make([]materials.Kind, len(a.Kinds))
	for i, k := range a.Kinds {
		kinds[i] = materials.Kind{
			Code: k.Code, Name: k.Name, Placed: placed[i], Holes: len(k.Holes),
			Area: math.Abs(k.Outline.Area()), Stock: a.Stock[k.Code],
		}
	}
	return materials.Pieces(kinds, a.Spares)
}

// toMake returns how many pieces to make by the codes of their kinds.
func toMake(pieces []materials.Piece) map[string]int {
	out := map[string]int{}
	for _, p := range pieces {
		out[p.Code] = p.Make
	}
	return out
}

// A reckoning is what so many pieces and sheets come to.
type reckoning struct {
	bill     []materials.Line
	work     *hours.Work
	estimate cost.Estimate // empty where the plan has no costs
}

// reckon returns what the pieces come to; sheets is how many of each stock are cut.
func (a Asked) reckon(c Counts, pieces []materials.Piece, sheets []int) (reckoning, error) {
	var r reckoning
	byName, price := map[string]int{}, decimal.Number{}
	for i, s := range a.Sheets {
		byName[s.Name] = sheets[i]
		if s.Price != nil {
			price = price.Add(s.Price.Mul(decimal.Of(sheets[i])))
		}
	}
	bought := decimal.Number{}
	r.bill = materials.Bill(a.Materials, a.Recipes, materials.Counts{Pieces: pieces, Sheets: byName, Pages: c.Pages})
	for _, l := range r.bill {
		if l.Cost != nil {
			bought = bought.Add(*l.Cost)
		}
	}
	var worked cost.Range
	if h := a.Hours; h != nil {
		counts := hours.Counts{Area: c.Area, Sheets: c.Pages}
		for i, p := range pieces {
			counts.Kinds = append(counts.Kinds, hours.KindCount{Code: p.Code, Pieces: c.Placed[i], Holes: c.Placed[i] * p.Holes})
			counts.Made = append(counts.Made, hours.KindCount{Code: p.Code, Pieces: p.Make, Holes: p.Make * p.Holes})
		}
		w, err := hours.Of(h.Asked(), counts, a.Log, h.Likelihood)
		if err != nil {
			return r, err
		}
		r.work = &w
		worked = cost.Range{Low: InHours(w.Low), Likely: InHours(w.Expected), High: InHours(w.High)}
	}
	if a.Cost != nil {
		r.estimate = a.Cost.Filled(cost.Sure(bought), cost.Sure(price), worked)
	}
	return r, nil
}

// InHours returns minutes, taken to a tenth, as hours, exactly.
func InHours(minutes float64) decimal.Number {
	return decimal.Ratio(int64(math.Round(minutes*10)), 600)
}

// expected returns the expected minutes of each operation.
func expected(w hours.Work) []float64 {
	out := make([]float64, len(w.Operations))
	for i, e := range w.Operations {
		out[i] = e.Expected
	}
	return out
}

// allIdle reports whether there is nothing to do in any of the operations, and nothing to wait for.
func (a Asked) allIdle(w hours.Work) bool {
	return len(w.Operations) > 0 && !slices.ContainsFunc(w.Operations, func(e hours.Estimate) bool { return !e.Idle })
}

// days lays the work out on the calendar.
func (a Asked) days(w hours.Work) (*Days, error) {
	c := a.Calendar
	if c.Install != nil && *c.Install < c.From {
		return nil, tooLate(*c.Install, c.From, c.Today)
	}
	likely, err := c.Plan(a.Hours.Schedule(w, expected(w)), c.From, c.Install)
	if err != nil {
		return nil, err
	}
	d := &Days{Expected: likely}
	if most, err := c.Plan(a.Hours.Schedule(w, w.AtMost()), c.From, c.Install); err == nil {
		d.AtMost = &most
	}
	return d, nil
}

// unpriced returns what has to be bought and has no known cost.
func (m Making) unpriced() (sheets, bought []string) {
	for i, s := range m.Asked.Sheets {
		if s.Price == nil && m.Nests[i].Total() > 0 {
			sheets = append(sheets, s.Name)
		}
	}
	for _, l := range m.Bill {
		if l.Cost == nil && l.Buy.Value.Sign() > 0 {
			bought = append(bought, l.Material.Name)
		}
	}
	return sheets, bought
}

// sums reports whether a line of the costs adds up the given part of the plan.
func (a Asked) sums(part string) bool { return a.Cost != nil && slices.Contains(a.Cost.Of, part) }
