package caution

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A PieceCaution is a caution as it speaks of one piece: it counts only this piece and the holes of it that
// it speaks of, and its text has the figures and the neighbours of this piece alone.
type PieceCaution struct {
	Caution
	Heading string // what it is, in a few plain words
	At      []int  // the holes of the piece that it speaks of, by their indexes, ascending
	from    string // what it comes from
}

// Same reports whether both say the same of a piece, though their figures may differ: of the same severity, and
// for the same things on the wall or the same other pieces.
func (c PieceCaution) Same(other PieceCaution) bool {
	return c.Code == other.Code && c.Severity == other.Severity && c.Wall == other.Wall && c.from == other.from
}

// Of returns the cautions that speak of the piece with that ID, in the order that Find has: those that
// Report.OfHole names for its holes, and where the piece burns what those that burn may cover of its wall. The
// rest of what is true of a whole wall is not among them. It looks at the piece and those near to it, and
// so takes much less time than Find. Every piece must have a kind, a face and an ID of its own; it returns
// nothing for an ID that no piece has.
func Of(site wall.Site, kinds []scatter.Kind, layout scatter.Layout, limits Limits, id int) []PieceCaution {
	i := slices.IndexFunc(layout.Pieces, func(p scatter.Piece) bool { return p.ID == id })
	if i < 0 {
		return nil
	}
	p := layout.Pieces[i]
	g := gather(site, limits)
	g.climb([]scatter.Piece{p}, kinds)
	g.alone(p, kinds)
	near := g.near(p, layout.Pieces, kinds)
	g.anchors(near, kinds, limits)
	g.tooNearTo(p, near, kinds)
	w := site.Faces[p.Face].Wall
	if kinds[p.Kind].Combustible {
		if s, applies := g.combustible(w, piecesOn(site, layout.Pieces, w), kinds, limits); applies {
			s.wall, s.face = w, wholeWall
			g.addAll(s, "", p, kinds)
		}
	}
	return g.of(p)
}

// of returns what was found of p.
func (g gathering) of(p scatter.Piece) []PieceCaution {
	var found []PieceCaution
	for _, s := range g.sorted() {
		t := *g.tallies[s]
		t.holes = slices.DeleteFunc(slices.Clone(t.holes), func(at place) bool { return at.piece != p.ID })
		if len(t.holes) == 0 {
			continue
		}
		t.pieces = 1
		from := slices.Sorted(maps.Keys(t.from))
		c := PieceCaution{Caution: g.caution(s, &t), Heading: about(s, t), from: strings.Join(from, "\n")}
		for _, at := range t.holes {
			c.At = append(c.At, at.hole)
		}
		slices.Sort(c.At)
		found = append(found, c)
	}
	return found
}

// near returns p and every piece that can be too near to it, by their IDs.
func (g gathering) near(p scatter.Piece, pieces []scatter.Piece, kinds []scatter.Kind) []scatter.Piece {
	keep, face := g.limits.Keep, g.site.Faces[p.Face]
	apart := math.Max(keep.Gap, keep.Holes)
	reaches := make([]float64, len(kinds))
	for i, k := range kinds {
		for _, q := range k.Outline {
			reaches[i] = math.Max(reaches[i], q.Distance(plane.Point{}))
		}
		for _, h := range k.Holes {
			reaches[i] = math.Max(reaches[i], h.At.Distance(plane.Point{}))
			_, spacing := g.limits.anchorDistances(g.site.Room.Walls[face.Wall].Surface, h)
			apart = math.Max(apart, spacing)
		}
	}
	const slip = 1 // mm, far above what rounding does
	// From beyond an edge the way round it can be shorter than straight across the room: scatter.TooNear looks
	// for pieces within two spacings along each axis.
	round := 2 * math.Sqrt(3) * keep.Spacing
	centre := face.Frame.At(p.At)
	var near []scatter.Piece
	for _, q := range pieces {
		reach := reaches[p.Kind] + reaches[q.Kind] + apart + slip
		if q.Face == p.Face && math.Abs(q.At.X-p.At.X) <= reach && math.Abs(q.At.Y-p.At.Y) <= reach ||
			keep.Spacing > 0 && g.site.Faces[q.Face].Frame.At(q.At).Sub(centre).Len() <= round+slip {
			near = append(near, q)
		}
	}
	slices.SortFunc(near, func(a, b scatter.Piece) int { return cmp.Compare(a.ID, b.ID) })
	return near
}

// tooNearTo is tooNear for p alone, on whose face all is told.
func (g gathering) tooNearTo(p scatter.Piece, near []scatter.Piece, kinds []scatter.Kind) {
	if len(near) < 2 {
		return
	}
	mine := slices.IndexFunc(near, func(q scatter.Piece) bool { return q.ID == p.ID })
	pairs := slices.DeleteFunc(scatter.TooNear(g.site, kinds, near, g.limits.Keep), func(pair scatter.Pair) bool {
		return pair.A != mine && pair.B != mine
	})
	crowded := slices.DeleteFunc(slices.Clone(pairs), overlaps)
	overlapping := slices.DeleteFunc(pairs, func(pair scatter.Pair) bool { return !overlaps(pair) })
	g.overlapping(overlapping, p.Face, near, kinds)
	g.crowded(crowded, p.Face, near, kinds)
}
