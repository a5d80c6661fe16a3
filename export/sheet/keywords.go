package sheet

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
	"wallshoal/export/number"
	"wallshoal/wall/plane"
)

// words returns everything that the key page has to say.
func (k *keyPage) words() []block {
	return slices.DeleteFunc([]block{
		k.sinceBlock(), k.howToHang(), k.sheets(), k.kindsBlock(), k.drilling(), k.signsBlock(), k.cautions(), k.zonesBlock(),
	}, func(b block) bool { return len(b.rows)+len(b.items) == 0 })
}

func (k *keyPage) howToHang() block {
	level := k.faces[0].levelWords()
	for _, f := range k.faces {
		if _, upright := f.datum(); upright {
			level = f.levelWords()
			break
		}
	}
	left, right := k.print.sides()
	drill := " The grey outline is the piece; the arrow points to its head."
	if k.print.HolesOnly {
		drill = " The pieces themselves are left out."
	}
	b := block{heading: "How to hang it", items: []item{
		{"1", "Print every sheet at 100 % (“actual size”), never fitted to the page."},
		{"2", k.checkWords()},
		{"3", joined(" ", k.sizeWords(), level)},
		{"4", "Cut each sheet along its frame at the " + left + " and at the top, through the middle of the register marks, and round any hole as the line goes. Cut away the parts with close level lines, for what stands out of the wall. " + k.pastWords()},
		{"5", k.firstWords() + " Begin at the top " + left + " of the sheets there are, and go along each row from " + left + " to " + right + ", row by row downwards. Every sheet lies over the one to its " + left + " and those above it: its cut edges on their landing lines, so that the halves of the register marks meet. Tape it along these edges, and at two corners to the bare wall, so that it holds whatever comes down round it. Where the picture shows a gap between sheets, measure the next one."},
		{"6", k.measureWords(left)},
		{"7", "Look for cables and pipes with a detector before drilling. Where a cross has a square round it and its number an exclamation mark, a caution of its own, below, has to be settled first; cautions that hold for all holes have no square."},
		{"8", "Drill through the paper where the lines of a cross meet. The big figure is the hole's number, the small one the bit." + drill},
		{"9", k.hangWords()},
		{"10", k.fingerprintWords()},
	}}
	if k.print.Mirror {
		b.items = append([]item{{"!", mirrorWords + ". The sheets and the picture show the wall as it is seen from behind, or through the paper; its ends are named as they are seen from the front."}}, b.items...)
	}
	return b
}

// measureWords says which sheets are measured, and by what; left is the side that sheets begin on.
func (k *keyPage) measureWords(left string) string {
	end := k.first().endName(k.print, "left")
	if slices.ContainsFunc(k.faces, func(f *keyFace) bool { return f.endName(k.print, "left") != end }) {
		end = "the end that they name"
	}
	lines := "The dash-dot line across the face lies on that on the sheet; the fine ones stand so far from " + end + " and from the edge as they say."
	if slices.ContainsFunc(k.faces, func(f *keyFace) bool { return holemap.Upright(f.face) }) {
		lines = "The level line on the sheet lies on that on the wall. The fine upright dash-dot lines are plumb, so far from " + end +
			" as they say, and the fine level ones are so far off the datum as they say: a sheet can be hung by one of either alone, and so can each part of one that what stands out of the wall cuts in two."
	}
	return "Measure the first sheet of every row, every sheet with no neighbour to lie on, and any other now and then: its black register mark (at the top " + left +
		", if that is on the free wall) belongs where the words in its corner say. " + lines +
		" Where joining and measuring differ by more than " + k.amiss() + ", measuring is right."
}

// amiss returns how far a sheet may be out, in what the rules of the work are divided into.
func (k *keyPage) amiss() string {
	if k.first().work.Units.Imperial() {
		return `1/32"`
	}
	return "1 mm"
}

