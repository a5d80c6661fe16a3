package plane

import (
	"cmp"
	"slices"
)

// An overlay is the drawing that the boundaries of two areas make together: corners, and arrows
// between them. Every rim is two arrows, one each way, that are neighbours in the list: arrow i
// and arrow i^1.
type overlay struct {
	corners []spot
	arrows  []arrow
	around  [][]int // the arrows that leave each corner, counter-clockwise, the first from due left
}

// An arrow is one side of a rim: the side that lies to its left.
type arrow struct {
	from, to int    // indices of corners
	gain     [2]int // how often either area is entered when crossing from right to left
	depth    [2]int // how many times the left side lies in either area
	known    bool   // whether depth is known yet
	place    int    // index in around[from]
}

// combined returns the area where keep holds, given how many times a place lies within the loops
// of first and of second. Loops count once where they run counter-clockwise round a place, and
// minus once clockwise, so that holes undo what is round them.
func combined(first, second []loop, keep func(first, second int) bool) ([]Polygon, error) {
	var rims []rim
	for group, loops := range [2][]loop{first, second} {
		for _, l := range loops {
			for i, a := range l {
				r := rim{a: a, b: l[(i+1)%len(l)]}
				r.gain[group] = 1
				rims = append(rims, r)
			}
		}
	}
	rims, err := noded(rims)
	if err != nil {
		return nil, err
	}
	o := newOverlay(rims)
	o.measure()
	return o.polygons(func(a arrow) bool { return keep(a.depth[0], a.depth[1]) }), nil
}

func newOverlay(rims []rim) *overlay {
	o := &overlay{corners: cornersOf(rims, nil)}
	o.around = make([][]int, len(o.corners))
	index := make(map[spot]int, len(o.corners))
	for i, c := range o.corners {
		index[c] = i
	}
	for _, r := range rims {
		a, b := index[r.a], index[r.b]
		o.around[a] = append(o.around[a], len(o.arrows))
		o.around[b] = append(o.around[b], len(o.arrows)+1)
		o.arrows = append(o.arrows,
			arrow{from: a, to: b, gain: r.gain},
			arrow{from: b, to: a, gain: [2]int{-r.gain[0], -r.gain[1]}})
	}
	for _, star := range o.around {
		slices.SortFunc(star, func(i, j int) int { return compareTurn(o.run(i), o.run(j)) })
		for place, i := range star {
			o.arrows[i].place = place
		}
	}
	return o
}

// run returns the step that arrow i takes.
func (o *overlay) run(i int) Point {
	return o.corners[o.arrows[i].from].to(o.corners[o.arrows[i].to])
}

// compareTurn orders directions counter-clockwise, beginning just past due left.
func compareTurn(p, q Point) int {
	return cmp.Or(cmp.Compare(quarter(p), quarter(q)), cmp.Compare(0, p.Cross(q)))
}

// quarter returns 0 for directions that run down, 1 for due right, 2 for up and 3 for due left.
func quarter(p Point) int {
	switch {
	case p.Y < 0:
		return 0
	case p.Y > 0:
		return 2
	case p.X > 0:
		return 1
	}
	return 3
}

// measure finds the depth on both sides of every arrow. Corners are taken from the left, so the
// first of each connected drawing has that drawing's outside to its left.
func (o *overlay) measure() {
	for c, star := range o.around {
		if o.arrows[star[0]].known {
			continue
		}
		o.spread(star[0], o.depthLeftOf(c))
	}
}

// depthLeftOf returns how many times the place just left of the corner c lies in either area.
func (o *overlay) depthLeftOf(c int) [2]int {
	p := o.corners[c]
	var depth [2]int
	for i := 0; i < len(o.arrows); i += 2 {
		a, b := o.corners[o.arrows[i].from], o.corners[o.arrows[i].to]
		down := a.y > p.y
		if down == (b.y > p.y) {
			continue
		}
		cross := a.to(b).Cross(a.to(p))
		if down && cross > 0 {
			depth[0] += o.arrows[i].gain[0]
			depth[1] += o.arrows[i].gain[1]
		}
		if !down && cross < 0 {
			depth[0] -= o.arrows[i].gain[0]
			depth[1] -= o.arrows[i].gain[1]
		}
	}
	return depth
}

