package sheet

import (
	"cmp"
	"math"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A sheet off a roll is at least so long that its foot has room on a strip along the roll, mm.
const leastAlong = 190.0

// hugged returns a row of sheets off a roll that start just before their first holes: drops with the
// row, strips along each for itself. The holes of the row are in order across.
func (g grid) hugged(b band, across, down axis, byX []placed) band {
	if !g.landscape {
		first := slices.MinFunc(byX, func(p, q placed) int { return cmp.Compare(p.across, q.across) })
		b.top = math.Min(b.top, -down.down(first.across-seamAir))
		return b
	}
	for i := range b.lefts {
		if k := firstFrom(byX, b.lefts[i]); k < len(byX) {
			b.lefts[i] = math.Max(b.lefts[i], across.down(byX[k].at-seamAir))
		}
	}
	return b
}

// cutOff ends a sheet off a roll past the last of its holes, unless another sheet lands on its end.
func (v view) cutOff(t *Tile, g grid) {
	if len(t.Holes) == 0 {
		return
	}
	step, far := exactly(v.work.Units), 0.0
	for _, i := range t.Holes {
		at := v.work.Map.Holes[i].At
		if !t.owns(at) {
			continue
		}
		if g.landscape {
			far = math.Max(far, at.X-t.Cell.Min.X)
		} else {
			far = math.Max(far, t.Cell.Max.Y-at.Y)
		}
	}
	far = math.Ceil((far+markAir)/step) * step
	width, height := t.Area.Width(), t.Area.Height()
	switch {
	case g.landscape && !t.Right.Printed:
		far = math.Max(far, leastAlong-g.Overlap)
		t.Cell.Max.X = math.Min(t.Cell.Max.X, t.Cell.Min.X+far)
		width, t.endsRight = t.Cell.Width()+g.Overlap, false
	case !g.landscape && !landsBelow(*t):
		far = math.Max(far, rowTall-g.Overlap)
		t.Cell.Min.Y = math.Max(t.Cell.Min.Y, t.Cell.Max.Y-far)
		height, t.endsBelow = t.Cell.Height()+g.Overlap, false
	}
	t.Area.Max.X, t.Area.Min.Y = t.Area.Min.X+width, t.Area.Max.Y-height
	v.endAtFace(t, g)
	t.Marks = append(t.markCorners(), t.Marks[4:]...)
	end := t.body.Max.Add(plane.Point{X: stripRight + g.Margin, Y: stripBottom + g.Margin})
	if g.landscape {
		t.Sheet = draw.Size{Width: end.X, Height: t.Sheet.Height}
	} else {
		t.Sheet = draw.Size{Width: t.Sheet.Width, Height: end.Y}
	}
}

// landsBelow reports whether a sheet of the row below lands on the tile.
func landsBelow(t Tile) bool {
	for _, n := range t.Below {
		if n.Printed {
			return true
		}
	}
	return false
}
