package scatter

import (
	"fmt"

	"wallshoal/scatter/apportion"
	"wallshoal/wall"
)

// Quotas returns how many pieces of each kind make up count. Kinds with a count get it; what is
// left goes to the kinds with a share by largest remainders (the method of Hamilton), an equal
// remainder to the kind that comes first. The error is a wall.Problem where the counts pass count,
// or fall short of it with no share to make up the rest.
func Quotas(kinds []Kind, count int) ([]int, error) {
	quotas := make([]int, len(kinds))
	shares := make([]float64, len(kinds))
	left, shared := count, false
	for i, k := range kinds {
		quotas[i] = k.Count
		left -= k.Count
		if k.Count == 0 && k.Share > 0 {
			shares[i], shared = k.Share, true
		}
	}
	switch {
	case left < 0:
		return nil, wall.Problem{
			Field: "composition.count",
			Wrong: fmt.Sprintf("%d is fewer than the %d that the kinds' counts come to", count, count-left),
			Fix:   "raise it, or lower the counts",
		}
	case left > 0 && !shared:
		return nil, wall.Problem{
			Field: "composition.count",
			Wrong: fmt.Sprintf("%d is more than the %d that the kinds' counts come to", count, count-left),
			Fix:   "lower it, raise the counts, or give a kind a share in place of its count",
		}
	}
	for i, n := range apportion.LargestRemainders(left, shares) {
		quotas[i] += n
	}
	return quotas, nil
}
