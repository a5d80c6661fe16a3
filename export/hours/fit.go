package hours

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// A Line is minutes as a straight line over units, fitted by least squares. Squares are of the
// vertical distances, each job with the same weight.
type Line struct {
	SetUp        float64 // minutes before the first unit; 0 through the origin
	PerUnit      float64 // minutes
	SetUpError   float64 // standard error of SetUp; NaN where DF is 0, 0 through the origin
	PerUnitError float64 // standard error of PerUnit; NaN where DF is 0
	Residual     float64 // standard deviation of the residuals, minutes; NaN where DF is 0
	Origin       bool    // the line was made to pass through 0 units in 0 minutes
	Jobs         int
	DF           int // degrees of freedom of Residual

	mean   float64 // of the units; 0 through the origin
	spread float64 // sum of squares of the units about mean
}

// FitLine fits minutes = set-up + rate · units by ordinary least squares. Both slices have the same
// length. It fails with fewer than two jobs, and where all have the same units, for then nothing tells
// set-up from rate.
func FitLine(units, minutes []float64) (Line, error) {
	if err := fits(units, minutes); err != nil {
		return Line{}, err
	}
	l := Line{Jobs: len(units), DF: len(units) - 2, mean: stat.Mean(units, nil)}
	for _, u := range units {
		l.spread += float64((u - l.mean) * (u - l.mean))
	}
	if l.Jobs < 2 || !varied(units) {
		return Line{}, fmt.Errorf("no line can be laid through %d jobs of one size", l.Jobs)
	}
	l.SetUp, l.PerUnit = stat.LinearRegression(units, minutes, nil, false)
	l.judge(units, minutes)
	l.SetUpError = l.Residual * math.Sqrt(1/float64(l.Jobs)+l.mean*l.mean/l.spread)
	return l, nil
}

// FitOrigin fits minutes = rate · units by least squares. Both slices have the same length, of at
// least one.
func FitOrigin(units, minutes []float64) (Line, error) {
	if err := fits(units, minutes); err != nil {
		return Line{}, err
	}
	l := Line{Origin: true, Jobs: len(units), DF: len(units) - 1}
	for _, u := range units {
		l.spread += float64(u * u)
	}
	if l.Jobs == 0 || l.spread == 0 {
		return Line{}, fmt.Errorf("no line can be laid through %d jobs without units", l.Jobs)
	}
	_, l.PerUnit = stat.LinearRegression(units, minutes, nil, true)
	l.judge(units, minutes)
	return l, nil
}

// fits refuses what the regression would panic on or turn into no number.
func fits(units, minutes []float64) error {
	if len(units) != len(minutes) {
		return fmt.Errorf("%d jobs have units and %d have minutes", len(units), len(minutes))
	}
	for i := range units {
		if v := units[i] + minutes[i]; math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("job %d has a figure that is not a number", i+1)
		}
	}
	return nil
}

// varied reports whether not all units are the same.
func varied(units []float64) bool {
	for _, u := range units {
		if u != units[0] {
			return true
		}
	}
	return false
}

// judge finds how far the jobs lie from the line.
func (l *Line) judge(units, minutes []float64) {
	if l.DF == 0 {
		l.Residual, l.PerUnitError = math.NaN(), math.NaN()
		return
	}
	var rss float64
	for i, u := range units {
		e := minutes[i] - l.At(u)
		rss += float64(e * e)
	}
	l.Residual = math.Sqrt(rss / float64(l.DF))
	l.PerUnitError = l.Residual / math.Sqrt(l.spread)
}

// At returns the minutes that the line gives for so many units.
func (l Line) At(units float64) float64 { return l.SetUp + float64(l.PerUnit*units) }

// leverage returns how much of the fit at so many units a job of that size would make up.
func (l Line) leverage(units float64) float64 {
	h := (units - l.mean) * (units - l.mean) / l.spread
	if !l.Origin {
		h += 1 / float64(l.Jobs)
	}
	return h
}

// PredictionError returns the standard error of one new job of so many units, in minutes:
// s·√(1 + 1/n + (u-ū)²/Σ(uᵢ-ū)²), and s·√(1 + u²/Σuᵢ²) through the origin. These are the formulas of
// any textbook of regression, such as Draper and Smith, Applied Regression Analysis (from memory).
func (l Line) PredictionError(units float64) float64 {
	return l.Residual * math.Sqrt(1+l.leverage(units))
}

// Quantile returns the quantile p, between 0 and 1, of Student's t with df degrees of freedom, and of
// the normal distribution where df is infinite.
func Quantile(p, df float64) float64 {
	if math.IsInf(df, 1) {
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(p)
}

// Studentised returns for each job by how many standard errors it lies off the line that the others
// make: the externally studentised residual, infinite where the others lie exactly on a line that the
// job is off. It is NaN where the others leave no degree of freedom, and for a job without which
// there is no line. Cook and Weisberg, Residuals and Influence in Regression, 1982 (from memory).
func (l Line) Studentised(units, minutes []float64) []float64 {
	out := make([]float64, len(units))
	rss := l.Residual * l.Residual * float64(l.DF)
	for i, u := range units {
		e, rest := minutes[i]-l.At(u), 1-l.leverage(u)
		if l.DF < 2 || rest < 1e-9 {
			out[i] = math.NaN()
			continue
		}
		// What is left of the squares without the job, and is more than the noise of rounding.
		left := rss - e*e/rest
		noise := 1e-18 * minutes[i] * minutes[i]
		switch {
		case e*e <= noise:
			out[i] = 0
		case left <= 1e-12*rss:
			out[i] = math.Inf(int(math.Copysign(1, e)))
		default:
			out[i] = e / math.Sqrt(left/float64(l.DF-1)*rest)
		}
	}
	return out
}
