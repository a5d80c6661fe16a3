package sheet

import (
	"slices"

	"wallshoal/export/holemap"
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

// islands returns the printed sheets in groups: those of one meet one another, if only by way of others, and
// none of another group.
func islands(tiles []Tile) [][]Tile {
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

// Rounds returns the stands with the pieces that hang in a second round: all whose paper is not down when
// their stand is drilled, or that lie over a piece of a later stand. Older are the works whose sheets hang
// as well, as Since takes them. The error says what is wrong with the print or the work.
func Rounds(w holemap.Work, older []holemap.Work, stands []stand.Stand, p Print) ([]stand.Stand, error) {
	papers, err := papersOf(w, older, stands, p)
	if err != nil {
		return nil, err
	}
	return inRounds(stands, papers), nil
}

// A paper is what hangs on one face while it is drilled.
type paper struct {
	view
	tiles []Tile
	down  map[string]int // after which stand a sheet comes down, by its name
	alone map[int]bool   // stands whose sheets meet none that another stand drills
}

// papersOf returns the paper on every face that has a stand, by face.
func papersOf(w holemap.Work, older []holemap.Work, stands []stand.Stand, p Print) (map[int]paper, error) {
	of, out := stand.Of(stands), map[int]paper{}
	for _, s := range stands {
		if _, known := out[s.Face]; known {
			continue
		}
		v, err := look(w, s.Face)
		if err != nil {
			return nil, err
		}
		tiles, err := v.hanging(older, p)
		if err != nil {
			return nil, err
		}
		out[s.Face] = paper{v, tiles, ComeDown(tiles, v.lastOf(tiles, of)), v.aloneOn(tiles, of)}
	}
	return out, nil
}

// inRounds finds the pieces that hang in a second round.
func inRounds(stands []stand.Stand, papers map[int]paper) []stand.Stand {
	ready := map[int]int{} // after which stand a piece can hang
	for _, p := range papers {
		for _, t := range p.tiles {
			if len(t.Holes) == 0 {
				continue
			}
			for _, n := range t.pieces {
				id := p.view.pieces[n].ID
				ready[id] = max(ready[id], p.down[t.Name])
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

// hanging returns the tiles of a face as its sheets hang: cut anew, or over those of older works.
func (v view) hanging(older []holemap.Work, p Print) ([]Tile, error) {
	if len(v.holes) == 0 {
		return nil, nil
	}
	if len(older) == 0 {
		return v.tiles(p)
	}
	f, err := revised(v.work, older, v.index, p)
	if err != nil {
		return nil, err
	}
	return f.tiles, nil
}

// lastOf returns the last stand that drills through each sheet, by its name, given the stand of each piece.
func (v view) lastOf(tiles []Tile, of map[int]int) map[string]int {
	last := map[string]int{}
	for _, t := range tiles {
		for _, i := range t.Holes {
			last[t.Name] = max(last[t.Name], of[v.work.Map.Holes[i].Piece])
		}
	}
	return last
}

// aloneOn returns the stands whose sheets meet none that another stand drills, so that they can go up, be
// drilled and come down by themselves, given the stand of each piece.
func (v view) aloneOn(tiles []Tile, of map[int]int) map[int]bool {
	alone := map[int]bool{}
	var hung []Tile
	for _, t := range tiles {
		for _, i := range t.Holes {
			alone[of[v.work.Map.Holes[i].Piece]] = true
		}
		if len(t.Holes) > 0 {
			hung = append(hung, t)
		}
	}
	standsOf := func(t Tile) []int {
		var out []int
		for _, i := range t.Holes {
			out = append(out, of[v.work.Map.Holes[i].Piece])
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
