package sheet

import (
	"errors"
	"fmt"
	"math"

	"wallshoal/export/draw"
	"wallshoal/export/stand"
	"wallshoal/wall/plane"
)

var errUncut = errors.New("the face is not cut into sheets")

// tilesOver draws the sheets of the hole map, each its own part of the face, with their names.
func (s *screen) tilesOver(cut Cut) error {
	if len(s.holes) == 0 {
		return nil
	}
	if len(cut.faces) <= s.index {
		return errUncut
	}
	tiles := cut.faces[s.index].tiles
	edge := draw.Paint{Stroke: draw.Stroke{Width: draw.Width025, Colour: layerSheet}}
	for _, h := range s.holes {
		s.spots.take(sized(s.mapping.at(h.At), 0.6, 0.6), 1)
	}
	cells := make([]plane.Rect, len(tiles))
	for i, t := range tiles {
		cells[i] = s.mapping.box(t.Cell).Intersection(s.paper)
		if len(t.Holes) > 0 {
			s.Group("sheet " + t.Name)
			s.Polygon([]plane.Ring{corners(cells[i])}, edge)
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
	for _, size := range []float64{draw.Letter25, least, 1.3} {
		width, height := wide(name, size, true)+2*rim, size+2*rim
		box, cost, found := s.spots.best(everyPart(cell.Grow(-0.3), width, height))
		if !found || size > 1.3 && cost > 0 {
			continue
		}
		s.spots.take(box, worthText)
		knockout(s, box)
		s.say(box.Centre().X, box.Max.Y-rim, size, name, 0, style{align: draw.Centre, bold: true, colour: layerSheet})
		return
	}
}

// seamsOver draws where the printed sheets are cut, and rings the holes that lie near a cut.
func (s *screen) seamsOver(c Cut) error {
	if len(s.holes) == 0 {
		return nil
	}
	if len(c.faces) <= s.index {
		return errUncut
	}
	g := c.faces[s.index].grids[0]
	printed, whole := s.printed(g)
	if !whole {
		return fmt.Errorf("%s has holes that no sheet shows", s.name())
	}
	cut := draw.Stroke{Width: draw.Width035, Colour: layerSeam, Dash: draw.Dashed}
	for row, b := range g.rows {
		for column := range b.lefts {
			if !printed[b.first+column] {
				continue
			}
			c := s.mapping.box(g.cell(row, column)).Intersection(s.paper)
			s.line(c.Min.X, c.Min.Y, c.Max.X, c.Min.Y, cut)
			s.line(c.Min.X, c.Min.Y, c.Min.X, c.Max.Y, cut)
		}
	}
	for _, h := range s.holes {
		near, _ := g.seam(h, printed)
		if near >= seamAir-speck {
			continue
		}
		at := s.mapping.at(h.At)
		s.Group(fmt.Sprintf("hole %d", h.Number))
		s.Circle(at, 1, draw.Paint{Stroke: draw.Stroke{Width: draw.Width025, Colour: layerSeam}})
		s.End()
		n := oneLine(fmt.Sprintf("%d: %s", h.Number, s.length(math.Round(near))), least)
		width, height := n.size()
		s.label(n, around(at, width, height, 1.3, 4), false, layerSeam)
	}
	return nil
}

// standsOver draws the stands of the face: each as the box about its pieces, the edge of which tells what
// one stands on, with its number.
func (s *screen) standsOver(stands []stand.Stand) {
	pieces := map[int]plane.Rect{}
	for _, h := range s.pieces {
		pieces[h.ID] = h.bounds
	}
	dashes := map[stand.Access]draw.Dash{stand.Floor: draw.Continuous, stand.Ladder: draw.Dashed, stand.Platform: draw.DashDot}
	var boxes []plane.Rect
	var here []stand.Stand
	for _, t := range stands {
		if t.Face != s.index {
			continue
		}
		box := t.Bounds
		for _, id := range t.Pieces {
			if b, known := pieces[id]; known {
				box = box.Union(b)
			}
		}
		page := s.mapping.box(box).Grow(0.6).Intersection(s.paper)
		boxes, here = append(boxes, page), append(here, t)
		s.Group(fmt.Sprintf("stand %d", t.Number))
		s.Polygon([]plane.Ring{corners(page)}, draw.Paint{Stroke: draw.Stroke{Width: draw.Width050, Colour: layerStand, Dash: dashes[t.Access]}})
		s.End()
	}
	for i, t := range here {
		const rim = 0.7
		number := fmt.Sprint(t.Number)
		for _, size := range []float64{draw.Letter50, draw.Letter35, draw.Letter25, least} {
			width, height := wide(number, size, true)+2*rim, size+2*rim
			if box, cost, found := s.spots.best(everyPart(boxes[i].Grow(-0.5), width, height)); found && cost == 0 {
				s.spots.take(box, worthText)
				s.pen.box(box, draw.Paint{Fill: draw.Solid(draw.White), Stroke: draw.Stroke{Width: draw.Width025, Colour: layerStand}})
				s.say(box.Centre().X, box.Max.Y-rim, size, number, 0, style{align: draw.Centre, bold: true, colour: layerStand})
				word := oneLine(string(t.Access), least)
				wordWidth, wordHeight := word.size()
				s.label(word, []plane.Rect{
					sized(plane.Point{X: box.Centre().X, Y: box.Max.Y + wordHeight/2 + 0.3}, wordWidth, wordHeight),
					sized(plane.Point{X: box.Centre().X, Y: box.Min.Y - wordHeight/2 - 0.3}, wordWidth, wordHeight),
				}, false, layerStand)
				break
			}
		}
	}
}
