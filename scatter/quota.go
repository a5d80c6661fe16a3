package scatter

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/wall"
)

// Quotas returns how many pieces of each kind make up count. Kinds with a count get it; what is
// left goes to the kinds with a share by largest remainders (the method of Hamilton), an equal
// remainder to the kind that comes first. The error is a wall.Problem where the counts pass count,
// or fall short of it with no share to make up the rest.
func Quotas(kinds []Kind, count int) ([]int, error) {
	quotas := make([]int, len(kinds))
	left, shares := count, 0.0
	for i, k := range kinds {
		quotas[i] = k.Count
		left -= k.Count
		if k.Count == 0 {
			shares += k.Share
		}
	}
	switch {
	case left < 0:
		return nil, wall.Problem{
			Field: "composition.count",
			Wrong: fmt.Sprintf("%d is fewer than the %d that the kinds' counts come to", count, count-left),
			Fix:   "raise it, or lower the counts",
		}
	case left > 0 && shares == 0:
		return nil, wall.Problem{
			Field: "composition.count",
			Wrong: fmt.Sprintf("%d is more than the %d that the kinds' counts come to", count, count-left),
			Fix:   "lower it, raise the counts, or give a kind a share in place of its count",
		}
	case left == 0:
		return quotas, nil
	}
	type remainder struct {
		kind int
		part float64
	}
	var rest []remainder
	whole := left
	for i, k := range kinds {
		if k.Count > 0 || k.Share <= 0 {
			continue
		}
		exact := float64(whole) * k.Share / shares
		quotas[i] = int(math.Floor(exact))
		left -= quotas[i]
		rest = append(rest, remainder{i, exact - math.Floor(exact)})
	}
	slices.SortStableFunc(rest, func(a, b remainder) int {
		switch {
		case a.part > b.part:
			return -1
		case a.part < b.part:
			return 1
		}
		return 0
	})
	for i := range left {
		quotas[rest[i%len(rest)].kind]++
	}
	return quotas, nil
}
