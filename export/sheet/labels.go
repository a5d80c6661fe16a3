package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// How bad it is for a label to cover things, against one another.
const (
	WorthCross    = 50.0
	worthRegister = 20.0
	worthEdge     = 40.0
	worthLabel    = 30.0
	worthDatum    = 4.0
	worthArrow    = 1.0
	worthOutline  = 0.6 // of a piece
	WorthTip      = 2.0
	worthLeader   = 10.0
)

// spot finds a place for the label of something at a point, on the same side of the landing lines:
// seen where the thing is seen, and covered where a neighbour covers that.
func (l *Leaf) spot(at plane.Point, candidates []plane.Rect) (box plane.Rect, cost float64, found bool) {
	seen := l.visible().Grow(-0.4)
	if seen.Contains(at) {
		inside := slices.DeleteFunc(slices.Clone(candidates), func(c plane.Rect) bool {
			return !seen.Contains(c.Min) || !seen.Contains(c.Max)
		})
		if box, cost, found = l.spots.Best(inside); found && cost < worthLabel {
			return box, cost, true
		}
	}
	if !seen.Contains(at) {
		covered := slices.DeleteFunc(slices.Clone(candidates), seen.Overlaps)
		if box, cost, found = l.spots.Best(covered); found && cost < worthLabel {
			return box, cost, true
		}
	}
	return l.spots.Best(candidates)
}

// pushed returns a box about a point that lies past a corner, moved past it too.
func pushed(box plane.Rect, at, corner plane.Point) plane.Rect {
	const air = 0.6
	var by plane.Point
	if at.X > corner.X {
		by.X = math.Max(0, corner.X+air-box.Min.X)
	}
	if at.Y > corner.Y {
		by.Y = math.Max(0, corner.Y+air-box.Min.Y)
	}
	return plane.Rect{Min: box.Min.Add(by), Max: box.Max.Add(by)}
}

// The letters of a hole's label, mm.
const (
	numberHeight = draw.Letter35
	lineGap      = 1.2
)

// labels writes the number and the bit beside every cross, and then what each piece is. What has
// to move away from its place is tied to it by a thin line.
func (l *Leaf) labels() {
	l.levelLabels()
	for _, i := range l.Tile.Holes {
		l.holeLabel(l.Work.Map.Holes[i])
	}
	if l.Print.HolesOnly {
		return
	}
	for _, i := range l.Tile.Pieces {
		p := l.View.Pieces[i]
		if at, shown := l.pieceAt(p); shown {
			l.pieceLabel(p, at)
		}
	}
}

// holeLabel writes the number and the bit of a hole beside its cross: not where the next sheet covers
// the hole, which has them.
func (l *Leaf) holeLabel(h holemap.Hole) {
	if !l.Owns(h.At) && !l.Added {
		return
	}
	number, bit := fmt.Sprint(h.Number), drafting.Joined(" ", l.Drill(h.Bit), l.Letters[elevation.DrillOf(h)])
	if l.Flagged(h) {
		number += "!"
	}
	width := math.Max(drafting.TextWidth(number, numberHeight, true), drafting.TextWidth(bit, elevation.BitHeight, false)) + 0.8
	height := numberHeight + lineGap + elevation.BitHeight + 0.8
	at := l.ToPage(h.At)
	gap := 2*math.Max(drafting.CrossRadius, h.Bit/2) + 0.6
	places := drafting.Around(at, width, height, gap, 9)
	for _, c := range slices.Clone(places) {
		if to := pushed(c, at, l.visible().Max); to != c {
			places = append(places, to)
		}
	}
	own := slices.DeleteFunc(slices.Clone(places), func(c plane.Rect) bool { return l.astray(c, at) })
	close := slices.DeleteFunc(slices.Clone(own), func(c plane.Rect) bool { return drafting.GapBetween(c, at) > gap+1 })
	box, cost, found := l.spot(at, close)
	if !found || cost > mostUnderLabel {
		box, cost, found = l.spot(at, own)
	}
	if !found || cost >= worthLabel {
		box, _, found = l.spot(at, places)
	}
	if !found {
		return
	}
	l.spots.Take(box, worthLabel)
	l.Group(fmt.Sprintf("label of hole %d", h.Number))
	if far := drafting.GapBetween(box, at); far > gap+1 {
		end := drafting.Nearest(box, at)
		l.Line(end, at, drafting.Shade(drafting.Hair, drafting.Quiet))
		for _, b := range drafting.BoxesAlong(end, at) {
			l.spots.Take(b.Grow(0.3), worthLeader)
		}
	}
	left := box.Min.X + 0.4
	drafting.Knockout(l, plane.Rect{Min: box.Min, Max: plane.Point{X: left + drafting.TextWidth(number, numberHeight, true) + 0.4, Y: box.Min.Y + 0.4 + numberHeight + lineGap/2}})
	drafting.Knockout(l, plane.Rect{Min: plane.Point{X: box.Min.X, Y: box.Max.Y - 0.4 - elevation.BitHeight - lineGap/2}, Max: plane.Point{X: left + drafting.TextWidth(bit, elevation.BitHeight, false) + 0.4, Y: box.Max.Y}})
	l.Say(left, box.Min.Y+0.4+numberHeight, numberHeight, number, 0, drafting.Style{Bold: true})
	l.Say(left, box.Max.Y-0.4, elevation.BitHeight, bit, 0, drafting.Style{})
	l.End()
}

