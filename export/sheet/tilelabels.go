package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

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
	worthTip      = 2.0
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
		if l.Area.Contains(p.At) {
			l.pieceLabel(p)
		}
	}
}

func (l *leaf) holeLabel(h holemap.Hole) {
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
	box, _, found := l.spot(at, places)
	if !found {
		return
	}
	l.spots.take(box, worthLabel)
	l.Group(fmt.Sprintf("label of hole %d", h.Number))
	if far := gapBetween(box, at); far > gap+1 {
		l.Line(nearest(box, at), at, shade(hair, quiet))
	}
	knockout(l, box)
	left := box.Min.X + 0.4
	l.say(left, box.Min.Y+0.4+numberHeight, numberHeight, number, 0, style{bold: true})
	l.say(left, box.Max.Y-0.4, bitHeight, bit, 0, style{})
	l.End()
}

// pieceLabel writes the code of a piece's kind and the piece's number at its middle, in grey. On a
// crowded sheet it gives way: the crosses matter more.
func (l *leaf) pieceLabel(p hung) {
	text := fmt.Sprintf("%s %d", p.kind.Code, p.ID)
	width, height := wide(text, bitHeight, false)+0.6, bitHeight+0.6
	box, cost, found := l.spot(l.ToPage(p.At), around(l.ToPage(p.At), width, height, 1.5, 6))
	if !found || cost > worthArrow {
		return
	}
	l.spots.take(box, worthLabel)
	knockout(l, box)
	l.say(box.Min.X+0.3, box.Max.Y-0.3, bitHeight, text, 0, style{colour: quiet})
}

// reasons writes the names of obstructions and of zones where there is room for them; the key says
// more.
func (l *leaf) reasons() {
	for i, o := range l.things {
		switch bounds := o.Shape.Bounds(); {
		case !plane.RegionOf(o.Shape).Touches(plane.Rectangle(l.Area.Min, l.Area.Width(), l.Area.Height())):
		case l.standOut(o) > 0:
			l.cutNote(o, i < l.own)
		default:
			l.noteWithin(o.Name, bounds, o.Shape.Contains, true)
		}
	}
	for _, z := range l.zonesThatSpeak() {
		if l.shows(z.Shape.Bounds()) {
			l.noteWithin(zoneWords(z), z.Shape.Bounds(), z.Shape.Contains, true)
		}
	}
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
	seen := l.visible().Grow(-1.5)
	box := l.mapping().box(bounds)
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
