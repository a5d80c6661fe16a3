package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/tiling"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// visible returns the part of the page that is still seen when the neighbours hang: what lies
// before the landing lines.
func (l *Leaf) visible() plane.Rect {
	end := l.ToPage(plane.Point{X: l.Cell.Max.X, Y: l.Cell.Min.Y})
	return plane.Rect{Min: l.Frame.Min, Max: end}
}

// seen is visible with what lies below it, where no sheet lands there.
func (l *Leaf) seen() plane.Rect {
	seen := l.visible()
	if !tiling.LandsBelow(l.Tile) {
		seen.Max.Y = l.Frame.Max.Y
	}
	return seen
}

// measured returns the point of the face whose place the sheet gives, and which its black mark
// shows: the first corner of the cell that lies on free wall, or if none does that can be seen at
// all, and has no cross close by. Elsewhere the sheet is cut away, or lies on nothing. Where no corner can be seen, it is the
// point of a fine grid that lies freest of edges and of crosses.
func (l *Leaf) measured() plane.Point {
	at := l.Clear
	for _, fits := range []func(plane.Point) bool{l.onFreeWall, l.onFace} {
		if i := slices.IndexFunc(at, fits); i >= 0 {
			return at[i]
		}
	}
	const parts = 40
	step := tiling.Exactly(l.Work.Units)
	pitch := math.Max(step, math.Floor(math.Min(l.Area.Width(), l.Area.Height())/parts/step)*step)
	best, most := l.MarkCorners()[0], math.Inf(-1)
	for x := l.Cell.Min.X; x <= l.Area.Max.X; x += pitch {
		for y := l.Cell.Max.Y; y >= l.Area.Min.Y; y -= pitch {
			p := plane.Point{X: x, Y: y}
			if free := l.freedom(p); free > most && l.onFace(p) {
				best, most = p, free
			}
		}
	}
	return best
}

// onFace reports whether a point of the face can be seen on it, and does not lie under something
// that stands out of it.
func (l *Leaf) onFace(p plane.Point) bool {
	return l.View.Face.Outline.Distance(p) > -0.5 && !slices.ContainsFunc(l.Things, func(o wall.Obstruction) bool {
		return l.StandOut(o) > 0 && plane.RegionOf(o.Shape).Distance(p) > -0.01
	})
}

// onFreeWall reports whether a point of the face can be marked on it: it lies on no fitting, window
// or door.
func (l *Leaf) onFreeWall(p plane.Point) bool {
	return l.onFace(p) && !slices.ContainsFunc(l.Things, func(o wall.Obstruction) bool {
		return plane.RegionOf(o.Shape).Distance(p) > -drafting.RegisterRadius
	})
}

// freedom returns how far a point lies from what is not to be seen on the face, the ends of the
// sheet and the crosses on it, mm, as far as that is of use.
func (l *Leaf) freedom(p plane.Point) float64 {
	free := math.Min(tiling.MarkAir, l.View.Face.Outline.Distance(p))
	free = math.Min(free, plane.RegionOf(drafting.Corners(l.Area)).Distance(p))
	for _, i := range l.Tile.Holes {
		free = math.Min(free, p.Distance(l.Work.Map.Holes[i].At)-drafting.CrossReach)
	}
	for _, m := range l.Marks {
		free = math.Min(free, p.Distance(m)-drafting.CrossReach)
	}
	return free
}

// registers draws the register marks, the one to be measured filled.
func (l *Leaf) registers() {
	for _, at := range l.marks() {
		l.Group("register")
		l.Register(l.ToPage(at), at == l.mark)
		l.End()
	}
}

// marks returns where the register marks stand on the face, also where the sheet is measured if that
// is elsewhere.
func (l *Leaf) marks() []plane.Point {
	if !slices.Contains(l.Marks, l.mark) {
		return append(slices.Clone(l.Marks), l.mark)
	}
	return l.Marks
}

// cutLines draws the frame: where to cut at the left and the top, round the marks of holes that lie
// there, and where the face ends, and where the drawing merely does.
func (l *Leaf) cutLines() {
	f := l.Frame
	l.Segment(f.Max.X, f.Min.Y, f.Max.X, f.Max.Y, l.endLine(l.EndsRight))
	l.Segment(f.Min.X, f.Max.Y, f.Max.X, f.Max.Y, l.endLine(l.EndsBelow))
	l.Group("cut")
	for _, e := range l.cutEdge() {
		l.Line(e[0], e[1], drafting.Medium)
	}
	l.End()
}

