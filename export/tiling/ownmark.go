package tiling

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/wall/plane"
)

// OwnMarkLength is how many signs the mark of a sheet has: two sheets of one name share one by
// accident about once in sixteen million.
const OwnMarkLength = 6

// OwnMark returns the mark of a tile: a hash of its name, of the part of the wall that it shows, and of
// every hole on it, with its number, and whether it is flagged. Sheets that bear one name and one mark
// are as good as one another.
func OwnMark(v elevation.View, t Tile, mirror bool) string {
	lines := []string{fmt.Sprintf("%q %q %q %v %v %t\n", v.Wall.Name, v.Face.Name, t.Name, tenths(t.Cell), tenths(t.Area), mirror)}
	for i, list := range [][]int{t.Holes, t.Beyond} {
		var holes []string
		for _, n := range list {
			h := v.Work.Map.Holes[n]
			at := tenths(plane.Rect{Min: h.At})
			holes = append(holes, fmt.Sprintf("%d %d %d %d %d %d %q %d %t\n", i, at[0], at[1], tenth(h.Bit*100), tenth(h.Depth*100), h.Piece, h.Fixing, h.Number, v.Flagged(h)))
		}
		slices.Sort(holes)
		lines = append(lines, holes...)
	}
	return holemap.Mark(strings.Join(lines, ""), OwnMarkLength)
}

// tenth returns mm as a whole number of tenths.
func tenth(mm float64) int64 { return int64(math.Round(mm * 10)) }

func tenths(r plane.Rect) [4]int64 {
	return [4]int64{tenth(r.Min.X), tenth(r.Min.Y), tenth(r.Max.X), tenth(r.Max.Y)}
}
