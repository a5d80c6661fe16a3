package scatter

// mixPasses is how often every piece with an equal neighbour is looked at, and swapMates how many
// others it is then tried against.
const (
	mixPasses = 4
	swapMates = 24
)

// mix swaps kinds between pieces so that fewer neighbours are of one kind. Quotas stay as they
// are, and nobody moves or turns.
func (c *composer) mix() {
	pieces := c.remaining()
	if len(pieces) < 3 {
		return
	}
	for range mixPasses {
		swapped := false
		for _, i := range pieces {
			if c.beside(c.placed[i].point, i)[c.placed[i].kind] == 0 {
				continue
			}
			for range swapMates {
				if c.swap(i, pieces[c.rng.IntN(len(pieces))]) {
					swapped = true
					break
				}
			}
		}
		if !swapped {
			return
		}
	}
}

// swap exchanges the kinds of two pieces where both still fit and fewer equal neighbours come of
// it, and reports whether it did.
func (c *composer) swap(i, j int) bool {
	a, b := c.placed[i], c.placed[j]
	if a.kind == b.kind || c.neighbours(i, j) {
		return false
	}
	nearA, nearB := c.beside(a.point, i), c.beside(b.point, j)
	if nearA[b.kind]+nearB[a.kind] >= nearA[a.kind]+nearB[b.kind] {
		return false
	}
	if a.id != 0 || b.id != 0 {
		return false
	}
	turn := c.kinds[b.kind].Offset - c.kinds[a.kind].Offset
	newA, found := c.stand(stance{a.point, b.kind, a.heading.Turned(turn)}, i)
	if found != fits {
		return false
	}
	newB, found := c.stand(stance{b.point, a.kind, b.heading.Turned(-turn)}, j)
	if found != fits {
		return false
	}
	c.replace(i, newA)
	c.replace(j, newB)
	return true
}

// neighbours reports whether two pieces count as neighbours, or are near enough for their outlines
// to depend on one another.
func (c *composer) neighbours(i, j int) bool {
	far := max(neighbourly*c.grid.RadiusAt(c.placed[i].point), 2*c.reach+c.comp.Gap)
	near := false
	c.grid.Near(c.placed[i].point, far, func(k int, _ float64) bool {
		near = k == j
		return !near
	})
	return near
}
