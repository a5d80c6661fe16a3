// Package progress keeps which pieces of a work are up, and how long it took to hang them, in a file
// beside the plan, while the work is being hung.
//
// The file is lines of JSON, one for everything that happened, and is only ever added to: a line is on
// the disk before whoever ticked a piece is told so, and no line that is there is written again. When the
// power fails, the line being written is the only one that can be damaged. Each line ends with a
// checksum, so that a damaged one is known as such. (A file that is replaced as a whole would be written
// again for each of many hundred ticks, and not every system says when a replaced file has come to the
// disk.)
//
// A piece is known by its holes, not by its number: by where they are on which face, with what bit, depth
// and fixing. Numbers change when a work is laid anew; a hole in the wall does not. So the pieces that a
// new layout leaves where they were still count as up, and Against tells which hang where it has no such
// holes.
package progress

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"time"

	"wallshoal/export/holemap"
	"wallshoal/scatter/heading"
	"wallshoal/wall/plane"
)

// Limits of a progress file.
const (
	MaxBytes  = 64 << 20
	MaxLine   = 2048 // bytes
	MaxNumber = 2_000_000
	MaxHands  = 50
	MaxDamage = 100 // damaged lines listed
	MaxSpan   = 16 * time.Hour
)

// A Piece is what tells a piece of one layout.
type Piece struct {
	Number  int
	Kind    string // its code
	Heading heading.Bearing
	Holes   string // the mark of its holes, as holemap.PieceMarks gives it

	// Where its centre is: on a face of a wall, by their names, mm from the left end and the foot of the face. A tick of a file
	// that an earlier version of this program wrote has none, and no wall.
	Wall, Face string
	At         plane.Point
}

// Pieces returns the pieces of a work by number. Two that have the very same holes cannot be told apart:
// where one is up, so is the other.
func Pieces(work holemap.Work) []Piece {
	marks := holemap.PieceMarks(work.Site, work.Map.Holes)
	pieces := make([]Piece, 0, len(work.Layout.Pieces))
	for _, p := range work.Layout.Pieces {
		face := work.Site.Faces[p.Face]
		pieces = append(pieces, Piece{
			Number: p.ID, Kind: work.Kinds[p.Kind].Code, Heading: p.Heading, Holes: marks[p.ID],
			Wall: work.Site.Room.Walls[face.Wall].Name, Face: face.Name, At: p.At,
		})
	}
	slices.SortFunc(pieces, func(a, b Piece) int { return cmp.Compare(a.Number, b.Number) })
	return pieces
}

// A Tick says that a piece was hung.
type Tick struct {
	Piece
	Layout string    // the fingerprint of the layout by which it was hung
	At     time.Time // to the second, UTC
}

// A Stand is the time that was spent at one stand of a layout.
type Stand struct {
	Layout        string
	Number        int
	Spans         []Span  // that ended, in order
	Said          float64 // minutes of all hands that somebody gave in place of earlier spans
	Begun         time.Time
	Hands         int  // at work since Begun; 0 while nobody is
	Done          bool // somebody said that it is finished
	Pieces, Holes int  // of the finished stand
}

// A Span is a time at a stand without a break.
type Span struct {
	From, To time.Time
	Hands    int
}

// Minutes returns the minutes spent at the stand so far, of all hands together, without the span that
// still runs.
func (s Stand) Minutes() float64 {
	minutes := s.Said
	for _, span := range s.Spans {
		minutes += float64(float64(span.Hands) * span.To.Sub(span.From).Minutes())
	}
	return minutes
}

// Longest returns the longest of the spans.
func (s Stand) Longest() time.Duration {
	var longest time.Duration
	for _, span := range s.Spans {
		longest = max(longest, span.To.Sub(span.From))
	}
	return longest
}

// A Record is what a progress file says.
type Record struct {
	Up      []Tick   // pieces that hang, in the order in which they were ticked
	Left    []Tick   // pieces that hung and were taken down for a later layout, whose holes stay drilled; in that order
	Stands  []Stand  // in the order in which they were first begun
	Damaged []Damage // lines that could not be read; at most MaxDamage of them
	Lost    int      // how many lines could not be read
	Torn    int      // bytes of a last line that was not written to its end
}

// Damage is a line of the file that could not be read. What it said is not counted.
type Damage struct {
	Line  int // from 1
	Wrong string
}

// A Standing is how far the hanging of one layout is.
type Standing struct {
	Layout  string
	Hanging []int    // numbers of its pieces that hang as it has them, ascending
	Rehang  []Rehang // pieces whose holes are drilled, but on which something else hangs; by number
	Astray  []Tick   // what hangs where it has no such holes; in the order in which it was ticked
	Left    []Tick   // what was taken down for a later layout, and left holes that it has not
	Others  []string // the fingerprints of other layouts by which something up was hung, sorted
}

// A Rehang is a piece of a layout in whose holes another kind hangs, or one that heads another way.
type Rehang struct {
	Piece
	Was Tick
}

// Against holds the record against a layout, given by its fingerprint and Pieces: pieces hung by an
// earlier layout count where this one has the same holes, kind and heading.
func (r Record) Against(layout string, pieces []Piece) Standing {
	s := Standing{Layout: layout}
	up := map[string]Tick{}
	for _, t := range r.Up {
		up[t.Holes] = t
	}
	known := map[string]bool{}
	for _, p := range pieces {
		known[p.Holes] = true
		switch t, hangs := up[p.Holes]; {
		case !hangs:
		case t.Kind == p.Kind && hundredths(t.Heading) == hundredths(p.Heading):
			s.Hanging = append(s.Hanging, p.Number)
		default:
			s.Rehang = append(s.Rehang, Rehang{p, t})
		}
	}
	slices.Sort(s.Hanging)
	slices.SortStableFunc(s.Rehang, func(a, b Rehang) int { return cmp.Compare(a.Number, b.Number) })
	others := map[string]bool{}
	for _, t := range r.Left {
		if !known[t.Holes] {
			s.Left = append(s.Left, t)
		}
	}
	for _, t := range r.Up {
		if !known[t.Holes] {
			s.Astray = append(s.Astray, t)
		}
		if t.Layout != layout {
			others[t.Layout] = true
		}
	}
	s.Others = slices.Sorted(maps.Keys(others))
	return s
}

// hundredths returns a bearing as a whole number of hundredths of a degree, in [0, 36000).
func hundredths(b heading.Bearing) int {
	return int(math.Mod(math.Mod(math.Round(float64(b)*100), 36000)+36000, 36000))
}
