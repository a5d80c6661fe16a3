package scatter

import (
	"fmt"

	"wallshoal/scatter/apportion"
	"wallshoal/wall"
)

// Quotas returns how many pieces of each kind make up count. Kinds with a count get it; what is
// left goes to the kinds with a share by largest remainders (the method of Hamilton), an equal
// remainder to the kind that comes first: to the forms and sizes of one piece together, and then
// among them, so that a piece has as many as it would have in one form and size. The error is a
// wall.Problem where the counts pass count, or fall short of it with no share to make up the rest.
func Quotas(kinds []Kind, count int) ([]int, error) {
	quotas := make([]int, len(kinds))
	left := count
	for i, k := range kinds {
		quotas[i] = k.Count
		left -= k.Count
	}
	pieces := sharing(kinds)
	switch {
	case left < 0:
		return nil, wall.Problem{
			Field: "composition.count",
			Wrong: fmt.Sprintf("%d is fewer than the %d that the kinds' counts come to", count, count-left),
			Fix:   "raise it, or lower the counts",
		}
	case left > 0 && len(pieces) == 0:
		return nil, wall.Problem{
			Field: "composition.count",
			Wrong: fmt.Sprintf("%d is more than the %d that the kinds' counts come to", count, count-left),
			Fix:   "lower it, raise the counts, or give a kind a share in place of its count",
		}
	}
	shares := make([]float64, len(pieces))
	for i, p := range pieces {
		for _, s := range p.shares {
			shares[i] += s
		}
	}
	for i, n := range apportion.LargestRemainders(left, shares) {
		for j, m := range apportion.LargestRemainders(n, pieces[i].shares) {
			quotas[pieces[i].kinds[j]] = m
		}
	}
	return quotas, nil
}

// A sharer is the kinds with a share that are forms and sizes of one piece.
type sharer struct {
	kinds  []int
	shares []float64
}

// sharing returns the kinds with a share, piece by piece.
func sharing(kinds []Kind) []sharer {
	var pieces []sharer
	known := map[string]int{}
	for i, k := range kinds {
		if k.Count > 0 || !(k.Share > 0) {
			continue
		}
		at, found := known[k.Of]
		if !found || k.Of == "" {
			at = len(pieces)
			known[k.Of] = at
			pieces = append(pieces, sharer{})
		}
		pieces[at].kinds = append(pieces[at].kinds, i)
		pieces[at].shares = append(pieces[at].shares, k.Share)
	}
	return pieces
}

// quotasWith is Quotas where some pieces stand already. Kinds with a share of which more stand than
// their part keep them, and the others share what is left. The error is a wall.Problem where more
// stand than are asked for in all, or than a kind's count.
func quotasWith(kinds []Kind, count int, kept []Piece) ([]int, error) {
	quotas, err := Quotas(kinds, count)
	if err != nil {
		return nil, err
	}
	have := make([]int, len(kinds))
	for _, p := range kept {
		have[p.Kind]++
	}
	if len(kept) > count {
		return nil, wall.Problem{
			Field: "composition.count",
			Wrong: fmt.Sprintf("%d is fewer than the %d pieces that are to stay", count, len(kept)),
			Fix:   "raise it, or let go of some of them",
		}
	}
	shares := make([]float64, len(kinds))
	left, more := count, false
	for i, k := range kinds {
		more = more || have[i] > quotas[i]
		switch {
		case k.Count > 0 && have[i] > k.Count:
			return nil, wall.Problem{
				Field: fmt.Sprintf("pieces[%d].count", i),
				Wrong: fmt.Sprintf("%d is fewer than the %d of %s that are to stay", k.Count, have[i], k.Name),
				Fix:   "raise it, or let go of some of them",
			}
		case k.Count > 0:
			left -= k.Count
		case !(k.Share > 0): // none are to be, and those that stand are
			quotas[i] = have[i]
			left -= have[i]
		default:
			shares[i] = k.Share
		}
	}
	for more {
		more = false
		for i, n := range apportion.LargestRemainders(left, shares) {
			if shares[i] > 0 && n < have[i] {
				quotas[i], shares[i], more = have[i], 0, true
				left -= have[i]
			} else if shares[i] > 0 {
				quotas[i] = n
			}
		}
	}
	if left < 0 {
		return nil, wall.Problem{
			Field: "composition.count",
			Wrong: fmt.Sprintf("%d is fewer than the pieces that are to stay and the kinds' counts come to", count),
			Fix:   "raise it, lower the counts, or let go of some of the pieces",
		}
	}
	return quotas, nil
}
