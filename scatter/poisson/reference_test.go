package poisson_test

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter/poisson"
	"wallshoal/wall/plane"
)

// A line of testdata/reference.txt says how much there is of what from one distance to another.
type line struct {
	what              string
	from, to          float64
	sequential, scipy estimate
}

// An estimate is a mean over runs and its standard error.
type estimate struct{ mean, err float64 }

// off returns how many standard errors two estimates lie apart.
func (e estimate) off(f estimate) float64 {
	if e.mean == f.mean {
		return 0
	}
	return math.Abs(e.mean-f.mean) / math.Hypot(e.err, f.err)
}

func reference(t *testing.T) []line {
	t.Helper()
	file, err := os.Open("testdata/reference.txt")
	require.NoError(t, err)
	defer file.Close()
	var lines []line
	for in := bufio.NewScanner(file); in.Scan(); {
		if strings.HasPrefix(in.Text(), "#") {
			continue
		}
		var l line
		_, err := fmt.Sscan(in.Text(), &l.what, &l.from, &l.to, &l.sequential.mean, &l.sequential.err, &l.scipy.mean, &l.scipy.err)
		require.NoError(t, err, in.Text())
		lines = append(lines, l)
	}
	require.Len(t, lines, 2+16+40)
	return lines
}

// How far points of a fill lie apart is as in random sequential adsorption done with numpy and
// scipy's k-d tree (testdata/reference.py): density, distance to the nearest neighbour, and the
// neighbours in rings up to three radii away. Points of a pattern hang together, so that a test
// that takes distances for independent would be wrong; every figure is compared by how much it varies
// from run to run. The 58 comparisons are at a level of a thousandth together (Bonferroni): 4.3
// standard errors each.
//
// The same comparison tells scipy's sampler apart, which throws its darts round points that stand
// already and gives up on each after some: it ends with a density of 0.60 instead of 0.70, with fewer
// close neighbours, and a 500th of the square would still have room.
func TestFillIsRandomSequential(t *testing.T) {
	const limit, runs = 4.3, 150
	lines := reference(t)
	even := square(300, front)
	field := square(300, front)
	field.Radii = poisson.NewRaster(field.Bounds, 10, func(plane.Point) float64 { return 1 })
	for name, chart := range map[string]poisson.Chart{"one radius": even, "radii of a field": field} {
		t.Run(name, func(t *testing.T) {
			sums, squares := make([]float64, len(lines)), make([]float64, len(lines))
			for seed := range uint64(runs) {
				for i, x := range spread(lines, fill(t, []poisson.Chart{chart}, 10, seed), chart, 10, seed) {
					sums[i] += x
					squares[i] += x * x
				}
			}
			worst, worstScipy := 0.0, 0.0
			for i, l := range lines {
				mean := sums[i] / runs
				ours := estimate{mean, math.Sqrt(max(0, squares[i]/runs-mean*mean) / (runs - 1))}
				worst, worstScipy = max(worst, ours.off(l.sequential)), max(worstScipy, ours.off(l.scipy))
				assert.Less(t, ours.off(l.sequential), limit, "%s from %v to %v: %.5f ± %.5f, not %.5f ± %.5f",
					l.what, l.from, l.to, ours.mean, ours.err, l.sequential.mean, l.sequential.err)
			}
			t.Logf("at most %.1f standard errors off the reference, %.0f off scipy's sampler", worst, worstScipy)
			assert.Greater(t, worstScipy, 10*limit)
		})
	}
}

// spread returns the figures of the lines for a fill with one radius, of its points three radii
// and more from the edges of the chart.
func spread(lines []line, g *poisson.Grid, chart poisson.Chart, radius float64, seed uint64) []float64 {
	inner := chart.Bounds.Grow(-3 * radius)
	var nearest, all []float64
	for i := range g.Len() {
		p := g.Point(i)
		if !inner.Contains(p.At) {
			continue
		}
		close := math.Inf(1)
		g.Near(p, 3*radius, func(j int, d float64) bool {
			if j != i {
				close = min(close, d)
				all = append(all, d/radius)
			}
			return true
		})
		nearest = append(nearest, close/radius)
	}
	count := float64(len(nearest))
	rng := rand.New(rand.NewPCG(seed, 2))
	figures := make([]float64, len(lines))
	for i, l := range lines {
		switch l.what {
		case "density":
			figures[i] = count * radius * radius / inner.Width() / inner.Height()
		case "room":
			for range 1000 {
				if !g.Crowded(poisson.Point{At: within(inner, rng)}) {
					figures[i] += 1.0 / 1000
				}
			}
		case "nearest":
			figures[i] = between(nearest, l.from, l.to) / count
		case "ring":
			figures[i] = between(all, l.from, l.to) / count
		}
	}
	return figures
}

// between counts the distances from one to another.
func between(distances []float64, from, to float64) float64 {
	n := 0.0
	for _, d := range distances {
		if d >= from && d < to {
			n++
		}
	}
	return n
}
