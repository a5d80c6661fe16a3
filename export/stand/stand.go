// Package stand is the order of work of whoever hangs a work with drill and ladder: the pieces in
// stands, a stand being what one reaches from one place of the floor, a ladder or a platform.
//
// What is reached from where are usual figures and no clearance: a ladder or a platform is chosen by
// somebody who has seen the place, by its maker's instructions and the rules that hold there.
package stand

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// Access is what one stands on.
type Access string

// What one can stand on, the highest first.
const (
	Platform      Access = "platform"       // a platform or a tower, put up and used by two people
	StairPlatform Access = "stair platform" // one that is made for stairs
	Ladder        Access = "ladder"         // a step ladder, with somebody at its foot
	Floor         Access = "floor"          // which may be steps
)

// Accesses returns all of them, the highest first.
func Accesses() []Access { return []Access{Platform, StairPlatform, Ladder, Floor} }

// A Stand is the pieces that are hung from one place.
type Stand struct {
	Number   int // from 1, in the order of work
	Face     int // index into the faces of the site
	Access   Access
	Overhead bool       // the face looks down: a ceiling, an underside, the head of a recess
	Bounds   plane.Rect // of its holes on the face
	Low      float64    // height of its lowest hole above the plan's 0, mm; see Above
	High     float64    // of its highest
	Place    Place
	Pieces   []int // IDs, in hanging order
	Holes    int
	Carry    []Carry  // in the order of the kinds
	Fixings  []Fixing // by name
	Bits     []Bit    // by diameter, then depth
	Waits    []Wait   // by piece
	Doors    []string // that open where a ladder or a platform stands, by their names
	Foot     Foot
	Over     []Obstacle
	Same     int    // an earlier stand from whose set-up it is reached too; 0 where it takes one of its own
	Later    []int  // pieces that hang in a second round; none unless somebody says which, as sheet.Rounds does
	Times    []Time // expected of the work there; none unless Timed
}

// Carry is the pieces of one kind that a stand needs.
type Carry struct{ Kind, Pieces int }

// Above returns how high the lowest and the highest hole are above the floor where one stands, mm.
func (s Stand) Above() (low, high float64) {
	return hundredth(s.Low - s.Foot.Height), hundredth(s.High - s.Foot.Height)
}

// A Fixing is how many of one sort a stand needs.
type Fixing struct {
	Name  string
	Count int
}

// A Bit is how many holes are drilled with one bit to one depth.
type Bit struct {
	Diameter, Depth float64 // mm
	Holes           int
}

// A Wait is a piece that lies over one which a later stand hangs: its holes can be drilled, and the
// piece is hung when that stand is done.
type Wait struct{ Piece, Stand int }

// Plan returns the stands of a work in their order. Every piece is in exactly one.
//
// What is higher above the floor than can be reached from it is done first, by somebody who is fresh:
// all from a platform, then from one made for stairs, from a ladder, and last from the floor. How high
// something is counts from the floor where one stands for it, as far as the plan knows that: see
// wall.Wall.FootAt; over what stands in the way one reaches less high. Overhead, on steps and over what
// cannot be moved nothing is done from a ladder. Each goes along the walls, and the next comes back the other way, so that the ladder
// is moved little; ceilings come before walls, row by row to and fro. Where two stands have about one place
// the higher is first, and a wall comes before what stands out of it below.
//
// The holes of a stand lie in a window as wide as the reach and on upright faces as high; on others,
// which one reaches from under or over them, as deep as it is wide. Only a piece whose own holes lie
// farther apart has a stand that is larger, for itself alone. On a stair a window is divided until its
// holes are within reach of the step under its middle, and none is below that. The windows are laid in strips, which
// is at most three times the fewest that could be where no piece is more than a third as high as
// the window, and the fewest where one strip holds all (see cover).
//
// It fails where the reach cannot be, and where a piece has no face or kind.
func Plan(work holemap.Work, reach Reach) ([]Stand, error) {
	if problems := reach.Problems(work.Units); len(problems) > 0 {
		return nil, problems[0]
	}
	tasks, err := tasksOf(work, reach)
	if err != nil {
		return nil, err
	}
	var stands []Stand
	for len(tasks) > 0 {
		n := 1
		for n < len(tasks) && tasks[n].Face == tasks[0].Face && tasks[n].access == tasks[0].access {
			n++
		}
		for _, group := range grouped(work, tasks[:n], reach) {
			stands = append(stands, standOf(work, group, reach))
		}
		tasks = tasks[n:]
	}
	order(work.Site, stands)
	for i := range stands {
		stands[i].Number = i + 1
	}
	wait(work, stands)
	together(stands)
	return stands, nil
}

