package hours_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/hours"
)

var counts = hours.Counts{
	Kinds:  []hours.KindCount{{Code: "A", Pieces: 60, Holes: 120}, {Code: "B", Pieces: 41, Holes: 41}},
	Made:   []hours.KindCount{{Code: "A", Pieces: 60, Holes: 120}, {Code: "B", Pieces: 41, Holes: 41}},
	Area:   9.290304,
	Sheets: 17,
}

func TestUnits(t *testing.T) {
	for _, c := range []struct {
		operation hours.Operation
		want      float64
	}{
		{hours.Operation{Per: hours.Piece}, 101},
		{hours.Operation{Per: hours.Hole}, 161},
		{hours.Operation{Per: hours.Piece, Of: []string{"B"}}, 41},
		{hours.Operation{Per: hours.Hole, Of: []string{"A", "B"}}, 161},
		{hours.Operation{Per: hours.Piece, Batch: 20}, 6},
		{hours.Operation{Per: hours.Piece, Batch: 101}, 1},
		{hours.Operation{Per: hours.SquareMetre}, 9.29},
		{hours.Operation{Per: hours.SquareFoot}, 100}, // a square foot is 0.09290304 m²
		{hours.Operation{Per: hours.Sheet}, 17},
		{hours.Operation{Per: hours.Job}, 1},
	} {
		assert.Equal(t, c.want, counts.Units(c.operation), "%+v", c.operation)
	}
}

// Of A 60 hang and 72 are to be made, of B 41 hang and all of them are in hand. What is for making counts the
// former, loads of a kiln too, and what is for hanging the latter.
func TestMakingCountsWhatIsToBeMade(t *testing.T) {
	c := hours.Counts{
		Kinds: []hours.KindCount{{Code: "A", Pieces: 60, Holes: 120}, {Code: "B", Pieces: 41, Holes: 41}},
		Made:  []hours.KindCount{{Code: "A", Pieces: 72, Holes: 144}, {Code: "B"}},
		Area:  2, Sheets: 17,
	}
	judged := &hours.Judged{Least: 1, Likely: 1, Most: 1}
	all := []hours.Operation{
		{Name: "clay comes"},
		{Name: "press", Per: hours.Piece, Judged: judged},
		{Name: "slip", Per: hours.Piece, Of: []string{"B"}, Judged: judged},
		{Name: "fire", Per: hours.Piece, Batch: 24, Judged: judged},
		{Name: "weld", Per: hours.Hole, Judged: judged},
		{Name: "pack", Per: hours.Piece, For: hours.Hanging, Judged: judged},
		{Name: "tape up", Per: hours.Sheet, Judged: judged},
		{Name: "drill", Per: hours.Hole, Judged: judged},
		{Name: "hang", Per: hours.Piece, Judged: judged},
	}
	w, err := hours.Of(all, c, nil, 0.8)
	require.NoError(t, err)
	var units []float64
	for _, e := range w.Operations {
		units = append(units, e.Units)
	}
	assert.Equal(t, []float64{0, 72, 0, 3, 144, 101, 17, 161, 101}, units)
	assert.Contains(t, w.Operations[2].Notes[0], "none of what it is for is to be made")
	assert.False(t, w.Operations[0].Idle, "clay is waited for")
	assert.Empty(t, all[1].For, "what was asked stays as it was")

	c.Made[0] = hours.KindCount{Code: "A"}
	all = append([]hours.Operation{{Name: "glaze mixed", Per: hours.Job, Judged: judged}, {Name: "pins come", For: hours.Hanging}}, all...)
	w, err = hours.Of(all, c, nil, 0.8)
	require.NoError(t, err)
	units = units[:0]
	for _, e := range w.Operations {
		units = append(units, e.Units)
	}
	assert.Equal(t, []float64{0, 0, 0, 0, 0, 0, 0, 101, 17, 161, 101}, units)
	assert.Equal(t, 380.0, w.Expected, "a minute each")
	assert.True(t, w.Operations[2].Idle, "no clay is waited for")
	assert.Contains(t, w.Operations[2].Notes[0], "write for: hanging")
	assert.False(t, w.Operations[1].Idle, "pins are")
}

