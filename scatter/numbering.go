package scatter

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"wallshoal/wall"
)

// column is the width of the strips of a face in which pieces are numbered, top to bottom, in mm:
// about what one reaches from one place of a ladder (common practice).
const column = 600

// numbered returns the fresh pieces, with IDs in hanging order that none of the kept has, and the
// kept, ordered by ID. Of two fresh pieces that overlap the one that stands out more comes later,
// so that it is hung, and drawn, over the other.
func numbered(site wall.Site, kinds []Kind, fresh, kept []Piece, overlap bool) []Piece {
	slices.SortFunc(fresh, func(a, b Piece) int {
		return cmp.Or(
			cmp.Compare(a.Face, b.Face),
			cmp.Compare(math.Floor(a.At.X/column), math.Floor(b.At.X/column)),
			cmp.Compare(b.At.Y, a.At.Y),
			cmp.Compare(a.At.X, b.At.X))
	})
	if overlap {
		fresh = lowerFirst(site, kinds, fresh)
	}
	taken := make(map[int]bool, len(kept))
	for _, p := range kept {
		taken[p.ID] = true
	}
	id := 0
	for i := range fresh {
		for id++; taken[id]; id++ {
		}
		fresh[i].ID = id
	}
	all := slices.Concat(fresh, kept)
	slices.SortFunc(all, func(a, b Piece) int { return cmp.Compare(a.ID, b.ID) })
	return all
}

// lowerFirst returns the pieces in their order, but so that of two that overlap the one that stands
// out less is first.
func lowerFirst(site wall.Site, kinds []Kind, pieces []Piece) []Piece {
	over := make([][]int, len(pieces)) // those that lie over each
	under := make([]int, len(pieces))  // how many it lies over
	for _, pair := range TooNear(site, kinds, pieces, Distances{}) {
		low, high := pair.A, pair.B
		if kinds[pieces[low].Kind].StandOff > kinds[pieces[high].Kind].StandOff {
			low, high = high, low
		}
		over[low] = append(over[low], high)
		under[high]++
	}
	var free queue
	for i, n := range under {
		if n == 0 {
			heap.Push(&free, i)
		}
	}
	out := make([]Piece, 0, len(pieces))
	for free.Len() > 0 {
		i := heap.Pop(&free).(int)
		out = append(out, pieces[i])
		for _, j := range over[i] {
			if under[j]--; under[j] == 0 {
				heap.Push(&free, j)
			}
		}
	}
	return out
}

// A queue is a heap with the least number on top.
type queue []int

func (q queue) Len() int           { return len(q) }
func (q queue) Less(i, j int) bool { return q[i] < q[j] }
func (q queue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }

// Push implements heap.Interface.
func (q *queue) Push(x any) { *q = append(*q, x.(int)) }

// Pop implements heap.Interface.
func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}
