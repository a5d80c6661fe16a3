package scope

import (
	"strconv"

	"wallshoal/export/holemap"
	"wallshoal/export/number"
	"wallshoal/export/stand"
	"wallshoal/wall/measure"
)

// Stand is one place from which pieces are hung. Lengths are mm.
type Stand struct {
	Number   int      `json:"stand"`
	Wall     string   `json:"wall"`
	Face     string   `json:"face"`
	Access   string   `json:"access"` // platform, stair platform, ladder or floor
	Overhead bool     `json:"overhead"`
	Steps    bool     `json:"steps"`        // the floor rises or falls there
	Before   string   `json:"before_wall"`  // from whose left end its place is measured; empty where there is none
	Left     *float64 `json:"from_left_mm"` // along that wall; null where there is none
	Off      float64  `json:"out_mm"`       // out from that wall, under a ceiling
	Floor    float64  `json:"floor_mm"`     // of the place where one stands above the plan's 0
	Low      float64  `json:"low_mm"`       // of the holes above that floor
	High     float64  `json:"high_mm"`
	Holes    int      `json:"holes"`
	Pieces   []int    `json:"pieces"`
	Later    []int    `json:"second_round"` // of the pieces those that hang when all paper is down
}

// Installed returns s with the stands from which the work is hung, in their order.
func (s Scope) Installed(work holemap.Work, stands []stand.Stand) Scope {
	s.Stands = make([]Stand, len(stands))
	for i, at := range stands {
		f := work.Site.Faces[at.Face]
		low, high := at.Above()
		out := Stand{
			Number: at.Number, Wall: work.Site.Room.Walls[f.Wall].Name, Face: f.Name, Access: string(at.Access), Overhead: at.Overhead,
			Steps: at.Foot.Steps, Floor: *known(at.Foot.Height, 100), Low: *known(low, 100), High: *known(high, 100),
			Holes: at.Holes, Pieces: at.Pieces, Later: append([]int{}, at.Later...),
		}
		if at.Place.Wall >= 0 {
			out.Before = work.Site.Room.Walls[at.Place.Wall].Name
			out.Left = known(at.Place.Left, 100)
			out.Off = *known(at.Place.Off, 100)
		}
		s.Stands[i] = out
	}
	return s
}

// StandTable lists the stands in their order, in the given units, and adds up what they hang.
func (s Scope) StandTable(units measure.Unit) Table {
	t := Table{Text: 3, Heads: []string{"Stand", "Where", "Standing on", "From the left end", "Up to", "Pieces", "Second round", "Holes"}, Sum: true}
	pieces, later, holes := 0, 0, 0
	for _, at := range s.Stands {
		from := "–"
		if at.Left != nil {
			from = measure.Format(*at.Left, units)
		}
		if at.Off > 0 {
			from = at.Before + ": " + from + ", " + measure.Format(at.Off, units) + " out"
		}
		t.Rows = append(t.Rows, []string{
			strconv.Itoa(at.Number), at.Wall + ", " + at.Face, at.on(), from, measure.Format(at.High, units),
			number.Whole(len(at.Pieces)), number.Whole(len(at.Later)), number.Whole(at.Holes),
		})
		pieces, later, holes = pieces+len(at.Pieces), later+len(at.Later), holes+at.Holes
	}
	t.Rows = append(t.Rows, []string{"All", "", "", "", "", number.Whole(pieces), number.Whole(later), number.Whole(holes)})
	return t
}

// on says what one stands on.
func (s Stand) on() string {
	words := map[string]string{
		string(stand.Platform): "a platform", string(stand.StairPlatform): "a platform made for stairs",
		string(stand.Ladder): "a step ladder", string(stand.Floor): "the floor",
	}[s.Access]
	if s.Access == string(stand.Floor) && s.Steps {
		words = "the floor, on steps"
	}
	if s.Overhead {
		words += ", overhead"
	}
	return words
}

// StandWords says what the table of the stands counts from.
const StandWords = "In the order of work. Places are along the wall, under a ceiling along the wall that is named and out from it, heights above the floor where one stands, as far as the plan knows it at the foot of the wall. Pieces of the second round hang when all paper is down."

// stands lists the stands.
func (p *page) stands(s Scope) {
	if len(s.Stands) == 0 {
		return
	}
	p.heading("Where one stands")
	p.line("%s\n", StandWords)
	p.table(s.StandTable(p.units))
}
