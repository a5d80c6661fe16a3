package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// wallWithTiles draws the face under the grid of its tiles.
func (k *keyFace) wallWithTiles() {
	k.Clip(corners(k.box().Grow(0.5)))
	if k.covered() {
		k.Polygon(k.mapping.rings(k.view.rings), draw.Paint{Fill: k.hidden()})
		k.Polygon(k.mapping.rings(ringsOf(k.face.Outline)), draw.Paint{Fill: draw.Solid(draw.White), Stroke: shade(thin, soft)})
	}
	for _, o := range k.things {
		k.Polygon([]plane.Ring{k.ring(o.Shape)}, draw.Paint{Fill: k.hidden(), Stroke: shade(thin, soft)})
	}
	for _, p := range k.shownPieces() {
		k.Polygon([]plane.Ring{k.ring(p.ring)}, draw.Paint{Stroke: shade(hair, soft)})
	}
	k.leftOut()
	for _, t := range k.tiles {
		k.Polygon([]plane.Ring{corners(k.mapping.box(t.Cell))}, draw.Paint{Stroke: shade(hair, soft)})
	}
	for _, t := range k.tiles {
		if k.since != nil && k.since.prints(t) {
			k.Polygon([]plane.Ring{corners(k.mapping.box(t.Cell))}, draw.Paint{Stroke: medium})
		}
	}
	for _, h := range k.holes {
		k.Circle(k.mapping.at(h.At), 0.3, draw.Paint{Fill: draw.Solid(ink)})
	}
	k.Polygon(k.mapping.rings(k.view.rings), draw.Paint{Stroke: bold})
	k.Unclip()
	k.levelsAcross()
	k.rowNames()
	s, aside, things := k.namesInside()
	for _, t := range aside {
		k.nameAside(s, t)
	}
	for _, o := range things {
		k.thingAside(s, o)
	}
}

// shownPieces returns the pieces that the picture shows.
func (k *keyFace) shownPieces() []hung {
	if k.print.HolesOnly {
		return nil
	}
	return k.pieces
}

// hidden is the fill of what is not seen of the face.
func (k *keyFace) hidden() draw.Fill {
	if k.print.HolesOnly {
		return draw.Fill{}
	}
	return draw.Solid(draw.Grey(236))
}

// The hatching of sheets that are left out, mm and radians.
const (
	leftOutPitch = 1.6
	leftOutAngle = math.Pi / 4
)

// leftOut hatches the tiles that have no holes, all in a row as one.
func (k *keyFace) leftOut() {
	all := k.mapping.box(k.gridBox())
	var run []plane.Ring
	for _, t := range k.tiles {
		if len(t.Holes) == 0 {
			run = append(run, corners(k.mapping.box(t.Cell)))
		}
	}
	draw.Hatch(k, run, all, leftOutPitch, leftOutAngle, shade(hair, faint))
}

// levelsAcross draws the level lines, and names them beside the picture.
func (k *keyFace) levelsAcross() {
	g := k.box()
	for _, l := range k.levels() {
		at := k.mapping.at(plane.Point{Y: l.y}).Y
		if at < g.Min.Y || at > g.Max.Y {
			continue
		}
		dash := draw.Stroke{Width: draw.Width025, Dash: draw.DashDot}
		for _, s := range l.spans {
			a, b := k.mapping.at(plane.Point{X: s[0]}).X, k.mapping.at(plane.Point{X: s[1]}).X
			if math.Max(a, g.Min.X) < math.Min(b, g.Max.X) {
				k.line(math.Max(a, g.Min.X), at, math.Min(b, g.Max.X), at, dash)
			}
		}
		right := k.mapping.at(plane.Point{X: l.spans[len(l.spans)-1][1]}).X
		if right > g.Max.X-1 {
			k.line(g.Max.X, at, g.Max.X+2, at, dash)
			right = g.Max.X
		}
		k.levelEnd(l, plane.Point{X: math.Max(right, g.Min.X) + 1, Y: at})
	}
}

// levelEnd names a level line at its end, off the face: above the line, or below it.
func (k *keyFace) levelEnd(l levelLine, end plane.Point) {
	name := k.levelName(l)
	long := wide(name, least, false)
	if end.X > k.box().Max.X && long > rowMargin-2 {
		first, second, _ := strings.Cut(name, " ")
		k.say(end.X, end.Y-0.8, least, first, 0, style{})
		k.say(end.X, end.Y+0.8+least, least, second, 0, style{})
		return
	}
	y := end.Y - 0.8
	for _, at := range []float64{y, end.Y + 1 + least} {
		b := plane.Rect{Min: plane.Point{X: end.X, Y: at - least}, Max: plane.Point{X: end.X + long, Y: at}}
		ring := plane.Rectangle(k.mapping.back(plane.Point{X: b.Min.X, Y: b.Max.Y}), b.Width()/k.k, b.Height()/k.k)
		if !k.outline.Touches(ring) {
			y = at
			break
		}
	}
	k.say(end.X, y, least, name, 0, style{})
}

