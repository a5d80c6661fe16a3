package client

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
	"wallshoal/export/number"
	"wallshoal/wall"
)

// Checks are what the site provides and confirms under one heading.
type Checks struct {
	Heading string
	Items   []Check
}

// A Check is one box to tick.
type Check struct {
	Ask   string
	Why   string // what of this work it is about or gives cause for it; empty where it is always the same
	Write string // what is to be written beside it; empty for nothing
}

// A finder looks a work over for what gives cause to ask.
type finder struct {
	work holemap.Work
	sum  Summary
}

// checks returns what the site has to provide and confirm: what is always needed, and what the plan
// gives cause for.
func checks(w holemap.Work, s Summary) []Checks {
	f := finder{w, s}
	var out []Checks
	for _, c := range []Checks{
		{"Who decides", f.permission()},
		{"Cables and pipes", f.services()},
		{"What the walls are made of", f.fabric()},
		{"Fire and escape", f.fire()},
		{"Access and hours", f.access()},
		{"On the day", f.day()},
	} {
		if len(c.Items) > 0 {
			out = append(out, c)
		}
	}
	return out
}

func (f finder) permission() []Check {
	out := []Check{
		{"Whoever owns the walls, and whoever rents or insures them, agrees to the holes.", "", "Names"},
		{"Whether the building or its finishes are protected as heritage has been asked.", "", "Answer"},
	}
	for _, c := range f.sum.Cautions {
		if c.Severity == caution.Stop {
			out = append(out, Check{"The layout is changed before anything is drilled.", c.Says + " " + c.On(), ""})
		}
	}
	return out
}

func (f finder) services() []Check {
	if f.sum.Holes == 0 {
		return nil
	}
	out := []Check{
		{"Drawings or word of what runs in these walls: cables, water, gas, heating, alarms, data.", names(f.sum.Walls), "From"},
		{"Somebody who may do so switches off the circuits and proves them dead, before the first hole and after every break.", "", "Name and telephone"},
		{"Somebody knows where water and gas are turned off, and is in reach while holes are drilled.", "", "Name and telephone"},
	}
	out = append(out, f.because("The places where cables are often run have been traced.", "", "cable-band", "deep-in-board", "deep-hole", "in-stud")...)
	if runs := f.standing(wall.Cable, wall.Pipe); len(runs) > 0 {
		out = append(out, Check{"The runs that the plan shows are where it shows them.", strings.Join(runs, ", "), ""})
	}
	if f.ceiling() {
		out = append(out, Check{"What lies above the ceiling is known: cables, pipes, ducts, heating, sprinklers.", "holes in the ceiling", ""})
	}
	return append(out, f.because("What lies on the other side of the wall is known, and nobody is there while holes are drilled.", "", "comes-through", "behind", "far-side")...)
}

func (f finder) fabric() []Check {
	if f.sum.Holes == 0 {
		return nil
	}
	var made []string
	for _, w := range f.sum.Walls {
		if w.Surface != "" {
			made = append(made, w.Name+": "+w.Surface)
		}
	}
	why := ""
	if len(made) > 0 {
		why = strings.Join(made, ", ")
	}
	return append([]Check{
		{"The walls are made of what the plan says.", why, ""},
		{"Age of the walls and of their paint. Lead in old paint has been asked about.", "", "Year, or not known"},
		{"The asbestos register or a survey has been seen, and covers these walls.", "", "Date and reference"},
		{"A trial hole may be drilled in each kind of wall.", "", "Where"},
	}, f.because("A glazier has said what the glass is, and that it may be drilled.", "Name and date", "glass")...)
}

func (f finder) fire() []Check {
	var burn []string
	for _, p := range f.work.Layout.Pieces {
		if k := f.work.Kinds[p.Kind]; k.Combustible && !slices.Contains(burn, k.Name) {
			burn = append(burn, k.Name)
		}
	}
	var out []Check
	if len(burn) > 0 {
		out = append(out, Check{"Whoever decides on fire safety here has seen the layout, and said which rules hold.",
			number.Count(len(burn), "kind of piece that burns", "kinds of pieces that burn"), "Name and date"})
	}
	out = append(out, f.because("The pieces near a fire or something hot may hang there.", "Name and date", "fire-slope", "fire-step", "fire-opening", "heat")...)
	out = append(out, f.because("Signs, call points, extinguishers and exit doors stay in view and in reach.", "Name and date", "keep-visible")...)
	out = append(out, f.because("Whoever looks after the detectors agrees to pieces near them.", "Name and date", "detector-air")...)
	out = append(out, f.because("Whoever looks after the sprinklers agrees to pieces near them.", "Name and date", "sprinkler-space")...)
	out = append(out, f.because("The space before the electrical panel stays clear.", "Name and date", "panel-space")...)
	out = append(out, f.because("The pieces that stand out, hang low or have sharp edges where people pass may hang there.", "Name and date", "route-projection", "headroom", "sharp-piece", "low-piece")...)
	if f.has("mineral-dust") && len(f.standing(wall.Detector)) > 0 {
		out = append(out, Check{"Detectors are covered or switched off while there is dust, by whoever may do so, and on again every evening.",
			strings.Join(f.standing(wall.Detector), ", "), "Name"})
	}
	return out
}

