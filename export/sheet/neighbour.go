package sheet

import (
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// neighbourRoom returns how much room along an edge the name of the sheet beyond it takes, mm.
func neighbourRoom(n tiling.Neighbour) float64 {
	return drafting.TextWidth("("+n.Name+")", draw.Letter25, true) + 4
}

// neighbour writes which sheet lies beyond an edge, with an arrowhead that points there, about the
// point at. The names of
// sheets that are left out stand in brackets, and nothing is said where the wall ends.
func neighbour(p drafting.Pen, n tiling.Neighbour, at, way plane.Point) {
	if n.Name == "" {
		return
	}
	text, colour := n.Name, drafting.Ink
	if !n.Printed {
		text, colour = "("+n.Name+")", drafting.Quiet
	}
	const height, head = draw.Letter25, 2.2
	s := drafting.Style{Bold: n.Printed, Colour: colour}
	width := drafting.TextWidth(text, height, s.Bold)
	if way.X != 0 { // along an upright edge: read upwards
		p.Arrow(plane.Point{X: at.X + way.X*head/2, Y: at.Y + width/2 + 1.6}, way, head, colour)
		s.Turn = math.Pi / 2
		p.Say(at.X+height/2, at.Y+width/2, height, text, 0, s)
		return
	}
	p.Arrow(plane.Point{X: at.X - width/2 - 2, Y: at.Y + way.Y*head/2}, way, head, colour)
	p.Say(at.X-width/2, at.Y+height/2, height, text, 0, s)
}
