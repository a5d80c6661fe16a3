package scope

import (
	"wallshoal/export/calendar"
	"wallshoal/export/cost"
	"wallshoal/export/decimal"
	"wallshoal/export/making"
	"wallshoal/export/materials"
	"wallshoal/export/nesting"
)

// Making is what making the work takes. Sums of money, parts and amounts are decimal numbers written as
// text, so that no program rounds them; amounts are to a thousandth of their unit. Parts of which the plan
// says nothing are null. Dates are as 2026-11-25.
type Making struct {
	ToMake    []ToMake   `json:"to_make"`   // in the order of the plan
	Sheets    []Stock    `json:"sheets"`    // what pieces are cut from
	Materials []Material `json:"materials"` // in the order of the plan
	Hours     *Hours     `json:"hours"`
	Days      *Days      `json:"days"`
	Cost      *Cost      `json:"cost"`
	Assumed   []string   `json:"taken_for_granted"`
	Missing   []string   `json:"to_be_given"` // figures that the plan lacks
}

// ToMake counts the pieces of one kind: Make = Placed + Spare - InHand, or none.
type ToMake struct {
	Code   string `json:"code"`
	Name   string `json:"name"`
	Placed int    `json:"placed"`
	Spare  int    `json:"spare"`
	InHand int    `json:"in_hand"`
	Make   int    `json:"make"`
}

// Stock is how many sheets of one sort are cut.
type Stock struct {
	Name   string   `json:"name"`
	Width  float64  `json:"width_mm"`
	Height float64  `json:"height_mm"`
	Sheets int      `json:"sheets"`
	Offcut float64  `json:"offcut"` // share that is no piece, to 0.0001
	Price  *string  `json:"price"`  // of a sheet
	Cuts   []Cut    `json:"cuts"`   // drawings, each cut so many times
	Turn   string   `json:"turn"`
	Of     []string `json:"of"` // codes of the kinds
}

// Cut is one way of cutting a sheet.
type Cut struct {
	Drawing string `json:"drawing"` // name of the file
	Times   int    `json:"times"`
	Pieces  []Hung `json:"pieces"` // on one sheet
}

// Amount is so much of something. Unit is g, ml, mm, or empty where things are counted.
type Amount struct {
	Value string `json:"value"`
	Unit  string `json:"unit"`
}

// Material is how much of something the work takes, and what to buy of it.
type Material struct {
	Name  string  `json:"name"`
	Need  Amount  `json:"need"` // with what is wasted, and what goes into recipes
	Hand  Amount  `json:"in_hand"`
	Buy   Amount  `json:"buy"`   // at least
	Packs int     `json:"packs"` // 0 where it is sold by any amount, or mixed
	Pack  *Amount `json:"pack"`
	Left  Amount  `json:"left"`
	Cost  *string `json:"cost"` // null where not known
	Mix   *Mix    `json:"mix"`  // of a recipe
}

// Mix is what is mixed of a recipe, in batches that are all alike.
type Mix struct {
	Amount  Amount    `json:"amount"`  // of a batch
	Batches int       `json:"batches"` // so many
	Need    Amount    `json:"need"`    // what they are for
	Over    Amount    `json:"over"`    // what they come to beyond that
	Parts   []MixPart `json:"parts"`   // of a batch
	Notes   []string  `json:"notes"`   // where more is left over than needed, or parts are rounded
}

// MixPart is how much of a material goes into a batch.
type MixPart struct {
	Name   string `json:"name"`
	Parts  string `json:"parts"`
	Amount Amount `json:"amount"`
}

// Hours is how long the work takes. Minutes are of all hands together, to 0.1.
type Hours struct {
	Expected   float64     `json:"expected_min"`
	Low        float64     `json:"low_min"`
	High       float64     `json:"high_min"`
	Likelihood float64     `json:"likelihood"` // how often the interval holds
	Operations []Operation `json:"operations"`
	Missing    []string    `json:"missing"` // operations that nothing is known of: hours, days and cost are without them
	Notes      []string    `json:"notes"`
}

