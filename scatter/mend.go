package scatter

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"wallshoal/scatter/poisson"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/space"
)

// Mend makes of a layout one that is as the plan asks, with as few pieces moved as it can: each whose place is still allowed stays
// to the last bit, and of two that have come to be too near to one another one does. Those with IDs in fixed stay whatever is
// said of them. The others are laid anew round what stays, under the numbers that they had. Where that leaves no room for all, the
// neighbours of those that go are laid anew with them: first a few, and then ever more.
//
// The pieces must have kinds and faces. The errors are those of LayFrom.
func Mend(ctx context.Context, site wall.Site, kinds []Kind, comp Composition, pieces []Piece, fixed map[int]bool, seed uint64,
	progress func(done, total int)) (Layout, error) {
	kept, err := staying(ctx, site, kinds, comp, pieces, fixed)
	if err != nil {
		return Layout{}, err
	}
	leaving := order(site, pieces, kept, fixed)
	for more := leastLoosened; ; more *= 3 {
		layout, err := LayFrom(ctx, site, kinds, comp, Start{Kept: kept}, seed, progress)
		if short := (*ShortfallError)(nil); !errors.As(err, &short) || len(leaving) == 0 {
			return layout, err
		}
		n := min(more, len(leaving))
		kept = without(kept, leaving[:n])
		leaving = leaving[n:]
	}
}

// leastLoosened is how many neighbours are laid anew at first where there is no room for those alone that must be.
const leastLoosened = 8

// staying returns the pieces that stay where they are.
func staying(ctx context.Context, site wall.Site, kinds []Kind, comp Composition, pieces []Piece, fixed map[int]bool) ([]Piece, error) {
	g, err := newGround(ctx, site, kinds, Composition{}, nil)
	if err != nil {
		return nil, err
	}
	i := inspector{ground: g, site: site, kinds: kinds, units: measure.Millimetre, charts: map[int]int{}}
	for chart, face := range g.faces {
		i.charts[face] = chart
	}
	var kept []Piece
	for _, p := range pieces {
		before := len(i.found)
		if i.piece(p); fixed[p.ID] || len(i.found) == before {
			kept = append(kept, p)
		}
	}
	for { // TooNear looks for so many pairs and no more
		out := crowding(TooNear(site, kinds, kept, comp.Distances()), kept, fixed)
		if len(out) == 0 {
			break
		}
		kept = without(kept, out)
	}
	over, err := surplus(kinds, comp, kept, fixed)
	return without(kept, over), err
}

// crowding returns the IDs of pieces to take out of pairs that are too near to one another, until no pair is left but those of which both
// are fixed: first what is too near to one that is fixed, then each time the one that is in most of the pairs, and of equals the
// one with the highest number.
func crowding(pairs []Pair, pieces []Piece, fixed map[int]bool) []int {
	near := make([][]int, len(pieces)) // by index, those that each is too near to
	in := make([]int, len(pieces))     // how many of them are there still
	for _, pair := range pairs {
		for _, two := range [2][2]int{{pair.A, pair.B}, {pair.B, pair.A}} {
			a, b := two[0], two[1]
			near[a] = append(near[a], b)
			if in[a]++; fixed[pieces[b].ID] {
				in[a] += len(pairs) // it goes in any case
			}
		}
	}
	for i, p := range pieces {
		if fixed[p.ID] {
			in[i] = 0
		}
	}
	var out []int
	for {
		worst := -1
		for i, n := range in {
			if n > 0 && (worst < 0 || n > in[worst] || n == in[worst] && pieces[i].ID > pieces[worst].ID) {
				worst = i
			}
		}
		if worst < 0 {
			return out
		}
		out = append(out, pieces[worst].ID)
		in[worst] = 0
		for _, other := range near[worst] {
			in[other] = max(0, in[other]-1)
		}
	}
}

// surplus returns the IDs of pieces that are more than their kinds are to have, spread over the numbers. The error is a wall.Problem
// where those that are fixed are too many.
func surplus(kinds []Kind, comp Composition, pieces []Piece, fixed map[int]bool) ([]int, error) {
	loose := make([][]int, len(kinds))
	have := make([]int, len(kinds))
	var firm []Piece
	for _, p := range pieces {
		have[p.Kind]++
		if fixed[p.ID] {
			firm = append(firm, p)
		} else {
			loose[p.Kind] = append(loose[p.Kind], p.ID)
		}
	}
	quotas, err := quotasWith(kinds, comp.Count, firm)
	if err != nil {
		return nil, err
	}
	var out []int
	for kind, n := range have {
		over := min(n-quotas[kind], len(loose[kind]))
		for i := range max(over, 0) {
			out = append(out, loose[kind][(2*i+1)*len(loose[kind])/(2*over)])
		}
	}
	return out, nil
}

// order returns the IDs of the pieces that stay and are not fixed, those first that are nearest to one that does not stay.
func order(site wall.Site, pieces, kept []Piece, fixed map[int]bool) []int {
	stays := map[int]bool{}
	for _, p := range kept {
		stays[p.ID] = true
	}
	at := func(p Piece) space.Vec { return site.Faces[p.Face].Frame.At(p.At) }
	var gone []space.Vec
	for _, p := range pieces {
		if !stays[p.ID] {
			gone = append(gone, at(p))
		}
	}
	type far struct {
		id int
		mm float64
	}
	var all []far
	for _, p := range kept {
		if fixed[p.ID] {
			continue
		}
		f := far{p.ID, math.Inf(1)}
		for _, g := range gone {
			f.mm = math.Min(f.mm, math.Round(at(p).Sub(g).Len()*poisson.PerMM)/poisson.PerMM)
		}
		all = append(all, f)
	}
	slices.SortFunc(all, func(a, b far) int { return cmp.Or(cmp.Compare(a.mm, b.mm), cmp.Compare(a.id, b.id)) })
	ids := make([]int, len(all))
	for i, f := range all {
		ids[i] = f.id
	}
	return ids
}

// without returns the pieces less those with the IDs.
func without(pieces []Piece, ids []int) []Piece {
	gone := make(map[int]bool, len(ids))
	for _, id := range ids {
		gone[id] = true
	}
	return slices.DeleteFunc(slices.Clone(pieces), func(p Piece) bool { return gone[p.ID] })
}
