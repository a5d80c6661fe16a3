package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// The hatching of what is cut out of a sheet, mm and radians: level lines, unlike those of zones.
const (
	cutPitch = 2.5
	cutAngle = 0.0
)

// cutHatch hatches the parts of the sheet that are cut away for what stands out of the face.
func (l *leaf) cutHatch() {
	for _, o := range l.things {
		if l.standOut(o) > 0 && l.shows(o.Shape.Bounds()) {
			l.Group(o.Name)
			draw.Hatch(l, []plane.Ring{l.mapping().ring(o.Shape)}, l.Frame, cutPitch, cutAngle, hatching)
			l.End()
		}
	}
}

// cutNote says that a part of the sheet has to be cut away for what stands out of the wall, in it, or near
// it with a line that ends in it. How far is said only of what stands out of this wall.
func (l *leaf) cutNote(o wall.Obstruction, own bool) {
	bounds, out := o.Shape.Bounds(), ""
	if own {
		out = " stands out " + l.length(l.standOut(o))
	}
	for _, text := range []string{
		fmt.Sprintf("%s%s: cut this part of the sheet away", o.Name, out),
		fmt.Sprintf("%s: cut this part away", cmp.Or(strings.TrimSpace(out), o.Name)),
		"cut away",
	} {
		if l.noteWithin(text, bounds, o.Shape.Contains, false) {
			return
		}
	}
	in, found := l.within(o.Shape)
	if !found {
		return
	}
	for _, text := range []string{
		fmt.Sprintf("%s%s: cut the hatched part away", o.Name, out),
		fmt.Sprintf("%s: cut away", o.Name),
	} {
		if l.cutLabel(text, in) {
			return
		}
	}
}

// within returns a point on the page in what the sheet shows of a shape, as far inside as a coarse search
// finds, and whether there is one.
func (l *leaf) within(shape plane.Ring) (at plane.Point, found bool) {
	box := l.mapping().box(shape.Bounds())
	room := l.visible().Grow(-1)
	if !box.Overlaps(room) {
		return at, false
	}
	shown := meet(box, room)
	const parts = 40
	region, deep := plane.RegionOf(shape), 0.0
	for i := range parts * parts {
		p := plane.Point{
			X: shown.Min.X + shown.Width()*(float64(i%parts)+0.5)/parts,
			Y: shown.Min.Y + shown.Height()*(float64(i/parts)+0.5)/parts,
		}
		inside := math.Min(region.Distance(l.ToFace(p)), plane.RegionOf(corners(room)).Distance(p))
		if inside > deep+0.01 {
			at, deep, found = p, inside, true
		}
	}
	return at, found
}

// cutLabel writes words near a point in what is cut away, with a line to it, and reports whether there was
// room.
func (l *leaf) cutLabel(text string, in plane.Point) bool {
	const rim = 0.4
	width, height := wide(text, bitHeight, false)+2*rim, bitHeight+2*rim
	places := slices.DeleteFunc(around(in, width, height, 4, 12), l.cutAway)
	box, cost, found := l.spots.best(places)
	if !found || cost >= worthLabel {
		return false
	}
	l.spots.take(box, worthLabel)
	end := nearest(box, in)
	l.Line(end, in, hair)
	l.Circle(in, 0.6, draw.Paint{Fill: draw.Solid(ink)})
	for _, b := range boxesAlong(end, in) {
		l.spots.take(b.Grow(0.3), worthLeader)
	}
	knockout(l, box)
	l.say(box.Min.X+rim, box.Max.Y-rim, bitHeight, text, 0, style{})
	return true
}
