package client

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/calendar"
	"wallshoal/export/hours"
	"wallshoal/export/making"
	"wallshoal/export/number"
)

// Dates is what happens when, as far as it touches the client. Hours and money stay out of it.
type Dates struct {
	Verdict string // whether it hangs in time, in a sentence
	Steps   []Step
	Notes   []string
	Late    bool // there are figures for the latest
	Bands   []calendar.Band
	Marks   []calendar.Mark
}

// A Step is something that happens on a day or over some, in words; a day that nobody knows is empty.
type Step struct {
	What    string
	Planned string // begun as the plan has it
	Latest  string // so that it still hangs in time
}

// Dated returns s with what happens when, where the plan says so.
func (s Summary) Dated(m making.Making) Summary {
	if m.Days == nil || m.Work == nil || m.Asked.Hours == nil {
		return s
	}
	a := m.Days.Expected
	site := hours.OnSite(m.Asked.Hours.Asked())
	d := &Dates{Late: a.Install != nil}
	latest := func(says string) string {
		if !d.Late {
			return ""
		}
		return says
	}
	step := func(what, planned, last string) { d.Steps = append(d.Steps, Step{what, planned, last}) }
	step("You say yes: all is agreed and signed", "by "+a.Schedule.First().Words(), latest("by the end of "+a.LastYes.Words()))
	workshop, walls := stage(a.Schedule, 0, site), stage(a.Schedule, site, len(a.Schedule.Operations))
	lastWorkshop, lastWalls := stage(a.Latest, 0, site), stage(a.Latest, site, len(a.Latest.Operations))
	if len(workshop.Spans) > 0 {
		workshop.Name = "Ordered and made"
		step("Ordered and made, away from your walls", during(workshop), latest(during(lastWorkshop)))
		d.Bands = append(d.Bands, workshop)
	}
	if len(walls.Spans) > 0 {
		walls.Name = "On your walls"
		step("Work on your walls", during(walls), latest(during(lastWalls)))
		d.Bands = append(d.Bands, walls)
	}
	due := ""
	if a.Install != nil {
		due = "by the end of " + a.Install.Words()
	}
	step("It hangs", "by the end of "+a.Schedule.Last().Words(), due)
	d.Verdict = verdict(a)
	d.Notes = notes(m, site)
	if a.Install != nil {
		d.Marks = []calendar.Mark{
			{Day: a.LastYes, End: true, Dashed: true, Says: "last day to say yes: " + a.LastYes.Words()},
			{Day: *a.Install, End: true, Says: "it is to hang by the end of " + a.Install.Words()},
		}
	}
	s.Dates = d
	return s
}

// stage returns the days of the operations from one to before another: those of work in runs, and waits.
func stage(s calendar.Schedule, from, to int) calendar.Band {
	var out calendar.Band
	var days []calendar.Day
	for _, h := range s.Shifts {
		if h.Operation >= from && h.Operation < to {
			days = append(days, h.Day)
		}
	}
	slices.Sort(days)
	for _, w := range s.Waits {
		if w.Operation >= from && w.Operation < to && w.To > w.From {
			out.Spans = append(out.Spans, calendar.Span{From: w.From.Day(), To: (w.To - 1).Day(), Wait: true})
		}
	}
	for i, d := range slices.Compact(days) {
		if n := len(out.Spans); i > 0 && out.Spans[n-1].To == d-1 {
			out.Spans[n-1].To = d
			continue
		}
		out.Spans = append(out.Spans, calendar.Span{From: d, To: d})
	}
	slices.SortStableFunc(out.Spans, func(a, b calendar.Span) int { return cmp.Compare(a.From, b.From) })
	return out
}

// during says from when to when a band reaches.
func during(b calendar.Band) string {
	if len(b.Spans) == 0 {
		return ""
	}
	first, last := b.Spans[0].From, b.Spans[0].To
	for _, s := range b.Spans {
		first, last = min(first, s.From), max(last, s.To)
	}
	if first == last {
		return first.Words()
	}
	return first.Words() + " to " + last.Words()
}

// verdict says whether the work hangs in time.
func verdict(a calendar.Answer) string {
	done := a.Schedule.Last().Words()
	switch {
	case a.Install == nil:
		return "Nobody has named a day by which it is to hang. Begun as planned, it hangs by the end of " + done + "."
	case a.Fits:
		return fmt.Sprintf("It can hang by %s. Begun as planned, it hangs by the end of %s.", a.Install.Words(), done)
	}
	return fmt.Sprintf("It cannot hang by %s. Begun as planned, it hangs by the end of %s, %s later.", a.Install.Words(), done, number.Count(a.Over, "day", "days"))
}

// notes says how far the days go.
func notes(m making.Making, site int) []string {
	var out []string
	a, operations := m.Days.Expected, m.Asked.Hours.Operations
	if days, people := present(a.Schedule, site); days > 0 {
		who := "one person"
		if people > 1 {
			who = fmt.Sprintf("up to %d people", people)
		}
		out = append(out, fmt.Sprintf("There is work on your walls on %s, by %s. It is taken to begin with what the maker calls “%s”.", number.Count(days, "day", "days"), who, operations[site].Name))
	}
	if most := m.Days.AtMost; most != nil && most.Schedule.Last() > a.Schedule.Last() {
		out = append(out, fmt.Sprintf("These days are what the maker expects. If it takes as long as the maker allows for, it hangs by the end of %s.", most.Schedule.Last().Words()))
	} else {
		out = append(out, "These days are what the maker expects. It may take longer.")
	}
	if a.Install != nil && a.Fits {
		out = append(out, "If you say yes after that last day, it hangs later.")
	}
	if a.Install != nil && !a.Fits {
		out = append(out, "Please ask for a smaller work, more hands, or a later day.")
	}
	if len(m.Work.Missing) > 0 {
		out = append(out, fmt.Sprintf("Nothing is known yet of how long it takes: %s. It comes on top.", strings.Join(m.Work.Missing, ", ")))
	}
	return append(out, "They are a plan and no promise; what both sides promise is for their agreement.")
}

// present returns on how many days there is work from an operation on, and how many people at most.
func present(s calendar.Schedule, from int) (days, people int) {
	on := map[calendar.Day]bool{}
	for _, h := range s.Shifts {
		if h.Operation >= from {
			on[h.Day] = true
			people = max(people, h.Crew)
		}
	}
	return len(on), people
}
