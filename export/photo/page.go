package photo

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/wall/plane"
)

// Page draws the photo with the pieces of its wall on a page of the given size, in mm. The error says
// why the work cannot be drawn.
func Page(c draw.Canvas, w holemap.Work, v View, page draw.Size) error {
	return Numbered(c, w, v, page, "")
}

// Numbered draws as Page does, with the number of the page at its foot.
func Numbered(c draw.Canvas, w holemap.Work, v View, page draw.Size, number string) error {
	s, err := v.Scene(w)
	if err != nil {
		return err
	}
	var data bytes.Buffer
	if err := jpeg.Encode(&data, v.shaded(s), &jpeg.Options{Quality: 88}); err != nil {
		return fmt.Errorf("the photo %s cannot be drawn: %w", v.Name, err)
	}
	const edge, head, foot = 14.0, 17.0, 9.0
	c.Page(page.Width, page.Height)
	area := plane.Rect{Min: plane.Point{X: edge, Y: edge + head}, Max: plane.Point{X: page.Width - edge, Y: page.Height - edge - foot}}
	k := min(area.Width()/float64(v.Picture.Width), area.Height()/float64(v.Picture.Height))
	size := plane.Point{X: float64(v.Picture.Width), Y: float64(v.Picture.Height)}.Scale(k)
	corner := plane.Point{X: area.Centre().X - size.X/2, Y: area.Min.Y}
	box := plane.Rect{Min: corner, Max: corner.Add(size)}
	at := func(p plane.Point) plane.Point { return corner.Add(p.Scale(k)) }

	say := func(x, y, height float64, text string, width float64, bold bool, align draw.Align) {
		colour := draw.Grey(80)
		if bold {
			colour = draw.Black
		}
		c.Text(draw.Text{At: plane.Point{X: x, Y: y}, Say: text, Height: height, Bold: bold, Align: align, Colour: colour}.Fit(width, draw.Letter18))
	}
	wide := page.Width - 2*edge
	say(edge, edge+5.5, draw.Letter50, w.Title, 0.7*wide, true, draw.Left)
	say(edge, edge+12.5, draw.Letter35, w.Site.Room.Walls[v.Wall].Name+", over a photo of it", 0.7*wide, false, draw.Left)
	say(page.Width-edge, edge+4.5, draw.Letter25, joined(w.For, w.Place), 0.28*wide, false, draw.Right)
	date := ""
	if !w.Date.IsZero() {
		date = w.Date.Format("2006-01-02")
	}
	say(page.Width-edge, edge+9.5, draw.Letter25, joined(w.By, date), 0.28*wide, false, draw.Right)

	c.Group("photo")
	c.Image(box, data.Bytes())
	c.End()
	c.Clip(plane.Rectangle(box.Min, box.Width(), box.Height()))
	for _, shape := range s.Shapes {
		rings := make([]plane.Ring, len(shape.Rings))
		for i, r := range shape.Rings {
			rings[i] = r.Map(at)
		}
		line := draw.Black
		if shape.Colour.Dark() {
			line = draw.White
		}
		c.Group(fmt.Sprintf("piece %d", shape.ID))
		c.Polygon(rings, draw.Paint{Fill: draw.Solid(shape.Colour), Stroke: draw.Stroke{Width: draw.Width013 / 2, Colour: line}})
		c.End()
	}
	c.Unclip()
	c.Polygon([]plane.Ring{plane.Rectangle(box.Min, box.Width(), box.Height())}, draw.Paint{Stroke: draw.Stroke{Width: draw.Width018}})
	say(edge, box.Max.Y+4.5, draw.Letter18, v.notes(s), wide, false, draw.Left)
	say(edge, box.Max.Y+8.5, draw.Letter18, "not to scale · colours are those of the kinds, not of the light in the photo · fingerprint "+w.Map.Fingerprint, 0.85*wide, false, draw.Left)
	if number != "" {
		say(page.Width-edge, page.Height-edge, draw.Letter18, number, 0.15*wide, false, draw.Right)
	}
	return nil
}

// notes says how far the picture is to be trusted and what it leaves out.
func (v View) notes(s Scene) string {
	rms, most := v.Residual()
	fit := fmt.Sprintf("set in by %d points, which agree within %.1f pixels (root mean square %.1f)", len(v.Points), most, rms)
	if len(v.Points) == MinPoints {
		fit = "set in by 4 points, which nothing checks; a fifth would"
	}
	out := []string{v.Name, fit}
	if !v.Known {
		out = append(out, "the photo does not say where it was taken from, so nothing stands off the wall")
	}
	if s.Left > 0 {
		out = append(out, fmt.Sprintf("left out for that: %d on the sides of what stands on the wall", s.Left))
	}
	if s.Hidden > 0 {
		out = append(out, fmt.Sprintf("%d hidden", s.Hidden))
	}
	return strings.Join(out, " · ")
}

func joined(parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, " · ")
}
