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

// Timed returns the stands with what the operations that are done there are expected to take: those from
// hours.OnSite on. Only what counts pieces or holes one by one can be told by stands; time to set up is left
// out, and so is what nobody knows the minutes of.
func Timed(stands []Stand, kinds []scatter.Kind, work hours.Work) []Stand {
	asked := make([]hours.Operation, len(work.Operations))
	for i, e := range work.Operations {
		asked[i] = e.Operation
	}
	first := hours.OnSite(asked)
	out := slices.Clone(stands)
	for i, s := range out {
		var counts hours.Counts
		for _, c := range s.Carry {
			k := kinds[c.Kind]
			counts.Kinds = append(counts.Kinds, hours.KindCount{Code: k.Code, Pieces: c.Pieces, Holes: c.Pieces * len(k.Holes)})
		}
		out[i].Times = nil
		for _, e := range work.Operations[first:] {
			o := e.Operation
			if o.For == hours.Making || o.Per != hours.Piece && o.Per != hours.Hole || o.Batch > 1 || e.PerUnit <= 0 {
				continue
			}
			if n := counts.Units(o); n > 0 {
				out[i].Times = append(out[i].Times, Time{o.Name, math.Round(n*e.PerUnit*10) / 10})
			}
		}
	}
	return out
}
