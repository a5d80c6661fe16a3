package tiling

import (
	"cmp"
	"math"
	"slices"
)

// SeamAir is how far holes keep from a seam where that can be had, mm.
const SeamAir = 8.0

// A placed is a hole along one axis of a face.
type placed struct {
	at     float64 // how far along, mm
	across float64 // how far along the other axis, mm
	reach  float64 // of its mark, mm
}

// An axis is one way in which a face is cut into bands: rows from the top downwards, measured
// downwards, or the sheets of a row from left to right.
type axis struct {
	from  float64 // where the face begins, mm
	foot  float64 // what has to be added to a place for the units to show it, mm
	step  float64 // a band starts at a multiple of it, mm
	pitch float64 // the most that a band is wide, mm
	least float64 // the least that it is wide where the next one lands on it, mm
	apart float64 // how far the paper of a band reaches from its start, mm
	lip   float64 // how far paper can be drawn on before the start of a band, mm
	thin  bool    // of candidates near one another one will do, however few there are
}

// A toll is what a way of cutting costs: marks that have no room on one of the sheets, then sheets,
// then holes near seams, then bands.
type toll int64

const (
	tollBand  toll = 1
	tollNear  toll = 1 << 20
	tollCut   toll = 3 << 20 // a mark that the cut has to go round, beside its being near
	tollSheet toll = 1 << 43
	tollLost  toll = 2 << 43
	tollMost  toll = math.MaxInt64
)

// Speck is so small a part of a step that rounding adds no step more.
const Speck = 1e-6

// down returns the last multiple of the step at or before x, and up the first at or after it.
func (a axis) down(x float64) float64 {
	return math.Floor((x+a.foot)/a.step+Speck)*a.step - a.foot
}

func (a axis) up(x float64) float64 {
	return math.Ceil((x+a.foot)/a.step-Speck)*a.step - a.foot
}

// candidates returns, in order, where a band may start: at the edge of the face, and so far before and
// after every hole that it is not near, or that its mark is not cut; also so far before it that the
// band before need not end where paper still reaches. Holes are in order along the axis.
func (a axis) candidates(holes []placed) []float64 {
	edge := a.down(a.from)
	out := []float64{edge}
	for _, h := range holes {
		out = append(out, a.down(h.at-SeamAir), a.up(h.at+SeamAir), a.down(h.at-h.reach), a.up(h.at+h.reach),
			a.down(h.at-SeamAir-(a.apart-a.pitch)-a.step))
	}
	slices.Sort(out)
	last := holes[len(holes)-1].at
	out = slices.CompactFunc(out, func(p, q float64) bool { return math.Abs(q-p) < a.step/2 })
	out = slices.DeleteFunc(out, func(s float64) bool { return s > last || s < edge })
	const few = 500
	if !a.thin && len(out) <= few {
		return out
	}
	// Of those near one another the cheapest stays, and of equals the last; the first in any case.
	const parts = 96
	var kept []float64
	var tolls []toll
	bucket := math.Inf(-1)
	for _, s := range out {
		b, t := math.Floor((s-a.from)/(a.pitch/parts)), a.near(s, firstFrom(holes, s), holes)
		if n := len(kept) - 1; n > 0 && b == bucket && (s <= holes[0].at || kept[n] > holes[0].at) {
			if t <= tolls[n] {
				kept[n], tolls[n] = s, t
			}
			continue
		}
		kept, tolls, bucket = append(kept, s), append(tolls, t), b
	}
	return kept
}

// firstFrom returns the index of the first hole at or after s.
func firstFrom(holes []placed, s float64) int {
	i, _ := slices.BinarySearchFunc(holes, s, func(h placed, s float64) int { return cmp.Compare(h.at, s) })
	return i
}

// starts returns where bands start so that every hole lies in one, at the least toll; none where that
// cannot be had. Holes are in order along the axis. From every candidate, the last first, each start of
// the next band is tried within the reach of a sheet; of two that cost the same the earlier one is taken.
func (a axis) starts(holes []placed) []float64 {
	at := a.candidates(holes)
	if one, does := a.oneBand(at, holes); does {
		return []float64{one}
	}
	best, next := make([]toll, len(at)), make([]int, len(at))
	for i := len(at) - 1; i >= 0; i-- {
		best[i], next[i] = a.onwards(i, at, holes, best)
	}
	start := -1
	for i, s := range at {
		if s <= holes[0].at && best[i] < tollMost && (start < 0 || best[i] < best[start]) {
			start = i
		}
	}
	var out []float64
	for i := start; i >= 0 && i < len(at); i = next[i] {
		out = append(out, at[i])
	}
	return out
}

// oneBand returns where a band starts that holds all holes, and whether there is one.
func (a axis) oneBand(at []float64, holes []placed) (start float64, found bool) {
	least := tollMost
	for _, s := range at {
		if s > holes[0].at || holes[len(holes)-1].at >= s+a.pitch {
			continue
		}
		if t := a.near(s, firstFrom(holes, s), holes); t < least {
			start, least, found = s, t, true
		}
	}
	return start, found
}

// onwards returns the least toll of the bands from candidate i on, and which candidate starts the
// next; one past the last where there is none.
func (a axis) onwards(i int, at []float64, holes []placed, best []toll) (toll, int) {
	s := at[i]
	k := firstFrom(holes, s)
	own := tollBand + a.near(s, k, holes)
	least, to, paid := tollMost, len(at), toll(0)
	for t := i + 1; t <= len(at); t++ {
		for ; k < len(holes) && (t == len(at) || holes[k].at < at[t]); k++ {
			if holes[k].at >= s+a.pitch {
				return plus(least, own), to
			}
			paid = tollSheet
		}
		sum := paid
		if t < len(at) {
			if best[t] == tollMost || sum+best[t] >= least || !a.follows(s, at[t]) {
				continue
			}
			sum += best[t]
		}
		if sum < least {
			least, to = sum, t
		}
	}
	return plus(least, own), to
}

// plus adds to a toll, unless it is one that cannot be paid.
func plus(t, more toll) toll {
	if t == tollMost {
		return t
	}
	return t + more
}

// near returns the toll for holes near a seam; k is the first hole at or after it.
func (a axis) near(s float64, k int, holes []placed) toll {
	sum := toll(0)
	for way, i := 1, k; way >= -1; way, i = way-2, k-1 {
		for ; i >= 0 && i < len(holes); i += way {
			far, reach := math.Abs(holes[i].at-s), holes[i].reach
			if far >= mostReach {
				break
			}
			if far < SeamAir-Speck {
				sum += tollNear
			}
			if far < reach-Speck {
				sum += tollCut
			}
			if far < reach-Speck && reach-float64(way)*far+TabRim > a.lip+Speck {
				sum += tollLost
			}
		}
	}
	return sum
}

// mostReach is how far the mark of any hole reaches that seams keep from, mm.
const mostReach = 30.0

// follows reports whether a band may start at t after one that starts at s: not where paper still
// reaches that is no longer its own.
func (a axis) follows(s, t float64) bool {
	wide := t - s
	return wide >= a.least && (wide <= a.pitch+a.step/2 || wide > a.apart)
}

// leastBands returns how many bands places in order take at least.
func (a axis) leastBands(xs []float64) int {
	n, end := 0, math.Inf(-1)
	for _, x := range xs {
		if x >= end {
			n, end = n+1, a.down(x)+a.pitch
		}
	}
	return n
}

// bandOf returns the band that a place lies in, by the starts of the bands; -1 before the first.
func bandOf(starts []float64, at float64) int {
	i, found := slices.BinarySearch(starts, at)
	if !found {
		i--
	}
	return i
}