// Operation is how long one sort of work takes.
type Operation struct {
	Name     string   `json:"name"`
	Per      string   `json:"per"`   // what is counted; empty where it is only waited for
	For      string   `json:"for"`   // making or hanging, which says of which pieces
	Batch    int      `json:"batch"` // so many of that are a unit; 0 where each is
	Units    float64  `json:"units"`
	Expected float64  `json:"expected_min"`
	Low      float64  `json:"low_min"`
	High     float64  `json:"high_min"`
	Basis    string   `json:"basis"` // what the estimate rests on
	Notes    []string `json:"notes"`
}

// Days is when the work is done. What is only known of a work that is to hang by a day is null or 0 where
// the plan gives none.
type Days struct {
	From      string  `json:"from"` // work could begin
	Begin     string  `json:"begin"`
	Done      string  `json:"done"`
	DoneLate  *string `json:"done_at_most"` // if it takes as long as the interval of the hours allows
	Install   *string `json:"install"`
	Fits      *bool   `json:"fits"`
	FitsLate  *bool   `json:"fits_at_most"`
	Spare     int     `json:"spare_days"` // of work; below 0 where it does not fit
	Over      int     `json:"over_days"`
	LastStart *string `json:"last_start"`
	LastYes   *string `json:"last_yes"`
	Text      string  `json:"text"`
}

// Money is a sum at its lowest, likeliest and highest.
type Money struct {
	Low    string `json:"low"`
	Likely string `json:"likely"`
	High   string `json:"high"`
}

// Cost is what the work costs.
type Cost struct {
	Currency    Currency   `json:"currency"`
	Lines       []CostLine `json:"lines"`
	Net         Money      `json:"net"`
	Contingency Money      `json:"contingency"`
	Tax         Money      `json:"tax"`
	Total       Money      `json:"total"`
	Shares      Shares     `json:"shares"`
	Stages      []Stage    `json:"stages"` // of the likely total
	Budget      *string    `json:"budget"`
	Hold        string     `json:"hold"` // likely or high: the end that the budget is for
	Over        *string    `json:"over"` // by how much that end is over the budget; below 0 by how much it is under
}

// Currency is how money is written.
type Currency struct {
	Before string `json:"before"`
	After  string `json:"after"`
	Digits int    `json:"digits"`
}

// Shares are what contingency and tax are of the sums before them.
type Shares struct {
	Contingency string `json:"contingency"`
	Tax         string `json:"tax"`
}

// CostLine is one thing that is paid for.
type CostLine struct {
	Name string `json:"name"`
	Money
}

// Stage is what is due at a time.
type Stage struct {
	Name string `json:"name"`
	Due  string `json:"due"`
}

// Made returns s with what making the work takes.
func (s Scope) Made(m making.Making) Scope {
	out := &Making{Sheets: stocks(m), Materials: []Material{}, Assumed: some(m.Notes), Missing: some(m.Missing)}
	for _, p := range m.Pieces {
		out.ToMake = append(out.ToMake, ToMake{p.Code, p.Name, p.Placed, p.Spare, p.Stock, p.Make})
	}
	for _, l := range m.Bill {
		out.Materials = append(out.Materials, material(l))
	}
	if m.Work != nil {
		out.Hours = hoursOf(m)
	}
	if m.Days != nil {
		out.Days = daysOf(*m.Days)
	}
	if m.Costs != nil {
		out.Cost = costOf(*m.Costs)
	}
	s.Making = out
	return s
}

// some returns a list that is empty in JSON rather than null.
func some(list []string) []string { return append([]string{}, list...) }

func stocks(m making.Making) []Stock {
	out := []Stock{}
	drawing := 0
	for i, n := range m.Nests {
		s := m.Asked.Sheets[i]
		stock := Stock{
			Name: s.Name, Width: s.Width, Height: s.Height, Sheets: n.Total(), Offcut: *known(n.Offcut(), 10_000),
			Cuts: []Cut{}, Turn: string(s.Turn), Of: some(s.Cuts),
		}
		if s.Price != nil {
			stock.Price = new(s.Price.String())
		}
		for _, sheet := range n.Sheets {
			c := Cut{Drawing: nesting.FileName(drawing), Times: sheet.Copies}
			for j, count := range n.Counts(sheet) {
				if count > 0 {
					c.Pieces = append(c.Pieces, Hung{n.Parts[j].Code, count})
				}
			}
			stock.Cuts = append(stock.Cuts, c)
			drawing++
		}
		out = append(out, stock)
	}
	return out
}

