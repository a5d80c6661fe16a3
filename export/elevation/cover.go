package elevation

import (
	"math"
	"slices"
	"strings"

	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// covers returns what stands before the wall though it belongs to another: the end of a bulkhead that
// runs into it from the next wall, or under a ceiling the top of a chimney breast. Each has the shape
// that it covers, and the greatest depth there is, for nobody gets behind it.
func (v View) covers() []wall.Obstruction {
	if !v.IsWall() || !v.Covered() {
		return nil
	}
	seen := []plane.Region{v.Face.Outline}
	for _, o := range v.Wall.Obstructions {
		if math.Abs(o.Depth) >= wall.MinLength {
			seen = append(seen, plane.RegionOf(o.Shape))
		}
	}
	hidden, err := v.Outline.Difference(seen...)
	if err != nil {
		return nil
	}
	var out []wall.Obstruction
	for _, p := range hidden.Polygons() {
		if sliver(p.Outer) {
			continue // an edge that two bodies share, not quite alike
		}
		out = append(out, wall.Obstruction{Kind: wall.Fixture, Name: v.coverName(p.Outer), Shape: p.Outer, Depth: wall.MaxDepth})
	}
	return out
}

// sliver reports whether a ring is nowhere near a millimetre wide on average.
func sliver(r plane.Ring) bool { return math.Abs(r.Area()) < r.Perimeter()/2 }

// coverName names what stands before the part of the wall within a ring.
func (v View) coverName(r plane.Ring) string {
	const parts = 9
	b := r.Bounds()
	var names []string
	for i := range parts * parts {
		p := plane.Point{
			X: b.Min.X + b.Width()*(float64(i%parts)+0.5)/parts,
			Y: b.Min.Y + b.Height()*(float64(i/parts)+0.5)/parts,
		}
		if name := v.standingAt(p); r.Contains(p) && name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return "what stands here"
	}
	return strings.Join(names, " and ")
}

// standingAt returns the name of what of another wall stands at a point of the face; nothing where
// none does.
func (v View) standingAt(p plane.Point) string {
	at := v.Face.Frame.At(p)
	for _, f := range v.Work.Site.Faces {
		if !f.IsWall() || f.Wall == v.Face.Wall {
			continue
		}
		w := v.Work.Site.Room.Walls[f.Wall]
		q, off := f.Frame.Local(at)
		for _, o := range w.Obstructions {
			if o.Depth >= wall.MinLength && off > -1 && off < o.Depth+1 && plane.RegionOf(o.Shape).Distance(q) > -1 {
				return o.Name
			}
		}
		if w.Alone != nil && off < 1 && off > -w.Alone.Thickness-1 && plane.RegionOf(w.Outline).Distance(q) > -1 {
			return w.Name
		}
	}
	return ""
}
