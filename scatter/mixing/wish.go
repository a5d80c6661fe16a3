package mixing

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"sort"

	"wallshoal/scatter/neighbour"
)

// A Wish says which kinds belong where in a room. It does not change once it is made, and may be
// asked by several goroutines at once.
type Wish struct {
	kinds  []Kind
	way    Way
	of     []int     // by kind, what it is one of: a species, for short
	quotas []int     // by species
	grain  uint64    // of the blur, one for each wish
	sample []float64 // progress over the room, ascending
	ends   []float64 // by species, the share of the way at which it has given way to the next
	plots  plots
}

// NewWish returns what a scheme wishes of kinds with their quotas.
//
// The sample says what the room is like before pieces stand: places strewn over all that may be
// covered, as dense as the work is to be, some thousands of them or the pieces themselves. Progress
// is how far along the flow each of them is, in any unit; it is used for its order, with Drifting
// only, and may be nil otherwise. Decisions hang on it, so it is rounded by whoever works it out.
func NewWish(scheme Scheme, kinds []Kind, sample []neighbour.Place, progress []float64, rng *rand.Rand) *Wish {
	w := &Wish{kinds: kinds, way: scheme.Way, grain: rng.Uint64()}
	w.of, w.quotas = species(kinds)
	switch scheme.Way {
	case Drifting:
		w.sample = slices.Clone(progress)
		slices.Sort(w.sample)
		w.ends = ends(w.quotas)
	case Families:
		w.plots = layOut(scheme.Size, w.quotas, sample, rng)
	}
	return w
}

// ends returns where in [0, 1] each species ends when they follow one another by quota.
func ends(quotas []int) []float64 {
	total := 0
	for _, q := range quotas {
		total += q
	}
	out := make([]float64, len(quotas))
	sum := 0
	for s, q := range quotas {
		sum += q
		out[s] = float64(sum) / float64(max(total, 1))
	}
	return out
}

// Weights returns how much each kind belongs at a place that is so far along the flow: shares that
// sum to 1, by quota where the scheme is indifferent. They are put into the given slice where it
// is long enough. Whoever composes tries kinds there by these and by what the quotas lack.
func (w *Wish) Weights(at neighbour.Place, progress float64, into []float64) []float64 {
	into = slices.Grow(into[:0], len(w.kinds))[:len(w.kinds)]
	misfits := w.misfits(at, w.blurred(at, w.share(progress)), w.ends)
	var sum float64
	for k, kind := range w.kinds {
		into[k] = float64(kind.Quota)
		if misfits != nil {
			m := 1 + float64(sharpness*misfits[w.of[k]]*misfits[w.of[k]])
			into[k] /= float64(m * m)
		}
		sum += into[k]
	}
	for k := range into {
		into[k] /= math.Max(sum, math.SmallestNonzeroFloat64)
	}
	return into
}

// sharpness is how quickly a weight falls with the misfit: to a quarter at a fifth of a family's or
// an interval's width.
const sharpness = 25

// misfits returns by how many widths of a family or interval each species is away from a place with
// the share x of the way behind it; nil where the scheme is indifferent.
func (w *Wish) misfits(at neighbour.Place, x float64, ends []float64) []float64 {
	switch w.way {
	case Drifting:
		out := make([]float64, len(w.quotas))
		start := 0.0
		for s, end := range ends {
			out[s] = float64(max(start-x, x-end, 0) * float64(len(ends)))
			start = end
		}
		return out
	case Families:
		return w.plots.misfits(at, make([]float64, len(w.quotas)))
	}
	return nil
}

// share returns what part of the room lies behind so much progress.
func (w *Wish) share(progress float64) float64 {
	if len(w.sample) == 0 {
		return 0.5
	}
	below := sort.SearchFloat64s(w.sample, progress)
	upTo := below + sort.Search(len(w.sample)-below, func(i int) bool { return w.sample[below+i] > progress })
	return float64(below+upTo) / float64(2*len(w.sample))
}

// blurred returns the share x moved a little, always the same at one place, so that no line divides
// one species from the next: by a good half of the mean width of an interval at most, mostly less.
func (w *Wish) blurred(at neighbour.Place, x float64) float64 {
	if w.way != Drifting {
		return x
	}
	h := w.grain
	for _, v := range [3]uint64{uint64(at.Face), uint64(int64(math.Round(at.At.X * 100))), uint64(int64(math.Round(at.At.Y * 100)))} {
		h = scramble(h + v)
	}
	lot := float64(int64(h>>33)-int64(scramble(h)>>33)) / (1 << 31)
	return min(max(0, x+float64(blur*lot)/float64(len(w.quotas))), 1)
}

// blur is how much, in mean widths of an interval.
const blur = 0.7

// scramble is the finalizer of splitmix64 (S. Vigna, in the public domain; from memory).
func scramble(h uint64) uint64 {
	h += 0x9e3779b97f4a7c15
	h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
	h = (h ^ h>>27) * 0x94d049bb133111eb
	return h ^ h>>31
}

// misfit is what a piece costs that is one width away from where it belongs, against what
// neighbours cost, and worst what any piece may cost.
const (
	misfit = 32
	worst  = 8 * misfit
)

// placeCosts returns at [i*len(kinds)+k] what piece i costs as a k where it is; nil where the scheme
// is indifferent. Along the flow the pieces themselves are ranked, so the numbers of each species
// come out even.
func (w *Wish) placeCosts(places []neighbour.Place, progress []float64, counts []int) []int32 {
	if w.way != Drifting && w.way != Families {
		return nil
	}
	x := make([]float64, len(places))
	if w.way == Drifting {
		x = ranked(progress)
		for i, at := range places {
			x[i] = w.blurred(at, x[i])
		}
		x = ranked(x)
	}
	limits := ends(counts)
	costs := make([]int32, 0, len(places)*len(w.kinds))
	for i, at := range places {
		misfits := w.misfits(at, x[i], limits)
		for _, s := range w.of {
			cost := 0.0
			if misfits != nil {
				cost = min(math.Round(misfit*misfits[s]), worst)
			}
			costs = append(costs, int32(cost))
		}
	}
	return costs
}

// ranked returns for every value what share of them comes before it, and half of itself; equal
// values follow one another in the order given.
func ranked(values []float64) []float64 {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	out := make([]float64, len(values))
	for rank, i := range order {
		out[i] = (float64(rank) + 0.5) / float64(len(values))
	}
	return out
}
