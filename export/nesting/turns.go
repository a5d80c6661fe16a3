package nesting

import (
	"math"
	"slices"
)

// turnStep is how finely turns are tried where any will do, in degrees.
const turnStep = 30

// turns returns every turn that is tried of the part, in degrees, the first as drawn.
func (s Stock) turns(p Part) []float64 {
	var all []float64
	for _, set := range s.sets(p) {
		for _, t := range set {
			if !slices.Contains(all, t) {
				all = append(all, t)
			}
		}
	}
	return all
}

// sets returns the sets of turns that are tried one after another: a few turns often nest better than
// all of them, since a piece laid as low as it goes may block the row that a neighbour would complete.
func (s Stock) sets(p Part) [][]float64 {
	switch s.Turn {
	case Fixed:
		return [][]float64{{0}}
	case Half:
		return [][]float64{{0}, {0, 180}}
	case Quarter:
		return [][]float64{{0}, {0, 180}, {90, 270}, {90}, {0, 90, 180, 270}}
	}
	sets := [][]float64{{0}, {0, 180}, {90, 270}, {90}, {0, 90, 180, 270}}
	low := leastBox(p)
	sets = append(sets, []float64{low, wrapped(low + 180)}, []float64{wrapped(low + 90), wrapped(low + 270)})
	var fine []float64
	for t := 0.0; t < 360; t += turnStep {
		fine = append(fine, wrapped(low+t))
	}
	return append(sets, fine)
}

func wrapped(degrees float64) float64 {
	return math.Round(math.Mod(degrees+360, 360)*100)/100 + 0
}

// leastBox returns the turn, from 0 to below 90°, in which the part's bounding box is least: one side
// of such a box lies along an edge of the convex hull, so the edges' directions are tried. Freeman and
// Shapira, Determining the minimum-area encasing rectangle for an arbitrary closed curve,
// Communications of the ACM 18, 1975 (from memory).
func leastBox(p Part) float64 {
	best, least := 0.0, math.Inf(1)
	try := func(degrees float64) {
		_, box := turned(p.Outline, degrees)
		// A turn has to gain something that can be seen before the piece is taken off its own axes.
		if area := math.Round(float64(box.Width() * box.Height())); area < least*0.999 {
			best, least = degrees, area
		}
	}
	try(0)
	for i, a := range p.Outline {
		b := p.Outline[(i+1)%len(p.Outline)]
		try(math.Mod(wrapped(-b.Sub(a).Angle()*180/math.Pi), 90))
	}
	return math.Round(best*100) / 100
}
