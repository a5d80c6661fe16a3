package orderpage

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/hours"
	"wallshoal/export/stand"
	"wallshoal/wall"
)

// accessWord says in the list what one stands on.
func accessWord(s stand.Stand) string {
	word := map[stand.Access]string{
		stand.Platform: "platform, two people", stand.StairPlatform: "platform made for stairs",
		stand.Ladder: "step ladder", stand.Floor: "the floor",
	}[s.Access]
	if s.Access == stand.Floor && s.Foot.Steps {
		word = "the floor, on steps"
	}
	if s.Overhead {
		word = strings.TrimSuffix(word, ", two people") + ", overhead"
	}
	return word
}

// overArm is how far one leans from the floor over what is in the way, and still drills, mm (common
// practice).
const overArm = 400.0

// spanned returns what is in the way at a stand that is moved, or spanned by what one stands on.
func spanned(s stand.Stand) []stand.Obstacle {
	return slices.DeleteFunc(slices.Clone(s.Over), func(o stand.Obstacle) bool { return s.Access == stand.Floor && o.Depth <= overArm })
}

// namesOf joins the names of things.
func namesOf(things []stand.Obstacle) string {
	var out []string
	for _, t := range things {
		out = append(out, t.Name)
	}
	return strings.Join(out, " and ")
}

// standOn says what one stands on at a stand, and where that takes it what is in the way to be moved first.
func standOn(s stand.Stand) string {
	over := spanned(s)
	if len(over) == 0 {
		return standsOn(s)
	}
	fixed := slices.ContainsFunc(over, func(o stand.Obstacle) bool { return o.Fixed })
	spans := "a platform that spans " + namesOf(over)
	if s.Access != stand.Floor {
		spans += ", with guard rails"
	}
	switch {
	case s.Access == stand.Floor && fixed:
		return spans
	case s.Access == stand.Floor:
		return "the floor, with " + namesOf(over) + " out of the way; else " + spans
	case fixed:
		return standsOn(s) + "; one that spans " + namesOf(over)
	case s.Access != stand.Ladder:
		return standsOn(s) + "; one that spans " + namesOf(over) + ", unless moved"
	}
	return standsOn(s) + ", with " + namesOf(over) + " out of the way; else " + spans
}

// standsOn says what one stands on where nothing is in the way.
func standsOn(s stand.Stand) string {
	switch {
	case s.Access == stand.Floor && s.Foot.Steps:
		return "the floor, which is a stair here: both feet on one step, or a platform made for stairs"
	case s.Access == stand.Floor:
		return "the floor; no ladder is needed"
	case s.Access == stand.StairPlatform:
		return "a platform made for stairs, with guard rails, put up by people trained for it; two people. Nothing else stands on treads"
	case s.Overhead:
		return platformWords + ": stand below on it, and not on a ladder's top"
	case s.Access == stand.Platform:
		return platformWords
	}
	return "a step ladder, with somebody at its foot"
}

// inTheWay says what to do about each thing where one would stand.
func (o *orderBook) inTheWay(s stand.Stand) []drafting.Item {
	var out []drafting.Item
	over := spanned(s)
	for _, thing := range s.Over {
		text := fmt.Sprintf("%s, %s out from the wall: ", thing.Name, o.views[s.Face].Length(thing.Depth))
		switch {
		case !slices.Contains(over, thing):
			text += "to be reached over, never stood on"
		case thing.Fixed:
			text += "to be spanned, never stood on"
		default:
			text += "to be moved or spanned, never stood on"
		}
		out = append(out, drafting.Item{Lead: "In the way", Text: text})
	}
	return out
}

// open warns of a floor that falls near a ladder.
func (o *orderBook) open(s stand.Stand) []drafting.Item {
	var sides []string
	for _, side := range []struct {
		name string
		mm   float64
	}{{"left", s.Foot.Left}, {"right", s.Foot.Right}} {
		if side.mm > 0 {
			sides = append(sides, fmt.Sprintf("to the %s by %s", side.name, o.views[s.Face].Length(side.mm)))
		}
	}
	if s.Foot.Out > 0 {
		sides = append(sides, fmt.Sprintf("before the wall, along the next one, by %s", o.views[s.Face].Length(s.Foot.Out)))
	}
	if s.Access != stand.Ladder || len(sides) == 0 {
		return nil
	}
	return []drafting.Item{{Lead: "! Open stair", Text: "the floor falls near by, " + strings.Join(sides, " and ") + " or more: a fall from the ladder goes over the edge. Close the edge off first, or use a platform with guard rails; keep everybody off the stair"}}
}

// isExit reports whether a door on the wall that a stand is before is an exit door.
func (o *orderBook) isExit(s stand.Stand, door string) bool {
	site := o.views[s.Face].Work.Site
	return s.Place.Wall >= 0 && slices.ContainsFunc(site.Room.Walls[s.Place.Wall].Obstructions, func(thing wall.Obstruction) bool {
		return thing.Kind == wall.ExitDoor && thing.Name == door
	})
}

