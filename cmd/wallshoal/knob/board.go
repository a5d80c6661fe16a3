package knob

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/export/drafting"
	"wallshoal/export/tiling"
	"wallshoal/scatter/mixing"
	"wallshoal/wall"
)

// The fields that knobs are for, by what of the work they change.

func (b *board) count() {
	b.group = "how many"
	count := b.job.Plan.Composition.Count
	exact := 0 // pieces of the kinds that say how many there are of them
	for _, f := range b.items("pieces") {
		exact += b.whole(f + ".count")
	}
	if b.node("composition.density.base") == nil {
		b.add(Knob{ID: "composition.count", Label: "pieces", Type: Whole, Min: float64(max(1, exact)), Max: float64(max(2*count, 50)), Step: 1, Help: "how many there are in all"}, "")
	}
	b.add(Knob{ID: "seed", Label: "seed", Type: Whole, Min: 0, Max: 100, Step: 1, Help: "any whole number: another one gives another work by the same rules"}, "1")
	for i, f := range b.items("pieces") {
		if b.node(f+".count") != nil {
			most := b.fewest() - exact + b.whole(f+".count")
			b.add(Knob{ID: f + ".count", Label: b.kind(i) + ", pieces", Type: Whole, Min: 1, Max: float64(max(1, most)), Step: 1, Help: "exactly so many of this kind"}, "")
			continue
		}
		b.add(Knob{ID: f + ".share", Label: b.kind(i) + ", share", Type: Number, Min: 0, Max: 10, Step: 0.1, Help: "how many of this kind against the others: 2 is twice as many as 1, and 0 is none"}, "1")
	}
}

// whole returns the whole number that a field holds; 0 where there is none.
func (b *board) whole(field string) int {
	n := b.node(field)
	if n == nil {
		return 0
	}
	v, _ := b.number(Whole, n.Value)
	return int(v)
}

// fewest returns how many pieces there are in all at the least, in the plan and its options.
func (b *board) fewest() int {
	least := b.job.Plan.Composition.Count
	for _, o := range b.job.Plan.Options {
		if o.Composition.Count > 0 {
			least = min(least, o.Composition.Count)
		}
	}
	return least
}

// kind names a piece of the plan, of which there can be several kinds.
func (b *board) kind(i int) string {
	if n := b.node(fmt.Sprintf("pieces[%d].name", i)); n != nil {
		return n.Value
	}
	return fmt.Sprintf("kind %d", i+1)
}

func (b *board) closeness() {
	b.group = "how close"
	c := b.job.Plan.Composition
	b.add(b.length("composition.spacing", "spacing", 5, max(400, 2*c.Spacing), "least distance between the centres of two pieces"), "")
	if b.node("composition.overlap") != nil {
		b.add(Knob{ID: "composition.overlap", Label: "overlap", Type: Percent, Min: 0, Max: 90, Step: 1, Help: "how much of a piece's outline another may cover"}, "0")
	} else {
		b.add(b.length("composition.gap", "gap", 0, max(100, 2*c.Gap), "least distance between the outlines of two pieces"), b.show(plan.UsualGap))
	}
	b.add(b.length("composition.seating.move", "moving aside", 0, 100, "how far a piece may move so that its holes fall where they may be drilled"), b.show(plan.UsualMove))
	apart := 0.0
	if c.Overlap > 0 {
		apart = plan.UsualHoleGap
	}
	b.add(b.length("composition.seating.holes", "distance between holes", 0, 100, "least distance between holes of different pieces"), b.show(apart))
}

