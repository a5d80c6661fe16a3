package making

import (
	"slices"

	"wallshoal/export/calendar"
	"wallshoal/export/cost"
	"wallshoal/export/decimal"
	"wallshoal/export/hours"
	"wallshoal/export/nesting"
	"wallshoal/scatter"
)

// Hours is what is done, in its order.
type Hours struct {
	Log        string  // the file of earlier jobs; empty for none
	Likelihood float64 // how often an interval is to hold, from 0 to 1
	Operations []Operation
}

// An Operation is one sort of work, and who does it.
type Operation struct {
	hours.Operation
	Crew int // people who work on it at once; 0 for the calendar's
	Wait int // minutes that must pass after it
}

// Asked returns the operations as hours.Of takes them.
func (h Hours) Asked() []hours.Operation {
	out := make([]hours.Operation, len(h.Operations))
	for i, o := range h.Operations {
		out[i] = o.Operation
	}
	return out
}

// Schedule returns the operations for a calendar, given the minutes of each. What the work has no units
// of is not waited for, nor what is for making where nothing is to be made.
func (h Hours) Schedule(work hours.Work, minutes []float64) []calendar.Operation {
	out := make([]calendar.Operation, len(h.Operations))
	for i, o := range h.Operations {
		out[i] = calendar.Operation{Name: o.Name, Minutes: minutes[i], Crew: o.Crew, Wait: o.Wait}
		if work.Operations[i].Idle {
			out[i].Wait = 0
		}
	}
	return out
}

// Sheets is what some kinds of pieces are cut from.
type Sheets struct {
	nesting.Stock
	Cuts  []string        // codes of kinds
	Price *decimal.Number // of a sheet; nil where not known
}

// Parts returns the kinds that are cut from the sheets, so often as counts says by their codes.
func (s Sheets) Parts(kinds []scatter.Kind, counts map[string]int) []nesting.Part {
	var out []nesting.Part
	for _, k := range kinds {
		if slices.Contains(s.Cuts, k.Code) {
			out = append(out, nesting.Part{Code: k.Code, Outline: k.Outline, Count: counts[k.Code]})
		}
	}
	return out
}

// Cost is what is paid for.
type Cost struct {
	cost.Estimate
	Of     []string // by line: what its amount comes from; empty where it is given
	Budget *decimal.Number
	High   bool // the budget is for the high end of the range
}

// What the lines of costs can be added up from.
const (
	OfMaterials = "materials"
	OfSheets    = "sheets"
	OfHours     = "hours"
)

// Filled returns the estimate with what is added up of the rest: the cost of materials and of sheets, and
// the hours of the work.
func (c Cost) Filled(materials, sheets, hours cost.Range) cost.Estimate {
	e := c.Estimate
	e.Items = append([]cost.Item(nil), e.Items...)
	for i, of := range c.Of {
		switch of {
		case OfMaterials:
			e.Items[i].Price = materials
		case OfSheets:
			e.Items[i].Price = sheets
		case OfHours:
			e.Items[i].Times = hours
		}
	}
	return e
}
