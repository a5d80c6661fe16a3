package screen

import (
	"context"
	"fmt"
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/scatter"
	"wallshoal/scatter/density"
	"wallshoal/scatter/flow/parting"
	"wallshoal/wall/plane"
)

// The grids that the layers of density and flow are drawn on, mm of the paper.
const (
	dotPitch     = 4.0
	contourPitch = 2.0
	dotMost      = 0.3 // half of the largest dot, for each mm of the pitch: a fifth of the face is covered
	flowPitch    = 5.0
	flowLong     = 3.4 // an arrow
	flowBarb     = 1.0
)

// densitySteps are the densities, against 1 where a density changes nothing, that lines are drawn at.
var densitySteps = []float64{0.1, 0.25, 0.5, 0.75, 1, 1.5, 2, 3, 5, 10, 20, 50}

// densityOver draws how dense the work is asked to be: as dots that are larger where it is denser, and as
// lines of equal density with how many times the usual it is.
func (s *screen) densityOver(dense density.Scheme) {
	seen := plane.NewIndex(s.Outline)
	at := func(q plane.Point) float64 { return dense.At(s.Face.Frame, s.Back(q)) }
	area := s.Mapping.Box(s.Bounds)
	densest := 0.0
	s.overGrid(area, dotPitch, seen, func(q plane.Point) { densest = math.Max(densest, at(q)) })
	if densest == 0 {
		return
	}
	s.Group("shades")
	s.overGrid(area, dotPitch, seen, func(q plane.Point) {
		r := dotMost * dotPitch * math.Sqrt(at(q)/densest)
		if r > 0.1 {
			d := plane.Ring{{X: r}, {Y: r}, {X: -r}, {Y: -r}}
			s.Polygon([]plane.Ring{d.Map(q.Add)}, draw.Paint{Fill: draw.Solid(layerDensity)})
		}
	})
	s.End()
	s.contours(dense, seen, area, at)
	if dense.Field == nil {
		n := oneLine(s.densityWords(dense, 1), draw.Letter25)
		width, height := n.Size()
		s.label(n, drafting.ScatterIn(area, width, height), true, layerFlow)
	}
}

// overGrid calls f with every point of a grid over an area of the page that lies on the face.
func (s *screen) overGrid(area plane.Rect, pitch float64, seen *plane.Index, f func(plane.Point)) {
	for y := area.Min.Y + pitch/2; y < area.Max.Y; y += pitch {
		for x := area.Min.X + pitch/2; x < area.Max.X; x += pitch {
			if q := (plane.Point{X: x, Y: y}); seen.Inside(s.Back(q)) {
				f(q)
			}
		}
	}
}

// densityWords says what a density of so many times the usual is.
func (s *screen) densityWords(dense density.Scheme, times float64) string {
	text := fmt.Sprintf("×%g", times)
	if dense.Field == nil {
		text = "even"
	}
	if dense.PerSquareMetre > 0 {
		text += fmt.Sprintf(", %g per m²", math.Round(times*dense.PerSquareMetre*10)/10)
	}
	return text
}

