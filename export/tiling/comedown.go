package tiling

import (
	"slices"

	"wallshoal/export/elevation"
	"wallshoal/export/stand"
	"wallshoal/wall/plane"
)

// ComeDown returns after which stand each printed sheet of a face can come down, by its name, given its
// tiles in the order in which they are put up and the last stand that drills through each. A sheet is taped
// to what it lies over, which is every sheet before it that it meets, so those come down after it.
func ComeDown(tiles []Tile, last map[string]int) map[string]int {
	var hung []Tile
	for _, t := range tiles {
		if len(t.Holes) > 0 {
			hung = append(hung, t)
		}
	}
	down := make([]int, len(hung))
	for i := len(hung) - 1; i >= 0; i-- {
		down[i] = last[hung[i].Name]
		for j := i + 1; j < len(hung); j++ {
			if hung[i].meets(hung[j]) {
				down[i] = max(down[i], down[j])
			}
		}
	}
	out := make(map[string]int, len(hung))
	for i, t := range hung {
		out[t.Name] = down[i]
	}
	return out
}

// meets reports whether two sheets lie over one another where they hang.
func (t Tile) meets(other Tile) bool { return other.Area.Overlaps(t.Area.Grow(-0.01)) }

// Islands returns the printed sheets in groups: those of one meet one another, if only by way of others, and
// none of another group.
func Islands(tiles []Tile) [][]Tile {
	inner := make([]plane.Rect, len(tiles)) // as meets shrinks them
	for i, t := range tiles {
		inner[i] = t.Area.Grow(-0.01)
	}
	var groups [][]int
	for i, t := range tiles {
		if len(t.Holes) == 0 {
			continue
		}
		own := []int{i}
		groups = slices.DeleteFunc(groups, func(group []int) bool {
			if !slices.ContainsFunc(group, func(k int) bool { return tiles[k].Area.Overlaps(inner[i]) }) {
				return false
			}
			own = append(own, group...)
			return true
		})
		groups = append(groups, own)
	}
	out := make([][]Tile, len(groups))
	for i, group := range groups {
		for _, k := range group {
			out[i] = append(out[i], tiles[k])
		}
	}
	return out
}

// Rounds returns the stands of the work with the pieces that hang in a second round: all whose paper is not
// down when their stand is drilled, or that lie over a piece of a later stand.
func (c Cut) Rounds(stands []stand.Stand) []stand.Stand { return InRounds(stands, c.Papers(stands)) }

// A Paper is what hangs on one face while it is drilled.
type Paper struct {
	CutFace
	Down  map[string]int // after which stand a sheet comes down, by its name
	Alone map[int]bool   // stands whose sheets meet none that another stand drills
}

// Papers returns the paper on every face that has a stand, by face.
func (c Cut) Papers(stands []stand.Stand) map[int]Paper {
	of, out := stand.Of(stands), map[int]Paper{}
	for _, s := range stands {
		if _, known := out[s.Face]; !known {
			f := c.Faces[s.Face]
			out[s.Face] = Paper{f, ComeDown(f.Tiles, lastOf(f.View, f.Tiles, of)), aloneOn(f.View, f.Tiles, of)}
		}
	}
	return out
}

// InRounds finds the pieces that hang in a second round.
func InRounds(stands []stand.Stand, papers map[int]Paper) []stand.Stand {
	ready := map[int]int{} // after which stand a piece can hang
	for _, p := range papers {
		for _, t := range p.Tiles {
			if len(t.Holes) == 0 {
				continue
			}
			for _, n := range t.Pieces {
				id := p.View.Pieces[n].ID
				ready[id] = max(ready[id], p.Down[t.Name])
			}
		}
	}
	out := slices.Clone(stands)
	for i, s := range out {
		for _, wait := range s.Waits {
			ready[wait.Piece] = max(ready[wait.Piece], wait.Stand)
		}
		out[i].Later = nil
		for _, id := range s.Pieces {
			if ready[id] > s.Number {
				out[i].Later = append(out[i].Later, id)
			}
		}
	}
	return out
}

// lastOf returns the last stand that drills through each sheet, by its name, given the stand of each piece.
func lastOf(v elevation.View, tiles []Tile, of map[int]int) map[string]int {
	last := map[string]int{}
	for _, t := range tiles {
		for _, i := range t.Holes {
			last[t.Name] = max(last[t.Name], of[v.Work.Map.Holes[i].Piece])
		}
	}
	return last
}

// aloneOn returns the stands whose sheets meet none that another stand drills, so that they can go up, be
// drilled and come down by themselves, given the stand of each piece.
func aloneOn(v elevation.View, tiles []Tile, of map[int]int) map[int]bool {
	alone := map[int]bool{}
	var hung []Tile
	for _, t := range tiles {
		for _, i := range t.Holes {
			alone[of[v.Work.Map.Holes[i].Piece]] = true
		}
		if len(t.Holes) > 0 {
			hung = append(hung, t)
		}
	}
	standsOf := func(t Tile) []int {
		var out []int
		for _, i := range t.Holes {
			out = append(out, of[v.Work.Map.Holes[i].Piece])
		}
		slices.Sort(out)
		return slices.Compact(out)
	}
	for i, a := range hung {
		meet := standsOf(a)
		for _, b := range hung[i+1:] {
			if a.meets(b) {
				meet = append(meet, standsOf(b)...)
			}
		}
		slices.Sort(meet)
		if meet = slices.Compact(meet); len(meet) > 1 {
			for _, s := range meet {
				alone[s] = false
			}
		}
	}
	return alone
}
