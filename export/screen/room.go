package screen

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/roomview"
	"wallshoal/scatter"
	"wallshoal/wall/plane"
)

// The page of a picture of the room, and how many times as large it is as its paper.
const (
	roomWidth  = 1600.0
	roomHeight = 1000.0
	roomRatio  = 5.0
)

// Room draws the whole room with the work in it, in perspective, as somebody sees it who stands there,
// on a page of 1600 × 1000: with the pieces in their colours, or as outlines with the codes of their
// kinds. The error says why the work cannot be drawn.
func Room(c draw.Canvas, w holemap.Work, as Look) error {
	if !slices.Contains(Looks(), as) {
		return fmt.Errorf("%q is no look of a picture", as)
	}
	if as == LookHoles {
		w.Kinds = slices.Clone(w.Kinds)
		for i := range w.Kinds {
			w.Kinds[i].StandOff = 0 // and throws no shade
		}
	}
	s, err := roomview.New(w)
	if err != nil {
		return err
	}
	page := drafting.Enlarged{Canvas: c, By: roomRatio}
	page.Page(roomWidth/roomRatio, roomHeight/roomRatio)
	area := plane.Rect{Max: plane.Point{X: roomWidth / roomRatio, Y: roomHeight / roomRatio}}.Grow(-1)
	if as == LookClient {
		s.Perspective().Draw(page, area)
		return nil
	}
	codes := map[string]scatter.Kind{}
	for _, p := range w.Layout.Pieces {
		codes[pieceGroup(p.ID)] = w.Kinds[p.Kind]
	}
	s.Perspective().Draw(&coded{Canvas: page, codes: codes}, area)
	return nil
}

// pieceGroup is what a picture of the room calls a piece.
func pieceGroup(id int) string { return fmt.Sprintf("piece %d", id) }

// A coded canvas draws pieces, which it knows by their groups, as outlines with the codes of their kinds.
type coded struct {
	draw.Canvas
	codes map[string]scatter.Kind
	open  []string
}

// Group implements draw.Canvas.
func (c *coded) Group(name string) {
	c.open = append(c.open, name)
	c.Canvas.Group(name)
}

// End implements draw.Canvas.
func (c *coded) End() {
	if n := len(c.open); n > 0 {
		c.open = c.open[:n-1]
	}
	c.Canvas.End()
}

// Polygon implements draw.Canvas. A code that would be too small to read is left out.
func (c *coded) Polygon(rings []plane.Ring, p draw.Paint) {
	name := strings.Join(c.open, "/")
	kind, is := c.codes[name]
	if !is {
		c.Canvas.Polygon(rings, p)
		return
	}
	const tiny, most = 0.6, 3.0
	c.Canvas.Polygon(rings, draw.Paint{Fill: draw.Solid(draw.White), Stroke: draw.Stroke{Width: draw.Width013 / 2}})
	box := rings[0].Bounds()
	size := math.Min(most, 0.22*math.Hypot(box.Width(), box.Height()))
	if size < tiny {
		return
	}
	middle := box.Centre()
	drafting.Pen{Canvas: c.Canvas}.Say(middle.X, middle.Y+size/2, size, kind.Code, 0, drafting.Style{Align: draw.Centre, Bold: true})
}
