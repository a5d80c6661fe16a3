package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// The hatching of what is cut out of a sheet, mm and radians: level lines, unlike those of zones.
const (
	cutPitch = 2.5
	cutAngle = 0.0
)

// cutHatch hatches the parts of the sheet that are cut away for what stands out of the face.
func (l *Leaf) cutHatch() {
	for _, o := range l.Things {
		if l.StandOut(o) > 0 && l.shows(o.Shape.Bounds()) {
			l.Group(o.Name)
			draw.Hatch(l, []plane.Ring{l.Mapping().Ring(o.Shape)}, l.Frame, cutPitch, cutAngle, drafting.Hatching)
			l.End()
		}
	}
}

// cutNote says that a part of the sheet has to be cut away for what stands out of the wall, in it, or near
// it with a line that ends in it. How far is said only of what stands out of this wall.
func (l *Leaf) cutNote(o wall.Obstruction, own bool) {
	bounds, out := o.Shape.Bounds(), ""
	if own {
		out = " stands out " + l.Length(l.StandOut(o))
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
func (l *Leaf) within(shape plane.Ring) (at plane.Point, found bool) {
	box := l.Mapping().Box(shape.Bounds())
	room := l.visible().Grow(-1)
	if !box.Overlaps(room) {
		return at, false
	}
	shown := drafting.Meet(box, room)
	const parts = 40
	region, deep := plane.RegionOf(shape), 0.0
	for i := range parts * parts {
		p := plane.Point{
			X: shown.Min.X + shown.Width()*(float64(i%parts)+0.5)/parts,
			Y: shown.Min.Y + shown.Height()*(float64(i/parts)+0.5)/parts,
		}
		inside := math.Min(region.Distance(l.ToFace(p)), plane.RegionOf(drafting.Corners(room)).Distance(p))
		if inside > deep+0.01 {
			at, deep, found = p, inside, true
		}
	}
	return at, found
}

// cutLabel writes words near a point in what is cut away, with a line to it, and reports whether there was
// room.
func (l *Leaf) cutLabel(text string, in plane.Point) bool {
	const rim = 0.4
	width, height := drafting.TextWidth(text, elevation.BitHeight, false)+2*rim, elevation.BitHeight+2*rim
	places := slices.DeleteFunc(drafting.Around(in, width, height, 4, 12), l.cutAway)
	box, cost, found := l.spots.Best(places)
	if !found || cost >= worthLabel {
		return false
	}
	l.spots.Take(box, worthLabel)
	end := drafting.Nearest(box, in)
	l.Line(end, in, drafting.Hair)
	l.Circle(in, 0.6, draw.Paint{Fill: draw.Solid(drafting.Ink)})
	for _, b := range drafting.BoxesAlong(end, in) {
		l.spots.Take(b.Grow(0.3), worthLeader)
	}
	drafting.Knockout(l, box)
	l.Say(box.Min.X+rim, box.Max.Y-rim, elevation.BitHeight, text, 0, drafting.Style{})
	return true
}