func (b *board) density() {
	b.group = "where it gathers"
	const d = "composition.density"
	gathered := b.items(d + ".gather")
	for i, f := range gathered {
		title := numbered("gathering", i, len(gathered))
		b.place(f+".round", title, "more pieces gather round this place: drag it on the wall")
		b.path(f+".along", title, "more pieces gather along this path: drag its points on the wall")
		b.add(Knob{ID: f + ".strength", Label: title + ", strength", Type: Number, Min: 0.1, Max: 12, Step: 0.1, Help: "how many times as many pieces there as far away from it, on the same space"}, "")
		b.add(b.length(f+".reach", title+", reach", 50, 3000, "how far it reaches: at this distance half of it is left"), b.show(500))
	}
	if len(gathered) == 0 {
		b.lacking(d+".gather.round", "gathering", "more pieces gather round a place: put it on the wall")
	}
	for i, f := range b.items(d + ".bands") {
		title := numbered("band", i, len(b.items(d+".bands")))
		b.add(b.length(f+".from", title+", from", 0, 4000, "where it begins, above the floor"), b.show(0))
		b.add(b.length(f+".to", title+", to", 0, 4000, "where it ends, above the floor"), b.show(4000))
		b.add(Knob{ID: f + ".strength", Label: title + ", strength", Type: Number, Min: 0.1, Max: 12, Step: 0.1, Help: "how many times as many pieces in the band as beside it, on the same space"}, "")
	}
	for i, f := range b.items(d + ".fade") {
		title := numbered("fade", i, len(b.items(d+".fade")))
		b.add(b.length(f+".over", title+", width", 10, 3000, "from how far away the work thins out"), "")
		b.add(Knob{ID: f + ".rest", Label: title + ", what is left", Type: Percent, Min: 0, Max: 100, Step: 1, Help: "how many of the pieces are left at its end: 0 % for none"}, "0 %")
	}
	b.add(b.length(clumpsField+".size", "clumps, size", 100, 3000, "pieces stand in groups, so far from the middle of one to the next"), none)
	if b.node(clumpsField) != nil {
		b.add(Knob{ID: clumpsField + ".strength", Label: "clumps, strength", Type: Number, Min: 1, Max: 20, Step: 0.5, Help: "how tight the groups are"}, "6")
		b.add(Knob{ID: clumpsField + ".seed", Label: "clumps, seed", Type: Whole, Min: 0, Max: 100, Step: 1, Help: "any whole number: another one gives other groups"}, "1")
	}
	b.add(Knob{ID: d + ".drift", Label: "denser along the flow", Type: Number, Min: 0.1, Max: 10, Step: 0.1, Help: "how many times as many pieces at the end of the flow as at its beginning; 1 is the same all along"}, "1")
}

// clumpsField is what the work clumps by, and none what it does without it.
const (
	clumpsField = "composition.density.clumps"
	none        = "none"
)

// everywhere stands for a reach that fades nowhere.
const everywhere = "everywhere"

func numbered(word string, i, of int) string {
	if of == 1 {
		return word
	}
	return fmt.Sprintf("%s %d", word, i+1)
}

func (b *board) flow() {
	b.group = "which way"
	currents := b.items("composition.flow")
	for i, f := range currents {
		title := numbered("current", i, len(currents))
		b.place(f+".toward", title+": towards", "the flow runs to this place: drag it on the wall")
		b.place(f+".away", title+": away from", "the flow runs from this place: drag it on the wall")
		b.place(f+".swirl", title+": swirl", "the flow runs round this place: drag it on the wall")
		b.path(f+".along", title+": along", "the flow runs along it: drag its points on the wall")
		if n := b.node(f + ".sweep"); n != nil {
			field := f + ".sweep"
			if n.Kind == yaml.MappingNode {
				field += ".heading"
			}
			if b.node(field) != nil {
				b.add(Knob{ID: field, Label: title + ": sweep", Type: Degrees, Min: 0, Max: 359, Step: 1, Help: "which way it runs, in degrees clockwise from straight up"}, "")
			}
		}
		if b.node(f+".meander") != nil {
			b.add(b.length(f+".meander.size", title+": meander", 50, 5000, "it winds in bends of about this size"), "")
		}
		b.add(Knob{ID: f + ".strength", Label: title + ", strength", Type: Number, Min: 0.05, Max: 5, Step: 0.05, Help: "how strong it is against the other currents"}, "1")
		if b.node(f+".reach") != nil {
			b.add(b.length(f+".reach", title+", reach", 50, 5000, "how far it reaches: at this distance it is half as strong"), everywhere)
		}
	}
	if len(currents) == 0 {
		b.lacking("composition.flow[0].toward", "flow towards", "the flow runs to a place: put it on the wall")
	}
	b.add(Knob{ID: "composition.part", Label: "goes round things", Type: Switch, Help: "the flow parts round what is in its way"}, "false")
}

func (b *board) headings() {
	b.group = "how mixed"
	b.add(Knob{ID: "composition.spread", Label: "spread", Type: Degrees, Min: 0, Max: 60, Step: 1, Help: "how far pieces turn off the flow: two of three stay within this"}, "12")
	b.add(Knob{ID: "composition.strays", Label: "strays", Type: Percent, Min: 0, Max: 30, Step: 0.5, Help: "how many pieces head any way at all"}, "0 %")
	if b.node("composition.second") != nil {
		b.add(Knob{ID: "composition.second.turn", Label: "second way, turn", Type: Degrees, Min: -180, Max: 180, Step: 1, Help: "some pieces head another way, turned so far from the flow"}, "")
		b.add(Knob{ID: "composition.second.share", Label: "second way, share", Type: Percent, Min: 0, Max: 50, Step: 1, Help: "how many pieces head the second way"}, "")
	}
	b.add(Knob{ID: "composition.differ", Label: "unlike neighbours", Type: Degrees, Min: 0, Max: 60, Step: 1, Help: "how far a piece's heading is to be from those of its nearest three"}, "0")
}

