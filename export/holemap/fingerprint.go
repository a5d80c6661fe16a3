package holemap

import (
	"crypto/sha256"
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/wall"
)

// marks are the sixteen characters of a fingerprint. None is easily taken for another when read
// off a crumpled sheet or over the telephone, and there is no vowel, so that no word appears.
const marks = "3479CDFHJKMPRTWX"

// fingerprintLength is how many marks a fingerprint has: 32 bits, so that two layouts share one
// by accident about once in four thousand million.
const fingerprintLength = 8

// fingerprint returns the hash of what is drilled: the walls and faces by name, and on them every
// place to 0.1 mm with its bit, depth and fixing. Numbers, and the order of holes, are left out.
func fingerprint(site wall.Site, holes []Hole) string {
	lines := make([]string, len(holes))
	for i, h := range holes {
		lines[i] = drilled(site, h)
	}
	return markOf(lines, fingerprintLength)
}

// pieceMarkLength is how many marks tell the holes of one piece: 64 bits, since a large work has very
// many pieces.
const pieceMarkLength = 16

// PieceMarks returns a hash of what is drilled for each piece that has holes, by the ID of the piece: what
// goes into the fingerprint of a layout, of its own holes alone. It is the same in every layout that has
// these very holes.
func PieceMarks(site wall.Site, holes []Hole) map[int]string {
	lines := map[int][]string{}
	for _, h := range holes {
		lines[h.Piece] = append(lines[h.Piece], drilled(site, h))
	}
	marks := make(map[int]string, len(lines))
	for id, l := range lines {
		marks[id] = markOf(l, pieceMarkLength)
	}
	return marks
}

// drilled returns a hole as it goes into a fingerprint.
func drilled(site wall.Site, h Hole) string {
	face := site.Faces[h.Face]
	return fmt.Sprintf("%q %q %d %d %d %d %q\n", site.Room.Walls[face.Wall].Name, face.Name,
		steps(h.At.X, 10), steps(h.At.Y, 10), steps(h.Bit, 1000), steps(h.Depth, 1000), h.Fixing)
}

// markOf returns a hash of lines, whatever their order.
func markOf(lines []string, length int) string {
	slices.Sort(lines)
	return Mark(strings.Join(lines, ""), length)
}

// Mark returns a hash of a text in so many of the sixteen characters of fingerprints, 32 at most.
func Mark(text string, length int) string {
	sum := sha256.Sum256([]byte(text))
	var b strings.Builder
	for i := range length {
		b.WriteByte(marks[sum[i]%byte(len(marks))])
	}
	return b.String()
}

// steps returns mm as a whole number of steps of 1/perMM millimetres.
func steps(mm, perMM float64) int64 { return int64(math.Round(mm * perMM)) }
