package view

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/wall"
)

// A trouble is what the page is told when something cannot be done.
type trouble struct {
	Error   string  `json:"error"`
	Fix     string  `json:"fix,omitempty"`
	Faults  []fault `json:"faults,omitempty"`
	Outside bool    `json:"outside,omitempty"`
	Holes   bool    `json:"holes,omitempty"`  // holes fall where none may be drilled
	Layout  bool    `json:"layout,omitempty"` // what was done is of another layout
	Hangs   bool    `json:"hangs,omitempty"`  // it would take pieces down that hang
}

// A fault is one of a plan or a layout.
type fault struct {
	File  string `json:"file"`
	Line  int    `json:"line"`
	Field string `json:"field"`
	Wrong string `json:"wrong"`
	Fix   string `json:"fix"`
}

func faultsOf(fs yamlfile.Faults) []fault {
	all := make([]fault, len(fs))
	for i, f := range fs {
		all[i] = fault{f.File, f.Line, f.Field, f.Wrong, f.Fix}
	}
	return all
}

func answer(w http.ResponseWriter, status int, v any) {
	text, err := json.Marshal(v)
	if err != nil {
		status, text = http.StatusInternalServerError, []byte(`{"error":"the answer cannot be written"}`)
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	_, _ = w.Write(append(text, '\n')) // whoever asked may be gone
}

func refuse(w http.ResponseWriter, status int, wrong, fix string) {
	answer(w, status, trouble{Error: wrong, Fix: fix})
}

// fail tells what went wrong.
func fail(w http.ResponseWriter, err error) {
	var faults yamlfile.Faults
	var problem wall.Problem
	var hangs *easel.HangsError
	switch {
	case errors.As(err, &hangs):
		answer(w, http.StatusConflict, trouble{Error: hangs.Error(), Hangs: true})
	case errors.As(err, &faults):
		answer(w, http.StatusUnprocessableEntity, trouble{Error: faults[0].Wrong, Fix: faults[0].Fix, Faults: faultsOf(faults)})
	case errors.As(err, &problem):
		answer(w, http.StatusUnprocessableEntity, trouble{Error: problem.Wrong, Fix: problem.Fix, Faults: []fault{{Field: problem.Field, Wrong: problem.Wrong, Fix: problem.Fix}}})
	case errors.Is(err, easel.ErrOvertaken):
		refuse(w, http.StatusConflict, err.Error(), "")
	case errors.Is(err, easel.ErrOutside):
		answer(w, http.StatusConflict, trouble{Error: err.Error(), Outside: true})
	case errors.Is(err, context.Canceled):
		refuse(w, http.StatusServiceUnavailable, "interrupted; nothing was changed", "")
	default:
		wrong, fix, _ := strings.Cut(err.Error(), "; ")
		refuse(w, http.StatusUnprocessableEntity, wrong, fix)
	}
}

// read reads the body of a request into v, and answers where it cannot.
func read(w http.ResponseWriter, r *http.Request, v any) bool {
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	err := d.Decode(v)
	if err == nil {
		if _, more := d.Token(); !errors.Is(more, io.EOF) {
			err = errors.New("there is more after it")
		}
	}
	var large *http.MaxBytesError
	switch {
	case err == nil:
		return true
	case errors.As(err, &large):
		refuse(w, http.StatusRequestEntityTooLarge, fmt.Sprintf("the request is longer than %d bytes", large.Limit), "")
	default:
		refuse(w, http.StatusBadRequest, "the request cannot be read: "+err.Error(), "load the page again")
	}
	return false
}
