package density

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// wide is a wall large enough for means over many groups.
var wide = []Area{{long, plane.RegionOf(plane.Rectangle(plane.Point{}, 16_000, 12_000))}}

// raster returns the clumps over the wide wall, a row of it after another, every step mm.
func raster(c Clumps, step float64) (rows [][]float64, all []float64) {
	for y := step / 2; y < 12_000; y += step {
		var row []float64
		for x := step / 2; x < 16_000; x += step {
			row = append(row, c.At(long, plane.Point{X: x, Y: y}))
		}
		rows, all = append(rows, row), append(all, row...)
	}
	return rows, all
}

// contrast returns how many times as dense it is where a tenth is denser than where a tenth is
// thinner.
func contrast(all []float64) float64 {
	sorted := slices.Sorted(slices.Values(all))
	return sorted[len(sorted)*9/10] / sorted[len(sorted)/10]
}

func TestClumpsHaveTheirStrength(t *testing.T) {
	rises(t, "strength", strengths[2:], func(k float64) float64 {
		_, all := raster(NewClumps(wide, 800, k, 3), 100)
		got := contrast(all)
		assert.InEpsilon(t, k, got, 0.35)
		return got
	})
	assert.Equal(t, 1.0, math.Round(1e9*NewClumps(wide, 800, 1, 3).At(long, plane.Point{X: 77, Y: 99}))/1e9, "a strength of 1 is none")
	_, thin := raster(NewClumps(wide, 800, 0.1, 3), 100)
	assert.Greater(t, contrast(thin), 5.0)
}

// falls returns the distance in mm at which the correlation along a direction goes below 0.
func falls(rows [][]float64, step float64, dx, dy int) float64 {
	mean, n := 0.0, 0.0
	for _, row := range rows {
		for _, v := range row {
			mean, n = mean+v, n+1
		}
	}
	mean /= n
	for k := 1; k < 60; k++ {
		sum := 0.0
		for y := 0; y+k*dy < len(rows); y++ {
			for x := 0; x+k*dx < len(rows[y]); x++ {
				sum += (rows[y][x] - mean) * (rows[y+k*dy][x+k*dx] - mean)
			}
		}
		if sum < 0 {
			return float64(k) * step * math.Hypot(float64(dx), float64(dy))
		}
	}
	return math.Inf(1)
}

// Groups are as far apart as the size says and grow with it, as much one way as another.
func TestClumpsHaveTheirSize(t *testing.T) {
	rises(t, "size", []float64{400, 700, 1200}, func(size float64) float64 {
		c := NewClumps(wide, size, 6, 9)
		rows, _ := raster(c, 80)
		right, up, aslant := falls(rows, 80, 1, 0), falls(rows, 80, 0, 1), falls(rows, 80, 1, 1)
		assert.InDelta(t, right, up, 0.25*size)
		assert.InDelta(t, right, aslant, 0.25*size)
		count := 0
		for _, groups := range c.groups {
			count += len(groups)
		}
		apart := math.Sqrt(16_000 * 12_000 / float64(count))
		assert.InEpsilon(t, size, apart, 0.12, "a group to a square of that size")
		return right
	})
}

// No two groups are closer than 0.8 of the size, round a corner as well, and there is a group
// within the size of nearly every place.
func TestClumpsAreApart(t *testing.T) {
	const size = 600
	c := NewClumps(room, size, 5, 2)
	var middles []space.Vec
	for _, groups := range c.groups {
		for _, g := range groups {
			middles = append(middles, g.at)
			assert.InDelta(t, 1, g.axis.Len(), 1e-9)
		}
	}
	for i, a := range middles {
		for _, b := range middles[:i] {
			assert.GreaterOrEqual(t, a.Sub(b).Len(), closest*size-1e-6)
		}
	}
	far, n := 0.0, 0.0
	for x := 0.0; x <= 6000; x += 100 {
		for y := 0.0; y <= 2500; y += 100 {
			n++
			nearest := math.Inf(1)
			for _, m := range middles {
				nearest = min(nearest, m.Sub(long.At(plane.Point{X: x, Y: y})).Len())
			}
			if nearest > size {
				far++
			}
		}
	}
	assert.Less(t, far/n, 0.01)
}

func TestClumpsHaveTheMeanOne(t *testing.T) {
	for _, strength := range strengths {
		c := NewClumps(room, 650, strength, 6)
		assert.InEpsilon(t, 10_000*2500, Integral(c, whole, 30)+Integral(c, next, 30), 0.01)
	}
}

func TestClumpsOfASeed(t *testing.T) {
	p := plane.Point{X: 1234, Y: 987}
	one, again := NewClumps(room, 500, 6, 1), NewClumps(room, 500, 6, 1)
	for x := 0.0; x < 6000; x += 131 {
		assert.Equal(t, one.At(long, plane.Point{X: x, Y: 900}), again.At(long, plane.Point{X: x, Y: 900}))
	}
	seen := map[float64]bool{}
	for seed := range uint64(20) {
		seen[NewClumps(room, 500, 6, seed).At(long, p)] = true
	}
	assert.Greater(t, len(seen), 3)
	assert.Equal(t, 1.0, NewClumps(nil, 500, 6, 1).scale, "no faces")
	assert.InDelta(t, 40, Groups(room, 791), 0.1, "25 m²")
}

func BenchmarkClumps(b *testing.B) {
	c := NewClumps(room, 500, 6, 1)
	for i := range b.N {
		c.At(long, plane.Point{X: float64(i % 6000), Y: 900})
	}
}
