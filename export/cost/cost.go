// Package cost says what a work costs, as a range, and how many pieces a budget and a date allow.
//
// All reckoning is exact. The ends of the range take every line at its lowest, or at its highest, at
// once: the work will hardly ever cost as little, or as much. Sums of money are rounded to the minor
// unit of the currency, halves upwards (away from 0): on each line, so that what is printed adds up, or
// where the plan says so, on the total alone.
package cost

import (
	"fmt"

	"wallshoal/export/decimal"
	"wallshoal/export/number"
	"wallshoal/wall"
)

// A Currency is how money is written: 12.50 with what stands before and after it.
type Currency struct {
	Before, After string // with the spaces that belong there
	Digits        int    // of the minor unit: 2 for pence and cents, 0 where there is none
}

// Show returns a sum of money as people write it, its digits in groups of three.
func (c Currency) Show(n decimal.Number) string {
	text := number.Group(n.Text(c.Digits))
	if text[0] == '-' {
		return "-" + c.Before + text[1:] + c.After
	}
	return c.Before + text + c.After
}

// A Range is a figure at its lowest, likeliest and highest.
type Range struct{ Low, Likely, High decimal.Number }

// Sure returns a range of one figure.
func Sure(n decimal.Number) Range { return Range{n, n, n} }

// each returns the range with f of its figures and those of b.
func (a Range) each(b Range, f func(a, b decimal.Number) decimal.Number) Range {
	return Range{f(a.Low, b.Low), f(a.Likely, b.Likely), f(a.High, b.High)}
}

// Add returns the sum, end by end.
func (a Range) Add(b Range) Range { return a.each(b, decimal.Number.Add) }

// Mul returns the product, end by end; neither goes below 0.
func (a Range) Mul(b Range) Range { return a.each(b, decimal.Number.Mul) }

func (a Range) round(digits int) Range {
	return Range{a.Low.Round(digits), a.Likely.Round(digits), a.High.Round(digits)}
}

// ordered reports whether 0 ≤ Low ≤ Likely ≤ High.
func (a Range) ordered() bool {
	return a.Low.Sign() >= 0 && a.Low.Cmp(a.Likely) <= 0 && a.Likely.Cmp(a.High) <= 0
}

// Rounding is where sums of money are rounded.
type Rounding string

// Where sums of money are rounded.
const (
	ByLine  Rounding = "line"
	ByTotal Rounding = "total"
)

// An Item is what is paid for: so much for each of so many.
type Item struct {
	Name  string // materials, work, travel, hire ...
	Price Range  // of one
	Times Range  // Sure(1) where it is paid once
}

// A Stage is a part of the total that is due at a time.
type Stage struct {
	Name  string // on order, on delivery ...
	Share decimal.Number
}

// An Estimate is what the costs are made up of.
type Estimate struct {
	Currency    Currency
	Items       []Item
	Contingency decimal.Number // share of the items
	Tax         decimal.Number // share of the items and the contingency
	Stages      []Stage        // shares sum to 1; none where all is paid at once
	Rounding    Rounding
}

// A Sum is what the work costs. Figures are rounded, as Rounding says; where only the total is, those of
// the lines are rounded to be shown and need not add up to it.
type Sum struct {
	Lines       []Range // by item
	Net         Range   // of the items
	Contingency Range
	Tax         Range
	Total       Range
	Stages      []decimal.Number // of the likely total; they add up to it
}

// Limits of an estimate.
const (
	MaxItems  = 100
	MaxStages = 12
	MaxDigits = 4
)

// Sum adds the estimate up. It has passed Check.
func (e Estimate) Sum() Sum {
	digits := e.Currency.Digits
	kept := func(r Range) Range { return r }
	if e.Rounding != ByTotal {
		kept = func(r Range) Range { return r.round(digits) }
	}
	var s Sum
	for _, item := range e.Items {
		line := kept(item.Price.Mul(item.Times))
		s.Lines = append(s.Lines, line.round(digits))
		s.Net = s.Net.Add(line)
	}
	s.Contingency = kept(s.Net.Mul(Sure(e.Contingency)))
	taxed := s.Net.Add(s.Contingency)
	s.Tax = kept(taxed.Mul(Sure(e.Tax)))
	s.Total = taxed.Add(s.Tax).round(digits)
	s.Net, s.Contingency, s.Tax = s.Net.round(digits), s.Contingency.round(digits), s.Tax.round(digits)
	// What is due up to each stage is rounded, so that the last makes up the whole.
	share, paid := decimal.Number{}, decimal.Number{}
	for _, stage := range e.Stages {
		share = share.Add(stage.Share)
		due := s.Total.Likely.Mul(share).Round(digits)
		s.Stages = append(s.Stages, due.Sub(paid))
		paid = due
	}
	return s
}

// Check returns what is wrong with the estimate, with fields as a plan names them.
func (e Estimate) Check() []wall.Problem {
	var out []wall.Problem
	add := func(field, wrong, fix string) {
		out = append(out, wall.Problem{Field: "cost." + field, Wrong: wrong, Fix: fix})
	}
	if e.Currency.Digits < 0 || e.Currency.Digits > MaxDigits {
		add("currency.digits", fmt.Sprintf("%d digits are out of range", e.Currency.Digits), fmt.Sprintf("give a whole number from 0 to %d", MaxDigits))
	}
	for i, item := range e.Items {
		for _, r := range []struct {
			key string
			Range
		}{{"amount", item.Price}, {"times", item.Times}} {
			if !r.ordered() {
				add(fmt.Sprintf("lines[%d].%s", i, r.key), "low, likely and high are not in order, or below 0", "write 0 ≤ low ≤ likely ≤ high")
			}
		}
	}
	for _, share := range []struct {
		key string
		decimal.Number
	}{{"contingency", e.Contingency}, {"tax", e.Tax}} {
		if share.Sign() < 0 || share.Cmp(decimal.Of(2)) > 0 {
			add(share.key, share.Mul(decimal.Of(100)).String()+" % is out of range", "give per cent from 0 to 200, like 10 %")
		}
	}
	sum := decimal.Number{}
	for i, s := range e.Stages {
		sum = sum.Add(s.Share)
		if s.Share.Sign() < 0 {
			add(fmt.Sprintf("stages[%d].share", i), "is less than nothing", "give per cent above 0")
		}
	}
	if len(e.Stages) > 0 && sum.Cmp(decimal.Of(1)) != 0 {
		add("stages", "the shares sum to "+sum.Mul(decimal.Of(100)).String()+" %", "give shares that sum to 100 %")
	}
	return out
}