// of estimates one operation that is counted by the piece of kind B, of which there are 41.
func of(t testing.TB, judged *hours.Judged, log ...hours.Record) (hours.Estimate, hours.Work) {
	t.Helper()
	o := hours.Operation{Name: "fold", Per: hours.Piece, Of: []string{"B"}, Judged: judged}
	w, err := hours.Of([]hours.Operation{o}, counts, log, 0.8)
	require.NoError(t, err)
	require.Len(t, w.Operations, 1)
	return w.Operations[0], w
}

// folded is a log of folding: units and minutes by turns.
func folded(pairs ...float64) []hours.Record {
	var out []hours.Record
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, hours.Record{Job: fmt.Sprintf("job %d", 1+i/2), Operation: "fold", Units: pairs[i], Minutes: pairs[i+1], Line: 2 + i/2})
	}
	return out
}

// Jobs of 10 minutes and 2 a piece, off by 3 either way: worked by hand. The mean of units is 30 and
// their squares about it are 4·100 + ... = 1000; the residuals are 3, -3, -3, 3, 0 less the line
// through them, which is level because Σ(u-30)·e = 0 and Σe = 0. So s² = 36/3 = 12, and for 41 pieces
// the variance is 12·(1 + 1/5 + 11²/1000) = 15.852; t(0.9, 3) = 1.637744.
func TestLineThroughTheLog(t *testing.T) {
	e, w := of(t, nil, folded(10, 33, 20, 47, 40, 87, 50, 113, 30, 70)...)
	assert.Equal(t, hours.Fitted, e.Basis)
	assert.Equal(t, 5, e.Jobs)
	assert.Equal(t, []float64{10, 2}, []float64{e.SetUp, e.PerUnit})
	assert.Equal(t, 92.0, e.Expected)
	reach := 1.637744 * math.Sqrt(15.852)
	assert.InDelta(t, 92-reach, e.Low, 0.051)
	assert.InDelta(t, 92+reach, e.High, 0.051)
	assert.False(t, e.Beyond)
	assert.Empty(t, e.Outliers)
	assert.Equal(t, []float64{e.Expected, e.Low, e.High}, []float64{w.Expected, w.Low, w.High}, "the sum of one is that one")
}

func TestSetUpBelowNothing(t *testing.T) {
	e, _ := of(t, nil, folded(20, 30, 30, 55, 40, 78)...)
	assert.Equal(t, hours.Proportional, e.Basis)
	assert.Zero(t, e.SetUp)
	// Σxy/Σx² = (600 + 1650 + 3120)/(400 + 900 + 1600)
	assert.Equal(t, 1.85, e.PerUnit)
	assert.Equal(t, 75.9, e.Expected)
	assert.Contains(t, strings.Join(e.Notes, "\n"), "the line would need a set-up time of -17.67 minutes, less than none")

	e, _ = of(t, nil, folded(20, 60, 30, 55, 40, 40)...)
	assert.Equal(t, hours.Proportional, e.Basis)
	assert.Contains(t, strings.Join(e.Notes, "\n"), "more units do not take more minutes")

	e, _ = of(t, nil, folded(20, 60, 20, 50, 20, 40)...)
	assert.Equal(t, hours.Proportional, e.Basis)
	assert.Equal(t, 2.5, e.PerUnit)
	assert.Contains(t, strings.Join(e.Notes, "\n"), "all logged jobs are of one size")
	assert.True(t, e.Beyond)
}

