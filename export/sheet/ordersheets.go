package sheet

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/stand"
)

// sheetsOf returns the sheets of the hole map that a stand needs, in the order of the face.
func (o *orderBook) sheetsOf(s stand.Stand) []Tile {
	need := map[string]bool{}
	for _, id := range s.Pieces {
		for _, n := range o.holes[id] {
			need[o.sheets[n]] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(o.papers[s.Face].tiles), func(t Tile) bool { return !need[t.Name] })
}

// runsOf names sheets, those that follow on one another in a row as a run.
func runsOf(tiles []Tile) string {
	var out []string
	for i := 0; i < len(tiles); {
		n := i + 1
		for n < len(tiles) && tiles[n].Row == tiles[i].Row && tiles[n].Column == tiles[n-1].Column+1 && tiles[n].added == tiles[i].added {
			n++
		}
		if n-i > 2 {
			out = append(out, tiles[i].Name+" to "+tiles[n-1].Name)
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
func (o *orderBook) sheetWords(s stand.Stand) []item {
	need := o.sheetsOf(s)
	if len(need) == 0 {
		return nil
	}
	down := slices.DeleteFunc(slices.Clone(o.papers[s.Face].tiles), func(t Tile) bool {
		return len(t.Holes) == 0 || o.papers[s.Face].down[t.Name] != s.Number
	})
	sheets := runsOf(need)
	if o.papers[s.Face].alone[s.Number] {
		sheets += ". They meet no others: they can go up when you stand here"
	}
	out := []item{{"Sheets", sheets}}
	if len(down) > 0 {
		slices.Reverse(down)
		out = append(out, item{"Then take down", "in this order: " + backwards(down)})
	}
	switch {
	case len(s.Later) == 0:
		return append(out, item{"Then hang", "all pieces"})
	case len(s.Later) == len(s.Pieces):
		return append(out, item{"Hang", "none yet, all in the second round: " + o.tooSoon(s)})
	}
	return append(out, item{"Then hang", fmt.Sprintf("%s; %s, marked 2, in the second round: %s", count(len(s.Pieces)-len(s.Later), "piece", "pieces"), count(len(s.Later), "piece", "pieces"), o.tooSoon(s))})
}

// tooSoon says why pieces of a stand do not hang yet: which sheets that they lie on stay up, and until when.
func (o *orderBook) tooSoon(s stand.Stand) string {
	on := o.papers[s.Face]
	last := 0
	up := slices.DeleteFunc(slices.Clone(on.tiles), func(t Tile) bool {
		stays := len(t.Holes) > 0 && on.down[t.Name] > s.Number && slices.ContainsFunc(t.pieces, func(n int) bool { return slices.Contains(s.Later, on.view.pieces[n].ID) })
		if stays {
			last = max(last, on.down[t.Name])
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
	return fmt.Sprintf("%s would cover %s, which stay up until stand %d", it, runsOf(up), last)
}

// backwards names sheets that come down from the last to the first, those that precede one another in a
// row as a run.
func backwards(tiles []Tile) string {
	var out []string
	for i := 0; i < len(tiles); {
		n := i + 1
		for n < len(tiles) && tiles[n].Row == tiles[i].Row && tiles[n].Column == tiles[n-1].Column-1 && tiles[n].added == tiles[i].added {
			n++
		}
		if n-i > 2 {
			out = append(out, tiles[i].Name+" back to "+tiles[n-1].Name)
		} else {
			for _, t := range tiles[i:n] {
				out = append(out, t.Name)
			}
		}
		i = n
	}
	return strings.Join(out, ", ")
}
