package plan

import (
	"fmt"
	"math"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter/density"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// EdgeSection is an edge of something on a wall, or of the wall.
//
//	wall:  its name; needed
//	of:    the name of what stands on it; each that is called so; the wall itself if left out
//	side:  top, bottom, left, right or all of them; needed
type EdgeSection = density.Shape

// maxEdges is how many straight lines an edge may have; one that is asked how far a place is from it
// looks at them all.
const maxEdges = 500

const allSides = "all"

var sides = []string{"top", "bottom", "left", "right"}

// sideOf returns the side of a counter-clockwise outline that its edge from a to b lies on.
func sideOf(a, b plane.Point) string {
	e := b.Sub(a)
	switch steep := math.Abs(e.Y) >= math.Abs(e.X); {
	case steep && e.Y < 0:
		return "left"
	case steep:
		return "right"
	case e.X < 0:
		return "top"
	}
	return "bottom"
}

// edges returns the edges of the outline that lie on the side, where off is how far they stand out of
// the face.
func edges(f wall.Face, outline plane.Ring, side string, off float64) density.Shape {
	var s density.Shape
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if a != b && (side == allSides || sideOf(a, b) == side) {
			s = append(s, density.Segment{A: f.Frame.Lift(a, off), B: f.Frame.Lift(b, off)})
		}
	}
	return s
}

// edge reads an edge of a wall or of what stands on it.
func (s *stage) edge(v yamlfile.Value) (density.Shape, bool) {
	const fix = "name a wall, what stands on it and a side, like {wall: Long wall, of: fireplace, side: top}"
	m, ok := v.Map("wall", "of", "side")
	if !ok {
		return nil, false
	}
	i, _, known := s.wallNamed(m.Get("wall").Need(fix))
	side, sided := m.Get("side").Need(fix).Choice("a side", append(sides, allSides)...)
	if !known {
		return nil, false
	}
	of := m.Get("of")
	name := ""
	if of.Given() {
		if name, ok = s.obstructionNamed(of, i); !ok {
			return nil, false
		}
	}
	if !sided || s.file.Faulty("room") {
		return nil, false
	}
	site, err := s.site(of.Given())
	if err != nil {
		v.Fault(err.Error(), "correct the room")
		return nil, false
	}
	var shape density.Shape
	for k, f := range site.Faces {
		switch {
		case f.Wall != i:
		case name != "":
			shape = append(shape, edgesOn(site, k, name, side)...)
		case f.IsWall():
			shape = wallEdges(f, side)
		}
	}
	return shape, s.fewEnough(v, shape)
}

// fewEnough complains of a shape without edges or with too many.
func (s *stage) fewEnough(v yamlfile.Value, shape density.Shape) bool {
	switch {
	case len(shape) == 0:
		v.Fault("there is no such edge", "name another")
	case len(shape) > maxEdges:
		v.Fault(fmt.Sprintf("has %d straight edges", len(shape)), fmt.Sprintf("name something that has at most %d", maxEdges))
	default:
		return true
	}
	return false
}

// obstructionNamed returns the name of what stands on the wall with the index i and is called as v
// says.
func (s *stage) obstructionNamed(v yamlfile.Value, i int) (string, bool) {
	name, ok := v.Text(maxTitle)
	if !ok {
		return "", false
	}
	w := s.room.Ceiling
	if i < len(s.room.Walls) {
		w = &s.room.Walls[i]
	}
	var names []string
	for _, o := range w.Obstructions {
		if wall.FoldName(o.Name) == wall.FoldName(name) {
			return o.Name, true
		}
		if !contains(names, o.Name) {
			names = append(names, o.Name)
		}
	}
	switch {
	case s.file.Faulty("room"):
	case len(names) == 0:
		v.Fault(fmt.Sprintf("nothing stands on %s", w.Name), "remove the line for an edge of the wall itself")
	default:
		v.Fault(fmt.Sprintf("%s is not the name of anything on %s", yamlfile.Quote(name), w.Name), oneOf(name, "things", names))
	}
	return "", false
}

