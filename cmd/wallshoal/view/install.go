package view

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"time"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/cmd/wallshoal/hanging"
	"wallshoal/cmd/wallshoal/progress"
	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/export/making"
	"wallshoal/export/orderpage"
	"wallshoal/export/sheet"
	"wallshoal/export/stand"
	"wallshoal/scatter"
	"wallshoal/wall/measure"
)

// What the hours of hanging are kept as, where the plan has no log of its own.
const (
	hoursFile = "jobs.csv"
	operation = "drill and hang"
)

// standsState is how far the hanging is.
type standsState struct {
	Fingerprint string       `json:"fingerprint"`
	File        string       `json:"file"`
	Hanging     int          `json:"hanging"`
	Pieces      int          `json:"pieces"`
	Others      []string     `json:"others"` // fingerprints of other layouts by which something was hung
	Rehang      []int        `json:"rehang"` // pieces in whose holes something else hangs
	Moved       string       `json:"moved"`  // which pieces hang by an earlier layout and have other holes now, and what that means
	Astray      []astray     `json:"astray"` // each of them
	Left        string       `json:"left"`   // what holes are left of those that were taken down
	Damaged     int          `json:"damaged"`
	Warnings    []warning    `json:"warnings"` // each once: many holes share few
	Stands      []standState `json:"stands"`
}

// An astray is a piece that hangs where the layout has no such holes.
type astray struct {
	ID    int    `json:"id"`
	Code  string `json:"code"`
	Where string `json:"where"` // empty where nobody can say
	Holes string `json:"holes"` // their mark
}

func astrayOf(work holemap.Work, m hanging.Moved) astray {
	a := astray{ID: m.Number, Code: m.Kind, Holes: m.Tick.Holes}
	if len(m.Drilled) > 0 {
		show := func(mm float64) string { return measure.Format(mm, work.Units) }
		a.Where = fmt.Sprintf("%s, %s from the left end, %s up", work.Site.Title(m.Drilled[0].Face), show(m.Drilled[0].At.X), show(m.Drilled[0].At.Y))
	}
	return a
}

type standState struct {
	Number  int          `json:"number"`
	Title   string       `json:"title"`
	Access  string       `json:"access"`
	Low     string       `json:"low"`
	High    string       `json:"high"`
	Minutes float64      `json:"minutes"`
	Begun   string       `json:"begun"`
	Done    bool         `json:"done"`
	Carry   []string     `json:"carry"`
	Wall    []int        `json:"wall"` // indexes of the warnings that hold for all of its wall
	Pieces  []pieceState `json:"pieces"`
}

type pieceState struct {
	ID      int         `json:"id"`
	Code    string      `json:"code"`
	Kind    string      `json:"kind"`
	Up      bool        `json:"up"`
	Heading float64     `json:"heading"`
	Holes   []holeState `json:"holes"`
}

type holeState struct {
	Number    int    `json:"number"`
	Left      string `json:"left"` // what fromLeft is measured from
	FromLeft  string `json:"fromLeft"`
	FromDatum string `json:"fromDatum"`
	Foot      string `json:"foot"` // what up is measured from
	Up        string `json:"up"`
	Floor     string `json:"aboveFloor"`
	Bit       string `json:"bit"`
	Depth     string `json:"depth"`
	Fixing    string `json:"fixing"`
	Cautions  []int  `json:"cautions"` // indexes of warnings, the gravest first
}

// progressPath returns where it is kept how far the hanging is: beside the plan.
func (s *server) progressPath() string {
	planFile, _ := s.easel.Paths()
	return easel.ProgressBeside(planFile)
}

// installing returns the progress file, which is opened when it is first needed.
func (s *server) installing(ctx context.Context) (*progress.Log, error) {
	s.hanging.Lock()
	defer s.hanging.Unlock()
	if s.progressLog != nil {
		return s.progressLog, nil
	}
	log, err := progress.Open(ctx, s.progressPath())
	if err == nil {
		s.progressLog = log
	}
	return log, err
}

// closeProgress closes the progress file, if it was opened.
func (s *server) closeProgress() error {
	s.hanging.Lock()
	defer s.hanging.Unlock()
	if s.progressLog == nil {
		return nil
	}
	return s.progressLog.Close()
}

// stands answers with the order of work and what of it is done. A look makes no file.
func (s *server) stands(w http.ResponseWriter, r *http.Request) {
	var record progress.Record
	if _, err := os.Lstat(s.progressPath()); !errors.Is(err, os.ErrNotExist) {
		log, err := s.installing(r.Context())
		if err != nil {
			fail(w, err)
			return
		}
		record = log.Record()
	}
	shown, _ := s.easel.Now()
	st, err := s.standing(shown, record)
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, http.StatusOK, st)
}

func (s *server) standing(shown *easel.Shown, record progress.Record) (standsState, error) {
	work := shown.Work
	planned, err := s.keep(shown).order()
	if err != nil {
		return standsState{}, err
	}
	standing := record.Against(work.Map.Fingerprint, progress.Pieces(work))
	st := standsState{
		Fingerprint: work.Map.Fingerprint, File: filepath.Base(s.progressPath()), Hanging: len(standing.Hanging), Pieces: len(work.Layout.Pieces),
		Others: append([]string{}, standing.Others...), Rehang: []int{}, Astray: []astray{}, Damaged: record.Lost, Warnings: planned.Warnings, Stands: []standState{},
	}
	hung := hanging.Of(work, record)
	st.Moved, st.Left = hanging.Tell(hung.Moved), hanging.TellLeft(hung.Left)
	for _, m := range hung.Moved {
		st.Astray = append(st.Astray, astrayOf(work, m))
	}
	for _, again := range standing.Rehang {
		st.Rehang = append(st.Rehang, again.Number)
	}
	up := map[int]bool{}
	for _, id := range standing.Hanging {
		up[id] = true
	}
	for _, one := range planned.Stands {
		one.Pieces = slices.Clone(one.Pieces)
		for i := range one.Pieces {
			one.Pieces[i].Up = up[one.Pieces[i].ID]
		}
		for _, done := range record.Stands {
			if done.Layout == work.Map.Fingerprint && done.Number == one.Number {
				one.Minutes, one.Done = done.Minutes(), done.Done
				if done.Hands > 0 {
					one.Begun = done.Begun.Format(time.RFC3339)
				}
			}
		}
		st.Stands = append(st.Stands, one)
	}
	return st, nil
}

