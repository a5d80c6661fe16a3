package tiling

import (
	"cmp"
	"math"
	"slices"

	"wallshoal/export/elevation"
	"wallshoal/wall/plane"
)

// marksApart is the least distance between the middles of a register mark and of a cross, or of two
// register marks, mm: nearer ones are taken for one another.
const marksApart = 12.0

// A near finds points by where they lie.
type near map[[2]int][]plane.Point

func (n near) cell(p plane.Point) [2]int {
	return [2]int{int(math.Floor(p.X / marksApart)), int(math.Floor(p.Y / marksApart))}
}

func (n near) add(p plane.Point) { n[n.cell(p)] = append(n[n.cell(p)], p) }

// any reports whether one of the points is nearer to p than marksApart and no nearer than least.
func (n near) any(p plane.Point, least float64) bool {
	c := n.cell(p)
	for x := c[0] - 1; x <= c[0]+1; x++ {
		for y := c[1] - 1; y <= c[1]+1; y++ {
			if slices.ContainsFunc(n[[2]int{x, y}], func(q plane.Point) bool {
				far := q.Distance(p)
				return far < marksApart && far >= least
			}) {
				return true
			}
		}
	}
	return false
}

// settleMarks keeps of the register marks those of use: that two printed sheets share, that stay on the paper
// when it is cut, and that lie well apart from every cross and from one another. Of two that do not the upper, then the left one
// stays. A sheet's marks and its neighbours' stay or go together.
func settleMarks(v elevation.View, tiles []Tile) {
	crosses := near{}
	for _, h := range v.Holes {
		crosses.add(h.At)
	}
	type mark struct {
		plane.Point
		tile int
	}
	var all []mark
	for i, t := range tiles {
		if len(t.Holes) == 0 {
			continue
		}
		for _, m := range t.Marks {
			all = append(all, mark{m, i})
		}
	}
	slices.SortFunc(all, func(a, b mark) int {
		return cmp.Or(-cmp.Compare(math.Round(a.Y/Touch), math.Round(b.Y/Touch)), cmp.Compare(a.X, b.X), cmp.Compare(a.tile, b.tile))
	})
	kept := near{}
	for i := 0; i < len(all); {
		n := i + 1
		for n < len(all) && all[n].Distance(all[i].Point) < Touch {
			n++
		}
		shared := slices.ContainsFunc(all[i:n], func(m mark) bool { return m.tile != all[i].tile })
		if p := all[i].Point; shared && onPaper(v, p) && !crosses.any(p, 0) && !kept.any(p, 0) {
			kept.add(p)
		}
		i = n
	}
	for i := range tiles {
		t := &tiles[i]
		for _, c := range t.MarkCorners() {
			if !crosses.any(c, 0) && !kept.any(c, Touch) {
				t.Clear = append(t.Clear, c)
			}
		}
		t.Marks = slices.DeleteFunc(t.Marks, func(m plane.Point) bool {
			return crosses.any(m, 0) || !kept.within(m, Touch)
		})
	}
	pair(v, tiles, crosses, kept)
}

// within reports whether one of the points lies nearer to p than far, which is at most marksApart.
func (n near) within(p plane.Point, far float64) bool {
	c := n.cell(p)
	for x := c[0] - 1; x <= c[0]+1; x++ {
		for y := c[1] - 1; y <= c[1]+1; y++ {
			if slices.ContainsFunc(n[[2]int{x, y}], func(q plane.Point) bool { return q.Distance(p) < far }) {
				return true
			}
		}
	}
	return false
}

// A mark that has to stand within a sheet keeps this far from edges and crosses where it can, mm.
const MarkAir = 20.0
