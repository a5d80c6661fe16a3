package stand

import (
	"cmp"
	"slices"

	"wallshoal/wall/plane"
)

// cover divides boxes into groups that each lie within some window of the given width and height, in
// few groups. A box that is larger than the window is a group of its own. Each group lists its boxes
// in rising order.
//
// It lays windows in strips, once in rows and once in columns, and returns whichever takes fewer, of
// as many the rows: the strip method of D. S. Hochbaum and W. Maass, "Approximation schemes for
// covering and packing problems in image processing and VLSI", Journal of the ACM 32 (1985), without
// its shifts. A strip begins at the outermost box that is left, and within it each window begins at
// the leftmost box that is left, which takes the fewest windows that a strip can have: some window
// has to hold that box, and none that does reaches farther right.
//
// Where boxes are at most a third of the window high, strips that a window of the best cover meets
// begin at least two thirds of it apart and within twice its height, so there are at most three, and
// the groups at most three times the fewest. Where one strip holds all boxes they are the fewest.
func cover(boxes []plane.Rect, width, height float64) [][]int {
	all := make([]int, len(boxes))
	for i := range all {
		all[i] = i
	}
	down := func(i int) span { return span{-boxes[i].Max.Y, -boxes[i].Min.Y} }
	along := func(i int) span { return span{boxes[i].Min.X, boxes[i].Max.X} }
	var rows, columns [][]int
	for _, strip := range runs(all, down, height) {
		rows = append(rows, runs(strip, along, width)...)
	}
	for _, strip := range runs(all, along, width) {
		columns = append(columns, runs(strip, down, height)...)
	}
	best := rows
	if len(columns) < len(rows) {
		best = columns
	}
	for _, group := range best {
		slices.Sort(group)
	}
	return best
}

// A span is what a box takes up in one direction.
type span struct{ from, to float64 }

// runs divides what has the spans into groups that are at most so long, each of which begins where the
// first begins of what is left. One that is longer is a group of its own.
func runs(all []int, of func(int) span, length float64) [][]int {
	left := slices.SortedFunc(slices.Values(all), func(a, b int) int {
		return cmp.Or(cmp.Compare(of(a).from, of(b).from), cmp.Compare(of(a).to, of(b).to), cmp.Compare(a, b))
	})
	var out [][]int
	for len(left) > 0 {
		first := of(left[0])
		group, rest := []int{left[0]}, []int(nil)
		for _, i := range left[1:] {
			if first.to-first.from <= length && of(i).to-first.from <= length {
				group = append(group, i)
			} else {
				rest = append(rest, i)
			}
		}
		out, left = append(out, group), rest
	}
	return out
}
