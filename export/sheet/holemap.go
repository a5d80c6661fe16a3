package sheet

import (
	"errors"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
)

// What a work can lack.
var (
	ErrNoHoles  = errors.New("the work has no holes")
	ErrNoPieces = errors.New("the work has no wall that carries pieces")
)

// HoleMap draws the hole map of a work at full size: for every face with holes a key page, and
// then its tiles, row by row, without those that have no holes. The error says what is wrong with
// the print or the work; what c then holds is not to be used.
func HoleMap(c draw.Canvas, w holemap.Work, p Print) error {
	drawn := false
	for i := range w.Site.Faces {
		v, err := look(w, i)
		if err != nil {
			return err
		}
		if len(v.holes) == 0 {
			continue
		}
		tiles, err := v.tiles(p)
		if err != nil {
			return err
		}
		k := keyPage{pen: pen{c}, view: v, print: p, tiles: tiles}
		k.draw()
		number, all := 0, k.printed()
		for _, t := range tiles {
			if len(t.Holes) == 0 {
				continue
			}
			number++
			l := leaf{pen: pen{c}, view: v, Tile: t, print: p, number: number, all: all}
			l.draw()
		}
		drawn = true
	}
	if !drawn {
		return ErrNoHoles
	}
	return nil
}
