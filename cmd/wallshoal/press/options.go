package press

import (
	"context"
	"fmt"
	"slices"
	"sync/atomic"
	"time"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/export/draw"
	"wallshoal/export/folder"
	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/export/making"
	"wallshoal/export/optionpage"
	"wallshoal/export/scope"
	"wallshoal/export/scopepage"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// An option is one of several ways of carrying out the plan, composed and counted.
type option struct {
	scope.Option
	work holemap.Work
}

// Beside composes the options of the plan on all processors, with the seed of the work, and sets them
// beside it. The plan as it is written is the work itself, and the first of them where no option is
// that. Today is as New has it. The error is yamlfile.Faults where options cannot be, all of them at once.
func (p *Press) Beside(ctx context.Context, j job.Job, today time.Time) error {
	asked := j.Plan.Options
	if len(asked) == 0 {
		return nil
	}
	p.meter.Begin("options laid")
	defer p.meter.Clear()
	found := make([]option, len(asked))
	var finished atomic.Int64
	err := j.EachOption(func(i int) (err error) {
		if len(asked[i].Changes) == 0 {
			found[i], err = p.planned(asked[i].Name)
		} else {
			found[i], err = p.laid(ctx, j, i, today)
		}
		p.meter.Step(int(finished.Add(1)), len(asked))
		return err
	})
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(found, func(o option) bool { return o.Planned }) {
		plain, err := p.planned(scope.AsPlanned)
		if err != nil {
			return err
		}
		found = slices.Insert(found, 0, plain)
	}
	p.options = found
	return nil
}

// planned returns the work itself as an option.
func (p *Press) planned(name string) (option, error) {
	s, err := scope.Of(p.Work)
	if err != nil {
		return option{}, err
	}
	return option{scope.OptionOf(name, nil, p.Work, s.Made(p.Made)), p.Work}, nil
}

// laid composes and counts the option of the plan with the given index.
func (p *Press) laid(ctx context.Context, j job.Job, i int, today time.Time) (option, error) {
	own, layout, err := j.LayOption(ctx, i, p.Work.Layout.Seed)
	if err != nil {
		return option{}, err
	}
	w, err := own.Work(layout)
	if err != nil {
		return option{}, err
	}
	pages := 0
	if h := j.Plan.Hours; h != nil && slices.ContainsFunc(h.Operations, func(o making.Operation) bool { return o.Per == hours.Sheet }) {
		cut, err := tiling.CutOf(w, p.Print) // which nothing else of an option is told from
		if err != nil {
			return option{}, err
		}
		pages = cut.Sheets()
	}
	made, err := own.Making(w, pages, today)
	if err != nil {
		return option{}, err
	}
	s, err := scope.Of(w)
	if err != nil {
		return option{}, err
	}
	asked := j.Plan.Options[i]
	return option{scope.OptionOf(asked.Name, asked.Changes, w, s.Made(made)), w}, nil
}

// beside sets the options beside what is counted of the work.
func (p *Press) beside(s scope.Scope) scope.Scope {
	if len(p.options) == 0 {
		return s
	}
	options := make([]scope.Option, len(p.options))
	for i, o := range p.options {
		options[i] = o.Option
	}
	return s.Beside(options)
}

// Options returns the options side by side as pages show them, with the figures that are for the client
// where that is asked; empty where the plan has none.
func (p *Press) Options(forClient bool) (optionpage.SideBySide, error) {
	if len(p.options) == 0 {
		return optionpage.SideBySide{}, nil
	}
	s, err := p.Scoped()
	if err != nil {
		return optionpage.SideBySide{}, err
	}
	var works []holemap.Work
	for _, o := range p.options {
		works = append(works, o.work)
	}
	side := optionpage.Options(s, works)
	if forClient {
		side = side.ForClient(s)
	}
	return side, nil
}

// inserts returns the options side by side as sections of the scope on pages of the given size.
func (p *Press) inserts(size draw.Size) ([]scopepage.Insert, error) {
	options, err := p.Options(false)
	if err != nil {
		return nil, err
	}
	width, height := scopepage.Room(size)
	parts, err := options.Parts(width, height)
	if err != nil {
		return nil, err
	}
	var list []scopepage.Insert
	heading := "Options side by side"
	for _, part := range parts {
		list = append(list, scopepage.Insert{Heading: heading, Height: part.Height, Draw: func(c draw.Canvas, area plane.Rect) {
			part.Draw(c, area.Min) // which it has been before, to find its height
		}})
		heading = "Options side by side, continued"
	}
	return list, nil
}

// OptionFiles returns a picture of every option. From now on the scope names them.
func (p *Press) OptionFiles() []folder.File {
	var list []folder.File
	var works []holemap.Work
	for i := range p.options {
		o := &p.options[i]
		works = append(works, o.work)
		o.Picture = fmt.Sprintf("option-%02d-%s.svg", i+1, folder.Slug(o.Name))
	}
	for i, o := range p.options {
		list = append(list, folder.File{Name: o.Picture, Write: p.SVG(o.Name, func(c draw.Canvas, _ holemap.Work) error {
			return optionpage.OptionPicture(c, works, i)
		})})
	}
	return list
}
