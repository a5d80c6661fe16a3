package hours

import (
	"fmt"
	"math"

	"wallshoal/export/quote"
	"wallshoal/wall"
)

// A Basis is what an estimate rests on.
type Basis string

// What estimates rest on, the firmest first.
const (
	Fitted       Basis = "line"            // a set-up time and a rate, from three jobs or more
	Proportional Basis = "proportional"    // a rate alone, from three jobs or more
	Threefold    Basis = "judged"          // least, likely and most
	TwoJobs      Basis = "two jobs"        // a rate, from two jobs
	OneJob       Basis = "one job"         // guessed
	Unknown      Basis = "to be asked for" // no figure at all
	Nothing      Basis = "nothing to do"   // the work has no such units
)

// Minutes are rounded to a tenth, and bounded below by 0.
const tenth = 10

// What a job may differ from the rate of few jobs, as a part of its minutes: our own choice, for no
// number of jobs below three says how far jobs differ.
const (
	doubtOfOne = 0.5
	doubtOfTwo = 0.25
)

// An Estimate is how long one operation takes. Minutes are of work, of all hands together, to 0.1.
type Estimate struct {
	Operation Operation
	Units     float64
	Basis     Basis
	Jobs      int // of the log that it rests on
	Expected  float64
	Low, High float64 // the interval that the next job falls into as often as asked
	SetUp     float64 // minutes before the first unit; 0 where none is known
	PerUnit   float64 // minutes, to 0.01
	Idle      bool    // nothing is done, and nothing waited for: there is nothing to make, or no such unit
	Beyond    bool    // the log has no job as small, or as large
	Outliers  []Outlier
	Notes     []string // what is taken for granted, in plain words

	mean, variance, df float64 // before rounding; df is infinite where a judgement or a guess gave the variance
}

// An Outlier is a logged job that took far longer or shorter than the others say.
type Outlier struct {
	Record
	Fitted      float64 // minutes that the line gives
	Studentised float64 // see Line.Studentised, to 0.01; may be infinite
}

// A Work is how long everything takes.
type Work struct {
	Operations []Estimate // in the order asked
	Expected   float64    // minutes of all hands together, to 0.1
	Low, High  float64
	Likelihood float64  // how often the intervals are to hold
	Missing    []string // operations that nothing is known of; the sum is without them
	Unused     []string // operations of the log that nobody asked for
	Notes      []string
}

// Of estimates the operations for a work with these counts from the log, with intervals that hold with
// the given likelihood, between 0 and 1. The operations have passed Check.
func Of(operations []Operation, counts Counts, log []Record, likelihood float64) (Work, error) {
	if !(likelihood >= MinLikelihood && likelihood <= MaxLikelihood) {
		return Work{}, wall.Problem{Field: "hours.likelihood", Wrong: fmt.Sprintf("%g %% is out of range", likelihood*100),
			Fix: fmt.Sprintf("write a number from %g to %g", MinLikelihood*100, MaxLikelihood*100)}
	}
	w := Work{Likelihood: likelihood}
	used, byName := map[string]bool{}, map[string][]Record{}
	for _, r := range log {
		byName[Same(r.Operation)] = append(byName[Same(r.Operation)], r)
	}
	for _, o := range Settled(operations) {
		used[Same(o.Name)] = true
		e := Estimate{Operation: o, Units: counts.Units(o), df: math.Inf(1)}
		e.Idle = counts.idle(o) || o.Per != None && e.Units == 0
		e.reckon(byName[Same(o.Name)], likelihood)
		w.Operations = append(w.Operations, e)
		if e.Basis == Unknown {
			w.Missing = append(w.Missing, o.Name)
		}
	}
	for _, r := range log {
		if !used[Same(r.Operation)] {
			used[Same(r.Operation)] = true
			w.Unused = append(w.Unused, r.Operation)
		}
	}
	w.sum()
	w.notes(len(log))
	return w, nil
}

