package elevation

import (
	"fmt"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// names writes what stands on the face: in it where there is room, else beside it.
func (p *Picture) names() {
	for n, i := range p.Order {
		var nearer []wall.Obstruction
		for _, j := range p.Order[n+1:] {
			nearer = append(nearer, p.Things[j])
		}
		o := p.Things[i]
		if p.keys[i] != "" {
			o.Name = p.keys[i] + " " + o.Name
		}
		switch named := p.ObstructionName(o, nearer); {
		case named:
		case p.keys[i] != "":
			p.key(o, p.keys[i], nearer)
		case p.calm:
			p.numbered(o)
		}
	}
	if p.Wall.Ceiling {
		p.wallsRound()
	}
	p.builtWords()
	if y, shown := p.datumShown(); shown {
		at := p.Mapping.At(plane.Point{X: p.Bounds.Max.X, Y: y})
		p.Say(at.X+1, at.Y-0.8, drafting.Least, "datum", 0, drafting.Style{Colour: drafting.Quiet})
	}
}

// datumShown returns the height of the datum on the face and whether the picture has it.
func (p *Picture) datumShown() (y float64, shown bool) {
	y, upright := p.Datum()
	return y, upright && !p.calm && y >= p.Bounds.Min.Y && y <= p.Bounds.Max.Y
}

// ObstructionName writes the name of one thing on the face, clear of what lies nearer, and reports
// whether it found a place.
func (p *Picture) ObstructionName(o wall.Obstruction, nearer []wall.Obstruction) bool {
	area := p.Mapping.Box(o.Shape.Bounds())
	for _, n := range drafting.NotesFor(o.Name, draw.Letter25, area.Width(), area.Height(), area.Width(), 2) {
		if p.NameWithin(n, area, o, nearer) {
			return true
		}
	}
	return !p.calm && p.nameBeside(o)
}

// numbered gives a thing that is too small for its name a number, where that covers least, and notes
// the name.
func (p *Picture) numbered(o wall.Obstruction) {
	number := fmt.Sprint(len(p.Few) + 1)
	width, height := drafting.TextWidth(number, drafting.Least, true)+0.8, drafting.Least+0.8
	places := slices.DeleteFunc(drafting.ScatterIn(p.Mapping.Box(o.Shape.Bounds()), width, height), func(c plane.Rect) bool {
		return !drafting.CornersWithin(c, func(q plane.Point) bool { return o.Shape.Contains(p.Back(q)) })
	})
	box, _, found := p.Spots.Best(append(places, p.PlacesBeside(o, width, height)...))
	if !found {
		return
	}
	p.Few = append(p.Few, o.Name)
	p.Spots.Take(box, WorthText)
	drafting.Knockout(p, box)
	p.Say(box.Centre().X, box.Max.Y-0.4, drafting.Least, number, 0, drafting.Style{Align: draw.Centre, Bold: true})
}

// key writes the key of the drawing of a thing's sides on the thing, off what lies nearer, where it
// covers least.
func (p *Picture) key(o wall.Obstruction, key string, nearer []wall.Obstruction) {
	width, height := drafting.TextWidth(key, draw.Letter25, true)+1.2, draw.Letter25+1.2
	area := p.Mapping.Box(o.Shape.Bounds())
	var candidates []plane.Rect
	const steps = 12
	for i := range steps * steps {
		candidates = append(candidates, drafting.BoxAt(plane.Point{
			X: area.Min.X + area.Width()*(float64(i%steps)+0.5)/steps,
			Y: area.Min.Y + area.Height()*(float64(i/steps)+0.5)/steps,
		}, width, height))
	}
	candidates = slices.DeleteFunc(candidates, func(c plane.Rect) bool { return p.liesOn(c, nearer) })
	inside := slices.DeleteFunc(slices.Clone(candidates), func(c plane.Rect) bool {
		return !drafting.CornersWithin(c.Grow(0.3), func(q plane.Point) bool { return o.Shape.Contains(p.Back(q)) })
	})
	box, _, found := p.Spots.Best(inside)
	if !found {
		box, _, found = p.Spots.Best(candidates)
	}
	if !found {
		return
	}
	p.Spots.Take(box, WorthText)
	drafting.Knockout(p, box)
	p.Say(box.Centre().X, box.Max.Y-0.6, draw.Letter25, key, 0, drafting.Style{Align: draw.Centre, Bold: true})
}

// liesOn reports whether a box on the page lies on any of the things.
func (p *Picture) liesOn(box plane.Rect, things []wall.Obstruction) bool {
	return slices.ContainsFunc(things, func(o wall.Obstruction) bool {
		return box.Overlaps(p.Mapping.Box(o.Shape.Bounds()).Grow(0.3))
	})
}

// NameWithin writes a name into an obstruction, off what covers part of it, and reports whether
// there was a clear place.
func (p *Picture) NameWithin(n drafting.Note, area plane.Rect, o wall.Obstruction, nearer []wall.Obstruction) bool {
	width, height := n.Size()
	inside := func(q plane.Point) bool { return o.Shape.Contains(p.Back(q)) }
	candidates := slices.DeleteFunc(drafting.ScatterIn(area.Grow(-0.3), width, height), func(c plane.Rect) bool {
		return !drafting.CornersWithin(c, inside) || p.liesOn(c, nearer)
	})
	box, cost, found := p.Spots.Best(candidates)
	if !found || cost > 0 {
		return false
	}
	p.Spots.Take(box, WorthText)
	p.Note(n, box, drafting.Quiet)
	return true
}

// nameBeside writes a name next to what it names, where it covers least, on clean paper. It keeps
// off everything else that stands on the face and off the edge of the face. It reports whether
// there was a place.
func (p *Picture) nameBeside(o wall.Obstruction) bool {
	onFace := func(q plane.Point) bool { return p.Outline.Contains(p.Back(q)) }
	inOne := drafting.Note{Lines: []string{o.Name}, Height: drafting.Least}
	inTwo := drafting.Note{Lines: draw.Text{Say: o.Name, Height: drafting.Least}.Wrap(inOne.Long() * 0.7), Height: drafting.Least}
	for _, n := range []drafting.Note{inOne, inTwo} {
		width, height := n.Size()
		candidates := slices.DeleteFunc(p.PlacesBeside(o, width, height), func(c plane.Rect) bool {
			return !drafting.CornersWithin(c, onFace) || p.CrossesAnEdge(c, o)
		})
		box, cost, found := p.Spots.Best(candidates)
		if found && cost <= mostCovered*width*height && !drafting.Broken(o.Name, n.Lines) {
			p.Spots.Take(box, WorthText)
			drafting.Knockout(p, box)
			p.Note(n, box, drafting.Quiet)
			return true
		}
	}
	return false
}

// PlacesBeside returns places for a name near a thing: about its box, or along its sides where it
// does not fill its box.
func (p *Picture) PlacesBeside(o wall.Obstruction, width, height float64) []plane.Rect {
	area := p.Mapping.Box(o.Shape.Bounds())
	c := area.Centre()
	var out []plane.Rect
	if o.Shape.Area() > 0.6*o.Shape.Bounds().Width()*o.Shape.Bounds().Height() {
		for _, gap := range []float64{0.6, 2, 4, 7} {
			dx, dy := area.Width()/2+width/2+gap, area.Height()/2+height/2+gap
			for _, d := range []plane.Point{{X: dx}, {X: -dx}, {Y: -dy}, {Y: dy}, {X: dx, Y: -dy}, {X: -dx, Y: -dy}, {X: dx, Y: dy}, {X: -dx, Y: dy}} {
				out = append(out, drafting.BoxAt(c.Add(d), width, height))
			}
		}
		return out
	}
	for i, a := range o.Shape {
		b := o.Shape[(i+1)%len(o.Shape)]
		for _, t := range []float64{0.5, 0.25, 0.75} {
			out = append(out, drafting.Around(p.Mapping.At(a.Lerp(b, t)), width, height, 1, 4)...)
		}
	}
	return out
}

// CrossesAnEdge reports whether a box would lie on anything on the face, other than wholly on what
// o lies on too.
func (p *Picture) CrossesAnEdge(box plane.Rect, o wall.Obstruction) bool {
	face := plane.Rectangle(p.Back(plane.Point{X: box.Min.X, Y: box.Max.Y}), box.Width()/p.K, box.Height()/p.K)
	for _, other := range p.Things {
		near := plane.Closer(other.Shape, face, 0.3/p.K)
		under := plane.RegionOf(other.Shape)
		wholly := other.Name != o.Name && under.Holds(o.Shape) && under.Holds(face)
		if near && !wholly {
			return true
		}
	}
	return false
}
