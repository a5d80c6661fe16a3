package stand

import (
	"math"
	"slices"

	"wallshoal/export/hours"
	"wallshoal/scatter"
)

// A Time is how long one operation is expected to take at a stand.
type Time struct {
	Operation string
	Minutes   float64 // of all hands together, to 0.1
}

// Timed returns the stands with what the operations that are done there are expected to take. Those
// begin with the first that counts sheets or holes, since neither is there before the wall is, and go on
// to the last. Only what counts pieces or holes one by one can be told by stands; time to set up is left
// out, and so is what nobody knows the minutes of.
func Timed(stands []Stand, kinds []scatter.Kind, work hours.Work) []Stand {
	first := slices.IndexFunc(work.Operations, func(e hours.Estimate) bool {
		return e.Operation.Per == hours.Sheet || e.Operation.Per == hours.Hole
	})
	out := slices.Clone(stands)
	if first < 0 {
		return out
	}
	for i, s := range out {
		var counts hours.Counts
		for _, c := range s.Carry {
			k := kinds[c.Kind]
			counts.Kinds = append(counts.Kinds, hours.KindCount{Code: k.Code, Pieces: c.Pieces, Holes: c.Pieces * len(k.Holes)})
		}
		out[i].Times = nil
		for _, e := range work.Operations[first:] {
			o := e.Operation
			if o.Per != hours.Piece && o.Per != hours.Hole || o.Batch > 1 || e.PerUnit <= 0 {
				continue
			}
			if n := counts.Units(o); n > 0 {
				out[i].Times = append(out[i].Times, Time{o.Name, math.Round(n*e.PerUnit*10) / 10})
			}
		}
	}
	return out
}
