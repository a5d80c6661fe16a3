package screen

import (
	"errors"
	"fmt"
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/stand"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

var errUncut = errors.New("the face is not cut into sheets")

// tilesOver draws the sheets of the hole map, each its own part of the face, with their names.
func (s *screen) tilesOver(cut tiling.Cut) error {
	if len(s.Holes) == 0 {
		return nil
	}
	if len(cut.Faces) <= s.Index {
		return errUncut
	}
	tiles := cut.Faces[s.Index].Tiles
	edge := draw.Paint{Stroke: draw.Stroke{Width: draw.Width025, Colour: layerSheet}}
	for _, h := range s.Holes {
		s.Spots.Take(drafting.BoxAt(s.Mapping.At(h.At), 0.6, 0.6), 1)
	}
	cells := make([]plane.Rect, len(tiles))
	for i, t := range tiles {
		cells[i] = s.Mapping.Box(t.Cell).Intersection(s.paper)
		if len(t.Holes) > 0 {
			s.Group("sheet " + t.Name)
			s.Polygon([]plane.Ring{drafting.Corners(cells[i])}, edge)
			s.End()
		}
	}
	for i, t := range tiles {
		if len(t.Holes) > 0 {
			s.sheetName(t.Name, cells[i])
		}
	}
	return nil
}

// sheetName writes the name of a sheet into its cell: as large as fits, off the holes where it can.
func (s *screen) sheetName(name string, cell plane.Rect) {
	const rim = 0.3
	for _, size := range []float64{draw.Letter25, drafting.Least, 1.3} {
		width, height := drafting.TextWidth(name, size, true)+2*rim, size+2*rim
		box, cost, found := s.Spots.Best(everyPart(cell.Grow(-0.3), width, height))
		if !found || size > 1.3 && cost > 0 {
			continue
		}
		s.Spots.Take(box, elevation.WorthText)
		drafting.Knockout(s, box)
		s.Say(box.Centre().X, box.Max.Y-rim, size, name, 0, drafting.Style{Align: draw.Centre, Bold: true, Colour: layerSheet})
		return
	}
}

// seamsOver draws where the printed sheets are cut, and rings the holes that lie near a cut.
func (s *screen) seamsOver(c tiling.Cut) error {
	if len(s.Holes) == 0 {
		return nil
	}
	if len(c.Faces) <= s.Index {
		return errUncut
	}
	g := c.Faces[s.Index].Grids[0]
	printed, whole := tiling.Printed(s.Picture.View, g)
	if !whole {
		return fmt.Errorf("%s has holes that no sheet shows", s.Name())
	}
	cut := draw.Stroke{Width: draw.Width035, Colour: layerSeam, Dash: draw.Dashed}
	for row, b := range g.Rows {
		for column := range b.Lefts {
			if !printed[b.First+column] {
				continue
			}
			c := s.Mapping.Box(g.Cell(row, column)).Intersection(s.paper)
			s.Segment(c.Min.X, c.Min.Y, c.Max.X, c.Min.Y, cut)
			s.Segment(c.Min.X, c.Min.Y, c.Min.X, c.Max.Y, cut)
		}
	}
	for _, h := range s.Holes {
		near, _ := g.Seam(h, printed)
		if near >= tiling.SeamAir-tiling.Speck {
			continue
		}
		at := s.Mapping.At(h.At)
		s.Group(fmt.Sprintf("hole %d", h.Number))
		s.Circle(at, 1, draw.Paint{Stroke: draw.Stroke{Width: draw.Width025, Colour: layerSeam}})
		s.End()
		n := oneLine(fmt.Sprintf("%d: %s", h.Number, s.Length(math.Round(near))), drafting.Least)
		width, height := n.Size()
		s.label(n, drafting.Around(at, width, height, 1.3, 4), false, layerSeam)
	}
	return nil
}

// standsOver draws the stands of the face: each as the box about its pieces, the edge of which tells what
// one stands on, with its number.
func (s *screen) standsOver(stands []stand.Stand) {
	pieces := map[int]plane.Rect{}
	for _, h := range s.Pieces {
		pieces[h.ID] = h.Bounds
	}
	dashes := map[stand.Access]draw.Dash{stand.Floor: draw.Continuous, stand.Ladder: draw.Dashed, stand.Platform: draw.DashDot}
	var boxes []plane.Rect
	var here []stand.Stand
	for _, t := range stands {
		if t.Face != s.Index {
			continue
		}
		box := t.Bounds
		for _, id := range t.Pieces {
			if b, known := pieces[id]; known {
				box = box.Union(b)
			}
		}
		page := s.Mapping.Box(box).Grow(0.6).Intersection(s.paper)
		boxes, here = append(boxes, page), append(here, t)
		s.Group(fmt.Sprintf("stand %d", t.Number))
		s.Polygon([]plane.Ring{drafting.Corners(page)}, draw.Paint{Stroke: draw.Stroke{Width: draw.Width050, Colour: layerStand, Dash: dashes[t.Access]}})
		s.End()
	}
	for i, t := range here {
		const rim = 0.7
		number := fmt.Sprint(t.Number)
		for _, size := range []float64{draw.Letter50, draw.Letter35, draw.Letter25, drafting.Least} {
			width, height := drafting.TextWidth(number, size, true)+2*rim, size+2*rim
			if box, cost, found := s.Spots.Best(everyPart(boxes[i].Grow(-0.5), width, height)); found && cost == 0 {
				s.Spots.Take(box, elevation.WorthText)
				s.Pen.Box(box, draw.Paint{Fill: draw.Solid(draw.White), Stroke: draw.Stroke{Width: draw.Width025, Colour: layerStand}})
				s.Say(box.Centre().X, box.Max.Y-rim, size, number, 0, drafting.Style{Align: draw.Centre, Bold: true, Colour: layerStand})
				word := oneLine(string(t.Access), drafting.Least)
				wordWidth, wordHeight := word.Size()
				s.label(word, []plane.Rect{
					drafting.BoxAt(plane.Point{X: box.Centre().X, Y: box.Max.Y + wordHeight/2 + 0.3}, wordWidth, wordHeight),
					drafting.BoxAt(plane.Point{X: box.Centre().X, Y: box.Min.Y - wordHeight/2 - 0.3}, wordWidth, wordHeight),
				}, false, layerStand)
				break
			}
		}
	}
}
