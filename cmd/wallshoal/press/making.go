package press

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"wallshoal/export/calendar"
	"wallshoal/export/draw"
	"wallshoal/export/folder"
	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/export/nesting"
)

// Measures of the chart of days, mm.
const ganttMargin = 10

// MakingFiles returns the files that are about making the work: charts, calendars and drawings to cut by.
func (p *Press) MakingFiles(ctx context.Context) []folder.File {
	m := p.Made
	var list []folder.File
	if m.Days != nil {
		chart := p.chart()
		list = append(list,
			folder.File{Name: "gantt.pdf", Write: func(out io.Writer) error {
				c := draw.NewPDF(p.about("days of work"), p.Work.Date)
				if err := calendar.Gantt(c, chart, p.page(), ganttMargin); err != nil {
					return err
				}
				_, err := c.WriteTo(out)
				p.warn(c.Warnings())
				return errors.Join(err, context.Cause(ctx))
			}},
			folder.File{Name: "gantt.svg", Write: p.SVG("days of work", func(c draw.Canvas, _ holemap.Work) error {
				return calendar.Gantt(c, chart, calendar.Whole(chart, ganttMargin), ganttMargin)
			})},
			folder.File{Name: folder.Slug(p.Work.Title) + ".ics", Write: func(out io.Writer) error {
				return calendar.WriteICS(out, p.Work.Title, m.Days.Expected, p.stamp)
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
				Write: p.SVG(fmt.Sprintf("%s, to be cut %s", n.Stock.Name, times(s.Copies)), func(c draw.Canvas, _ holemap.Work) error {
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
func (p *Press) chart() calendar.Chart {
	m := p.Made
	c := calendar.Chart{Title: p.Work.Title, Calendar: m.Calendar.Calendar, Answer: m.Days.Expected}
	if !p.Work.Date.IsZero() {
		c.Issued = p.Work.Date.Format(time.DateOnly)
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