// reckon finds the minutes of e from what the log has of the operation.
func (e *Estimate) reckon(records []Record, likelihood float64) {
	judged := e.Operation.Judged
	switch n := len(records); {
	case e.Idle && e.Operation.Per == None:
		e.Basis = Nothing
		e.say("it is not waited for, since nothing is to be made; write for: hanging where it is waited for all the same")
		return
	case e.Idle && e.Operation.Per == Job && e.Operation.For == Making:
		e.Basis = Nothing
		e.say("there is nothing to do, since nothing is to be made; write for: hanging where it is done all the same")
		return
	case e.Operation.Per == None:
		e.Basis = Nothing
		e.say("nobody works on it: it is only waited for")
		return
	case e.Idle && e.Operation.For == Making:
		e.Basis = Nothing
		e.say("there is nothing to do: none of what it is for is to be made")
		return
	case e.Idle:
		e.Basis = Nothing
		e.say("there is nothing to do: the work has no such units")
		return
	case n < 3 && judged != nil:
		e.judge(*judged, n)
	case n == 0:
		e.Basis = Unknown
		e.say("nothing is known of it: log a job, or give least, likely and most minutes; the sum is without it")
		return
	case n == 1:
		e.guess(records[0])
	default:
		e.fit(records)
	}
	e.interval(likelihood)
	e.beyond(records)
}

// judge takes the judgement for the rate, so that all units err alike.
func (e *Estimate) judge(j Judged, logged int) {
	e.Basis = Threefold
	e.mean = j.Mean() * e.Units
	e.variance = square(j.SD() * e.Units)
	e.PerUnit = cents(j.Mean())
	e.say("%s to %s minutes %s, likely %s, as judged",
		figure(j.Least), figure(j.Most), e.each(), figure(j.Likely))
	if logged > 0 {
		e.say("the log has no more than %s of it, so the judged figures stand", jobs(logged))
	}
}

// guess takes one job for the rate.
func (e *Estimate) guess(r Record) {
	e.Basis, e.Jobs = OneJob, 1
	rate := r.Minutes / r.Units
	e.mean = rate * e.Units
	e.variance = square(doubtOfOne * e.mean)
	e.PerUnit = cents(rate)
	e.say("guessed from one job, %s: as many minutes %s as there, without a set-up time, give or take half of them; the half is our own choice",
		quote.Text(r.Job), e.each())
}

// fit lays a line through two jobs or more.
func (e *Estimate) fit(records []Record) {
	units, minutes := make([]float64, len(records)), make([]float64, len(records))
	for i, r := range records {
		units[i], minutes[i] = r.Units, r.Minutes
	}
	e.Jobs = len(records)
	line, err := FitLine(units, minutes)
	why := ""
	switch {
	case e.Jobs == 2:
		e.Basis = TwoJobs
		why = "two jobs cannot tell a set-up time from how far jobs differ"
	case err != nil:
		e.Basis = Proportional
		why = "all logged jobs are of one size, which does not tell a set-up time"
	case cents(line.PerUnit) <= 0:
		e.Basis = Proportional
		why = "in the log more units do not take more minutes, so that a line would make no sense: look whether the log is right"
	case cents(line.SetUp) < 0:
		e.Basis = Proportional
		why = fmt.Sprintf("the line would need a set-up time of %s minutes, less than none", figure(line.SetUp))
	default:
		e.Basis = Fitted
	}
	if e.Basis != Fitted {
		line, _ = FitOrigin(units, minutes)
	}
	e.mean = line.At(e.Units)
	e.variance = square(line.PredictionError(e.Units))
	e.df = float64(line.DF)
	e.SetUp, e.PerUnit = cents(line.SetUp), cents(line.PerUnit)
	switch e.Basis {
	case Fitted:
		e.say("a straight line through %s of the log: %s minutes to set up and %s %s; jobs lie %s minutes off it (standard deviation), large ones taken to do so no more than small ones",
			jobs(e.Jobs), figure(line.SetUp), figure(line.PerUnit), e.each(), figure(line.Residual))
	case TwoJobs:
		e.say("from two jobs only: %s minutes %s and no set-up time, for %s; the interval is wide and at least that of a quarter more or less, which is our own choice",
			figure(line.PerUnit), e.each(), why)
		e.variance = math.Max(e.variance, square(doubtOfTwo*e.mean))
	default:
		e.say("%s minutes %s and no set-up time, from %s of the log, for %s", figure(line.PerUnit), e.each(), jobs(e.Jobs), why)
	}
	e.odd(line, records, units, minutes)
}

