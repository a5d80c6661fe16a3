package orderpage

import (
	"fmt"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/stand"
	"wallshoal/export/template"
	"wallshoal/wall/plane"
)

// cautions writes what holds for every stand, in plain words.
func (o *orderBook) cautions() {
	items := []drafting.Item{
		{Lead: "Cables and pipes.", Text: "Sweep every place with a detector before its first hole. Have the circuits of the wall switched off, locked off and proved dead by somebody qualified. Stop at anything found."},
		{Lead: "Ladders.", Text: "Use one made for the height, on a firm level floor, fully open, with somebody at its foot. Stay between its stiles; move it instead of leaning. Keep three points of contact: drill with both hands from a platform only. Never stand on the top or the top step (" + o.topStep() + "). Lock doors that open onto it, or have them kept; never lock a way out."},
		{Lead: "Stairs and overhead.", Text: "Nobody drills overhead from a step ladder, or sets one up on steps. A platform or a tower, over steps one that is made for stairs, is put up by people trained for it and has guard rails. Keep everybody out from under. Wear goggles; come down before you tire."},
		{Lead: "Dust.", Text: "Drill with a collector at the bit, clean holes with a vacuum cleaner, and do not blow them out. Find out about lead in old paint and asbestos in boards and coatings before the first hole."},
		{Lead: "Sheets.", Text: template.SheetsFirst + " Where a stand says that its sheets meet no others, they can wait until you stand there. " + tapeWords + " " + o.belongs()},
		{Lead: "Stands", Text: "have a close-up with the number and kind of each piece, the numbers of its holes and an arrow the way it heads, and for each piece a box to tick when it is drilled and one when it hangs, its number, kind, heading in degrees clockwise, from straight up unless the stand says otherwise, and holes. 2: it hangs in the second round. !: it is neither drilled nor hung before what the stand asks is answered."},
		{Lead: "Reach", Text: o.reachWords()},
	}
	if o.timed() {
		items = append(items, drafting.Item{Lead: "Times", Text: "are of all hands together, for what is counted by pieces and holes: add setting up, moving, and putting up and taking down paper."})
	}
	items = slices.Concat(items, o.fixings(), o.crew(), o.spans())
	within := o.area
	within.Min.Y = o.y
	flow := drafting.ColumnFlow{Pen: o.Pen, Columns: []plane.Rect{within}, Hang: orderHang, More: func() []plane.Rect { o.page(""); return []plane.Rect{o.area} }}
	flow.Write([]drafting.Block{{Heading: "Before you begin", Items: items}})
	o.y = flow.Y + 3
}

// fixings says how each fixing is put in, as far as the plan knows.
func (o *orderBook) fixings() []drafting.Item {
	var out []drafting.Item
	seen := map[string]bool{}
	for _, h := range o.work.Map.Holes {
		if seen[h.Fixing] {
			continue
		}
		seen[h.Fixing] = true
		how := o.work.HowTo(h.Fixing)
		if how == "" {
			how = "how it is put in, and the piece onto it, the plan does not say: ask " + o.maker() + " before the first one."
		}
		out = append(out, drafting.Item{Lead: h.Fixing + ":", Text: how})
	}
	return out
}

// crew says how many people the stands take, and what with.
func (o *orderBook) crew() []drafting.Item {
	var out []drafting.Item
	for _, a := range stand.Accesses() {
		var numbers []int
		for _, s := range o.stands {
			if s.Access == a {
				numbers = append(numbers, s.Number)
			}
		}
		if len(numbers) == 0 {
			continue
		}
		who := map[stand.Access]string{
			stand.Platform: "Platform, two people:", stand.StairPlatform: "Platform made for stairs, two people:",
			stand.Ladder: "Step ladder, one on it and one at its foot:", stand.Floor: "From the floor, alone:",
		}[a]
		what := "stands "
		if len(numbers) == 1 {
			what = "stand "
		}
		out = append(out, drafting.Item{Lead: who, Text: what + template.HoleNumbers(numbers) + o.needed(a)})
	}
	return out
}

// needed says how often a platform is set up, and what for.
func (o *orderBook) needed(a stand.Access) string {
	if a != stand.Platform && a != stand.StairPlatform {
		return ""
	}
	shared, later := 0, false
	for _, s := range o.stands {
		if s.Access == a {
			later = later || len(s.Later) > 0
			if s.Same > 0 {
				shared++
			}
		}
	}
	text := ". It is needed to put up their paper and again to drill"
	if later {
		text = ". It is needed three times: to put up their paper, to drill, and to hang the second round"
	}
	text += "; where a stand says that its sheets meet no others, once for all of it"
	if shared > 0 {
		text += fmt.Sprintf(". %s from the set-up of the one before", drafting.Count(shared, "stand is reached", "stands are reached"))
	}
	return text
}

// spans lists what is in the way of stands: it is moved, or something has to be brought that spans it.
func (o *orderBook) spans() []drafting.Item {
	stands := map[stand.Obstacle][]int{}
	var things []stand.Obstacle
	for _, s := range o.stands {
		for _, thing := range spanned(s) {
			if stands[thing] == nil {
				things = append(things, thing)
			}
			stands[thing] = append(stands[thing], s.Number)
		}
	}
	var out []drafting.Item
	for _, thing := range things {
		do := "to be moved, or bring what spans that much, with guard rails where it is high"
		if thing.Fixed {
			do = "bring what spans that much, with guard rails where it is high"
		}
		at := "stands "
		if len(stands[thing]) == 1 {
			at = "stand "
		}
		out = append(out, drafting.Item{Lead: "In the way, " + thing.Name + ":", Text: fmt.Sprintf("%s out from the wall before %s%s: %s", o.views[o.stands[0].Face].Length(thing.Depth), at, template.HoleNumbers(stands[thing]), do)})
	}
	return out
}

// maker names whoever made the pieces.
func (o *orderBook) maker() string {
	if o.work.By != "" {
		return o.work.By
	}
	return "whoever made the pieces"
}

// topStep cites the rule about the top of a step ladder: one of the United States, an example elsewhere.
func (o *orderBook) topStep() string {
	const rule = "29 CFR 1926.1053(b)(13)"
	if o.work.Units.Imperial() {
		return rule
	}
	return "for example " + rule + "; local rules can ask for more"
}

// reachWords says what the heights of the stands count from, and where floors rise why those of the cautions
// are others.
func (o *orderBook) reachWords() string {
	text := "counts from the floor at the stand, as far as the plan knows it at the foot of the wall: measure it there before you set anything up."
	if slices.ContainsFunc(o.stands, func(s stand.Stand) bool { return s.Foot.Steps }) {
		text += " The cautions count every hole from the floor right below it: over steps the two differ, and what to stand on follows from those of the stands."
	}
	return text
}
