package mixing

import (
	"math/rand/v2"
	"slices"

	"wallshoal/scatter/neighbour"
)

// A search lowers what a deal of kinds costs by swapping them between two pieces at a time.
type search struct {
	graph neighbour.Graph
	now   []int   // kind of each piece
	kinds int     // how many there are
	pair  []int32 // what two kinds cost side by side, as affinities returns it
	cost  []int32 // at [i*kinds+k], what i would cost as a k, its neighbours being what they are
	swap  func(i, j int) bool
	asked int     // calls of swap that are left
	doubt []uint8 // at [i*kinds+k], how often i as a k was of a pair that did not fit, since it last did
	rng   *rand.Rand
}

// Bounds on the search. Each round goes over all pieces.
const (
	greedy   = 8  // rounds in which a piece is swapped with the best of those compared
	compared = 32 // pieces, in such a round
	tried    = 3  // of them, where swaps are refused
	loose    = 20 // rounds in which it is swapped with the first that will do
	glanced  = 12 // pieces, in such a round
	calls    = 8  // of swap for every piece, all told
	spared   = 2  // of them, for the last greedy rounds
	doubts   = 5  // refusals after which a piece is not tried as that kind again
)

// newSearch returns a search from now on; place, which may be nil, is what a piece costs as a kind
// wherever its neighbours are. It keeps now and place.
func newSearch(g neighbour.Graph, now []int, pair, place []int32, kinds int, swap func(i, j int) bool, rng *rand.Rand) *search {
	s := &search{graph: g, now: now, kinds: kinds, pair: pair, cost: place, swap: swap, asked: calls * len(now), rng: rng}
	s.doubt = make([]uint8, len(now)*kinds)
	if place == nil {
		s.cost = make([]int32, len(now)*kinds)
	}
	for i, near := range g {
		for _, j := range near {
			s.count(i, now[j], 1)
		}
	}
	return s
}

// count adds to what i costs n neighbours of a kind.
func (s *search) count(i, kind int, n int32) {
	row := s.cost[i*s.kinds : (i+1)*s.kinds]
	for k, c := range s.pair[kind*s.kinds : (kind+1)*s.kinds] {
		row[k] += n * c
	}
}

// gain returns how much less all costs once i and j have changed kinds.
func (s *search) gain(i, j int) int32 {
	k, l := s.now[i], s.now[j]
	a, b := s.cost[i*s.kinds:], s.cost[j*s.kinds:]
	gain := a[k] - a[l] + b[l] - b[k]
	if _, beside := slices.BinarySearch(s.graph[i], int32(j)); beside {
		// Each was reckoned beside what the other is then no longer.
		gain += s.pair[k*s.kinds+k] + s.pair[l*s.kinds+l] - 2*s.pair[k*s.kinds+l]
	}
	return gain
}

// doubtful reports whether i and j are not worth trying: one of them has not fitted so often.
func (s *search) doubtful(i, j int) bool {
	return s.doubt[i*s.kinds+s.now[j]] >= doubts || s.doubt[j*s.kinds+s.now[i]] >= doubts
}

// try swaps i and j where both fit, and reports whether it did.
func (s *search) try(i, j int) bool {
	s.asked--
	k, l := s.now[i], s.now[j]
	a, b := &s.doubt[i*s.kinds+l], &s.doubt[j*s.kinds+k]
	if !s.swap(i, j) {
		*a, *b = *a+1, *b+1
		return false
	}
	*a, *b = 0, 0
	s.now[i], s.now[j] = l, k
	for _, near := range s.graph[i] {
		s.count(int(near), k, -1)
		s.count(int(near), l, 1)
	}
	for _, near := range s.graph[j] {
		s.count(int(near), l, -1)
		s.count(int(near), k, 1)
	}
	return true
}

// run makes swaps, and returns how many; none makes the sum worse. First pieces look for their best
// partners. Then swaps that change nothing in sum are made as well: they carry what is left to
// where it may be solved.
func (s *search) run() int {
	order := make([]int, len(s.now))
	for i := range order {
		order[i] = i
	}
	made := s.improve(order)
	for range loose {
		moved := s.loosen(order)
		if made += moved; moved == 0 {
			break
		}
	}
	return made + s.improve(order)
}

func (s *search) shuffle(order []int) {
	s.rng.Shuffle(len(order), func(a, b int) { order[a], order[b] = order[b], order[a] })
}

// improve goes over the pieces until none finds a swap that gains, and returns how many were made.
func (s *search) improve(order []int) int {
	made := 0
	for range greedy {
		s.shuffle(order)
		moved := 0
		for _, i := range order {
			if row := s.cost[i*s.kinds : (i+1)*s.kinds]; row[s.now[i]] > slices.Min(row) && s.pairUp(i) {
				moved++
			}
		}
		made += moved
		if moved == 0 {
			break
		}
	}
	return made
}

// A partner is another piece to swap with and what is gained by it.
type partner struct {
	index int
	gain  int32
}

// pairUp swaps i with the best partner among some chosen by chance that gains and fits.
func (s *search) pairUp(i int) bool {
	var room [tried + 1]partner
	best := room[:0]
	for range compared {
		j := s.rng.IntN(len(s.now))
		if s.now[j] == s.now[i] {
			continue
		}
		p := partner{j, s.gain(i, j)}
		if p.gain <= 0 || s.doubtful(i, j) {
			continue
		}
		at := len(best)
		for at > 0 && best[at-1].gain < p.gain {
			at--
		}
		best = slices.Insert(best, at, p)
		best = best[:min(len(best), tried)]
	}
	for _, p := range best {
		if s.asked > 0 && s.try(i, p.index) {
			return true
		}
	}
	return false
}

// loosen lets every piece that costs anything swap with the first of some others by which nothing is
// lost, and returns how many did.
func (s *search) loosen(order []int) int {
	s.shuffle(order)
	made := 0
	for _, i := range order {
		if s.cost[i*s.kinds+s.now[i]] == 0 {
			continue
		}
		if s.asked <= spared*len(order) {
			break
		}
		for range glanced {
			j := s.rng.IntN(len(s.now))
			if s.now[i] == s.now[j] || s.gain(i, j) < 0 || s.doubtful(i, j) {
				continue
			}
			if s.try(i, j) {
				made++
			}
			break
		}
	}
	return made
}
