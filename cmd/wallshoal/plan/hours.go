package plan

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/calendar"
	"wallshoal/export/hours"
	"wallshoal/export/making"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// HoursSection is how long the work takes.
//
//	log:         the file of earlier jobs, beside the plan, as hours.Read reads it; none if left out
//	likelihood:  how often an interval is to hold, in percent; 80 if left out
//	operations:  a list in the order in which they are done, see OperationSection; needed
type HoursSection = making.Hours

// OperationSection is one sort of work.
//
//	name:     each has its own, as the log names it; needed
//	per:      what it counts: piece, hole, square metre, square foot, sheet or job; left out where nothing
//	          is done and something only waited for
//	of:       a list of the codes of kinds of pieces that need it; all if left out
//	for:      making, what counts the pieces to make; or hanging, what counts those that hang; if left out
//	          hanging from the first that counts sheets of the hole map or area of wall on (if none does, holes)
//	batch:    so many pieces, holes or sheets at a time, as a kiln holds
//	minutes:  {least: 2, likely: 3, most: 6} for one unit, where the log has fewer than three jobs
//	crew:     people who work on it at once; the calendar's if left out
//	wait:     what must pass before the next can begin, by day and night: 90 min, 24 h, 2 days
type OperationSection = making.Operation

// CalendarSection is when people work.
//
//	start:    the first day that work could begin; the plan's date if left out, or today
//	install:  the work hangs by the end of this day; nothing is said of lateness if left out
//	opens:    when work begins on a day of work; 9:00 if left out
//	days:     hours of work by weekday, {mon: 8, sat: 4}, none on the others; 8 from Monday to Friday if
//	          left out
//	crew:     people who work on what does not say; 1 if left out
//	off:      a list of days that are not as their weekday: dates, or see OffSection
type CalendarSection struct {
	calendar.Calendar
	Start   *calendar.Day // nil where the plan gives neither it nor its own date
	Install *calendar.Day
}

// OffSection is a run of days that are not as their weekdays.
//
//	from:   the first; needed
//	to:     the last; the first if left out
//	hours:  of work on each of them; 0 if left out
//	why:    what to say of them
type OffSection = calendar.Special

const (
	defaultOpens = 9 * 60 // minute of the day
	defaultDay   = 8 * 60 // minutes
)

// hours reads how long the work takes, and checks it against the kinds; nil where the plan does not say.
func (r *reader) hours(v yamlfile.Value, kinds []scatter.Kind) *HoursSection {
	if !v.Given() {
		return nil
	}
	m, ok := v.Map("log", "likelihood", "operations")
	if !ok {
		return nil
	}
	h := &HoursSection{Likelihood: hours.Likelihood}
	h.Log, _ = m.Get("log").Text(maxTitle)
	if percent, ok := m.Get("likelihood").Number("a likelihood in percent", 100*hours.MinLikelihood, 100*hours.MaxLikelihood); ok {
		h.Likelihood = math.Round(percent*100) / 10_000
	}
	items, _ := m.Get("operations").Need("list what is done, each starting with a dash, like - name: fold").
		List(hours.MaxOperations, "a list of operations, each starting with a dash")
	for _, item := range items {
		h.Operations = append(h.Operations, r.operation(item))
	}
	codes := make([]string, len(kinds))
	for i, k := range kinds {
		codes[i] = k.Code
	}
	for _, p := range hours.Check(h.Asked(), codes) {
		if !strings.Contains(p.Field, "].of[") || !r.file.Faulty("pieces") {
			r.judge([]wall.Problem{p})
		}
	}
	return h
}

