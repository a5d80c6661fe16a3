package scope

import (
	"wallshoal/export/holemap"
	"wallshoal/export/stand"
)

// Stand is one place from which pieces are hung. Lengths are mm.
type Stand struct {
	Number   int      `json:"stand"`
	Wall     string   `json:"wall"`
	Face     string   `json:"face"`
	Access   string   `json:"access"` // platform, ladder or floor
	Overhead bool     `json:"overhead"`
	Left     *float64 `json:"from_left_mm"` // along the wall that it is measured on; null where there is none
	Low      float64  `json:"low_mm"`       // of the holes above the floor
	High     float64  `json:"high_mm"`
	Holes    int      `json:"holes"`
	Pieces   []int    `json:"pieces"`
}

// Installed returns s with the stands from which the work is hung, in their order.
func (s Scope) Installed(work holemap.Work, stands []stand.Stand) Scope {
	s.Stands = make([]Stand, len(stands))
	for i, at := range stands {
		f := work.Site.Faces[at.Face]
		out := Stand{
			Number: at.Number, Wall: work.Site.Room.Walls[f.Wall].Name, Face: f.Name, Access: string(at.Access), Overhead: at.Overhead,
			Low: *known(at.Low, 100), High: *known(at.High, 100), Holes: at.Holes, Pieces: at.Pieces,
		}
		if at.Place.Wall >= 0 {
			out.Left = known(at.Place.Left, 100)
		}
		s.Stands[i] = out
	}
	return s
}