func (b *board) mixing() {
	if n := b.node(mixField); n != nil && n.Kind == yaml.MappingNode {
		b.add(Knob{ID: mixField + "." + families, Label: "size of families", Type: Whole, Min: 2, Max: 20, Step: 1, Help: "so many pieces of one kind hang together"}, "")
		return
	}
	b.add(Knob{ID: mixField, Label: "mix of kinds", Type: Choice, Values: []string{string(mixing.Scattered), string(mixing.Drifting), families},
		Help: "scattered: pieces of one kind apart; drifting: one kind after the other along the flow; families: five of one kind together"}, string(mixing.Scattered))
}

// families is the choice of a mix that the plan writes as a map.
const (
	mixField = "composition.mix"
	families = "families"
)

func (b *board) walls() {
	b.group = "wall"
	highest := 0.0
	for _, w := range b.job.Plan.Room.Walls {
		highest = max(highest, w.Outline.Bounds().Max.Y)
	}
	b.add(b.length(datumField, "datum", 0, highest, "the level line on the walls that all heights are measured from"), b.show(plan.UsualDatum))
	for i, w := range b.job.Plan.Room.Walls {
		if !w.Ceiling {
			b.add(Knob{ID: fmt.Sprintf("room.walls[%d].use", i), Label: w.Name, Type: Switch, Help: "this wall carries pieces"}, "true")
		}
	}
}

const datumField = "room.datum"

func (b *board) print() {
	b.group = "paper"
	b.add(Knob{ID: "print.paper", Label: "paper", Type: Choice, Values: drafting.PaperNames(), Help: "what the hole map is printed on"}, plan.UsualPaper(b.units).Name)
	b.add(Knob{ID: "print.orientation", Label: "orientation", Type: Choice, Values: []string{"auto", "portrait", "landscape"}, Help: "auto takes whichever needs fewer sheets"}, "auto")
	b.add(b.length("print.overlap", "overlap of sheets", tiling.LeastOverlap, 40, "how much neighbouring sheets share"), b.show(plan.UsualSheetOverlap))
}

// lacking adds a knob of a place that the plan does not name yet: the middle of the first face that
// carries pieces, until it is put somewhere.
func (b *board) lacking(field, label, help string) {
	for i, f := range b.job.Site.Faces {
		if f.Used {
			b.knobs = append(b.knobs, Knob{
				ID: field, Group: b.group, Label: label, Type: Place, Help: help,
				Spots: []Spot{{Face: i, At: f.Outline.Bounds().Centre()}},
			})
			return
		}
	}
}

// face returns the face that a map names by its wall and its face.
func (b *board) face(n *yaml.Node) (int, bool) {
	if n == nil || n.Kind != yaml.MappingNode {
		return 0, false
	}
	name := wall.WallFace
	var of string
	for i := 0; i+1 < len(n.Content); i += 2 {
		switch n.Content[i].Value {
		case "wall":
			of = n.Content[i+1].Value
		case "face":
			name = n.Content[i+1].Value
		}
	}
	for i, f := range b.job.Site.Faces {
		if wall.FoldName(b.job.Site.Room.Walls[f.Wall].Name) == wall.FoldName(of) && wall.FoldName(f.Name) == wall.FoldName(name) {
			return i, true
		}
	}
	return 0, false
}

// place adds the knob of a place on a wall or a face. One in the room is none.
func (b *board) place(field, label, help string) {
	n := b.node(field)
	face, ok := b.face(n)
	if !ok {
		return
	}
	at, ok := b.point(b.node(field + ".at"))
	if !ok {
		return
	}
	b.knobs = append(b.knobs, Knob{ID: field, Group: b.group, Label: label, Type: Place, Given: true, Help: help, Spots: []Spot{{face, at}},
		Value: b.spots([]Spot{{face, at}}), Unit: string(b.units)})
}

// path adds the knob of a path on one wall or face.
func (b *board) path(field, label, help string) {
	n := b.node(field)
	face, ok := b.face(n)
	points := b.node(field + ".points")
	if !ok || points == nil || points.Kind != yaml.SequenceNode {
		return
	}
	var spots []Spot
	for _, p := range points.Content {
		at, ok := b.point(p)
		if !ok {
			return
		}
		spots = append(spots, Spot{face, at})
	}
	b.knobs = append(b.knobs, Knob{ID: field, Group: b.group, Label: label, Type: Path, Given: true, Help: help, Spots: spots,
		Value: b.spots(spots), Unit: string(b.units)})
}

// spots writes places as Change reads them.
func (b *board) spots(spots []Spot) string {
	parts := make([]string, len(spots))
	for i, s := range spots {
		parts[i] = fmt.Sprintf("%d %s %s", s.Face, trimmed(s.At.X), trimmed(s.At.Y))
	}
	return strings.Join(parts, "; ")
}

func trimmed(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }
