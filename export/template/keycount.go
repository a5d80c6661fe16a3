package template

import (
	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/tiling"
)

// KeyPages returns how many key pages the hole map of a cut has beside its sheets. What needs room on them decides it,
// so they are drawn, and forgotten.
func KeyPages(cut tiling.Cut) int {
	c := draw.NewRecord()
	for faces := keyFaces(c, cut); len(faces) > 0; {
		n := together(faces)
		k := keyPage{Pen: drafting.Pen{Canvas: c}, print: cut.Print(), faces: faces[:n]}
		k.draw()
		faces = faces[n:]
	}
	return len(c.Pages)
}
