package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	slash "path"
	"strings"
	"time"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/calendar"
	"wallshoal/export/draw"
	"wallshoal/export/folder"
	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/export/making"
	"wallshoal/export/nesting"
	"wallshoal/wall"
)

// logField is the field that names the log.
const logField = "hours.log"

// readLog reads the log of earlier jobs that the plan names, from the files in the plan's folder; nil
// where the plan has none. The error is yamlfile.Faults.
func (j *job) readLog(beside fs.FS) error {
	if j.plan.Hours == nil || j.plan.Hours.Log == "" {
		return nil
	}
	fault := func(wrong, fix string) error {
		return yamlfile.Faults{{File: j.name, Line: j.plan.Lines[logField], Field: logField, Wrong: wrong, Fix: fix}}
	}
	name := j.plan.Hours.Log
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
		return fault(yamlfile.Quote(name)+" cannot be read: "+cause(err).Error(), "see that you may read it")
	}
	file, err := beside.Open(slashed)
	if err != nil {
		return fault(yamlfile.Quote(name)+" cannot be read: "+cause(err).Error(), "see that you may read it")
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, hours.MaxBytes+1))
	if err != nil {
		return fault(yamlfile.Quote(name)+" cannot be read: "+cause(err).Error(), "see that you may read it")
	}
	j.log, err = hours.Read(name, data)
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

// making returns what making a work takes; pages is how many sheets of its hole map there are to put up.
// Today is when the work could begin where the plan does not say.
func (j job) making(w holemap.Work, pages int, today time.Time) (making.Making, error) {
	p := j.plan
	asked := making.Asked{
		Kinds: p.Kinds, Sheets: p.Sheets, Spares: p.Spares, Stock: p.Stock, Materials: p.Materials, Recipes: p.Recipes,
		Hours: p.Hours, Log: j.log, Cost: p.Cost,
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
	return m, j.located(err)
}

// located returns a problem with what the plan says of the making as a fault of the plan, and any other
// error as it is.
func (j job) located(err error) error {
	var p wall.Problem
	if !errors.As(err, &p) {
		return err
	}
	return yamlfile.Faults{{File: j.name, Line: j.plan.Lines[p.Field], Field: p.Field, Wrong: p.Wrong, Fix: p.Fix}}
}

// Measures of the chart of days, mm.
const ganttMargin = 10

// makingFiles returns the files that are about making the work: charts, calendars and drawings to cut by.
func (p *press) makingFiles(ctx context.Context) []folder.File {
	m := p.made
	var list []folder.File
	if m.Days != nil {
		chart := p.chart()
		list = append(list,
			folder.File{Name: "gantt.pdf", Write: func(out io.Writer) error {
				c := draw.NewPDF(p.about("days of work"), p.work.Date)
				if err := calendar.Gantt(c, chart, draw.Size{Width: 297, Height: 210}, ganttMargin); err != nil {
					return err
				}
				_, err := c.WriteTo(out)
				p.warn(c.Warnings())
				return errors.Join(err, context.Cause(ctx))
			}},
			folder.File{Name: "gantt.svg", Write: p.svg("days of work", func(c draw.Canvas, _ holemap.Work) error {
				return calendar.Gantt(c, chart, calendar.Whole(chart, ganttMargin), ganttMargin)
			})},
			folder.File{Name: folder.Slug(p.work.Title) + ".ics", Write: func(out io.Writer) error {
				return calendar.WriteICS(out, p.work.Title, m.Days.Expected, p.stamp)
			}},
			folder.File{Name: "days.csv", Write: func(out io.Writer) error {
				return calendar.WriteDays(out, m.Days.Expected.Schedule)
			}},
		)
	}
	drawing := 0
	for _, n := range m.Nests {
		for _, s := range n.Sheets {
			list = append(list, folder.File{
				Name: nesting.FileName(drawing),
				Write: p.svg(fmt.Sprintf("%s, to be cut %s", n.Stock.Name, times(s.Copies)), func(c draw.Canvas, _ holemap.Work) error {
					n.Draw(c, s)
					return nil
				}),
			})
			drawing++
		}
	}
	return list
}

// chart returns what the drawing of the days shows.
func (p *press) chart() calendar.Chart {
	m := p.made
	c := calendar.Chart{Title: p.work.Title, Calendar: m.Calendar.Calendar, Answer: m.Days.Expected}
	if !p.work.Date.IsZero() {
		c.Issued = p.work.Date.Format(time.DateOnly)
	}
	if most := m.Days.AtMost; most != nil {
		note := fmt.Sprintf("If it takes %s, as long as the high end of the hours, in place of %s, it is done on %s",
			hours.Clock(m.Work.High), hours.Clock(m.Work.Expected), most.Schedule.Last().Words())
		switch {
		case most.Install == nil:
			note += "."
		case most.Fits:
			note += ", which is still in time."
		default:
			note += ", which is not in time."
		}
		c.Notes = append(c.Notes, note)
	}
	if len(m.Work.Missing) > 0 {
		c.Notes = append(c.Notes, "Without "+strings.Join(m.Work.Missing, ", ")+", of which nothing is known.")
	}
	return c
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}
