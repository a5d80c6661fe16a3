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
		Down    bool       `json:"down"` // what hangs may be taken down for it
	}
	if !read(w, r, &asked) || !few(w, len(asked.Changes), mostHanded) || !short(w, asked.Gesture) {
		return
	}
	if asked.Rest != "flow" && asked.Rest != "stay" && asked.Rest != "" {
		refuse(w, http.StatusBadRequest, fmt.Sprintf("%q is nothing that the rest does", asked.Rest), "write stay or flow")
		return
	}
	moves := movesOf(asked.Changes)
	for i := range moves {
		moves[i].Down = asked.Down
	}
	s.done(w, r, s.easel.Hand(r.Context(), asked.Gesture, moves, asked.Rest == "flow"))
}

func movesOf(asked []handling) []easel.Move {
	moves := make([]easel.Move, len(asked))
	for i, h := range asked {
		moves[i] = h.move()
	}
	return moves
}

// A judged is what would be said of pieces that are moved.
type judged struct {
	Flaws    []flawFound `json:"flaws"`
	Cautions []warned    `json:"cautions"`
	Rid      []warned    `json:"rid"`  // that they have where they are now, and would not have there
	Past     int         `json:"past"` // of so many more pieces no cautions are told
}

// A warned is a caution that speaks of a piece.
type warned struct {
	Piece    int    `json:"piece"`
	Severity string `json:"severity"`
	Code     string `json:"code"`
	Heading  string `json:"heading"` // in a few words
	Text     string `json:"text"`
	New      bool   `json:"new"`     // the piece does not have it where it is now
	Decided  bool   `json:"decided"` // somebody has acknowledged it
}

func warnedOf(said []easel.Said) []warned {
	all := make([]warned, len(said))
	for i, s := range said {
		all[i] = warned{s.Piece, s.Severity, s.Code, s.Heading, s.Text, s.New, s.Acknowledged != nil}
	}
	return all
}

// try says what pieces would collide with, and which cautions would speak of them: those that are put elsewhere,
// are added where they have no number, or stay where they are if no more than their number is given.
func (s *server) try(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Changes []handling `json:"changes"`
	}
	if !read(w, r, &asked) || !few(w, len(asked.Changes), mostHanded) {
		return
	}
	for i, c := range asked.Changes {
		asked.Changes[i].Do = string(easel.Place)
		if c.ID == 0 {
			asked.Changes[i].Do = string(easel.Add)
		}
	}
	j, err := s.easel.Judge(movesOf(asked.Changes))
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, http.StatusOK, judged{flawsOf(j.Flaws), warnedOf(j.Cautions), warnedOf(j.Rid), j.Past})
}

// walk goes so many steps back or forth.
func (s *server) walk(by int) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var asked struct {
			Down bool `json:"down"` // what hangs may be taken down for it
		}
		if read(w, r, &asked) {
			s.done(w, r, s.easel.Walk(by, asked.Down))
		}
	}
}

// mend puts right what is not as the plan asks with few pieces moved.
func (s *server) mend(w http.ResponseWriter, r *http.Request) {
	if read(w, r, &struct{}{}) {
		s.done(w, r, s.easel.Mend(r.Context()))
	}
}

// save writes the files; over those that another program changed where it is said what they hold, as it was seen in a difference.
func (s *server) save(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Over string `json:"over"`
	}
	if read(w, r, &asked) {
		// Once begun it is finished, whether or not the page waits for it.
		s.done(w, r, s.easel.Save(context.WithoutCancel(r.Context()), asked.Over))
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
