package plan

import (
	"wallshoal/export/drafting"
	"wallshoal/wall/measure"
)

// What holds where a plan says nothing, mm: of a composition its gap, and how far a piece may move for its holes and
// what holes keep from one another where pieces overlap (see SeatingSection); of a room its datum; of sheets what
// neighbouring ones share.
const (
	UsualGap          = defaultGap
	UsualMove         = defaultMove
	UsualHoleGap      = defaultHoleGap
	UsualDatum        = defaultDatum
	UsualSheetOverlap = defaultOverlap
)

// UsualPaper returns the paper of a hole map where the plan, in these units, names none.
func UsualPaper(units measure.Unit) drafting.Paper {
	if units.Imperial() {
		return paperNamed("Letter")
	}
	return paperNamed("A4")
}