func (r *reader) operation(v yamlfile.Value) OperationSection {
	var o OperationSection
	m, ok := v.Map("name", "per", "of", "for", "batch", "minutes", "crew", "wait")
	if !ok {
		r.file.Spoil(v.Field())
		return o
	}
	o.Name, _ = m.Get("name").Need("give each operation a name").Text(hours.MaxText)
	per, ok := m.Get("per").ChoiceMeant("something to count", perWords(), texts(hours.Pers())...)
	if o.Per = hours.Per(per); !ok && m.Get("per").Given() {
		r.file.Spoil(m.Get("per").Field())
	}
	items, _ := m.Get("of").List(MaxKinds, "a list of codes, like [A, B]")
	for _, item := range items {
		code, _ := item.Text(maxTitle)
		o.Of = append(o.Of, code)
	}
	purpose, _ := m.Get("for").ChoiceMeant("something that work is for", purposeWords(), texts(hours.Purposes())...)
	o.For = hours.Purpose(purpose)
	o.Batch, _ = m.Get("batch").Whole("a number at a time", 2, hours.MaxBatch)
	o.Judged = r.judged(m.Get("minutes"))
	o.Crew, _ = m.Get("crew").Whole("a crew", 1, calendar.MaxCrew)
	wait := m.Get("wait")
	if o.Wait = readWait(wait); o.Per == hours.None && !m.Get("per").Given() && !wait.Given() {
		m.Get("per").Need("say what it counts: " + joined(hours.Pers()) + "; or give a wait alone")
	}
	return o
}

// purposeWords returns other words for what operations are for, and which of ours they mean.
func purposeWords() map[string]string {
	return map[string]string{
		"make": "making", "workshop": "making", "studio": "making",
		"hang": "hanging", "install": "hanging", "installing": "hanging", "installation": "hanging", "site": "hanging", "wall": "hanging",
	}
}

// perWords returns other words for what operations count, and which of ours they mean.
func perWords() map[string]string {
	return map[string]string{
		"pieces": "piece", "each": "piece", "holes": "hole", "sheets": "sheet", "page": "sheet", "work": "job", "once": "job",
		"m2": "square metre", "m²": "square metre", "sqm": "square metre", "square meter": "square metre",
		"ft2": "square foot", "ft²": "square foot", "sq ft": "square foot", "square feet": "square foot",
	}
}

// judged reads least, likely and most minutes; nil where there are none or wrong ones.
func (r *reader) judged(v yamlfile.Value) *hours.Judged {
	if !v.Given() {
		return nil
	}
	if !v.IsMap() {
		v.Fault("needs three figures", "write the least, the likely and the most minutes for one unit, like {least: 2, likely: 3, most: 6}")
		return nil
	}
	m, ok := v.Map("least", "likely", "most")
	if !ok {
		return nil
	}
	var j hours.Judged
	all := true
	for _, part := range []struct {
		key string
		to  *float64
	}{{"least", &j.Least}, {"likely", &j.Likely}, {"most", &j.Most}} {
		n, ok := m.Get(part.key).Need("give least, likely and most minutes for one unit").Number("a number of minutes", 0, hours.MaxMinutes)
		*part.to, all = n, all && ok
	}
	if !all {
		return nil
	}
	return &j
}

var waits = regexp.MustCompile(`^(\d{1,9}(?:\.\d{1,4})?)\s*(min|minutes?|h|hours?|days?|weeks?)$`)

// readWait reads a time that must pass, in minutes, rounded up.
func readWait(v yamlfile.Value) int {
	text, ok := v.Text(maxTitle)
	if !ok {
		return 0
	}
	parts := waits.FindStringSubmatch(strings.ToLower(text))
	if parts == nil {
		v.Fault(yamlfile.Quote(text)+" is not a time to wait", "write a number with its unit, like 90 min, 24 h or 2 days")
		return 0
	}
	n, _ := strconv.ParseFloat(parts[1], 64)
	minutes := map[byte]float64{'m': 1, 'h': 60, 'd': 24 * 60, 'w': 7 * 24 * 60}[parts[2][0]]
	wait := math.Ceil(math.Round(float64(n*minutes)*1000) / 1000)
	if wait < 1 || wait > calendar.MaxWait {
		v.Fault(yamlfile.Quote(text)+" is out of range", "wait at least a minute and at most 366 days")
		return 0
	}
	return int(wait)
}

