package sheet

import (
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// cutEdge returns the lines along which the sheet is cut, to the left and above, round the tabs.
func (l *Leaf) cutEdge() [][2]plane.Point {
	f := l.Frame
	plain := [][2]plane.Point{{f.Min, {X: f.Max.X, Y: f.Min.Y}}, {f.Min, {X: f.Min.X, Y: f.Max.Y}}}
	boxes := []plane.Region{plane.RegionOf(drafting.Corners(f))}
	for _, t := range l.tabs() {
		boxes = append(boxes, plane.RegionOf(drafting.Corners(t)))
	}
	if len(boxes) == 1 {
		return plain
	}
	sheet, err := plane.Union(boxes...)
	if err != nil {
		return plain
	}
	var out [][2]plane.Point
	for _, r := range sheet.Rings() {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			rest := math.Min(a.X, b.X) > f.Max.X-tiling.Speck || math.Min(a.Y, b.Y) > f.Max.Y-tiling.Speck
			if !rest {
				out = append(out, [2]plane.Point{a, b})
			}
		}
	}
	return out
}

// pastCut reports whether a box on the page lies in part beyond the edges along which the sheet is
// cut.
func (l *Leaf) pastCut(box plane.Rect) bool {
	return box.Min.X < l.Frame.Min.X-tiling.Speck || box.Min.Y < l.Frame.Min.Y-tiling.Speck
}

// tabs returns where the cut of the sheet goes round the marks of holes: boxes on the page that stay
// on the sheet.
func (l *Leaf) tabs() []plane.Rect {
	var out []plane.Rect
	for _, i := range slices.Concat(l.Tile.Holes, l.Beyond) {
		h := l.Work.Map.Holes[i]
		box := drafting.BoxAt(l.ToPage(h.At), 2*drafting.MarkReach(h.Bit), 2*drafting.MarkReach(h.Bit))
		if l.pastCut(box) && l.whole(h.At, h.Bit) && (l.Area.Contains(h.At) || l.Cell.Grow(tiling.SeamAir).Contains(h.At)) {
			out = append(out, box.Grow(tiling.TabRim))
		}
	}
	return out
}

// whole reports whether the whole mark of a hole has room on the sheet, with the cut round it.
func (l *Leaf) whole(at plane.Point, bit float64) bool {
	far := drafting.MarkReach(bit) + tiling.TabRim
	box, room := drafting.BoxAt(l.ToPage(at), 2*far, 2*far), l.reached().Grow(tiling.Speck)
	return room.Contains(box.Min) && room.Contains(box.Max)
}

// wholeBeyond returns the holes that lie past a cut edge whose marks the sheet shows whole, with the
// cut round them; and those for whose marks there is no room. What lies past the other edges, or
// not beside the cell, is on the sheets that cover this one there.
func (l *Leaf) wholeBeyond() (whole, part []int) {
	for _, i := range l.Beyond {
		h := l.Work.Map.Holes[i]
		switch c := l.ToPage(h.At); {
		case c.X > l.Frame.Max.X || c.Y > l.Frame.Max.Y || !l.Cell.Grow(tiling.SeamAir).Contains(h.At):
		case l.whole(h.At, h.Bit):
			whole = append(whole, i)
		default:
			part = append(part, i)
		}
	}
	return whole, part
}
