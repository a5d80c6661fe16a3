package cost

import (
	"fmt"
	"sort"
	"strings"

	"wallshoal/export/calendar"
	"wallshoal/export/decimal"
	"wallshoal/wall"
)

// A Bind is what keeps a work from having more pieces.
type Bind string

// What can bind.
const (
	Budget Bind = "budget"
	Date   Bind = "date"
	Room   Bind = "room" // there are no more pieces to ask for
)

// Wanted is what a work has to meet.
type Wanted struct {
	Currency    Currency
	Least, Most int             // pieces, from and to
	Budget      *decimal.Number // nil where money does not matter
	High        bool            // the budget is to hold at the high end of the range, not at the likely one
	By          *calendar.Day   // nil where time does not matter
}

// A Fitted is the most pieces that meet what is wanted.
type Fitted struct {
	Pieces int
	Cost   Range        // of so many
	Finish calendar.Day // with so many
	Binds  []Bind       // what one piece more would break
}

// Fit returns the most pieces from Least to Most that meet the budget and the date. At returns the cost
// and the last day with so many pieces; neither may fall as pieces are added, and it is asked about twenty
// times. Where even the least do not fit the error is a wall.Problem, or else what at returned.
func Fit(w Wanted, at func(pieces int) (Range, calendar.Day, error)) (Fitted, error) {
	if w.Least < 0 || w.Most < w.Least {
		return Fitted{}, wall.Problem{Field: "composition.count", Wrong: fmt.Sprintf("from %d to %d pieces there is nothing to choose", w.Least, w.Most), Fix: "give the least before the most"}
	}
	var failed error
	look := func(n int) (cost Range, finish calendar.Day, binds []Bind) {
		if failed != nil {
			return Range{}, 0, []Bind{Room}
		}
		cost, finish, failed = at(n)
		if w.Budget != nil && w.end(cost).Cmp(*w.Budget) > 0 {
			binds = append(binds, Budget)
		}
		if w.By != nil && finish > *w.By {
			binds = append(binds, Date)
		}
		return cost, finish, binds
	}
	cost, finish, binds := look(w.Least)
	if failed != nil {
		return Fitted{}, failed
	}
	if len(binds) > 0 {
		return Fitted{}, w.never(cost, finish, binds)
	}
	over := sort.Search(w.Most-w.Least, func(i int) bool {
		_, _, binds := look(w.Least + 1 + i)
		return len(binds) > 0
	})
	f := Fitted{Pieces: w.Least + over}
	f.Cost, f.Finish, _ = look(f.Pieces)
	if f.Pieces == w.Most {
		f.Binds = []Bind{Room}
	} else {
		_, _, f.Binds = look(f.Pieces + 1)
	}
	if failed != nil {
		return Fitted{}, failed
	}
	return f, nil
}

// end returns the figure that the budget is held against.
func (w Wanted) end(r Range) decimal.Number {
	if w.High {
		return r.High
	}
	return r.Likely
}

// never says why even the least do not fit.
func (w Wanted) never(cost Range, finish calendar.Day, binds []Bind) wall.Problem {
	what := fmt.Sprintf("%d pieces", w.Least)
	if w.Least == 0 {
		what = "what is to be paid before there is a piece"
	}
	p := wall.Problem{Field: "cost.budget"}
	var wrong, fix []string
	for _, b := range binds {
		if b == Budget {
			wrong = append(wrong, fmt.Sprintf("%s is less than %s, %s", w.Currency.Show(*w.Budget), what, w.Currency.Show(w.end(cost))))
			fix = append(fix, "raise it, or take lines out")
			continue
		}
		if len(binds) == 1 {
			p.Field = "calendar.install"
		}
		wrong = append(wrong, fmt.Sprintf("%s is before %s, when even %d pieces are done", w.By, finish, w.Least))
		fix = append(fix, "give a later day, an earlier start or more hands")
	}
	p.Wrong, p.Fix = strings.Join(wrong, ", and "), strings.Join(fix, "; ")
	return p
}

// String says what fits and what binds, in a plain sentence.
func (f Fitted) String() string {
	why := map[Bind]string{Budget: "the budget", Date: "the date"}
	var names []string
	for _, b := range f.Binds {
		if b == Room {
			return fmt.Sprintf("All %d pieces fit.", f.Pieces)
		}
		names = append(names, why[b])
	}
	return fmt.Sprintf("%d pieces fit; one more would break %s.", f.Pieces, strings.Join(names, " and "))
}