// order returns the order of work of a revision as it is before anything is done; it is worked out once.
func (d *drawn) order() (*standsState, error) {
	d.ordering.Lock()
	defer d.ordering.Unlock()
	if d.ordered != nil {
		return d.ordered, nil
	}
	st, err := orderOf(d.shown)
	if err == nil {
		d.ordered = st
	}
	return st, err
}

// orderOf works out the stands of a work and its warnings.
func orderOf(shown *easel.Shown) (*standsState, error) {
	work := shown.Work
	planned, err := stand.Plan(work, shown.Job.Plan.Install.Reach)
	if err != nil {
		return nil, err
	}
	holes := map[int][]holemap.Hole{}
	for _, h := range work.Map.Holes {
		holes[h.Piece] = append(holes[h.Piece], h)
	}
	pieces := map[int]scatter.Piece{}
	for _, p := range work.Layout.Pieces {
		pieces[p.ID] = p
	}
	st := &standsState{Warnings: []warning{}}
	from := map[int]ends{} // by face
	for _, p := range planned {
		if _, known := from[p.Face]; !known {
			var e ends
			if e.left, e.foot, err = sheet.SetOutFrom(work, p.Face); err != nil {
				return nil, err
			}
			from[p.Face] = e
		}
		one := standState{
			Number: p.Number, Title: work.Site.Title(p.Face), Access: string(p.Access),
			Low: measure.Format(p.Low, work.Units), High: measure.Format(p.High, work.Units), Carry: []string{}, Pieces: []pieceState{},
			Wall: st.warn(ofWall(work, p.Face)),
		}
		for _, c := range p.Carry {
			one.Carry = append(one.Carry, fmt.Sprintf("%d × %s %s", c.Pieces, work.Kinds[c.Kind].Code, work.Kinds[c.Kind].Name))
		}
		for _, id := range p.Pieces {
			kind := work.Kinds[pieces[id].Kind]
			ps := pieceState{ID: id, Code: kind.Code, Kind: kind.Name, Heading: float64(pieces[id].Heading), Holes: []holeState{}}
			for _, h := range holes[id] {
				hole := holeOf(work, h, from[h.Face])
				hole.Cautions = st.warn(orderpage.Cautions(work, h))
				ps.Holes = append(ps.Holes, hole)
			}
			one.Pieces = append(one.Pieces, ps)
		}
		st.Stands = append(st.Stands, one)
	}
	return st, nil
}

// ends are what places on a face are measured from, in the words of the sheets.
type ends struct{ left, foot string }

// holeOf returns how a hole is set out, in the words of the sheets: on an upright face from its left end, the
// datum and the floor, on any other from two of its edges.
func holeOf(work holemap.Work, h holemap.Hole, from ends) holeState {
	show := func(mm float64) string { return measure.Format(mm, work.Units) }
	set := holeState{
		Left: from.left, Foot: from.foot, Number: h.Number, FromLeft: show(h.At.X), Up: show(h.At.Y),
		Bit: measure.Precise(h.Bit, work.Units), Depth: measure.Precise(h.Depth, work.Units), Fixing: h.Fixing,
	}
	if face := work.Site.Faces[h.Face]; holemap.Upright(face) {
		set.FromDatum = show(h.FromDatum)
		set.Floor = show(face.Frame.At(h.At).Z - work.Site.FloorBelow(h.Face, h.At))
	}
	return set
}

// log adds what the finished stands took to the log of hours.
func (s *server) log(w http.ResponseWriter, r *http.Request) {
	if !read(w, r, &struct{}{}) {
		return
	}
	log, err := s.installing(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	shown, _ := s.easel.Now()
	rows, notes, err := log.Record().Hours(shown.Work.Title, operation, hours.Piece, false)
	if err != nil {
		fail(w, err)
		return
	}
	name := hoursFile
	if h := shown.Job.Plan.Hours; h != nil && h.Log != "" {
		name = h.Log
	}
	path := filepath.Join(s.easel.Folder(), filepath.FromSlash(name))
	if !filepath.IsLocal(name) {
		fail(w, fmt.Errorf("%q leads out of the folder of the plan", name))
		return
	}
	if h := shown.Job.Plan.Hours; len(rows) > 0 && (h == nil || !slices.ContainsFunc(h.Operations, func(o making.Operation) bool { return o.Name == operation })) {
		notes = append(notes, fmt.Sprintf("the plan has no operation %q: put one under hours: operations: in place of those that it stands for, with log: %s, for the minutes to count", operation, name))
	}
	added := 0
	if len(rows) > 0 {
		seen, err := os.ReadFile(path)
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			fail(w, err)
			return
		}
		after, err := progress.AddHours(seen, rows)
		if err == nil {
			err = progress.WriteHours(r.Context(), path, seen, rows)
		}
		if err != nil {
			fail(w, err)
			return
		}
		if !bytes.Equal(after, seen) {
			added = len(rows)
		}
	}
	answer(w, http.StatusOK, map[string]any{"file": name, "rows": added, "notes": append([]string{}, notes...)})
}
