// Package job makes a plan ready to be worked on: read, surveyed, with its log of earlier jobs. A Job
// composes layouts and says what comes of them.
package job

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"reflect"
	"strings"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/caution"
	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// A Job is a plan made ready to be composed.
type Job struct {
	Name string // of the plan's file
	Plan plan.Plan
	Site wall.Site
	Log  []hours.Record // of earlier jobs
}

// Read makes a job of the text of a plan that lies in no folder; name is what its faults call it.
func Read(name string, data []byte) (Job, error) { return ReadBeside(name, data, nil) }

// ReadBeside makes a job of the text of a plan; name is what its faults call the file, and beside are
// the files in its folder, nil where it has none.
func ReadBeside(name string, data []byte, beside fs.FS) (Job, error) {
	return Job{}.Reread(name, data, beside)
}

// Reread is ReadBeside of another text of the same plan. Where the room is the same it is not surveyed
// again.
func (j Job) Reread(name string, data []byte, beside fs.FS) (Job, error) {
	p, err := plan.ReadBeside(name, data, beside)
	if err != nil {
		return Job{}, err
	}
	site := j.Site
	if len(site.Faces) == 0 || !reflect.DeepEqual(p.Room, j.Plan.Room) {
		if site, err = wall.Survey(p.Room); err != nil {
			return Job{}, err
		}
	}
	j = Job{Name: name, Plan: p, Site: site}
	if err := j.readLog(beside); err != nil {
		return j, err
	}
	err = j.count()
	return j, err
}

// count sets the number of pieces where the base of the density says it. Where that cannot be, the
// error is yamlfile.Faults.
func (j *Job) count() error {
	comp := &j.Plan.Composition
	if comp.Count > 0 {
		return nil
	}
	comp.Count = scatter.CountFor(j.Site, *comp)
	wrong := fmt.Sprintf("comes to %d pieces on these walls", comp.Count)
	problems := comp.Check(j.Plan.Kinds, j.Plan.Units)
	if comp.Count == 0 {
		problems = []wall.Problem{{Wrong: "there is to be at least one"}}
	}
	var faults yamlfile.Faults
	for _, p := range problems {
		faults = append(faults, yamlfile.Fault{
			File: j.Name, Line: j.Plan.Lines[plan.BaseField], Field: plan.BaseField,
			Wrong: wrong + ", and " + p.Wrong, Fix: "write another base, or a count in its place",
		})
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}

// LayFrom composes the job's layout round what stays where it is, and tells step, which may be nil, how
// many pieces lie and how many there are to be. Where not all of them fit, the error is
// yamlfile.Faults and a *scatter.ShortfallError in one.
func (j Job) LayFrom(ctx context.Context, start scatter.Start, seed uint64, step func(done, total int)) (scatter.Layout, error) {
	layout, err := scatter.LayFrom(ctx, j.Site, j.Plan.Kinds, j.Plan.Composition, start, seed, step)
	return layout, j.unfit(err)
}

// Mend makes a layout of the job as the plan asks with as few pieces moved as can be, as scatter.Mend does; fixed are the IDs of
// those that stay in any case. The errors are those of LayFrom.
func (j Job) Mend(ctx context.Context, pieces []scatter.Piece, fixed map[int]bool, seed uint64, step func(done, total int)) (scatter.Layout, error) {
	layout, err := scatter.Mend(ctx, j.Site, j.Plan.Kinds, j.Plan.Composition, pieces, fixed, seed, step)
	return layout, j.unfit(err)
}

// unfit returns why a layout cannot be as a fault of the plan, and any other error as it is.
func (j Job) unfit(err error) error {
	var short *scatter.ShortfallError
	if errors.As(err, &short) {
		wrong, fix, _ := strings.Cut(short.Error(), "; ")
		return errors.Join(yamlfile.Faults{{
			File: j.Name, Line: j.Plan.Lines[plan.CountField], Field: plan.CountField, Wrong: wrong, Fix: fix,
		}}, short)
	}
	return j.Located(err)
}

// Limits returns the figures above which the cautions of the job speak.
func (j Job) Limits() caution.Limits {
	limits := j.Plan.Cautions
	limits.Keep = j.Plan.Composition.Distances()
	limits.Reach, limits.Ladder = j.Plan.Install.Reach.Height, j.Plan.Install.Reach.Ladder
	return limits
}

// Work returns everything that the sheets and tables show of a layout.
func (j Job) Work(layout scatter.Layout) (holemap.Work, error) {
	holes, err := holemap.MakeWithin(j.Site, j.Plan.Kinds, layout, j.Limits())
	if err != nil {
		return holemap.Work{}, err
	}
	return holemap.Work{
		Title: j.Plan.Title, For: j.Plan.For, Place: j.Plan.Place, By: j.Plan.By, Date: j.Plan.Date,
		Units: j.Plan.Units, Site: j.Site, Kinds: j.Plan.Kinds, Layout: layout, Map: holes, Fixings: j.Plan.Install.Fixings,
	}, nil
}

// Cause returns what a file operation failed for, without the name of a system call.
func Cause(err error) error {
	var broken *fs.PathError
	if errors.As(err, &broken) {
		return broken.Err
	}
	return err
}