// landings draws where the cut edges of the sheets to the right and below come to lie.
func (l *Leaf) landings() {
	f, end := l.Frame, l.visible().Max
	draws := func(n tiling.Neighbour, x1, y1, x2, y2 float64) {
		if n.Printed {
			l.Group("landing line of " + n.Name)
			l.Segment(x1, y1, x2, y2, drafting.Thin)
			l.End()
		}
	}
	draws(l.Right, end.X, f.Min.Y, end.X, f.Max.Y)
	for _, n := range l.Below {
		from, to := l.across(n)
		y := l.ToPage(plane.Point{Y: n.Edge}).Y
		draws(n, from, y, to, y)
	}
}

// across returns from where to where on the page a neighbour above or below touches the cell.
func (l *Leaf) across(n tiling.Neighbour) (from, to float64) {
	return l.ToPage(plane.Point{X: n.From}).X, l.ToPage(plane.Point{X: n.To}).X
}

// landingWords says in the overlap what lands at its lines, or that nothing does.
func (l *Leaf) landingWords() {
	f, end := l.Frame, l.visible().Max
	words := func(n tiling.Neighbour) string {
		switch {
		case n.Name == "":
			return ""
		case n.Printed:
			return "edge of " + n.Name + " lands here"
		}
		return n.Name + " is left out"
	}
	const step = 5.0
	if text := words(l.Right); text != "" {
		gap, height := landingLetters(f.Max.X - end.X)
		long, x := drafting.TextWidth(text, height, false)+1, end.X+gap+height/2
		var places []plane.Rect
		for _, y := range Outwards((f.Min.Y+end.Y)/2, (end.Y-f.Min.Y-long)/2-drafting.RegisterReach, step) {
			places = append(places, drafting.BoxAt(plane.Point{X: x, Y: y}, height+0.4, long))
		}
		if !l.landingWord(places, text, height, math.Pi/2) && l.Right.Printed {
			l.landingAside(l.Right.Name, plane.Point{X: end.X, Y: (f.Min.Y + end.Y) / 2})
		}
	}
	for _, n := range l.Below {
		text := words(n)
		from, to := l.across(n)
		edge := l.ToPage(plane.Point{Y: n.Edge}).Y
		gap, height := landingLetters(f.Max.Y - edge)
		if drafting.TextWidth(text, height, false)+2*drafting.RegisterReach+1 > to-from {
			text = n.Name
		}
		long, y := drafting.TextWidth(text, height, false)+1, edge+gap+height/2
		var places []plane.Rect
		for _, x := range Outwards((from+to)/2, (to-from-long)/2-drafting.RegisterReach, step) {
			places = append(places, drafting.BoxAt(plane.Point{X: x, Y: y}, long, height+0.4))
		}
		if !l.landingWord(places, text, height, 0) && n.Printed {
			l.landingAside(n.Name, plane.Point{X: (from + to) / 2, Y: edge})
		}
	}
}

// landingAside names the sheet whose edge comes to lie on a line too short for words beside it, from where
// there is room: a line with marks and no name is no use.
func (l *Leaf) landingAside(name string, at plane.Point) {
	box, found := l.beside(at, drafting.TextWidth(name, elevation.BitHeight, false)+0.8, elevation.BitHeight+0.8, l.paper)
	if !found {
		return
	}
	l.Group("name at a landing line")
	l.tie(box, at)
	drafting.Knockout(l, box)
	l.Say(box.Centre().X, box.Max.Y-0.4, elevation.BitHeight, name, 0, drafting.Style{Align: draw.Centre, Colour: drafting.Quiet})
	l.End()
}

