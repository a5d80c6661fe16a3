package scatter

import (
	"fmt"
	"math"
	"strings"

	"wallshoal/scatter/heading"
	"wallshoal/scatter/poisson"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// A Seat says that a piece stands otherwise than it was thrown, because a hole of it would have
// fallen where none may be drilled.
type Seat struct {
	ID     int
	Thrown Piece // as it was thrown, without an ID
}

// Why says of which hole where it would have been, of a piece as it was thrown; nothing where it was
// too near to the hole of another piece. Lengths are in the given unit.
func (s Seat) Why(site wall.Site, kinds []Kind, units measure.Unit) string {
	i := inspector{site: site, kinds: kinds, units: units}
	for h := range kinds[s.Thrown.Kind].Holes {
		if where := i.hole(s.Thrown, h); where != "" {
			return i.holeName(s.Thrown, h) + " " + where
		}
	}
	return ""
}

// Tell says in a sentence by how much the piece, which stands as now, was put otherwise, and why.
// Lengths are in the given unit.
func (s Seat) Tell(site wall.Site, kinds []Kind, now Piece, units measure.Unit) string {
	var how []string
	if d := now.At.Distance(s.Thrown.At); d > 0 {
		how = append(how, "moved "+measure.Precise(d, units))
	}
	was := s.Thrown.Heading.Turned(kinds[now.Kind].Offset - kinds[s.Thrown.Kind].Offset)
	if turn := heading.Difference(now.Heading, was); turn > 0 {
		how = append(how, fmt.Sprintf("turned %.1f°", turn))
	}
	why := s.Why(site, kinds, units)
	if why == "" {
		why = "a hole would have been too near to that of another piece"
	} else {
		why = "as it was thrown " + why
	}
	return fmt.Sprintf("piece %d %s: %s", s.ID, strings.Join(how, " and "), why)
}

// tried is how many other places and headings are tried for a piece of which a hole falls where none
// may be drilled.
const tried = 16

// seat looks for a place and a heading near those of s where every hole may be drilled, within what
// the composition allows, and returns the piece that stands there.
func (c *composer) seat(s stance) (placed, obstacle) {
	limits := c.comp.Seating
	if limits.Move == 0 && limits.Turn == 0 || !c.withinReach(s) {
		return placed{}, badHole
	}
	for n := range tried {
		far := float64(n+1) / tried // from near to far, so that little is changed
		try := s
		try.heading = s.heading.Turned(float64(far*limits.Turn) * (2*c.rng.Float64() - 1))
		sin, cos := math.Sincos(2 * math.Pi * c.rng.Float64())
		move := far * limits.Move * c.rng.Float64()
		try.point.At = s.point.At.Add(plane.Point{X: float64(move * cos), Y: float64(move * sin)}).Snap(poisson.PerMM)
		if try.point.At != s.point.At && c.grid.Crowded(try.point) {
			continue
		}
		if piece, found := c.stand(try, -1); found == fits {
			piece.thrown = &s
			return piece, fits
		}
	}
	return placed{}, badHole
}

// withinReach reports whether every hole of a piece that stands so may come to where it can be
// drilled, by as much as the piece may move and turn.
func (c *composer) withinReach(s stance) bool {
	face := &c.site.Faces[c.faces[s.point.Chart]]
	drill := c.room[s.point.Chart][s.kind].drill
	kind := c.kinds[s.kind]
	for i, h := range kind.Holes {
		at := kind.holeAt(i, s.point.At, s.heading)
		far := c.comp.Seating.Move + float64(h.At.Len()*c.comp.Seating.Turn*(math.Pi/180)) + 1
		if !drill.Clear(at, -far) || face.DrillMargin(at, h.Bit) < -far {
			return false
		}
	}
	return true
}

// seats returns which of the pieces were seated, in their order.
func (c *composer) seats(pieces []Piece) []Seat {
	type spot struct {
		face int
		at   plane.Point
	}
	thrown := map[spot]stance{}
	for i := range c.placed {
		if p := &c.placed[i]; !p.gone && p.thrown != nil {
			thrown[spot{c.faces[p.point.Chart], p.point.At}] = *p.thrown
		}
	}
	var out []Seat
	for _, p := range pieces {
		if s, ok := thrown[spot{p.Face, p.At}]; ok {
			out = append(out, Seat{p.ID, c.piece(s)})
		}
	}
	return out
}