// rowNames letters the rows, as many as there is room for.
func (k *keyFace) rowNames() {
	g := k.box()
	bottom := g.Min.Y
	for _, t := range k.tiles {
		if y := k.mapping.box(t.Cell).Centre().Y; t.Column == 0 && !t.added && y-least > bottom && y+least < g.Max.Y {
			k.say(g.Min.X-1.5, y+least/2, least, rowLetters(t.Row), 0, style{align: draw.Right})
			bottom = y
		}
	}
}

// namesInside names what stands on the face and the printed tiles, on white, where that covers no
// piece, hole or edge. It returns the tiles whose names had no room in their cells, the things
// that had none, and what is taken.
func (k *keyFace) namesInside() (s *spots, aside []Tile, things []wall.Obstruction) {
	s = newSpots(k.box())
	for _, p := range k.shownPieces() {
		s.take(k.mapping.box(p.bounds), 1)
	}
	for _, h := range k.holes {
		s.take(sized(k.mapping.at(h.At), 1, 1), worthHole)
	}
	for _, r := range k.mapping.rings(k.view.rings) {
		takeAlong(s, r)
	}
	for _, l := range k.levels() {
		at := k.mapping.at(plane.Point{Y: l.y}).Y
		for _, x := range l.spans {
			s.take(plane.Rect{Min: plane.Point{X: k.mapping.at(plane.Point{X: x[0]}).X, Y: at - 0.4}, Max: plane.Point{X: k.mapping.at(plane.Point{X: x[1]}).X, Y: at + 0.4}}, 1)
		}
		if end := k.mapping.at(plane.Point{X: l.spans[len(l.spans)-1][1]}).X; end < k.box().Max.X-1 {
			s.take(plane.Rect{Min: plane.Point{X: end, Y: at - 1 - least}, Max: plane.Point{X: end + 2 + wide(k.levelName(l), least, false), Y: at + 1 + least}}, worthHole)
		}
	}
	for _, o := range k.things {
		takeAlong(s, k.mapping.ring(o.Shape))
	}
	for _, o := range k.things {
		if !k.thingName(s, o) {
			things = append(things, o)
		}
	}
	k.wallNames(k.pen, k.mapping, s, false)
	if k.window == (plane.Rect{}) {
		k.partNames(s)
	}
	if k.isStrip() {
		names, left := k.raise()
		k.raisedNames(s, names)
		return s, left, things
	}
	height := k.nameHeight()
	for _, t := range k.tiles {
		if k.names(t) && !k.nameWithin(s, t, height) {
			aside = append(aside, t)
		}
	}
	return s, aside, things
}

// takeAlong keeps labels off a line.
func takeAlong(s *spots, r plane.Ring) {
	for i, a := range r {
		b := r[(i+1)%len(r)]
		parts := math.Ceil(a.Distance(b) / 2)
		for n := range int(parts) {
			s.take(sized(a.Lerp(b, (float64(n)+0.5)/parts), 2.2, 2.2).Grow(-0.7), 1)
		}
	}
}

// thingAside names a thing close to it, where that covers nothing.
func (k *keyFace) thingAside(s *spots, o wall.Obstruction) {
	const gap, rounds, rim = 1.0, 5, 0.3
	box := k.mapping.box(o.Shape.Bounds())
	if !box.Overlaps(s.within) {
		return
	}
	box = meet(box, s.within)
	at := box.Centre()
	if !o.Shape.Contains(k.mapping.back(at)) {
		at = k.mapping.at(o.Shape[0])
	}
	width, height := wide(o.Name, least, false)+2*rim, least+2*rim
	places := around(at, width, height, gap, rounds)
	for _, x := range outwards(at.X, box.Width()/2, 3) {
		places = append(places, sized(plane.Point{X: x, Y: box.Min.Y - gap - height/2}, width, height), sized(plane.Point{X: x, Y: box.Max.Y + gap + height/2}, width, height))
	}
	name, cost, found := s.best(places)
	if !found || cost > 0 {
		return
	}
	s.take(name, worthHole)
	knockout(k, name)
	if end := nearest(name, at); end.Distance(at) > gap {
		k.Line(end, at, shade(hair, quiet))
	}
	k.say(name.Min.X+rim, name.Max.Y-rim, least, o.Name, 0, style{colour: quiet})
}

