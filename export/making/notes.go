package making

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/calendar"
	"wallshoal/export/hours"
	"wallshoal/wall"
)

// notes says what is taken for granted. What the hours of each operation rest on stands with it.
func (m Making) notes() []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if len(m.Asked.Sheets) > 0 {
		say("Sheets are counted whole, as the pieces lie on the drawings; what is left over of a sheet is not counted back.")
		var uncut []string
		for _, p := range m.Pieces {
			if p.Make > 0 && !slices.ContainsFunc(m.Asked.Sheets, func(s Sheets) bool { return slices.Contains(s.Cuts, p.Code) }) {
				uncut = append(uncut, p.Code)
			}
		}
		if len(uncut) > 0 {
			say("No sheets are named for %s: how those are made is not counted.", strings.Join(uncut, ", "))
		}
	}
	if m.Work != nil && slices.ContainsFunc(m.Hours.Operations, func(o Operation) bool { return o.Per == hours.Piece }) {
		say("Hours per piece are for the pieces placed: spares are not counted, and pieces in hand are taken to need the same work.")
	}
	if m.Days != nil {
		say("Operations follow one another, each with its own crew and nobody on two at once; nothing but what the calendar names keeps anybody from work.")
		if m.Calendar.Today {
			say("The plan gives no day to begin, so today, %s, is taken.", m.Calendar.From)
		}
	}
	if m.Costs != nil {
		say("The low and high ends of the cost take every line at its lowest, or at its highest, at once: it will hardly ever cost as little, or as much.")
		if m.sums(OfHours) {
			say("The hours that are paid for go from the low to the high end of their interval, which holds %.0f times in a hundred.", 100*m.Work.Likelihood)
		}
	}
	return out
}

// missing asks for figures that are not there.
func (m Making) missing() []string {
	var out []string
	ask := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if m.Work != nil && len(m.Work.Missing) > 0 {
		ask("How long does it take: %s? Log a job, or give least, likely and most minutes; hours, days and cost are without it.", strings.Join(m.Work.Missing, ", "))
	}
	sheets, bought := m.unpriced()
	if m.sums(OfSheets) && len(sheets) > 0 {
		ask("What does a sheet cost: %s? Give a price; the cost is without it.", strings.Join(sheets, ", "))
	}
	if m.sums(OfMaterials) && len(bought) > 0 {
		ask("What does it cost: %s? Give a pack and its price; the cost is without it.", strings.Join(bought, ", "))
	}
	return out
}

// tooLate says that the work is to hang before it can begin.
func tooLate(install, from calendar.Day, today bool) error {
	begun := "work begins, on " + from.String()
	if today {
		begun = "today, " + from.String()
	}
	return wall.Problem{Field: "calendar.install", Wrong: fmt.Sprintf("%s is before %s", install, begun), Fix: "give a later day, or an earlier start"}
}
