package caution

import (
	"math"

	"wallshoal/scatter"
)

// A Share is how much of one wall pieces that burn cover, against what they may.
type Share struct {
	Wall  string
	Burns float64 // the sum of the outlines of pieces that burn, mm²
	Seen  float64 // what can be seen of the faces of the wall, but no more than its flat outline, mm²
	Limit float64 // of the one against the other, 0 to 1
}

// Of returns the share, from 0; more than 1 where pieces overlap much.
func (s Share) Of() float64 {
	if s.Seen <= 0 {
		return 0
	}
	return s.Burns / s.Seen
}

// Kept reports whether the limit is kept. Of a wall that cannot be seen nothing is said.
func (s Share) Kept() bool { return s.Seen <= 0 || s.Burns <= float64(s.Limit*s.Seen) }

// share returns how much of the wall with the index w the pieces on it cover. What stands on a wall has
// more faces than it hides, and no code known to us counts those: so they make the wall no larger.
func (g gathering) share(w int, on []scatter.Piece, kinds []scatter.Kind, limits Limits) Share {
	s := Share{Wall: g.site.Room.Walls[w].Name, Limit: limits.CombustibleShare}
	for _, p := range on {
		if kinds[p.Kind].Combustible {
			s.Burns += math.Abs(kinds[p.Kind].Outline.Area())
		}
	}
	for _, f := range g.site.Faces {
		if f.Wall == w {
			s.Seen += f.Outline.Area()
		}
	}
	at := g.site.Room.Walls[w]
	flat := math.Abs(at.Outline.Area())
	if at.Alone != nil && at.Alone.Back {
		flat *= 2
	}
	if flat > 0 {
		s.Seen = math.Min(s.Seen, flat)
	}
	return s
}
