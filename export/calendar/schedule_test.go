package calendar_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/calendar"
	"wallshoal/wall"
)

// weekdays is eight hours from Monday to Friday, from nine o'clock, one person.
func weekdays(special ...calendar.Special) calendar.Calendar {
	return calendar.Calendar{Opens: 9 * 60, Hours: [7]int{0, 480, 480, 480, 480, 480, 0}, Crew: 1, Special: special}
}

func off(days ...calendar.Day) []calendar.Special {
	var out []calendar.Special
	for _, d := range days {
		out = append(out, calendar.Special{From: d, To: d})
	}
	return out
}

const hour = 60

// said tells the shifts of a schedule: operation, day and hours.
func said(s calendar.Schedule) []string {
	var out []string
	for _, h := range s.Shifts {
		out = append(out, fmt.Sprintf("%s %s %02d:%02d-%02d:%02d", s.Operations[h.Operation].Name, h.Day, h.From/60, h.From%60, h.To/60, h.To%60))
	}
	return out
}

var gluing = []calendar.Operation{
	{Name: "fold", Minutes: 20 * hour, Wait: 48 * hour},
	{Name: "paint", Minutes: hour, Wait: 12 * hour},
	{Name: "hang", Minutes: 10 * hour, Crew: 2},
}

// Worked by hand. Glue that is begun to dry on Friday at 13:00 is dry on Sunday at 13:00, so that paint
// can follow on Monday; and two people hang ten hours of work in five.
func TestForwardOverAWeekend(t *testing.T) {
	s, err := weekdays().Forward(gluing, calendar.On(2026, time.November, 25))
	require.NoError(t, err)
	assert.Equal(t, []string{
		"fold 2026-11-25 09:00-17:00", "fold 2026-11-26 09:00-17:00", "fold 2026-11-27 09:00-13:00",
		"paint 2026-11-30 09:00-10:00",
		"hang 2026-12-01 09:00-14:00",
	}, said(s))
	require.Len(t, s.Waits, 2)
	assert.Equal(t, []string{"2026-11-27 13:00", "2026-11-29 13:00", "2026-11-30 10:00", "2026-11-30 22:00"},
		[]string{s.Waits[0].From.String(), s.Waits[0].To.String(), s.Waits[1].From.String(), s.Waits[1].To.String()})
	assert.Equal(t, "2026-11-25 09:00", s.Start.String())
	assert.Equal(t, "2026-12-01 14:00", s.End.String())
	assert.Equal(t, 600, s.Shifts[4].Minutes())
}

// Worked by hand, from the end: hanging from Friday noon, paint on Thursday's last hour, glue that
// dries from Tuesday at 16:00.
func TestBackwardOverAWeekend(t *testing.T) {
	friday := calendar.On(2026, time.December, 4)
	s, err := weekdays().Backward(gluing, friday)
	require.NoError(t, err)
	assert.Equal(t, []string{
		"fold 2026-11-27 12:00-17:00", "fold 2026-11-30 09:00-17:00", "fold 2026-12-01 09:00-16:00",
		"paint 2026-12-03 16:00-17:00",
		"hang 2026-12-04 12:00-17:00",
	}, said(s))
	assert.Equal(t, "2026-12-01 16:00", s.Waits[0].From.String())
	assert.Equal(t, "2026-12-03 16:00", s.Waits[0].To.String())
	assert.Equal(t, friday, s.Last())

	a, err := weekdays().Plan(gluing, calendar.On(2026, time.November, 25), &friday)
	require.NoError(t, err)
	assert.True(t, a.Fits)
	assert.Equal(t, "2026-11-27", a.LastStart.String())
	assert.Equal(t, "2026-11-26", a.LastYes.String())
	assert.Equal(t, 2, a.Spare)
	assert.Equal(t, "Begun on Wed 25 Nov 2026, the work is done on Tue 1 Dec 2026. It is to hang by the end of Fri 4 Dec 2026: that can be done, with 2 days of work to spare. The last day to begin is Fri 27 Nov 2026; all must be agreed by the end of Thu 26 Nov 2026.", a.String())

	a, err = weekdays().Plan(gluing, calendar.On(2026, time.November, 28), &friday) // a Saturday
	require.NoError(t, err)
	assert.False(t, a.Fits)
	assert.Equal(t, []int{-1, 3}, []int{a.Spare, a.Over})
	assert.Contains(t, a.String(), "that cannot be done. It ends 3 days later, and begins one day of work too late.")
}

