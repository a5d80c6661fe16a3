package mixing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter/neighbour"
	"wallshoal/scatter/quality"
	"wallshoal/wall/plane"
)

func source(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 1)) }

// A work is pieces that stand, as whoever composes would have them: it swaps where both fit.
type work struct {
	places   []neighbour.Place
	progress []float64
	graph    neighbour.Graph
	kinds    []Kind
	now      []int
	fits     func(i, kind int) bool
	calls    int
}

// strewn returns a work of n pieces on two faces, one to a square of 100 mm, with the kinds dealt by
// chance; the flow goes to the right.
func strewn(n int, kinds []Kind, rng *rand.Rand) *work {
	w := &work{kinds: kinds, fits: func(int, int) bool { return true }}
	columns := max(1, int(math.Sqrt(float64(n))))
	for i := range n {
		p := plane.Point{X: 100 * (float64(i%columns) + 0.9*rng.Float64()), Y: 100 * (float64(i/columns) + 0.9*rng.Float64())}
		face := 0
		if i >= 3*n/4 {
			face = 1
		}
		w.places = append(w.places, neighbour.Place{Face: face, At: p.Snap(100)})
		w.progress = append(w.progress, w.places[i].At.X)
	}
	w.graph = neighbour.Of(w.places, nil)
	for k, kind := range kinds {
		w.now = append(w.now, slices.Repeat([]int{k}, kind.Quota)...)
	}
	rng.Shuffle(n, func(i, j int) { w.now[i], w.now[j] = w.now[j], w.now[i] })
	return w
}

// alike returns kinds that are nothing of one another, n pieces in all.
func alike(kinds, n int) (out []Kind) {
	for k := range kinds {
		out = append(out, Kind{Of: fmt.Sprint(k), Quota: n*(k+1)/kinds - n*k/kinds})
	}
	return out
}

func (w *work) swap(i, j int) bool {
	w.calls++
	if !w.fits(i, w.now[j]) || !w.fits(j, w.now[i]) {
		return false
	}
	w.now[i], w.now[j] = w.now[j], w.now[i]
	return true
}

func (w *work) mix(scheme Scheme, seed uint64) int {
	rng := source(seed)
	return NewWish(scheme, w.kinds, w.places, w.progress, rng).Mix(w.graph, w.places, w.progress, w.now, w.swap, rng)
}

func (w *work) deal(scheme Scheme, seed uint64) {
	rng := source(seed)
	w.now = NewWish(scheme, w.kinds, w.places, w.progress, rng).Deal(w.graph, w.places, w.progress, rng)
}

func (w *work) joins() quality.Joins { return quality.CountJoins(w.graph, w.now, len(w.kinds)) }

func (w *work) equals() float64 {
	return float64(w.joins().Equal.Pairs) / float64(w.graph.Edges())
}

func (w *work) company() float64 { return quality.Company(quality.Groups(w.graph, w.now)) }

func (w *work) drift() float64 { return quality.Drift(w.progress, w.now) }

// arrange runs a check on what Mix and what Deal make of a work.
func arrange(t *testing.T, make func() *work, scheme Scheme, check func(t *testing.T, w *work)) {
	t.Run("mix", func(t *testing.T) {
		w := make()
		w.mix(scheme, 5)
		check(t, w)
	})
	t.Run("deal", func(t *testing.T) {
		w := make()
		w.deal(scheme, 5)
		check(t, w)
	})
}

var schemes = []Scheme{{}, {Way: Scattered}, {Way: Drifting}, {Way: Families, Size: 8}}

func TestQuotasStayExact(t *testing.T) {
	kinds := []Kind{
		{Of: "a", Form: "x", Quota: 210}, {Of: "a", Form: "y", Quota: 1}, {Of: "b", Quota: 0},
		{Of: "c", Size: "small", Quota: 77}, {Of: "c", Size: "large", Quota: 12},
	}
	for _, scheme := range schemes {
		arrange(t, func() *work { return strewn(300, kinds, source(1)) }, scheme, func(t *testing.T, w *work) {
			have := make([]int, len(kinds))
			for _, k := range w.now {
				have[k]++
			}
			for k := range kinds {
				assert.Equal(t, kinds[k].Quota, have[k], "%v, kind %d", scheme, k)
			}
		})
	}
}

