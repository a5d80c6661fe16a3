package scope

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/caution"
	"wallshoal/wall/measure"
)

// Burns is how much of one wall pieces that burn cover, against the limit that was chosen. It is no
// clearance where it is kept: which limit holds is for whoever decides on fire safety to say.
type Burns struct {
	Wall    string  `json:"wall"`
	Covered float64 `json:"covered_m2"` // the sum of the outlines of pieces that burn
	Area    float64 `json:"area_m2"`    // what can be seen of the wall and of what stands on it, but no more than the wall itself
	Share   float64 `json:"share"`      // the one against the other, from 0
	Limit   float64 `json:"limit"`
	Kept    bool    `json:"kept"`
}

func burns(shares []caution.Share) []Burns {
	out := make([]Burns, len(shares))
	for i, s := range shares {
		out[i] = Burns{
			Wall: s.Wall, Covered: squareMetres(s.Burns), Area: squareMetres(s.Seen),
			Share: math.Round(s.Of()*10_000) / 10_000, Limit: s.Limit, Kept: s.Kept(),
		}
	}
	return out
}

// BurnTable sets what burns on every wall against its limit. It has no rows where nothing burns.
func (s Scope) BurnTable(units measure.Unit) Table {
	t := Table{Text: 1, Heads: []string{"Wall", "Pieces that burn", "Share of the wall", "Limit set", "Kept"}}
	if !slices.ContainsFunc(s.Burns, func(b Burns) bool { return b.Covered > 0 }) {
		return t
	}
	for _, b := range s.Burns {
		kept := "yes"
		if !b.Kept {
			kept = "no"
		}
		t.Rows = append(t.Rows, []string{b.Wall, Area(b.Covered, units), fmt.Sprintf("%.1f %%", 100*b.Share), fmt.Sprintf("%.1f %%", 100*b.Limit), kept})
	}
	return t
}

// BurnHeading stands over the table.
const BurnHeading = "What burns"

// BurnWords says what the table is.
const BurnWords = "What burns on each wall, against the limit that the plan sets. A limit that is kept is no clearance: codes differ, and whoever decides on fire safety says which holds."
