package elevation

import (
	"fmt"
	"math"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A rim is the edge of a ceiling over one wall of the room.
type rim struct {
	name string
	a, b plane.Point // of the ceiling, from the wall's left end to its right
	out  plane.Point // of length 1, on the ceiling, out of the room
}

// rims returns where the walls of the room meet a ceiling, in their order.
func (v View) rims() []rim {
	var out []rim
	for _, f := range v.Work.Site.Faces {
		w := v.Work.Site.Room.Walls[f.Wall]
		if !v.Wall.Ceiling || !f.IsWall() || w.Ceiling || w.Alone != nil {
			continue
		}
		a, _ := v.Face.Frame.Local(f.Frame.Origin)
		b, _ := v.Face.Frame.Local(f.Frame.At(plane.Point{X: w.Outline.Bounds().Max.X}))
		in := v.Face.Frame.Flatten(f.Frame.Out)
		out = append(out, rim{name: w.Name, a: a, b: b, out: in.Scale(-1 / in.Len())})
	}
	return out
}

// WallTowards returns the name of the wall that ends a ceiling the given way: of those that lie across
// it within 45°, the farthest.
func (v View) WallTowards(way plane.Point) (name string, found bool) {
	const across = math.Sqrt2 / 2
	far := math.Inf(-1)
	for _, r := range v.rims() {
		if at := r.a.Lerp(r.b, 0.5).Dot(way); r.out.Dot(way) >= across && at > far+0.5 {
			name, far, found = r.name, at, true
		}
	}
	return name, found
}

// aheadWords says on a sheet of a ceiling which wall its upper edge points to.
func (v View) aheadWords() string {
	if name, found := v.WallTowards(plane.Point{Y: 1}); found {
		return "TO: " + strings.ToUpper(name)
	}
	if name, along := v.overFoot(); along {
		return "AWAY FROM: " + strings.ToUpper(name)
	}
	return "UP AS DRAWN"
}

// roundWords names the walls round a ceiling as it is drawn.
func (v View) roundWords() string {
	var out []string
	for _, side := range []struct {
		words string
		way   plane.Point
	}{
		{"above", plane.Point{Y: 1}}, {"below", plane.Point{Y: -1}}, {"at its left", plane.Point{X: -1}}, {"at its right", plane.Point{X: 1}},
	} {
		if name, found := v.WallTowards(side.way); found {
			out = append(out, side.words+" "+name)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "Round the drawing lie: " + strings.Join(out, ", ") + "."
}

// Twelve says what straight up is on the sheets of a face, for headings in degrees.
func (v View) Twelve() string {
	if _, upright := v.Datum(); upright {
		return "0° is straight up"
	}
	switch v.Face.Side {
	case wall.Top, wall.Sill:
		return "0° is to the wall, as seen looking down"
	case wall.Underside, wall.Head:
		return "0° is away from the wall, as seen looking up"
	}
	if name, found := v.WallTowards(plane.Point{Y: 1}); v.Wall.Ceiling && found {
		return fmt.Sprintf("0° is to %s, as seen looking up", name)
	}
	return "0° is up as drawn"
}

// WallNames writes the names of the walls round the picture of a ceiling beside its edges, outside them
// where out is set, else within, where they cover nothing.
func (v View) WallNames(p drafting.Pen, m drafting.Mapping, s *drafting.Spots, out bool) {
	way := -1.0
	if out {
		way = 1
	}
	for _, r := range v.rims() {
		a, b := m.At(r.a), m.At(r.b)
		n := drafting.Note{Lines: []string{r.name}, Height: drafting.Least, Turned: math.Abs(b.Y-a.Y) > math.Abs(b.X-a.X)}
		width, height := n.Size()
		if math.Max(width, height) > a.Distance(b) {
			continue
		}
		side := plane.Point{X: r.out.X, Y: -r.out.Y}.Scale(way)
		off := 0.9 + (math.Abs(side.X)*width+math.Abs(side.Y)*height)/2
		var places []plane.Rect
		for _, t := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
			places = append(places, drafting.BoxAt(a.Lerp(b, t).Add(side.Scale(off)), width, height))
		}
		if box, cost, found := s.Best(places); found && cost == 0 {
			s.Take(box, WorthHole)
			p.Group("wall beside")
			drafting.Knockout(p, box)
			p.Note(n, box, drafting.Quiet)
			p.End()
		}
	}
}

// WorthHole is how bad it is for a name to cover a hole, against an outline.
const WorthHole = 100.0
