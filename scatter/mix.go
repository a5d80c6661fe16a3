package scatter

import (
	"math"
	"math/rand/v2"

	"wallshoal/scatter/mixing"
	"wallshoal/scatter/neighbour"
	"wallshoal/scatter/poisson"
	"wallshoal/wall/plane"
)

// place returns where p lies on the site.
func (g *ground) place(p poisson.Point) neighbour.Place {
	return neighbour.Place{Face: g.faces[p.Chart], At: p.At}
}

// along returns how far along the flow p lies, in mm.
func (c *composer) along(p poisson.Point) float64 { return c.progressAt(c.comp, p) }

func (g *ground) progressAt(comp Composition, p poisson.Point) float64 {
	if comp.Mixing.Way != mixing.Drifting {
		return 0
	}
	mm, _ := comp.Flow.Progress(g.charts[p.Chart].Frame, p.At)
	return mm
}

// sampled is how many places of the room a scheme that wishes for kinds in places gets to see.
const sampled = 3000

// wishOf returns which kinds belong where.
func (g *ground) wishOf(kinds []Kind, comp Composition, quotas []int, rng *rand.Rand) *mixing.Wish {
	traits := make([]mixing.Kind, len(kinds))
	for i, k := range kinds {
		traits[i] = mixing.Kind{Of: k.Of, Form: k.Form, Size: k.Size, Quota: quotas[i]}
		if k.Of == "" {
			traits[i].Of = k.Name
		}
	}
	var sample []neighbour.Place
	var progress []float64
	if comp.Mixing.Way == mixing.Drifting || comp.Mixing.Way == mixing.Families {
		for _, p := range g.strewn(sampled, rng) {
			sample = append(sample, g.place(p))
			progress = append(progress, g.progressAt(comp, p))
		}
	}
	return mixing.NewWish(comp.Mixing, traits, sample, progress, rng)
}

// strewn returns about n places where centres may be, as dense as the work is to be.
func (g *ground) strewn(n int, rng *rand.Rand) []poisson.Point {
	var boxes, densest float64
	for i := range g.charts {
		boxes += float64(g.charts[i].Bounds.Width() * g.charts[i].Bounds.Height())
		least := 1.0
		if radii := g.charts[i].Radii; radii != nil {
			least, _ = radii.Within(g.charts[i].Bounds)
		}
		densest = math.Max(densest, 1/float64(least*least))
	}
	var out []poisson.Point
	for i := range g.charts {
		chart := &g.charts[i]
		darts := float64(n) * densest * float64(chart.Bounds.Width()*chart.Bounds.Height()) / g.weight
		for range int(math.Min(darts, float64(20*n)*chart.Bounds.Width()*chart.Bounds.Height()/boxes)) {
			p := plane.Point{
				X: chart.Bounds.Min.X + float64(chart.Bounds.Width()*rng.Float64()),
				Y: chart.Bounds.Min.Y + float64(chart.Bounds.Height()*rng.Float64()),
			}.Snap(poisson.PerMM)
			keep := 1 / densest
			if chart.Radii != nil {
				r := chart.Radii.At(p)
				keep /= float64(r * r)
			}
			if rng.Float64() < keep && chart.Deep(p, 0) {
				out = append(out, poisson.Point{Chart: i, At: p})
			}
		}
	}
	return out
}

// mix swaps kinds between pieces so that they lie among one another as the scheme says. Quotas stay
// as they are, nobody moves, and nobody turns but by what the offsets of kinds differ.
func (c *composer) mix(wish *mixing.Wish) {
	pieces := c.remaining()
	places := make([]neighbour.Place, len(pieces))
	progress := make([]float64, len(pieces))
	now := make([]int, len(pieces))
	for n, i := range pieces {
		p := &c.placed[i]
		places[n], progress[n], now[n] = c.place(p.point), c.along(p.point), p.kind
	}
	graph := neighbour.Of(places, c.open())
	wish.Mix(graph, places, progress, now, func(i, j int) bool { return c.swap(pieces[i], pieces[j]) }, c.rng)
}

// open says whether a line on a face runs where pieces may lie.
func (c *composer) open() neighbour.Open {
	charts := make(map[int]int, len(c.faces))
	for chart, face := range c.faces {
		charts[face] = chart
	}
	return openIn(func(face int) *plane.Index { return c.room[charts[face]][0].free })
}

// openIn says whether a line on a face runs in what is free there.
func openIn(free func(face int) *plane.Index) neighbour.Open {
	const step = 40 // mm: narrower things part no neighbours
	return func(face int, a, b plane.Point) bool {
		free := free(face)
		n := int(a.Distance(b)/step) + 1
		for i := 1; i < n; i++ {
			if !free.Inside(a.Lerp(b, float64(i)/float64(n))) {
				return false
			}
		}
		return true
	}
}

// swap exchanges the kinds of two pieces where both still fit, and reports whether it did.
func (c *composer) swap(i, j int) bool {
	a, b := c.placed[i], c.placed[j]
	if a.id != 0 || b.id != 0 {
		return false
	}
	turn := c.kinds[b.kind].Offset - c.kinds[a.kind].Offset
	c.placed[j].gone = true
	newA, found := c.stand(stance{a.point, b.kind, a.heading.Turned(turn)}, i)
	c.placed[j].gone = false
	if found != fits {
		return false
	}
	c.replace(i, newA)
	newB, found := c.stand(stance{b.point, a.kind, b.heading.Turned(-turn)}, j)
	if found != fits {
		c.replace(i, a)
		return false
	}
	c.replace(j, newB)
	return true
}
