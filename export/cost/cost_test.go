package cost_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/calendar"
	"wallshoal/export/cost"
	"wallshoal/export/decimal"
)

func num(text string) decimal.Number {
	n, err := decimal.Parse(text)
	if err != nil {
		panic(err)
	}
	return n
}

func likely(text string) cost.Range { return cost.Sure(num(text)) }

var crowns = cost.Currency{After: " kr", Digits: 2}

// Hand-worked: 3 × 1.335 is 4.005, so 4.01 by line; 10 % of 104.01 is 10.401, 10.40; 25 % of 114.41 is
// 28.6025, 28.60; 143.01 in all. Rounded at the end alone it is 104.005 × 1.1 × 1.25 = 143.006875, 143.01.
func TestSum(t *testing.T) {
	e := cost.Estimate{
		Currency: crowns,
		Items: []cost.Item{
			{Name: "pins", Price: likely("1.335"), Times: likely("3")},
			{Name: "work", Price: likely("10"), Times: cost.Range{Low: num("8"), Likely: num("10"), High: num("14.5")}},
		},
		Contingency: num("0.1"), Tax: num("0.25"), Rounding: cost.ByLine,
		Stages: []cost.Stage{{Name: "on order", Share: num("0.333")}, {Name: "on delivery", Share: num("0.333")}, {Name: "hung", Share: num("0.334")}},
	}
	require.Empty(t, e.Check())
	s := e.Sum()
	assert.Equal(t, "4.01 kr", crowns.Show(s.Lines[0].Likely))
	assert.Equal(t, "10.40 kr", crowns.Show(s.Contingency.Likely))
	assert.Equal(t, "28.60 kr", crowns.Show(s.Tax.Likely))
	assert.Equal(t, "143.01 kr", crowns.Show(s.Total.Likely))
	assert.Equal(t, "115.51 kr", crowns.Show(s.Total.Low))  // 84.01 + 8.40 + 23.10
	assert.Equal(t, "204.89 kr", crowns.Show(s.Total.High)) // 149.01 + 14.90 + 40.98
	due := decimal.Number{}
	for _, stage := range s.Stages {
		due = due.Add(stage)
	}
	assert.Zero(t, due.Cmp(s.Total.Likely))
	assert.Equal(t, "47.62", s.Stages[0].Text(2)) // 47.62233

	e.Rounding = cost.ByTotal
	assert.Equal(t, "143.01 kr", crowns.Show(e.Sum().Total.Likely))
	// Three lines of 0.005: 0.03 by line, 0.02 (of 0.015) in all.
	small := cost.Item{Price: likely("0.005"), Times: likely("1")}
	three := cost.Estimate{Currency: crowns, Items: []cost.Item{small, small, small}}
	assert.Equal(t, "0.03", three.Sum().Total.Likely.Text(2))
	three.Rounding = cost.ByTotal
	assert.Equal(t, "0.02", three.Sum().Total.Likely.Text(2))
	assert.Equal(t, "-£5", cost.Currency{Before: "£"}.Show(num("-4.5")))
}

func TestFaults(t *testing.T) {
	e := cost.Estimate{
		Items:       []cost.Item{{Price: cost.Range{Low: num("2"), Likely: num("1"), High: num("3")}, Times: likely("-1")}},
		Contingency: num("-0.1"),
		Stages:      []cost.Stage{{Share: num("0.5")}, {Share: num("0.4")}},
	}
	var told []string
	for _, p := range e.Check() {
		told = append(told, p.Error())
	}
	assert.Equal(t, []string{
		"cost.lines[0].amount: low, likely and high are not in order, or below 0; write 0 ≤ low ≤ likely ≤ high",
		"cost.lines[0].times: low, likely and high are not in order, or below 0; write 0 ≤ low ≤ likely ≤ high",
		"cost.contingency: -10 % is out of range; give per cent from 0 to 200, like 10 %",
		"cost.stages: the shares sum to 90 %; give shares that sum to 100 %",
	}, told)
}

// A work has 500 of fixed costs and 2.50 a piece, 3 at most, and is done a day later for every 40 pieces.
func work(n int) (cost.Range, calendar.Day, error) {
	at := func(each string) decimal.Number { return num("500").Add(num(each).Mul(decimal.Of(n))) }
	return cost.Range{Low: at("2"), Likely: at("2.5"), High: at("3")}, calendar.On(2026, 12, 1) + calendar.Day(n/40), nil
}

func TestFit(t *testing.T) {
	budget := func(text string) *decimal.Number { return new(num(text)) }
	for name, c := range map[string]struct {
		w      cost.Wanted
		pieces int
		binds  []cost.Bind
	}{
		"budget":        {cost.Wanted{Most: 1000, Budget: budget("1000")}, 200, []cost.Bind{cost.Budget}},
		"just short":    {cost.Wanted{Most: 1000, Budget: budget("999.99")}, 199, []cost.Bind{cost.Budget}},
		"high end":      {cost.Wanted{Most: 1000, Budget: budget("1000"), High: true}, 166, []cost.Bind{cost.Budget}},
		"date":          {cost.Wanted{Most: 1000, By: new(calendar.On(2026, 12, 3))}, 119, []cost.Bind{cost.Date}},
		"both":          {cost.Wanted{Most: 1000, Budget: budget("797.50"), By: new(calendar.On(2026, 12, 3))}, 119, []cost.Bind{cost.Budget, cost.Date}},
		"date first":    {cost.Wanted{Most: 1000, Budget: budget("1000"), By: new(calendar.On(2026, 12, 3))}, 119, []cost.Bind{cost.Date}},
		"all":           {cost.Wanted{Most: 50, Budget: budget("1000")}, 50, []cost.Bind{cost.Room}},
		"nothing asked": {cost.Wanted{Most: 77}, 77, []cost.Bind{cost.Room}},
		"fixed alone":   {cost.Wanted{Most: 1000, Budget: budget("500")}, 0, []cost.Bind{cost.Budget}},
	} {
		f, err := cost.Fit(c.w, work)
		require.NoError(t, err, name)
		assert.Equal(t, c.pieces, f.Pieces, name)
		assert.Equal(t, c.binds, f.Binds, name)
	}
	_, err := cost.Fit(cost.Wanted{Currency: crowns, Most: 100, Budget: budget("400")}, work)
	assert.EqualError(t, err, "cost.budget: 400.00 kr is less than what is to be paid before there is a piece, 500.00 kr; raise it, or take lines out")
	_, err = cost.Fit(cost.Wanted{Least: 90, Most: 100, By: new(calendar.On(2026, 12, 2))}, work)
	assert.EqualError(t, err, "calendar.install: 2026-12-02 is before 2026-12-03, when even 90 pieces are done; give a later day, an earlier start or more hands")
	lost := errors.New("lost")
	_, err = cost.Fit(cost.Wanted{Most: 9}, func(int) (cost.Range, calendar.Day, error) { return cost.Range{}, 0, lost })
	assert.ErrorIs(t, err, lost)
}
