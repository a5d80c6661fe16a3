package scatter

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"wallshoal/wall"
)

// randomSequential is the share of a plane that random discs cover when no further one fits
// (Feder 1980); their diameter is the least distance of their centres.
const randomSequential = 0.547

// Lay composes a layout: exactly comp.Count pieces over all used faces, each outline whole on its
// face and clear of everything there, every hole where it may be drilled, outlines at least
// comp.Gap apart, and centres at least comp.Spacing apart as measured straight through the room.
// The pieces spread over all the room there is: the distance they keep is the widest, not below
// comp.Spacing, at which so many fit. Kinds meet their quotas, and equals are seldom neighbours.
//
// The same arguments give the same layout. Where not all fit the error is a *ShortfallError; it is
// a wall.Problem where the counts contradict one another, and ctx's where it is cancelled.
// Progress, which may be nil, is told now and then how many pieces of how many stand.
func Lay(ctx context.Context, site wall.Site, kinds []Kind, comp Composition, seed uint64,
	progress func(done, total int)) (Layout, error) {
	quotas, err := Quotas(kinds, comp.Count)
	if err != nil {
		return Layout{}, err
	}
	if comp.Count == 0 {
		return Layout{Seed: seed}, nil
	}
	g, err := newGround(site, kinds)
	if err != nil {
		return Layout{}, err
	}
	if comp.Part {
		if err := g.part(ctx, site, comp.Flow); err != nil {
			return Layout{}, err
		}
	}
	s := search{ground: g, kinds: kinds, comp: comp, quotas: quotas, seed: seed, progress: progress}
	area := g.area(site)
	if area == 0 {
		return Layout{}, &ShortfallError{Asked: comp.Count, Spacing: comp.Spacing}
	}
	c, err := s.run(ctx, area)
	if err != nil {
		return Layout{}, err
	}
	c.mix()
	return Layout{Seed: seed, Pieces: c.pieces()}, nil
}

// A ShortfallError says that fewer pieces fit than were asked for.
type ShortfallError struct {
	Asked   int
	Fit     int     // the most that were found to fit, the kinds in the proportions asked
	Spacing float64 // asked least distance of centres, mm
	Crowded bool    // the outlines and their gap bind, not the spacing
	Kind    string  // the kind that is first to find no more room
}

// Error says what was asked, what fits and what to change.
func (e *ShortfallError) Error() string {
	if e.Fit == 0 {
		return fmt.Sprintf("the %d pieces do not fit: there is no room for even one of each kind; "+
			"free more of the walls, or make the pieces smaller", e.Asked)
	}
	binds := "composition.spacing"
	if e.Crowded {
		binds = "composition.gap or the pieces' size"
	}
	return fmt.Sprintf("%d pieces do not fit: about %d do, and %q is the first kind to find no room; "+
		"ask for fewer, lower %s, or free more of the walls", e.Asked, e.Fit, e.Kind, binds)
}

// A search looks for the distance at which the number asked just fills the walls.
type search struct {
	*ground
	kinds    []Kind
	comp     Composition
	quotas   []int
	seed     uint64
	progress func(done, total int)
	fills    uint64 // so far: each has a random stream of its own
}

// Bounds on the search: how many fills are tried, and how many at the least distance decide that
// the number does not fit. One is enough where it stays a fifth short.
const (
	maxFills  = 10
	lastFills = 4
)

// excess returns how many pieces more than asked a fill aims at, to be trimmed away again: the
// number that fits at a distance varies by about a third of its root from fill to fill.
func excess(asked int) float64 {
	return float64(0.01*float64(asked)) + float64(0.4*math.Sqrt(float64(asked)))
}

// run returns a composer that holds exactly the quotas.
func (s *search) run(ctx context.Context, area float64) (*composer, error) {
	asked := s.comp.Count
	least := s.leastRadius(area)
	radius := math.Max(least, math.Sqrt(4*randomSequential*area/(math.Pi*float64(asked))))
	short := &ShortfallError{Asked: asked, Spacing: s.comp.Spacing, Crowded: least > s.comp.Spacing}
	var best *composer                 // the one that was enough at the widest distance
	enough, tooFew := 0.0, math.Inf(1) // distances known to be so
	for atLeast := 0; s.fills < maxFills; s.fills++ {
		c := newComposer(s.ground, s.kinds, s.comp, s.quotas, rand.New(rand.NewPCG(s.seed, s.fills)))
		c.report = s.report
		if err := c.fill(ctx, radius); err != nil {
			return nil, err
		}
		got := len(c.placed)
		fit, scarce := c.fits()
		if got >= asked && c.trim() {
			best, enough = c, radius
			if float64(got) <= float64(asked)+2*excess(asked) || radius == tooFew {
				break
			}
		} else {
			got, tooFew = min(got, fit), math.Min(tooFew, radius)
			if fit >= short.Fit {
				short.Fit, short.Kind = fit, s.kinds[scarce].Name
			}
			if radius == least {
				atLeast++
			}
			if best == nil && (atLeast == lastFills || atLeast > 0 && float64(got) < 0.8*float64(asked)) {
				break
			}
		}
		radius = next(radius, float64(got), float64(asked), enough, tooFew, least)
	}
	if best == nil {
		return nil, short
	}
	return best, nil
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

// next returns the distance to try after a fill at radius that held got pieces where asked are
// wanted. Between a distance known to give enough and one known to give too few it stays between.
func next(radius, got, asked, enough, tooFew, least float64) float64 {
	wanted := radius * math.Sqrt(math.Max(got, 1)/(asked+excess(int(asked))))
	if got < asked {
		wanted = math.Min(wanted, 0.995*radius)
	}
	if enough > 0 && !math.IsInf(tooFew, 1) && (wanted <= enough || wanted >= tooFew) {
		wanted = (enough + tooFew) / 2
	}
	return math.Max(least, wanted)
}

// leastRadius returns the distance below which centres need never be tried: the spacing asked, or
// what the outlines themselves keep, or what would make fifty places for every piece.
func (s *search) leastRadius(area float64) float64 {
	core := s.leastCore(s.quotas)
	return max(s.comp.Spacing, 2*core+s.comp.Gap, math.Sqrt(area/float64(50*s.comp.Count)))
}

func (s *search) report(done int) {
	if s.progress != nil && done%64 == 0 {
		s.progress(min(done, s.comp.Count), s.comp.Count)
	}
}

// column is the width of the strips of a face in which pieces are numbered, top to bottom, in mm:
// about what one reaches from one place of a ladder (common practice).
const column = 600

// pieces returns the pieces that stand, numbered in hanging order: by face, by columns from the
// left, and down each column.
func (c *composer) pieces() []Piece {
	var out []Piece
	for _, i := range c.remaining() {
		p := c.placed[i]
		out = append(out, Piece{
			Kind: p.kind, Face: c.faces[p.point.Chart], At: p.point.At, Heading: p.heading,
		})
	}
	slices.SortFunc(out, func(a, b Piece) int {
		return cmp.Or(
			cmp.Compare(a.Face, b.Face),
			cmp.Compare(math.Floor(a.At.X/column), math.Floor(b.At.X/column)),
			cmp.Compare(b.At.Y, a.At.Y),
			cmp.Compare(a.At.X, b.At.X))
	})
	for i := range out {
		out[i].ID = i + 1
	}
	return out
}
