package hours

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/number"
)

// say adds a note.
func (e *Estimate) say(format string, args ...any) {
	e.Notes = append(e.Notes, fmt.Sprintf(format, args...))
}

// each names one unit of the operation, as in "3 minutes a piece".
func (e *Estimate) each() string {
	if b := e.Operation.Batch; b > 1 {
		return fmt.Sprintf("a batch of %d %ss", b, e.Operation.Per)
	}
	return "a " + string(e.Operation.Per)
}

// jobs counts jobs in words.
func jobs(n int) string {
	if n == 1 {
		return "one job"
	}
	return fmt.Sprintf("%d jobs", n)
}

// Clock returns minutes as people say them, like "7 h 20 min", to the minute.
func Clock(minutes float64) string {
	m := int64(minutes + 0.5)
	switch {
	case m < 60:
		return fmt.Sprintf("%d min", m)
	case m%60 == 0:
		return number.Whole(int(m/60)) + " h"
	}
	return fmt.Sprintf("%s h %d min", number.Whole(int(m/60)), m%60)
}

// notes says what the sum takes for granted.
func (w *Work) notes(logged int) {
	add := func(format string, args ...any) { w.Notes = append(w.Notes, fmt.Sprintf(format, args...)) }
	add("minutes are of work, of all hands together; breaks, travel and waiting are not in them")
	add("the intervals are meant to hold %s times in a hundred; one job in %s takes longer than their upper end",
		figure(w.Likelihood*100), figure(2/(1-w.Likelihood)))
	if len(w.Operations) > 1 {
		add("the interval of the sum takes operations to run late each for its own reasons; what makes all of them slow at once makes it wider")
	}
	if slices.ContainsFunc(w.Operations, func(e Estimate) bool { return e.Basis == Threefold }) {
		add("what is judged is expected to take (least + 4 × likely + most)/6, with a spread of (most - least)/6, all units erring alike")
	}
	for _, e := range w.Operations {
		if e.Jobs > 0 && logged > 0 {
			add("the next job is taken to be like the logged ones, done by the same people in the same way")
			break
		}
	}
	if len(w.Missing) > 0 {
		add("the sum is without %s, of which nothing is known", strings.Join(w.Missing, ", "))
	}
	if len(w.Unused) > 0 {
		add("the log also has %s, which nobody asked for: look whether a name is misspelt", strings.Join(w.Unused, ", "))
	}
}
