package plan_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/calendar"
	"wallshoal/export/hours"
)

// timed is what a plan says of time, with every key in use.
const timed = `hours:
  log: jobs.csv
  likelihood: 90
  operations:
    - name: paper comes
      wait: 1.5 weeks
    - name: fold
      per: piece
      of: [A]
      for: making
      crew: 2
    - name: fire
      per: piece
      batch: 40
      minutes: {least: 20, likely: 25, most: 45}
      wait: 24 h
    - {name: drill, per: Hole, wait: 90 min}
    - {name: seal, per: square metre}
calendar:
  start: 2026-11-30
  install: 2027-02-12
  opens: "8:30"
  days: {mon: 7, wed: 4.5, sat: 3}
  crew: 3
  off:
    - 2026-12-25
    - {from: 2026-12-28, to: 2027-01-01, why: workshop closed}
    - {from: 2026-12-24, hours: 3}
`

func TestHoursAndCalendar(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(sound))
	require.NoError(t, err)
	assert.Nil(t, p.Hours)
	assert.Nil(t, p.Calendar)

	p, err = plan.Read("p.yaml", []byte(sound+timed))
	require.NoError(t, err)
	assert.Equal(t, &plan.HoursSection{Log: "jobs.csv", Likelihood: 0.9, Operations: []plan.OperationSection{
		{Operation: hours.Operation{Name: "paper comes"}, Wait: 252 * 60},
		{Operation: hours.Operation{Name: "fold", Per: hours.Piece, Of: []string{"A"}, For: hours.Making}, Crew: 2},
		{Operation: hours.Operation{Name: "fire", Per: hours.Piece, Batch: 40, Judged: &hours.Judged{Least: 20, Likely: 25, Most: 45}}, Wait: 24 * 60},
		{Operation: hours.Operation{Name: "drill", Per: hours.Hole}, Wait: 90},
		{Operation: hours.Operation{Name: "seal", Per: hours.SquareMetre}},
	}}, p.Hours)
	on := calendar.On
	assert.Equal(t, &plan.CalendarSection{
		Calendar: calendar.Calendar{Opens: 510, Hours: [7]int{0, 420, 0, 270, 0, 0, 180}, Crew: 3, Special: []calendar.Special{
			{From: on(2026, 12, 25), To: on(2026, 12, 25)},
			{From: on(2026, 12, 28), To: on(2027, 1, 1), Why: "workshop closed"},
			{From: on(2026, 12, 24), To: on(2026, 12, 24), Minutes: 180},
		}},
		Start: new(on(2026, 11, 30)), Install: new(on(2027, 2, 12)),
	}, p.Calendar)
}

func TestDefaultsOfTime(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte("date: 2026-11-25\n"+sound+"hours: {operations: [{name: hang, per: job}]}\ncalendar: {install: 2026-12-24}\n"))
	require.NoError(t, err)
	assert.Equal(t, 0.8, p.Hours.Likelihood)
	assert.Equal(t, calendar.Calendar{Opens: 540, Hours: [7]int{0, 480, 480, 480, 480, 480, 0}, Crew: 1}, p.Calendar.Calendar)
	assert.Equal(t, "2026-11-25", p.Calendar.Start.String())
	p, err = plan.Read("p.yaml", []byte(sound+"hours: {operations: [{name: hang, per: job}]}\ncalendar: {crew: 2}\n"))
	require.NoError(t, err)
	assert.Nil(t, p.Calendar.Start)
	assert.Nil(t, p.Calendar.Install)
}

// What a plan says of time is worked out from the log to the last day to begin.
func TestFromPlanToDates(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(sound+timed))
	require.NoError(t, err)
	log, err := hours.Read("jobs.csv", []byte("job,operation,units,minutes\nStair,fold,100,310\nHall,fold,50,160\nPorch,fold,20,70\nStair,drill,100,200\nStair,seal,4,30\n"))
	require.NoError(t, err)
	counts := []hours.KindCount{{Code: "A", Pieces: 60, Holes: 60}, {Code: "B"}}
	work, err := hours.Of(p.Hours.Asked(), hours.Counts{Kinds: counts, Made: counts}, log, p.Hours.Likelihood)
	require.NoError(t, err)
	// Folding takes 10 minutes and 3 a piece, two loads of the kiln 27.5 each, and drilling 2 a hole.
	minutes := make([]float64, len(work.Operations))
	for i, e := range work.Operations {
		minutes[i] = e.Expected
	}
	assert.Equal(t, []float64{0, 190, 55, 120, 0}, minutes)
	ops := p.Hours.Schedule(work, minutes)
	assert.Equal(t, calendar.Operation{Name: "drill", Minutes: 120, Wait: 90}, ops[3])
	a, err := p.Calendar.Plan(ops, *p.Calendar.Start, p.Calendar.Install)
	require.NoError(t, err)
	// Paper comes on Thursday 10 December at 20:30; two fold for 95 minutes on Saturday, three fire for
	// 19 until 10:24, what is fired cools until Sunday, and three drill for 40 minutes on Monday.
	assert.Equal(t, "2026-12-14 10:40", a.Schedule.End.String())
	assert.True(t, a.Fits)
	// Backward: drill on Wednesday 10 February from 12:20, fire on Monday 8 from 15:11 and fold from 13:36;
	// ten and a half days before that is Friday 29 January, and the day of work before it Wednesday.
	assert.Equal(t, "2027-01-29 01:36", a.Latest.Start.String())
	assert.Equal(t, "2027-01-27", a.LastStart.String())
}

