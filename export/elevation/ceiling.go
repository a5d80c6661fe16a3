package elevation

import (
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/wall/plane"
)

// wallsRound writes along the edges of a ceiling which wall rises to each, within the ceiling and
// where it covers least.
func (p *Picture) wallsRound() {
	for _, f := range p.Work.Site.Faces {
		w := p.Work.Site.Room.Walls[f.Wall]
		if !f.IsWall() || w.Ceiling || w.Alone != nil {
			continue
		}
		from, _ := p.Face.Frame.Local(f.Frame.Origin)
		to, _ := p.Face.Frame.Local(f.Frame.At(plane.Point{X: w.Outline.Bounds().Max.X}))
		p.along(p.Mapping.At(from), p.Mapping.At(to), w.Name)
	}
}

// along writes a text beside the line from a to b on the page, within the face, turned where the
// line is upright. It is left out where it is longer than the line or finds no place.
func (p *Picture) along(a, b plane.Point, text string) {
	step := b.Sub(a)
	n := drafting.Note{Lines: []string{text}, Height: drafting.Least, Turned: math.Abs(step.Y) > math.Abs(step.X)}
	width, height := n.Size()
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
				candidates = append(candidates, drafting.BoxAt(a.Lerp(b, t).Add(side.Scale(way*(off+further))), width, height))
			}
		}
	}
	within := func(q plane.Point) bool { return p.Outline.Contains(p.Back(q)) }
	candidates = slices.DeleteFunc(candidates, func(c plane.Rect) bool {
		return !drafting.CornersWithin(c, within) || p.liesOn(c, p.Things[:p.Own])
	})
	box, cost, found := p.Spots.Best(candidates)
	if !found || cost > mostCovered*width*height {
		return
	}
	p.Spots.Take(box, WorthText)
	drafting.Knockout(p, box)
	p.Note(n, box, drafting.Quiet)
}
