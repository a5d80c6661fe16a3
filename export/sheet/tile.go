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

// A leaf is one tile being drawn.
type leaf struct {
	pen
	view
	Tile
	print       Print
	number, all int                  // this sheet among those printed for the face
	letters     map[drillKind]string // of the ways to drill, where the face has several
	spots       *spots               // within the frame
	paper       *spots               // on all the sheet that the printer reaches
	mark        plane.Point          // of the face, whose place the sheet gives
}

// How bad it is for a label to cover things, against one another.
const (
	worthCross    = 50.0
	worthRegister = 20.0
	worthEdge     = 40.0
	worthLabel    = 30.0
	worthDatum    = 4.0
	worthArrow    = 1.0
)

// draw draws the whole sheet.
func (l *leaf) draw() {
	l.Page(l.Sheet.Width, l.Sheet.Height)
	l.Group("sheet " + l.Name)
	l.mark = l.measured()
	l.spots, l.paper = newSpots(l.Frame.Grow(-0.8)), newSpots(l.reached())

	l.Clip(corners(l.Frame))
	l.zones()
	l.built()
	l.outlines()
	l.outlinesOfPieces()
	l.level()
	l.plumb()
	l.landings()
	l.reserve()
	l.keepOffEdges()
	l.edges()
	l.identity()
	l.landingWords()
	l.labels()
	l.plumbLabels()
	l.reasons()
	l.builtWords()
	l.cutEdges()
	beyond, part := l.wholeBeyond()
	l.crosses(part)
	l.Unclip()

	l.cutLines()
	l.registers()
	l.crosses(l.Holes)
	l.crosses(beyond)
	l.neighbours()
	l.side()
	l.foot()
	l.End()
}

// reached returns the part of the sheet that the printer reaches.
func (l *leaf) reached() plane.Rect {
	return plane.Rect{Max: plane.Point{X: l.Sheet.Width, Y: l.Sheet.Height}}.Grow(-l.print.Margin)
}

// shows reports whether a box of the face is on the sheet.
func (l *leaf) shows(box plane.Rect) bool { return box.Overlaps(l.Area) }

// The hatching of zones on a sheet, mm and radians.
const (
	forbiddenPitch = 6.0
	forbiddenAngle = math.Pi / 4
	cautionPitch   = 16.0
	cautionAngle   = -math.Pi / 4
)

// zones hatches, lightly, where something may not go: closer lines where it is forbidden.
func (l *leaf) zones() {
	for _, z := range l.zonesThatSpeak() {
		if !l.shows(z.Shape.Bounds()) {
			continue
		}
		pitch, angle := forbiddenPitch, forbiddenAngle
		if z.Strength == wall.Caution {
			pitch, angle = cautionPitch, cautionAngle
		}
		rings := l.mapping().rings(ringsOf(z.Shape))
		l.Group("zone " + z.Name)
		draw.Hatch(l, rings, l.Frame, pitch, angle, shade(hair, faint))
		l.Polygon(rings, draw.Paint{Stroke: draw.Stroke{Width: draw.Width018, Colour: faint, Dash: draw.Dashed}})
		l.End()
	}
}

// outlines draws the edge of what is seen of the face, and what lies on it.
func (l *leaf) outlines() {
	if l.covered() {
		l.Polygon(l.mapping().rings(ringsOf(l.face.Outline)), draw.Paint{Stroke: draw.Stroke{Width: draw.Width035, Colour: quiet}})
	}
	for _, o := range l.things {
		if l.standOut(o) <= 0 {
			l.outlineOf(o, draw.Stroke{Width: draw.Width035, Colour: quiet})
		}
	}
}

// cutEdges draws the lines along which the sheet is cut or folded, the edge of the face and that of
// what stands out of it, over all words.
func (l *leaf) cutEdges() {
	l.Polygon(l.mapping().rings(l.rings), draw.Paint{Stroke: bold})
	for _, o := range l.things {
		if l.standOut(o) > 0 {
			l.outlineOf(o, projecting)
		}
	}
}

func (l *leaf) outlineOf(o wall.Obstruction, edge draw.Stroke) {
	if !l.shows(o.Shape.Bounds()) {
		return
	}
	l.Group(o.Name)
	l.Polygon([]plane.Ring{l.mapping().ring(o.Shape)}, draw.Paint{Stroke: edge})
	l.End()
}

