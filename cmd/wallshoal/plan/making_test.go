package plan_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/cost"
	"wallshoal/export/decimal"
	"wallshoal/export/materials"
	"wallshoal/export/nesting"
)

// making is what a plan says of making and money, with every key in use.
const making = `sheets:
  - name: grey card
    size: [700, 500]
    cuts: [A]
    turn: half
    gap: 4
    margin: 12
    price: 1.85
  - {name: brown felt, size: [900, 600], cuts: [B]}
spares: {share: 5 %, least: 2}
stock: {A: 12}
materials:
  - name: sea green
    per: square metre
    of: [A]
    coat: 0.1
    sides: 2
    waste: 10 %
    in hand: 20 ml
  - {name: white, pack: 0.25 l, price: 4.50}
  - {name: blue}
  - {name: pins, per: hole, amount: 1, pack: 100, price: 2.10}
  - {name: cones, per: piece, batch: 40, amount: 3}
  - {name: spray, per: sheet, of: [grey card], amount: 12 ml}
recipes:
  - name: sea green
    step: 0.5
    parts:
      - {name: white, parts: 4}
      - {name: blue, parts: 0.5}
cost:
  currency: {after: " kr", digits: 2}
  lines:
    - {name: materials, of: materials}
    - {name: card, of: sheets}
    - {name: travel, amount: 0.45, times: 240}
    - {name: hire, amount: {low: 80, likely: 90, high: 130}}
  contingency: 10 %
  tax: 25 %
  round: total
  stages:
    - {name: on order, share: 40 %}
    - {name: hung, share: 60 %}
  budget: 4500
  hold: high
`

func TestMaking(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(sound))
	require.NoError(t, err)
	assert.Nil(t, p.Cost)
	p, err = plan.Read("p.yaml", []byte(sound+making))
	require.NoError(t, err)
	assert.Equal(t, nesting.Stock{Name: "grey card", Width: 700, Height: 500, Margin: 12, Gap: 4, Turn: nesting.Half}, p.Sheets[0].Stock)
	assert.Equal(t, nesting.Stock{Name: "brown felt", Width: 900, Height: 600, Margin: 10, Gap: 3, Turn: nesting.Any}, p.Sheets[1].Stock)
	assert.Equal(t, "1.85", p.Sheets[0].Price.String())
	assert.Equal(t, map[string]int{"A": 12}, p.Stock)
	assert.Equal(t, " kr", p.Cost.Currency.After)
	assert.True(t, p.Cost.High)
	assert.Equal(t, cost.ByTotal, p.Cost.Rounding)

	// 100 of A and 60 of B placed: 5 and 3 spares, 93 and 63 to make.
	pieces, err := materials.Pieces([]materials.Kind{
		{Code: "A", Placed: 100, Holes: 1, Area: p.Kinds[0].Outline.Area(), Stock: p.Stock["A"]}, {Code: "B", Placed: 60, Holes: 1},
	}, p.Spares)
	require.NoError(t, err)
	assert.Equal(t, []int{93, 63}, []int{pieces[0].Make, pieces[1].Make})
	n, err := nesting.Make(p.Sheets[0].Stock, p.Sheets[0].Parts(p.Kinds, map[string]int{"A": pieces[0].Make}))
	require.NoError(t, err)
	assert.Equal(t, 1, n.Total())
	lines := materials.Bill(p.Materials, p.Recipes, materials.Counts{Pieces: pieces, Sheets: map[string]int{"grey card": n.Total()}})
	assert.Equal(t, "12 ml", lines[5].Net.String())
	assert.Equal(t, 2, lines[3].Packs) // of pins, for 160 holes
	e := p.Cost.Filled(cost.Sure(decimal.Of(100)), cost.Sure(decimal.Of(2)), cost.Range{})
	// 100 + 2 + 108 + 90 are 300, 330 with contingency and 412.50 with tax.
	assert.Equal(t, "412.50 kr", e.Currency.Show(e.Sum().Total.Likely))
	assert.Equal(t, "165.00 kr", e.Currency.Show(e.Sum().Stages[0]))
}