func TestOneJobIsAGuess(t *testing.T) {
	e, _ := of(t, nil, folded(82, 200)...)
	assert.Equal(t, hours.OneJob, e.Basis)
	assert.Equal(t, 100.0, e.Expected)
	// The normal quantile 1.28155 times half of the time.
	assert.Equal(t, 35.9, e.Low)
	assert.Equal(t, 164.1, e.High)
	assert.Contains(t, e.Notes[0], `guessed from one job, "job 1"`)
}

// With two jobs t has one degree of freedom, and the interval is never that of two which happen to
// agree.
func TestTwoJobs(t *testing.T) {
	e, _ := of(t, nil, folded(20, 40, 82, 164)...)
	assert.Equal(t, hours.TwoJobs, e.Basis)
	assert.Equal(t, 82.0, e.Expected)
	assert.InDelta(t, 82-3.0776835*0.25*82, e.Low, 0.05)
	assert.InDelta(t, 82+3.0776835*0.25*82, e.High, 0.05)
	apart, _ := of(t, nil, folded(20, 20, 82, 300)...)
	assert.Greater(t, apart.High-apart.Low, e.High-e.Low)
	assert.GreaterOrEqual(t, apart.Low, 0.0)
}

// Least 4, likely 6 and most 12 give a mean of 6.67 and a standard deviation of 1.33: a published
// example of the three-point estimate (maxwideman.com).
func TestThreePoints(t *testing.T) {
	j := hours.Judged{Least: 4, Likely: 6, Most: 12}
	assert.InDelta(t, 6.67, j.Mean(), 0.005)
	assert.InDelta(t, 1.33, j.SD(), 0.005)
	e, _ := of(t, &j)
	assert.Equal(t, hours.Threefold, e.Basis)
	assert.Equal(t, 273.3, e.Expected)
	assert.InDelta(t, 41*(20.0/3-1.2815516*4/3), e.Low, 0.05)
	assert.InDelta(t, 41*(20.0/3+1.2815516*4/3), e.High, 0.05)

	// No end of an interval goes past the least or the most.
	e, _ = of(t, &hours.Judged{Least: 4, Likely: 4, Most: 12})
	assert.Equal(t, 164.0, e.Low)
}

// A judgement stands in while the log has fewer than three jobs, and gives way then.
func TestLogGoesBeforeJudgement(t *testing.T) {
	j := &hours.Judged{Least: 4, Likely: 6, Most: 12}
	for n, want := range map[int]hours.Basis{0: hours.Threefold, 1: hours.Threefold, 2: hours.Threefold, 3: hours.Fitted} {
		e, _ := of(t, j, folded(10, 30, 20, 52, 30, 70)[:n]...)
		assert.Equal(t, want, e.Basis, "%d jobs", n)
	}
}

func TestNothingKnown(t *testing.T) {
	e, w := of(t, nil, hours.Record{Job: "a", Operation: "flod", Units: 1, Minutes: 1})
	assert.Equal(t, hours.Unknown, e.Basis)
	assert.Equal(t, []string{"fold"}, w.Missing)
	assert.Equal(t, []string{"flod"}, w.Unused)
	assert.Zero(t, w.Expected)
	notes := strings.Join(w.Notes, "\n")
	assert.Contains(t, notes, "the sum is without fold")
	assert.Contains(t, notes, "the log also has flod")

	w, err := hours.Of([]hours.Operation{{Name: "bake", Per: hours.Piece, Of: []string{"Z"}}}, counts, nil, 0.8)
	require.NoError(t, err)
	assert.Equal(t, hours.Nothing, w.Operations[0].Basis)
	assert.Empty(t, w.Missing)

	waited := []hours.Operation{{Name: "glue comes"}}
	assert.Empty(t, hours.Check(waited, nil))
	w, err = hours.Of(waited, counts, nil, 0.8)
	require.NoError(t, err)
	assert.Equal(t, hours.Nothing, w.Operations[0].Basis)
	assert.Empty(t, w.Missing)
}

