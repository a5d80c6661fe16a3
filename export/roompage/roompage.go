// Package roompage draws the whole room, as somebody in it sees it.
package roompage

import (
	"fmt"
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/roomview"
	"wallshoal/wall/plane"
)

// Draw draws the whole room with the work in it on a page of its own, level A3 or Tabloid: in
// perspective, as somebody sees it who stands there, and isometrically, from above. The error says
// why the work cannot be drawn.
func Draw(c draw.Canvas, w holemap.Work) error {
	v, s, err := LookAround(w)
	if err != nil {
		return err
	}
	paper, _ := drafting.PaperByName("A3")
	if w.Units.Imperial() {
		paper, _ = drafting.PaperByName("Tabloid")
	}
	RoomPage(v, drafting.Pen{Canvas: c}, s, paper, "")
	return nil
}

// LookAround returns the scene of a work, and the view of all that hangs in it.
func LookAround(w holemap.Work) (elevation.View, roomview.Scene, error) {
	s, err := roomview.New(w)
	if err != nil {
		return elevation.View{}, s, err
	}
	v := elevation.View{Work: w, Holes: w.Map.Holes}
	for _, p := range w.Layout.Pieces {
		v.Pieces = append(v.Pieces, elevation.Hung{Piece: p, Kind: w.Kinds[p.Kind]})
	}
	return v, s, nil
}

// Header writes the title of a page for the client along the top of the area, and what it shows.
func Header(v elevation.View, p drafting.Pen, area plane.Rect, shows string) {
	p.Say(area.Min.X, area.Min.Y+5.5, draw.Letter50, v.Work.Title, area.Width()*0.7, drafting.Style{Bold: true})
	p.Say(area.Min.X, area.Min.Y+12.5, draw.Letter35, shows, area.Width()*0.7, drafting.Style{})
	right := drafting.Style{Align: draw.Right, Colour: drafting.Quiet}
	p.Say(area.Max.X, area.Min.Y+4.5, draw.Letter25, drafting.Joined(" · ", v.Work.For, v.Work.Place), area.Width()*0.28, right)
	p.Say(area.Max.X, area.Min.Y+9.5, draw.Letter25, drafting.Joined(" · ", v.Work.By, v.Dated()), area.Width()*0.28, right)
}

// Page draws one page: title, the room in perspective, the room from above, and counts.
func RoomPage(v elevation.View, p drafting.Pen, s roomview.Scene, paper drafting.Paper, number string) {
	const headRoom, foot, gap, caption = 17.0, 5.0, 5.0, 4.5
	p.Page(paper.Height, paper.Width)
	area := plane.Rect{Max: plane.Point{X: paper.Height, Y: paper.Width}}.Grow(-14)
	Header(v, p, area, "The room")
	note := drafting.Joined(" · ", "not to scale", "fingerprint "+v.Work.Map.Fingerprint, number)
	p.Say(area.Max.X, area.Max.Y, drafting.Least, note, area.Width(), drafting.Style{Align: draw.Right, Colour: drafting.Quiet})

	large, small := s.Perspective(), s.Isometric()
	body := plane.Rect{Min: plane.Point{X: area.Min.X, Y: area.Min.Y + headRoom}, Max: plane.Point{X: area.Max.X, Y: area.Max.Y - foot}}
	main, side, facts := roomLayout(body, large.Shape(), small.Shape(), gap)
	for _, d := range []struct {
		picture roomview.Picture
		area    plane.Rect
		says    string
	}{
		{large, main, "As seen from the height of a standing person's eyes"},
		{small, side, "From above, isometric"},
	} {
		room := d.area
		room.Max.Y -= caption
		p.Group(d.says)
		taken := d.picture.Draw(p.Canvas, room)
		p.Say(room.Centre().X, math.Min(taken.Max.Y+3.5, d.area.Max.Y), drafting.Least, roomCaption(v, d.says, d.picture.Missing()), d.area.Width(), drafting.Style{Align: draw.Centre, Colour: drafting.Quiet})
		p.End()
	}
	v.Legend(p, facts)
}

// roomCaption says what a picture of the room shows and what it cannot.
func roomCaption(v elevation.View, says string, missing int) string {
	switch {
	case missing == 0:
		return says
	case missing == len(v.Pieces):
		return says + "; the pieces are on sides that it leaves out"
	}
	return fmt.Sprintf("%s; %s on sides that it leaves out", says, drafting.Count(missing, "piece is", "pieces are"))
}

// roomLayout divides the area between the large picture, the small one and the counts: one above
// the other two or beside them, whichever lets the large picture be larger.
func roomLayout(area plane.Rect, large, small, gap float64) (main, side, facts plane.Rect) {
	box := func(x, y, width, height float64) plane.Rect {
		return plane.Rect{Min: plane.Point{X: x, Y: y}, Max: plane.Point{X: x + width, Y: y + height}}
	}
	above := math.Min(0.66*area.Height(), area.Width()/large)
	beside := math.Min(0.66*area.Width(), area.Height()*large)
	if above >= beside/large {
		below := area.Height() - above - gap
		y := area.Min.Y + above + gap
		width := math.Min(0.5*area.Width(), math.Max(0.3*area.Width(), below*small))
		return box(area.Min.X, area.Min.Y, area.Width(), above),
			box(area.Max.X-width, y, width, below),
			box(area.Min.X, y, area.Width()-width-gap, below)
	}
	x := area.Min.X + beside + gap
	width := area.Width() - beside - gap
	height := math.Min(0.6*area.Height(), width/small+6)
	return box(area.Min.X, area.Min.Y, beside, area.Height()),
		box(x, area.Min.Y, width, height),
		box(x, area.Min.Y+height+gap, width, area.Height()-height-gap)
}