func TestFaultsOfMaking(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{"size: [700, 500]", "size: [90, 40]", "sheets[0].size: within its margins, 66 mm by 16 mm, the sheet is too small for A (80 mm by 22 mm); give larger sheets, or cut those from others"},
		{"cuts: [B]", "cuts: [B, A]", `sheets[1].cuts[1]: "A" is cut from "grey card" already; cut each kind from one stock`},
		{"turn: half", "turn: hlaf", `sheets[0].turn: "hlaf" is not a rule for turning; did you mean half?`},
		{"price: 1.85", "price: -1", `sheets[0].price: "-1" is not a sum of money; give a number of 0 or more with a point before decimals, like 12.50`},
		{"stock: {A: 12}", "stock: {A: -1}", `stock.A: "-1" is not a number of pieces in hand; give a whole number from 0 to 200000`},
		{"stock: {A: 12}", "stock: {Q: 1}", "stock.Q: is the code of no kind of piece; write codes and numbers, like {A: 12}"},
		{"share: 5 %", "share: five", `spares.share: "five" is not a share of spare pieces; give a number of 0 or more, or per cent, like 10 %`},
		{"in hand: 20 ml", "in hand: -20 ml", `materials[0].in hand: "-20 ml" is not an amount; write a number of 0 or more with its unit, like 35 g, 0.5 l or 12 m`},
		{"in hand: 20 ml", "in hand: 20 g", "materials[0].in hand: 20 g is not measured as the rest of it is, in ml; give weights, volumes, lengths or counts throughout; a coat is a volume"},
		{"[grey card], amount", "[grey felt], amount", `materials[5].of[0]: "grey felt" is no stock of sheets; write a name from under sheets:`},
		{"- {name: white, parts: 4}\n      - {name: blue, parts: 0.5}", "- {name: white, parts: 0}", "recipes[0].parts: the parts sum to nothing; give at least one part above 0"},
		{"name: blue, parts", "name: red, parts", `recipes[0].parts[1]: "red" is no material; list it under materials`},
		{"share: 60 %", "share: 50 %", "cost.stages: the shares sum to 90 %; give shares that sum to 100 %"},
		{"likely: 90", "likely: 190", "cost.lines[3].amount: low, likely and high are not in order, or below 0; write 0 ≤ low ≤ likely ≤ high"},
		{"of: sheets", "of: hours", "cost.lines[1].of: has nothing to add up; describe it under hours:, or give an amount"},
		{", amount: 0.45", "", "cost.lines[2].amount: is missing; give a sum, or {low: 80, likely: 90, high: 130}"},
		{"budget: 4500", "budget: 4,500", `cost.budget: "4,500" is not a sum of money; give a number of 0 or more with a point before decimals, like 12.50`},
		{"  budget: 4500\n", "", "cost.hold: is only used with a budget; give a budget, or remove it"},
	} {
		require.Contains(t, making, c.from)
		_, err := plan.Read("p.yaml", []byte(sound+strings.Replace(making, c.from, c.to, 1)))
		var faults yamlfile.Faults
		if !assert.True(t, errors.As(err, &faults), c.to) {
			continue
		}
		var told []string
		for _, f := range faults {
			_, text, _ := strings.Cut(f.Error(), ": ")
			told = append(told, text)
		}
		assert.Contains(t, told, c.want)
		assert.LessOrEqual(t, len(told), 2, "%v", told)
	}
}

// Whatever a plan says of making and money is read or complained of; what is read can be reckoned.
func FuzzMaking(f *testing.F) {
	f.Add(making)
	f.Add("materials: [{name: a, per: job, amount: 1 lb}, {name: b}]\nrecipes: [{name: a, parts: [{name: b, parts: 0.000001}]}]\n")
	f.Add("cost: {lines: [{name: a, amount: 999999999999.999999, times: {low: 0, likely: 0, high: 1}}], stages: [{name: a, share: 1}]}\n")
	f.Add("sheets: [{name: a, size: [80, 22], cuts: [A], gap: 0, margin: 0}]\nstock: {A: 0}\nspares: {share: 10}\n")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<12 {
			t.Skip("long")
		}
		p, err := plan.Read("p.yaml", []byte(sound+text))
		if err != nil {
			var faults yamlfile.Faults
			require.True(t, errors.As(err, &faults))
			return
		}
		pieces, err := materials.Pieces([]materials.Kind{{Code: "A", Placed: 9, Holes: 1, Area: 1e3, Stock: p.Stock["A"]}}, p.Spares)
		require.NoError(t, err)
		for _, l := range materials.Bill(p.Materials, p.Recipes, materials.Counts{Pieces: pieces}) {
			assert.GreaterOrEqual(t, l.Left.Value.Sign(), 0)
		}
		if p.Cost != nil {
			s := p.Cost.Filled(cost.Range{}, cost.Range{}, cost.Range{}).Sum()
			assert.LessOrEqual(t, s.Total.Low.Cmp(s.Total.High), 0)
		}
	})
}
