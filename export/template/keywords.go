package template

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/drafting"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/sheet"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// words returns everything that the key page has to say.
func (k *keyPage) words() []drafting.Block {
	return slices.DeleteFunc([]drafting.Block{
		k.sinceBlock(), k.howToHang(), k.sheets(), k.kindsBlock(), k.drilling(), k.signsBlock(), k.cautions(), k.zonesBlock(),
	}, func(b drafting.Block) bool { return len(b.Rows)+len(b.Items) == 0 })
}

func (k *keyPage) howToHang() drafting.Block {
	level := k.faces[0].levelWords()
	for _, f := range k.faces {
		if _, upright := f.Datum(); upright {
			level = f.levelWords()
			break
		}
	}
	left, right := k.print.Sides()
	drill := " The grey outline is the piece; the arrow points to its head."
	if k.print.HolesOnly {
		drill = " The pieces themselves are left out."
	}
	b := drafting.Block{Heading: "How to hang it", Items: []drafting.Item{
		{Lead: "1", Text: "Print every sheet at 100 % (“actual size”), never fitted to the page."},
		{Lead: "2", Text: k.checkWords()},
		{Lead: "3", Text: drafting.Joined(" ", k.sizeWords(), level)},
		{Lead: "4", Text: "Cut each sheet along its frame at the " + left + " and at the top, through the middle of the register marks, and round any hole as the line goes. Cut away the parts with close level lines, for what stands out of the wall. " + k.pastWords()},
		{Lead: "5", Text: k.firstWords() + " Begin at the top " + left + " of the sheets there are, and go along each row from " + left + " to " + right + ", row by row downwards. Every sheet lies over the one to its " + left + " and those above it: its cut edges on their landing lines, so that the halves of the register marks meet. Tape it along these edges, and at two corners to the bare wall, so that it holds whatever comes down round it. Where the picture shows a gap between sheets, measure the next one."},
		{Lead: "6", Text: k.measureWords(left)},
		{Lead: "7", Text: "Look for cables and pipes with a detector before drilling. Where a cross has a square round it and its number an exclamation mark, a caution of its own, below, has to be settled first; cautions that hold for all holes have no square."},
		{Lead: "8", Text: "Drill through the paper where the lines of a cross meet. The big figure is the hole's number, the small one the bit." + drill},
		{Lead: "9", Text: k.hangWords()},
		{Lead: "10", Text: k.fingerprintWords()},
	}}
	if k.print.Mirror {
		b.Items = append([]drafting.Item{{Lead: "!", Text: drafting.MirrorWords + ". The sheets and the picture show the wall as it is seen from behind, or through the paper; its ends are named as they are seen from the front."}}, b.Items...)
	}
	return b
}

// measureWords says which sheets are measured, and by what; left is the side that sheets begin on.
func (k *keyPage) measureWords(left string) string {
	end := sheet.EndName(k.first(), k.print, "left")
	if slices.ContainsFunc(k.faces, func(f *keyFace) bool { return sheet.EndName(f.CutFace.View, k.print, "left") != end }) {
		end = "the end that they name"
	}
	lines := "The dash-dot line across the face lies on that on the sheet; the fine ones stand so far from " + end + " and from the edge as they say."
	if slices.ContainsFunc(k.faces, func(f *keyFace) bool { return holemap.Upright(f.Face) }) {
		lines = "The level line on the sheet lies on that on the wall. The fine upright dash-dot lines are plumb, so far from " + end +
			" as they say, and the fine level ones are so far off the datum as they say: a sheet can be hung by one of either alone, and so can each part of one that what stands out of the wall cuts in two."
	}
	return "Measure the first sheet of every row, every sheet with no neighbour to lie on, and any other now and then: its black register mark (at the top " + left +
		", if that is on the free wall) belongs where the words in its corner say. " + lines +
		" Where joining and measuring differ by more than " + k.amiss() + ", measuring is right."
}

// amiss returns how far a sheet may be out, in what the rules of the work are divided into.
func (k *keyPage) amiss() string {
	if k.first().Work.Units.Imperial() {
		return `1/32"`
	}
	return "1 mm"
}

