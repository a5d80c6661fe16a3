package template

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
	"wallshoal/export/tiling"
)

// hangWords says how the paper gives way to the pieces: what is written on the wall before the sheet
// that shows it is lifted, and how each piece then finds its holes and its way round.
func (k *keyPage) hangWords() string {
	one, more := false, false
	for _, f := range k.faces {
		for _, p := range f.Pieces {
			one, more = one || len(p.Kind.Holes) == 1, more || len(p.Kind.Holes) > 1
		}
	}
	lost := ""
	switch {
	case one && more:
		lost = " With the paper goes the way round: one hole does not tell it, and a piece with several can go on the wrong way round."
	case one:
		lost = " With the paper goes the way round: one hole does not tell it."
	case more:
		lost = " With the paper goes the way round: a piece with several holes can go on the wrong way round."
	}
	shown := "an arrow the way it heads, as the sheet shows it"
	if k.print.HolesOnly {
		shown = "an arrow the way it heads, both as the order of work gives them for the hole's number"
	}
	return "A sheet stays up until its last stand has drilled it and no sheet lies on it any more: the order of work says when. Then cut the tape of its joints, so that the sheet under it stays, turn it back from its free edges and, before it comes off, stick masking tape on the wall beside the first hole of every piece: write on it the number of the piece and " + shown + "." +
		lost + " Then lift the sheet and fix each piece to its holes, its head the way of the arrow. The order of work has the holes and the heading of every piece, should a tape be lost."
}

// firstWords says in which order sheets go up, are drilled and come down.
func (k *keyPage) firstWords() string {
	if slices.ContainsFunc(k.faces, func(f *keyFace) bool { return len(tiling.Islands(f.Tiles)) > 1 }) {
		return SheetsFirst + " " + sheetsApart
	}
	return SheetsFirst
}

// HoleNumbers words the numbers of the holes of a piece, those that follow on one another as a run.
func HoleNumbers(numbers []int) string {
	sorted := slices.Sorted(slices.Values(numbers))
	var out []string
	for i := 0; i < len(sorted); {
		n := i + 1
		for n < len(sorted) && sorted[n] == sorted[n-1]+1 {
			n++
		}
		switch n - i {
		case 1:
			out = append(out, fmt.Sprint(sorted[i]))
		case 2:
			out = append(out, fmt.Sprint(sorted[i]), fmt.Sprint(sorted[i+1]))
		default:
			out = append(out, fmt.Sprintf("%d–%d", sorted[i], sorted[n-1]))
		}
		i = n
	}
	return strings.Join(out, ", ")
}

// pastWords says what to do where a sheet runs past an edge of its face.
func (k *keyPage) pastWords() string {
	const ends = "Where the face ends at the right or below, the frame is as heavy there: once the check bars have been measured, cut along it too."
	if slices.ContainsFunc(k.faces, func(f *keyFace) bool { return holemap.Upright(f.Face) }) {
		return ends + " Where a sheet runs past an inside corner, cut or fold it there; past an outside corner, a slope or an end of the wall cut it there."
	}
	return ends + " Where a sheet runs past an inside corner, cut or fold it there; past an outside corner cut it there."
}

// whereOf says of which holes the count of a caution is, where it is not of the page's alone.
func (k *keyPage) whereOf(c caution.Caution) string {
	if c.Face != "" || c.Holes <= len(k.whole().Holes) && k.onlyFaces() {
		return ""
	}
	if k.first().Wall.Ceiling {
		return " on the whole ceiling"
	}
	return " on the whole wall"
}

// onlyFaces reports whether no other face of the wall has holes.
func (k *keyPage) onlyFaces() bool {
	v := k.first()
	return !slices.ContainsFunc(v.Work.Map.Holes, func(h holemap.Hole) bool {
		return v.Work.Site.Faces[h.Face].Wall == v.Face.Wall && !slices.ContainsFunc(k.faces, func(f *keyFace) bool { return f.Index == h.Face })
	})
}

const sheetsApart = "Sheets that meet none of another stand can wait until that stand, and be put up, drilled and taken down by themselves."

// SheetsFirst says that paper goes up before anything is drilled.
const SheetsFirst = "Put up all sheets that meet one another before any of them is drilled, row by row, as their key says; then drill stand by stand, in the order of work, and hang what it says can hang there; the rest hangs in a second round, when their paper is down."