// Of returns which stand each piece is in, by the ID of the piece.
func Of(stands []Stand) map[int]int {
	of := map[int]int{}
	for _, s := range stands {
		for _, id := range s.Pieces {
			of[id] = s.Number
		}
	}
	return of
}

// A task is one piece with its holes.
type task struct {
	scatter.Piece
	holes     []holemap.Hole
	box       plane.Rect // of its holes on the face
	low, high float64    // of them above the plan's 0, mm
	access    Access
}

// tasksOf returns the pieces by face, access and ID.
func tasksOf(work holemap.Work, reach Reach) ([]task, error) {
	holes := make(map[int][]holemap.Hole, len(work.Layout.Pieces))
	for _, h := range work.Map.Holes {
		holes[h.Piece] = append(holes[h.Piece], h)
	}
	tasks := make([]task, 0, len(work.Layout.Pieces))
	for _, p := range work.Layout.Pieces {
		switch {
		case p.Face < 0 || p.Face >= len(work.Site.Faces):
			return nil, fmt.Errorf("piece %d is on face number %d, and there are %d faces", p.ID, p.Face, len(work.Site.Faces))
		case p.Kind < 0 || p.Kind >= len(work.Kinds):
			return nil, fmt.Errorf("piece %d is of kind number %d, and there are %d kinds", p.ID, p.Kind, len(work.Kinds))
		}
		t := task{Piece: p, holes: holes[p.ID], low: math.Inf(1), high: math.Inf(-1)}
		at := []plane.Point{p.At}
		if len(t.holes) > 0 {
			at = at[:0]
			for _, h := range t.holes {
				at = append(at, h.At)
			}
		}
		t.box = plane.Ring(at).Bounds()
		frame := work.Site.Faces[p.Face].Frame
		for _, q := range at {
			z := frame.At(q).Z
			t.low, t.high = math.Min(t.low, z), math.Max(t.high, z)
		}
		t.access = reach.from(work.Site, p.Face, t.box, t.high).access
		tasks = append(tasks, t)
	}
	rank := Accesses()
	slices.SortFunc(tasks, func(a, b task) int {
		return cmp.Or(cmp.Compare(a.Face, b.Face),
			cmp.Compare(slices.Index(rank, a.access), slices.Index(rank, b.access)), cmp.Compare(a.ID, b.ID))
	})
	return tasks, nil
}

// grouped divides the pieces on one face that are reached from one sort of place into stands.
func grouped(work holemap.Work, tasks []task, reach Reach) [][]task {
	height := reach.Height
	if !holemap.Upright(work.Site.Faces[tasks[0].Face]) {
		height = reach.Width
	}
	boxes := make([]plane.Rect, len(tasks))
	for i, t := range tasks {
		boxes[i] = t.box
	}
	var out [][]task
	for _, window := range cover(boxes, reach.Width, height) {
		group := make([]task, len(window))
		for i, n := range window {
			group[i] = tasks[n]
		}
		out = append(out, reached(work.Site, group, reach)...)
	}
	return out
}

// A base is where one stands.
type base struct {
	place  Place
	foot   Foot
	over   []Obstacle
	access Access
}

// from returns where one stands to reach what is within a box on a face, up to so high above the plan's 0.
func (r Reach) from(site wall.Site, face int, box plane.Rect, high float64) base {
	b := base{place: placeOf(site, face, box)}
	b.foot = footOf(site, b.place)
	b.over = inTheWay(site, face, box, b.place, b.foot)
	b.access = r.access(hundredth(high-b.foot.Height+lean(site, face, box, b.over)), overhead(site.Faces[face]), b.foot.Steps)
	if b.access == Ladder && slices.ContainsFunc(b.over, func(o Obstacle) bool { return o.Fixed }) {
		b.access = Platform
	}
	return b
}