func (f finder) access() []Check {
	out := []Check{
		{"Days and hours at which work may go on, and those at which drilling may be heard.", "", "Days and hours"},
		{"Who opens, who locks up, and where keys and passes are.", "", "Name and telephone"},
		{"Where to unload, and a place that locks for tools and pieces.", "", "Where"},
	}
	return append(out, f.because("A platform or ladder can be brought in and stand firmly there, and doors that open into it are locked or kept.", "", "height", "platform", "overhead")...)
}

func (f finder) day() []Check {
	out := []Check{
		{"The floor before these walls is clear, and what cannot be moved is covered.", names(f.sum.Walls), ""},
		{"Sockets for tools and a vacuum cleaner that stay live when the walls are switched off; water; light.", "", ""},
		{"People who use the room and those next to it know the days, the noise and the dust.", "", "Told by"},
		{"Nobody passes below while work goes on above.", "", ""},
		{"Where first aid is, and whom to call.", "", "Telephone"},
	}
	return append(out, f.because("Air handling is off or its grilles are covered while there is dust.", "", "mineral-dust")...)
}

// because returns a check where the plan gives cause by any of the codes: walls are named once with all
// holes that it is about, but what somebody has decided about stands by itself.
func (f finder) because(ask, write string, codes ...string) []Check {
	var open []Caution
	var why []string
	for _, c := range f.sum.Cautions {
		if !slices.Contains(codes, c.Code) {
			continue
		}
		if c.By == "" {
			open = append(open, c)
		} else if on := c.On() + ", decided by the " + c.By; !slices.Contains(why, on) {
			why = append(why, on)
		}
	}
	if len(open) > 0 {
		why = slices.Insert(why, 0, f.together(open).On())
	}
	if len(why) == 0 {
		return nil
	}
	return []Check{{ask, strings.Join(why, "; "), write}}
}

// together returns a caution of all walls that some speak of, with the holes that any of them does.
func (f finder) together(all []Caution) Caution {
	var out Caution
	for _, c := range all {
		for _, w := range c.Walls {
			at := slices.IndexFunc(out.Walls, func(x Where) bool { return x.Wall == w.Wall })
			if at < 0 {
				out.Walls = append(out.Walls, w)
				continue
			}
			holes := 0
			for _, h := range f.work.Map.Holes {
				wall := f.work.Site.Room.Walls[f.work.Site.Faces[h.Face].Wall].Name
				if wall == w.Wall && slices.ContainsFunc(all, func(o Caution) bool { return slices.Contains(h.Cautions, o.Code) }) {
					holes++
				}
			}
			out.Walls[at].Holes = max(out.Walls[at].Holes, w.Holes, holes)
		}
	}
	return out
}

// On names the walls that a caution speaks of, with their holes.
func (c Caution) On() string {
	var out []string
	for _, w := range c.Walls {
		out = append(out, fmt.Sprintf("%s (%s)", w.Wall, number.Count(w.Holes, "hole", "holes")))
	}
	return strings.Join(out, ", ")
}

func (f finder) has(code string) bool {
	return slices.ContainsFunc(f.sum.Cautions, func(c Caution) bool { return c.Code == code })
}

// standing returns the names of what of the kinds there is on the walls that are drilled.
func (f finder) standing(kinds ...wall.ObstructionKind) []string {
	var out []string
	for _, w := range f.work.Site.Room.Walls {
		if !slices.ContainsFunc(f.sum.Walls, func(s Wall) bool { return s.Name == w.Name }) {
			continue
		}
		for _, o := range w.Obstructions {
			if name := w.Name + ": " + o.Name; slices.Contains(kinds, o.Kind) && !slices.Contains(out, name) {
				out = append(out, name)
			}
		}
	}
	return out
}

// ceiling reports whether there are holes in the ceiling.
func (f finder) ceiling() bool {
	return slices.ContainsFunc(f.work.Map.Holes, func(h holemap.Hole) bool {
		return f.work.Site.Room.Walls[f.work.Site.Faces[h.Face].Wall].Ceiling
	})
}

// names returns the names of the walls.
func names(walls []Wall) string {
	var out []string
	for _, w := range walls {
		out = append(out, w.Name)
	}
	return strings.Join(out, ", ")
}