// fingerprintWords says which sheets belong together.
func (k *keyPage) fingerprintWords() string {
	own := fmt.Sprintf(" The %d signs after it are the mark of that one sheet: of what is drilled on it.", tiling.OwnMarkLength)
	print := k.first().Work.Map.Fingerprint
	if k.faces[0].Since != nil {
		return fmt.Sprintf("Sheets of this map bear the fingerprint %s. Sheets with another belong beside them only where this page lists them, by name and mark.", print) + own
	}
	return fmt.Sprintf("Every sheet bears the fingerprint %s. One with another belongs to another layout, and never onto this wall, unless a key page lists it as staying, by name and mark.", print) + own
}

// levelWords says how the first line is drawn that the sheets are laid out along.
func (k *keyFace) levelWords() string {
	y, upright := k.Datum()
	floor, more := k.Zero(), k.FloorWords()
	if more != "" {
		floor, more = "the zero of the wall", " "+more
	}
	switch {
	case !upright:
		text := "Lay the sheets out from " + sheet.EndName(k.CutFace.View, k.print, "left") + " and from " + k.FootWords() + ", as their feet say."
		return drafting.Joined(" ", text, k.BaseWords(), k.Stance())
	case len(k.SpansAt(y)) == 0:
		line := k.Levels()[0]
		text := fmt.Sprintf("The datum does not cross this face. Draw a level line on it, %s, %s", k.LevelMark(line), k.OffDatum(line.Y-y))
		if !k.UnseenZero() {
			text += fmt.Sprintf(", which is %s above %s", k.Length(k.HeightOf(plane.Point{Y: line.Y})), floor)
		}
		text += ". It is the dash-dot line on the sheets, and they count from it."
		if foot, high, where := k.FootUnder(line); where != "" {
			text += fmt.Sprintf(" Check it: it is %s above %s at %s", k.Length(high-foot), k.FootName(), where) + k.OutWords() + "."
		}
		return text + k.MoreLevels() + more
	case k.UnseenZero():
		return fmt.Sprintf("Draw the datum on the wall with a level, %s. It is the dash-dot line on the sheets.", k.DatumAbove(y)) + k.MoreLevels() + more
	case math.Abs(y-k.Work.Site.Room.Datum) < 0.5:
		return fmt.Sprintf("Draw the datum on the wall with a level, %s above %s. It is the dash-dot line on the sheets.",
			k.Length(k.Work.Site.Room.Datum), floor) + k.MoreLevels() + more
	}
	return fmt.Sprintf("Draw the datum on the wall with a level, %s above %s. It is the dash-dot line on the sheets; it runs %s above the foot of this face.",
		k.Length(k.Work.Site.Room.Datum), floor, k.Length(y)) + k.MoreLevels() + more
}

func (k *keyPage) sheets() drafting.Block {
	var items []drafting.Item
	for _, f := range k.faces {
		printed, lead := f.printed(), ""
		text := fmt.Sprintf("%s of %s, for %s and %s.",
			drafting.Count(printed, "sheet", "sheets"), f.paperWords(k.print.Paper), drafting.Count(len(f.Pieces), "piece", "pieces"), drafting.Count(len(f.Holes), "hole", "holes"))
		if len(k.faces) > 1 {
			lead = fmt.Sprintf("%d-", f.Number)
			text = drafting.Joined(" ", f.SideName()+": "+text, f.BaseWords(), f.Stance())
		}
		if f.Since != nil {
			text += fmt.Sprintf(" %s printed anew.", drafting.Count(len(f.Since.Printed), "is", "are"))
		}
		if k.print.Auto && f.Cut.Landscape {
			text += " They are printed landscape."
		}
		text = drafting.Joined(" ", text, f.Cut.Words(f.Work.Units))
		if out := len(f.Tiles) - printed; out > 0 {
			text += fmt.Sprintf(" %s left out, hatched in the picture, for want of holes.", drafting.Count(out, "sheet is", "sheets are"))
		}
		items = append(items, drafting.Item{Lead: lead, Text: text})
	}
	if m := k.print.Measured; m.Known() {
		items = append(items, drafting.Item{Lead: "!", Text: m.Words() + ": the sheets are true on that printer alone."})
	}
	return drafting.Block{Heading: "Sheets", Items: items}
}

