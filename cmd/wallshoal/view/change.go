package view

import (
	"context"
	"fmt"
	"net/http"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/cmd/wallshoal/knob"
	"wallshoal/scatter/heading"
	"wallshoal/wall/plane"
)

// Limits of one request.
const (
	mostSet     = 50
	mostHanded  = 5000
	longestName = 100 // of a gesture
)

// turn sets knobs.
func (s *server) turn(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Gesture string `json:"gesture"`
		Set     []struct {
			Knob  string `json:"knob"`
			Value string `json:"value"`
		} `json:"set"`
	}
	if !read(w, r, &asked) || !few(w, len(asked.Set), mostSet) || !short(w, asked.Gesture) {
		return
	}
	settings := make([]knob.Setting, len(asked.Set))
	for i, set := range asked.Set {
		settings[i] = knob.Setting{Knob: set.Knob, Value: set.Value}
	}
	s.done(w, r, s.easel.Change(r.Context(), asked.Gesture, s.setting(settings)))
}

// setting returns what changes the text of the plan that is shown so that knobs have other values.
func (s *server) setting(settings []knob.Setting) easel.Edit {
	return func(shown *easel.Shown) ([]byte, error) { return knob.Change(shown.Job, shown.Text, settings) }
}

// A handling is one change of a piece as the page asks for it.
type handling struct {
	Do      string   `json:"do"`
	ID      int      `json:"id"`
	With    int      `json:"with"`
	Face    *int     `json:"face"`
	At      *point   `json:"at"`
	Heading *float64 `json:"heading"`
	Kind    *int     `json:"kind"`
}

func (h handling) move() easel.Move {
	m := easel.Move{Do: easel.Deed(h.Do), ID: h.ID, With: h.With, Face: h.Face, Kind: h.Kind}
	if h.At != nil {
		m.At = &plane.Point{X: h.At[0], Y: h.At[1]}
	}
	if h.Heading != nil {
		m.Heading = new(heading.Bearing(*h.Heading))
	}
	return m
}

// hand changes pieces by hand.
func (s *server) hand(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Gesture string     `json:"gesture"`
		Rest    string     `json:"rest"`
		Changes []handling `json:"changes"`
	}
	if !read(w, r, &asked) || !few(w, len(asked.Changes), mostHanded) || !short(w, asked.Gesture) {
		return
	}
	if asked.Rest != "flow" && asked.Rest != "stay" && asked.Rest != "" {
		refuse(w, http.StatusBadRequest, fmt.Sprintf("%q is nothing that the rest does", asked.Rest), "write stay or flow")
		return
	}
	moves := make([]easel.Move, len(asked.Changes))
	for i, c := range asked.Changes {
		moves[i] = c.move()
	}
	s.done(w, r, s.easel.Hand(r.Context(), asked.Gesture, moves, asked.Rest == "flow"))
}

// try says what a piece would collide with.
func (s *server) try(w http.ResponseWriter, r *http.Request) {
	var asked handling
	if !read(w, r, &asked) {
		return
	}
	m := asked.move()
	m.Do = easel.Place
	if m.ID == 0 {
		m.Do = easel.Add
	}
	found, err := s.easel.Judge(m)
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, http.StatusOK, map[string]any{"flaws": flawsOf(found)})
}

func (s *server) walk(step func(*easel.Easel) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if read(w, r, &struct{}{}) {
			s.done(w, r, step(s.easel))
		}
	}
}

func (s *server) save(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Over bool `json:"over"`
	}
	if read(w, r, &asked) {
		// Once begun it is finished, whether or not the page waits for it.
		s.done(w, r, s.easel.Save(context.WithoutCancel(r.Context()), asked.Over))
	}
}

func (s *server) settle(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Take bool `json:"take"`
	}
	if read(w, r, &asked) {
		s.done(w, r, s.easel.Settle(r.Context(), asked.Take))
	}
}

// few refuses a request that asks for too much at once.
func few(w http.ResponseWriter, n, most int) bool {
	if n > most {
		refuse(w, http.StatusBadRequest, fmt.Sprintf("there are %d changes at once; at most %d", n, most), "make fewer")
	}
	return n <= most
}

func short(w http.ResponseWriter, gesture string) bool {
	if len(gesture) > longestName {
		refuse(w, http.StatusBadRequest, "the name of the gesture is too long", "")
	}
	return len(gesture) <= longestName
}