// words says what is to be known of a stand before one goes there.
func (o *orderBook) words(s stand.Stand) []drafting.Item {
	v := o.views[s.Face]
	out := []drafting.Item{{Lead: "Where", Text: o.where(s)}, {Lead: "Stand on", Text: standOn(s)}}
	if s.Same > 0 {
		from := o.stands[s.Same-1].Place
		out = append(out, drafting.Item{Lead: "Same set-up", Text: fmt.Sprintf("as stand %d, %s away: one platform serves both, if it is long enough", s.Same, v.Length(math.Hypot(s.Place.Left-from.Left, s.Place.Off-from.Off)))})
	}
	out = append(out, drafting.Item{Lead: "Reach", Text: o.reach(s)})
	out = append(out, o.inTheWay(s)...)
	out = append(out, o.open(s)...)
	if s.Overhead {
		out = append(out, drafting.Item{Lead: "Overhead", Text: "you drill upwards: goggles, and a dust cup on the bit; rest often"})
	}
	if s.Access == stand.Ladder {
		out = append(out, drafting.Item{Lead: "One hand", Text: "stays on the ladder; where the drill takes both, use a platform with guard rails"})
	}
	for _, d := range s.Doors {
		text := d + ": lock it, or have it kept"
		if o.isExit(s, d) {
			text = d + ", a way out: never lock it while anybody is in the building; have it kept"
		}
		out = append(out, drafting.Item{Lead: "Opens here", Text: text})
	}
	if s.Foot.Steps && s.Access != stand.Floor {
		out = append(out, drafting.Item{Lead: "Steps", Text: "the floor rises here: put nothing across them but what is made for stairs"})
	}
	out = append(out, o.fixed(s)...)
	out = append(out, o.met(s)...)
	out = append(out, o.sheetWords(s)...)
	if len(s.Waits) > 0 {
		var over []string
		for _, w := range s.Waits {
			over = append(over, fmt.Sprintf("%d after stand %d", w.Piece, w.Stand))
		}
		out = append(out, drafting.Item{Lead: "Over others", Text: "hang " + strings.Join(over, ", ")})
	}
	if len(s.Times) > 0 {
		var parts []string
		for _, t := range s.Times {
			parts = append(parts, t.Operation+" "+hours.Clock(t.Minutes))
		}
		out = append(out, drafting.Item{Lead: "Time", Text: fmt.Sprintf("about %s of all hands together: %s", o.minutes(s.Times), strings.Join(parts, ", "))})
	}
	return out
}

// fixed says what is drilled and put in at a stand, and how far its pieces stand out; in one paragraph where
// it shares a page.
func (o *orderBook) fixed(s stand.Stand) []drafting.Item {
	v := o.views[s.Face]
	var out []drafting.Item
	for _, b := range s.Bits {
		out = append(out, drafting.Item{Lead: "Bit", Text: fmt.Sprintf("%s, %s deep: %s", v.Drill(b.Diameter), v.Length(b.Depth), drafting.Count(b.Holes, "hole", "holes"))})
	}
	for _, f := range s.Fixings {
		out = append(out, drafting.Item{Lead: "Fixing", Text: fmt.Sprintf("%d × %s", f.Count, f.Name)})
	}
	out = append(out, drafting.Item{Lead: "Stands out", Text: o.standsOut(s)})
	if !o.short {
		return out
	}
	var parts []string
	for _, i := range out {
		parts = append(parts, i.Text)
	}
	parts[len(parts)-1] = "stands out " + parts[len(parts)-1]
	return []drafting.Item{{Lead: "Bit, fixing", Text: strings.Join(parts, "; ")}}
}

// reach says how high the holes of a stand are above the floor there, and where that is not the plan's 0
// also above that.
func (o *orderBook) reach(s stand.Stand) string {
	const even = 1.0 // mm
	v := o.views[s.Face]
	low, high := s.Above()
	text := "up to " + v.Length(high)
	if low != high {
		text = fmt.Sprintf("%s to %s", v.Length(low), v.Length(high))
	}
	if math.Abs(s.Foot.Height) < even {
		return text + " above the floor"
	}
	off := v.Length(s.Foot.Height) + " above "
	if s.Foot.Height < 0 {
		off = v.Length(-s.Foot.Height) + " below "
	}
	return fmt.Sprintf("%s above the floor where you stand, which is %s%s", text, off, v.ZeroShort())
}

// standsOut says how far the kinds of a stand stand out of the face.
func (o *orderBook) standsOut(s stand.Stand) string {
	codes := map[float64][]string{}
	var offs []float64
	for _, c := range s.Carry {
		k := o.work.Kinds[c.Kind]
		if codes[k.StandOff] == nil {
			offs = append(offs, k.StandOff)
		}
		codes[k.StandOff] = append(codes[k.StandOff], k.Code)
	}
	var out []string
	for _, off := range offs {
		out = append(out, strings.Join(codes[off], ", ")+" "+o.views[s.Face].Length(off))
	}
	return strings.Join(out, "; ")
}

// where says in words where one stands for s.
func (o *orderBook) where(s stand.Stand) string {
	p, v := s.Place, o.views[s.Face]
	if p.Wall < 0 {
		return "under the middle of the window in the drawing"
	}
	name := o.work.Site.Room.Walls[p.Wall].Name
	if p.Back {
		name += ", behind it"
	}
	text := fmt.Sprintf("%s: %s from the left end%s, %s from the right end%s", name, v.Length(p.Left), corner(p.ToLeft), v.Length(p.Right), corner(p.ToRight))
	if p.Past {
		text += "; stand past that end"
	}
	if p.Off > 0 {
		text += fmt.Sprintf(", and %s out from it", v.Length(p.Off))
	}
	return text
}

func corner(to string) string {
	if to == "" {
		return ""
	}
	return " (corner to " + to + ")"
}