func TestOutlierIsNamed(t *testing.T) {
	e, _ := of(t, nil, folded(10, 30, 15, 41, 20, 50, 25, 61, 30, 70, 35, 81, 40, 160, 45, 100)...)
	require.Len(t, e.Outliers, 1)
	assert.Equal(t, "job 7", e.Outliers[0].Job)
	assert.Equal(t, 8, e.Outliers[0].Line)
	assert.Greater(t, e.Outliers[0].Studentised, 3.0)
	assert.Contains(t, strings.Join(e.Notes, "\n"), `"job 7", line 8 of the log, stands out: 160 minutes where the line gives`)

	// Few jobs differ by chance: three standard errors of four jobs are nothing to name.
	e, _ = of(t, nil, folded(10, 30, 20, 52, 30, 70, 40, 100)...)
	assert.Empty(t, e.Outliers)
}

func TestBeyondTheLog(t *testing.T) {
	e, _ := of(t, nil, folded(10, 30, 20, 52, 30, 70)...)
	assert.True(t, e.Beyond)
	assert.Contains(t, strings.Join(e.Notes, "\n"), `41 is beyond the largest logged job, "job 3" with 30`)
	e, _ = of(t, nil, folded(50, 130, 60, 152, 70, 170)...)
	assert.True(t, e.Beyond)
	assert.Contains(t, strings.Join(e.Notes, "\n"), "is below the smallest logged job")
}

// Means add, and so do variances: three alike give three times the time with √3 times the reach.
func TestSumOfJudgements(t *testing.T) {
	j := hours.Judged{Least: 10, Likely: 20, Most: 30}
	var ops []hours.Operation
	for _, name := range []string{"a", "b", "c"} {
		ops = append(ops, hours.Operation{Name: name, Per: hours.Job, Judged: &j})
	}
	w, err := hours.Of(ops, counts, nil, 0.8)
	require.NoError(t, err)
	assert.Equal(t, 60.0, w.Expected)
	reach := 1.2815516 * math.Sqrt(3) * 20 / 6
	assert.InDelta(t, 60-reach, w.Low, 0.05)
	assert.InDelta(t, 60+reach, w.High, 0.05)
	assert.Less(t, w.High-w.Low, 3*(w.Operations[0].High-w.Operations[0].Low))
}

// What operations come to at the upper end of the sum adds up to it, and none of them is later than its
// own interval has it where they are late for reasons of their own.
func TestAtMost(t *testing.T) {
	ops := []hours.Operation{{Name: "fold", Per: hours.Piece}, {Name: "drill", Per: hours.Hole, Judged: &hours.Judged{Least: 1, Likely: 2, Most: 5}}, {Name: "unheard of", Per: hours.Job}}
	w, err := hours.Of(ops, counts, folded(10, 33, 20, 47, 40, 87, 50, 113, 30, 70), 0.8)
	require.NoError(t, err)
	most, sum := w.AtMost(), 0.0
	for i, m := range most {
		sum += m
		assert.True(t, w.Operations[i].Expected <= m && m <= w.Operations[i].High, "%v %+v", m, w.Operations[i])
	}
	assert.InDelta(t, w.High, sum, 0.2)
	assert.Zero(t, most[2])
}

// A likelier interval is wider, and every interval holds its middle.
func TestLikelihood(t *testing.T) {
	log := folded(10, 33, 20, 47, 40, 87, 50, 113, 30, 70)
	o := []hours.Operation{{Name: "Fold ", Per: hours.Piece}, {Name: "drill", Per: hours.Hole, Judged: &hours.Judged{Least: 1, Likely: 2, Most: 5}}}
	last := 0.0
	for _, p := range []float64{0.5, 0.8, 0.9, 0.99} {
		w, err := hours.Of(o, counts, log, p)
		require.NoError(t, err)
		assert.Greater(t, w.High-w.Low, last)
		last = w.High - w.Low
		for _, e := range w.Operations {
			assert.True(t, 0 <= e.Low && e.Low <= e.Expected && e.Expected <= e.High, "%+v", e)
		}
	}
	for _, p := range []float64{0, 1, math.NaN(), 80} {
		_, err := hours.Of(o, counts, log, p)
		assert.ErrorContains(t, err, "hours.likelihood", "%g", p)
	}
}

