package making

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/calendar"
	"wallshoal/export/decimal"
	"wallshoal/export/hours"
	"wallshoal/export/materials"
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
	if m.Work != nil {
		out = append(out, m.purposes()...)
	}
	if m.Work != nil && m.Calendar != nil && m.allIdle(*m.Work) {
		say("There is nothing to do, so there are no days.")
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

// roundedMuch is how far a part of a mix may be off its recipe before it is worth a warning, as a share: our own choice.
func roundedMuch() decimal.Number { return decimal.Ratio(1, 20) }

// MixNotes says where far more of a line is mixed than is needed, and where its parts are far off their recipe.
func MixNotes(l materials.Line) []string {
	m := l.Mixed
	if m == nil {
		return nil
	}
	var out []string
	if m.Wasteful() {
		out = append(out, fmt.Sprintf("%s comes to %s where %s are needed, so that every part is whole in steps of %s: more is left over than used. Measure in finer steps, or say how much to mix at a time, like batch: %s.",
			l.Material.Name, m.Volume, m.Need, m.Step, m.Need.RoundedUp()))
	}
	if p, off := m.Worst(); off && p.Off.Abs().Cmp(roundedMuch()) > 0 {
		than := "more"
		if p.Off.Sign() < 0 {
			than = "less"
		}
		out = append(out, fmt.Sprintf("In steps of %s, %s in %s is %s %% %s than the recipe has it. Measure in finer steps, or mix a larger batch.",
			m.Step, p.Name, l.Material.Name, p.Off.Abs().Mul(decimal.Of(100)).Text(0), than))
	}
	return out
}

// purposes says which pieces the hours are for, where those to be made are not as many as those that hang.
func (m Making) purposes() []string {
	alike := !slices.ContainsFunc(m.Pieces, func(p materials.Piece) bool { return p.Make != p.Placed })
	var hung, taken []string
	for i, e := range m.Work.Operations {
		if e.Operation.For != hours.Hanging {
			continue
		}
		hung = append(hung, e.Operation.Name)
		if m.Hours.Operations[i].For == "" {
			taken = append(taken, e.Operation.Name)
		}
	}
	switch {
	case alike:
		return nil
	case len(hung) == 0:
		return []string{"All hours are for the pieces to make, spares in and pieces in hand out: no work is known to be for hanging. Write for: hanging where it is."}
	case len(taken) == 0:
		return []string{"Hours for making are for the pieces to make, spares in and pieces in hand out; hours for hanging are for the pieces placed."}
	}
	return []string{"Hours for making are for the pieces to make, spares in and pieces in hand out; hours for hanging are for the pieces placed. Taken to be for hanging: " +
		strings.Join(taken, ", ") + ". Write for: making or for: hanging where that is wrong."}
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
