package sheet

import (
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/wall/plane"
)

// elevationPaper returns the sheet that elevations are drawn on, level: A3, or Tabloid for plans
// in inches and feet.
func elevationPaper(v view) Paper {
	name := "A3"
	if v.work.Units.Imperial() {
		name = "Tabloid"
	}
	p, _ := PaperByName(name)
	return p
}

// Elevation draws one face of a work, used or bare, on a page of its own: to a standard scale, in
// the units of the plan, with the pieces as they hang, dimensions, a standing figure, a legend and
// a title block. The error says why the face cannot be drawn.
func Elevation(c draw.Canvas, w holemap.Work, face int) error {
	v, err := look(w, face)
	if err != nil {
		return err
	}
	paper := elevationPaper(v)
	p := pen{c}
	p.Page(paper.Height, paper.Width)
	frame := plane.Rect{Max: plane.Point{X: paper.Height, Y: paper.Width}}.Grow(-10)
	p.box(frame, draw.Paint{Stroke: bold})
	corner := plane.Point{X: frame.Max.X - titleWidth, Y: frame.Max.Y - titleHeight}

	picture := picture{pen: p, view: v}
	inside := frame.Grow(-4)
	inside.Max.Y = corner.Y - 4
	picture.fit(inside)
	picture.draw()

	v.titleBlock(p, corner, picture.drawn, "Elevation", face+1, len(w.Site.Faces))
	v.legend(p, plane.Rect{
		Min: plane.Point{X: frame.Min.X + 4, Y: corner.Y},
		Max: plane.Point{X: corner.X - 4, Y: frame.Max.Y - 2},
	})
	return nil
}