// outlinesOfPieces draws each piece in a light line, with an arrow the way it heads.
func (l *leaf) outlinesOfPieces() {
	for _, i := range l.Tile.pieces {
		p := l.view.pieces[i]
		l.Group(fmt.Sprintf("piece %d", p.ID))
		l.Polygon([]plane.Ring{l.mapping().ring(p.ring)}, draw.Paint{Stroke: shade(thin, soft)})
		l.heading(p)
		l.End()
	}
}

// heading draws the arrow of a piece from behind its middle nearly to the end that leads, clear of
// the crosses that most pieces have about their middle.
func (l *leaf) heading(p hung) {
	sin, cos := math.Sincos(p.Heading.Angle())
	way := plane.Point{X: cos, Y: -sin}
	b := p.kind.Outline.Bounds()
	middle := l.ToPage(p.At)
	tip, tail := middle.Add(way.Scale(b.Max.X*0.85)), middle.Add(way.Scale(b.Min.X*0.4))
	l.Line(tail, tip, shade(thin, soft))
	l.arrow(tip, way, math.Min(3, b.Width()/4), soft)
	const parts = 12
	for i := range parts {
		at := tail.Lerp(tip, (float64(i)+0.5)/parts)
		l.spots.take(sized(at, 0.8, 0.8), worthArrow)
	}
}

// lengthAlong returns how long an outline is the way it heads.
func lengthAlong(r plane.Ring) float64 { return r.Bounds().Width() }

// level draws the datum where it crosses the sheet.
func (l *leaf) level() {
	y, upright := l.datum()
	if !upright || y < l.Area.Min.Y || y > l.Area.Max.Y {
		return
	}
	at := l.ToPage(plane.Point{Y: y}).Y
	l.Group("datum")
	l.line(l.Frame.Min.X, at, l.Frame.Max.X, at, draw.Stroke{Width: draw.Width035, Dash: draw.DashDot})
	l.End()
	l.spots.take(plane.Rect{Min: plane.Point{X: l.Frame.Min.X, Y: at - 0.4}, Max: plane.Point{X: l.Frame.Max.X, Y: at + 0.4}}, worthDatum)
}

// reserve keeps labels off crosses and register marks.
func (l *leaf) reserve() {
	take := func(box plane.Rect, worth float64) {
		l.spots.take(box, worth)
		l.paper.take(box, worth)
	}
	for _, at := range l.marks() {
		take(sized(l.ToPage(at), 2*registerReach, 2*registerReach), worthRegister)
	}
	for _, i := range slices.Concat(l.Holes, l.beyond) {
		h := l.work.Map.Holes[i]
		at := l.ToPage(h.At)
		radius := math.Max(crossRadius, h.Bit/2) + 0.3
		take(sized(at, 2*radius, 2*radius), worthCross)
		take(sized(at, 2*crossReach, 0.8), worthCross)
		take(sized(at, 0.8, 2*crossReach), worthCross)
	}
}

// lineAir is how far words keep from a line that is cut along, mm.
const lineAir = 1.5

// keepOffEdges keeps labels well off the lines along which the sheet is cut or folded, and off the
// outlines of what lies on the face.
func (l *leaf) keepOffEdges() {
	cut, other := slices.Concat(l.rings, ringsOf(l.face.Outline)), []plane.Ring{}
	for _, o := range l.things {
		if l.standOut(o) > 0 {
			cut = append(cut, o.Shape)
		} else {
			other = append(other, o.Shape)
		}
	}
	l.keepOff(cut, lineAir, worthEdge)
	l.keepOff(other, 0.4, worthArrow)
}

// keepOff keeps labels off the edges of rings on the face, by air mm.
func (l *leaf) keepOff(rings []plane.Ring, air, worth float64) {
	for _, r := range rings {
		for i, a := range r {
			a, b, shown := within(a, r[(i+1)%len(r)], l.Area)
			if !shown {
				continue
			}
			for _, box := range boxesAlong(l.ToPage(a), l.ToPage(b)) {
				l.spots.take(box.Grow(air), worth)
				l.paper.take(box.Grow(air), worth)
			}
		}
	}
}