func TestFaultsOfTime(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{"likelihood: 90", "likelihood: 100", "hours.likelihood: 100 is not a likelihood in percent; give a number from 50 to 99"},
		{"per: Hole", "per: pieces", `hours.operations[3].per: "pieces" is not something to count; did you mean piece?`},
		{"per: square metre", "per: m2", `hours.operations[4].per: "m2" is not something to count; did you mean square metre?`},
		{", per: square metre", "", "hours.operations[4].per: is missing; say what it counts: piece, hole, square metre, square foot, sheet, job; or give a wait alone"},
		{"for: making", "for: workshop", `hours.operations[1].for: "workshop" is not something that work is for; did you mean making?`},
		{"of: [A]", "of: [A, Q]", `hours.operations[1].of[1]: "Q" is no kind of piece; write one of A, B`},
		{"batch: 40", "batch: 1", `hours.operations[2].batch: "1" is not a number at a time; give a whole number from 2 to 100000`},
		{"{least: 20, likely: 25, most: 45}", "25", "hours.operations[2].minutes: needs three figures; write the least, the likely and the most minutes for one unit, like {least: 2, likely: 3, most: 6}"},
		{"likely: 25", "likely: 46", "hours.operations[2].minutes.most: 45 is less than the likely 46; write least ≤ likely ≤ most"},
		{"likely: 25, ", "", "hours.operations[2].minutes.likely: is missing; give least, likely and most minutes for one unit"},
		{"wait: 24 h", "wait: 24", `hours.operations[2].wait: "24" is not a time to wait; write a number with its unit, like 90 min, 24 h or 2 days`},
		{"wait: 24 h", "wait: 400 days", `hours.operations[2].wait: "400 days" is out of range; wait at least a minute and at most 366 days`},
		{"name: drill", "name: Fold", `hours.operations[3].name: "Fold" is the name of operation 2 already; give each operation a name of its own`},
		{"install: 2027-02-12", "install: 2026-02-12", "calendar.install: 2026-02-12 is before work begins, on 2026-11-30; give a later day, or an earlier start"},
		{"2026-12-25", "2026-25-12", `calendar.off[0]: "2026-25-12" is not a date; write year, month and day, like 2026-11-25`},
		{"to: 2027-01-01", "to: 2026-12-01", "calendar.off[1]: 2026-12-01 is before 2026-12-28; give the first day before the last"},
		{"opens: \"8:30\"", "opens: half past", `calendar.opens: "half past" is not a time of day; write hours and minutes, like 9:00`},
		{"mon: 7", "mon: 16", "calendar.days.mon: 16 h from 08:30 do not end on the same day; write at most 15.5 h, or begin earlier"},
		{"mon: 7", "monday: 7", "calendar.days.monday: is not a known key; known here: mon, tue, wed, thu, fri, sat, sun"},
		{"{mon: 7, wed: 4.5, sat: 3}", "{mon: 0}", "calendar.days: no weekday has an hour of work; write the hours of at least one, like {mon: 7}"},
		{timed[:strings.Index(timed, "calendar:")], "", "calendar: has nothing to lay out; say what is done, under hours: and operations:"},
		{"operations:\n", "work:\n", "hours.operations: is missing; list what is done, each starting with a dash, like - name: fold"},
	} {
		require.Contains(t, timed, c.from)
		_, err := plan.Read("p.yaml", []byte(sound+strings.Replace(timed, c.from, c.to, 1)))
		require.Error(t, err, c.to)
		var faults yamlfile.Faults
		require.True(t, errors.As(err, &faults))
		var told []string
		for _, f := range faults {
			_, text, _ := strings.Cut(f.Error(), ": ")
			told = append(told, text)
		}
		assert.Contains(t, told, c.want)
		assert.LessOrEqual(t, len(told), 2, "%v", told)
	}
}

// Whatever a plan says of time is read or complained of; what is read can be laid out.
func FuzzTime(f *testing.F) {
	f.Add(timed)
	f.Add("hours: {operations: [{name: a, wait: 366 days}, {name: b, per: job, crew: 100}]}\ncalendar: {opens: 23:59, days: {sun: 0.0167}, off: [0001-01-01, {from: 9999-12-31}]}\n")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<12 {
			t.Skip("long")
		}
		p, err := plan.Read("p.yaml", []byte(sound+text))
		if err != nil {
			var faults yamlfile.Faults
			require.True(t, errors.As(err, &faults))
			return
		}
		if p.Hours == nil || p.Calendar == nil {
			return
		}
		work, err := hours.Of(p.Hours.Asked(), hours.Counts{Kinds: []hours.KindCount{{Code: "A", Pieces: 9, Holes: 9}}, Made: []hours.KindCount{{Code: "A", Pieces: 10, Holes: 10}}, Sheets: 3}, nil, p.Hours.Likelihood)
		require.NoError(t, err)
		require.Empty(t, p.Calendar.Check())
		from := calendar.DayOf(time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))
		if p.Calendar.Start != nil {
			from = *p.Calendar.Start
		}
		a, err := p.Calendar.Plan(p.Hours.Schedule(work, work.AtMost()), from, p.Calendar.Install)
		if err == nil {
			assert.LessOrEqual(t, a.Schedule.Start, a.Schedule.End)
		}
	})
}
