package scatter

import (
	"math"
	"slices"

	"wallshoal/scatter/heading"
	"wallshoal/scatter/poisson"
)

// tries is how many kinds are tried at a place before it is given up.
const tries = 3

// deal returns the kinds to try at p, the best first: those that are behind their quota, less those
// that stand next to p already; or, where the scheme wishes for kinds in places, by how much they
// belong there.
func (c *composer) deal(p poisson.Point) []int {
	progress := c.progress()
	var beside []int
	if c.wish == nil {
		beside = c.beside(p)
	} else {
		c.weights = c.wish.Weights(c.place(p), c.along(p), c.weights)
	}
	best := c.hand[:0]
	for k, q := range c.quotas {
		if q == 0 {
			continue
		}
		lack := float64(float64(q)*progress) - float64(c.have[k]) + c.rng.Float64()
		if c.wish == nil {
			lack -= float64(beside[k])
		} else {
			lack = c.weights[k] * (c.rng.Float64() + math.Max(0.1, 1+lack))
		}
		at := len(best)
		for at > 0 && c.lack[best[at-1]] < lack {
			at--
		}
		c.lack[k] = lack
		best = slices.Insert(best, at, k)
		best = best[:min(len(best), tries)]
	}
	return best
}

// progress returns what share of the pieces stands with the next one.
func (c *composer) progress() float64 { return float64(c.count()+1) / float64(c.comp.Count) }

// role returns the role that is the farthest behind its number.
func (c *composer) role() heading.Role {
	if c.parts[heading.Flowing] == c.comp.Count {
		return heading.Flowing
	}
	best, most := heading.Flowing, 0.0
	for r, n := range c.parts {
		lack := float64(float64(n)*c.progress()) - float64(c.roles[r]) + c.rng.Float64()
		if n > 0 && (lack > most || r == 0) {
			best, most = heading.Role(r), lack
		}
	}
	return best
}

// beside counts the neighbours of p of each kind.
func (c *composer) beside(p poisson.Point) []int {
	counts := make([]int, len(c.kinds))
	c.grid.Near(p, neighbourly*c.grid.RadiusAt(p), func(i int, _ float64) bool {
		counts[c.placed[i].kind]++
		return true
	})
	return counts
}
