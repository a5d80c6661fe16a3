package view

import (
	"context"
	"net/http"
	"slices"

	"wallshoal/export/calendar"
	"wallshoal/export/caution"
	"wallshoal/export/hours"
	"wallshoal/export/template"
)

// figures are what the work comes to, as the page shows it.
type figures struct {
	Revision int          `json:"revision"`
	Pieces   int          `json:"pieces"`
	Holes    int          `json:"holes"`
	Walls    []wallCount  `json:"walls"`
	Coverage float64      `json:"coverage"` // of all faces that carry pieces, from 0 to 1
	Sheets   int          `json:"sheets"`   // with holes
	Keys     int          `json:"keyPages"` // beside them in the hole map
	Paper    string       `json:"paper"`
	Cautions severities   `json:"cautions"`
	Pressing int          `json:"pressing"` // to settle before the first hole
	List     []cautionRow `json:"cautionList"`
	Hours    string       `json:"hours"`
	Cost     string       `json:"cost"`
	Last     string       `json:"lastStart"`
	InTime   *bool        `json:"inTime"`
	Missing  []string     `json:"missing"`
	Options  []string     `json:"options"`
}

type wallCount struct {
	Wall     string  `json:"wall"`
	Face     string  `json:"face"`
	Pieces   int     `json:"pieces"`
	Holes    int     `json:"holes"`
	Coverage float64 `json:"coverage"`
}

type severities struct {
	Stop int `json:"stop"`
	Care int `json:"care"`
	Note int `json:"note"`
}

type cautionRow struct {
	Severity     string `json:"severity"`
	Code         string `json:"code"`
	Wall         string `json:"wall"`
	Text         string `json:"text"`
	Source       string `json:"source"`
	Acknowledged bool   `json:"acknowledged"`
}

// figures answers with the figures of a revision.
func (s *server) figures(w http.ResponseWriter, r *http.Request) {
	d, ok := s.revision(w, r.URL.Query().Get("revision"))
	if !ok {
		return
	}
	f, err := s.count(r.Context(), d)
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, http.StatusOK, f)
}

// count counts a revision once.
func (s *server) count(ctx context.Context, d *drawn) (*figures, error) {
	d.counting.Lock()
	defer d.counting.Unlock()
	if d.figures != nil {
		return d.figures, nil
	}
	f, err := s.figuresOf(ctx, d)
	if err == nil {
		d.figures = f
	}
	return f, err
}

func (s *server) figuresOf(ctx context.Context, d *drawn) (*figures, error) {
	shown := d.shown
	cut, err := d.cut()
	if err != nil {
		return nil, err
	}
	p, err := s.press(ctx, d)
	if err != nil {
		return nil, err
	}
	counted, err := p.Scoped()
	if err != nil {
		return nil, err
	}
	f := &figures{
		Revision: shown.Revision, Pieces: counted.Pieces, Holes: counted.Holes, Pressing: counted.Pressing(), Paper: p.Print.Paper.Name, Keys: template.KeyPages(cut),
		Walls: []wallCount{}, List: []cautionRow{}, Missing: append([]string{}, p.Made.Missing...), Options: []string{},
	}
	var area, covered float64
	for _, face := range counted.Faces {
		row := wallCount{Wall: face.Wall, Face: face.Face, Pieces: face.Pieces, Holes: face.Holes}
		if face.Coverage != nil {
			row.Coverage = *face.Coverage
		}
		area, covered = area+face.Area, covered+face.Covered
		f.Walls = append(f.Walls, row)
	}
	if area > 0 {
		f.Coverage = covered / area
	}
	for _, c := range counted.Sheets {
		f.Sheets += c.Sheets
	}
	for _, c := range shown.Work.Map.Cautions {
		row := cautionRow{Severity: c.Severity, Code: c.Code, Wall: c.Wall, Text: c.Text, Source: c.Source, Acknowledged: c.Acknowledged != nil}
		switch c.Severity {
		case caution.Stop:
			f.Cautions.Stop++
		case caution.Ask:
			f.Cautions.Care++
		default:
			f.Cautions.Note++
		}
		if !slices.Contains(f.List, row) {
			f.List = append(f.List, row)
		}
	}
	if work := p.Made.Work; work != nil {
		f.Hours = hours.Clock(work.Expected) + ", from " + hours.Clock(work.Low) + " to " + hours.Clock(work.High)
	}
	if costs := p.Made.Costs; costs != nil {
		show := p.Made.Asked.Cost.Currency.Show
		f.Cost = show(costs.Sum.Total.Likely) + ", from " + show(costs.Sum.Total.Low) + " to " + show(costs.Sum.Total.High)
	}
	if days := p.Made.Days; days != nil {
		f.days(days.Expected)
	}
	for _, o := range shown.Job.Plan.Options {
		f.Options = append(f.Options, o.Name)
	}
	return f, nil
}

// days sets when the work must begin, and whether it is in time.
func (f *figures) days(a calendar.Answer) {
	if a.Install == nil {
		f.Last = "done on " + a.Schedule.Last().Words()
		return
	}
	f.Last, f.InTime = a.LastStart.Words(), &a.Fits
}
