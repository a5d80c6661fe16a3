// Package template draws the hole map: for every face a key page, and its sheets at full size. It knows which sheets
// of older maps still belong on a wall, and when the paper of one can come down.
package template

import (
	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/sheet"
	"wallshoal/export/tiling"
	"wallshoal/wall"
)

// HoleMap draws the hole map of a work at full size: for every wall with holes, and for the sides of
// every thing on it that have some, a key page, and then the tiles of each face, row by row,
// without those that have no holes. Where sheets of older works hang it draws those that are to be printed
// anew, and the keys of their faces alone. The error is ErrNoHoles, or ErrNoChange where nothing is to be
// printed.
func HoleMap(c draw.Canvas, cut tiling.Cut) error {
	if len(cut.Work().Map.Holes) == 0 {
		return tiling.ErrNoHoles
	}
	faces := keyFaces(c, cut)
	if len(faces) == 0 {
		return tiling.ErrNoChange
	}
	drawFaces(c, faces, cut.Print())
	return nil
}

// keyFaces returns the faces of which something is to be printed.
func keyFaces(c draw.Canvas, cut tiling.Cut) []*keyFace {
	var faces []*keyFace
	corners := cut.Work().Site.Corners()
	for i, f := range cut.Faces {
		if len(f.Holes) == 0 || f.Since != nil && len(f.Since.Printed)+len(f.Since.Thrown) == 0 {
			continue
		}
		f.Joins = corners[i]
		faces = append(faces, &keyFace{Pen: drafting.Pen{Canvas: c}, CutFace: f, print: cut.Print()})
	}
	return faces
}

// drawFaces draws faces: a key page for each, or for the sides of one thing, and then their tiles.
func drawFaces(c draw.Canvas, faces []*keyFace, p tiling.Print) {
	for len(faces) > 0 {
		n := together(faces)
		k := keyPage{Pen: drafting.Pen{Canvas: c}, print: p, faces: faces[:n]}
		k.draw()
		letters := drillLetters(k.whole())
		for _, f := range faces[:n] {
			f.drawTiles(p, letters)
		}
		faces = faces[n:]
	}
}

// together returns how many of the faces, from the first, share a key page: the sides of one thing.
func together(faces []*keyFace) int {
	first, n := faces[0].Face, 1
	for n < len(faces) && first.Name != wall.WallFace && faces[n].Face.Wall == first.Wall && faces[n].Face.Obstruction == first.Obstruction {
		n++
	}
	return n
}

// drawTiles draws the tiles of a face that have holes.
func (k *keyFace) drawTiles(p tiling.Print, letters map[elevation.DrillKind]string) {
	number, all := 0, k.printed()
	for _, t := range k.Tiles {
		if len(t.Holes) == 0 {
			continue
		}
		number++
		if !k.Since.Prints(t) {
			continue
		}
		c := p.Measured.Correct(k.Pen.Canvas)
		if p.Mirror {
			c = drafting.Mirrored{Canvas: c, Twice: t.Sheet.Width}
		}
		l := sheet.Leaf{Pen: drafting.Pen{Canvas: c}, View: k.View, Tile: t, Print: p, Number: number, All: all, Letters: letters, Itself: tiling.OwnMark(k.CutFace.View, t, p.Mirror), Notice: k.Since.Notice(t)}
		l.Draw()
	}
}