// spread makes known the depths of every arrow of the drawing that arrow first belongs to, given
// the depth on the right of first.
func (o *overlay) spread(first int, right [2]int) {
	type known struct {
		arrow int
		right [2]int
	}
	todo := []known{{first, right}}
	for len(todo) > 0 {
		from := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if o.arrows[from.arrow].known {
			continue
		}
		star, depth := o.around[o.arrows[from.arrow].from], from.right
		for k := range star {
			i := star[(o.arrows[from.arrow].place+k)%len(star)]
			a := &o.arrows[i]
			depth = [2]int{depth[0] + a.gain[0], depth[1] + a.gain[1]}
			a.depth, a.known = depth, true
			todo = append(todo, known{i ^ 1, depth})
		}
	}
}

// polygons returns the area on whose boundary the left side is in and the right side is not.
func (o *overlay) polygons(in func(arrow) bool) []Polygon {
	border := make([]bool, len(o.arrows))
	leaving := map[spot]int{}
	for i, a := range o.arrows {
		if border[i] = in(a) && !in(o.arrows[i^1]); border[i] {
			leaving[o.corners[a.from]]++
		}
	}
	var outers, holes []loop
	taken := make([]bool, len(o.arrows))
	for i := range o.arrows {
		if !border[i] || taken[i] {
			continue
		}
		for _, l := range o.walk(i, border, taken) {
			if l.twiceArea() > 0 {
				outers = append(outers, l)
			} else {
				holes = append(holes, l)
			}
		}
	}
	return assemble(outers, holes, func(s spot) bool { return leaving[s] > 1 })
}

// walk follows the border from arrow i with the area to its left until it comes back, marks
// the arrows it took, and returns the simple loops that it made.
func (o *overlay) walk(i int, border, taken []bool) []loop {
	var loops []loop
	var path loop
	seen := map[spot]int{}
	for !taken[i] {
		taken[i] = true
		at := o.corners[o.arrows[i].from]
		if start, ok := seen[at]; ok {
			loops = append(loops, slices.Clone(path[start:]))
			for _, s := range path[start:] {
				delete(seen, s)
			}
			path = path[:start]
		}
		seen[at] = len(path)
		path = append(path, at)
		i = o.after(i, border)
	}
	return append(loops, path)
}

// after returns the border arrow that the area to the left of arrow i runs on along: the first
// clockwise from the way back.
func (o *overlay) after(i int, border []bool) int {
	back := i ^ 1
	star := o.around[o.arrows[back].from]
	n := len(star)
	for k := 1; k < n; k++ {
		if j := star[(o.arrows[back].place-k+n)%n]; border[j] {
			return j
		}
	}
	return i
}

// assemble tidies the loops, keeping their corners where they touch, and gives every hole to the
// smallest outer loop round it. A hole that lies in none was left by an outer loop too thin to
// keep.
func assemble(outers, holes []loop, touch func(spot) bool) []Polygon {
	slices.SortFunc(outers, func(l, m loop) int { return cmp.Compare(l.twiceArea(), m.twiceArea()) })
	var polys []Polygon
	for _, l := range outers {
		if l = l.tidy(touch); l != nil {
			polys = append(polys, Polygon{Outer: l.ring(false)})
		}
	}
	for _, l := range holes {
		if l = l.tidy(touch); l == nil {
			continue
		}
		// Two loops share corners at most, and have kept them, so the middle of an edge is in an
		// outer loop or out of it.
		middle := l.middle()
		round := slices.IndexFunc(polys, func(p Polygon) bool { return p.Outer.Contains(middle) })
		if round >= 0 {
			polys[round].Holes = append(polys[round].Holes, l.ring(true))
		}
	}
	for _, p := range polys {
		slices.SortFunc(p.Holes, compareRings)
	}
	slices.SortFunc(polys, func(p, q Polygon) int { return compareRings(p.Outer, q.Outer) })
	return polys
}
