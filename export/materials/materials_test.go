package materials_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/decimal"
	"wallshoal/export/materials"
)

func num(text string) decimal.Number {
	n, err := decimal.Parse(text)
	if err != nil {
		panic(err)
	}
	return n
}

func amount(text string) materials.Amount {
	a, err := materials.ParseAmount(text)
	if err != nil {
		panic(err)
	}
	return a
}

// Hand-worked: 5 % of 101 is 5.05, so 6 spares; of 20 it is 1, and 2 is the least.
func TestPieces(t *testing.T) {
	pieces, err := materials.Pieces([]materials.Kind{
		{Code: "A", Placed: 101, Stock: 7}, {Code: "B", Placed: 20}, {Code: "C"}, {Code: "D", Placed: 3, Stock: 9},
	}, materials.Spares{Share: num("0.05"), Least: 2})
	require.NoError(t, err)
	var spare, toMake []int
	for _, p := range pieces {
		spare, toMake = append(spare, p.Spare), append(toMake, p.Make)
	}
	assert.Equal(t, []int{6, 2, 0, 2}, spare)
	assert.Equal(t, []int{100, 22, 0, 0}, toMake)
	_, err = materials.Pieces([]materials.Kind{{Code: "A", Stock: -1}}, materials.Spares{})
	assert.EqualError(t, err, "stock.A: -1 pieces cannot be in hand; give a number from 0 to 200000")
}

// Hand-worked: 100 pieces of 20 cm², both sides, are 0.4 m²; a coat of 0.1 mm is 40 ml, 44 with 10 %
// waste, mixed 4 : 1 : 0.5. Half a part is a whole step of 1 ml, so a part is 2, 4, 6, 8 ml, and 8 by 5.5 parts are 44.
func TestBill(t *testing.T) {
	list := []materials.Material{
		{Name: "sea green", Per: materials.PerSquareMetre, Coat: num("0.1"), Sides: 2, Waste: num("0.1")},
		{Name: "white", Pack: amount("25 ml"), Price: new(num("3.35"))},
		{Name: "blue", Pack: amount("50 ml"), Hand: amount("8 ml")},
		{Name: "black", Pack: amount("50 ml")},
		{Name: "pins", Per: materials.PerHole, Amount: amount("1"), Waste: num("0.02"), Pack: amount("100"), Price: new(num("2.10"))},
		{Name: "cones", Per: materials.PerPiece, Batch: 40, Amount: amount("3"), Of: []string{"A"}},
		{Name: "paper", Per: materials.PerPage, Amount: amount("1"), Waste: num("0.1"), Pack: amount("50"), Price: new(num("4"))},
	}
	recipes := []materials.Recipe{{Name: "sea green", Parts: []materials.Part{{"white", num("4")}, {"blue", num("1")}, {"black", num("0.5")}}}}
	require.Empty(t, materials.Check(list, recipes))
	lines := materials.Bill(list, recipes, materials.Counts{Pieces: []materials.Piece{
		{Kind: materials.Kind{Code: "A", Placed: 98, Holes: 2, Area: 2000}, Make: 100},
	}, Pages: 60})
	assert.Equal(t, "0.4", lines[0].Units.String())
	assert.Equal(t, "44 ml", lines[0].Mixed.Volume.String())
	assert.Equal(t, "0", lines[0].Left.Value.String())
	assert.Equal(t, "32 ml", lines[1].Gross.String())
	assert.Equal(t, 2, lines[1].Packs)
	assert.Equal(t, "6.7", lines[1].Cost.String())
	assert.Equal(t, "18 ml", lines[1].Left.String())
	assert.Equal(t, 0, lines[2].Packs)
	assert.Equal(t, "4 ml", lines[3].Gross.String())
	assert.Equal(t, "199.92", lines[4].Gross.String()) // 196 holes and 2 %
	assert.Equal(t, 2, lines[4].Packs)
	assert.Equal(t, "9", lines[5].Gross.String()) // three loads of forty
	assert.Equal(t, "66", lines[6].Gross.String())
	assert.Equal(t, "8", lines[6].Cost.String()) // two packs
}

// Every batch of a recipe has exactly its proportions, in whole steps, and is no less than asked.
func TestBatchesMatch(t *testing.T) {
	r := materials.Recipe{Parts: []materials.Part{{"a", num("4")}, {"b", num("1")}, {"c", num("0.5")}}, Step: amount("0.5")}
	for _, need := range []string{"1 ml", "0.01 l", "333 ml", "2 l"} {
		m := r.Mix(amount(need))
		assert.GreaterOrEqual(t, m.Volume.Value.Cmp(amount(need).Value), 0)
		assert.Zero(t, m.Parts[0].Amount.Value.Cmp(m.Parts[1].Amount.Value.Mul(decimal.Of(4))))
		assert.Zero(t, m.Parts[1].Amount.Value.Cmp(m.Parts[2].Amount.Value.Mul(decimal.Of(2))))
		for _, p := range m.Parts {
			steps := p.Amount.Value.Div(num("0.5"))
			assert.Zero(t, steps.Cmp(steps.Ceil()))
		}
	}
	none := r.Mix(amount("0 ml"))
	assert.Equal(t, "0", none.Volume.Value.String())
	assert.Zero(t, none.Batches)
	assert.False(t, none.Wasteful())
}

