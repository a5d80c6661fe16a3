package view

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/cmd/wallshoal/progress"
	"wallshoal/export/stand"
)

// A deed is what was done at the wall: pieces that went up or came down, or work at a stand that was begun, paused, ended, or took
// other minutes than were timed.
type deed struct {
	Do      string   `json:"do"`
	Pieces  []int    `json:"pieces"`
	Marks   []string `json:"marks"` // of the holes of pieces that hang by an earlier layout and were taken down
	Stand   int      `json:"stand"`
	Hands   int      `json:"hands"`   // of those who begin; one if there is none
	Minutes float64  `json:"minutes"` // of all hands together, for what is corrected
}

// mostMinutes is the longest that a stand can have taken: a week of one who never sleeps.
const mostMinutes = 10_000

// progress keeps that pieces went up or came down, or that somebody began or ended at a stand.
func (s *server) progress(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		deed
		// What a phone kept while nobody answered comes late, and may be of another layout than the one shown now.
		Layout string  `json:"layout"` // its fingerprint; the one shown now if empty
		Ago    float64 `json:"ago"`    // how long since it was done, in seconds
	}
	if !read(w, r, &asked) || !few(w, len(asked.Pieces)+len(asked.Marks), mostHanded) {
		return
	}
	log, err := s.installing(r.Context())
	if err != nil {
		unkept(w, err)
		return
	}
	shown, _ := s.easel.Now()
	if asked.Layout != "" && asked.Layout != shown.Work.Map.Fingerprint {
		answer(w, http.StatusConflict, trouble{
			Error: "this is of another layout than the one shown now", Fix: "show that layout again, or tick it in the list of this one", Layout: true,
		})
		return
	}
	if err := s.kept(s.o.Now().Add(-late(asked.Ago)), shown, log, asked.deed); err != nil {
		if asked.Do == "up" || asked.Do == "down" || asked.Do == "left" {
			unkept(w, err)
		} else {
			fail(w, err)
		}
		return
	}
	s.crier.cry("event: progress\ndata: {}\n\n")
	s.stands(w, r)
}

// unkept tells that a tick could not be kept. Where that is none of its own fault, the page is to keep it and ask again.
func unkept(w http.ResponseWriter, err error) {
	if errors.Is(err, errNothing) {
		fail(w, err)
		return
	}
	wrong, fix, _ := strings.Cut(err.Error(), "; ")
	refuse(w, http.StatusServiceUnavailable, wrong, fix)
}

// errNothing says that a tick is of nothing that there is.
var errNothing = errors.New("there is no piece")

// latest is how late what a phone kept may come; what claims to be older is taken to be of then.
const latest = 30 * 24 * time.Hour

// late returns how late something comes that was done so many seconds ago by the clock of a phone.
func late(ago float64) time.Duration {
	if !(ago > 0) {
		return 0
	}
	return time.Duration(min(ago, latest.Seconds()) * float64(time.Second))
}

// kept keeps something that was done at a time.
func (s *server) kept(now time.Time, shown *easel.Shown, log *progress.Log, d deed) error {
	print := shown.Work.Map.Fingerprint
	switch d.Do {
	case "up", "down":
		all := progress.Pieces(shown.Work)
		var pieces []progress.Piece
		for _, id := range d.Pieces {
			i := slices.IndexFunc(all, func(p progress.Piece) bool { return p.Number == id })
			if i < 0 {
				return fmt.Errorf("%w %d", errNothing, id)
			}
			pieces = append(pieces, all[i])
		}
		if d.Do == "up" {
			return log.Up(now, print, pieces...)
		}
		return log.Down(now, print, pieces...)
	case "left":
		return log.Leave(now, print, d.Marks...)
	case "begin", "pause", "end", "correct":
		planned, err := stand.Plan(shown.Work, shown.Job.Plan.Install.Reach)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(planned, func(p stand.Stand) bool { return p.Number == d.Stand })
		switch {
		case i < 0:
			return fmt.Errorf("there is no stand %d", d.Stand)
		case d.Do == "begin":
			return log.Begin(now, print, d.Stand, max(d.Hands, 1))
		case d.Do == "pause":
			return log.Pause(now, print, d.Stand)
		case d.Do == "end":
			return log.End(now, print, d.Stand, len(planned[i].Pieces), planned[i].Holes)
		case !(d.Minutes > 0 && d.Minutes <= mostMinutes):
			return fmt.Errorf("a stand takes more than 0 and at most %d minutes, not %g", mostMinutes, d.Minutes)
		}
		return log.Correct(now, print, d.Stand, d.Minutes)
	}
	return fmt.Errorf("%q is nothing that is kept", d.Do)
}
