package hours_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/hours"
)

func numbers(t testing.TB, text string) []float64 {
	t.Helper()
	var out []float64
	for _, f := range strings.Fields(text) {
		v, err := strconv.ParseFloat(f, 64)
		require.NoError(t, err)
		out = append(out, v)
	}
	return out
}

// The data set Norris of the Statistical Reference Datasets of NIST.
const (
	norrisX = "0.2 337.4 118.2 884.6 10.1 226.5 666.3 996.3 448.6 777.0 558.2 0.4 0.6 775.5 666.9 338.0 447.5 11.6 556.0 228.1 995.8 887.6 120.2 0.3 0.3 556.8 339.1 887.2 999.0 779.0 11.1 118.3 229.2 669.1 448.9 0.5"
	norrisY = "0.1 338.8 118.1 888.0 9.2 228.1 668.5 998.5 449.1 778.9 559.2 0.3 0.1 778.1 668.8 339.3 448.9 10.8 557.7 228.3 998.0 888.8 119.6 0.3 0.6 557.6 339.3 888.0 998.5 778.9 10.2 117.6 228.9 668.4 449.2 0.2"
)

// Certified values of NIST for Norris: slope, intercept, their standard errors and the residual
// standard deviation.
func TestNorris(t *testing.T) {
	x, y := numbers(t, norrisX), numbers(t, norrisY)
	l, err := hours.FitLine(x, y)
	require.NoError(t, err)
	assert.InEpsilon(t, 1.00211681802045, l.PerUnit, 1e-12)
	assert.InEpsilon(t, -0.262323073774029, l.SetUp, 1e-9)
	assert.InEpsilon(t, 0.429796848199937e-03, l.PerUnitError, 1e-9)
	assert.InEpsilon(t, 0.232818234301152, l.SetUpError, 1e-9)
	assert.InEpsilon(t, 0.884796396144373, l.Residual, 1e-9)
	assert.InDelta(t, 26.6173985294224, l.Residual*l.Residual*float64(l.DF), 1e-8)
	assert.Equal(t, 34, l.DF)

	// Worked out with SciPy 1.10.1 from the normal equations.
	assert.InEpsilon(t, 0.8976734216307616, l.PredictionError(500), 1e-9)
	s := l.Studentised(x, y)
	assert.InDelta(t, -3.164733412330318, s[28], 1e-8)
	assert.InDelta(t, 0.1869483541023607, s[0], 1e-8)

	l, err = hours.FitOrigin(x, y)
	require.NoError(t, err)
	assert.InDelta(t, 1.00174208, l.PerUnit, 1e-8)
	assert.InEpsilon(t, 0.8881965617383246, l.Residual, 1e-9)
	assert.InEpsilon(t, 0.8986452565808392, l.PredictionError(500), 1e-9)
	assert.Zero(t, l.SetUp)
	assert.Equal(t, 35, l.DF)
}

// The purity of oxygen over the percentage of hydrocarbons, and the interval for a new observation
// at 1.00 %, 86.83 to 91.63 at 95 %: Montgomery and Runger, Applied Statistics and Probability for
// Engineers, chapter 11 (from memory; SciPy gives the same from these data).
func TestPredictionOfOxygenPurity(t *testing.T) {
	x := numbers(t, "0.99 1.02 1.15 1.29 1.46 1.36 0.87 1.23 1.55 1.40 1.19 1.15 0.98 1.01 1.11 1.20 1.26 1.32 1.43 0.95")
	y := numbers(t, "90.01 89.05 91.43 93.74 96.73 94.45 87.59 91.77 99.42 93.65 93.54 92.52 90.56 89.54 89.85 90.39 93.25 93.41 94.98 87.33")
	l, err := hours.FitLine(x, y)
	require.NoError(t, err)
	assert.InDelta(t, 74.283, l.SetUp, 0.0005)
	assert.InDelta(t, 14.947, l.PerUnit, 0.0005)
	assert.InDelta(t, 1.18, l.Residual*l.Residual, 0.005)
	reach := hours.Quantile(0.975, float64(l.DF)) * l.PredictionError(1)
	assert.InDelta(t, 86.83, l.At(1)-reach, 0.005)
	assert.InDelta(t, 91.63, l.At(1)+reach, 0.005)
}

