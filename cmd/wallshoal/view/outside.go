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
	File   string  `json:"file"` // that another program changed; empty if none
	How    string  `json:"how"`  // as in the state; empty where it is the layout's file
	Faults []fault `json:"faults"`
	Here   changes `json:"here"`
	There  changes `json:"there"`
	Both   bool    `json:"both"` // can be kept
	Why    string  `json:"why"`  // not
}

// changes are the knobs that were turned, in words, and how many lines are otherwise besides.
type changes struct {
	Knobs []string `json:"knobs"`
	Lines int      `json:"lines"`
}

func changesOf(c easel.Changes) changes {
	out := changes{Knobs: []string{}, Lines: c.Lines}
	for _, t := range c.Turns {
		out.Knobs = append(out.Knobs, t.String())
	}
	return out
}

// difference says how the plan's file differs from what is shown, and what can be done about it.
func (s *server) difference(w http.ResponseWriter, r *http.Request) {
	d, err := s.easel.Difference(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	out := difference{
		File: d.File, How: string(d.Outside), Faults: faultsOf(d.Faults), Here: changesOf(d.Here), There: changesOf(d.There),
		Both: d.Outside == easel.Changed && d.Both == nil,
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

// settle ends such a difference: by what the file holds, or by that with what was changed here.
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
