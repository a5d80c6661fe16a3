package calendar

import (
	"fmt"
	"strings"

	"wallshoal/export/number"
	"wallshoal/wall"
)

// An Answer says when the work is done, and whether that is in time.
type Answer struct {
	From     Day // the first day that work could begin
	Schedule Schedule
	Install  *Day // by whose end the work is to hang; nil where nobody says, and the rest is then empty

	Fits      bool
	Latest    Schedule // with everything as late as can be
	LastStart Day      // the last day of work that it can begin with
	LastYes   Day      // the day of work before, by whose end all must be agreed
	Spare     int      // days of work by which the beginning can slip; below 0 by how many it comes too late
	Over      int      // days by which the end comes after Install; 0 where it does not
}

// Plan lays the operations out from the first day of work on or after from, and sets that against the
// day by whose end the work is to hang, if there is one.
func (c Calendar) Plan(operations []Operation, from Day, install *Day) (Answer, error) {
	a := Answer{From: from}
	var err error
	if a.Schedule, err = c.Forward(operations, from); err != nil || install == nil {
		return a, err
	}
	day := *install
	a.Install = &day
	if far := day - from; far > MaxDays || far < -MaxDays {
		return a, wall.Problem{Field: "calendar.install", Wrong: fmt.Sprintf("%s and %s are more than ten years apart", from, day),
			Fix: "look at the years"}
	}
	if a.Latest, err = c.Backward(operations, day); err != nil {
		return a, err
	}
	var found, before bool
	a.LastStart, found = c.lastStart(a.Latest.Start)
	a.LastYes, before = c.Step(a.LastStart, -1)
	if !found || !before {
		return a, endless()
	}
	a.Over = max(0, int(a.Schedule.Last()-day))
	a.Fits = a.Over == 0
	if first := a.Schedule.First(); a.Fits {
		a.Spare = c.Count(first, a.LastStart) - 1
	} else {
		a.Spare = 1 - c.Count(a.LastStart, first)
	}
	return a, nil
}

// lastStart returns the last day of work that begins no later than m.
func (c Calendar) lastStart(m Moment) (Day, bool) {
	d := m.Day()
	if c.Minutes(d) > 0 && c.opening(d) <= m {
		return d, true
	}
	return c.Step(d, -1)
}

// String says the answer in a few plain sentences.
func (a Answer) String() string {
	said := []string{fmt.Sprintf("Begun on %s, the work is done on %s.", a.Schedule.First().Words(), a.Schedule.Last().Words())}
	if a.Install == nil {
		return said[0]
	}
	due := a.Install.Words()
	if a.Fits {
		said = append(said, fmt.Sprintf("It is to hang by the end of %s: that can be done, with %s to spare.", due, daysOfWork(a.Spare)))
	} else {
		said = append(said, fmt.Sprintf("It is to hang by the end of %s: that cannot be done. It ends %s later, and begins %s too late.",
			due, count(a.Over, "day"), daysOfWork(-a.Spare)))
	}
	said = append(said, fmt.Sprintf("The last day to begin is %s; all must be agreed by the end of %s.", a.LastStart.Words(), a.LastYes.Words()))
	return strings.Join(said, " ")
}

func daysOfWork(n int) string { return count(n, "day") + " of work" }

func count(n int, noun string) string {
	switch n {
	case 0:
		return "no " + noun
	case 1:
		return "one " + noun
	}
	return number.Whole(n) + " " + noun + "s"
}
