package scatter

import (
	"context"
	"fmt"
	"math/rand/v2"

	"wallshoal/scatter/mixing"
	"wallshoal/wall"
)

// A Start is what a layout begins from.
type Start struct {
	Kept  []Piece // these stay as they are, to the last bit, wherever they are and whatever they meet
	Faces []int   // new pieces go on these faces of the site alone; nil for every face that is used
}

// Lay composes a layout: exactly comp.Count pieces over all used faces, each outline whole on its
// face and clear of everything there, every hole where it may be drilled, outlines at least
// comp.Gap apart or overlapping by no more than comp.Overlap, and centres at least comp.Spacing
// apart as wall.Way measures. The pieces spread over all the room there is, as comp.Density says:
// the distance they keep is the widest, not below comp.Spacing, at which so many fit. Kinds meet
// their quotas, and lie among one another as comp.Mixing says.
//
// The same arguments give the same layout. Where not all fit the error is a *ShortfallError; it is
// a wall.Problem where the counts contradict one another, and ctx's where it is cancelled.
// Progress, which may be nil, is told now and then how many pieces of how many stand.
func Lay(ctx context.Context, site wall.Site, kinds []Kind, comp Composition, seed uint64,
	progress func(done, total int)) (Layout, error) {
	return LayFrom(ctx, site, kinds, comp, Start{}, seed, progress)
}

// LayFrom is Lay round pieces that stand already. They count among the comp.Count, and keep their
// IDs; new pieces keep off them as off one another. What the kept pieces meet themselves is not
// asked here: see Inspect.
func LayFrom(ctx context.Context, site wall.Site, kinds []Kind, comp Composition, start Start, seed uint64,
	progress func(done, total int)) (Layout, error) {
	quotas, err := quotasWith(kinds, comp.Count, start.Kept)
	if err != nil {
		return Layout{}, err
	}
	if len(start.Kept) == comp.Count {
		return Layout{Seed: seed, Pieces: numbered(site, kinds, nil, start.Kept, false)}, nil
	}
	g, err := newGround(ctx, site, kinds, comp, start.Faces)
	if err != nil {
		return Layout{}, err
	}
	s := search{
		ground: g, kinds: kinds, comp: comp, quotas: quotas, kept: start.Kept, seed: seed, progress: progress,
	}
	if g.weight == 0 {
		return Layout{}, &ShortfallError{Asked: comp.Count, Spacing: comp.Spacing}
	}
	wish := g.wishOf(kinds, comp, quotas, rand.New(rand.NewPCG(seed, wishes)))
	if comp.Mixing.Way == mixing.Drifting || comp.Mixing.Way == mixing.Families {
		s.wish = wish
	}
	c, err := s.run(ctx)
	if err != nil {
		return Layout{}, err
	}
	c.mix(wish)
	pieces := numbered(site, kinds, c.fresh(), start.Kept, comp.Overlap > 0)
	return Layout{Seed: seed, Pieces: pieces, Seated: c.seats(pieces)}, nil
}

// wishes is the random stream of a seed that says which kinds belong where; those of the fills count
// from 0.
const wishes = 1 << 32

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
