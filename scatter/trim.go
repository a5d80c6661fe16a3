package scatter

import (
	"container/heap"
	"math"
	"slices"
)

// trim takes pieces away until as many are left as the quotas come to, the most crowded first
// among the kinds that are over their quota, and then turns pieces of kinds that are over into
// kinds that are under. There must be as many pieces as that or more. It reports whether the
// quotas are met; where they are not, everything is as it was.
func (c *composer) trim() bool {
	before, have, roles := slices.Clone(c.placed), slices.Clone(c.have), c.roles
	if c.cut(); c.convert() {
		return true
	}
	c.placed, c.have, c.roles = before, have, roles
	return false
}

// cut takes the surplus away.
func (c *composer) cut() {
	surplus := c.count() - c.comp.Count
	queue := c.crowding()
	for surplus > 0 && queue.Len() > 0 {
		worst := heap.Pop(&queue).(crowded)
		if now := c.nearest(worst.piece); now != worst.nearest {
			heap.Push(&queue, crowded{worst.piece, now})
			continue
		}
		if kind := c.placed[worst.piece].kind; c.have[kind] <= c.quotas[kind] {
			continue
		}
		c.remove(worst.piece)
		surplus--
	}
}

// convert turns pieces of kinds that are over their quota into kinds that are under, where they
// fit as they stand or turned within the spread, and reports whether the quotas are met.
func (c *composer) convert() bool {
	for kind, quota := range c.quotas {
		for _, i := range c.rng.Perm(len(c.placed)) {
			if c.have[kind] >= quota {
				break
			}
			from := c.placed[i].kind
			if !c.placed[i].gone && c.placed[i].id == 0 && c.have[from] > c.quotas[from] {
				c.recast(i, kind)
			}
		}
		if c.have[kind] < quota {
			return false
		}
	}
	return true
}

// recast turns the piece with the index i into another kind where that fits.
func (c *composer) recast(i, kind int) {
	p := &c.placed[i]
	s := stance{p.point, kind, p.heading.Turned(c.kinds[kind].Offset - c.kinds[p.kind].Offset)}
	angle := c.flowAt(p.point)
	for range 4 {
		if piece, found := c.stand(s, i); found == fits {
			c.replace(i, piece)
			return
		}
		s.heading = c.drawer.Draw(c.rng, p.role, angle, c.kinds[kind].Offset, nil)
	}
}

// crowded is a piece and the distance to its nearest neighbour when last seen, against the least
// that it keeps.
type crowded struct {
	piece   int
	nearest float64
}

// A crowd is a heap with the most crowded piece on top, the earlier of equals first.
type crowd []crowded

func (h crowd) Len() int { return len(h) }
func (h crowd) Less(i, j int) bool {
	if h[i].nearest != h[j].nearest {
		return h[i].nearest < h[j].nearest
	}
	return h[i].piece < h[j].piece
}
func (h crowd) Swap(i, j int) { h[i], h[j] = h[j], h[i] }

// Push implements heap.Interface.
func (h *crowd) Push(x any) { *h = append(*h, x.(crowded)) }

// Pop implements heap.Interface.
func (h *crowd) Pop() any {
	last := (*h)[len(*h)-1]
	*h = (*h)[:len(*h)-1]
	return last
}

func (c *composer) crowding() crowd {
	var queue crowd
	for i := range c.placed {
		if c.placed[i].id == 0 {
			queue = append(queue, crowded{i, c.nearest(i)})
		}
	}
	heap.Init(&queue)
	return queue
}

// nearest returns the distance from a piece to the nearest other against the least that it keeps,
// infinite where none is near enough to matter.
func (c *composer) nearest(i int) float64 {
	near, radius := math.Inf(1), c.grid.RadiusAt(c.placed[i].point)
	c.grid.Near(c.placed[i].point, 2*radius, func(j int, d float64) bool {
		if j != i && !c.placed[j].gone {
			near = math.Min(near, d)
		}
		return true
	})
	return near / radius
}