// Holidays at the turn of the year, and the 29th of February, which 2028 has and 2027 has not.
func TestHolidaysYearsEndAndLeapDay(t *testing.T) {
	c := weekdays(calendar.Special{From: calendar.On(2026, time.December, 24), To: calendar.On(2027, time.January, 1)},
		calendar.Special{From: calendar.On(2026, time.December, 23), To: calendar.On(2026, time.December, 23), Minutes: 3 * hour, Why: "half day"})
	s, err := c.Forward([]calendar.Operation{{Name: "cut", Minutes: 12 * hour}}, calendar.On(2026, time.December, 23))
	require.NoError(t, err)
	assert.Equal(t, []string{"cut 2026-12-23 09:00-12:00", "cut 2027-01-04 09:00-17:00", "cut 2027-01-05 09:00-10:00"}, said(s))
	assert.Equal(t, "half day", c.Why(calendar.On(2026, time.December, 23)))

	for year, want := range map[int]string{2027: "2027-03-01", 2028: "2028-02-29"} {
		s, err := calendar.Calendar{Opens: 0, Hours: [7]int{60, 60, 60, 60, 60, 60, 60}, Crew: 1}.
			Forward([]calendar.Operation{{Name: "cut", Minutes: 61}}, calendar.On(year, time.February, 28))
		require.NoError(t, err)
		assert.Equal(t, want, s.Last().String())
	}
}

// What is only waited for takes no hands: paper that is ordered when work could begin on Monday comes on
// Saturday.
func TestWaitingAlone(t *testing.T) {
	ops := []calendar.Operation{{Name: "paper comes", Wait: 5 * 24 * hour}, {Name: "nothing"}, {Name: "fold", Minutes: 30}}
	s, err := weekdays().Forward(ops, calendar.On(2026, time.November, 28))
	require.NoError(t, err)
	assert.Equal(t, "2026-11-30 09:00", s.Start.String())
	assert.Equal(t, []string{"fold 2026-12-07 09:00-09:30"}, said(s))
	due := s.Last()
	a, err := weekdays().Plan(ops, calendar.On(2026, time.November, 28), &due)
	require.NoError(t, err)
	// Five days before Monday at 16:30.
	assert.Equal(t, "2026-12-02 16:30", a.Latest.Start.String())
	assert.Equal(t, "2026-12-02", a.LastStart.String())
}

// Three people need no more than a third of the time, rounded up to a minute.
func TestCrew(t *testing.T) {
	for _, c := range []struct {
		minutes float64
		crew    int
		want    string
	}{{100, 3, "x 2026-11-25 09:00-09:34"}, {99, 3, "x 2026-11-25 09:00-09:33"}, {0.1, 1, "x 2026-11-25 09:00-09:01"}, {100.04, 1, "x 2026-11-25 09:00-10:40"}} {
		s, err := weekdays().Forward([]calendar.Operation{{Name: "x", Minutes: c.minutes, Crew: c.crew}}, calendar.On(2026, time.November, 25))
		require.NoError(t, err)
		assert.Equal(t, []string{c.want}, said(s))
	}
}

// ECMA-376, SpreadsheetML, WORKDAY: ten days of work after 1 January 2006 is 13 January, ten before it 19
// December 2005, and twenty after it with two holidays 31 January.
func TestStep(t *testing.T) {
	newYear := calendar.On(2006, time.January, 1)
	for _, c := range []struct {
		n       int
		special []calendar.Special
		want    string
	}{
		{10, nil, "2006-01-13"}, {-10, nil, "2005-12-19"}, {0, nil, "2006-01-01"},
		{20, off(calendar.On(2006, time.January, 2), calendar.On(2006, time.January, 16)), "2006-01-31"},
	} {
		d, found := weekdays(c.special...).Step(newYear, c.n)
		assert.True(t, found)
		assert.Equal(t, c.want, d.String())
	}
	_, found := calendar.Calendar{}.Step(newYear, 1)
	assert.False(t, found)
}

