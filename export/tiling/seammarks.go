package tiling

import (
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/elevation"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// leastJoint is how long the line that two sheets share has to be for two register marks, mm.
const leastJoint = 30.0

// onPaper reports whether a register mark at a place of the face stays on the paper when it is cut along
// the edge of the face and round what stands out of it.
func onPaper(v elevation.View, p plane.Point) bool {
	return v.Face.Outline.Distance(p) >= drafting.RegisterRadius && !slices.ContainsFunc(v.Things, func(o wall.Obstruction) bool {
		return v.StandOut(o) > 0 && plane.RegionOf(o.Shape).Distance(p) > -drafting.RegisterRadius
	})
}

// A seam is the line on the face where the cut edge of a sheet lies on another sheet, from the top or the left.
type seam struct {
	a, b         plane.Point
	upper, under int // indices of the tiles that share it: the one cut there, and the one below its paper
}

// seams returns the seams between printed tiles.
func seams(tiles []Tile) []seam {
	byName := map[string]int{}
	for i, t := range tiles {
		byName[t.Name] = i
	}
	var out []seam
	for i, t := range tiles {
		if len(t.Holes) == 0 {
			continue
		}
		if j := byName[t.Left.Name]; t.Left.Printed {
			low := math.Max(t.marked.Min.Y, tiles[j].marked.Min.Y)
			high := math.Min(t.marked.Max.Y, tiles[j].marked.Max.Y)
			out = append(out, seam{plane.Point{X: t.Cell.Min.X, Y: high}, plane.Point{X: t.Cell.Min.X, Y: low}, i, j})
		}
		for _, n := range t.Above {
			if n.Printed {
				out = append(out, seam{plane.Point{X: n.From, Y: n.Edge}, plane.Point{X: n.To, Y: n.Edge}, i, byName[n.Name]})
			}
		}
	}
	return out
}

// pair sees to it that sheets which share a seam have two register marks on it where there is room: where
// corners fall on crosses, off the face or past a neighbour, more marks stand as far out along it as they can.
func pair(v elevation.View, tiles []Tile, crosses, kept near) {
	corners := near{}
	for _, t := range tiles {
		for _, c := range t.Clear {
			corners.add(c)
		}
	}
	step := Exactly(v.Work.Units)
	for _, s := range seams(tiles) {
		long := s.a.Distance(s.b)
		if long < leastJoint {
			continue
		}
		upper, under := &tiles[s.upper], &tiles[s.under]
		shared := slices.DeleteFunc(slices.Clone(upper.Marks), func(m plane.Point) bool {
			return s.off(m) > Touch || !slices.ContainsFunc(under.Marks, func(n plane.Point) bool { return n.Distance(m) < Touch })
		})
		free := func(p plane.Point) bool {
			return onPaper(v, p) && !crosses.any(p, 0) && !kept.any(p, 0) && !corners.any(p, 0)
		}
		for len(shared) < 2 {
			best, most := plane.Point{}, 0.0
			for far := drafting.RegisterReach; far <= long-drafting.RegisterReach; far += step {
				p := s.at(far, step)
				apart := long
				for _, m := range shared {
					apart = math.Min(apart, m.Distance(p))
				}
				if len(shared) == 0 {
					apart -= far // the first stands nearest to where the seam begins
				}
				if apart > most+Speck && s.off(p) < Speck && free(p) {
					best, most = p, apart
				}
			}
			if most == 0 {
				break
			}
			kept.add(best)
			shared = append(shared, best)
			upper.Marks, under.Marks = append(upper.Marks, best), append(under.Marks, best)
		}
	}
}

// at returns the point of the seam so far from its beginning, mm, at a whole step.
func (s seam) at(far, step float64) plane.Point {
	if s.a.X == s.b.X {
		return plane.Point{X: s.a.X, Y: math.Floor((s.a.Y-far)/step) * step}
	}
	return plane.Point{X: math.Ceil((s.a.X+far)/step) * step, Y: s.a.Y}
}

// off returns how far a point lies from the seam, mm.
func (s seam) off(p plane.Point) float64 {
	box := plane.Rect{
		Min: plane.Point{X: math.Min(s.a.X, s.b.X), Y: math.Min(s.a.Y, s.b.Y)},
		Max: plane.Point{X: math.Max(s.a.X, s.b.X), Y: math.Max(s.a.Y, s.b.Y)},
	}
	return drafting.GapBetween(box, p)
}
