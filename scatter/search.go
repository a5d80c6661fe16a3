package scatter

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"wallshoal/scatter/mixing"
)

// randomSequential is the share of a plane that random discs cover when no further one fits
// (Feder 1980); their diameter is the least distance of their centres.
const randomSequential = 0.547

// overhang is how far a fill reaches past the edge of its domain, in least distances, because discs
// about centres near the edge cover what lies beyond it: measured on squares of 100 to 100,000 points.
const overhang = 0.35

// A search looks for the distance at which the number asked just fills the walls.
type search struct {
	*ground
	kinds    []Kind
	comp     Composition
	quotas   []int // those of the kept pieces among them
	kept     []Piece
	wish     *mixing.Wish
	seed     uint64
	progress func(done, total int)

	begun uint64  // fills begun anew so far: each has a random stream of its own
	least float64 // distance below which centres need never be tried, mm
	floor float64 // scale below which nothing changes any more
	scale float64 // to try next
}

// Bounds on the search: how many fills are begun, after how many any number that is enough will do,
// how many at the floor decide that the number does not fit, and how often one is filled up. One
// fill at the floor is enough where it stays a fifth short.
const (
	maxFills  = 10
	fairFills = 4
	lastFills = 4
	maxTopUps = 5
)

// excess returns how many pieces more than asked a fill aims at, to be trimmed away again: the
// number that fits at a distance varies by about a third of its root from fill to fill.
func excess(asked int) float64 {
	return float64(0.01*float64(asked)) + float64(0.4*math.Sqrt(float64(asked)))
}

// run returns a composer that holds exactly the quotas.
func (s *search) run(ctx context.Context) (*composer, error) {
	s.least = s.leastRadius()
	s.floor = s.least / s.widest
	s.scale = math.Max(s.floor, s.guess())
	short := &ShortfallError{Asked: s.comp.Count, Spacing: s.comp.Spacing, Crowded: s.least > s.comp.Spacing}
	for atFloor := 0; s.begun < maxFills; {
		c := newComposer(s, rand.New(rand.NewPCG(s.seed, s.begun)))
		enough, err := s.attempt(ctx, c)
		if enough || err != nil {
			return c, err
		}
		fit, scarce := c.fits()
		if c.floored {
			fit = c.most(fit, s.kept)
		}
		if fit >= short.Fit {
			short.Fit, short.Kind = fit, s.kinds[scarce].Name
		}
		if c.floored {
			if atFloor++; atFloor == lastFills || float64(c.count()) < 0.8*float64(s.comp.Count) {
				break
			}
		}
	}
	return nil, short
}

// attempt begins one fill and reports whether it came to hold the quotas. A fill that comes out
// somewhat short is filled up at a shorter distance, which all that stands keeps to already. One
// that comes out far from what was wanted tells what distance to begin anew at.
func (s *search) attempt(ctx context.Context, c *composer) (bool, error) {
	asked := float64(s.comp.Count)
	wanted := asked + excess(s.comp.Count)
	fair := s.begun < fairFills
	s.begun++
	for range maxTopUps {
		if err := c.fill(ctx, s.least, s.scale); err != nil {
			return false, err
		}
		c.floored = s.scale <= s.floor
		got := float64(c.count())
		if fair && !c.floored && got > 1.1*wanted+2 {
			s.scale *= math.Sqrt(got / wanted)
			return false, nil
		}
		if got >= asked && c.trim() {
			return true, nil
		}
		if c.floored {
			return false, nil
		}
		fit, _ := c.fits()
		got = math.Max(1, math.Min(got, float64(fit)))
		s.scale = math.Max(s.floor, s.scale*math.Min(math.Sqrt(got/wanted), 0.995))
		if fair && got < 0.85*asked {
			return false, nil
		}
	}
	return false, nil
}

// guess returns the scale at which about as many pieces fit as are asked for, as far as discs tell.
func (s *search) guess() float64 {
	wanted := float64(s.comp.Count) + 1.5*excess(s.comp.Count) // too many is quicker to mend than too few
	share := 4 * randomSequential / (math.Pi * wanted)
	rim := share * overhang * s.rim
	return (rim + math.Sqrt(float64(rim*rim)+4*share*s.weight)) / 2
}

// leastRadius returns the distance below which centres need never be tried: the spacing asked, or
// what the outlines themselves keep, or what would make fifty places for every piece.
func (s *search) leastRadius() float64 {
	least := math.Max(s.comp.Spacing, math.Sqrt(s.area/float64(50*s.comp.Count)))
	if s.comp.Overlap == 0 {
		least = math.Max(least, 2*s.leastCore(s.quotas)+s.comp.Gap)
	}
	return least
}

func (s *search) report(done int) {
	if s.progress != nil && done%64 == 0 {
		s.progress(min(done, s.comp.Count), s.comp.Count)
	}
}

// most returns how many pieces can be made of those placed with the kinds in the proportions asked,
// some of them turned into others: at least fit, and fewer than all that are asked.
func (c *composer) most(fit int, kept []Piece) int {
	asked, quotas := c.comp.Count, c.quotas
	defer func() { c.comp.Count, c.quotas = asked, quotas }()
	n, over := fit, min(c.count(), asked-1)+1 // so many are known to do, and so many not to
	for over-n > max(1, n/100) {
		middle := (n + over) / 2
		before, have, roles := slices.Clone(c.placed), slices.Clone(c.have), c.roles
		some, err := quotasWith(c.kinds, middle, kept)
		if err != nil {
			break
		}
		c.comp.Count, c.quotas = middle, some
		if c.trim() {
			n = middle
			c.placed, c.have, c.roles = before, have, roles
		} else {
			over = middle
		}
	}
	return n
}

// fits returns how many pieces in the proportions of the quotas the pieces placed come to, fewer
// than all that are asked, and the kind that is scarcest.
func (c *composer) fits() (n, scarce int) {
	n = c.comp.Count
	for kind, q := range c.quotas {
		if q > 0 && c.have[kind]*c.comp.Count < n*q {
			n, scarce = c.have[kind]*c.comp.Count/q, kind
		}
	}
	return min(n, c.comp.Count-1), scarce
}
