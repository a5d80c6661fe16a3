package scope

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"wallshoal/export/holemap"
	"wallshoal/export/number"
	"wallshoal/scatter"
)

// drilled returns of every piece its number, the mark of its holes and its wall.
func drilled(work holemap.Work) []string {
	marks := holemap.PieceMarks(work.Site, work.Map.Holes)
	var all []string
	inOrder := slices.SortedFunc(slices.Values(work.Layout.Pieces), func(a, b scatter.Piece) int { return cmp.Compare(a.ID, b.ID) })
	for _, p := range inOrder {
		all = append(all, fmt.Sprintf("%d %s %s", p.ID, marks[p.ID], work.Site.Room.Walls[work.Site.Faces[p.Face].Wall].Name))
	}
	return all
}

// A drilling is one line of Scope.Drilled.
type drilling struct{ mark, wall string }

// drillings reads Scope.Drilled by the numbers of the pieces; what cannot be read is left out.
func drillings(lines []string) map[int]drilling {
	all := map[int]drilling{}
	for _, line := range lines {
		if parts := strings.SplitN(line, " ", 3); len(parts) == 3 {
			if n, err := strconv.Atoi(parts[0]); err == nil {
				all[n] = drilling{parts[1], parts[2]}
			}
		}
	}
	return all
}

// drilled names the pieces of which the holes are others, by number and wall. An older scope may not say which they were.
func (c *changes) drilled(old, now []string) {
	if len(old) == 0 || len(now) == 0 {
		return
	}
	before, after := drillings(old), drillings(now)
	others := map[[2]string][]int{} // by what became of them, and the wall
	for n, b := range before {
		switch a, there := after[n]; {
		case !there:
			others[[2]string{"are gone", b.wall}] = append(others[[2]string{"are gone", b.wall}], n)
		case a != b:
			others[[2]string{"are others", a.wall}] = append(others[[2]string{"are others", a.wall}], n)
		}
	}
	for n, a := range after {
		if _, there := before[n]; !there {
			others[[2]string{"are new", a.wall}] = append(others[[2]string{"are new", a.wall}], n)
		}
	}
	var keys [][2]string
	for key := range others {
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(a, b [2]string) int { return slices.Compare(a[:], b[:]) })
	for _, key := range keys {
		ids := slices.Sorted(slices.Values(others[key]))
		c.add(Holes, "%s: the holes of %s %s: %s", key[1], number.Of(len(ids), "piece"), key[0], number.Runs(ids))
	}
}