// contours draws the lines of equal density by marching over the squares of a grid (Lorensen and Cline,
// Marching cubes, SIGGRAPH 1987, in the plane): within a square a line is straight, and of the two ways through
// one with opposite corners above the same one is always taken.
func (s *screen) contours(dense density.Scheme, seen *plane.Index, area plane.Rect, at func(plane.Point) float64) {
	columns, rows := int(area.Width()/contourPitch)+1, int(area.Height()/contourPitch)+1
	corner := func(i, j int) plane.Point {
		return plane.Point{X: area.Min.X + float64(i)*contourPitch, Y: area.Min.Y + float64(j)*contourPitch}
	}
	values := make([]float64, (columns+1)*(rows+1))
	for j := range rows + 1 {
		for i := range columns + 1 {
			values[j*(columns+1)+i] = at(corner(i, j))
		}
	}
	edge := draw.Stroke{Width: draw.Width025, Colour: layerFlow}
	for _, level := range densitySteps {
		var places []plane.Point
		s.Group(fmt.Sprintf("density %g", level))
		for j := range rows {
			for i := range columns {
				var crossed []plane.Point
				square := [4][2]int{{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}}
				for n, c := range square {
					d := square[(n+1)%4]
					a, b := values[c[1]*(columns+1)+c[0]], values[d[1]*(columns+1)+d[0]]
					if (a < level) != (b < level) {
						crossed = append(crossed, corner(c[0], c[1]).Lerp(corner(d[0], d[1]), (level-a)/(b-a)))
					}
				}
				for n := 0; n+1 < len(crossed); n += 2 {
					if p, q := crossed[n], crossed[n+1]; seen.Inside(s.Back(p)) && seen.Inside(s.Back(q)) {
						s.Line(p, q, edge)
						places = append(places, p.Lerp(q, 0.5))
					}
				}
			}
		}
		s.End()
		s.contourWords(s.densityWords(dense, level), places)
	}
}

// contourWords writes what a line is, here and there along it.
func (s *screen) contourWords(text string, places []plane.Point) {
	const apart, most = 30.0, 8
	n := oneLine(text, drafting.Least)
	width, height := n.Size()
	var said []plane.Point
	for i := range places {
		p := places[(i*7+len(places)/3)%len(places)] // not row by row, so that words stand apart
		far := true
		for _, q := range said {
			far = far && p.Distance(q) > apart
		}
		if far && len(said) < most && s.label(n, []plane.Rect{drafting.BoxAt(p, width, height)}, false, layerFlow) {
			said = append(said, p)
		}
	}
}

// flowOver draws which way the flow runs, as arrows on a grid: as it is parted, where that is asked, and
// nothing where it then has no place. Where nothing flows stands a dot.
func (s *screen) flowOver(ctx context.Context, comp scatter.Composition) error {
	seen, free := plane.NewIndex(s.Outline), s.Face.Free()
	parts := comp.Part && s.Face.Used && !free.Empty()
	var parted parting.Correction
	if parts {
		var err error
		parted, err = parting.Solve(ctx, s.Face.Frame, comp.Flow, s.Face.Open(), free, parting.Cell(s.usedArea()))
		if err != nil {
			return err
		}
		seen = plane.NewIndex(free)
	}
	var still []plane.Point
	stroke := draw.Stroke{Width: draw.Width025, Colour: layerFlow}
	s.overGrid(s.Mapping.Box(s.Bounds), flowPitch, seen, func(q plane.Point) {
		p := s.Back(q)
		way := comp.Flow.At(s.Face.Frame, p)
		if parts {
			way = way.Add(parted.At(p))
		}
		if way.Len() < 1e-9 {
			still = append(still, q)
			return
		}
		step := plane.Point{X: way.X, Y: -way.Y}.Scale(flowLong / 2 / way.Len())
		tip := q.Add(step)
		barb := step.Scale(flowBarb / (flowLong / 2))
		side := plane.Point{X: -barb.Y, Y: barb.X}.Scale(0.6)
		s.Line(q.Sub(step), tip, stroke)
		s.Polyline([]plane.Point{tip.Sub(barb).Add(side), tip, tip.Sub(barb).Sub(side)}, stroke)
	})
	for _, q := range still {
		s.Circle(q, 0.4, draw.Paint{Fill: draw.Solid(layerFlow)})
	}
	return nil
}

// usedArea returns what the boxes of the faces that carry pieces come to, mm².
func (s *screen) usedArea() float64 {
	area := 0.0
	for _, f := range s.Work.Site.Faces {
		if f.Used && !f.Free().Empty() {
			box := f.Open().Bounds()
			area += float64(box.Width() * box.Height())
		}
	}
	return area
}
