package mixing

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"wallshoal/scatter/neighbour"
)

// Deal proposes a kind for every place, each as often as its quota says. The quotas come to the
// number of places; g says who is whose neighbour, and progress is as with NewWish, by place.
func (w *Wish) Deal(g neighbour.Graph, places []neighbour.Place, progress []float64, rng *rand.Rand) []int {
	cards := make([][]int, len(w.quotas)) // kinds by species
	for k, kind := range w.kinds {
		for range kind.Quota {
			cards[w.of[k]] = append(cards[w.of[k]], k)
		}
	}
	for _, c := range cards {
		rng.Shuffle(len(c), func(i, j int) { c[i], c[j] = c[j], c[i] })
	}
	costs := w.placeCosts(places, progress, w.quotas)
	now := make([]int, len(places))
	for _, i := range w.inTurn(len(places), costs, rng) {
		s := w.cheapest(i, costs, cards, rng)
		now[i] = cards[s][0]
		cards[s] = cards[s][1:]
	}
	newSearch(g, now, w.affinities(), costs, len(w.kinds), func(int, int) bool { return true }, rng).run()
	return now
}

// Mix improves what stands by swaps, and returns how many it made. The kind of every piece is given
// in now, and Mix keeps its own account of it. It calls swap(i, j) for the caller to exchange the
// kinds of the pieces i and j; swap reports whether it did, and changes nothing where either does
// not fit. It is called at most eight times as often as there are pieces.
//
// The same arguments, and the same answers of swap, give the same swaps. None of them raises the sum
// of what neighbours have in common and of how far pieces are from where they belong. Scattered, six
// and more kinds of about the same number end with no equals side by side, or next to none; with four
// about one pair of neighbours in a hundred is left, with three one in twelve, and with two one
// in three, which is the least there can be where all is triangles. Families of two kinds run
// together for the same reason.
func (w *Wish) Mix(g neighbour.Graph, places []neighbour.Place, progress []float64, now []int,
	swap func(i, j int) bool, rng *rand.Rand) int {
	if len(now) < 2 || len(w.kinds) < 2 {
		return 0
	}
	counts := make([]int, len(w.quotas))
	for _, k := range now {
		counts[w.of[k]]++
	}
	costs := w.placeCosts(places, progress, counts)
	return newSearch(g, slices.Clone(now), w.affinities(), costs, len(w.kinds), swap, rng).run()
}

// affinities returns what two kinds cost side by side. Equals are only kept apart where nothing else
// is wished of them.
func (w *Wish) affinities() []int32 {
	if w.way == Drifting || w.way == Families {
		return affinities(w.kinds, 0)
	}
	return affinities(w.kinds, sameOf)
}

// inTurn returns the pieces in the order in which kinds are dealt to them: those first to whom it
// makes the greatest difference.
func (w *Wish) inTurn(n int, costs []int32, rng *rand.Rand) []int {
	order := rng.Perm(n)
	if costs == nil {
		return order
	}
	stakes := make([]int32, n)
	for i := range stakes {
		least, second := int32(worst+1), int32(worst+1)
		for k := range w.kinds {
			c := costs[i*len(w.kinds)+k]
			if c < least {
				least, second = c, least
			} else if c > least {
				second = min(second, c)
			}
		}
		stakes[i] = second - least
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(stakes[b], stakes[a]) })
	return order
}

// cheapest returns the species with cards left that costs i least; where that is open, any of those
// by the number of their cards.
func (w *Wish) cheapest(i int, costs []int32, cards [][]int, rng *rand.Rand) int {
	least := int32(worst + 1)
	cost := make([]int32, len(cards))
	for k, s := range w.of {
		if len(cards[s]) == 0 {
			continue
		}
		if costs != nil {
			cost[s] = costs[i*len(w.of)+k]
		}
		least = min(least, cost[s])
	}
	open := 0
	for s := range cards {
		if len(cards[s]) > 0 && cost[s] == least {
			open += len(cards[s])
		}
	}
	lot := rng.IntN(open)
	for s := range cards {
		if len(cards[s]) > 0 && cost[s] == least {
			if lot -= len(cards[s]); lot < 0 {
				return s
			}
		}
	}
	return 0
}
