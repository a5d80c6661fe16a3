package template

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/sheet"
	"wallshoal/export/tiling"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// wallWithTiles draws the face under the grid of its tiles.
func (k *keyFace) wallWithTiles() {
	k.Clip(drafting.Corners(k.box().Grow(0.5)))
	if k.Covered() {
		k.Polygon(k.Mapping.Rings(k.View.Rings), draw.Paint{Fill: k.hidden()})
		k.Polygon(k.Mapping.Rings(k.Face.Outline.Rings()), draw.Paint{Fill: draw.Solid(draw.White), Stroke: drafting.Shade(drafting.Thin, drafting.Soft)})
	}
	for _, o := range k.Things {
		k.Polygon([]plane.Ring{k.Ring(o.Shape)}, draw.Paint{Fill: k.hidden(), Stroke: drafting.Shade(drafting.Thin, drafting.Soft)})
	}
	for _, p := range k.shownPieces() {
		k.Polygon([]plane.Ring{k.Ring(p.Ring)}, draw.Paint{Stroke: drafting.Shade(drafting.Hair, drafting.Soft)})
	}
	k.leftOut()
	for _, t := range k.Tiles {
		k.Polygon([]plane.Ring{drafting.Corners(k.Mapping.Box(t.Cell))}, draw.Paint{Stroke: drafting.Shade(drafting.Hair, drafting.Soft)})
	}
	for _, t := range k.Tiles {
		if k.Since != nil && k.Since.Prints(t) {
			k.Polygon([]plane.Ring{drafting.Corners(k.Mapping.Box(t.Cell))}, draw.Paint{Stroke: drafting.Medium})
		}
	}
	for _, h := range k.Holes {
		k.Circle(k.Mapping.At(h.At), 0.3, draw.Paint{Fill: draw.Solid(drafting.Ink)})
	}
	k.Polygon(k.Mapping.Rings(k.View.Rings), draw.Paint{Stroke: drafting.Bold})
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
func (k *keyFace) shownPieces() []elevation.Hung {
	if k.print.HolesOnly {
		return nil
	}
	return k.Pieces
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
	all := k.Mapping.Box(k.gridBox())
	var run []plane.Ring
	for _, t := range k.Tiles {
		if len(t.Holes) == 0 {
			run = append(run, drafting.Corners(k.Mapping.Box(t.Cell)))
		}
	}
	draw.Hatch(k, run, all, leftOutPitch, leftOutAngle, drafting.Shade(drafting.Hair, drafting.Faint))
}

// levelsAcross draws the level lines, and names them beside the picture.
func (k *keyFace) levelsAcross() {
	g := k.box()
	for _, l := range k.Levels() {
		at := k.Mapping.At(plane.Point{Y: l.Y}).Y
		if at < g.Min.Y || at > g.Max.Y {
			continue
		}
		dash := draw.Stroke{Width: draw.Width025, Dash: draw.DashDot}
		for _, s := range l.Spans {
			a, b := k.Mapping.At(plane.Point{X: s[0]}).X, k.Mapping.At(plane.Point{X: s[1]}).X
			if math.Max(a, g.Min.X) < math.Min(b, g.Max.X) {
				k.Segment(math.Max(a, g.Min.X), at, math.Min(b, g.Max.X), at, dash)
			}
		}
		right := k.Mapping.At(plane.Point{X: l.Spans[len(l.Spans)-1][1]}).X
		if right > g.Max.X-1 {
			k.Segment(g.Max.X, at, g.Max.X+2, at, dash)
			right = g.Max.X
		}
		k.levelEnd(l, plane.Point{X: math.Max(right, g.Min.X) + 1, Y: at})
	}
}

// levelEnd names a level line at its end, off the face: above the line, or below it.
func (k *keyFace) levelEnd(l elevation.LevelLine, end plane.Point) {
	name := k.LevelName(l)
	long := drafting.TextWidth(name, drafting.Least, false)
	if end.X > k.box().Max.X && long > rowMargin-2 {
		first, second, _ := strings.Cut(name, " ")
		k.Say(end.X, end.Y-0.8, drafting.Least, first, 0, drafting.Style{})
		k.Say(end.X, end.Y+0.8+drafting.Least, drafting.Least, second, 0, drafting.Style{})
		return
	}
	y := end.Y - 0.8
	for _, at := range []float64{y, end.Y + 1 + drafting.Least} {
		b := plane.Rect{Min: plane.Point{X: end.X, Y: at - drafting.Least}, Max: plane.Point{X: end.X + long, Y: at}}
		ring := plane.Rectangle(k.Mapping.Back(plane.Point{X: b.Min.X, Y: b.Max.Y}), b.Width()/k.K, b.Height()/k.K)
		if !k.Outline.Touches(ring) {
			y = at
			break
		}
	}
	k.Say(end.X, y, drafting.Least, name, 0, drafting.Style{})
}

// rowNames letters the rows, as many as there is room for.
func (k *keyFace) rowNames() {
	g := k.box()
	bottom := g.Min.Y
	for _, t := range k.Tiles {
		if y := k.Mapping.Box(t.Cell).Centre().Y; t.Column == 0 && !t.Added && y-drafting.Least > bottom && y+drafting.Least < g.Max.Y {
			k.Say(g.Min.X-1.5, y+drafting.Least/2, drafting.Least, drafting.Letters(t.Row), 0, drafting.Style{Align: draw.Right})
			bottom = y
		}
	}
}

// namesInside names what stands on the face and the printed tiles, on white, where that covers no
// piece, hole or edge. It returns the tiles whose names had no room in their cells, the things
// that had none, and what is taken.
func (k *keyFace) namesInside() (s *drafting.Spots, aside []tiling.Tile, things []wall.Obstruction) {
	s = drafting.NewSpots(k.box())
	for _, p := range k.shownPieces() {
		s.Take(k.Mapping.Box(p.Bounds), 1)
	}
	for _, h := range k.Holes {
		s.Take(drafting.BoxAt(k.Mapping.At(h.At), 1, 1), elevation.WorthHole)
	}
	for _, r := range k.Mapping.Rings(k.View.Rings) {
		takeAlong(s, r)
	}
	for _, l := range k.Levels() {
		at := k.Mapping.At(plane.Point{Y: l.Y}).Y
		for _, x := range l.Spans {
			s.Take(plane.Rect{Min: plane.Point{X: k.Mapping.At(plane.Point{X: x[0]}).X, Y: at - 0.4}, Max: plane.Point{X: k.Mapping.At(plane.Point{X: x[1]}).X, Y: at + 0.4}}, 1)
		}
		if end := k.Mapping.At(plane.Point{X: l.Spans[len(l.Spans)-1][1]}).X; end < k.box().Max.X-1 {
			s.Take(plane.Rect{Min: plane.Point{X: end, Y: at - 1 - drafting.Least}, Max: plane.Point{X: end + 2 + drafting.TextWidth(k.LevelName(l), drafting.Least, false), Y: at + 1 + drafting.Least}}, elevation.WorthHole)
		}
	}
	for _, o := range k.Things {
		takeAlong(s, k.Mapping.Ring(o.Shape))
	}
	for _, o := range k.Things {
		if !k.thingName(s, o) {
			things = append(things, o)
		}
	}
	k.WallNames(k.Pen, k.Mapping, s, false)
	if k.window == (plane.Rect{}) {
		k.partNames(s)
	}
	if k.isStrip() {
		names, left := k.raise()
		k.raisedNames(s, names)
		return s, left, things
	}
	height := k.nameHeight()
	for _, t := range k.Tiles {
		if k.names(t) && !k.nameWithin(s, t, height) {
			aside = append(aside, t)
		}
	}
	return s, aside, things
}

// takeAlong keeps labels off a line.
func takeAlong(s *drafting.Spots, r plane.Ring) {
	for i, a := range r {
		b := r[(i+1)%len(r)]
		parts := math.Ceil(a.Distance(b) / 2)
		for n := range int(parts) {
			s.Take(drafting.BoxAt(a.Lerp(b, (float64(n)+0.5)/parts), 2.2, 2.2).Grow(-0.7), 1)
		}
	}
}

// thingAside names a thing close to it, where that covers nothing.
func (k *keyFace) thingAside(s *drafting.Spots, o wall.Obstruction) {
	const gap, rounds, rim = 1.0, 5, 0.3
	box := k.Mapping.Box(o.Shape.Bounds())
	if !box.Overlaps(s.Within) {
		return
	}
	box = drafting.Meet(box, s.Within)
	at := box.Centre()
	if !o.Shape.Contains(k.Mapping.Back(at)) {
		at = k.Mapping.At(o.Shape[0])
	}
	width, height := drafting.TextWidth(o.Name, drafting.Least, false)+2*rim, drafting.Least+2*rim
	places := drafting.Around(at, width, height, gap, rounds)
	for _, x := range sheet.Outwards(at.X, box.Width()/2, 3) {
		places = append(places, drafting.BoxAt(plane.Point{X: x, Y: box.Min.Y - gap - height/2}, width, height), drafting.BoxAt(plane.Point{X: x, Y: box.Max.Y + gap + height/2}, width, height))
	}
	name, cost, found := s.Best(places)
	if !found || cost > 0 {
		return
	}
	s.Take(name, elevation.WorthHole)
	drafting.Knockout(k, name)
	if end := drafting.Nearest(name, at); end.Distance(at) > gap {
		k.Line(end, at, drafting.Shade(drafting.Hair, drafting.Quiet))
	}
	k.Say(name.Min.X+rim, name.Max.Y-rim, drafting.Least, o.Name, 0, drafting.Style{Colour: drafting.Quiet})
}

// thingName writes the name of a thing into it, where it is free, and reports whether it is.
func (k *keyFace) thingName(s *drafting.Spots, o wall.Obstruction) bool {
	area := k.Mapping.Box(o.Shape.Bounds()).Grow(-0.5)
	inside := func(p plane.Point) bool { return o.Shape.Contains(k.Mapping.Back(p)) }
	for _, n := range drafting.NotesFor(o.Name, drafting.Least, area.Width(), area.Height(), area.Width(), 2) {
		width, height := n.Size()
		places := slices.DeleteFunc(drafting.ScatterIn(area, width, height), func(b plane.Rect) bool { return !drafting.CornersWithin(b, inside) })
		if box, cost, found := s.Best(places); found && cost == 0 {
			s.Take(box, 1)
			drafting.Knockout(k, box)
			k.Note(n, box, drafting.Quiet)
			return true
		}
	}
	return false
}

// nameHeight returns how high the names of the tiles are: all alike, small where one has no room otherwise.
func (k *keyFace) nameHeight() float64 {
	for _, t := range k.Tiles {
		c := k.Mapping.Box(t.Cell).Grow(-2 * nameRim)
		if k.names(t) && (c.Width() < drafting.TextWidth(t.Name, draw.Letter25, true) || c.Height() < draw.Letter25) {
			return drafting.Least
		}
	}
	return draw.Letter25
}

// nameRim is the air round the name of a tile in the picture, mm.
const nameRim = 0.5

// nameWithin names a tile in its cell, and reports whether there was room, so that the name leaves air
// round it: first beside what is drawn there, then over pieces, never over a hole.
func (k *keyFace) nameWithin(s *drafting.Spots, t tiling.Tile, height float64) bool {
	tries := []struct{ height, rim, most float64 }{{height, nameRim, elevation.WorthHole / 10}, {height, nameRim / 2, elevation.WorthHole / 3}}
	for _, try := range tries {
		c := k.Mapping.Box(t.Cell).Grow(-try.rim)
		width, height := drafting.TextWidth(t.Name, try.height, true)+2*try.rim, try.height+2*try.rim
		places := drafting.ScatterIn(c, width, height)
		if try.most > elevation.WorthHole/10 {
			places = everywhere(c, width, height)
		}
		if box, cost, found := s.Best(places); found && cost < try.most {
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
func (k *keyFace) nameAside(s *drafting.Spots, t tiling.Tile) {
	const gap, rounds = 1.5, 6
	c := k.Mapping.Box(t.Cell)
	box, cost, found := s.Best(drafting.Around(c.Centre(), drafting.TextWidth(t.Name, drafting.Least, true)+2*nameRim, drafting.Least+2*nameRim, gap, rounds))
	if !found || cost >= elevation.WorthHole {
		return
	}
	if end := drafting.Nearest(box, c.Centre()); !c.Contains(end) {
		k.Line(end, drafting.Nearest(c.Grow(-math.Min(1, c.Width()/3)), end), drafting.Hair)
	}
	k.tileName(s, t, box, drafting.Least, nameRim)
}

// tileName writes the name of a tile into a box: in light letters where the sheet is not printed anew.
func (k *keyFace) tileName(s *drafting.Spots, t tiling.Tile, box plane.Rect, height, rim float64) {
	s.Take(box, elevation.WorthHole)
	drafting.Knockout(k, box)
	k.Say(box.Centre().X, box.Max.Y-rim, height, t.Name, 0, drafting.Style{Bold: k.Since.Prints(t), Align: draw.Centre})
}

// caption gives the size of the face and the scale, after its name where there are several.
func (k *keyFace) caption(several bool) {
	g, b := k.Mapping.Box(k.gridBox()), k.Mapping.Box(k.Bounds)
	size := fmt.Sprintf("%s × %s", k.Length(k.Bounds.Width()), k.Length(k.Bounds.Height()))
	words := fmt.Sprintf("%s · %s", size, drafting.ScaleWords(k.drawn))
	if _, upright := k.Datum(); upright {
		words = fmt.Sprintf("%s long, %s high · %s", k.Length(k.Bounds.Width()), k.Length(k.Bounds.Height()), drafting.ScaleWords(k.drawn))
	}
	if several {
		room := math.Max(g.Width()+2*rowMargin, captionLeast)
		k.Say(g.Min.X, g.Max.Y+3.6, draw.Letter25, fmt.Sprintf("%d- %s", k.Number, k.SideName()), room, drafting.Style{Bold: true})
		k.Say(g.Min.X, g.Max.Y+7, drafting.Least, drafting.Joined(" · ", size, drafting.ScaleWords(k.drawn)), room, drafting.Style{})
		return
	}
	k.Say(b.Min.X, g.Max.Y+5, draw.Letter25, words, math.Max(b.Width(), 90), drafting.Style{})
}

// printed returns how many tiles have holes.
func (k *keyFace) printed() int {
	n := 0
	for _, t := range k.Tiles {
		if len(t.Holes) > 0 {
			n++
		}
	}
	return n
}