// calendar reads when people work, and checks it; nil where the plan does not say.
func (r *reader) calendar(v yamlfile.Value, date time.Time, withHours bool) *CalendarSection {
	if !v.Given() {
		return nil
	}
	m, ok := v.Map("start", "install", "opens", "days", "crew", "off")
	if !ok {
		return nil
	}
	if !withHours {
		v.Fault("has nothing to lay out", "say what is done, under hours: and operations:")
	}
	c := &CalendarSection{Calendar: calendar.Calendar{Opens: defaultOpens, Crew: 1}}
	c.Start, c.Install = readDay(m.Get("start")), readDay(m.Get("install"))
	if !date.IsZero() && !m.Get("start").Given() {
		c.Start = new(calendar.DayOf(date))
	}
	if c.Start != nil && c.Install != nil && *c.Install < *c.Start {
		m.Get("install").Fault(c.Install.String()+" is before work begins, on "+c.Start.String(), "give a later day, or an earlier start")
	}
	c.opens(m.Get("opens"))
	c.week(m.Get("days"))
	if n, ok := m.Get("crew").Whole("a crew", 1, calendar.MaxCrew); ok {
		c.Crew = n
	}
	items, _ := m.Get("off").List(calendar.MaxSpecial, "a list of dates, each starting with a dash")
	for _, item := range items {
		c.Special = append(c.Special, r.off(item))
	}
	if !r.file.Faulty(m.Get("opens").Field()) {
		r.judge(c.Check())
	}
	return c
}

// readDay reads a date; nil where there is none or a wrong one.
func readDay(v yamlfile.Value) *calendar.Day {
	date := readDate(v)
	if date.IsZero() {
		return nil
	}
	return new(calendar.DayOf(date))
}

// opens reads the time at which work begins.
func (c *CalendarSection) opens(v yamlfile.Value) {
	text, ok := v.Text(maxTitle)
	if !ok {
		return
	}
	at, err := time.Parse("15:04", text)
	if err != nil {
		v.Fault(yamlfile.Quote(text)+" is not a time of day", "write hours and minutes, like 9:00")
		return
	}
	c.Opens = at.Hour()*60 + at.Minute()
}

// week reads the hours of each weekday.
func (c *CalendarSection) week(v yamlfile.Value) {
	if !v.Given() {
		for d := time.Monday; d <= time.Friday; d++ {
			c.Hours[d] = defaultDay
		}
		return
	}
	names := calendar.DayNames()
	m, _ := v.Map(slices.Concat(names[1:], names[:1])...)
	for i, name := range names {
		c.Hours[i] = readHours(m.Get(name))
	}
}

// readHours reads hours of work on a day, in minutes; 0 where there are none or wrong ones.
func readHours(v yamlfile.Value) int {
	n, _ := v.Number("a number of hours on a day", 0, 24)
	return int(math.Round(n * 60))
}

// off reads a date, or a run of days.
func (r *reader) off(v yamlfile.Value) calendar.Special {
	if !v.IsMap() {
		return r.days(v, v, v)
	}
	m, ok := v.Map("from", "to", "hours", "why")
	if !ok {
		r.file.Spoil(v.Field())
		return calendar.Special{}
	}
	from, to := m.Get("from").Need("give the first of the days, like from: 2026-12-24"), m.Get("to")
	if !to.Given() {
		to = from
	}
	s := r.days(v, from, to)
	s.Minutes = readHours(m.Get("hours"))
	s.Why, _ = m.Get("why").Text(maxTitle)
	return s
}

// days reads the first and the last of a run of days; where either is wrong nothing more is said of
// item.
func (r *reader) days(item, from, to yamlfile.Value) calendar.Special {
	first := readDay(from)
	last := first
	if to != from {
		last = readDay(to)
	}
	if first == nil || last == nil {
		r.file.Spoil(item.Field())
		return calendar.Special{}
	}
	return calendar.Special{From: *first, To: *last}
}
