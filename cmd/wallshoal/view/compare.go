package view

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/cmd/wallshoal/hanging"
	"wallshoal/cmd/wallshoal/knob"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// A compared is what another seed, or an option, comes to beside what is shown.
type compared struct {
	Revision int      `json:"revision"`
	State    state    `json:"state"`
	Figures  *figures `json:"figures"`
	Refused  string   `json:"refused"` // why it cannot be taken; empty where it can
	Note     string   `json:"note"`    // what taking it does besides
}

// compare shows what another seed, or an option of the plan, comes to, beside what is shown.
func (s *server) compare(w http.ResponseWriter, r *http.Request) {
	q := r.URL.Query()
	tried, err := s.other(r, q.Get("seed"), q.Get("option"))
	if err != nil {
		fail(w, err)
		return
	}
	d := s.keep(tried)
	f, err := s.count(r.Context(), d)
	if err != nil {
		fail(w, err)
		return
	}
	now, status := s.easel.Now()
	c := compared{Revision: tried.Revision, State: s.stateOf(tried, apart(status)), Figures: f}
	if q.Get("option") != "" {
		c.Note = taking(q.Get("option"), now)
	}
	if refused := tried.Trial.Refused; refused != nil {
		c.Refused, c.Note = inWords(refused), ""
	}
	answer(w, http.StatusOK, c)
}

// apart returns a status for what is not shown: what hangs of it is not told there.
func apart(status easel.Status) easel.Status {
	status.Hanging = hanging.Hanging{}
	return status
}

func (s *server) other(r *http.Request, seed, option string) (*easel.Shown, error) {
	if option != "" {
		return s.easel.Option(r.Context(), option)
	}
	if _, err := strconv.ParseUint(seed, 10, 64); err != nil {
		return nil, fmt.Errorf("%q is no seed; write a whole number", seed)
	}
	return s.easel.Try(r.Context(), s.setting([]knob.Setting{{Knob: "seed", Value: seed}}))
}

// taking says what taking an option does.
func taking(name string, now *easel.Shown) string {
	said := []string{fmt.Sprintf("Taking it writes into the plan what the option %q says, in place of what stands there. The option stays in the list, where it changes nothing any more.", name)}
	if others := len(now.Job.Plan.Options) - 1; others > 0 {
		said = append(said, "The other options then build on this one, and so come to another work: what they do not name is as it is here.")
	}
	if slices.ContainsFunc(now.Work.Layout.Pieces, func(p scatter.Piece) bool { return p.Locked }) {
		said = append(said, "It is laid anew, and keeps none of the pieces that are locked now, but all that hang.")
	}
	return strings.Join(append(said, "One Undo brings all back."), " ")
}

// inWords returns an error as a sentence of the page.
func inWords(err error) string {
	var p wall.Problem
	if errors.As(err, &p) {
		return p.Wrong + "; " + p.Fix
	}
	return err.Error()
}

// adopt makes what was compared the work that is shown.
func (s *server) adopt(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Revision int `json:"revision"`
	}
	if !read(w, r, &asked) {
		return
	}
	if d, ok := s.revision(w, strconv.Itoa(asked.Revision)); ok {
		s.done(w, r, s.easel.Take(d.shown))
	}
}
