package orderpage

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/stand"
	"wallshoal/export/tiling"
)

// sheetsOf returns the sheets of the hole map that a stand needs, in the order of the face.
func (o *orderBook) sheetsOf(s stand.Stand) []tiling.Tile {
	need := map[string]bool{}
	for _, id := range s.Pieces {
		for _, n := range o.holes[id] {
			need[o.sheets[n]] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(o.papers[s.Face].Tiles), func(t tiling.Tile) bool { return !need[t.Name] })
}

// runsOf names sheets. Those of a row whose columns follow on one another by step, 1 or -1, are a run: its
// first and its last with the word between.
func runsOf(tiles []tiling.Tile, step int, word string) string {
	var out []string
	for i := 0; i < len(tiles); {
		n := i + 1
		for n < len(tiles) && tiles[n].Row == tiles[i].Row && tiles[n].Column == tiles[n-1].Column+step && tiles[n].Added == tiles[i].Added {
			n++
		}
		if n-i > 2 {
			out = append(out, tiles[i].Name+word+tiles[n-1].Name)
		} else {
			for _, t := range tiles[i:n] {
				out = append(out, t.Name)
			}
		}
		i = n
	}
	return strings.Join(out, ", ")
}

// sheetWords names the sheets that a stand drills, those that come down after it, and says what hangs then.
func (o *orderBook) sheetWords(s stand.Stand) []drafting.Item {
	need := o.sheetsOf(s)
	if len(need) == 0 {
		return nil
	}
	down := slices.DeleteFunc(slices.Clone(o.papers[s.Face].Tiles), func(t tiling.Tile) bool {
		return len(t.Holes) == 0 || o.papers[s.Face].Down[t.Name] != s.Number
	})
	sheets := runsOf(need, 1, " to ")
	if o.papers[s.Face].Alone[s.Number] {
		sheets += ". They meet no others: they can go up when you stand here"
	}
	out := []drafting.Item{{Lead: "Sheets", Text: sheets}}
	if len(down) > 0 {
		slices.Reverse(down)
		out = append(out, drafting.Item{Lead: "Then take down", Text: "in this order: " + runsOf(down, -1, " back to ")})
	}
	switch {
	case len(s.Later) == 0:
		return append(out, drafting.Item{Lead: "Then hang", Text: "all pieces"})
	case len(s.Later) == len(s.Pieces):
		return append(out, drafting.Item{Lead: "Hang", Text: "none yet, all in the second round: " + o.tooSoon(s)})
	}
	return append(out, drafting.Item{Lead: "Then hang", Text: fmt.Sprintf("%s; %s, marked 2, in the second round: %s", drafting.Count(len(s.Pieces)-len(s.Later), "piece", "pieces"), drafting.Count(len(s.Later), "piece", "pieces"), o.tooSoon(s))})
}

// tooSoon says why pieces of a stand do not hang yet: which sheets that they lie on stay up, and until when.
func (o *orderBook) tooSoon(s stand.Stand) string {
	on := o.papers[s.Face]
	last := 0
	up := slices.DeleteFunc(slices.Clone(on.Tiles), func(t tiling.Tile) bool {
		stays := len(t.Holes) > 0 && on.Down[t.Name] > s.Number && slices.ContainsFunc(t.Pieces, func(n int) bool { return slices.Contains(s.Later, on.View.Pieces[n].ID) })
		if stays {
			last = max(last, on.Down[t.Name])
		}
		return !stays
	})
	for _, w := range s.Waits {
		if len(up) == 0 {
			last = max(last, w.Stand)
		}
	}
	it := "they"
	if len(s.Later) == 1 {
		it = "it"
	}
	switch {
	case len(up) == 0:
		return fmt.Sprintf("%s would lie over what stand %d hangs", it, last)
	case len(up) == 1:
		return fmt.Sprintf("%s would cover %s, which stays up until stand %d", it, up[0].Name, last)
	}
	return fmt.Sprintf("%s would cover %s, which stay up until stand %d", it, runsOf(up, 1, " to "), last)
}
