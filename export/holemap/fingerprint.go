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
		face := site.Faces[h.Face]
		lines[i] = fmt.Sprintf("%q %q %d %d %d %d %q\n", site.Room.Walls[face.Wall].Name, face.Name,
			steps(h.At.X, 10), steps(h.At.Y, 10), steps(h.Bit, 1000), steps(h.Depth, 1000), h.Fixing)
	}
	slices.Sort(lines)
	return Mark(strings.Join(lines, ""), fingerprintLength)
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
