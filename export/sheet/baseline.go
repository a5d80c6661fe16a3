package sheet

import (
	"fmt"
	"math"

	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// baselines returns the line that the sheets of a face that does not stand upright are laid out along, from
// its left to its right about midway: there is no level or datum on it, and its edges are seldom true.
func (v view) baselines() []levelLine {
	const deep = 1500.0 // mm, from where on a face is laid out by rougher lengths
	step := 10.0
	switch {
	case v.work.Units.Imperial() && v.bounds.Height() > deep:
		step = 12 * inch
	case v.work.Units.Imperial():
		step = inch / 2
	case v.bounds.Height() > deep:
		step = 100
	}
	y := math.Round(v.bounds.Centre().Y/step) * step
	if spans := v.spansAt(y); len(spans) > 0 {
		return []levelLine{{y: y, spans: spans, base: true}}
	}
	return nil
}

// baseFrom says how far such a line lies from the edges along it: from the one that the sheets are
// measured from, and from the other where that is straight and has a name.
func (v view) baseFrom(l levelLine) string {
	text := fmt.Sprintf("%s from %s", v.length(l.y), v.footWords())
	if head := v.headWords(); head != "" {
		text += fmt.Sprintf(" and %s from %s", v.length(round2(v.bounds.Max.Y-l.y)), head)
	}
	return text
}

// baseWords says on a key how the line is drawn that the sheets of a face are laid out along which does not stand
// upright; nothing of one that does.
func (v view) baseWords() string {
	if _, upright := v.datum(); upright {
		return ""
	}
	text := ""
	for _, l := range v.levels() {
		text = joined(" ", text, fmt.Sprintf("Draw a straight line on the face, %s at both ends: it is the dash-dot line across the sheets.", v.baseFrom(l)))
	}
	return text
}

// headWords names the edge opposite that of footWords; nothing where the face is not a side of something
// with two such edges.
func (v view) headWords() string {
	if r := v.bounds; math.Abs(v.outline.Area()-r.Width()*r.Height()) > 1 {
		return ""
	}
	switch v.face.Side {
	case wall.Top, wall.Sill:
		return "its back edge"
	case wall.Underside, wall.Head:
		return "its front edge"
	}
	if name, found := v.wallTowards(plane.Point{Y: 1}); v.wall.Ceiling && found {
		return "the edge at " + name
	}
	return ""
}