// reached divides a group in two, along the face, until each part is reached from one place: on a stair
// the floor in the middle is lower than under the upper end, from where alone that could be reached, and
// higher than what is drilled at the lower end.
func reached(site wall.Site, group []task, reach Reach) [][]task {
	if len(group) == 1 {
		return [][]task{group}
	}
	box, low, high := extent(group)
	at := reach.from(site, group[0].Face, box, high)
	rank := Accesses()
	if slices.Index(rank, at.access) >= slices.Index(rank, group[0].access) && low >= at.foot.Height {
		return [][]task{group}
	}
	var left, right []task
	for _, t := range group {
		if t.box.Centre().X < box.Centre().X {
			left = append(left, t)
		} else {
			right = append(right, t)
		}
	}
	if len(left) == 0 || len(right) == 0 {
		left, right = group[:len(group)/2], group[len(group)/2:]
	}
	return append(reached(site, left, reach), reached(site, right, reach)...)
}

// extent returns what the holes of tasks take up on their face, and how low and high they are.
func extent(tasks []task) (box plane.Rect, low, high float64) {
	box, low, high = tasks[0].box, tasks[0].low, tasks[0].high
	for _, t := range tasks[1:] {
		box, low, high = box.Union(t.box), math.Min(low, t.low), math.Max(high, t.high)
	}
	return box, low, high
}

// standOf returns the stand of pieces that are ordered by ID.
func standOf(work holemap.Work, tasks []task, reach Reach) Stand {
	s := Stand{Face: tasks[0].Face, Overhead: overhead(work.Site.Faces[tasks[0].Face])}
	s.Bounds, s.Low, s.High = extent(tasks)
	at := reach.from(work.Site, s.Face, s.Bounds, s.High)
	s.Place, s.Foot, s.Over, s.Access = at.place, at.foot, at.over, at.access
	kinds := make([]int, len(work.Kinds))
	fixings := map[string]int{}
	bits := map[[2]float64]int{}
	for _, t := range tasks {
		s.Pieces = append(s.Pieces, t.ID)
		s.Holes += len(t.holes)
		kinds[t.Kind]++
		for _, h := range t.holes {
			fixings[h.Fixing]++
			bits[[2]float64{h.Bit, h.Depth}]++
		}
	}
	for k, n := range kinds {
		if n > 0 {
			s.Carry = append(s.Carry, Carry{k, n})
		}
	}
	for name, n := range fixings {
		s.Fixings = append(s.Fixings, Fixing{name, n})
	}
	slices.SortFunc(s.Fixings, func(a, b Fixing) int { return cmp.Compare(a.Name, b.Name) })
	for b, n := range bits {
		s.Bits = append(s.Bits, Bit{b[0], b[1], n})
	}
	slices.SortFunc(s.Bits, func(a, b Bit) int {
		return cmp.Or(cmp.Compare(a.Diameter, b.Diameter), cmp.Compare(a.Depth, b.Depth))
	})
	if s.Access != Floor {
		s.Doors = doorsAt(work.Site, s.Place)
	}
	return s
}

// wait finds the pieces that lie over one of a later stand: of two that overlap the one that stands
// out more is hung over the other, and of two that stand out alike the later.
func wait(work holemap.Work, stands []Stand) {
	of := Of(stands)
	until := map[int]int{}
	pieces := work.Layout.Pieces
	for _, pair := range scatter.TooNear(work.Site, work.Kinds, pieces, scatter.Distances{}) {
		under, over := pieces[pair.A], pieces[pair.B]
		a, b := work.Kinds[under.Kind].StandOff, work.Kinds[over.Kind].StandOff
		if a > b || a == b && under.ID > over.ID {
			under, over = over, under
		}
		if of[under.ID] > of[over.ID] {
			until[over.ID] = max(until[over.ID], of[under.ID])
		}
	}
	for i := range stands {
		for _, id := range stands[i].Pieces {
			if n, waits := until[id]; waits {
				stands[i].Waits = append(stands[i].Waits, Wait{id, n})
			}
		}
	}
}