func TestCheck(t *testing.T) {
	good := hours.Operation{Name: "fold", Per: hours.Piece, Of: []string{"A"}, Batch: 4, Judged: &hours.Judged{Least: 1, Likely: 2, Most: 2}}
	assert.Empty(t, hours.Check([]hours.Operation{good}, []string{"A"}))
	for field, spoil := range map[string]func(*hours.Operation){
		"name":           func(o *hours.Operation) { o.Name = " " },
		"per":            func(o *hours.Operation) { o.Per = "yard" },
		"per ":           func(o *hours.Operation) { o.Per = hours.None },
		"for":            func(o *hours.Operation) { o.For = "fun" },
		"of[0]":          func(o *hours.Operation) { o.Of = []string{"Q"} },
		"of":             func(o *hours.Operation) { o.Per, o.Batch = hours.Job, 0 },
		"batch":          func(o *hours.Operation) { o.Batch = 1 },
		"minutes.least":  func(o *hours.Operation) { o.Judged = &hours.Judged{Least: math.NaN()} },
		"minutes.likely": func(o *hours.Operation) { o.Judged = &hours.Judged{Least: 3, Likely: 2, Most: 4} },
		"minutes.most":   func(o *hours.Operation) { o.Judged = &hours.Judged{Least: 1, Likely: 3, Most: 2} },
	} {
		bad := good
		spoil(&bad)
		problems := hours.Check([]hours.Operation{good, bad}, []string{"A"})
		if field != "name" {
			require.NotEmpty(t, problems, field)
			assert.Equal(t, "hours.operations[1].name", problems[0].Field, "both are called fold")
			problems = problems[1:]
		}
		require.Len(t, problems, 1, field)
		assert.Equal(t, "hours.operations[1]."+strings.TrimSpace(field), problems[0].Field)
		assert.NotEmpty(t, problems[0].Fix)
	}
}

func TestClock(t *testing.T) {
	for minutes, want := range map[float64]string{0: "0 min", 59.4: "59 min", 59.5: "1 h", 440: "7 h 20 min", 6000: "100 h"} {
		assert.Equal(t, want, hours.Clock(minutes))
	}
}

// Jobs that lie about a line by chance fall into the interval as often as it says, and so do sums of
// two operations, logged five and nine times.
func TestIntervalsHoldAsOftenAsTheySay(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 17))
	ops := []hours.Operation{{Name: "fold", Per: hours.Piece, Of: []string{"B"}}, {Name: "drill", Per: hours.Hole, Of: []string{"B"}}}
	took := func(units, rate, off float64) float64 { return 500 + rate*units + off*r.NormFloat64() }
	const trials = 3000
	var one, sum int
	for range trials {
		var log []hours.Record
		for i := range 9 {
			units := float64(10 + 10*i)
			log = append(log, hours.Record{Operation: "drill", Units: units, Minutes: took(units, 3, 20)})
			if i%2 == 0 {
				log = append(log, hours.Record{Operation: "fold", Units: units, Minutes: took(units, 8, 40)})
			}
		}
		w, err := hours.Of(ops, counts, log, 0.8)
		require.NoError(t, err)
		fold, drill := took(41, 8, 40), took(41, 3, 20)
		if e := w.Operations[0]; e.Low <= fold && fold <= e.High {
			one++
		}
		if w.Low <= fold+drill && fold+drill <= w.High {
			sum++
		}
	}
	// Four standard deviations of a share of 0.8 in so many trials are 0.029.
	assert.InDelta(t, 0.8, float64(one)/trials, 0.029)
	assert.InDelta(t, 0.8, float64(sum)/trials, 0.029)
}
