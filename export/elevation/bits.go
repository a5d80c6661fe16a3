package elevation

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
)

// BitHeight is how high the letters are that name a bit, mm.
const BitHeight = draw.Letter25

// A DrillKind is one way to make a hole.
type DrillKind struct {
	Bit, Depth float64
	Fixing     string
}

// Drills counts the holes of the face by bit, depth and fixing, the smallest bit first.
func (v View) Drills() ([]DrillKind, map[DrillKind]int) {
	counts := map[DrillKind]int{}
	for _, h := range v.Holes {
		counts[DrillOf(h)]++
	}
	order := slices.SortedFunc(maps.Keys(counts), func(a, b DrillKind) int {
		return cmp.Or(cmp.Compare(a.Bit, b.Bit), cmp.Compare(a.Depth, b.Depth), strings.Compare(a.Fixing, b.Fixing))
	})
	return order, counts
}

// DrillOf returns how a hole is made.
func DrillOf(h holemap.Hole) DrillKind { return DrillKind{h.Bit, h.Depth, h.Fixing} }
