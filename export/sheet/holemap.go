package sheet

import (
	"errors"

	"wallshoal/export/draw"
	"wallshoal/wall"
)

// What a work can lack.
var (
	ErrNoHoles  = errors.New("the work has no holes")
	ErrNoPieces = errors.New("the work has no wall that carries pieces")
)

// HoleMap draws the hole map of a work at full size: for every wall with holes, and for the sides of
// every thing on it that have some, a key page, and then the tiles of each face, row by row,
// without those that have no holes. Where sheets of older works hang it draws those that are to be printed
// anew, and the keys of their faces alone. The error is ErrNoHoles, or ErrNoChange where nothing is to be
// printed.
func HoleMap(c draw.Canvas, cut Cut) error {
	if len(cut.work.Map.Holes) == 0 {
		return ErrNoHoles
	}
	var faces []*keyFace
	corners := cut.work.Site.Corners()
	for i, f := range cut.faces {
		if len(f.holes) == 0 || f.since != nil && len(f.since.printed)+len(f.since.thrown) == 0 {
			continue
		}
		f.joins = corners[i]
		faces = append(faces, &keyFace{pen: pen{c}, cutFace: f, print: cut.print})
	}
	if len(faces) == 0 {
		return ErrNoChange
	}
	drawFaces(c, faces, cut.print)
	return nil
}

// drawFaces draws faces: a key page for each, or for the sides of one thing, and then their tiles.
func drawFaces(c draw.Canvas, faces []*keyFace, p Print) {
	for len(faces) > 0 {
		n := together(faces)
		k := keyPage{pen: pen{c}, print: p, faces: faces[:n]}
		k.draw()
		letters := k.whole().drillLetters()
		for _, f := range faces[:n] {
			f.drawTiles(p, letters)
		}
		faces = faces[n:]
	}
}

// together returns how many of the faces, from the first, share a key page: the sides of one thing.
func together(faces []*keyFace) int {
	first, n := faces[0].face, 1
	for n < len(faces) && first.Name != wall.WallFace && faces[n].face.Wall == first.Wall && faces[n].face.Obstruction == first.Obstruction {
		n++
	}
	return n
}

// drawTiles draws the tiles of a face that have holes.
func (k *keyFace) drawTiles(p Print, letters map[drillKind]string) {
	number, all := 0, k.printed()
	for _, t := range k.tiles {
		if len(t.Holes) == 0 {
			continue
		}
		number++
		if !k.since.prints(t) {
			continue
		}
		c := p.Measured.correct(k.pen.Canvas)
		if p.Mirror {
			c = mirrored{c, t.Sheet.Width}
		}
		l := leaf{pen: pen{c}, view: k.view, Tile: t, print: p, number: number, all: all, letters: letters, itself: k.ownMark(t, p.Mirror), notice: k.since.notice(t)}
		l.draw()
	}
}
