package sheet

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/draw"
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
	itself      string               // the mark of this sheet alone
	notice      string               // what else it says of itself; may be empty
	spots       *spots               // within the frame
	paper       *spots               // on all the sheet that the printer reaches
	mark        plane.Point          // of the face, whose place the sheet gives
	sections    []plane.Region       // of the face, on the sheet: what is left in one piece when it is cut
	upright     []float64            // where its plumb lines stand, from the left end of the face
	fine        []fineLevel
	told        bool // the corner of the sheet says where its black mark belongs
}

// draw draws the whole sheet.
func (l *leaf) draw() {
	l.Page(l.Sheet.Width, l.Sheet.Height)
	l.Group("sheet " + l.Name)
	l.mark = l.measured()
	l.sections = l.cutApart()
	l.upright, l.fine = l.plumbs(), l.fineLevels()
	l.spots, l.paper = newSpots(l.Frame.Grow(-0.8)), newSpots(l.reached())

	l.Clip(corners(l.Frame))
	l.zones()
	l.cutHatch()
	l.outlines()
	if !l.print.HolesOnly {
		l.built()
		l.outlinesOfPieces()
	}
	l.levelLines()
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
	if !l.print.HolesOnly {
		l.builtWords()
	}
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
	l.longBar()
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

// zones hatches, lightly, where something may not go: closer lines where it is forbidden. What several zones
// share is hatched once, and a caution not where it is forbidden anyway, nor over what lies on the face: lines in
// two directions, or twice as many, cannot be read.
func (l *leaf) zones() {
	zones := slices.DeleteFunc(l.zonesThatSpeak(), func(z wall.Zone) bool { return !l.shows(z.Shape.Bounds()) })
	var free, caution []plane.Region
	for _, z := range zones {
		part, err := z.Shape.Intersection(plane.RegionOf(corners(l.Area)))
		if err != nil {
			part = z.Shape
		}
		if z.Strength == wall.Caution {
			caution = append(caution, part)
		} else {
			free = append(free, part)
		}
	}
	bare := slices.Clone(free)
	for _, o := range l.things {
		bare = append(bare, plane.RegionOf(o.Shape))
	}
	for i, c := range caution {
		if rest, err := c.Difference(bare...); err == nil {
			caution[i] = rest
		}
	}
	l.hatch("hatching of what is kept free", free, forbiddenPitch, forbiddenAngle)
	l.hatch("hatching of cautions", caution, cautionPitch, cautionAngle)
	for _, z := range zones {
		l.Group("zone " + z.Name)
		l.Polygon(l.mapping().rings(ringsOf(z.Shape)), draw.Paint{Stroke: draw.Stroke{Width: draw.Width018, Colour: hatching.Colour, Dash: draw.Dashed}})
		l.End()
	}
}

// hatch hatches regions of the face as one.
func (l *leaf) hatch(what string, parts []plane.Region, pitch, angle float64) {
	if all, err := plane.Union(parts...); err == nil {
		parts = []plane.Region{all}
	}
	l.Group(what)
	for _, p := range parts {
		draw.Hatch(l, l.mapping().rings(ringsOf(p)), l.Frame, pitch, angle, hatching)
	}
	l.End()
}

// outlines draws the edge of what is seen of the face, and what lies on it.
func (l *leaf) outlines() {
	if l.covered() {
		l.Polygon(l.mapping().rings(ringsOf(l.face.Outline)), draw.Paint{Stroke: l.lying()})
	}
	for _, o := range l.things {
		if l.standOut(o) <= 0 {
			l.outlineOf(o, l.lying())
		}
	}
}

// lying is the edge of what lies on the face.
func (l *leaf) lying() draw.Stroke {
	if l.print.HolesOnly {
		return shade(hair, quiet)
	}
	return draw.Stroke{Width: draw.Width035, Colour: quiet}
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
		ring := l.mapping().ring(p.ring)
		l.Polygon([]plane.Ring{ring}, draw.Paint{Stroke: shade(thin, soft)})
		for i, a := range ring {
			for _, box := range boxesAlong(a, ring[(i+1)%len(ring)]) {
				l.spots.take(box.Grow(0.2), worthOutline)
			}
		}
		l.heading(p)
		l.End()
	}
}

// heading draws the arrow of a piece from behind its middle nearly to the end that leads, clear of
// the crosses that most pieces have about their middle. Where the sheet ends before, so does the arrow;
// where that leaves none of a piece that is drilled on the sheet, one stands in what it shows of it.
func (l *leaf) heading(p hung) {
	sin, cos := math.Sincos(p.Heading.Angle())
	way := plane.Point{X: cos, Y: -sin}
	b := p.kind.Outline.Bounds()
	middle := l.ToPage(p.At)
	tip, tail := middle.Add(way.Scale(b.Max.X*0.85)), middle.Add(way.Scale(b.Min.X*0.4))
	const rim, short = 1.0, 5.0
	room := l.Frame.Grow(-rim)
	from, to, shown := within(tail, tip, room)
	if !shown || from.Distance(to) < math.Min(short, tail.Distance(tip)) {
		hole, drilled := l.holeOf(p)
		if !drilled {
			return
		}
		c := meet(l.mapping().box(p.bounds), room).Centre()
		if !p.ring.Contains(l.ToFace(c)) {
			c = hole.Add(plane.Point{X: -way.Y, Y: way.X}.Scale(short))
		}
		from, to, shown = within(c.Sub(way.Scale(short)), c.Add(way.Scale(short)), room)
		if !shown {
			return
		}
	}
	tail, tip = from, to
	l.Line(tail, tip, shade(thin, soft))
	l.arrow(tip, way, math.Min(3, b.Width()/4), soft)
	const parts = 12
	for i := range parts {
		at := tail.Lerp(tip, (float64(i)+0.5)/parts)
		l.spots.take(sized(at, 0.8, 0.8), worthArrow)
	}
	l.spots.take(sized(tip.Sub(way.Scale(1.5)), 3, 3), worthTip)
}

// lengthAlong returns how long an outline is the way it heads.
func lengthAlong(r plane.Ring) float64 { return r.Bounds().Width() }

// reserve keeps labels off crosses and register marks.
func (l *leaf) reserve() {
	take := func(box plane.Rect, worth float64) {
		l.spots.take(box, worth)
		l.paper.take(box, worth)
	}
	for _, t := range l.tabs() {
		l.paper.take(t.Grow(0.6), worthEdge)
	}
	for _, at := range l.marks() {
		take(sized(l.ToPage(at), 2*registerReach, 2*registerReach), worthRegister)
	}
	for _, n := range l.Below {
		if n.Printed && n.Edge > l.Cell.Min.Y+speck { // covered by a sheet that starts above its row
			from, to := l.across(n)
			l.spots.take(plane.Rect{Min: plane.Point{X: from, Y: l.ToPage(plane.Point{Y: n.Edge}).Y}, Max: plane.Point{X: to, Y: l.visible().Max.Y}}, worthLabel)
		}
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