// amount returns a, and of things that are counted as many as there have to be.
func amount(a materials.Amount) Amount {
	if a.Base == materials.Count {
		return Amount{a.Value.Ceil().String(), ""}
	}
	return Amount{a.Value.Round(3).String(), string(a.Base)}
}

func material(l materials.Line) Material {
	hand := l.Material.Hand
	hand.Base = l.Gross.Base
	left := l.Left
	if left.Base == materials.Count {
		zero := decimal.Number{}
		left.Value = zero.Sub(zero.Sub(left.Value).Ceil())
	}
	out := Material{
		Name: l.Material.Name, Need: amount(l.Gross), Hand: amount(hand), Buy: amount(l.Buy), Packs: l.Packs, Left: amount(left),
	}
	if l.Material.Pack.Value.Sign() > 0 {
		out.Pack = new(amount(l.Material.Pack))
	}
	if l.Cost != nil {
		out.Cost = new(l.Cost.String())
	}
	if mixed := l.Mixed; mixed != nil && mixed.Batches > 0 {
		out.Mix = &Mix{Amount: amount(mixed.Batch), Batches: mixed.Batches, Need: amount(mixed.Need), Over: amount(mixed.Over()), Notes: some(making.MixNotes(l))}
		for _, p := range l.Mixed.Parts {
			out.Mix.Parts = append(out.Mix.Parts, MixPart{p.Name, p.Parts.String(), amount(p.Amount)})
		}
	}
	return out
}

func hoursOf(m making.Making) *Hours {
	w := m.Work
	h := &Hours{Expected: w.Expected, Low: w.Low, High: w.High, Likelihood: w.Likelihood, Missing: some(w.Missing), Notes: some(w.Notes)}
	for _, e := range w.Operations {
		h.Operations = append(h.Operations, Operation{
			e.Operation.Name, string(e.Operation.Per), string(e.Operation.For), e.Operation.Batch, *known(e.Units, 10_000), e.Expected, e.Low, e.High, string(e.Basis), some(e.Notes),
		})
	}
	return h
}

func daysOf(d making.Days) *Days {
	a := d.Expected
	out := &Days{From: a.From.String(), Begin: a.Schedule.First().String(), Done: a.Schedule.Last().String(), Text: a.String()}
	if d.AtMost != nil {
		out.DoneLate = new(d.AtMost.Schedule.Last().String())
	}
	if a.Install == nil {
		return out
	}
	day := func(d calendar.Day) *string { return new(d.String()) }
	out.Install, out.Fits, out.Spare, out.Over = day(*a.Install), new(a.Fits), a.Spare, a.Over
	out.LastStart, out.LastYes = day(a.LastStart), day(a.LastYes)
	if d.AtMost != nil {
		out.FitsLate = new(d.AtMost.Fits)
	}
	return out
}

func costOf(c making.Costs) *Cost {
	e, sum := c.Estimate, c.Sum
	money := func(r cost.Range) Money {
		text := func(n decimal.Number) string { return n.Text(e.Currency.Digits) }
		return Money{text(r.Low), text(r.Likely), text(r.High)}
	}
	percent := func(n decimal.Number) string { return n.Mul(decimal.Of(100)).String() + " %" }
	out := &Cost{
		Currency: Currency(e.Currency), Net: money(sum.Net), Contingency: money(sum.Contingency), Tax: money(sum.Tax), Total: money(sum.Total),
		Shares: Shares{percent(e.Contingency), percent(e.Tax)}, Stages: []Stage{}, Hold: "likely",
	}
	for i, l := range sum.Lines {
		out.Lines = append(out.Lines, CostLine{e.Items[i].Name, money(l)})
	}
	for i, due := range sum.Stages {
		out.Stages = append(out.Stages, Stage{e.Stages[i].Name, due.Text(e.Currency.Digits)})
	}
	if c.High {
		out.Hold = "high"
	}
	if c.Budget != nil {
		out.Budget, out.Over = new(c.Budget.Text(e.Currency.Digits)), new(c.Over.Text(e.Currency.Digits))
	}
	return out
}
