package quality

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter/neighbour"
)

// graphs are of eight pieces each: a wheel, a strip of triangles, a path with one piece alone, all
// with all, and nobody with anybody.
func graphs() map[string]neighbour.Graph {
	edges := map[string][][2]int32{"alone": nil}
	for i := range int32(7) {
		edges["wheel"] = append(edges["wheel"], [2]int32{i, (i + 1) % 7}, [2]int32{i, 7})
		edges["strip"] = append(edges["strip"], [2]int32{i, i + 1})
		if i < 6 {
			edges["strip"] = append(edges["strip"], [2]int32{i, i + 2})
			edges["path"] = append(edges["path"], [2]int32{i, i + 1})
		}
		for j := i + 1; j < 8; j++ {
			edges["complete"] = append(edges["complete"], [2]int32{i, j})
		}
	}
	graphs := map[string]neighbour.Graph{}
	for name, list := range edges {
		g := make(neighbour.Graph, 8)
		for _, e := range list {
			g[e[0]], g[e[1]] = append(g[e[0]], e[1]), append(g[e[1]], e[0])
		}
		graphs[name] = g
	}
	return graphs
}

// everyDeal calls visit with every order of kinds, as often as there are different ones.
func everyDeal(kinds []int, visit func([]int)) {
	kinds = slices.Clone(kinds)
	slices.Sort(kinds)
	for {
		visit(kinds)
		i := len(kinds) - 2
		for i >= 0 && kinds[i] >= kinds[i+1] {
			i--
		}
		if i < 0 {
			return
		}
		j := len(kinds) - 1
		for kinds[j] <= kinds[i] {
			j--
		}
		kinds[i], kinds[j] = kinds[j], kinds[i]
		slices.Reverse(kinds[i+1:])
	}
}

// TestChanceOfJoinsIsThatOfEveryDeal goes through all the ways in which the same numbers of kinds
// can lie on eight pieces.
func TestChanceOfJoinsIsThatOfEveryDeal(t *testing.T) {
	deals := [][]int{
		{0, 0, 0, 0, 1, 1, 1, 1}, {0, 0, 0, 1, 1, 1, 2, 2}, {0, 1, 1, 1, 1, 1, 1, 1}, {0, 0, 1, 1, 2, 2, 3, 3},
		{0, 0, 0, 0, 0, 0, 0, 0}, {0, 1, 2, 3, 3, 3, 3, 3},
	}
	for name, g := range graphs() {
		for _, deal := range deals {
			n := slices.Max(deal) + 1
			sorts := func(j Joins) []Join { return slices.Concat(j.Same, j.Unlike, []Join{j.Equal, j.Mixed}) }
			count := 0.0
			sums, squares := make([]float64, 2*n+2), make([]float64, 2*n+2)
			everyDeal(deal, func(kinds []int) {
				count++
				for i, j := range sorts(CountJoins(g, kinds, n)) {
					sums[i] += float64(j.Pairs)
					squares[i] += float64(j.Pairs * j.Pairs)
				}
			})
			for i, j := range sorts(CountJoins(g, deal, n)) {
				mean := sums[i] / count
				require.InDelta(t, mean, j.Mean, 1e-12, "%s, %v, sort %d", name, deal, i)
				require.InDelta(t, squares[i]/count-mean*mean, j.Deviation*j.Deviation, 1e-9, "%s, %v, sort %d", name, deal, i)
			}
		}
	}
}

// TestJoinsAreAsPublished compares with Cliff and Ord's formula for two colours, as it is given for
// any weights: S0, S1 and S2 of the graph, and falling powers.
func TestJoinsAreAsPublished(t *testing.T) {
	g := graphs()["wheel"]
	var s0, s2 float64
	for _, near := range g {
		s0 += float64(len(near))
		s2 += 4 * float64(len(near)*len(near))
	}
	s1 := 2 * s0
	for black := range 9 {
		kinds := make([]int, 8)
		for i := range black {
			kinds[i] = 1
		}
		p := func(k int) float64 { return falling(float64(black), k) / falling(8, k) }
		mean := s0 * p(2) / 2
		variance := (s1*p(2) + (s2-2*s1)*p(3) + (s0*s0+s1-s2)*p(4) - s0*s0*p(2)*p(2)) / 4
		got := CountJoins(g, kinds, 2)
		assert.InDelta(t, mean, got.Same[1].Mean, 1e-12)
		assert.InDelta(t, variance, got.Same[1].Deviation*got.Same[1].Deviation, 1e-9)
		assert.InDelta(t, s0*float64(black*(8-black))/falling(8, 2), got.Mixed.Mean, 1e-12, "E(BW)")
	}
}

func TestJoinsOfARow(t *testing.T) {
	g := neighbour.Graph{{1}, {0, 2}, {1, 3}, {2, 4}, {3}}
	got := CountJoins(g, []int{0, 0, 1, 1, 1}, 3)
	assert.Equal(t, []int{1, 2, 0}, []int{got.Same[0].Pairs, got.Same[1].Pairs, got.Same[2].Pairs})
	assert.Equal(t, []int{1, 1, 0}, []int{got.Unlike[0].Pairs, got.Unlike[1].Pairs, got.Unlike[2].Pairs})
	assert.Equal(t, []int{3, 1}, []int{got.Equal.Pairs, got.Mixed.Pairs})
	assert.InDelta(t, 1.6, got.Equal.Mean, 1e-12, "4 pairs, of which 2 in 5 are of equals")
	assert.Positive(t, got.Equal.Z())
	assert.InDelta(t, -got.Equal.Z(), got.Mixed.Z(), 1e-12)
	assert.Zero(t, CountJoins(nil, nil, 0).Equal.Z())
}

func TestGroups(t *testing.T) {
	g := graphs()["path"] // 0 to 6 in a row, and 7 alone
	groups := Groups(g, []int{0, 0, 1, 0, 0, 0, 1, 0})
	assert.Equal(t, []int{3, 2, 1, 1, 1}, groups)
	assert.InDelta(t, (9+4+1+1+1)/8.0, Company(groups), 1e-12)
	assert.Equal(t, []int{1, 1, 1, 1, 1, 1, 1, 1}, Groups(g, []int{0, 1, 0, 1, 0, 1, 0, 0}))
	assert.Zero(t, Company(Groups(nil, nil)))
}

func TestDrift(t *testing.T) {
	// Ranks 1 to 5 against 1, 2, 3.5, 3.5, 5: 9.5 / √(10 · 9.5).
	assert.InDelta(t, 9.5/math.Sqrt(95), Drift([]float64{10, 20, 30, 40, 50}, []int{0, 1, 2, 2, 3}), 1e-12)
	assert.InDelta(t, -1, Drift([]float64{5, 4, 1, 0}, []int{0, 1, 2, 3}), 1e-12)
	assert.Zero(t, Drift([]float64{1, 2, 3}, []int{4, 4, 4}))
	assert.Zero(t, Drift([]float64{2, 2}, []int{0, 1}))
	assert.Zero(t, Drift(nil, nil))

	const n = 3000
	rng := rand.New(rand.NewPCG(1, 2))
	progress, kinds := make([]float64, n), make([]int, n)
	for i := range n {
		progress[i], kinds[i] = float64(i), i*4/n
	}
	assert.InDelta(t, math.Sqrt(1-1.0/16), Drift(progress, kinds), 1e-6, "in four even parts")
	rng.Shuffle(n, func(i, j int) { kinds[i], kinds[j] = kinds[j], kinds[i] })
	assert.InDelta(t, 0, Drift(progress, kinds), 4/math.Sqrt(n-1), "by chance, four standard errors")
}