func TestScatteredEqualsAreNotNeighbours(t *testing.T) {
	for kinds, most := range map[int]float64{5: 0.005, 6: 0.001, 9: 0} {
		make := func() *work { return strewn(1500, alike(kinds, 1500), source(2)) }
		arrange(t, make, Scheme{Way: Scattered}, func(t *testing.T, w *work) {
			assert.LessOrEqual(t, w.equals(), most, "%d kinds", kinds)
			assert.Less(t, w.joins().Equal.Z(), -10.0)
		})
	}
}

// TestTwoKindsHaveNoMoreEqualNeighboursThanTheyMust knows that two of the three corners of any
// triangle are of one kind, and that an edge has a triangle on each side.
func TestTwoKindsHaveNoMoreEqualNeighboursThanTheyMust(t *testing.T) {
	w := strewn(2000, alike(2, 2000), source(3))
	w.mix(Scheme{Way: Scattered}, 1)
	assert.InDelta(t, 1.0/3, w.equals(), 0.02)
}

// TestMostOfOneKind: the least that the many have for equal neighbours is when no two of the others
// are side by side, and those stand where there are most neighbours to part.
func TestMostOfOneKind(t *testing.T) {
	kinds := []Kind{{Of: "many", Quota: 1400}, {Of: "few", Quota: 300}, {Of: "fewer", Quota: 300}}
	arrange(t, func() *work { return strewn(2000, kinds, source(4)) }, Scheme{Way: Scattered}, func(t *testing.T, w *work) {
		joins := w.joins()
		assert.LessOrEqual(t, joins.Same[1].Pairs+joins.Same[2].Pairs, 1)
		var degrees []int
		for _, near := range w.graph {
			degrees = append(degrees, len(near))
		}
		slices.SortFunc(degrees, func(a, b int) int { return b - a })
		bound := 0
		for _, d := range degrees[:600] {
			bound += d
		}
		assert.LessOrEqual(t, joins.Mixed.Pairs, bound)
		assert.GreaterOrEqual(t, joins.Mixed.Pairs, bound*85/100, "of what the 600 with most neighbours could part")
	})
}

func TestFormsAndSizesAreScatteredUnderEveryScheme(t *testing.T) {
	var kinds []Kind
	for _, of := range []string{"a", "b", "c"} {
		for _, form := range []string{"i", "o", "u"} {
			for _, size := range []string{"small", "large"} {
				kinds = append(kinds, Kind{Of: of, Form: form, Size: size, Quota: 80})
			}
		}
	}
	by := func(w *work, trait func(Kind) string) quality.Join {
		var names []string
		of := make([]int, len(w.now))
		for i, k := range w.now {
			name := trait(kinds[k])
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
			of[i] = slices.Index(names, name)
		}
		return quality.CountJoins(w.graph, of, len(names)).Equal
	}
	for _, scheme := range schemes {
		arrange(t, func() *work { return strewn(1440, kinds, source(5)) }, scheme, func(t *testing.T, w *work) {
			assert.Less(t, by(w, func(k Kind) string { return k.Form }).Z(), -15.0, "%v", scheme)
			assert.Less(t, by(w, func(k Kind) string { return k.Size }).Z(), -8.0, "%v", scheme)
			of := by(w, func(k Kind) string { return k.Of }).Z()
			if scheme.Way == Drifting || scheme.Way == Families {
				assert.Greater(t, of, 15.0, "%v", scheme)
			} else {
				assert.Less(t, of, -25.0, "%v", scheme)
			}
		})
	}
}

