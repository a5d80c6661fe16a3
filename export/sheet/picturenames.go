package sheet

import (
	"fmt"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// names writes what stands on the face: in it where there is room, else beside it.
func (p *picture) names() {
	for n, i := range p.order {
		var nearer []wall.Obstruction
		for _, j := range p.order[n+1:] {
			nearer = append(nearer, p.things[j])
		}
		o := p.things[i]
		if p.keys[i] != "" {
			o.Name = p.keys[i] + " " + o.Name
		}
		switch named := p.obstructionName(o, nearer); {
		case named:
		case p.keys[i] != "":
			p.key(o, p.keys[i], nearer)
		case p.calm:
			p.numbered(o)
		}
	}
	if p.wall.Ceiling {
		p.wallsRound()
	}
	p.builtWords()
	if y, shown := p.datumShown(); shown {
		at := p.mapping.at(plane.Point{X: p.bounds.Max.X, Y: y})
		p.say(at.X+1, at.Y-0.8, least, "datum", 0, style{colour: quiet})
	}
}

// datumShown returns the height of the datum on the face and whether the picture has it.
func (p *picture) datumShown() (y float64, shown bool) {
	y, upright := p.datum()
	return y, upright && !p.calm && y >= p.bounds.Min.Y && y <= p.bounds.Max.Y
}

// obstructionName writes the name of one thing on the face, clear of what lies nearer, and reports
// whether it found a place.
func (p *picture) obstructionName(o wall.Obstruction, nearer []wall.Obstruction) bool {
	area := p.mapping.box(o.Shape.Bounds())
	for _, n := range notesFor(o.Name, draw.Letter25, area.Width(), area.Height(), area.Width(), 2) {
		if p.nameWithin(n, area, o, nearer) {
			return true
		}
	}
	return !p.calm && p.nameBeside(o)
}

// numbered gives a thing that is too small for its name a number, where that covers least, and notes
// the name.
func (p *picture) numbered(o wall.Obstruction) {
	number := fmt.Sprint(len(p.few) + 1)
	width, height := wide(number, least, true)+0.8, least+0.8
	places := slices.DeleteFunc(scatterIn(p.mapping.box(o.Shape.Bounds()), width, height), func(c plane.Rect) bool {
		return !cornersWithin(c, func(q plane.Point) bool { return o.Shape.Contains(p.back(q)) })
	})
	box, _, found := p.spots.best(append(places, p.placesBeside(o, width, height)...))
	if !found {
		return
	}
	p.few = append(p.few, o.Name)
	p.spots.take(box, worthText)
	knockout(p, box)
	p.say(box.Centre().X, box.Max.Y-0.4, least, number, 0, style{align: draw.Centre, bold: true})
}

// key writes the key of the drawing of a thing's sides on the thing, off what lies nearer, where it
// covers least.
func (p *picture) key(o wall.Obstruction, key string, nearer []wall.Obstruction) {
	width, height := wide(key, draw.Letter25, true)+1.2, draw.Letter25+1.2
	area := p.mapping.box(o.Shape.Bounds())
	var candidates []plane.Rect
	const steps = 12
	for i := range steps * steps {
		candidates = append(candidates, sized(plane.Point{
			X: area.Min.X + area.Width()*(float64(i%steps)+0.5)/steps,
			Y: area.Min.Y + area.Height()*(float64(i/steps)+0.5)/steps,
		}, width, height))
	}
	candidates = slices.DeleteFunc(candidates, func(c plane.Rect) bool { return p.liesOn(c, nearer) })
	inside := slices.DeleteFunc(slices.Clone(candidates), func(c plane.Rect) bool {
		return !cornersWithin(c.Grow(0.3), func(q plane.Point) bool { return o.Shape.Contains(p.back(q)) })
	})
	box, _, found := p.spots.best(inside)
	if !found {
		box, _, found = p.spots.best(candidates)
	}
	if !found {
		return
	}
	p.spots.take(box, worthText)
	knockout(p, box)
	p.say(box.Centre().X, box.Max.Y-0.6, draw.Letter25, key, 0, style{align: draw.Centre, bold: true})
}

// liesOn reports whether a box on the page lies on any of the things.
func (p *picture) liesOn(box plane.Rect, things []wall.Obstruction) bool {
	return slices.ContainsFunc(things, func(o wall.Obstruction) bool {
		return box.Overlaps(p.mapping.box(o.Shape.Bounds()).Grow(0.3))
	})
}

// nameWithin writes a name into an obstruction, off what covers part of it, and reports whether
// there was a clear place.
func (p *picture) nameWithin(n note, area plane.Rect, o wall.Obstruction, nearer []wall.Obstruction) bool {
	width, height := n.size()
	inside := func(q plane.Point) bool { return o.Shape.Contains(p.back(q)) }
	candidates := slices.DeleteFunc(scatterIn(area.Grow(-0.3), width, height), func(c plane.Rect) bool {
		return !cornersWithin(c, inside) || p.liesOn(c, nearer)
	})
	box, cost, found := p.spots.best(candidates)
	if !found || cost > 0 {
		return false
	}
	p.spots.take(box, worthText)
	p.note(n, box, quiet)
	return true
}

// nameBeside writes a name next to what it names, where it covers least, on clean paper. It keeps
// off everything else that stands on the face and off the edge of the face. It reports whether
// there was a place.
func (p *picture) nameBeside(o wall.Obstruction) bool {
	onFace := func(q plane.Point) bool { return p.outline.Contains(p.back(q)) }
	inOne := note{lines: []string{o.Name}, height: least}
	inTwo := note{lines: draw.Text{Say: o.Name, Height: least}.Wrap(inOne.long() * 0.7), height: least}
	for _, n := range []note{inOne, inTwo} {
		width, height := n.size()
		candidates := slices.DeleteFunc(p.placesBeside(o, width, height), func(c plane.Rect) bool {
			return !cornersWithin(c, onFace) || p.crossesAnEdge(c, o)
		})
		box, cost, found := p.spots.best(candidates)
		if found && cost <= mostCovered*width*height && !broken(o.Name, n.lines) {
			p.spots.take(box, worthText)
			knockout(p, box)
			p.note(n, box, quiet)
			return true
		}
	}
	return false
}

// placesBeside returns places for a name near a thing: about its box, or along its sides where it
// does not fill its box.
func (p *picture) placesBeside(o wall.Obstruction, width, height float64) []plane.Rect {
	area := p.mapping.box(o.Shape.Bounds())
	c := area.Centre()
	var out []plane.Rect
	if o.Shape.Area() > 0.6*o.Shape.Bounds().Width()*o.Shape.Bounds().Height() {
		for _, gap := range []float64{0.6, 2, 4, 7} {
			dx, dy := area.Width()/2+width/2+gap, area.Height()/2+height/2+gap
			for _, d := range []plane.Point{{X: dx}, {X: -dx}, {Y: -dy}, {Y: dy}, {X: dx, Y: -dy}, {X: -dx, Y: -dy}, {X: dx, Y: dy}, {X: -dx, Y: dy}} {
				out = append(out, sized(c.Add(d), width, height))
			}
		}
		return out
	}
	for i, a := range o.Shape {
		b := o.Shape[(i+1)%len(o.Shape)]
		for _, t := range []float64{0.5, 0.25, 0.75} {
			out = append(out, around(p.mapping.at(a.Lerp(b, t)), width, height, 1, 4)...)
		}
	}
	return out
}

// crossesAnEdge reports whether a box would lie on anything on the face, other than wholly on what
// o lies on too.
func (p *picture) crossesAnEdge(box plane.Rect, o wall.Obstruction) bool {
	face := plane.Rectangle(p.back(plane.Point{X: box.Min.X, Y: box.Max.Y}), box.Width()/p.k, box.Height()/p.k)
	for _, other := range p.things {
		near := plane.Closer(other.Shape, face, 0.3/p.k)
		under := plane.RegionOf(other.Shape)
		wholly := other.Name != o.Name && under.Holds(o.Shape) && under.Holds(face)
		if near && !wholly {
			return true
		}
	}
	return false
}
