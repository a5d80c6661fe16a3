// Package elevation draws the faces of a room to scale with what hangs on them: one by one, and unfolded with the
// sides of what stands on them. Other pages draw the same faces their way, from the same View.
package elevation

import (
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// elevationPapers returns the sheets that elevations are drawn on, the smallest first: A3 and A2 of
// ISO 216, or Tabloid for plans in inches and feet, whose scales lie closer together, and sheet C of
// ANSI/ASME Y14.1 where there are sides to unfold.
func elevationPapers(u measure.Unit, sides bool) []drafting.Paper {
	if !u.Imperial() {
		a3, _ := drafting.PaperByName("A3")
		return []drafting.Paper{a3, {Name: "A2", Width: 420, Height: 594}}
	}
	tabloid, _ := drafting.PaperByName("Tabloid")
	if !sides {
		return []drafting.Paper{tabloid}
	}
	return []drafting.Paper{tabloid, {Name: "C", Width: 17 * drafting.Inch, Height: 22 * drafting.Inch}}
}

// Draw draws one wall of a work, used or bare, on a page of its own: to a standard scale, in
// the units of the plan, with the pieces as they hang, dimensions, a standing figure, a legend and
// a title block. The sides of what stands on the wall are unfolded beside it where they carry
// pieces. A face that is no wall is drawn alone. The error says why the face cannot be drawn.
func Draw(c draw.Canvas, w holemap.Work, face int) error {
	d, err := Develop(drafting.Pen{Canvas: c}, w, face, false)
	if err != nil {
		return err
	}
	papers := elevationPapers(w.Units, len(d.nets) > 0)
	e := elevation{drafting.Pen{Canvas: c}, d, d.paperFor(papers, insideOf)}
	e.draw()
	return nil
}

// An elevation is a development on a page of its own.
type elevation struct {
	drafting.Pen
	*Development
	paper drafting.Paper
}

// frameOf returns the frame of an elevation on a sheet that lies level.
func frameOf(p drafting.Paper) plane.Rect {
	return plane.Rect{Max: plane.Point{X: p.Height, Y: p.Width}}.Grow(-10)
}

// insideOf returns what is left for the drawing on a sheet, over the title block.
func insideOf(p drafting.Paper) plane.Rect {
	inside := frameOf(p).Grow(-4)
	inside.Max.Y = frameOf(p).Max.Y - titleHeight - 4
	return inside
}

func (e elevation) draw() {
	frame := frameOf(e.paper)
	title := plane.Point{X: frame.Max.X - titleWidth, Y: frame.Max.Y - titleHeight}
	e.Page(e.paper.Height, e.paper.Width)
	e.Box(frame, draw.Paint{Stroke: drafting.Bold})
	e.Development.Draw()
	all := Faces(e.Main.Work.Site)
	e.Main.titleBlock(e.Pen, title, e.Drawn, "Elevation", slices.Index(all, e.Main.Index)+1, len(all))
	e.All().Legend(e.Pen, plane.Rect{
		Min: plane.Point{X: frame.Min.X + 4, Y: title.Y},
		Max: plane.Point{X: title.X - 4, Y: frame.Max.Y - 2},
	})
}
