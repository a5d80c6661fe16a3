package heading

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The ratio of Bessel functions by mpmath at 30 digits; the first rows agree with the printed
// tables of A in Mardia and Jupp (2000) and in the R packages circular and CircStats. The rows
// about 100 lie on both sides of where the series takes over.
var resultants = []struct{ kappa, want float64 }{
	{0, 0},
	{1e-9, 5e-10},
	{1e-3, 0.0004999999375000104},
	{0.5, 0.2424996125808019},
	{1, 0.4463899658965345},
	{2, 0.697774657964008},
	{4, 0.8635226110245506},
	{8, 0.9352354935294386},
	{16, 0.9682277554281599},
	{50, 0.9899489673784978},
	{99, 0.994936610245483},
	{100, 0.9949873730051688},
	{101, 0.9950371280095227},
	{500, 0.9989994989968619},
	{1e4, 0.999949998749875},
	{1e8, 0.999999995},
	{math.Inf(1), 1},
}

func TestMeanResultantOfTheTable(t *testing.T) {
	for _, row := range resultants {
		assert.InDelta(t, row.want, MeanResultant(row.kappa), 1e-12, "kappa %v", row.kappa)
	}
}

func TestMeanResultantRises(t *testing.T) {
	last := MeanResultant(0)
	for kappa := 0.01; kappa < 300; kappa *= 1.01 {
		next := MeanResultant(kappa)
		assert.Greater(t, next, last, "kappa %v", kappa)
		last = next
	}
}

// TestConcentrationOfTheTable has the roots of A(kappa) = R by mpmath; 0.5 to 0.9 agree with A1inv
// of the R package CircStats.
func TestConcentrationOfTheTable(t *testing.T) {
	for _, row := range []struct{ resultant, want float64 }{
		{0.25, 0.5164903610610363},
		{0.5, 1.159319920750138},
		{0.75, 2.36930117730843},
		{0.8, 2.871286707186601},
		{0.9, 5.304689062957718},
		{0.99, 50.25384740109973},
		{0.996, 125.2515152264901},
		{0.999, 500.250375940986},
	} {
		assert.InEpsilon(t, row.want, Concentration(row.resultant), 1e-11, "resultant %v", row.resultant)
	}
	assert.Zero(t, Concentration(0))
	assert.Zero(t, Concentration(-0.1))
	assert.True(t, math.IsInf(Concentration(1), 1))
}

func TestConcentrationUndoesMeanResultant(t *testing.T) {
	for kappa := 0.001; kappa < 1e4; kappa *= 1.07 {
		assert.InEpsilon(t, kappa, Concentration(MeanResultant(kappa)), 1e-8, "kappa %v", kappa)
	}
}

// TestKappaOfASpread has the roots of A(kappa) = exp(-σ²/2) by mpmath at 30 digits.
func TestKappaOfASpread(t *testing.T) {
	for _, row := range []struct{ spread, want float64 }{
		{0.01, 32828064.000117},
		{1, 3283.3064134911},
		{5, 131.8138515694},
		{14, 17.262200033823},
		{30, 4.2324974268186},
		{60, 1.428386755011},
		{120, 0.22451102436905},
	} {
		assert.InEpsilon(t, row.want, Kappa(row.spread), 1e-11, "spread %v°", row.spread)
	}
	assert.True(t, math.IsInf(Kappa(0), 1), "no spread keeps every heading on the flow")
	assert.Less(t, Kappa(1000), 1e-9, "a spread far past a turn is no direction at all")
}