func TestKindsDriftInTheOrderInWhichTheyAreListed(t *testing.T) {
	kinds := alike(5, 1200)
	kinds[1].Quota, kinds[4].Quota = kinds[1].Quota-180, kinds[4].Quota+180
	arrange(t, func() *work { return strewn(1200, kinds, source(6)) }, Scheme{Way: Drifting}, func(t *testing.T, w *work) {
		assert.Greater(t, w.drift(), 0.92)
		mean := make([]float64, 5)
		for i, k := range w.now {
			mean[k] += w.progress[i] / float64(kinds[k].Quota)
		}
		assert.True(t, slices.IsSorted(mean), "%v", mean)
		// No line parts two kinds: where one gives way to the next both stand among one another.
		for k := range 4 {
			last, first := 0.0, math.Inf(1)
			for i, kind := range w.now {
				if kind == k {
					last = max(last, w.progress[i])
				} else if kind == k+1 {
					first = min(first, w.progress[i])
				}
			}
			assert.Greater(t, last-first, 150.0, "%d and %d, mm", k, k+1)
		}
	})
}

func TestEachSchemeShowsInItsMeasure(t *testing.T) {
	make := func() *work { return strewn(1500, alike(6, 1500), source(7)) }
	company := []float64{}
	for _, scheme := range []Scheme{{Way: Scattered}, {Way: Families, Size: 4}, {Way: Families, Size: 8}, {Way: Families, Size: 16}, {Way: Families, Size: 40}} {
		w := make()
		w.mix(scheme, 3)
		company = append(company, w.company())
		assert.InDelta(t, 0, w.drift(), 0.2, "%v: nothing drifts", scheme)
	}
	assert.True(t, slices.IsSorted(company), "groups grow with the size of families: %v", company)
	assert.Less(t, company[0], 1.05)

	w := make()
	w.mix(Scheme{Way: Drifting}, 3)
	assert.Greater(t, w.drift(), 0.92)
}

// TestFamiliesAreOfAboutTheSizeAsked looks at the groups that are no strays: a few pieces end up
// beside their family, for the quotas' sake.
func TestFamiliesAreOfAboutTheSizeAsked(t *testing.T) {
	for _, size := range []int{5, 10, 25} {
		make := func() *work { return strewn(2000, alike(7, 2000), source(8)) }
		arrange(t, make, Scheme{Way: Families, Size: size}, func(t *testing.T, w *work) {
			groups := quality.Groups(w.graph, w.now)
			median, sum := 0, 0
			for _, g := range groups {
				if sum += g; 2*sum >= len(w.now) {
					median = g
					break
				}
			}
			assert.GreaterOrEqual(t, median, size*3/4, "%d: half of all pieces are in groups so large", size)
			assert.LessOrEqual(t, median, size*7/4, "%d", size)
			assert.LessOrEqual(t, groups[0], 5*size, "%d: none runs on", size)
		})
	}
}

func TestRefusedSwapsAreLeftAndOthersFound(t *testing.T) {
	kinds := alike(6, 1200)
	// Large kinds, the even ones, fit on every second piece only.
	roomy := func(i int) bool { return i%2 == 0 }
	for _, scheme := range schemes {
		w := strewn(1200, kinds, source(9))
		w.fits = func(i, kind int) bool { return kind%2 == 1 || roomy(i) }
		slices.SortStableFunc(w.now, func(a, b int) int { return b%2 - a%2 })
		odd, even := w.now[:600], w.now[600:]
		dealt := make([]int, 0, 1200)
		for i := range 600 {
			dealt = append(dealt, even[i], odd[i])
		}
		w.now = dealt
		before := w.equals()
		made := w.mix(scheme, 2)
		assert.Positive(t, made)
		assert.LessOrEqual(t, w.calls, calls*len(w.now))
		for i, k := range w.now {
			require.True(t, w.fits(i, k))
		}
		switch scheme.Way {
		case Drifting:
			assert.Greater(t, w.drift(), 0.85)
		case Families:
			assert.Greater(t, w.equals(), 2*before)
		default:
			assert.Less(t, w.equals(), 0.01)
		}
	}
}