// beside finds a free place on the sheet for a box about a point of an edge, as near as there is one that
// keeps off register marks.
func (l *Leaf) beside(at plane.Point, width, height float64, all ...*drafting.Spots) (box plane.Rect, found bool) {
	const step, reach, gap, rim = 2.0, 60.0, 2.0, 1.0
	room := l.Frame.Grow(-rim)
	var places []plane.Rect
	for down := -reach; down <= reach; down += step {
		for along := -reach; along <= reach; along += step {
			c := drafting.BoxAt(at.Add(plane.Point{X: along, Y: down}), width, height)
			if room.Contains(c.Min) && room.Contains(c.Max) && drafting.GapBetween(c, at) >= gap {
				places = append(places, c)
			}
		}
	}
	slices.SortStableFunc(places, func(a, b plane.Rect) int {
		return cmp.Compare(math.Round(drafting.Nearest(a, at).Distance(at)), math.Round(drafting.Nearest(b, at).Distance(at)))
	})
	for _, most := range []float64{0, mostUnderName} {
		for _, c := range places {
			if !slices.ContainsFunc(all, func(s *drafting.Spots) bool { return s.Cost(c) > most }) {
				l.spots.Take(c, worthLabel)
				l.paper.Take(c, worthLabel)
				return c, true
			}
		}
	}
	return plane.Rect{}, false
}

// tie draws a thin line from a box to what it names.
func (l *Leaf) tie(box plane.Rect, at plane.Point) {
	end := drafting.Nearest(box, at)
	l.Line(end, at, drafting.Shade(drafting.Hair, drafting.Quiet))
	for _, b := range drafting.BoxesAlong(end, at) {
		l.spots.Take(b.Grow(0.3), worthLeader)
	}
}

// landingLetters returns how high the letters are in an overlap so wide, and how far they stand from the
// landing line, mm.
func landingLetters(room float64) (gap, height float64) {
	height = draw.Letter25
	if room < height+1.4 {
		height = drafting.Least
	}
	return math.Min(1.3, (room-height)/2), height
}

// landingWord writes what lands at a line on the first free place, and reports whether there was one.
func (l *Leaf) landingWord(places []plane.Rect, text string, height, turn float64) bool {
	box, cost, found := l.paper.Best(places)
	if !found || cost > 0 {
		return false
	}
	l.spots.Take(box, worthLabel)
	l.paper.Take(box, worthLabel)
	drafting.Knockout(l, box)
	c := box.Centre()
	at := plane.Point{X: c.X, Y: c.Y + height/2}
	if turn != 0 {
		at = plane.Point{X: c.X + height/2, Y: c.Y}
	}
	l.Say(at.X, at.Y, height, text, 0, drafting.Style{Align: draw.Centre, Turn: turn, Colour: drafting.Quiet})
	return true
}

// Outwards returns places from the middle outwards to both sides, as far as reach.
func Outwards(middle, reach, step float64) []float64 {
	out := []float64{middle}
	for far := step; far <= reach; far += step {
		out = append(out, middle-far, middle+far)
	}
	return out
}

// blackMark draws the mark's sign before the words that give its place.
func (l *Leaf) blackMark(at plane.Point) {
	l.Circle(at, 1.4, draw.Paint{Fill: draw.Solid(drafting.Ink)})
}

// cutAway reports whether a box on the page lies in part off what is seen of the wall, or on what
// stands out of it.
func (l *Leaf) cutAway(box plane.Rect) bool {
	a := l.ToFace(plane.Point{X: box.Min.X, Y: box.Max.Y})
	ring := plane.Rectangle(a, box.Width(), box.Height())
	if !l.View.Face.Outline.Holds(ring) {
		return true
	}
	return slices.ContainsFunc(l.Things, func(o wall.Obstruction) bool {
		return l.StandOut(o) > 0 && o.Shape.Bounds().Overlaps(ring.Bounds()) && plane.RegionOf(o.Shape).Touches(ring)
	})
}

// placeWords says where the measured register mark stands on the wall.
func (l *Leaf) placeWords() (along, up, level string) {
	at := l.mark
	along = fmt.Sprintf("%s: %s from %s", l.markCorner(), l.Length(at.X), EndName(l.View, l.Print, "left"))
	if line, upright := l.LevelAt(at); upright {
		up = l.UpFrom(at)
		if floor, measured := l.FloorUnder(at); measured {
			up = fmt.Sprintf("%s above the floor right under it", l.Length(l.HeightOf(at)-floor))
		}
		return along, up, l.LevelName(line) + " is " + above(l.View, line.Y-at.Y)
	}
	return along, fmt.Sprintf("%s from %s", l.Length(at.Y), l.FootWords()), ""
}