// astray reports whether a label of a cross would be taken for that of something else: it stands nearer
// to a register mark or to another cross, or the line from it to its own runs through one.
func (l *Leaf) astray(box plane.Rect, at plane.Point) bool {
	end := drafting.Nearest(box, at)
	far := end.Distance(at)
	other := func(q plane.Point, reach float64) bool {
		if drafting.Nearest(box, q).Distance(q) <= far {
			return true
		}
		along := at.Sub(end)
		t := 0.0
		if far > 0 {
			t = math.Min(1, math.Max(0, q.Sub(end).Dot(along)/(far*far)))
		}
		return end.Lerp(at, t).Distance(q) < reach
	}
	if slices.ContainsFunc(l.marks(), func(m plane.Point) bool { return other(l.ToPage(m), drafting.RegisterRadius+0.5) }) {
		return true
	}
	return slices.ContainsFunc(slices.Concat(l.Tile.Holes, l.Beyond), func(i int) bool {
		q := l.ToPage(l.Work.Map.Holes[i].At)
		return q.Distance(at) > 0.01 && other(q, drafting.CrossRadius)
	})
}

// pieceLabel writes the code of a piece's kind and the piece's number at its middle, in grey. On a
// crowded sheet it stands a little way off, or gives way: the crosses matter more.
func (l *Leaf) pieceLabel(p elevation.Hung, at plane.Point) {
	text := fmt.Sprintf("%s %d", p.Kind.Code, p.ID)
	if l.stopped(p) {
		text += ": do not hang until answered, see the key"
	}
	width, height := drafting.TextWidth(text, elevation.BitHeight, false)+0.6, elevation.BitHeight+0.6
	places := append([]plane.Rect{drafting.BoxAt(at, width, height)}, drafting.Around(at, width, height, 1.5, 8)...)
	box, cost, found := l.spot(at, places)
	if !found || cost > mostUnderName {
		return
	}
	l.spots.Take(box, worthLabel)
	drafting.Knockout(l, box)
	l.Say(box.Min.X+0.3, box.Max.Y-0.3, elevation.BitHeight, text, 0, drafting.Style{Colour: drafting.Quiet})
}

// stopped reports whether a caution stops a piece, so that it does not hang as it is.
func (l *Leaf) stopped(p elevation.Hung) bool {
	return slices.ContainsFunc(l.Tile.Holes, func(i int) bool {
		h := l.Work.Map.Holes[i]
		return h.Piece == p.ID && slices.ContainsFunc(l.Work.Map.Cautions, func(c caution.Caution) bool {
			return c.Severity == caution.Stop && c.Wall == l.Wall.Name && slices.Contains(h.Cautions, c.Code)
		})
	})
}

// mostUnderLabel is how much of outlines and arrows the label of a hole may cover before it moves away
// from its cross.
const mostUnderLabel = 6.0

// mostUnderName is how much of outlines and arrows the name of a piece may cover.
const mostUnderName = 6.0

// pieceAt returns where on the page a piece is named, and whether it is: at its middle, or where the
// sheet has only a part of it at a hole of it there.
func (l *Leaf) pieceAt(p elevation.Hung) (plane.Point, bool) {
	if l.Area.Contains(p.At) {
		return l.ToPage(p.At), true
	}
	return l.holeOf(p)
}

// holeOf returns where on the page a hole of a piece lies that is the sheet's own, and whether there is one.
func (l *Leaf) holeOf(p elevation.Hung) (plane.Point, bool) {
	for _, i := range l.Tile.Holes {
		if h := l.Work.Map.Holes[i]; h.Piece == p.ID && l.Owns(h.At) {
			return l.ToPage(h.At), true
		}
	}
	return plane.Point{}, false
}

// OverWords says what to do with paper over a thing that lies flat on a wall. What people are to see, reach
// and go through in a fire is not papered over.
func OverWords(kind wall.ObstructionKind) string {
	switch kind {
	case wall.ExitDoor:
		return "end the paper at its frame; the way out stays free"
	case wall.ExitSign, wall.CallPoint, wall.Alarm, wall.Extinguisher, wall.Detector, wall.Sprinkler, wall.Sign:
		return "cut this out; it stays in sight and in reach"
	}
	return "paper lies over it only where it is flush; cut round what stands proud"
}