func TestACallerWhoRefusesEverythingIsAskedOnlySoOften(t *testing.T) {
	for _, scheme := range schemes {
		w := strewn(400, alike(3, 400), source(10))
		w.fits = func(int, int) bool { return false }
		before := slices.Clone(w.now)
		assert.Zero(t, w.mix(scheme, 1))
		assert.Equal(t, before, w.now)
		assert.LessOrEqual(t, w.calls, calls*len(w.now))
	}
}

func TestTheSameSeedMakesTheSame(t *testing.T) {
	for _, scheme := range schemes {
		var dealt, mixed [2][]int
		for i := range 2 {
			w := strewn(500, alike(4, 500), source(11))
			w.mix(scheme, 7)
			mixed[i] = slices.Clone(w.now)
			w.deal(scheme, 7)
			dealt[i] = w.now
		}
		assert.Equal(t, mixed[0], mixed[1])
		assert.Equal(t, dealt[0], dealt[1])
	}
}

func TestFewPieces(t *testing.T) {
	for _, scheme := range schemes {
		for n := range 7 {
			for kinds := 1; kinds <= 4; kinds++ {
				w := strewn(n, alike(kinds, n), source(12))
				w.mix(scheme, 1)
				w.deal(scheme, 1)
				assert.Len(t, w.now, n)
			}
		}
	}
}

func TestGainIsWhatTheSumLoses(t *testing.T) {
	kinds := []Kind{{Of: "a", Form: "x", Quota: 50}, {Of: "a", Form: "y", Quota: 50}, {Of: "b", Form: "x", Size: "s", Quota: 50}, {Of: "c", Size: "s", Quota: 50}}
	w := strewn(200, kinds, source(13))
	rng := source(14)
	pair := affinities(kinds, sameOf)
	place := make([]int32, 200*4)
	for i := range place {
		place[i] = rng.Int32N(9)
	}
	sum := func() (total int32) {
		for i, near := range w.graph {
			total += 2 * place[i*4+w.now[i]]
			for _, j := range near {
				total += pair[w.now[i]*4+w.now[j]]
			}
		}
		return total / 2
	}
	s := newSearch(w.graph, slices.Clone(w.now), pair, slices.Clone(place), 4, w.swap, rng)
	for n := range 3000 {
		i := rng.IntN(200)
		j := rng.IntN(200)
		if n%2 == 0 && len(w.graph[i]) > 0 { // every other time it is neighbours
			j = int(w.graph[i][rng.IntN(len(w.graph[i]))])
		}
		if w.now[i] == w.now[j] {
			continue
		}
		before, gain := sum(), s.gain(i, j)
		require.True(t, s.try(i, j))
		require.Equal(t, before-gain, sum())
		require.Equal(t, w.now, s.now)
	}
}

func benchmark(b *testing.B, n, kinds int, scheme Scheme) {
	rng := source(1)
	fresh := strewn(n, alike(kinds, n), rng)
	wish := NewWish(scheme, fresh.kinds, fresh.places, fresh.progress, rng)
	for b.Loop() {
		w := *fresh
		w.now = slices.Clone(fresh.now)
		wish.Mix(w.graph, w.places, w.progress, w.now, w.swap, rng)
		b.ReportMetric(float64(w.calls), "swaps")
	}
}

func BenchmarkScattered2000(b *testing.B)        { benchmark(b, 2000, 6, Scheme{}) }
func BenchmarkScattered20000(b *testing.B)       { benchmark(b, 20_000, 6, Scheme{}) }
func BenchmarkScatteredOfThree2000(b *testing.B) { benchmark(b, 2000, 3, Scheme{}) }
func BenchmarkScatteredOfTwo20000(b *testing.B)  { benchmark(b, 20_000, 2, Scheme{}) }
func BenchmarkDrifting20000(b *testing.B)        { benchmark(b, 20_000, 6, Scheme{Way: Drifting}) }
func BenchmarkFamilies20000(b *testing.B) {
	benchmark(b, 20_000, 6, Scheme{Way: Families, Size: 8})
}