// NETWORKDAYS as its manuals (wiki.openoffice.org, help.hcl-software.com) work it out: both ends are
// counted.
func TestCount(t *testing.T) {
	on := calendar.On
	for _, c := range []struct {
		from, to calendar.Day
		special  []calendar.Special
		want     int
	}{
		{on(2008, 9, 5), on(2008, 9, 8), nil, 2},
		{on(2008, 9, 5), on(2008, 9, 8), off(on(2008, 9, 8)), 1},
		{on(2001, 12, 15), on(2002, 1, 15), off(on(2001, 12, 24), on(2001, 12, 25), on(2001, 12, 26), on(2001, 12, 31), on(2002, 1, 1)), 17},
		{on(2014, 1, 15), on(2014, 6, 30), nil, 119},
		{on(2014, 6, 30), on(2014, 1, 15), nil, 0},
	} {
		assert.Equal(t, c.want, weekdays(c.special...).Count(c.from, c.to))
	}
}

// drawn returns a calendar and operations by chance.
func drawn(r *rand.Rand) (calendar.Calendar, []calendar.Operation, calendar.Day) {
	c := calendar.Calendar{Opens: r.IntN(12 * hour), Crew: 1 + r.IntN(3)}
	for i := range c.Hours {
		if r.IntN(3) > 0 {
			c.Hours[i] = r.IntN(12*hour + 1)
		}
	}
	c.Hours[r.IntN(7)] = 1 + r.IntN(12*hour)
	from := calendar.On(2027, time.December, 1) + calendar.Day(r.IntN(120))
	for d := from - 40; d < from+60; d += calendar.Day(1 + r.IntN(20)) {
		last := d + calendar.Day(r.IntN(4))
		c.Special = append(c.Special, calendar.Special{From: d, To: last, Minutes: r.IntN(2) * r.IntN(10*hour)})
		d = last + 1
	}
	var ops []calendar.Operation
	for range 1 + r.IntN(6) {
		o := calendar.Operation{Name: "op", Crew: r.IntN(4)}
		if r.IntN(5) > 0 {
			o.Minutes = float64(r.IntN(30_000)) / 10
		}
		if r.IntN(2) == 0 {
			o.Wait = r.IntN(5 * 24 * hour)
		}
		ops = append(ops, o)
	}
	ops[0].Minutes++
	return c, ops, from
}

// check holds a schedule to all that it promises: every operation gets its work, in order, within the
// hours of its days, with what follows it waited for.
func check(t *testing.T, c calendar.Calendar, s calendar.Schedule) {
	t.Helper()
	at := s.Start
	work := make([]int, len(s.Operations))
	ends := make([]calendar.Moment, len(s.Operations))
	waits := map[int]calendar.Wait{}
	for _, w := range s.Waits {
		waits[w.Operation] = w
		assert.Equal(t, s.Operations[w.Operation].Wait, int(w.To-w.From))
	}
	last := 0
	for _, h := range s.Shifts {
		begin := calendar.Moment(h.Day)*24*hour + calendar.Moment(h.From)
		assert.GreaterOrEqual(t, begin, at)
		assert.GreaterOrEqual(t, h.Operation, last)
		assert.Less(t, h.From, h.To)
		assert.GreaterOrEqual(t, h.From, c.Opens)
		assert.LessOrEqual(t, h.To, c.Opens+c.Minutes(h.Day))
		for i := last; i < h.Operation; i++ {
			if w, found := waits[i]; found {
				assert.GreaterOrEqual(t, w.From, ends[i])
				assert.LessOrEqual(t, w.To, begin)
			}
		}
		last, at = h.Operation, begin+calendar.Moment(h.To-h.From)
		ends[h.Operation] = at
		work[h.Operation] += h.Minutes()
		assert.LessOrEqual(t, at, s.End)
	}
	for i, o := range s.Operations {
		crew := o.Crew
		if crew == 0 {
			crew = c.Crew
		}
		assert.GreaterOrEqual(t, float64(work[i]), o.Minutes)
		assert.Less(t, float64(work[i]), o.Minutes+float64(crew))
		if o.Wait > 0 {
			assert.Contains(t, waits, i)
		}
	}
}

