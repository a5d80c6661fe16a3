package tiling

import (
	"cmp"
	"math"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/wall/plane"
)

// A sheet off a roll is at least so long that its foot has room on a strip along the roll, mm.
const leastAlong = 190.0

// hugged returns a row of sheets off a roll that start just before their first holes: drops with the
// row, strips along each for itself. The holes of the row are in order across.
func (g grid) hugged(b band, across, down axis, byX []placed) band {
	if !g.landscape {
		first := slices.MinFunc(byX, func(p, q placed) int { return cmp.Compare(p.across, q.across) })
		b.top = math.Min(b.top, -down.down(first.across-SeamAir))
		return b
	}
	for i := range b.Lefts {
		if k := firstFrom(byX, b.Lefts[i]); k < len(byX) {
			b.Lefts[i] = math.Max(b.Lefts[i], across.down(byX[k].at-SeamAir))
		}
	}
	return b
}

// cutOff ends a sheet off a roll past the last of its holes, unless another sheet lands on its end.
func cutOff(v elevation.View, t *Tile, g grid) {
	if len(t.Holes) == 0 {
		return
	}
	step, far := Exactly(v.Work.Units), 0.0
	for _, i := range t.Holes {
		at := v.Work.Map.Holes[i].At
		if !t.Owns(at) {
			continue
		}
		if g.landscape {
			far = math.Max(far, at.X-t.Cell.Min.X)
		} else {
			far = math.Max(far, t.Cell.Max.Y-at.Y)
		}
	}
	far = math.Ceil((far+MarkAir)/step) * step
	width, height := t.Area.Width(), t.Area.Height()
	switch {
	case g.landscape && !t.Right.Printed:
		far = math.Max(far, leastAlong-g.Overlap)
		t.Cell.Max.X = math.Min(t.Cell.Max.X, t.Cell.Min.X+far)
		width, t.EndsRight = t.Cell.Width()+g.Overlap, false
	case !g.landscape && !LandsBelow(*t):
		far = math.Max(far, rowTall-g.Overlap)
		t.Cell.Min.Y = math.Max(t.Cell.Min.Y, t.Cell.Max.Y-far)
		height, t.EndsBelow = t.Cell.Height()+g.Overlap, false
	}
	t.Area.Max.X, t.Area.Min.Y = t.Area.Min.X+width, t.Area.Max.Y-height
	endAtFace(v, t, g)
	t.Marks = append(t.MarkCorners(), t.Marks[4:]...)
	end := t.Body.Max.Add(plane.Point{X: StripRight + g.Margin, Y: stripBottom + g.Margin})
	if g.landscape {
		t.Sheet = draw.Size{Width: end.X, Height: t.Sheet.Height}
	} else {
		t.Sheet = draw.Size{Width: t.Sheet.Width, Height: end.Y}
	}
}

// LandsBelow reports whether a sheet of the row below lands on the tile.
func LandsBelow(t Tile) bool {
	for _, n := range t.Below {
		if n.Printed {
			return true
		}
	}
	return false
}
