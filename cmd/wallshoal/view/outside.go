package view

import (
	"errors"
	"fmt"
	"net/http"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/wall"
)

// A difference is what was changed here and by another program, for somebody to decide.
type difference struct {
	Files  []string `json:"files"` // that another program changed; none if it changed nothing
	How    string   `json:"how"`   // the first of them, as in the state
	Faults []fault  `json:"faults"`
	Here   changes  `json:"here"`
	There  changes  `json:"there"`
	Lost   []string `json:"lost"` // lines of the plan that saving over it takes away
	Both   bool     `json:"both"` // can be kept
	Why    string   `json:"why"`  // not
	Seen   string   `json:"seen"` // what saving over it is given, to write over just this
}

// changes are the knobs that were turned, in words, how many lines are otherwise besides, and which pieces lie otherwise.
type changes struct {
	Knobs  []string `json:"knobs"`
	Lines  int      `json:"lines"`
	Pieces []int    `json:"pieces"`
}

func changesOf(c easel.Changes) changes {
	out := changes{Knobs: []string{}, Lines: c.Lines, Pieces: append([]int{}, c.Pieces...)}
	for _, t := range c.Turns {
		out.Knobs = append(out.Knobs, t.String())
	}
	return out
}

// difference says how the files differ from what is shown, and what can be done about it.
func (s *server) difference(w http.ResponseWriter, r *http.Request) {
	d, err := s.easel.Difference(r.Context())
	if err == nil && (d.Outside == easel.Faulty || d.Outside == easel.Gone) && pause(r.Context(), glance) { // or half written
		d, err = s.easel.Difference(r.Context())
	}
	if err != nil {
		fail(w, err)
		return
	}
	out := difference{
		Files: append([]string{}, d.Files...), How: string(d.Outside), Faults: faultsOf(d.Faults), Here: changesOf(d.Here), There: changesOf(d.There),
		Lost: append([]string{}, d.Lost...), Both: d.Outside == easel.Changed && d.Both == nil, Seen: d.Seen,
	}
	if d.Both != nil {
		out.Why = hindrance(d.Both)
	}
	answer(w, http.StatusOK, out)
}

// hindrance says in one line what is in the way.
func hindrance(err error) string {
	var faults yamlfile.Faults
	var problem wall.Problem
	switch {
	case errors.As(err, &faults):
		return fmt.Sprintf("together they have a fault: %s %s", faults[0].Field, faults[0].Wrong)
	case errors.As(err, &problem):
		return fmt.Sprintf("%s %s", problem.Field, problem.Wrong)
	}
	return err.Error()
}

// settle ends such a difference: by what the files hold, or by that with what was changed here.
func (s *server) settle(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Take string `json:"take"`
	}
	if !read(w, r, &asked) {
		return
	}
	switch asked.Take {
	case "theirs":
		s.done(w, r, s.easel.TakeTheirs(r.Context()))
	case "both":
		s.done(w, r, s.easel.KeepBoth(r.Context()))
	default:
		refuse(w, http.StatusBadRequest, fmt.Sprintf("%q is nothing to take", asked.Take), "write theirs or both")
	}
}
