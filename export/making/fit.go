package making

import (
	"wallshoal/export/calendar"
	"wallshoal/export/cost"
	"wallshoal/export/decimal"
	"wallshoal/wall"
)

// Wanted is what a work of another number of pieces is to meet.
type Wanted struct {
	Most   int             // pieces that there is room for
	Budget *decimal.Number // nil where money does not matter
	High   bool            // the budget is to hold at the high end of the range
	By     *calendar.Day   // the day by whose end the work hangs; nil where time does not matter
}

// Fit returns the most pieces that meet what is wanted. Kinds keep the proportions that they have in the
// work, as Webster's method deals them (Balinski and Young, Fair Representation, 1982; from memory), and
// so do the sheets and the pages of the hole map, rounded up, against the pieces cut from them; the faces
// stay. All of these only grow with the pieces. A work that does not end within the limits of a calendar is
// finished Never. The error is a wall.Problem.
func (m Making) Fit(w Wanted) (cost.Fitted, error) {
	a := m.Asked
	want := cost.Wanted{Most: w.Most, Budget: w.Budget, High: w.High, By: w.By}
	switch {
	case w.Budget != nil && a.Cost == nil:
		return cost.Fitted{}, wall.Problem{Field: "cost", Wrong: "is missing, so that nothing can be held against a budget", Fix: "list what is paid for, under cost: and lines:"}
	case w.By != nil && (a.Hours == nil || a.Calendar == nil):
		return cost.Fitted{}, wall.Problem{Field: "calendar", Wrong: "is missing, or hours are, so that nothing can be held against a day", Fix: "say what is done under hours:, and when people work under calendar:"}
	case w.By != nil && *w.By < a.Calendar.From:
		return cost.Fitted{}, tooLate(*w.By, a.Calendar.From, a.Calendar.Today)
	}
	if a.Cost != nil {
		want.Currency = a.Cost.Currency
	}
	order := dealt(a.Placed, w.Most)
	return cost.Fit(want, func(n int) (cost.Range, calendar.Day, error) {
		placed := make([]int, len(a.Placed))
		for _, k := range order[:min(n, len(order))] {
			placed[k]++
		}
		return m.at(placed)
	})
}

// at returns the cost and the last day of a work with so many pieces of each kind.
func (m Making) at(placed []int) (cost.Range, calendar.Day, error) {
	a := m.Asked
	pieces, err := a.pieces(placed)
	if err != nil {
		return cost.Range{}, 0, err
	}
	made, now := toMake(pieces), toMake(m.Pieces)
	sheets := make([]int, len(a.Sheets))
	for i, s := range a.Sheets {
		var then, before int
		for _, code := range s.Cuts {
			then, before = then+made[code], before+now[code]
		}
		sheets[i] = inProportion(m.Nests[i].Total(), then, before)
	}
	c := Counts{Placed: placed, Area: a.Area, Pages: inProportion(a.Pages, sum(placed), sum(a.Placed))}
	if sum(placed) == 0 {
		c.Area = 0
	}
	r, err := a.reckon(c, pieces, sheets)
	if err != nil {
		return cost.Range{}, 0, err
	}
	var total cost.Range
	if a.Cost != nil {
		total = r.estimate.Sum().Total
	}
	if a.Hours == nil || a.Calendar == nil {
		return total, 0, nil
	}
	operations := a.Hours.Schedule(*r.work, expected(*r.work))
	idle := true
	for _, o := range operations {
		idle = idle && o.Minutes == 0 && o.Wait == 0
	}
	if idle {
		return total, a.Calendar.From, nil
	}
	s, err := a.Calendar.Forward(operations, a.Calendar.From)
	if err != nil {
		return total, Never(a.Calendar.From), nil
	}
	return total, s.Last(), nil
}

// Never returns the day that stands for the end of a work that does not end within the limits of a
// calendar: past any that does.
func Never(from calendar.Day) calendar.Day { return from + 3*calendar.MaxDays }

// inProportion returns all × then / before, rounded up. Without anything before, each of then takes one.
func inProportion(all, then, before int) int {
	if before == 0 {
		return then
	}
	return (all*then + before - 1) / before
}

func sum(counts []int) int {
	total := 0
	for _, n := range counts {
		total += n
	}
	return total
}

// dealt returns the kind of each of so many pieces, in an order whose every beginning has the kinds in
// the proportions of counts: the next piece goes to the kind with the largest count / (2 × dealt + 1), of
// equal ones to the first.
func dealt(counts []int, most int) []int {
	if sum(counts) == 0 {
		return nil
	}
	have := make([]int, len(counts))
	out := make([]int, 0, most)
	for range most {
		best := 0
		for k, n := range counts {
			if int64(n)*int64(2*have[best]+1) > int64(counts[best])*int64(2*have[k]+1) {
				best = k
			}
		}
		have[best]++
		out = append(out, best)
	}
	return out
}
