package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
)

// SeatingSection is how far a piece may be put otherwise than it was thrown for its holes to fall
// where they may be drilled, and what the holes of different pieces need of one another.
//
//	move:   at most so far; 20 mm if left out, 0 for not at all
//	turn:   at most so many degrees; 10 if left out
//	holes:  least distance between the centres of two holes of different pieces; 0 if left out, and
//	        20 mm where pieces overlap, so that no hole meets another behind a piece
type SeatingSection = scatter.Seating

const (
	defaultMove    = 20 // mm
	defaultReseat  = 10 // degrees
	defaultHoleGap = 20 // where pieces overlap, mm
)

// seating reads how far pieces give way to their holes.
func (r *reader) seating(v yamlfile.Value, overlap float64) scatter.Seating {
	s := scatter.Seating{Move: defaultMove, Turn: defaultReseat}
	if overlap > 0 {
		s.Holes = defaultHoleGap
	}
	m, ok := v.Map("move", "turn", "holes")
	if !ok {
		return s
	}
	s.Move = r.length(m.Get("move"), "a move", 0, scatter.MaxMove, s.Move)
	if turn, ok := m.Get("turn").Number("a turn", 0, scatter.MaxReseat); ok {
		s.Turn = turn
	}
	s.Holes = r.length(m.Get("holes"), "a distance between holes", 0, scatter.MaxHoleGap, s.Holes)
	return s
}

// overlap reads which share of a piece another may cover, and the gap, which does not count then.
func (r *reader) overlap(m yamlfile.Map) (overlap, gap float64) {
	overlap, _ = m.Get("overlap").Share("a share that may be covered", 0, 1)
	if overlap == 0 {
		return 0, r.length(m.Get("gap"), "a gap", 0, MaxLength, defaultGap)
	}
	if gap := m.Get("gap"); gap.Given() {
		gap.Fault("stands beside an overlap", "keep one of them")
	}
	return overlap, 0
}
