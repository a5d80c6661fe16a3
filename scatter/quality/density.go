package quality

import (
	"math"

	"wallshoal/wall/plane"
)

// An Area is a part of a face over which pieces are to be spread.
type Area struct {
	Face   int // index into the faces of the site
	Region plane.Region
}

// A Density returns how dense the work is to be at a place, one place against another.
type Density func(Place) float64

// A Patch is a small part of the faces: how many pieces have their centre there, and how many of them
// all the density asked for comes to there.
type Patch struct {
	Have int
	Want float64
}

const (
	// leastWant is how many pieces a patch must come to for its count to say anything: the usual rule
	// for the test of Pearson (W. G. Cochran, Some methods for strengthening the common χ² tests,
	// Biometrics 10 (1954) 417-451, from memory).
	leastWant = 5
	// meanWant is how many pieces a patch comes to where the density is the same everywhere.
	meanWant = 8
	// fine is how many times the density is looked at along the side of a patch.
	fine = 6
	// mostAlong is how many patches there are along a face at most.
	mostAlong = 300
)

// Patches parts the areas into squares, so large that each comes to at least leastWant pieces of the
// density asked, or several squares together where it is low, and counts the places in each. A nil
// density is the same everywhere. There are none where the density asks for nothing, or where there
// are not pieces for two of them.
func Patches(areas []Area, places []Place, density Density) []Patch {
	whole := 0.0
	for _, a := range areas {
		whole += a.Region.Area()
	}
	if len(places) < 2*leastWant || !(whole > 0) {
		return nil
	}
	side := math.Sqrt(meanWant * whole / float64(len(places)))
	for _, a := range areas {
		side = math.Max(side, math.Max(a.Region.Bounds().Width(), a.Region.Bounds().Height())/mostAlong)
	}
	var squares []Patch
	total := 0.0
	for _, a := range areas {
		for _, s := range squaresOf(a, places, side, density) {
			squares = append(squares, s)
			total += s.Want
		}
	}
	if !(total > 0) {
		return nil
	}
	have := 0
	for _, s := range squares {
		have += s.Have
	}
	for i := range squares {
		squares[i].Want *= float64(have) / total
	}
	return gathered(squares)
}

// squaresOf returns the squares of one area, to and fro row by row, so that each lies beside the
// next. What they want is in no unit yet.
func squaresOf(a Area, places []Place, side float64, density Density) []Patch {
	box := a.Region.Bounds()
	columns := max(1, int(math.Ceil(box.Width()/side)))
	rows := max(1, int(math.Ceil(box.Height()/side)))
	squares := make([]Patch, columns*rows)
	at := func(p plane.Point) *Patch {
		column := min(columns-1, max(0, int((p.X-box.Min.X)/side)))
		row := min(rows-1, max(0, int((p.Y-box.Min.Y)/side)))
		if row%2 == 1 {
			column = columns - 1 - column
		}
		return &squares[row*columns+column]
	}
	index := plane.NewIndex(a.Region)
	step := side / fine
	for y := box.Min.Y + step/2; y < box.Max.Y; y += step {
		for x := box.Min.X + step/2; x < box.Max.X; x += step {
			p := plane.Point{X: x, Y: y}
			if !index.Inside(p) {
				continue
			}
			want := 1.0
			if density != nil {
				want = density(Place{Face: a.Face, At: p})
			}
			at(p).Want += want
		}
	}
	for _, p := range places {
		if p.Face == a.Face {
			at(p.At).Have++
		}
	}
	return squares
}

// gathered returns the squares put together in their order, until each comes to enough pieces. What
// is left over goes to the last.
func gathered(squares []Patch) []Patch {
	var out []Patch
	var sum Patch
	for _, s := range squares {
		sum.Have += s.Have
		sum.Want += s.Want
		if sum.Want >= leastWant {
			out, sum = append(out, sum), Patch{}
		}
	}
	if len(out) > 0 {
		out[len(out)-1].Have += sum.Have
		out[len(out)-1].Want += sum.Want
	}
	return out
}

// DispersionIndex returns the statistic of K. Pearson, Σ (have - want)² / want, per degree of freedom:
// On the criterion that a given system of deviations from the probable in the case of a correlated
// system of variables is such that it can be reasonably supposed to have arisen from random sampling,
// Philosophical Magazine 50 (1900) 157-175 (from memory), as a count of points in quadrats takes it.
// It is 1 on average for pieces strewn by chance in the density asked, less for pieces that
// keep to it more closely, and more for pieces that do not; 0 where there are not two patches.
func DispersionIndex(patches []Patch) float64 {
	if len(patches) < 2 {
		return 0
	}
	sum := 0.0
	for _, p := range patches {
		off := float64(p.Have) - p.Want
		sum += off * off / p.Want
	}
	return sum / float64(len(patches)-1)
}

// Displaced returns what share of the pieces would have to be in another patch for every patch to
// have what it wants: half of Σ |have - want|, against all; 0 where there is none.
func Displaced(patches []Patch) float64 {
	sum, all := 0.0, 0.0
	for _, p := range patches {
		sum += math.Abs(float64(p.Have) - p.Want)
		all += p.Want
	}
	if !(all > 0) {
		return 0
	}
	return sum / 2 / all
}
