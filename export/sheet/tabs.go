package sheet

import (
	"math"
	"slices"

	"wallshoal/wall/plane"
)

// tabRim is how far a cut line keeps from the mark that it goes round, mm.
const tabRim = 0.5

// tabs returns where the cut of the sheet goes round the marks of holes: boxes on the page that stay
// on the sheet.
func (l *leaf) tabs() []plane.Rect {
	var out []plane.Rect
	for _, i := range slices.Concat(l.Holes, l.beyond) {
		h := l.work.Map.Holes[i]
		box := sized(l.ToPage(h.At), 2*markReach(h.Bit), 2*markReach(h.Bit))
		if l.pastCut(box) && l.whole(h.At, h.Bit) && (l.Area.Contains(h.At) || l.Cell.Grow(seamAir).Contains(h.At)) {
			out = append(out, box.Grow(tabRim))
		}
	}
	return out
}

// pastCut reports whether a box on the page lies in part beyond the edges along which the sheet is
// cut.
func (l *leaf) pastCut(box plane.Rect) bool {
	return box.Min.X < l.Frame.Min.X-speck || box.Min.Y < l.Frame.Min.Y-speck
}

// whole reports whether the whole mark of a hole has room on the sheet, with the cut round it.
func (l *leaf) whole(at plane.Point, bit float64) bool {
	far := markReach(bit) + tabRim
	box, room := sized(l.ToPage(at), 2*far, 2*far), l.reached().Grow(speck)
	return room.Contains(box.Min) && room.Contains(box.Max)
}

// wholeBeyond returns the holes that lie past a cut edge whose marks the sheet shows whole, with the
// cut round them; and those for whose marks there is no room. What lies past the other edges, or
// not beside the cell, is on the sheets that cover this one there.
func (l *leaf) wholeBeyond() (whole, part []int) {
	for _, i := range l.beyond {
		h := l.work.Map.Holes[i]
		switch c := l.ToPage(h.At); {
		case c.X > l.Frame.Max.X || c.Y > l.Frame.Max.Y || !l.Cell.Grow(seamAir).Contains(h.At):
		case l.whole(h.At, h.Bit):
			whole = append(whole, i)
		default:
			part = append(part, i)
		}
	}
	return whole, part
}

// cutEdge returns the lines along which the sheet is cut, to the left and above, round the tabs.
func (l *leaf) cutEdge() [][2]plane.Point {
	f := l.Frame
	plain := [][2]plane.Point{{f.Min, {X: f.Max.X, Y: f.Min.Y}}, {f.Min, {X: f.Min.X, Y: f.Max.Y}}}
	boxes := []plane.Region{plane.RegionOf(corners(f))}
	for _, t := range l.tabs() {
		boxes = append(boxes, plane.RegionOf(corners(t)))
	}
	if len(boxes) == 1 {
		return plain
	}
	sheet, err := plane.Union(boxes...)
	if err != nil {
		return plain
	}
	var out [][2]plane.Point
	for _, r := range ringsOf(sheet) {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			rest := math.Min(a.X, b.X) > f.Max.X-speck || math.Min(a.Y, b.Y) > f.Max.Y-speck
			if !rest {
				out = append(out, [2]plane.Point{a, b})
			}
		}
	}
	return out
}