// Hand-worked: 96.5 parts with half a part of iron come out whole in steps of 10 g only at 20 g a part, 1930 g;
// 195 g are needed. In batches of 200 g a part is 2.07 g: 124.4, 72.5 and 3.1 g, in steps of 1 g 124, 73 and 3,
// together 200; iron is 3/200 where it should be 1.5/96.5, 3.5 % less.
func TestBatchAgainstNeed(t *testing.T) {
	parts := []materials.Part{{"feldspar", num("60")}, {"clay", num("35")}, {"iron", num("1.5")}}
	m := materials.Recipe{Parts: parts, Step: amount("10")}.Mix(amount("195 g"))
	assert.Equal(t, "1.93 kg", m.Volume.String())
	assert.Equal(t, "1.735 kg", m.Over().String())
	assert.True(t, m.Wasteful())
	_, off := m.Worst()
	assert.False(t, off)

	m = materials.Recipe{Parts: parts, Step: amount("1 g"), Batch: amount("200 g")}.Mix(amount("395 g"))
	assert.Equal(t, "200 g", m.Batch.String())
	assert.Equal(t, 2, m.Batches)
	assert.Equal(t, "5 g", m.Over().String())
	assert.False(t, m.Wasteful())
	worst, off := m.Worst()
	assert.True(t, off)
	assert.Equal(t, "iron", worst.Name)
	assert.Equal(t, "-0.035", worst.Off.Round(4).String())

	// What is weighed out for all batches is bought.
	list := []materials.Material{
		{Name: "glaze", Per: materials.PerJob, Amount: amount("395 g")},
		{Name: "feldspar"}, {Name: "clay"}, {Name: "iron"},
	}
	lines := materials.Bill(list, []materials.Recipe{{Name: "glaze", Parts: parts, Batch: amount("200 g")}}, materials.Counts{})
	assert.Equal(t, "248 g", lines[1].Buy.String())
	assert.Equal(t, "5 g", lines[0].Left.String())
}

// Weights and volumes that are mixed are one fault, with all its places.
func TestUnlikeIsSaidOnce(t *testing.T) {
	list := []materials.Material{
		{Name: "white glaze", Per: materials.PerSquareMetre, Coat: num("0.4")},
		{Name: "iron glaze", Per: materials.PerSquareMetre, Coat: num("0.4")},
		{Name: "clay", Pack: amount("5 kg")}, {Name: "iron", Pack: amount("1 kg")},
	}
	mixed := []materials.Part{{"clay", num("9")}, {"iron", num("1")}}
	problems := materials.Check(list, []materials.Recipe{{Name: "white glaze", Parts: mixed}, {Name: "iron glaze", Parts: mixed, Step: amount("1 g")}})
	require.Len(t, problems, 2)
	assert.Equal(t, "recipes[1].step: 1 g is not measured as iron glaze is, in ml; give it in ml", problems[0].Error())
	assert.Equal(t, "recipes[0].parts[0]: these are not measured alike: \"white glaze\" (ml) is mixed of \"clay\" (g), \"iron\" (g); "+
		"\"iron glaze\" (ml) is mixed of \"clay\" (g), \"iron\" (g); give weights throughout, or volumes; a coat is a volume, "+
		"so for a dry recipe give an amount for one square metre, like 300 g, in its place", problems[1].Error())
}

func TestAmounts(t *testing.T) {
	assert.Equal(t, "453.592 g", amount("1 lb").String())
	assert.Equal(t, "28.35 g", amount("1 oz").String())
	assert.Equal(t, "1.5 l", amount("1500 ml").String())
	assert.Equal(t, "12", amount("12").String())
	for _, text := range []string{"", "g", "1 stone", "1,5 l", "1 2 g"} {
		_, err := materials.ParseAmount(text)
		assert.Error(t, err, text)
	}
}

func TestFaults(t *testing.T) {
	list := []materials.Material{
		{Name: "glaze", Per: materials.PerPiece, Amount: amount("5 g"), Pack: amount("1 l")},
		{Name: "clay", Per: materials.PerPiece},
		{Name: "slip", Per: materials.PerPiece, Amount: amount("5 g"), Hand: amount("-1 g")},
		{Name: "white", Pack: amount("1 kg")},
	}
	recipes := []materials.Recipe{{Name: "slip", Parts: []materials.Part{{"white", num("0")}}}, {Name: "lost"}}
	var told []string
	for _, p := range materials.Check(list, recipes) {
		told = append(told, p.Error())
	}
	assert.Equal(t, []string{
		"materials[1].amount: takes nothing of it; give the amount for one piece, like 35 g",
		"materials[2].in hand: -1 is less than nothing; give 0 or more",
		"materials[0].pack: 1 l is not measured as the rest of it is, in g; give weights, volumes, lengths or counts throughout; a coat is a volume",
		"recipes[0].parts: the parts sum to nothing; give at least one part above 0",
		`recipes[1].name: "lost" is no material that the work takes; name one of materials that has per:`,
	}, told)
}
