package elevation

import (
	"fmt"
	"math"

	"wallshoal/export/drafting"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// baselines returns the line that the sheets of a face that does not stand upright are laid out along, from
// its left to its right about midway: there is no level or datum on it, and its edges are seldom true.
func (v View) baselines() []LevelLine {
	const deep = 1500.0 // mm, from where on a face is laid out by rougher lengths
	step := 10.0
	switch {
	case v.Work.Units.Imperial() && v.Bounds.Height() > deep:
		step = 12 * drafting.Inch
	case v.Work.Units.Imperial():
		step = drafting.Inch / 2
	case v.Bounds.Height() > deep:
		step = 100
	}
	y := math.Round(v.Bounds.Centre().Y/step) * step
	if spans := v.SpansAt(y); len(spans) > 0 {
		return []LevelLine{{Y: y, Spans: spans, base: true}}
	}
	return nil
}

// baseFrom says how far such a line lies from the edges along it: from the one that the sheets are
// measured from, and from the other where that is straight and has a name.
func (v View) baseFrom(l LevelLine) string {
	text := fmt.Sprintf("%s from %s", v.Length(l.Y), v.FootWords())
	if head := v.headWords(); head != "" {
		text += fmt.Sprintf(" and %s from %s", v.Length(drafting.Round2(v.Bounds.Max.Y-l.Y)), head)
	}
	return text
}

// BaseWords says on a key how the line is drawn that the sheets of a face are laid out along which does not stand
// upright; nothing of one that does.
func (v View) BaseWords() string {
	if _, upright := v.Datum(); upright {
		return ""
	}
	text := ""
	for _, l := range v.Levels() {
		text = drafting.Joined(" ", text, fmt.Sprintf("Draw a straight line on the face, %s at both ends: it is the dash-dot line across the sheets.", v.baseFrom(l)))
	}
	return text
}

// headWords names the edge opposite that of footWords; nothing where the face is not a side of something
// with two such edges.
func (v View) headWords() string {
	if r := v.Bounds; math.Abs(v.Outline.Area()-r.Width()*r.Height()) > 1 {
		return ""
	}
	switch v.Face.Side {
	case wall.Top, wall.Sill:
		return "its back edge"
	case wall.Underside, wall.Head:
		return "its front edge"
	}
	if name, found := v.WallTowards(plane.Point{Y: 1}); v.Wall.Ceiling && found {
		return "the edge at " + name
	}
	return ""
}