// withinCut reports whether a thing lies within what stands out of the wall, for which the paper is cut away.
func (l *Leaf) withinCut(o wall.Obstruction) bool {
	return slices.ContainsFunc(l.Things, func(other wall.Obstruction) bool {
		return l.StandOut(other) > 0 && plane.RegionOf(other.Shape).Contains(o.Shape.Bounds().Centre())
	})
}

// reasons writes the names of obstructions and of zones where there is room for them; the key says
// more.
func (l *Leaf) reasons() {
	for i, o := range l.Things {
		switch bounds := o.Shape.Bounds(); {
		case !plane.RegionOf(o.Shape).Touches(plane.Rectangle(l.Area.Min, l.Area.Width(), l.Area.Height())):
		case l.StandOut(o) > 0:
			l.cutNote(o, i < l.Own)
		case l.withinCut(o):
		default:
			if !l.noteWithin(o.Name+": "+OverWords(o.Kind), bounds, o.Shape.Contains, false) {
				l.noteWithin(o.Name, bounds, o.Shape.Contains, true)
			}
		}
	}
	for _, z := range l.ZonesThatSpeak() {
		if l.shows(z.Shape.Bounds()) {
			box, words := l.Mapping().Box(z.Shape.Bounds()), l.zoneWords(z)
			for _, window := range l.windows() {
				if box.Overlaps(window) {
					l.noteIn(words, drafting.Meet(window, box), z.Shape.Contains, true)
				}
			}
		}
	}
}

// windows returns the parts of the sheet that are seen, one after the other along a long one: what is
// said of all of it is said in each.
func (l *Leaf) windows() []plane.Rect {
	seen := l.visible()
	columns, rows := math.Ceil(seen.Width()/labelEvery), math.Ceil(seen.Height()/labelEvery)
	var out []plane.Rect
	for r := range int(rows) {
		for c := range int(columns) {
			corner := plane.Point{X: seen.Min.X + seen.Width()*float64(c)/columns, Y: seen.Min.Y + seen.Height()*float64(r)/rows}
			out = append(out, plane.Rect{Min: corner, Max: corner.Add(plane.Point{X: seen.Width() / columns, Y: seen.Height() / rows})})
		}
	}
	return out
}

// zoneWords names a zone in few words, and says of a caution where it holds none of the holes in it.
func (l *Leaf) zoneWords(z wall.Zone) string {
	words := ZoneWords(z)
	within, held := 0, 0
	for _, i := range l.Tile.Holes {
		h := l.Work.Map.Holes[i]
		if z.Shape.Contains(h.At) {
			within++
			if l.Flagged(h) {
				held++
			}
		}
	}
	if z.Strength == wall.Caution && within > 0 && held == 0 {
		words += ": checked, no hole here is held"
	}
	return words
}

// ZoneWords names a zone in few words.
func ZoneWords(z wall.Zone) string {
	what := "keep free"
	switch {
	case z.Strength == wall.Caution:
		what = "caution"
	case z.Binds == wall.Holes:
		what = "no holes"
	}
	return drafting.Joined(": ", what, cmp.Or(z.Name, z.Reason))
}

// noteWithin writes a text into what shows of an area and reports whether there was a free place.
// Where shortened, its beginning will do.
func (l *Leaf) noteWithin(text string, bounds plane.Rect, inside func(plane.Point) bool, shortened bool) bool {
	return l.noteIn(text, l.Mapping().Box(bounds), inside, shortened)
}

// noteIn is noteWithin for an area in a box on the page.
func (l *Leaf) noteIn(text string, box plane.Rect, inside func(plane.Point) bool, shortened bool) bool {
	seen := l.visible().Grow(-1.5)
	if text == "" || !box.Overlaps(seen) {
		return false
	}
	shown := drafting.Meet(box, seen)
	within := func(p plane.Point) bool { return inside(l.ToFace(p)) }
	for _, n := range drafting.NotesFor(text, elevation.BitHeight, shown.Width(), shown.Height(), 62, 8) {
		if whole := strings.Join(n.Lines, " "); !shortened && strings.HasSuffix(whole, "…") {
			continue
		}
		width, height := n.Size()
		candidates := slices.DeleteFunc(drafting.ScatterIn(shown, width, height), func(c plane.Rect) bool {
			return !drafting.CornersWithin(c, within)
		})
		if box, cost, found := l.spots.Best(candidates); found && cost == 0 {
			l.spots.Take(box, worthLabel)
			drafting.Knockout(l, box)
			l.Note(n, box, drafting.Quiet)
			return true
		}
	}
	return false
}