// odd names the jobs that lie too far off the line for chance: by more than 3 standard errors, and by
// more than the farthest of so many would in one log of twenty (Bonferroni's bound).
func (e *Estimate) odd(line Line, records []Record, units, minutes []float64) {
	if line.DF < 2 {
		return
	}
	bound := math.Max(3, Quantile(1-0.05/2/float64(len(records)), float64(line.DF-1)))
	for i, t := range line.Studentised(units, minutes) {
		if !(cents(math.Abs(t)) > cents(bound)) {
			continue
		}
		o := Outlier{Record: records[i], Fitted: tenths(line.At(units[i])), Studentised: cents(t)}
		e.Outliers = append(e.Outliers, o)
		e.say("%s, line %d of the log, stands out: %s minutes where the line gives %s. It is counted in; take it out of the log if it was no job like the others",
			quote.Text(o.Job), o.Line, figure(o.Minutes), figure(o.Fitted))
	}
}

// interval rounds the minutes and sets bounds that hold with the given likelihood.
func (e *Estimate) interval(likelihood float64) {
	reach := Quantile((1+likelihood)/2, e.df) * math.Sqrt(e.variance)
	low, high := e.mean-reach, e.mean+reach
	if j := e.Operation.Judged; e.Basis == Threefold {
		low, high = math.Max(low, j.Least*e.Units), math.Min(high, j.Most*e.Units)
	}
	e.Expected, e.Low, e.High = tenths(e.mean), math.Max(0, tenths(low)), tenths(high)
	if tenths(low) < 0 {
		e.say("the interval would reach below no time at all and ends there: so few or so different jobs say little")
	}
}

// beyond says where the estimate goes beyond what was logged.
func (e *Estimate) beyond(records []Record) {
	if e.Jobs == 0 {
		return
	}
	least, most := records[0], records[0]
	for _, r := range records {
		if r.Units < least.Units {
			least = r
		}
		if r.Units > most.Units {
			most = r
		}
	}
	e.Beyond = e.Units < least.Units || e.Units > most.Units
	switch {
	case e.Units > most.Units:
		e.say("%s is beyond the largest logged job, %s with %s: that it goes on in a straight line is taken for granted",
			figure(e.Units), quote.Text(most.Job), figure(most.Units))
	case e.Units < least.Units:
		e.say("%s is below the smallest logged job, %s with %s: that it goes on in a straight line is taken for granted",
			figure(e.Units), quote.Text(least.Job), figure(least.Units))
	}
}

// sum adds the operations up. Means and variances add; the sum's degrees of freedom are those of
// Welch and Satterthwaite, (Σv)²/Σ(v²/ν). Satterthwaite, An approximate distribution of estimates of
// variance components, Biometrics Bulletin 2, 1946 (from memory).
func (w *Work) sum() {
	var mean, variance, shares float64
	for _, e := range w.Operations {
		mean += e.mean
		variance += e.variance
		if !math.IsInf(e.df, 1) {
			shares += square(e.variance) / e.df
		}
	}
	df := math.Inf(1)
	if shares > 0 {
		df = variance * variance / shares
	}
	reach := 0.0
	if variance > 0 {
		reach = Quantile((1+w.Likelihood)/2, df) * math.Sqrt(variance)
	}
	w.Expected, w.Low, w.High = tenths(mean), math.Max(0, tenths(mean-reach)), tenths(mean+reach)
}

// AtMost returns minutes for each operation that add up to the upper end of the sum, to 0.1: each is late
// by the same part of what its own interval allows. A calendar made of them says when the work is done if
// it comes to that.
func (w Work) AtMost() []float64 {
	var reach float64
	for _, e := range w.Operations {
		reach += e.High - e.Expected
	}
	part := 0.0
	if reach > 0 {
		part = (w.High - w.Expected) / reach
	}
	out := make([]float64, len(w.Operations))
	for i, e := range w.Operations {
		out[i] = tenths(e.Expected + float64(part*(e.High-e.Expected)))
	}
	return out
}

func square(v float64) float64 { return v * v }
func tenths(v float64) float64 { return math.Round(v*tenth)/tenth + 0 }
func cents(v float64) float64  { return math.Round(v*100)/100 + 0 }
