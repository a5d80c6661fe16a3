package holemap

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wallshoal/export/caution"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// Make returns every hole of every piece of the layout, turned with the piece. Holes are numbered
// from 1 in hanging order: by face in the order of the site, then by the ID of the piece, then by
// the order in which the kind names its holes. With them come the cautions that apply. The order in which the layout holds its pieces
// changes nothing.
//
// It fails on the first piece that has no kind, no face or no place, and on IDs that repeat.
func Make(site wall.Site, kinds []scatter.Kind, layout scatter.Layout) (Map, error) {
	return MakeWithin(site, kinds, layout, caution.UsualLimits())
}

// MakeWithin is Make with limits of the caller's for the cautions.
func MakeWithin(site wall.Site, kinds []scatter.Kind, layout scatter.Layout, limits caution.Limits) (Map, error) {
	pieces := inHangingOrder(layout.Pieces)
	if err := check(site, kinds, pieces); err != nil {
		return Map{}, err
	}
	found := caution.Find(site, kinds, layout, limits)
	var holes []Hole
	for _, p := range pieces {
		holes = append(holes, holesOf(p, site, kinds, found)...)
	}
	for i := range holes {
		holes[i].Number = i + 1
	}
	return Map{
		Holes: holes, Fingerprint: fingerprint(site, holes), Cautions: found.Cautions, Shares: found.Shares, Unmet: found.Unmet,
	}, nil
}

func inHangingOrder(pieces []scatter.Piece) []scatter.Piece {
	return slices.SortedStableFunc(slices.Values(pieces), func(a, b scatter.Piece) int {
		return cmp.Or(cmp.Compare(a.Face, b.Face), cmp.Compare(a.ID, b.ID))
	})
}

func check(site wall.Site, kinds []scatter.Kind, pieces []scatter.Piece) error {
	seen := make(map[int]bool, len(pieces))
	for _, p := range pieces {
		switch {
		case seen[p.ID]:
			return fmt.Errorf("piece %d is listed twice; give every piece a number of its own", p.ID)
		case p.Kind < 0 || p.Kind >= len(kinds):
			return fmt.Errorf("piece %d is of kind number %d, and there are %d kinds", p.ID, p.Kind, len(kinds))
		case p.Face < 0 || p.Face >= len(site.Faces):
			return fmt.Errorf("piece %d is on face number %d, and there are %d faces", p.ID, p.Face, len(site.Faces))
		case !p.At.Finite() || math.IsNaN(float64(p.Heading)) || math.IsInf(float64(p.Heading), 0):
			return fmt.Errorf("piece %d has no place or heading that can be measured", p.ID)
		}
		seen[p.ID] = true
	}
	return nil
}

func holesOf(p scatter.Piece, site wall.Site, kinds []scatter.Kind, found caution.Report) []Hole {
	face, kind := site.Faces[p.Face], kinds[p.Kind]
	holes := make([]Hole, len(kind.Holes))
	for i, h := range kind.Holes {
		at := p.HoleAt(kinds, i)
		holes[i] = Hole{
			Piece:     p.ID,
			Kind:      p.Kind,
			Code:      kind.Code,
			Face:      p.Face,
			At:        at,
			FromDatum: micrometre(face.Frame.At(at).Z - site.Room.Datum),
			Bit:       h.Bit,
			Depth:     h.Depth,
			Fixing:    h.Fixing,
			Heading:   p.Heading,
			Cautions:  found.OfHole(p.ID, i),
		}
	}
	return holes
}

// Upright reports whether a face stands upright, so that its places have a height above the floor
// and against the datum that runs with its y. Tops, undersides, ceilings and slopes do not.
func Upright(f wall.Face) bool {
	const straight = 0.999 // the least cosine of the angle between the way up the face and straight up
	return f.Frame.Up.Z >= straight
}

// micrometre rounds a length in mm to 0.001 mm, so that a frame's arithmetic leaves no trace.
// Adding 0 turns a negative zero into zero.
func micrometre(mm float64) float64 { return math.Round(mm*1000)/1000 + 0 }
