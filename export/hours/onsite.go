package hours

import "slices"

// OnSite returns the index of the first operation that is done at the walls: one that is counted by sheet of
// the hole map or by area of wall, and where there is none, by hole; for what there is one of for every hole
// can be made in the workshop too. What follows it is done there as well. Where there is none at all it is
// the number of operations.
func OnSite(all []Operation) int {
	for _, at := range [][]Per{{Sheet, SquareMetre, SquareFoot}, {Hole}} {
		if i := slices.IndexFunc(all, func(o Operation) bool { return slices.Contains(at, o.Per) }); i >= 0 {
			return i
		}
	}
	return len(all)
}
