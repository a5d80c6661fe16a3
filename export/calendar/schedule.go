package calendar

import (
	"fmt"
	"math"
	"strconv"

	"wallshoal/wall"
)

// An Operation is one sort of work. Operations are done in the order in which they are given, each when
// the one before it has ended and what follows it has been waited for.
type Operation struct {
	Name    string
	Minutes float64 // of work, of all hands together, taken to a tenth; 0 for what is only waited for
	Crew    int     // people who work on it at once; 0 for the calendar's
	Wait    int     // minutes that must pass after it, by day and night
}

// A Shift is the work on one operation on one day.
type Shift struct {
	Operation int // its index
	Day       Day
	From, To  int // minutes of the day
	Crew      int
}

// Minutes returns the work of all hands together.
func (s Shift) Minutes() int { return (s.To - s.From) * s.Crew }

// A Wait is a time in which something dries, cures or is on its way.
type Wait struct {
	Operation int // the one it follows
	From, To  Moment
}

// A Schedule is what is done when.
type Schedule struct {
	Operations []Operation
	Shifts     []Shift // in order of time
	Waits      []Wait
	Start, End Moment // of the first and the last of all that
}

// First returns the day on which something begins first.
func (s Schedule) First() Day { return s.Start.Day() }

// Last returns the day on which everything is done, waits and all. What ends at midnight ends on the
// day that midnight closes.
func (s Schedule) Last() Day { return (s.End - 1).Day() }

// Forward returns the schedule that begins with the first day of work on or after from, with every
// operation as early as can be. The error is a wall.Problem: there is nothing to do, or too much.
func (c Calendar) Forward(operations []Operation, from Day) (Schedule, error) {
	if err := c.sound(operations); err != nil {
		return Schedule{}, err
	}
	first, found := c.Step(from-1, 1)
	if !found {
		return Schedule{}, endless()
	}
	s := Schedule{Operations: operations, Start: c.opening(first)}
	at, last := s.Start, first+MaxDays
	for i, o := range operations {
		for left := o.elapsed(c.Crew); left > 0; {
			d := at.Day()
			if d > last {
				return Schedule{}, endless()
			}
			begin, end := max(at, c.opening(d)), c.closing(d)
			if begin >= end {
				at = (d + 1).begins()
				continue
			}
			end = min(end, begin+Moment(left))
			s.Shifts = append(s.Shifts, o.shift(i, begin, end, c.Crew))
			left -= int(end - begin)
			at = end
		}
		if o.Wait > 0 {
			s.Waits = append(s.Waits, Wait{Operation: i, From: at, To: at + Moment(o.Wait)})
			at += Moment(o.Wait)
		}
	}
	s.End = at
	return s, nil
}

// Backward returns the schedule that is done by the end of the day due, with every operation as late as
// can be. Nothing that begins later than its Start can be done in time.
func (c Calendar) Backward(operations []Operation, due Day) (Schedule, error) {
	if err := c.sound(operations); err != nil {
		return Schedule{}, err
	}
	s := Schedule{Operations: operations}
	at, earliest := (due + 1).begins(), due-MaxDays
	for i := len(operations) - 1; i >= 0; i-- {
		o := operations[i]
		waited := at
		at -= Moment(o.Wait)
		end := Moment(0) // of the operation's last shift
		for left := o.elapsed(c.Crew); left > 0; {
			d := (at - 1).Day()
			if d < earliest {
				return Schedule{}, endless()
			}
			begin, close := c.opening(d), min(at, c.closing(d))
			if begin >= close {
				at = d.begins()
				continue
			}
			begin = max(begin, close-Moment(left))
			s.Shifts = append(s.Shifts, o.shift(i, begin, close, c.Crew))
			left -= int(close - begin)
			at = begin
			end = max(end, close)
		}
		if o.elapsed(c.Crew) > 0 {
			waited = end + Moment(o.Wait)
		} else {
			end = at
		}
		if o.Wait > 0 {
			s.Waits = append(s.Waits, Wait{Operation: i, From: end, To: waited})
		}
		s.End = max(s.End, waited)
	}
	s.Start = at
	reverse(s.Shifts)
	reverse(s.Waits)
	return s, nil
}

// opening returns when work begins on a day; closing when it ends.
func (c Calendar) opening(d Day) Moment { return d.begins() + Moment(c.Opens) }
func (c Calendar) closing(d Day) Moment { return c.opening(d) + Moment(c.Minutes(d)) }

// crew returns how many people work on o.
func (o Operation) crew(usual int) int {
	if o.Crew > 0 {
		return o.Crew
	}
	return usual
}

// elapsed returns how many minutes of the clock the work on o takes, rounded up. It is reckoned in whole
// tenths of a minute, so that no machine rounds it otherwise.
func (o Operation) elapsed(usual int) int {
	tenths, each := int64(math.Round(o.Minutes*10)), int64(10*o.crew(usual))
	return int((tenths + each - 1) / each)
}

func (o Operation) shift(i int, begin, end Moment, usual int) Shift {
	d := begin.Day()
	return Shift{Operation: i, Day: d, From: int(begin - d.begins()), To: int(end - d.begins()), Crew: o.crew(usual)}
}

// sound makes sure that there is something to do that can be done.
func (c Calendar) sound(operations []Operation) error {
	if problems := c.Check(); len(problems) > 0 {
		return problems[0]
	}
	all := 0.0
	for i, o := range operations {
		field := fmt.Sprintf("hours.operations[%d]", i)
		switch {
		case !(o.Minutes >= 0 && o.Minutes <= 1e9):
			return wall.Problem{Field: field, Wrong: fmt.Sprintf("%g minutes are out of range", o.Minutes), Fix: "look at its units and its minutes"}
		case o.Crew < 0 || o.Crew > MaxCrew:
			return wall.Problem{Field: field + ".crew", Wrong: fmt.Sprintf("%d people are no crew", o.Crew), Fix: fmt.Sprintf("write a number from 1 to %d", MaxCrew)}
		case o.Wait < 0 || o.Wait > MaxWait:
			return wall.Problem{Field: field + ".wait", Wrong: fmt.Sprintf("%d minutes are out of range", o.Wait), Fix: "write at most 366 days"}
		}
		all += o.Minutes + float64(o.Wait)
	}
	if all == 0 {
		return wall.Problem{Field: "hours.operations", Wrong: "there is nothing to do", Fix: "list at least one operation that takes time"}
	}
	return nil
}

func endless() error {
	return wall.Problem{Field: "calendar.days", Wrong: "the work does not end within ten years", Fix: "give more hours or a larger crew"}
}

func reverse[T any](items []T) {
	for i, j := 0, len(items)-1; i < j; i, j = i+1, j-1 {
		items[i], items[j] = items[j], items[i]
	}
}

// hoursOf returns minutes as hours with as many decimals as they need, two at most.
func hoursOf(minutes int) string {
	return strconv.FormatFloat(math.Round(float64(minutes)/60*100)/100, 'f', -1, 64)
}

// spanOf returns a wait as people say it: 90 min, 48 h, 5 days.
func spanOf(minutes int) string {
	switch {
	case minutes < 2*60:
		return fmt.Sprintf("%d min", minutes)
	case minutes >= 3*minutesOfDay && minutes%minutesOfDay == 0:
		return fmt.Sprintf("%d days", minutes/minutesOfDay)
	}
	return hoursOf(minutes) + " h"
}