// fingerprintWords says which sheets belong together.
func (k *keyPage) fingerprintWords() string {
	own := fmt.Sprintf(" The %d signs after it are the mark of that one sheet: of what is drilled on it.", ownMarkLength)
	print := k.first().work.Map.Fingerprint
	if k.faces[0].since != nil {
		return fmt.Sprintf("Sheets of this map bear the fingerprint %s. Sheets with another belong beside them only where this page lists them, by name and mark.", print) + own
	}
	return fmt.Sprintf("Every sheet bears the fingerprint %s. One with another belongs to another layout, and never onto this wall, unless a key page lists it as staying, by name and mark.", print) + own
}

// levelWords says how the first line is drawn that the sheets are laid out along.
func (k *keyFace) levelWords() string {
	y, upright := k.datum()
	floor, more := k.zero(), k.floorWords()
	if more != "" {
		floor, more = "the zero of the wall", " "+more
	}
	switch {
	case !upright:
		text := "Lay the sheets out from " + k.endName(k.print, "left") + " and from " + k.footWords() + ", as their feet say."
		return joined(" ", text, k.baseWords(), k.stance())
	case len(k.spansAt(y)) == 0:
		line := k.levels()[0]
		text := fmt.Sprintf("The datum does not cross this face. Draw a level line on it, %s, %s", k.levelMark(line), k.offDatum(line.y-y))
		if !k.unseenZero() {
			text += fmt.Sprintf(", which is %s above %s", k.length(k.heightOf(plane.Point{Y: line.y})), floor)
		}
		text += ". It is the dash-dot line on the sheets, and they count from it."
		if foot, high, where := k.footUnder(line); where != "" {
			text += fmt.Sprintf(" Check it: it is %s above %s at %s", k.length(high-foot), k.footName(), where) + k.outWords() + "."
		}
		return text + k.moreLevels() + more
	case k.unseenZero():
		return fmt.Sprintf("Draw the datum on the wall with a level, %s. It is the dash-dot line on the sheets.", k.datumAbove(y)) + k.moreLevels() + more
	case math.Abs(y-k.work.Site.Room.Datum) < 0.5:
		return fmt.Sprintf("Draw the datum on the wall with a level, %s above %s. It is the dash-dot line on the sheets.",
			k.length(k.work.Site.Room.Datum), floor) + k.moreLevels() + more
	}
	return fmt.Sprintf("Draw the datum on the wall with a level, %s above %s. It is the dash-dot line on the sheets; it runs %s above the foot of this face.",
		k.length(k.work.Site.Room.Datum), floor, k.length(y)) + k.moreLevels() + more
}

func (k *keyPage) sheets() block {
	var items []item
	for _, f := range k.faces {
		printed, lead := f.printed(), ""
		text := fmt.Sprintf("%s of %s, for %s and %s.",
			count(printed, "sheet", "sheets"), f.paperWords(k.print.Paper), count(len(f.pieces), "piece", "pieces"), count(len(f.holes), "hole", "holes"))
		if len(k.faces) > 1 {
			lead = fmt.Sprintf("%d-", f.number)
			text = joined(" ", f.sideName()+": "+text, f.baseWords(), f.stance())
		}
		if f.since != nil {
			text += fmt.Sprintf(" %s printed anew.", count(len(f.since.printed), "is", "are"))
		}
		if k.print.Auto && f.cut.Landscape {
			text += " They are printed landscape."
		}
		text = joined(" ", text, f.cut.words(f.work.Units))
		if out := len(f.tiles) - printed; out > 0 {
			text += fmt.Sprintf(" %s left out, hatched in the picture, for want of holes.", count(out, "sheet is", "sheets are"))
		}
		items = append(items, item{lead, text})
	}
	if m := k.print.Measured; m.known() {
		items = append(items, item{"!", m.words() + ": the sheets are true on that printer alone."})
	}
	return block{heading: "Sheets", items: items}
}

// paperWords names the paper, and how much of a roll the sheets take.
func (k *keyFace) paperWords(p Paper) string {
	if !p.Roll {
		return p.Name
	}
	long := 0.0
	for _, t := range k.tiles {
		if len(t.Holes) > 0 {
			long += t.Sheet.Width * t.Sheet.Height / p.Width
		}
	}
	return fmt.Sprintf("%s, %s long together", p.Name, k.length(math.Ceil(long)))
}

