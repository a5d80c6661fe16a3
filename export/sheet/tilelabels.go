package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// How bad it is for a label to cover things, against one another.
const (
	worthCross    = 50.0
	worthRegister = 20.0
	worthEdge     = 40.0
	worthLabel    = 30.0
	worthDatum    = 4.0
	worthArrow    = 1.0
	worthOutline  = 0.6 // of a piece
	worthTip      = 2.0
	worthLeader   = 10.0
)

// spot finds a place for the label of something at a point, on the same side of the landing lines:
// seen where the thing is seen, and covered where a neighbour covers that.
func (l *leaf) spot(at plane.Point, candidates []plane.Rect) (box plane.Rect, cost float64, found bool) {
	seen := l.visible().Grow(-0.4)
	if seen.Contains(at) {
		inside := slices.DeleteFunc(slices.Clone(candidates), func(c plane.Rect) bool {
			return !seen.Contains(c.Min) || !seen.Contains(c.Max)
		})
		if box, cost, found = l.spots.best(inside); found && cost < worthLabel {
			return box, cost, true
		}
	}
	if !seen.Contains(at) {
		covered := slices.DeleteFunc(slices.Clone(candidates), seen.Overlaps)
		if box, cost, found = l.spots.best(covered); found && cost < worthLabel {
			return box, cost, true
		}
	}
	return l.spots.best(candidates)
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
	bitHeight    = draw.Letter25
	lineGap      = 1.2
)

// labels writes the number and the bit beside every cross, and then what each piece is. What has
// to move away from its place is tied to it by a thin line.
func (l *leaf) labels() {
	l.levelLabels()
	for _, i := range l.Holes {
		l.holeLabel(l.work.Map.Holes[i])
	}
	if l.print.HolesOnly {
		return
	}
	for _, i := range l.Tile.pieces {
		p := l.view.pieces[i]
		if at, shown := l.pieceAt(p); shown {
			l.pieceLabel(p, at)
		}
	}
}

// holeLabel writes the number and the bit of a hole beside its cross: not where the next sheet covers
// the hole, which has them.
func (l *leaf) holeLabel(h holemap.Hole) {
	if !l.owns(h.At) && !l.added {
		return
	}
	number, bit := fmt.Sprint(h.Number), joined(" ", l.drill(h.Bit), l.letters[drillOf(h)])
	if l.flagged(h) {
		number += "!"
	}
	width := math.Max(wide(number, numberHeight, true), wide(bit, bitHeight, false)) + 0.8
	height := numberHeight + lineGap + bitHeight + 0.8
	at := l.ToPage(h.At)
	gap := 2*math.Max(crossRadius, h.Bit/2) + 0.6
	places := around(at, width, height, gap, 9)
	for _, c := range slices.Clone(places) {
		if to := pushed(c, at, l.visible().Max); to != c {
			places = append(places, to)
		}
	}
	own := slices.DeleteFunc(slices.Clone(places), func(c plane.Rect) bool { return l.astray(c, at) })
	close := slices.DeleteFunc(slices.Clone(own), func(c plane.Rect) bool { return gapBetween(c, at) > gap+1 })
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
	l.spots.take(box, worthLabel)
	l.Group(fmt.Sprintf("label of hole %d", h.Number))
	if far := gapBetween(box, at); far > gap+1 {
		end := nearest(box, at)
		l.Line(end, at, shade(hair, quiet))
		for _, b := range boxesAlong(end, at) {
			l.spots.take(b.Grow(0.3), worthLeader)
		}
	}
	left := box.Min.X + 0.4
	knockout(l, plane.Rect{Min: box.Min, Max: plane.Point{X: left + wide(number, numberHeight, true) + 0.4, Y: box.Min.Y + 0.4 + numberHeight + lineGap/2}})
	knockout(l, plane.Rect{Min: plane.Point{X: box.Min.X, Y: box.Max.Y - 0.4 - bitHeight - lineGap/2}, Max: plane.Point{X: left + wide(bit, bitHeight, false) + 0.4, Y: box.Max.Y}})
	l.say(left, box.Min.Y+0.4+numberHeight, numberHeight, number, 0, style{bold: true})
	l.say(left, box.Max.Y-0.4, bitHeight, bit, 0, style{})
	l.End()
}

// astray reports whether a label of a cross would be taken for that of something else: it stands nearer
// to a register mark or to another cross, or the line from it to its own runs through one.
func (l *leaf) astray(box plane.Rect, at plane.Point) bool {
	end := nearest(box, at)
	far := end.Distance(at)
	other := func(q plane.Point, reach float64) bool {
		if nearest(box, q).Distance(q) <= far {
			return true
		}
		along := at.Sub(end)
		t := 0.0
		if far > 0 {
			t = math.Min(1, math.Max(0, q.Sub(end).Dot(along)/(far*far)))
		}
		return end.Lerp(at, t).Distance(q) < reach
	}
	if slices.ContainsFunc(l.marks(), func(m plane.Point) bool { return other(l.ToPage(m), registerRadius+0.5) }) {
		return true
	}
	return slices.ContainsFunc(slices.Concat(l.Holes, l.beyond), func(i int) bool {
		q := l.ToPage(l.work.Map.Holes[i].At)
		return q.Distance(at) > 0.01 && other(q, crossRadius)
	})
}

// pieceLabel writes the code of a piece's kind and the piece's number at its middle, in grey. On a
// crowded sheet it stands a little way off, or gives way: the crosses matter more.
func (l *leaf) pieceLabel(p hung, at plane.Point) {
	text := fmt.Sprintf("%s %d", p.kind.Code, p.ID)
	if l.stopped(p) {
		text += ": do not hang until answered, see the key"
	}
	width, height := wide(text, bitHeight, false)+0.6, bitHeight+0.6
	places := append([]plane.Rect{sized(at, width, height)}, around(at, width, height, 1.5, 8)...)
	box, cost, found := l.spot(at, places)
	if !found || cost > mostUnderName {
		return
	}
	l.spots.take(box, worthLabel)
	knockout(l, box)
	l.say(box.Min.X+0.3, box.Max.Y-0.3, bitHeight, text, 0, style{colour: quiet})
}

