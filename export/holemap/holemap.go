// Package holemap is the list of every hole that a layout asks for, set out from the wall's left
// end, the floor and the datum.
package holemap

import (
	"time"

	"wallshoal/export/caution"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// A Hole is one hole to drill.
type Hole struct {
	Number    int // from 1, in hanging order
	Piece     int // ID of the piece it carries
	Kind      int // index into the kinds
	Code      string
	Face      int         // index into the faces of the site
	At        plane.Point // on the face: from its left end and from its lower edge, mm
	FromDatum float64     // in the room, above the datum, mm; below 0 under it
	Bit       float64     // mm
	Depth     float64     // mm
	Fixing    string
	Heading   heading.Bearing // of the piece
	Cautions  []string        // codes of the cautions that speak of this very hole, sorted
}

// A Map is every hole of a layout, ordered by number.
type Map struct {
	Holes       []Hole
	Fingerprint string // a short hash of what is drilled: the same holes, the same fingerprint
	Cautions    []caution.Caution
	Shares      []caution.Share           // of every wall with pieces: how much of it those that burn cover
	Unmet       []caution.Acknowledgement // of cautions that are not there
}

// A Work is everything the sheets and tables show: the site, what hangs on it, and its holes.
type Work struct {
	Title  string
	For    string    // whose wall it is; may be empty
	Place  string    // where the wall is; may be empty
	By     string    // who made the plan; may be empty
	Date   time.Time // date of issue; zero where the plan gives none
	Units  measure.Unit
	Site   wall.Site
	Kinds  []scatter.Kind
	Layout scatter.Layout
	Map    Map

	Fixings []Fixing // that somebody has said how to put in
}

// A Fixing is how one sort of fixing is put in, and its piece onto it, in plain words.
type Fixing struct{ Name, How string }

// HowTo returns how a fixing is put in; empty where nobody has said it.
func (w Work) HowTo(fixing string) string {
	for _, f := range w.Fixings {
		if f.Name == fixing {
			return f.How
		}
	}
	return ""
}