// Forward and backward are inverse: begun on the last day to begin the work is done in time, and begun
// one day of work later it is not.
func TestForwardAndBackwardAreInverse(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for range 250 {
		c, ops, from := drawn(r)
		require.Empty(t, c.Check())
		s, err := c.Forward(ops, from)
		require.NoError(t, err)
		check(t, c, s)
		due := s.Last() + calendar.Day(r.IntN(40)-20)
		a, err := c.Plan(ops, from, &due)
		require.NoError(t, err)
		check(t, c, a.Latest)
		assert.LessOrEqual(t, a.Latest.Last(), due)

		in, err := c.Forward(ops, a.LastStart)
		require.NoError(t, err)
		assert.Equal(t, a.LastStart, in.First())
		assert.LessOrEqual(t, in.Last(), due, "begun on the last day to begin")
		next, _ := c.Step(a.LastStart, 1)
		out, err := c.Forward(ops, next)
		require.NoError(t, err)
		assert.Greater(t, out.Last(), due, "begun a day of work later")

		assert.Equal(t, s.Last() <= due, a.Fits)
		assert.Equal(t, a.Fits, a.Spare >= 0)
		moved, _ := c.Step(s.First(), a.Spare)
		assert.Equal(t, a.LastStart, moved, "so many days of work from the first day is the last")
	}
}

// The moments of a schedule do not know the zone in which its dates were written.
func TestDaysHaveNoZone(t *testing.T) {
	for _, hours := range []int{-12, -5, 0, 9, 14} {
		zone := time.FixedZone("", hours*3600)
		for _, clock := range []int{0, 23} {
			d := calendar.DayOf(time.Date(2028, time.February, 29, clock, 59, 0, 0, zone))
			assert.Equal(t, calendar.On(2028, time.February, 29), d)
		}
	}
	assert.Equal(t, calendar.Day(0), calendar.On(1970, time.January, 1))
	assert.Equal(t, "1969-12-31", calendar.Day(-1).String())
	assert.Equal(t, calendar.Day(-1), calendar.On(1969, time.December, 31))
	assert.Equal(t, "1969-12-31 23:59", calendar.Moment(-1).String())
	assert.Equal(t, "Tue 29 Feb 2028", calendar.On(2028, time.February, 29).Words())
}

func TestProblemsOfACalendar(t *testing.T) {
	day := calendar.On(2027, time.March, 1)
	for field, spoil := range map[string]func(*calendar.Calendar){
		"calendar.opens":    func(c *calendar.Calendar) { c.Opens = 24 * hour },
		"calendar.days.mon": func(c *calendar.Calendar) { c.Hours[time.Monday] = 16 * hour },
		"calendar.days":     func(c *calendar.Calendar) { c.Hours = [7]int{} },
		"calendar.crew":     func(c *calendar.Calendar) { c.Crew = 0 },
		"calendar.off[1]": func(c *calendar.Calendar) {
			c.Special = []calendar.Special{{From: day, To: day + 3}, {From: day + 3, To: day + 4, Minutes: 60}}
		},
		"calendar.off[0]": func(c *calendar.Calendar) { c.Special = []calendar.Special{{From: day, To: day - 1}} },
		"calendar.off":    func(c *calendar.Calendar) { c.Special = make([]calendar.Special, calendar.MaxSpecial+1) },
	} {
		c := weekdays()
		spoil(&c)
		problems := c.Check()
		require.Len(t, problems, 1, field)
		assert.Equal(t, field, problems[0].Field)
		_, err := c.Forward(gluing, day)
		assert.ErrorContains(t, err, field)
		_, err = c.Backward(gluing, day)
		assert.ErrorContains(t, err, field)
	}
}

func TestNoSchedule(t *testing.T) {
	day := calendar.On(2027, time.March, 1)
	far := day + 4000
	for _, c := range []struct {
		ops     []calendar.Operation
		install calendar.Day
		want    string
	}{
		{nil, day, "there is nothing to do"},
		{[]calendar.Operation{{Name: "x"}}, day, "there is nothing to do"},
		{[]calendar.Operation{{Minutes: 1e8}}, day, "does not end within ten years"},
		{[]calendar.Operation{{Minutes: -1}}, day, "-1 minutes are out of range"},
		{[]calendar.Operation{{Minutes: 1, Crew: -1}}, day, "-1 people are no crew"},
		{[]calendar.Operation{{Minutes: 1, Wait: calendar.MaxWait + 1}}, day, "write at most 366 days"},
		{gluing, far, "more than ten years apart"},
	} {
		_, err := weekdays().Plan(c.ops, day, &c.install)
		var problem wall.Problem
		require.ErrorAs(t, err, &problem)
		assert.Contains(t, problem.Error(), c.want)
	}
}