// stopped reports whether a caution stops a piece, so that it does not hang as it is.
func (l *leaf) stopped(p hung) bool {
	return slices.ContainsFunc(l.Holes, func(i int) bool {
		h := l.work.Map.Holes[i]
		return h.Piece == p.ID && slices.ContainsFunc(l.work.Map.Cautions, func(c caution.Caution) bool {
			return c.Severity == caution.Stop && c.Wall == l.wall.Name && slices.Contains(h.Cautions, c.Code)
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
func (l *leaf) pieceAt(p hung) (plane.Point, bool) {
	if l.Area.Contains(p.At) {
		return l.ToPage(p.At), true
	}
	return l.holeOf(p)
}

// holeOf returns where on the page a hole of a piece lies that is the sheet's own, and whether there is one.
func (l *leaf) holeOf(p hung) (plane.Point, bool) {
	for _, i := range l.Holes {
		if h := l.work.Map.Holes[i]; h.Piece == p.ID && l.owns(h.At) {
			return l.ToPage(h.At), true
		}
	}
	return plane.Point{}, false
}

// overWords says what to do with paper over a thing that lies flat on a wall. What people are to see, reach
// and go through in a fire is not papered over.
func overWords(kind wall.ObstructionKind) string {
	switch kind {
	case wall.ExitDoor:
		return "end the paper at its frame; the way out stays free"
	case wall.ExitSign, wall.CallPoint, wall.Alarm, wall.Extinguisher, wall.Detector, wall.Sprinkler, wall.Sign:
		return "cut this out; it stays in sight and in reach"
	}
	return "paper lies over it only where it is flush; cut round what stands proud"
}

// withinCut reports whether a thing lies within what stands out of the wall, for which the paper is cut away.
func (l *leaf) withinCut(o wall.Obstruction) bool {
	return slices.ContainsFunc(l.things, func(other wall.Obstruction) bool {
		return l.standOut(other) > 0 && plane.RegionOf(other.Shape).Contains(o.Shape.Bounds().Centre())
	})
}

// reasons writes the names of obstructions and of zones where there is room for them; the key says
// more.
func (l *leaf) reasons() {
	for i, o := range l.things {
		switch bounds := o.Shape.Bounds(); {
		case !plane.RegionOf(o.Shape).Touches(plane.Rectangle(l.Area.Min, l.Area.Width(), l.Area.Height())):
		case l.standOut(o) > 0:
			l.cutNote(o, i < l.own)
		case l.withinCut(o):
		default:
			if !l.noteWithin(o.Name+": "+overWords(o.Kind), bounds, o.Shape.Contains, false) {
				l.noteWithin(o.Name, bounds, o.Shape.Contains, true)
			}
		}
	}
	for _, z := range l.zonesThatSpeak() {
		if l.shows(z.Shape.Bounds()) {
			box, words := l.mapping().box(z.Shape.Bounds()), l.zoneWords(z)
			for _, window := range l.windows() {
				if box.Overlaps(window) {
					l.noteIn(words, meet(window, box), z.Shape.Contains, true)
				}
			}
		}
	}
}

// windows returns the parts of the sheet that are seen, one after the other along a long one: what is
// said of all of it is said in each.
func (l *leaf) windows() []plane.Rect {
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
func (l *leaf) zoneWords(z wall.Zone) string {
	words := zoneWords(z)
	within, held := 0, 0
	for _, i := range l.Holes {
		h := l.work.Map.Holes[i]
		if z.Shape.Contains(h.At) {
			within++
			if l.flagged(h) {
				held++
			}
		}
	}
	if z.Strength == wall.Caution && within > 0 && held == 0 {
		words += ": checked, no hole here is held"
	}
	return words
}

// zoneWords names a zone in few words.
func zoneWords(z wall.Zone) string {
	what := "keep free"
	switch {
	case z.Strength == wall.Caution:
		what = "caution"
	case z.Binds == wall.Holes:
		what = "no holes"
	}
	return joined(": ", what, cmp.Or(z.Name, z.Reason))
}

// noteWithin writes a text into what shows of an area and reports whether there was a free place.
// Where shortened, its beginning will do.
func (l *leaf) noteWithin(text string, bounds plane.Rect, inside func(plane.Point) bool, shortened bool) bool {
	return l.noteIn(text, l.mapping().box(bounds), inside, shortened)
}

// noteIn is noteWithin for an area in a box on the page.
func (l *leaf) noteIn(text string, box plane.Rect, inside func(plane.Point) bool, shortened bool) bool {
	seen := l.visible().Grow(-1.5)
	if text == "" || !box.Overlaps(seen) {
		return false
	}
	shown := meet(box, seen)
	within := func(p plane.Point) bool { return inside(l.ToFace(p)) }
	for _, n := range notesFor(text, bitHeight, shown.Width(), shown.Height(), 62, 8) {
		if whole := strings.Join(n.lines, " "); !shortened && strings.HasSuffix(whole, "…") {
			continue
		}
		width, height := n.size()
		candidates := slices.DeleteFunc(scatterIn(shown, width, height), func(c plane.Rect) bool {
			return !cornersWithin(c, within)
		})
		if box, cost, found := l.spots.best(candidates); found && cost == 0 {
			l.spots.take(box, worthLabel)
			knockout(l, box)
			l.note(n, box, quiet)
			return true
		}
	}
	return false
}
