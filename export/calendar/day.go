package calendar

import (
	"fmt"
	"time"
)

// A Day is a civil date, as the number of days since 1 January 1970 of the Gregorian calendar. It has
// no time zone: the same date is the same day everywhere.
type Day int

// minutesOfDay is how many minutes a day has. Civil days are all alike: no clock is put forward here.
const minutesOfDay = 24 * 60

// On returns the day with the given date.
func On(year int, month time.Month, day int) Day {
	return DayOf(time.Date(year, month, day, 0, 0, 0, 0, time.UTC))
}

// DayOf returns the date that t shows where it is.
func DayOf(t time.Time) Day {
	year, month, day := t.Date()
	return Day(floorDiv(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix(), 24*60*60))
}

// Time returns midnight, UTC, at the beginning of d.
func (d Day) Time() time.Time { return time.Unix(int64(d)*24*60*60, 0).UTC() }

// Weekday returns the day of the week.
func (d Day) Weekday() time.Weekday { return d.Time().Weekday() }

// String returns the date as ISO 8601 writes it, like 2026-11-25.
func (d Day) String() string { return d.Time().Format(time.DateOnly) }

// Words returns the date as people read it, like Wed 25 Nov 2026.
func (d Day) Words() string { return d.Time().Format("Mon 2 Jan 2006") }

// begins returns the moment at which d begins.
func (d Day) begins() Moment { return Moment(d) * minutesOfDay }

// A Moment is a time of a civil day, as the number of minutes since 1 January 1970 began.
type Moment int64

// Day returns the day that m is on; midnight is on the day that begins.
func (m Moment) Day() Day { return Day(floorDiv(int64(m), minutesOfDay)) }

// Minute returns how many minutes of its day have gone.
func (m Moment) Minute() int { return int(m - m.Day().begins()) }

// String returns the moment like 2026-11-25 14:30.
func (m Moment) String() string { return m.Day().String() + " " + clock(m.Minute()) }

// clock returns a minute of the day like 14:30.
func clock(minute int) string { return fmt.Sprintf("%02d:%02d", minute/60, minute%60) }

// floorDiv divides and rounds downwards, also below 0.
func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// monday returns the day with which the week of d begins, by ISO 8601.
func (d Day) monday() Day { return d - Day((int(d.Weekday())+6)%7) }
