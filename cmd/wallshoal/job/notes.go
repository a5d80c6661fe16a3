package job

import (
	"fmt"
	"slices"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/export/scope"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// Notes returns what in a sound plan may be a slip of the hand.
func (j Job) Notes() []string {
	notes := j.offDatum()
	for i, w := range j.Plan.Room.Walls {
		notes = append(notes, j.overlaps(i, w)...)
	}
	return notes
}

// Unmet returns the acknowledgements of cautions that are not there.
func (j Job) Unmet(found []scope.Caution) []string {
	var notes []string
	for i, a := range j.Plan.Cautions.Acknowledged {
		if slices.ContainsFunc(found, func(c scope.Caution) bool { return c.Code == a.Code && (a.Wall == "" || c.Wall == a.Wall) }) {
			continue
		}
		on := ""
		if a.Wall != "" {
			on = " on " + a.Wall
		}
		notes = append(notes, fmt.Sprintf("%s: %s is acknowledged%s, and there is no such caution", j.At(plan.AcknowledgedField(i)), a.Code, on))
	}
	return notes
}

// offDatum returns the walls with pieces that the datum does not cross.
func (j Job) offDatum() []string {
	datum := j.Site.Room.Datum
	var notes []string
	for i, f := range j.Site.Faces {
		if !f.IsWall() || !f.Used || j.Site.Room.Walls[f.Wall].Ceiling {
			continue
		}
		b := f.Whole.Bounds()
		low, high := f.Frame.At(b.Min).Z, f.Frame.At(b.Max).Z
		if datum < low || datum > high {
			notes = append(notes, fmt.Sprintf("%s: the datum of %s does not cross %s, which reaches from %s to %s above the floor; "+
				"what hangs there is set out from a line that is not on the wall",
				j.At(plan.DatumField), j.Show(datum), j.Site.Title(i), j.Show(low), j.Show(high)))
		}
	}
	return notes
}

// overlaps returns the pairs of flat things on a wall that lie over one another. A thing with a
// depth may well stand before another.
func (j Job) overlaps(i int, w wall.Wall) []string {
	var notes []string
	for later, o := range w.Obstructions {
		for first, other := range w.Obstructions[:later] {
			if flat(o) && flat(other) && o.Shape.Bounds().Overlaps(other.Shape.Bounds()) && plane.RegionOf(other.Shape).Touches(o.Shape) {
				notes = append(notes, fmt.Sprintf("%s: on %s the %s lies over the %s (line %d); one of their measures may be mistyped",
					j.At(plan.ObstructionField(i, later)), w.Name, o.Name, other.Name, j.Plan.Lines[plan.ObstructionField(i, first)]))
			}
		}
	}
	return notes
}

// flat reports whether o lies in the face of its wall, and is no run inside it.
func flat(o wall.Obstruction) bool {
	return o.Depth == 0 && o.Kind != wall.Cable && o.Kind != wall.Pipe
}

// At returns the file and the line of a field.
func (j Job) At(field string) string { return fmt.Sprintf("%s:%d", j.Name, j.Plan.Lines[field]) }

// Show writes a length as the plan does.
func (j Job) Show(mm float64) string { return measure.Precise(mm, j.Plan.Units) }