// drilling lists the holes by bit, depth and fixing, and says how each fixing is put in.
func (k *keyPage) drilling() block {
	all := k.whole()
	return block{heading: "Holes", items: append(all.holeItems(all.drillLetters()), all.fixingItems()...)}
}

// A drillKind is one way to make a hole.
type drillKind struct {
	bit, depth float64
	fixing     string
}

// drillOf returns how a hole is made.
func drillOf(h holemap.Hole) drillKind { return drillKind{h.Bit, h.Depth, h.Fixing} }

// drillLetters returns a letter for each way to make a hole, where the face has several.
func (v view) drillLetters() map[drillKind]string {
	order, _ := v.drills()
	out := map[drillKind]string{}
	for i, d := range order {
		if len(order) > 1 {
			out[d] = strings.ToLower(rowLetters(i))
		}
	}
	return out
}

// drills counts the holes of the face by bit, depth and fixing, the smallest bit first.
func (v view) drills() ([]drillKind, map[drillKind]int) {
	counts := map[drillKind]int{}
	for _, h := range v.holes {
		counts[drillOf(h)]++
	}
	order := slices.SortedFunc(maps.Keys(counts), func(a, b drillKind) int {
		return cmp.Or(cmp.Compare(a.bit, b.bit), cmp.Compare(a.depth, b.depth), strings.Compare(a.fixing, b.fixing))
	})
	return order, counts
}

// holeItems words the ways to drill, with their letters if there are any.
func (v view) holeItems(letters map[drillKind]string) []item {
	order, counts := v.drills()
	var items []item
	for _, d := range order {
		how := joined(", ", joined(" ", v.drill(d.bit), letters[d]), v.length(d.depth)+" deep", d.fixing)
		items = append(items, item{fmt.Sprint(counts[d]), how})
	}
	return items
}

// fixingItems says how each fixing is put in, as far as the plan does.
func (v view) fixingItems() []item {
	var out []item
	seen := map[string]bool{"": true}
	order, _ := v.drills()
	for _, d := range order {
		if seen[d.fixing] {
			continue
		}
		seen[d.fixing] = true
		how := v.work.HowTo(d.fixing)
		if how == "" {
			how = "how it is put in, and the piece onto it, the plan does not say. Ask " + joined(", ", "whoever made the pieces", v.work.By) + ", before the first one."
		}
		out = append(out, item{"", d.fixing + ": " + how})
	}
	return out
}

// cautions lists the cautions for the faces of the page and those for the whole of their wall.
func (k *keyPage) cautions() block {
	v := k.first()
	var all []caution.Caution
	for _, c := range v.work.Map.Cautions {
		ours := slices.ContainsFunc(k.faces, func(f *keyFace) bool { return c.Face == f.face.Name })
		if c.Wall != v.wall.Name || (c.Face != "" && !ours) {
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
	var items []item
	for _, c := range all {
		of := ""
		if c.Holes > 0 {
			of = fmt.Sprintf(" (%s%s)", count(c.Holes, "hole", "holes"), k.whereOf(c))
		}
		// Every text ends with how cautions stand; on this page that is said once.
		text := strings.TrimSpace(strings.TrimSuffix(c.Text, caution.Standing))
		items = append(items, item{strings.ToUpper(c.Severity), text + of})
	}
	if len(items) == 0 {
		items = []item{{"", "None of the usual cautions was found to apply. That clears nothing."}}
	}
	for _, s := range v.work.Map.Shares {
		// One that is not kept is a caution.
		if s.Wall == v.wall.Name && s.Burns > 0 && s.Kept() {
			items = append(items, item{"", fmt.Sprintf("Pieces that burn cover %.1f %% of this wall; the limit set is %.1f %%.", 100*s.Of(), 100*s.Limit)})
		}
	}
	items = append(items, item{"", "These are usual cautions, not clearance: local codes and licensed trades decide."})
	return block{heading: "Cautions", items: items}
}

// count returns a number with the right form of its noun.
func count(n int, one, many string) string {
	return number.Count(n, one, many)
}