// boxesAlong returns boxes that cover the line from a to b on the page closely: one where it runs
// with the sheet, else many small ones.
func boxesAlong(a, b plane.Point) []plane.Rect {
	const step = 2.0
	along := b.Sub(a)
	parts := 1.0
	if math.Min(math.Abs(along.X), math.Abs(along.Y)) > 0.5 {
		parts = math.Ceil(along.Len() / step)
	}
	var out []plane.Rect
	for n := range int(parts) {
		out = append(out, plane.Ring{a.Lerp(b, float64(n)/parts), a.Lerp(b, float64(n+1)/parts)}.Bounds())
	}
	return out
}

// crosses marks the given holes of the map.
func (l *leaf) crosses(holes []int) {
	for _, i := range holes {
		h := l.work.Map.Holes[i]
		l.Group(fmt.Sprintf("hole %d", h.Number))
		l.cross(l.ToPage(h.At), h.Bit, l.flagged(h))
		l.End()
	}
}

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
	l.datumLabel()
	for _, i := range l.Holes {
		l.holeLabel(l.work.Map.Holes[i])
	}
	for _, i := range l.Tile.pieces {
		p := l.view.pieces[i]
		if l.Area.Contains(p.At) {
			l.pieceLabel(p)
		}
	}
}

func (l *leaf) datumLabel() {
	y, upright := l.datum()
	if !upright || y < l.Area.Min.Y || y > l.Area.Max.Y {
		return
	}
	at := l.ToPage(plane.Point{Y: y})
	text := "DATUM " + l.length(l.work.Site.Room.Datum)
	width := wide(text, bitHeight, true)
	var candidates []plane.Rect
	for _, side := range []float64{-1, 1} {
		for x := l.Frame.Min.X + 9; x+width < l.visible().Max.X-9; x += 6 {
			candidates = append(candidates, sized(plane.Point{X: x + width/2, Y: at.Y + side*(bitHeight/2+1.2)}, width+1, bitHeight+1))
		}
	}
	box, _, found := l.spots.best(candidates)
	if !found {
		return
	}
	l.spots.take(box, worthLabel)
	knockout(l, box)
	l.say(box.Min.X+0.5, box.Max.Y-0.5, bitHeight, text, 0, style{bold: true})
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

// neighbours names the sheets whose strips this one covers, and says what to do at its edges.
func (l *leaf) neighbours() {
	f := l.Frame
	left := neighbourRoom(l.Left)
	var upright []plane.Rect
	for _, y := range outwards(f.Centre().Y, f.Height()/4, 6) {
		upright = append(upright, sized(plane.Point{X: f.Min.X - stripLeft/2, Y: y}, draw.Letter25, left))
	}
	if box, _, found := l.paper.best(upright); found && l.Left.Name != "" {
		l.paper.take(box, worthLabel)
		l.neighbour(l.Left, box.Centre(), plane.Point{X: -1})
	}
	for _, n := range l.Above {
		from, to := l.across(n)
		room := neighbourRoom(n)
		var level []plane.Rect
		for _, x := range outwards((from+to)/2, (to-from)/4, 6) {
			level = append(level, sized(plane.Point{X: x, Y: f.Min.Y - stripTop/2}, room, draw.Letter25))
		}
		if box, cost, found := l.paper.best(level); found && to-from > room && cost < worthLabel {
			l.paper.take(box, worthLabel)
			l.neighbour(n, box.Centre(), plane.Point{Y: -1})
		}
	}
	l.cutWords()
}

// cutWords says beside the cut edges what they are, clear of the marks that the cut goes round.
func (l *leaf) cutWords() {
	const words, step = "cut along this line", 4.0
	f, long := l.Frame, wide("cut along this line", least, false)
	var level, upright []plane.Rect
	for far := registerReach + 2; far < f.Width()-long; far += step {
		level = append(level, sized(plane.Point{X: f.Min.X + far + long/2, Y: f.Min.Y - 1 - least/2}, long, least+0.4))
	}
	for far := registerReach + 2; far < f.Height()-long; far += step {
		upright = append(upright, sized(plane.Point{X: f.Min.X - 1 - least/2, Y: f.Min.Y + far + long/2}, least+0.4, long))
	}
	if box, cost, found := l.paper.best(level); found && cost == 0 {
		l.paper.take(box, worthLabel)
		l.say(box.Min.X, box.Max.Y-0.2, least, words, 0, style{colour: quiet})
	}
	if box, cost, found := l.paper.best(upright); found && cost == 0 {
		l.paper.take(box, worthLabel)
		l.say(box.Max.X-0.2, box.Max.Y, least, words, 0, style{colour: quiet, turn: math.Pi / 2})
	}
}

// The arrow that says which way is up, mm.
const (
	upArrow = 13.0 // how long it is, with the gap below it
	upWord  = draw.Letter35
)

// upLevel reports whether the word below the arrow has room beside the frame as it is read.
func (l *leaf) upLevel() bool { return wide(l.upWords(), upWord, true) < stripRight-2.5 }

// side draws the strip to the right: upright check bars and which way is up.
func (l *leaf) side() {
	f := l.Frame
	for i, b := range bars() {
		x := f.Max.X + 6.6 + 3.9*float64(i)
		l.Group("check bar upright " + b.name)
		l.uprightBar(b, x, f.Max.Y)
		l.End()
		l.say(x, f.Max.Y-b.length-1.5, draw.Letter25, b.name, 0, style{turn: math.Pi / 2})
	}
	x := f.Max.X + stripRight/2 + 2
	top := f.Min.Y + 1
	l.arrow(plane.Point{X: x, Y: top}, plane.Point{Y: -1}, 5, ink)
	l.line(x, top+4, x, top+12, bold)
	if l.upLevel() {
		l.say(x, top+upArrow+upWord, upWord, l.upWords(), 0, style{align: draw.Centre, bold: true})
		return
	}
	l.say(x+upWord/2, top+upArrow+wide(l.upWords(), upWord, true), upWord, l.upWords(), 0, style{bold: true, turn: math.Pi / 2})
}

// foot draws the strip below: the sheet's name, what it belongs to, where its marked point lies,
// and the level check bars.
func (l *leaf) foot() {
	full := l.reached()
	top := l.Frame.Max.Y + 4
	l.say(full.Min.X, top+11, draw.Letter10, l.Name, 38, style{bold: true})
	l.say(full.Min.X, top+16, draw.Letter25, fmt.Sprintf("sheet %d of %d", l.number, l.all), 38, style{})
	l.say(full.Min.X, top+20.5, draw.Letter25, "SCALE 1:1", 38, style{bold: true})

	left, right := full.Min.X+41, full.Max.X
	print := wide(l.work.Map.Fingerprint, draw.Letter35, true)
	l.say(right, top+4.5, draw.Letter35, l.work.Map.Fingerprint, 0, style{bold: true, align: draw.Right})
	name := draw.Text{Say: l.name(), Height: draw.Letter35, Bold: true}.Fit((right-left-print-4)*0.6, least)
	name.At = plane.Point{X: left, Y: top + 4.5}
	l.Text(name)
	titleLeft := left + name.Width() + 3
	if room := right - print - 4 - titleLeft; room > 10 {
		title := l.work.Title
		if l.print.Measured.known() {
			title = l.print.Measured.words()
		}
		l.say(titleLeft, top+4.5, draw.Letter25, title, room, style{bold: l.print.Measured.known()})
	}
	l.place(left, top+9.6, right-left)

	for i, b := range bars() {
		y := top + 14.5 + 5.5*float64(i)
		l.Group("check bar level " + b.name)
		l.levelBar(b, left, y)
		l.End()
		name := b.name
		if l.print.Measured.known() {
			name += " on that printer"
		}
		l.say(left+b.length+2, y, draw.Letter25, name, right-left-b.length-2, style{})
	}
}

// place says where the measured register mark stands on the wall.
func (l *leaf) place(x, y, width float64) {
	l.blackMark(plane.Point{X: x + 1.4, Y: y - 1.2})
	along, up, level := l.placeWords()
	l.say(x+4, y, draw.Letter25, joined(" · ", along, up, level, l.fromRight()), width-4, style{})
}

// above words a height relative to a point.
func (v view) above(mm float64) string {
	if mm < 0 {
		return v.length(-mm) + " below it"
	}
	return v.length(mm) + " above it"
}

// gapBetween returns how far p is from the box, by the greater of both axes.
func gapBetween(box plane.Rect, p plane.Point) float64 {
	n := nearest(box, p)
	return math.Max(math.Abs(n.X-p.X), math.Abs(n.Y-p.Y))
}

// nearest returns the point of the box that is nearest to p.
func nearest(box plane.Rect, p plane.Point) plane.Point {
	return plane.Point{
		X: math.Min(math.Max(p.X, box.Min.X), box.Max.X),
		Y: math.Min(math.Max(p.Y, box.Min.Y), box.Max.Y),
	}
}
