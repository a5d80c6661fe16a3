package sheet

import (
	"math"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/wall/plane"
)

// elevationPapers returns the sheets that elevations are drawn on, the smallest first: A3 and A2 of
// ISO 216, or Tabloid for plans in inches and feet, whose scales lie closer together.
func elevationPapers(v view) []Paper {
	if v.work.Units.Imperial() {
		tabloid, _ := PaperByName("Tabloid")
		return []Paper{tabloid}
	}
	a3, _ := PaperByName("A3")
	return []Paper{a3, {"A2", 420, 594}}
}

// Elevation draws one face of a work, used or bare, on a page of its own: to a standard scale, in
// the units of the plan, with the pieces as they hang, dimensions, a standing figure, a legend and
// a title block. The error says why the face cannot be drawn.
func Elevation(c draw.Canvas, w holemap.Work, face int) error {
	v, err := look(w, face)
	if err != nil {
		return err
	}
	e := elevation{picture: picture{pen: pen{c}, view: v}}
	for _, paper := range elevationPapers(v) {
		e.on(paper)
		if e.fills() > 0.5 {
			break
		}
	}
	e.draw()
	return nil
}

// An elevation is one face on a page of its own.
type elevation struct {
	picture
	frame, inside plane.Rect
	title         plane.Point // the top-left corner of the title block
	width, height float64
}

// on lays the elevation out on a sheet, level.
func (e *elevation) on(paper Paper) {
	e.width, e.height = paper.Height, paper.Width
	e.frame = plane.Rect{Max: plane.Point{X: e.width, Y: e.height}}.Grow(-10)
	e.title = plane.Point{X: e.frame.Max.X - titleWidth, Y: e.frame.Max.Y - titleHeight}
	e.inside = e.frame.Grow(-4)
	e.inside.Max.Y = e.title.Y - 4
	e.fit(e.inside)
}

// fills returns how much of the room for it the face takes up, in the direction in which it is
// larger.
func (e *elevation) fills() float64 {
	b := e.mapping.box(e.bounds)
	return math.Max(b.Width()/e.inside.Width(), b.Height()/e.inside.Height())
}

// number returns how many of the first n faces have an elevation: walls, and sides that carry
// pieces.
func (e *elevation) number(n int) int {
	count := 0
	for _, f := range e.work.Site.Faces[:n] {
		if f.IsWall() || f.Used {
			count++
		}
	}
	return count
}

func (e *elevation) draw() {
	e.Page(e.width, e.height)
	e.pen.box(e.frame, draw.Paint{Stroke: bold})
	e.picture.draw()
	e.titleBlock(e.pen, e.title, e.drawn, "Elevation", e.number(e.index)+1, e.number(len(e.work.Site.Faces)))
	e.legend(e.pen, plane.Rect{
		Min: plane.Point{X: e.frame.Min.X + 4, Y: e.title.Y},
		Max: plane.Point{X: e.title.X - 4, Y: e.frame.Max.Y - 2},
	})
}