// paperWords names the paper, and how much of a roll the sheets take.
func (k *keyFace) paperWords(p drafting.Paper) string {
	if !p.Roll {
		return p.Name
	}
	long := 0.0
	for _, t := range k.Tiles {
		if len(t.Holes) > 0 {
			long += t.Sheet.Width * t.Sheet.Height / p.Width
		}
	}
	return fmt.Sprintf("%s, %s long together", p.Name, k.Length(math.Ceil(long)))
}

// drilling lists the holes by bit, depth and fixing, and says how each fixing is put in.
func (k *keyPage) drilling() drafting.Block {
	all := k.whole()
	return drafting.Block{Heading: "Holes", Items: append(holeItems(all, drillLetters(all)), fixingItems(all)...)}
}

// drillLetters returns a letter for each way to make a hole, where the face has several.
func drillLetters(v elevation.View) map[elevation.DrillKind]string {
	order, _ := v.Drills()
	out := map[elevation.DrillKind]string{}
	for i, d := range order {
		if len(order) > 1 {
			out[d] = strings.ToLower(drafting.Letters(i))
		}
	}
	return out
}

// holeItems words the ways to drill, with their letters if there are any.
func holeItems(v elevation.View, letters map[elevation.DrillKind]string) []drafting.Item {
	order, counts := v.Drills()
	var items []drafting.Item
	for _, d := range order {
		how := drafting.Joined(", ", drafting.Joined(" ", v.Drill(d.Bit), letters[d]), v.Length(d.Depth)+" deep", d.Fixing)
		items = append(items, drafting.Item{Lead: fmt.Sprint(counts[d]), Text: how})
	}
	return items
}

// fixingItems says how each fixing is put in, as far as the plan does.
func fixingItems(v elevation.View) []drafting.Item {
	var out []drafting.Item
	seen := map[string]bool{"": true}
	order, _ := v.Drills()
	for _, d := range order {
		if seen[d.Fixing] {
			continue
		}
		seen[d.Fixing] = true
		how := v.Work.HowTo(d.Fixing)
		if how == "" {
			how = "how it is put in, and the piece onto it, the plan does not say. Ask " + drafting.Joined(", ", "whoever made the pieces", v.Work.By) + ", before the first one."
		}
		out = append(out, drafting.Item{Lead: "", Text: d.Fixing + ": " + how})
	}
	return out
}

// cautions lists the cautions for the faces of the page and those for the whole of their wall.
func (k *keyPage) cautions() drafting.Block {
	v := k.first()
	var all []caution.Caution
	for _, c := range v.Work.Map.Cautions {
		ours := slices.ContainsFunc(k.faces, func(f *keyFace) bool { return c.Face == f.Face.Name })
		if c.Wall != v.Wall.Name || (c.Face != "" && !ours) {
			continue
		}
		// What is said of several faces alike is said once.
		i := slices.IndexFunc(all, func(d caution.Caution) bool { return d.Severity == c.Severity && d.Text == c.Text && d.Face != "" })
		if i < 0 || c.Face == "" {
			all = append(all, c)
			continue
		}
		all[i].Holes += c.Holes
	}
	var items []drafting.Item
	for _, c := range all {
		of := ""
		if c.Holes > 0 {
			of = fmt.Sprintf(" (%s%s)", drafting.Count(c.Holes, "hole", "holes"), k.whereOf(c))
		}
		// Every text ends with how cautions stand; on this page that is said once.
		text := strings.TrimSpace(strings.TrimSuffix(c.Text, caution.Standing))
		items = append(items, drafting.Item{Lead: strings.ToUpper(c.Severity), Text: text + of})
	}
	if len(items) == 0 {
		items = []drafting.Item{{Lead: "", Text: "None of the usual cautions was found to apply. That clears nothing."}}
	}
	for _, s := range v.Work.Map.Shares {
		// One that is not kept is a caution.
		if s.Wall == v.Wall.Name && s.Burns > 0 && s.Kept() {
			items = append(items, drafting.Item{Lead: "", Text: fmt.Sprintf("Pieces that burn cover %.1f %% of this wall; the limit set is %.1f %%.", 100*s.Of(), 100*s.Limit)})
		}
	}
	items = append(items, drafting.Item{Lead: "", Text: "These are usual cautions, not clearance: local codes and licensed trades decide."})
	return drafting.Block{Heading: "Cautions", Items: items}
}
