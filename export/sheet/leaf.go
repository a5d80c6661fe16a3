// Package sheet draws the sheets of the full-size hole map, each with all that it takes to hang it in its place and
// to drill through it.
package sheet

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/tiling"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A Leaf is one tile being drawn.
type Leaf struct {
	drafting.Pen
	elevation.View
	tiling.Tile
	Print       tiling.Print
	Number, All int                            // this sheet among those printed for the face
	Letters     map[elevation.DrillKind]string // of the ways to drill, where the face has several
	Itself      string                         // the mark of this sheet alone
	Notice      string                         // what else it says of itself; may be empty
	spots       *drafting.Spots                // within the frame
	paper       *drafting.Spots                // on all the sheet that the printer reaches
	mark        plane.Point                    // of the face, whose place the sheet gives
	sections    []plane.Region                 // of the face, on the sheet: what is left in one piece when it is cut
	upright     []float64                      // where its plumb lines stand, from the left end of the face
	fine        []fineLevel
	told        bool // the corner of the sheet says where its black mark belongs
}

// Draw draws the whole sheet.
func (l *Leaf) Draw() {
	l.Page(l.Sheet.Width, l.Sheet.Height)
	l.Group("sheet " + l.Tile.Name)
	l.mark = l.measured()
	l.sections = l.cutApart()
	l.upright, l.fine = l.plumbs(), l.fineLevels()
	l.spots, l.paper = drafting.NewSpots(l.Frame.Grow(-0.8)), drafting.NewSpots(l.reached())

	l.Clip(drafting.Corners(l.Frame))
	l.zones()
	l.cutHatch()
	l.outlines()
	if !l.Print.HolesOnly {
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
	if !l.Print.HolesOnly {
		l.builtWords()
	}
	l.cutEdges()
	beyond, part := l.wholeBeyond()
	l.crosses(part)
	l.Unclip()

	l.cutLines()
	l.registers()
	l.crosses(l.Tile.Holes)
	l.crosses(beyond)
	l.neighbours()
	l.side()
	l.foot()
	l.longBar()
	l.End()
}

// reached returns the part of the sheet that the printer reaches.
func (l *Leaf) reached() plane.Rect {
	return plane.Rect{Max: plane.Point{X: l.Sheet.Width, Y: l.Sheet.Height}}.Grow(-l.Print.Margin)
}

// shows reports whether a box of the face is on the sheet.
func (l *Leaf) shows(box plane.Rect) bool { return box.Overlaps(l.Area) }

// The hatching of zones on a sheet, mm and radians.
const (
	ForbiddenPitch = 6.0
	ForbiddenAngle = math.Pi / 4
	CautionPitch   = 16.0
	CautionAngle   = -math.Pi / 4
)

// zones hatches, lightly, where something may not go: closer lines where it is forbidden. What several zones
// share is hatched once, and a caution not where it is forbidden anyway, nor over what lies on the face: lines in
// two directions, or twice as many, cannot be read.
func (l *Leaf) zones() {
	zones := slices.DeleteFunc(l.ZonesThatSpeak(), func(z wall.Zone) bool { return !l.shows(z.Shape.Bounds()) })
	var free, caution []plane.Region
	for _, z := range zones {
		part, err := z.Shape.Intersection(plane.RegionOf(drafting.Corners(l.Area)))
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
	for _, o := range l.Things {
		bare = append(bare, plane.RegionOf(o.Shape))
	}
	for i, c := range caution {
		if rest, err := c.Difference(bare...); err == nil {
			caution[i] = rest
		}
	}
	l.hatch("hatching of what is kept free", free, ForbiddenPitch, ForbiddenAngle)
	l.hatch("hatching of cautions", caution, CautionPitch, CautionAngle)
	for _, z := range zones {
		l.Group("zone " + z.Name)
		l.Polygon(l.Mapping().Rings(z.Shape.Rings()), draw.Paint{Stroke: draw.Stroke{Width: draw.Width018, Colour: drafting.Hatching.Colour, Dash: draw.Dashed}})
		l.End()
	}
}

// hatch hatches regions of the face as one.
func (l *Leaf) hatch(what string, parts []plane.Region, pitch, angle float64) {
	if all, err := plane.Union(parts...); err == nil {
		parts = []plane.Region{all}
	}
	l.Group(what)
	for _, p := range parts {
		draw.Hatch(l, l.Mapping().Rings(p.Rings()), l.Frame, pitch, angle, drafting.Hatching)
	}
	l.End()
}

// outlines draws the edge of what is seen of the face, and what lies on it.
func (l *Leaf) outlines() {
	if l.Covered() {
		l.Polygon(l.Mapping().Rings(l.View.Face.Outline.Rings()), draw.Paint{Stroke: l.lying()})
	}
	for _, o := range l.Things {
		if l.StandOut(o) <= 0 {
			l.outlineOf(o, l.lying())
		}
	}
}

// lying is the edge of what lies on the face.
func (l *Leaf) lying() draw.Stroke {
	if l.Print.HolesOnly {
		return drafting.Shade(drafting.Hair, drafting.Quiet)
	}
	return draw.Stroke{Width: draw.Width035, Colour: drafting.Quiet}
}

// cutEdges draws the lines along which the sheet is cut or folded, the edge of the face and that of
// what stands out of it, over all words.
func (l *Leaf) cutEdges() {
	l.Polygon(l.Mapping().Rings(l.Rings), draw.Paint{Stroke: drafting.Bold})
	for _, o := range l.Things {
		if l.StandOut(o) > 0 {
			l.outlineOf(o, drafting.Projecting)
		}
	}
}

func (l *Leaf) outlineOf(o wall.Obstruction, edge draw.Stroke) {
	if !l.shows(o.Shape.Bounds()) {
		return
	}
	l.Group(o.Name)
	l.Polygon([]plane.Ring{l.Mapping().Ring(o.Shape)}, draw.Paint{Stroke: edge})
	l.End()
}

// outlinesOfPieces draws each piece in a light line, with an arrow the way it heads.
func (l *Leaf) outlinesOfPieces() {
	for _, i := range l.Tile.Pieces {
		p := l.View.Pieces[i]
		l.Group(fmt.Sprintf("piece %d", p.ID))
		ring := l.Mapping().Ring(p.Ring)
		l.Polygon([]plane.Ring{ring}, draw.Paint{Stroke: drafting.Shade(drafting.Thin, drafting.Soft)})
		for i, a := range ring {
			for _, box := range drafting.BoxesAlong(a, ring[(i+1)%len(ring)]) {
				l.spots.Take(box.Grow(0.2), worthOutline)
			}
		}
		l.heading(p)
		l.End()
	}
}

// heading draws the arrow of a piece from behind its middle nearly to the end that leads, clear of
// the crosses that most pieces have about their middle. Where the sheet ends before, so does the arrow;
// where that leaves none of a piece that is drilled on the sheet, one stands in what it shows of it.
func (l *Leaf) heading(p elevation.Hung) {
	sin, cos := math.Sincos(p.Heading.Angle())
	way := plane.Point{X: cos, Y: -sin}
	b := p.Kind.Outline.Bounds()
	middle := l.ToPage(p.At)
	tip, tail := middle.Add(way.Scale(b.Max.X*0.85)), middle.Add(way.Scale(b.Min.X*0.4))
	const rim, short = 1.0, 5.0
	room := l.Frame.Grow(-rim)
	from, to, shown := drafting.Within(tail, tip, room)
	if !shown || from.Distance(to) < math.Min(short, tail.Distance(tip)) {
		hole, drilled := l.holeOf(p)
		if !drilled {
			return
		}
		c := drafting.Meet(l.Mapping().Box(p.Bounds), room).Centre()
		if !p.Ring.Contains(l.ToFace(c)) {
			c = hole.Add(plane.Point{X: -way.Y, Y: way.X}.Scale(short))
		}
		from, to, shown = drafting.Within(c.Sub(way.Scale(short)), c.Add(way.Scale(short)), room)
		if !shown {
			return
		}
	}
	tail, tip = from, to
	l.Line(tail, tip, drafting.Shade(drafting.Thin, drafting.Soft))
	l.Arrow(tip, way, math.Min(3, b.Width()/4), drafting.Soft)
	const parts = 12
	for i := range parts {
		at := tail.Lerp(tip, (float64(i)+0.5)/parts)
		l.spots.Take(drafting.BoxAt(at, 0.8, 0.8), worthArrow)
	}
	l.spots.Take(drafting.BoxAt(tip.Sub(way.Scale(1.5)), 3, 3), WorthTip)
}

// reserve keeps labels off crosses and register marks.
func (l *Leaf) reserve() {
	take := func(box plane.Rect, worth float64) {
		l.spots.Take(box, worth)
		l.paper.Take(box, worth)
	}
	for _, t := range l.tabs() {
		l.paper.Take(t.Grow(0.6), worthEdge)
	}
	for _, at := range l.marks() {
		take(drafting.BoxAt(l.ToPage(at), 2*drafting.RegisterReach, 2*drafting.RegisterReach), worthRegister)
	}
	for _, n := range l.Below {
		if n.Printed && n.Edge > l.Cell.Min.Y+tiling.Speck { // covered by a sheet that starts above its row
			from, to := l.across(n)
			l.spots.Take(plane.Rect{Min: plane.Point{X: from, Y: l.ToPage(plane.Point{Y: n.Edge}).Y}, Max: plane.Point{X: to, Y: l.visible().Max.Y}}, worthLabel)
		}
	}
	for _, i := range slices.Concat(l.Tile.Holes, l.Beyond) {
		h := l.Work.Map.Holes[i]
		at := l.ToPage(h.At)
		radius := math.Max(drafting.CrossRadius, h.Bit/2) + 0.3
		take(drafting.BoxAt(at, 2*radius, 2*radius), WorthCross)
		take(drafting.BoxAt(at, 2*drafting.CrossReach, 0.8), WorthCross)
		take(drafting.BoxAt(at, 0.8, 2*drafting.CrossReach), WorthCross)
	}
}

// lineAir is how far words keep from a line that is cut along, mm.
const lineAir = 1.5

// keepOffEdges keeps labels well off the lines along which the sheet is cut or folded, and off the
// outlines of what lies on the face.
func (l *Leaf) keepOffEdges() {
	cut, other := slices.Concat(l.Rings, l.View.Face.Outline.Rings()), []plane.Ring{}
	for _, o := range l.Things {
		if l.StandOut(o) > 0 {
			cut = append(cut, o.Shape)
		} else {
			other = append(other, o.Shape)
		}
	}
	l.keepOff(cut, lineAir, worthEdge)
	l.keepOff(other, 0.4, worthArrow)
}

// keepOff keeps labels off the edges of rings on the face, by air mm.
func (l *Leaf) keepOff(rings []plane.Ring, air, worth float64) {
	for _, r := range rings {
		for i, a := range r {
			a, b, shown := drafting.Within(a, r[(i+1)%len(r)], l.Area)
			if !shown {
				continue
			}
			for _, box := range drafting.BoxesAlong(l.ToPage(a), l.ToPage(b)) {
				l.spots.Take(box.Grow(air), worth)
				l.paper.Take(box.Grow(air), worth)
			}
		}
	}
}

// crosses marks the given holes of the map.
func (l *Leaf) crosses(holes []int) {
	for _, i := range holes {
		h := l.Work.Map.Holes[i]
		l.Group(fmt.Sprintf("hole %d", h.Number))
		l.Cross(l.ToPage(h.At), h.Bit, l.Flagged(h))
		l.End()
	}
}
