package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/hours"
	"wallshoal/export/stand"
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

// standOn says what one stands on at a stand.
func standOn(s stand.Stand) string {
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

// words says what is to be known of a stand before one goes there.
func (o *orderBook) words(s stand.Stand) []item {
	v := o.views[s.Face]
	out := []item{{"Where", o.where(s)}, {"Stand on", standOn(s)}, {"Reach", o.reach(s)}}
	for _, thing := range s.Over {
		do := "work over it from something that spans it, and never stand on it"
		if !thing.Fixed {
			do = "have it moved, or " + do
		}
		out = append(out, item{"In the way", thing.Name + ": " + do})
	}
	if s.Overhead {
		out = append(out, item{"Overhead", "you drill upwards: goggles, and a dust cup on the bit; rest often"})
	}
	for _, d := range s.Doors {
		out = append(out, item{"Door", d + " opens here: lock it, or have it kept"})
	}
	if s.Foot.Steps && s.Access != stand.Floor {
		out = append(out, item{"Steps", "the floor rises here: nothing stands across the steps but what is made for stairs"})
	}
	for _, b := range s.Bits {
		out = append(out, item{"Bit", fmt.Sprintf("%s, %s deep: %s", v.drill(b.Diameter), v.length(b.Depth), count(b.Holes, "hole", "holes"))})
	}
	for _, f := range s.Fixings {
		out = append(out, item{"Fixing", fmt.Sprintf("%d × %s", f.Count, f.Name)})
	}
	out = append(out, item{"Stands out", o.standsOut(s)})
	out = append(out, o.met(s)...)
	out = append(out, o.sheetWords(s)...)
	if len(s.Waits) > 0 {
		var over []string
		for _, w := range s.Waits {
			over = append(over, fmt.Sprintf("%d after stand %d", w.Piece, w.Stand))
		}
		out = append(out, item{"Over others", "hang " + strings.Join(over, ", ")})
	}
	if len(s.Times) > 0 {
		var parts []string
		for _, t := range s.Times {
			parts = append(parts, t.Operation+" "+hours.Clock(t.Minutes))
		}
		out = append(out, item{"Time", fmt.Sprintf("about %s of all hands together: %s; setting up is not in it", o.minutes(s.Times), strings.Join(parts, ", "))})
	}
	return out
}

// reach says how high the holes of a stand are above the floor there, and where that is not the plan's 0
// also above that.
func (o *orderBook) reach(s stand.Stand) string {
	const even = 1.0 // mm
	v := o.views[s.Face]
	low, high := s.Above()
	text := "up to " + v.length(high)
	if low != high {
		text = fmt.Sprintf("%s to %s", v.length(low), v.length(high))
	}
	if math.Abs(s.Foot.Height) < even {
		return text + " above the floor"
	}
	off := v.length(s.Foot.Height) + " above "
	if s.Foot.Height < 0 {
		off = v.length(-s.Foot.Height) + " below "
	}
	return fmt.Sprintf("%s above the floor where you stand, which is %s%s", text, off, v.zeroShort())
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
		out = append(out, strings.Join(codes[off], ", ")+" "+o.views[s.Face].length(off))
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
	text := fmt.Sprintf("%s: %s from the left end%s, %s from the right end%s", name, v.length(p.Left), corner(p.ToLeft), v.length(p.Right), corner(p.ToRight))
	if p.Past {
		text += "; stand past that end"
	}
	if p.Off > 0 {
		text += fmt.Sprintf(", and %s out from it", v.length(p.Off))
	}
	return text
}

func corner(to string) string {
	if to == "" {
		return ""
	}
	return " (corner to " + to + ")"
}

// sheetsOf returns the sheets of the hole map that a stand needs, in the order of the face.
func (o *orderBook) sheetsOf(s stand.Stand) []Tile {
	need := map[string]bool{}
	for _, id := range s.Pieces {
		for _, n := range o.holes[id] {
			need[o.sheets[n]] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(o.papers[s.Face].tiles), func(t Tile) bool { return !need[t.Name] })
}

// runsOf names sheets, those that follow on one another in a row as a run.
func runsOf(tiles []Tile) string {
	var out []string
	for i := 0; i < len(tiles); {
		n := i + 1
		for n < len(tiles) && tiles[n].Row == tiles[i].Row && tiles[n].Column == tiles[n-1].Column+1 && tiles[n].added == tiles[i].added {
			n++
		}
		if n-i > 2 {
			out = append(out, tiles[i].Name+" to "+tiles[n-1].Name)
		} else {
			for _, t := range tiles[i:n] {
				out = append(out, t.Name)
			}
		}
		i = n
	}
	return strings.Join(out, ", ")
}

// sheetWords names the sheets that a stand drills, those that come down after it, and says what hangs then.
func (o *orderBook) sheetWords(s stand.Stand) []item {
	need := o.sheetsOf(s)
	if len(need) == 0 {
		return nil
	}
	down := slices.DeleteFunc(slices.Clone(o.papers[s.Face].tiles), func(t Tile) bool {
		return len(t.Holes) == 0 || o.papers[s.Face].down[t.Name] != s.Number
	})
	sheets := runsOf(need)
	if o.papers[s.Face].alone[s.Number] {
		sheets += ". They meet no others: they can go up when you stand here"
	}
	out := []item{{"Sheets", sheets}}
	if len(down) > 0 {
		slices.Reverse(down)
		out = append(out, item{"Then take down", "in this order: " + backwards(down)})
	}
	switch {
	case len(s.Later) == 0:
		return append(out, item{"Then hang", "all pieces"})
	case len(s.Later) == len(s.Pieces):
		return append(out, item{"Hang", "none yet: later stands drill this paper, or what lies on it. They hang in the second round"})
	}
	return append(out, item{"Then hang", fmt.Sprintf("%s; %s, marked 2, in the second round", count(len(s.Pieces)-len(s.Later), "piece", "pieces"), count(len(s.Later), "piece", "pieces"))})
}

// backwards names sheets that come down from the last to the first, those that precede one another in a
// row as a run.
func backwards(tiles []Tile) string {
	var out []string
	for i := 0; i < len(tiles); {
		n := i + 1
		for n < len(tiles) && tiles[n].Row == tiles[i].Row && tiles[n].Column == tiles[n-1].Column-1 && tiles[n].added == tiles[i].added {
			n++
		}
		if n-i > 2 {
			out = append(out, tiles[i].Name+" back to "+tiles[n-1].Name)
		} else {
			for _, t := range tiles[i:n] {
				out = append(out, t.Name)
			}
		}
		i = n
	}
	return strings.Join(out, ", ")
}

// met lists the cautions that holes of a stand meet, with the holes that are to be settled before they are
// drilled. What holds for every hole of a height, or overhead, is said where it says what to stand on.
func (o *orderBook) met(s stand.Stand) []item {
	in := map[int]bool{}
	for _, id := range s.Pieces {
		in[id] = true
	}
	numbers := map[string][]int{}
	for _, h := range o.views[s.Face].holes {
		for _, code := range h.Cautions {
			if in[h.Piece] {
				numbers[code] = append(numbers[code], h.Number)
			}
		}
	}
	f := o.work.Site.Faces[s.Face]
	on := o.work.Site.Room.Walls[f.Wall].Name
	var out []item
	said := map[string]bool{"height": true, "overhead": true, "platform": true}
	for _, c := range o.work.Map.Cautions {
		if n := numbers[c.Code]; len(n) > 0 && !said[c.Code] && c.Wall == on && c.Face == f.Name {
			said[c.Code] = true
			lead := "! " + c.Code
			if c.Severity == caution.Note {
				lead = c.Code
			}
			which := "holes " + holeNumbers(n)
			if len(n) == s.Holes {
				which = "all holes"
			}
			out = append(out, item{lead, opening(c) + " (" + which + ")"})
		}
	}
	return out
}

// opening returns the beginning of what a caution says: what it is, after who decided about it where
// somebody has.
func opening(c caution.Caution) string {
	n := 1
	if c.Acknowledged != nil {
		n = 2
	}
	parts := strings.SplitAfterN(c.Text, ". ", n+1)
	return strings.TrimSuffix(strings.TrimSpace(strings.Join(parts[:min(n, len(parts))], "")), ".")
}
