package elevation

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/wall/plane"
)

// FloorUnder returns the height of the floor, mm, under a point of an upright face, and whether it was
// measured along the wall there.
func (v View) FloorUnder(p plane.Point) (height float64, measured bool) {
	if len(v.Wall.Floor) == 0 || !holemap.Upright(v.Face) {
		return 0, false
	}
	if !v.IsWall() {
		frame, found := v.WallFrame()
		if !found {
			return 0, false
		}
		p, _ = frame.Local(v.Face.Frame.At(p))
	}
	return v.Wall.FloorAt(p.X)
}

// floorPlaces returns where the floor of the wall is told of: at all places that it was measured at, or
// where they are many at the ends and where it is highest and lowest.
func (v View) floorPlaces() []plane.Point {
	const many = 5
	f := v.Wall.Floor
	if len(f) <= many {
		return f
	}
	byHeight := func(a, b plane.Point) int { return cmp.Compare(a.Y, b.Y) }
	out := []plane.Point{f[0], slices.MinFunc(f, byHeight), slices.MaxFunc(f, byHeight), f[len(f)-1]}
	slices.SortFunc(out, func(a, b plane.Point) int { return cmp.Compare(a.X, b.X) })
	return slices.Compact(out)
}

// FloorWords says how high the datum is above a floor that was measured; nothing where none was.
func (v View) FloorWords() string {
	if len(v.Wall.Floor) == 0 {
		return ""
	}
	var heights []string
	for i, p := range v.floorPlaces() {
		text := fmt.Sprintf("%s at %s", v.Length(v.Work.Site.Room.Datum-p.Y), v.Length(p.X))
		if i == 0 {
			text += " from the left end"
		}
		heights = append(heights, text)
	}
	return fmt.Sprintf("Heights hang from the datum, never from the floor, which is not level: the datum is above it by %s.", strings.Join(heights, ", "))
}

// floorLine draws the floor as it was measured, past the ends of the wall as far as it is drawn.
func (p *Picture) floorLine(left, right float64, s draw.Stroke) {
	line := []plane.Point{{X: left}}
	for _, q := range p.Wall.Floor {
		line = append(line, p.Mapping.At(q))
	}
	line = append(line, plane.Point{X: right})
	line[0].Y, line[len(line)-1].Y = line[1].Y, line[len(line)-2].Y
	p.Group("floor")
	p.Polyline(line, s)
	p.End()
}
