package view

import (
	"fmt"
	"net/http"
	"strconv"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/cmd/wallshoal/knob"
)

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
	_, status := s.easel.Now()
	answer(w, http.StatusOK, map[string]any{"revision": tried.Revision, "state": s.stateOf(tried, status), "figures": f, "adopt": q.Get("option") == ""})
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
