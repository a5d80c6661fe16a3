package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/cost"
	"wallshoal/export/decimal"
	"wallshoal/export/making"
)

// CostSection is what the work costs.
//
//	currency:     {before: "£ ", after: " kr", digits: 2}: what stands before and after a sum, and the
//	              digits of the minor unit; nothing and 2 if left out
//	lines:        a list, see CostLineSection; needed
//	contingency:  of all lines, like 10 %; none if left out
//	tax:          of lines and contingency; none if left out
//	round:        line, so that what is printed adds up, or total: where halves are rounded up; line if
//	              left out
//	stages:       a list of what is due when, like - {name: on order, share: 40 %}; in sum 100 %
//	budget:       what the work may cost
//	hold:         likely or high: which end of the range the budget is for; likely if left out
type CostSection = making.Cost

// CostLineSection is one thing that is paid for: travel, hire, a fee, or what the plan adds up by itself.
//
//	name:    needed
//	of:      materials, sheets: what those come to, from their prices; hours: the hours of the work
//	amount:  of one, or of one hour: a sum, or {low: 80, likely: 90, high: 130}; needed but with of:
//	         materials and sheets
//	times:   so many; a number, or low, likely and high; 1 if left out
type CostLineSection = cost.Item

// cost reads what the work costs, and checks it; nil where the plan does not say.
func (r *reader) cost(v yamlfile.Value, given map[string]bool) *CostSection {
	if !v.Given() {
		return nil
	}
	m, ok := v.Map("currency", "lines", "contingency", "tax", "round", "stages", "budget", "hold")
	if !ok {
		return nil
	}
	c := &CostSection{Estimate: cost.Estimate{Currency: cost.Currency{Digits: 2}, Rounding: cost.ByLine}}
	if money, ok := m.Get("currency").Map("before", "after", "digits"); ok {
		// The spaces at the ends belong to it.
		c.Currency.Before = readAffix(money.Get("before"))
		c.Currency.After = readAffix(money.Get("after"))
		if n, ok := money.Get("digits").Whole("a number of digits", 0, cost.MaxDigits); ok {
			c.Currency.Digits = n
		}
	}
	items, _ := m.Get("lines").Need("list what is paid for, each starting with a dash, like - {name: travel, amount: 60}").
		List(cost.MaxItems, "a list of costs, each starting with a dash")
	for _, item := range items {
		line, of := r.costLine(item, given)
		c.Items, c.Of = append(c.Items, line), append(c.Of, of)
	}
	c.Contingency = readExactShare(m.Get("contingency"), "a share for contingency")
	c.Tax = readExactShare(m.Get("tax"), "a rate of tax")
	if word, ok := m.Get("round").Choice("where to round", string(cost.ByLine), string(cost.ByTotal)); ok {
		c.Rounding = cost.Rounding(word)
	}
	items, _ = m.Get("stages").List(cost.MaxStages, "a list of stages, like - {name: on order, share: 40 %}")
	for _, item := range items {
		var s cost.Stage
		if stage, ok := item.Map("name", "share"); ok {
			const like = "give name and share, like {name: on order, share: 40 %}"
			s.Name, _ = stage.Get("name").Need(like).Text(maxTitle)
			s.Share = readExactShare(stage.Get("share").Need(like), "a share of the total")
		}
		c.Stages = append(c.Stages, s)
	}
	c.Budget = readMoney(m.Get("budget"))
	hold, _ := m.Get("hold").Choice("an end of the range", "likely", "high")
	if c.High = hold == "high"; m.Get("hold").Given() && !m.Get("budget").Given() {
		m.Get("hold").Fault("is only used with a budget", "give a budget, or remove it")
	}
	r.judge(c.Check())
	return c
}

// readAffix reads what stands before or after a sum of money, with the spaces at its ends.
func readAffix(v yamlfile.Value) string {
	if _, ok := v.Text(12); !ok {
		return ""
	}
	text, _ := v.Data(64)
	return text
}

// costLine reads a line and what it is added up from.
func (r *reader) costLine(v yamlfile.Value, given map[string]bool) (cost.Item, string) {
	line := cost.Item{Times: cost.Sure(decimal.Of(1))}
	m, ok := v.Map("name", "of", "amount", "times")
	if !ok {
		r.file.Spoil(v.Field())
		return line, ""
	}
	line.Name, _ = m.Get("name").Need("say what is paid for").Text(maxTitle)
	of, _ := m.Get("of").Choice("something the plan adds up", making.OfMaterials, making.OfSheets, making.OfHours)
	if of != "" && !given[of] {
		m.Get("of").Fault("has nothing to add up", "describe it under "+of+":, or give an amount")
	}
	amount, times := m.Get("amount"), m.Get("times")
	switch of {
	case making.OfMaterials, making.OfSheets:
		for _, v := range []yamlfile.Value{amount, times} {
			if v.Given() {
				v.Fault("stands beside of: "+of, "keep one of them")
			}
		}
		return line, of
	case making.OfHours:
		if times.Given() {
			times.Fault("stands beside of: hours", "keep one of them")
		}
	}
	line.Price = r.costRange(amount.Need("give a sum, or {low: 80, likely: 90, high: 130}"), cost.Range{})
	if of == "" {
		line.Times = r.costRange(times, line.Times)
	}
	return line, of
}

// costRange reads one figure or low, likely and high.
func (r *reader) costRange(v yamlfile.Value, usual cost.Range) cost.Range {
	if !v.Given() {
		return usual
	}
	if !v.IsMap() {
		if n, ok := readDecimal(v, "a figure", "12.50"); ok {
			return cost.Sure(n)
		}
		return usual
	}
	m, ok := v.Map("low", "likely", "high")
	if !ok {
		r.file.Spoil(v.Field())
		return usual
	}
	var out cost.Range
	for _, end := range []struct {
		key string
		to  *decimal.Number
	}{{"low", &out.Low}, {"likely", &out.Likely}, {"high", &out.High}} {
		*end.to, _ = readDecimal(m.Get(end.key).Need("give low, likely and high"), "a figure", "12.50")
	}
	return out
}
