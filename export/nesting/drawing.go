package nesting

import (
	"fmt"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// Letters of the codes, the largest that goes into the outline first, in mm.
var letters = [...]float64{draw.Letter50, draw.Letter35, draw.Letter25, draw.Letter18}

// Draw draws a sheet at 1:1 on a page of its size: nothing but cut lines in the group "cut", and the
// codes in a group "codes" of their own, which a cutter is told to leave out or to mark. A piece that has
// no room for its code has none.
func (n Nest) Draw(c draw.Canvas, s Sheet) {
	c.Page(n.Stock.Width, n.Stock.Height)
	flip := func(p plane.Point) plane.Point { return plane.Point{X: p.X, Y: n.Stock.Height - p.Y} }
	c.Group("cut")
	for _, p := range s.Placements {
		c.Polygon([]plane.Ring{n.Outline(p).Map(flip)}, draw.Paint{Stroke: draw.Stroke{Width: draw.Width013}})
	}
	c.End()
	c.Group("codes")
	for _, p := range s.Placements {
		if t, ok := code(n.Outline(p), n.Parts[p.Part].Code); ok {
			t.At = flip(t.At)
			c.Text(t)
		}
	}
	c.End()
}

// FileName returns the name of the drawing of the sheet with an index.
func FileName(index int) string { return fmt.Sprintf("nest-%02d.svg", index+1) }

// code returns the code as it stands within a ring, and whether there is room for it: its box keeps
// clear of the outline by a quarter of a letter.
func code(r plane.Ring, say string) (draw.Text, bool) {
	const steps = 8
	box := r.Bounds()
	centre := box.Centre()
	for _, height := range letters {
		t := draw.Text{Say: say, Height: height, Align: draw.Centre, Colour: draw.Grey(96)}
		w, h := t.Width()+height/2, height*1.5
		for k := range (2*steps + 1) * (2*steps + 1) {
			// From the middle outwards along each axis: 0, 1, -1, 2, -2 ...
			off := func(i int, size float64) float64 {
				d := float64((i+1)/2) * size / (2*steps + 2)
				if i%2 == 0 {
					d = -d
				}
				return d
			}
			at := plane.Point{X: centre.X + off(k%(2*steps+1), box.Width()), Y: centre.Y + off(k/(2*steps+1), box.Height())}
			label := plane.Rectangle(plane.Point{X: at.X - w/2, Y: at.Y - h/2}, w, h)
			if inside(r, label) {
				t.At = plane.Point{X: at.X, Y: at.Y - height/2}
				return t, true
			}
		}
	}
	return draw.Text{}, false
}

// inside reports whether the label lies within the ring: no edges meet, and a corner is inside.
func inside(r, label plane.Ring) bool {
	for i, a := range r {
		for j, c := range label {
			if plane.SegmentsMeet(a, r[(i+1)%len(r)], c, label[(j+1)%len(label)]) {
				return false
			}
		}
	}
	return r.Contains(label[0])
}