// edgesOn returns the edges, on the side, of everything of that name that lies on the face with the
// index k; of what stands out, both where it meets the face and in front.
func edgesOn(site wall.Site, k int, name, side string) density.Shape {
	f := site.Faces[k]
	if !f.IsWall() && !(f.Obstruction >= 0 && (f.Side == wall.Front || f.Side == wall.Back)) {
		return nil
	}
	var shape density.Shape
	for _, o := range site.On(k) {
		if wall.FoldName(o.Name) != wall.FoldName(name) {
			continue
		}
		shape = append(shape, edges(f, o.Shape, side, 0)...)
		if o.Depth >= wall.MinLength {
			shape = append(shape, edges(f, o.Shape, side, o.Depth)...)
		}
	}
	return shape
}

// wallEdges returns the edges of the wall that the face is, on the side.
func wallEdges(f wall.Face, side string) density.Shape {
	var shape density.Shape
	for _, p := range f.Whole.Polygons() {
		shape = append(shape, edges(f, p.Outer, side, 0)...)
	}
	return shape
}

// fading reads what the work thins out towards.
func (s *stage) fading(v yamlfile.Value) (density.Field, bool) {
	const faces, corners = "edges", "corners"
	m, ok := v.Map("towards", "wall", "over", "rest")
	if !ok {
		return nil, false
	}
	towards, ok := m.Get("towards").Need("say what it thins out towards: edges, corners, left, right, top or bottom").
		Choice("something to fade towards", append([]string{faces, corners}, sides...)...)
	over := s.size(m.Get("over").Need("say how far from there it begins"), "a length")
	rest, _ := m.Get("rest").Share("a share that is left", 0, 1)
	at := -1 // the index of the wall that is named
	if named := m.Get("wall"); named.Given() {
		i, _, known := s.wallNamed(named)
		at, ok = i, ok && known
	}
	if !ok || over == 0 || s.file.Faulty("room") {
		return nil, false
	}
	site, err := s.site(true)
	if err != nil {
		m.Fault(err.Error(), "correct the room")
		return nil, false
	}
	if towards == faces {
		var areas []density.Area
		for _, f := range site.Faces {
			if f.Used && (at < 0 || f.Wall == at) {
				areas = append(areas, density.Area{Frame: f.Frame, Region: f.Outline})
			}
		}
		fading, err := density.NewEdgeFading(areas, over, rest)
		if err != nil {
			m.Fault(err.Error(), "correct the room")
		}
		return fading, err == nil
	}
	shape := s.sideOfWork(site, at, towards)
	if towards == corners {
		shape = meetings(site, at)
	}
	return density.Fading{Towards: shape, Over: over, Rest: rest}, s.fewEnough(m.Get("towards"), shape)
}

// sideOfWork returns the edges on the side of the wall with the index at; where that is below 0, of
// the whole work.
func (s *stage) sideOfWork(site wall.Site, at int, side string) density.Shape {
	var walls []wall.Face
	for _, f := range site.Faces {
		switch {
		case !f.IsWall() || at >= 0 && f.Wall != at:
		case at >= 0 || f.Used && f.Wall < len(s.room.Walls):
			walls = append(walls, f)
		}
	}
	if at < 0 && len(walls) > 0 {
		switch side {
		case "left":
			walls = walls[:1]
		case "right":
			walls = walls[len(walls)-1:]
		}
	}
	var shape density.Shape
	for _, f := range walls {
		shape = append(shape, wallEdges(f, side)...)
	}
	return shape
}

// meetings returns where each wall meets the next at an angle, the last and the first as well;
// where at is 0 or more, only where that wall does.
func meetings(site wall.Site, at int) density.Shape {
	const touching = 1 // mm
	var walls []wall.Face
	for _, f := range site.Faces {
		if f.IsWall() && !site.Room.Walls[f.Wall].Ceiling {
			walls = append(walls, f)
		}
	}
	var shape density.Shape
	for i, f := range walls {
		g := walls[(i+1)%len(walls)]
		a, b := f.Whole.Bounds(), g.Whole.Bounds()
		end := f.Frame.At(plane.Point{X: a.Max.X})
		level := g.Frame.At(plane.Point{X: b.Min.X}).Sub(end)
		level.Z = 0
		if level.Len() > touching || f.Frame.Out.Dot(g.Frame.Out) > 0.9999 || at >= 0 && f.Wall != at && g.Wall != at {
			continue
		}
		low, high := min(a.Min.Y, b.Min.Y), max(a.Max.Y, b.Max.Y)
		shape = append(shape, density.Segment{A: f.Frame.At(plane.Point{X: a.Max.X, Y: low}), B: f.Frame.At(plane.Point{X: a.Max.X, Y: high})})
	}
	return shape
}
