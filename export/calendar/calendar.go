// Package calendar says when work can be done: forward from a day to where it ends, and backward from
// the day by whose end it is to hang to the last day on which it can begin.
//
// A plan says in these words when people work:
//
//	calendar:
//	  start: 2026-11-30          # the first day that work could begin
//	  install: 2027-02-12        # the work hangs by the end of this day
//	  opens: "9:00"              # when work begins on a day of work
//	  days: {mon: 7, tue: 7, wed: 4, thu: 7, fri: 5}   # hours of work by weekday; none on the others
//	  crew: 2                    # people, where an operation does not say
//	  off:                       # days that are not as their weekday
//	    - 2026-12-25
//	    - {from: 2026-12-28, to: 2027-01-01, why: workshop closed}
//	    - {from: 2026-12-24, hours: 3}
//
// Operations follow one another in order. After each something may have to dry or cure: a wait is of
// elapsed time, by day and night, on days off as well. Days are civil dates without a time zone, every
// day has 24 hours, and a day's hours are one stretch from when work begins, since breaks change
// nothing of which day it is.
package calendar

import (
	"fmt"
	"slices"
	"time"

	"wallshoal/wall"
)

// A Calendar says when people work.
type Calendar struct {
	Opens   int    // minute of the day at which work begins
	Hours   [7]int // minutes of work by weekday, Sunday first, as time.Weekday counts
	Crew    int    // people who work on an operation that does not say
	Special []Special
}

// Special is a run of days that are not as their weekdays: holidays, half days, a Saturday of work.
type Special struct {
	From, To Day // both are part of it
	Minutes  int // of work on each of the days; 0 for days off
	Why      string
}

// Limits of a calendar.
const (
	MaxCrew    = 100
	MaxSpecial = 1000
	MaxDays    = 3660 // from first to last: ten years
	MaxWait    = 366 * minutesOfDay
)

// Minutes returns how long work can be done on a day, in minutes.
func (c Calendar) Minutes(d Day) int {
	if s, found := c.special(d); found {
		return s.Minutes
	}
	return c.Hours[d.Weekday()]
}

// Why returns what makes a day special; empty where nothing does.
func (c Calendar) Why(d Day) string {
	s, _ := c.special(d)
	return s.Why
}

func (c Calendar) special(d Day) (Special, bool) {
	i := slices.IndexFunc(c.Special, func(s Special) bool { return s.From <= d && d <= s.To })
	if i < 0 {
		return Special{}, false
	}
	return c.Special[i], true
}

// Count returns how many days from one to another are days of work, both counted in. With to before
// from it is 0.
func (c Calendar) Count(from, to Day) int {
	n := 0
	for d := from; d <= to; d++ {
		if c.Minutes(d) > 0 {
			n++
		}
	}
	return n
}

// Step returns the nth day of work after d, or before it where n is negative; d itself for 0. It
// reports whether there is one within the limits of a calendar.
func (c Calendar) Step(d Day, n int) (Day, bool) {
	way := Day(1)
	if n < 0 {
		way, n = -1, -n
	}
	for end := d + way*MaxDays; n > 0; {
		if d == end {
			return 0, false
		}
		d += way
		if c.Minutes(d) > 0 {
			n--
		}
	}
	return d, true
}

// Check returns what is wrong with the calendar, with fields as a plan names them.
func (c Calendar) Check() []wall.Problem {
	var out []wall.Problem
	add := func(field, wrong, fix string) {
		out = append(out, wall.Problem{Field: "calendar." + field, Wrong: wrong, Fix: fix})
	}
	if c.Opens < 0 || c.Opens >= minutesOfDay {
		add("opens", fmt.Sprintf("minute %d is not of a day", c.Opens), "write the time at which work begins, like 9:00")
		return out
	}
	most := minutesOfDay - c.Opens
	week := 0
	for i, m := range c.Hours {
		name := DayNames()[i]
		week += max(m, 0)
		if m < 0 || m > most {
			add("days."+name, fmt.Sprintf("%s h from %s do not end on the same day", hoursOf(m), clock(c.Opens)),
				"write at most "+hoursOf(most)+" h, or begin earlier")
		}
	}
	if week == 0 {
		add("days", "no weekday has an hour of work", "write the hours of at least one, like {mon: 7}")
	}
	if c.Crew < 1 || c.Crew > MaxCrew {
		add("crew", fmt.Sprintf("%d people are no crew", c.Crew), fmt.Sprintf("write a number from 1 to %d", MaxCrew))
	}
	if len(c.Special) > MaxSpecial {
		add("off", fmt.Sprintf("has %d items", len(c.Special)), fmt.Sprintf("give at most %d", MaxSpecial))
		return out
	}
	for i, s := range c.Special {
		field := fmt.Sprintf("off[%d]", i)
		switch {
		case s.To < s.From:
			add(field, s.To.String()+" is before "+s.From.String(), "give the first day before the last")
			continue
		case s.To-s.From >= MaxDays:
			add(field, fmt.Sprintf("%d days are too many", s.To-s.From+1), fmt.Sprintf("give at most %d", MaxDays))
			continue
		case s.Minutes < 0 || s.Minutes > most:
			add(field, fmt.Sprintf("%s h from %s do not end on the same day", hoursOf(s.Minutes), clock(c.Opens)),
				"write at most "+hoursOf(most)+" h, or begin earlier")
		}
		for j, t := range c.Special[:i] {
			if t.Minutes != s.Minutes && t.From <= s.To && s.From <= t.To {
				add(field, fmt.Sprintf("%s is in item %d already, with %s h", max(s.From, t.From), j+1, hoursOf(t.Minutes)), "keep one of them")
				break
			}
		}
	}
	return out
}

// DayNames returns the weekdays as a plan names them, in the order of time.Weekday.
func DayNames() []string {
	var names []string
	for d := time.Sunday; d <= time.Saturday; d++ {
		names = append(names, [...]string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}[d])
	}
	return names
}
