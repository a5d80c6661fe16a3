package scope

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/wall/measure"
)

// What is needed and what is left over still add up to what is bought.
func TestAmountsInTenths(t *testing.T) {
	for _, row := range []struct{ exact, up, down string }{
		{"158.377", "158.4 ml", "158.3 ml"},
		{"341.623", "341.7 ml", "341.6 ml"},
		{"90", "90 ml", "90 ml"},
		{"0.125", "0.125 ml", "0.125 ml"},
		{"1440.01", "1.44 l", "1.44 l"},
	} {
		a := Amount{row.exact, "ml"}
		assert.Equal(t, row.up, a.inTenths(up).String())
		assert.Equal(t, row.down, a.inTenths(down).String())
	}
}

// An operation that is done so many at a time counts batches, and a sheet is as large as the plan's rule says.
func TestUnitsOfTheMaking(t *testing.T) {
	h := Hours{Operations: []Operation{
		{Name: "fire", Per: "piece", Batch: 16, Units: 12, Basis: "line"},
		{Name: "fire again", Per: "piece", Batch: 16, Units: 1, Basis: "line"},
		{Name: "cut", Per: "piece", Units: 190, Basis: "line"},
	}}
	for i, want := range []string{"12 batches", "1 batch", "190 pieces"} {
		assert.Equal(t, want, h.Table().Rows[i][1])
	}
	m := Making{Sheets: []Stock{{Width: 609.6, Height: 457.2}}}
	assert.Equal(t, `2'-0" × 1'-6"`, m.StockTable(measure.Inch).Rows[0][1])
	assert.Equal(t, "609.6 × 457.2 mm", m.StockTable(measure.Millimetre).Rows[0][1])
	assert.Contains(t, SheetWords("Letter", measure.Inch), `5/16"`)
	assert.Contains(t, SheetWords("A3", measure.Millimetre), "8 mm")
}
