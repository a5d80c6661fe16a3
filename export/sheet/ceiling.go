package sheet

import (
	"math"
	"slices"

	"wallshoal/wall/plane"
)

// wallsRound writes along the edges of a ceiling which wall rises to each, within the ceiling and
// where it covers least.
func (p *picture) wallsRound() {
	for _, f := range p.work.Site.Faces {
		w := p.work.Site.Room.Walls[f.Wall]
		if !f.IsWall() || w.Ceiling || w.Alone != nil {
			continue
		}
		from, _ := p.face.Frame.Local(f.Frame.Origin)
		to, _ := p.face.Frame.Local(f.Frame.At(plane.Point{X: w.Outline.Bounds().Max.X}))
		p.along(p.mapping.at(from), p.mapping.at(to), w.Name)
	}
}

// along writes a text beside the line from a to b on the page, within the face, turned where the
// line is upright. It is left out where it is longer than the line or finds no place.
func (p *picture) along(a, b plane.Point, text string) {
	step := b.Sub(a)
	n := note{lines: []string{text}, height: least, turned: math.Abs(step.Y) > math.Abs(step.X)}
	width, height := n.size()
	length := step.Len()
	if math.Max(width, height) > length {
		return
	}
	side := plane.Point{X: -step.Y, Y: step.X}.Scale(1 / length)
	off := 0.8 + (math.Abs(side.X)*width+math.Abs(side.Y)*height)/2
	var candidates []plane.Rect
	for _, further := range []float64{0, 2.5, 5} {
		for _, t := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9} {
			for _, way := range []float64{-1, 1} {
				candidates = append(candidates, sized(a.Lerp(b, t).Add(side.Scale(way*(off+further))), width, height))
			}
		}
	}
	within := func(q plane.Point) bool { return p.outline.Contains(p.back(q)) }
	candidates = slices.DeleteFunc(candidates, func(c plane.Rect) bool {
		return !cornersWithin(c, within) || p.liesOn(c, p.things[:p.own])
	})
	box, cost, found := p.spots.best(candidates)
	if !found || cost > mostCovered*width*height {
		return
	}
	p.spots.take(box, worthText)
	knockout(p, box)
	p.note(n, box, quiet)
}
