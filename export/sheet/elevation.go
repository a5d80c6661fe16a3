package sheet

import (
	"slices"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// elevationPapers returns the sheets that elevations are drawn on, the smallest first: A3 and A2 of
// ISO 216, or Tabloid for plans in inches and feet, whose scales lie closer together, and sheet C of
// ANSI/ASME Y14.1 where there are sides to unfold.
func elevationPapers(u measure.Unit, sides bool) []Paper {
	if !u.Imperial() {
		a3, _ := PaperByName("A3")
		return []Paper{a3, {Name: "A2", Width: 420, Height: 594}}
	}
	tabloid, _ := PaperByName("Tabloid")
	if !sides {
		return []Paper{tabloid}
	}
	return []Paper{tabloid, {Name: "C", Width: 17 * inch, Height: 22 * inch}}
}

// Elevation draws one wall of a work, used or bare, on a page of its own: to a standard scale, in
// the units of the plan, with the pieces as they hang, dimensions, a standing figure, a legend and
// a title block. The sides of what stands on the wall are unfolded beside it where they carry
// pieces. A face that is no wall is drawn alone. The error says why the face cannot be drawn.
func Elevation(c draw.Canvas, w holemap.Work, face int) error {
	d, err := develop(pen{c}, w, face, false)
	if err != nil {
		return err
	}
	papers := elevationPapers(w.Units, len(d.nets) > 0)
	e := elevation{pen{c}, d, d.paperFor(papers, insideOf)}
	e.draw()
	return nil
}

// An elevation is a development on a page of its own.
type elevation struct {
	pen
	*development
	paper Paper
}

// frameOf returns the frame of an elevation on a sheet that lies level.
func frameOf(p Paper) plane.Rect {
	return plane.Rect{Max: plane.Point{X: p.Height, Y: p.Width}}.Grow(-10)
}

// insideOf returns what is left for the drawing on a sheet, over the title block.
func insideOf(p Paper) plane.Rect {
	inside := frameOf(p).Grow(-4)
	inside.Max.Y = frameOf(p).Max.Y - titleHeight - 4
	return inside
}

func (e elevation) draw() {
	frame := frameOf(e.paper)
	title := plane.Point{X: frame.Max.X - titleWidth, Y: frame.Max.Y - titleHeight}
	e.Page(e.paper.Height, e.paper.Width)
	e.box(frame, draw.Paint{Stroke: bold})
	e.development.draw()
	all := Elevations(e.main.work.Site)
	e.main.titleBlock(e.pen, title, e.drawn, "Elevation", slices.Index(all, e.main.index)+1, len(all))
	e.all().legend(e.pen, plane.Rect{
		Min: plane.Point{X: frame.Min.X + 4, Y: title.Y},
		Max: plane.Point{X: title.X - 4, Y: frame.Max.Y - 2},
	})
}
