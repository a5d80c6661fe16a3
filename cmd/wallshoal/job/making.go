package job

import (
	"errors"
	"io"
	"io/fs"
	slash "path"
	"strings"
	"time"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/calendar"
	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/export/making"
	"wallshoal/wall"
)

// logField is the field that names the log.
const logField = "hours.log"

// readLog reads the log of earlier jobs that the plan names, from the files in the plan's folder; nil
// where the plan has none. The error is yamlfile.Faults.
func (j *Job) readLog(beside fs.FS) error {
	if j.Plan.Hours == nil || j.Plan.Hours.Log == "" {
		return nil
	}
	fault := func(wrong, fix string) error {
		return yamlfile.Faults{{File: j.Name, Line: j.Plan.Lines[logField], Field: logField, Wrong: wrong, Fix: fix}}
	}
	name := j.Plan.Hours.Log
	slashed := slash.Clean(name)
	switch {
	case beside == nil:
		return fault("is sought beside the plan, and the plan was not read from a folder", "save the plan as a file, and the log beside it")
	case !fs.ValidPath(slashed) || strings.ContainsAny(name, `\:`):
		return fault(yamlfile.Quote(name)+" leads out of the folder of the plan", "put the log into the folder of the plan, and write its name, like jobs.csv")
	}
	info, err := fs.Stat(beside, slashed)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fault(yamlfile.Quote(name)+" is not there", "put the log into the folder of the plan, and write its name, like jobs.csv")
	case err == nil && !info.Mode().IsRegular():
		return fault(yamlfile.Quote(name)+" is not a file", "name a CSV file")
	case err != nil:
		return fault(yamlfile.Quote(name)+" cannot be read: "+Cause(err).Error(), "see that you may read it")
	}
	file, err := beside.Open(slashed)
	if err != nil {
		return fault(yamlfile.Quote(name)+" cannot be read: "+Cause(err).Error(), "see that you may read it")
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, hours.MaxBytes+1))
	if err != nil {
		return fault(yamlfile.Quote(name)+" cannot be read: "+Cause(err).Error(), "see that you may read it")
	}
	j.Log, err = hours.Read(name, data)
	var wrong hours.Faults
	if !errors.As(err, &wrong) {
		return err
	}
	faults := make(yamlfile.Faults, len(wrong))
	for i, f := range wrong {
		faults[i] = yamlfile.Fault{File: f.File, Line: f.Line, Field: f.Field, Wrong: f.Wrong, Fix: f.Fix}
	}
	return faults
}

// Making returns what making a work takes; pages is how many sheets of its hole map there are to put up.
// Today is when the work could begin where the plan does not say.
func (j Job) Making(w holemap.Work, pages int, today time.Time) (making.Making, error) {
	p := j.Plan
	asked := making.Asked{
		Kinds: p.Kinds, Sheets: p.Sheets, Spares: p.Spares, Stock: p.Stock, Materials: p.Materials, Recipes: p.Recipes,
		Hours: p.Hours, Log: j.Log, Cost: p.Cost,
	}
	asked.Counts = making.Count(w, pages)
	if c := p.Calendar; c != nil {
		asked.Calendar = &making.Calendar{Calendar: c.Calendar, Install: c.Install}
		if c.Start != nil {
			asked.Calendar.From = *c.Start
		} else {
			asked.Calendar.From, asked.Calendar.Today = calendar.DayOf(today), true
		}
	}
	m, err := making.Of(asked)
	return m, j.Located(err)
}

// Located returns a problem with what the plan says of the making as a fault of the plan, and any other
// error as it is.
func (j Job) Located(err error) error {
	var p wall.Problem
	if !errors.As(err, &p) {
		return err
	}
	return yamlfile.Faults{{File: j.Name, Line: j.Plan.Lines[p.Field], Field: p.Field, Wrong: p.Wrong, Fix: p.Fix}}
}