// The stopping distances of cars in the 1920s that come with R, and what R predicts for a speed of 12:
// 29.60981, from -1.749529 to 60.96915 at 95 % (from memory; SciPy gives the same from these data).
func TestPredictionOfStoppingDistance(t *testing.T) {
	x := numbers(t, "4 4 7 7 8 9 10 10 10 11 11 12 12 12 12 13 13 13 13 14 14 14 14 15 15 15 16 16 17 17 17 18 18 18 18 19 19 19 20 20 20 20 20 22 23 24 24 24 24 25")
	y := numbers(t, "2 10 4 22 16 10 18 26 34 17 28 14 20 24 28 26 34 34 46 26 36 60 80 20 26 54 32 40 32 40 50 42 56 76 84 36 46 68 32 48 52 56 64 66 54 70 92 93 120 85")
	l, err := hours.FitLine(x, y)
	require.NoError(t, err)
	reach := hours.Quantile(0.975, float64(l.DF)) * l.PredictionError(12)
	assert.InDelta(t, 29.60981, l.At(12), 5e-6)
	assert.InDelta(t, -1.749529, l.At(12)-reach, 1e-6)
	assert.InDelta(t, 60.96915, l.At(12)+reach, 5e-6)
}

// Quantiles of Student's t, worked out with SciPy 1.10.1. With one degree of freedom the quantile is
// tan π(p - 1/2).
func TestQuantile(t *testing.T) {
	for _, c := range []struct{ p, df, want float64 }{
		{0.9, 1, math.Tan(math.Pi * 0.4)}, {0.9, 3, 1.637744357215907}, {0.975, 18, 2.10092204024096},
		{0.95, 7.3, 1.8829300179371542}, {0.9, math.Inf(1), 1.2815515655446004}, {0.1, math.Inf(1), -1.2815515655446004},
	} {
		assert.InDelta(t, c.want, hours.Quantile(c.p, c.df), 1e-7, "%g %g", c.p, c.df)
	}
}

// A fit knows nothing of the order of jobs, and turns with the scales of both measures.
func TestFitTurnsWithItsScales(t *testing.T) {
	x, y := numbers(t, "3 7 8 12 20 31"), numbers(t, "20 31 36 41 80 99")
	a, err := hours.FitLine(x, y)
	require.NoError(t, err)
	var u, v []float64
	for i := range x {
		j := (i*5 + 2) % len(x)
		u, v = append(u, 10*x[j]), append(v, 60*y[j])
	}
	b, err := hours.FitLine(u, v)
	require.NoError(t, err)
	assert.InEpsilon(t, 60*a.SetUp, b.SetUp, 1e-12)
	assert.InEpsilon(t, 6*a.PerUnit, b.PerUnit, 1e-12)
	assert.InEpsilon(t, 60*a.PredictionError(9), b.PredictionError(90), 1e-12)
}

// A job far off a line that the others lie on exactly is beyond any number of standard errors.
func TestStudentisedOffAnExactLine(t *testing.T) {
	x, y := numbers(t, "1 2 3 4 5 6"), numbers(t, "11 21 31 141 51 61")
	l, err := hours.FitLine(x, y)
	require.NoError(t, err)
	s := l.Studentised(x, y)
	assert.True(t, math.IsInf(s[3], 1), "%v", s)
	for i, v := range s {
		assert.True(t, i == 3 || math.Abs(v) < 3, "%v", s)
	}
	y[3] = 41
	l, err = hours.FitLine(x, y)
	require.NoError(t, err)
	for _, v := range l.Studentised(x, y) {
		assert.True(t, math.Abs(v) < 3 || math.IsNaN(v), "an exact line has no outliers: %v", v)
	}
}

func TestNoLine(t *testing.T) {
	for _, c := range []struct{ x, y []float64 }{
		{nil, nil}, {[]float64{1}, []float64{2}}, {[]float64{5, 5, 5}, []float64{1, 2, 3}},
		{[]float64{1, 2}, []float64{1}}, {[]float64{1, math.NaN()}, []float64{1, 2}}, {[]float64{1, 2}, []float64{math.Inf(1), 2}},
	} {
		_, err := hours.FitLine(c.x, c.y)
		assert.Error(t, err, "%v", c)
	}
	_, err := hours.FitOrigin(nil, nil)
	assert.Error(t, err)
	l, err := hours.FitOrigin([]float64{4}, []float64{10})
	require.NoError(t, err)
	assert.Equal(t, 2.5, l.PerUnit)
	assert.True(t, math.IsNaN(l.Residual))
}
