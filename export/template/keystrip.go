package template

import (
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// The names of the sheets of a long, low face stand over its picture in rows, each on an upright line to its
// sheet: in it they would lie over pieces and one another.
const (
	stripLeast = 8                    // sheets, from how many on
	stripRows  = 3                    // of names
	stripPitch = drafting.Least + 1.3 // of the rows, mm
	stripRoom  = stripRows*3.1 + 2    // over the picture, mm
)

// isStrip reports whether the face is one whose sheets are named over its picture: they all stand in one row,
// and are many.
func (k *keyFace) isStrip() bool {
	if len(k.windows) > 0 || k.Bounds.Width() <= 4*k.Bounds.Height() {
		return false
	}
	row, n := 0, 0
	for _, t := range k.Tiles {
		switch {
		case len(t.Holes) == 0:
			continue
		case n > 0 && t.Row != row:
			return false
		}
		row = t.Row
		n++
	}
	return n > stripLeast
}

// nameRoom returns how much room the names of the sheets take over the picture, mm.
func (k *keyFace) nameRoom() float64 {
	if k.isStrip() {
		return stripRoom
	}
	return 0
}

// A raised is a name over the picture with the line to its sheet.
type raised struct {
	tile tiling.Tile
	row  int // from the picture upwards
	box  plane.Rect
	x    float64 // of the line, on the page
}

// raise finds places for the names of sheets over the picture, from the left, each as low as it can stand clear
// of the others and of their lines. It returns the sheets that have none as well.
func (k *keyFace) raise() (out []raised, left []tiling.Tile) {
	top := k.box().Min.Y
	for _, t := range k.Tiles {
		if !k.names(t) {
			continue
		}
		x, width := k.Mapping.At(t.Cell.Centre()).X, drafting.TextWidth(t.Name, drafting.Least, true)
		i := len(out)
		for row := 0; row < stripRows && len(out) == i; row++ {
			for _, aside := range []float64{0, -0.3, 0.3, -0.45, 0.45} {
				at := plane.Point{X: x + aside*width, Y: top - 1.6 - drafting.Least/2 - float64(row)*stripPitch}
				r := raised{t, row, drafting.BoxAt(at, width+0.6, drafting.Least+0.6), x}
				if !slices.ContainsFunc(out, r.clashes) {
					out = append(out, r)
					break
				}
			}
		}
		if len(out) == i {
			left = append(left, t)
		}
	}
	return out, left
}

// clashes reports whether two names lie over one another, or one over the line of the other.
func (r raised) clashes(other raised) bool {
	crosses := func(name, line raised) bool {
		return line.row > name.row && math.Abs(line.x-name.box.Centre().X) < name.box.Width()/2+0.3
	}
	return r.box.Overlaps(other.box) || crosses(r, other) || crosses(other, r) || math.Abs(r.x-other.x) < 0.4
}

// raisedNames writes the names over the picture.
func (k *keyFace) raisedNames(s *drafting.Spots, names []raised) {
	for _, r := range names {
		k.Segment(r.x, r.box.Max.Y, r.x, k.Mapping.Box(r.tile.Cell).Min.Y+0.8, drafting.Hair)
		k.tileName(s, r.tile, r.box, drafting.Least, 0.3)
	}
}
