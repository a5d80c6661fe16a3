package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// A job is a plan made ready to be composed.
type job struct {
	name string // of the plan's file
	plan plan.Plan
	site wall.Site
	log  []hours.Record // of earlier jobs
}

// open reads the plan at path, "-" being the standard input, and surveys its room.
func (d desk) open(path string) (job, error) {
	data, err := d.read(path, plan.MaxBytes)
	if err != nil {
		return job{}, err
	}
	if path == "-" {
		return ready("standard input", data)
	}
	folder, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return job{}, unreadable(filepath.Dir(path), err)
	}
	defer folder.Close()
	return readyBeside(path, data, folder.FS())
}

// ready makes a job of the text of a plan that lies in no folder; name is what its faults call it.
func ready(name string, data []byte) (job, error) { return readyBeside(name, data, nil) }

// readyBeside makes a job of the text of a plan; name is what its faults call the file, and beside are
// the files in its folder, nil where it has none.
func readyBeside(name string, data []byte, beside fs.FS) (job, error) {
	p, err := plan.ReadBeside(name, data, beside)
	if err != nil {
		return job{}, err
	}
	site, err := wall.Survey(p.Room)
	if err != nil {
		return job{}, err
	}
	j := job{name: name, plan: p, site: site}
	if err := j.readLog(beside); err != nil {
		return j, err
	}
	err = j.count()
	return j, err
}

// count sets the number of pieces where the base of the density says it. Where that cannot be, the
// error is yamlfile.Faults.
func (j *job) count() error {
	comp := &j.plan.Composition
	if comp.Count > 0 {
		return nil
	}
	comp.Count = scatter.CountFor(j.site, *comp)
	wrong := fmt.Sprintf("comes to %d pieces on these walls", comp.Count)
	problems := comp.Check(j.plan.Kinds, j.plan.Units)
	if comp.Count == 0 {
		problems = []wall.Problem{{Wrong: "there is to be at least one"}}
	}
	var faults yamlfile.Faults
	for _, p := range problems {
		faults = append(faults, yamlfile.Fault{
			File: j.name, Line: j.plan.Lines[plan.BaseField], Field: plan.BaseField,
			Wrong: wrong + ", and " + p.Wrong, Fix: "write another base, or a count in its place",
		})
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}

// read returns what is in a file that may hold so many bytes, and one byte more of a longer one, so
// that whoever checks the length can complain of it.
func (d desk) read(path string, most int64) ([]byte, error) {
	if path == "-" {
		return io.ReadAll(io.LimitReader(d.in, most+1))
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, unreadable(path, err)
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, most+1))
	if err != nil {
		return nil, unreadable(path, err)
	}
	return data, nil
}

func unreadable(path string, err error) error {
	return fmt.Errorf("%q cannot be read: %w", path, cause(err))
}

func unwritable(path string, err error) error {
	return fmt.Errorf("%q cannot be written: %w", path, cause(err))
}

// cause returns what a file operation failed for, without the name of a system call.
func cause(err error) error {
	var broken *fs.PathError
	if errors.As(err, &broken) {
		return broken.Err
	}
	return err
}

// lay composes the job's layout, and shows how far it is where that takes long. Where not all pieces
// fit, the error is yamlfile.Faults and a *scatter.ShortfallError in one.
func (j job) lay(ctx context.Context, seed uint64, m *meter) (scatter.Layout, error) {
	return j.layFrom(ctx, scatter.Start{}, seed, m)
}

// layFrom is lay round what stays where it is.
func (j job) layFrom(ctx context.Context, start scatter.Start, seed uint64, m *meter) (scatter.Layout, error) {
	m.begin("pieces placed")
	defer m.clear()
	layout, err := scatter.LayFrom(ctx, j.site, j.plan.Kinds, j.plan.Composition, start, seed, m.step)
	var short *scatter.ShortfallError
	if errors.As(err, &short) {
		wrong, fix, _ := strings.Cut(short.Error(), "; ")
		return layout, errors.Join(yamlfile.Faults{{
			File: j.name, Line: j.plan.Lines[plan.CountField], Field: plan.CountField, Wrong: wrong, Fix: fix,
		}}, short)
	}
	return layout, err
}

// work returns everything that the sheets and tables show of a layout.
func (j job) work(layout scatter.Layout) (holemap.Work, error) {
	limits := j.plan.Cautions
	limits.Keep = j.plan.Composition.Distances()
	limits.Reach = j.plan.Install.Reach.Height
	holes, err := holemap.MakeWithin(j.site, j.plan.Kinds, layout, limits)
	if err != nil {
		return holemap.Work{}, err
	}
	return holemap.Work{
		Title: j.plan.Title, For: j.plan.For, Place: j.plan.Place, By: j.plan.By, Date: j.plan.Date,
		Units: j.plan.Units, Site: j.site, Kinds: j.plan.Kinds, Layout: layout, Map: holes,
	}, nil
}