// thingName writes the name of a thing into it, where it is free, and reports whether it is.
func (k *keyFace) thingName(s *spots, o wall.Obstruction) bool {
	area := k.mapping.box(o.Shape.Bounds()).Grow(-0.5)
	inside := func(p plane.Point) bool { return o.Shape.Contains(k.mapping.back(p)) }
	for _, n := range notesFor(o.Name, least, area.Width(), area.Height(), area.Width(), 2) {
		width, height := n.size()
		places := slices.DeleteFunc(scatterIn(area, width, height), func(b plane.Rect) bool { return !cornersWithin(b, inside) })
		if box, cost, found := s.best(places); found && cost == 0 {
			s.take(box, 1)
			knockout(k, box)
			k.note(n, box, quiet)
			return true
		}
	}
	return false
}

// nameHeight returns how high the names of the tiles are: all alike, small where one has no room otherwise.
func (k *keyFace) nameHeight() float64 {
	for _, t := range k.tiles {
		c := k.mapping.box(t.Cell).Grow(-2 * nameRim)
		if k.names(t) && (c.Width() < wide(t.Name, draw.Letter25, true) || c.Height() < draw.Letter25) {
			return least
		}
	}
	return draw.Letter25
}

// nameRim is the air round the name of a tile in the picture, mm.
const nameRim = 0.5

// nameWithin names a tile in its cell, and reports whether there was room, so that the name leaves air
// round it: first beside what is drawn there, then over pieces, never over a hole.
func (k *keyFace) nameWithin(s *spots, t Tile, height float64) bool {
	tries := []struct{ height, rim, most float64 }{{height, nameRim, worthHole / 10}, {height, nameRim / 2, worthHole / 3}}
	for _, try := range tries {
		c := k.mapping.box(t.Cell).Grow(-try.rim)
		width, height := wide(t.Name, try.height, true)+2*try.rim, try.height+2*try.rim
		places := scatterIn(c, width, height)
		if try.most > worthHole/10 {
			places = everywhere(c, width, height)
		}
		if box, cost, found := s.best(places); found && cost < try.most {
			k.tileName(s, t, box, try.height, try.rim)
			return true
		}
	}
	return false
}

// everywhere returns boxes of the given size all over the area, from the top left.
func everywhere(area plane.Rect, width, height float64) []plane.Rect {
	const step = 0.7
	var out []plane.Rect
	for y := area.Min.Y; y+height <= area.Max.Y; y += step {
		for x := area.Min.X; x+width <= area.Max.X; x += step {
			out = append(out, plane.Rect{Min: plane.Point{X: x, Y: y}, Max: plane.Point{X: x + width, Y: y + height}})
		}
	}
	return out
}

// nameAside names a tile where there is room near it, and ties the name to its cell by a line.
func (k *keyFace) nameAside(s *spots, t Tile) {
	const gap, rounds = 1.5, 6
	c := k.mapping.box(t.Cell)
	box, cost, found := s.best(around(c.Centre(), wide(t.Name, least, true)+2*nameRim, least+2*nameRim, gap, rounds))
	if !found || cost >= worthHole {
		return
	}
	if end := nearest(box, c.Centre()); !c.Contains(end) {
		k.Line(end, nearest(c.Grow(-math.Min(1, c.Width()/3)), end), hair)
	}
	k.tileName(s, t, box, least, nameRim)
}

// tileName writes the name of a tile into a box: in light letters where the sheet is not printed anew.
func (k *keyFace) tileName(s *spots, t Tile, box plane.Rect, height, rim float64) {
	s.take(box, worthHole)
	knockout(k, box)
	k.say(box.Centre().X, box.Max.Y-rim, height, t.Name, 0, style{bold: k.since.prints(t), align: draw.Centre})
}

// worthHole is how bad it is for a name to cover a hole, against an outline.
const worthHole = 100.0

// caption gives the size of the face and the scale, after its name where there are several.
func (k *keyFace) caption(several bool) {
	g, b := k.mapping.box(k.gridBox()), k.mapping.box(k.bounds)
	size := fmt.Sprintf("%s × %s", k.length(k.bounds.Width()), k.length(k.bounds.Height()))
	words := fmt.Sprintf("%s · %s", size, scaleWords(k.drawn))
	if _, upright := k.datum(); upright {
		words = fmt.Sprintf("%s long, %s high · %s", k.length(k.bounds.Width()), k.length(k.bounds.Height()), scaleWords(k.drawn))
	}
	if several {
		room := math.Max(g.Width()+2*rowMargin, captionLeast)
		k.say(g.Min.X, g.Max.Y+3.6, draw.Letter25, fmt.Sprintf("%d- %s", k.number, k.sideName()), room, style{bold: true})
		k.say(g.Min.X, g.Max.Y+7, least, joined(" · ", size, scaleWords(k.drawn)), room, style{})
		return
	}
	k.say(b.Min.X, g.Max.Y+5, draw.Letter25, words, math.Max(b.Width(), 90), style{})
}

// printed returns how many tiles have holes.
func (k *keyFace) printed() int {
	n := 0
	for _, t := range k.tiles {
		if len(t.Holes) > 0 {
			n++
		}
	}
	return n
}
