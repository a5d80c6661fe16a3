// Package nesting lays the outlines of pieces out on the sheets that they are cut from: paper, felt,
// metal, a slab of clay.
//
// Pieces are laid one by one, the largest first, each as low on the sheet as it goes and then as far
// left, in whichever of the allowed turns ends lowest: a bottom-left fill, common practice in nesting.
// What an outline covers is kept row by row, in rows of half a millimetre or more, as the spans that it
// touches anywhere in the row, so that no two pieces can come closer than the gap. A sheet that is
// filled is cut as often as its counts allow. Several sets of turns, both directions of filling and the
// plain grids are tried, and what takes the fewest sheets is kept; so it never takes more than a grid of
// bounding boxes does. Sheets that hold more than 4000 pieces keep the grid.
package nesting

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// A Turn is how pieces may be turned on the sheet, against how they are drawn, heading along the width
// of the sheet: its grain or pattern decides.
type Turn string

// The rules for turning.
const (
	Any     Turn = "any"     // every turn will do
	Quarter Turn = "quarter" // by 90° steps
	Half    Turn = "half"    // by 180°: along the grain, either way
	Fixed   Turn = "none"    // a pattern with an up and a down
)

// Turns returns every rule for turning, as plans name it.
func Turns() []Turn { return []Turn{Any, Quarter, Half, Fixed} }

// A Stock is what pieces are cut from. Lengths are mm.
type Stock struct {
	Name          string
	Width, Height float64 // of a sheet; its grain runs along the width
	Margin        float64 // that pieces keep from the edges
	Gap           float64 // least distance between two pieces, for the cut
	Turn          Turn
}

// A Part is one kind of piece to cut, so many times.
type Part struct {
	Code    string
	Outline plane.Ring // counter-clockwise, mm
	Count   int
}

// A Placement is one piece on a sheet: its outline turned about its origin, then moved to At.
type Placement struct {
	Part int         // index into the parts
	Turn float64     // degrees counter-clockwise from as drawn, to 0.01
	At   plane.Point // of the outline's origin, from the bottom-left corner of the sheet, mm to 0.001
}

// A Sheet is how a sheet is cut, and how many are cut so.
type Sheet struct {
	Placements []Placement // in the order in which they were laid
	Copies     int
}

// A Nest is how all pieces are cut from one stock.
type Nest struct {
	Stock  Stock
	Parts  []Part
	Sheets []Sheet
	Grid   int // sheets that the best plain grid of bounding boxes takes
}

// Limits of what is nested.
const (
	MaxSide    = 10_000  // of a sheet, mm
	MinSide    = 10      // mm
	MaxGap     = 500     // mm
	MaxCorners = 4096    // of one outline
	MaxParts   = 52      // kinds on one stock
	MaxCount   = 200_000 // pieces of one kind
)

// Total returns how many sheets are cut.
func (n Nest) Total() int {
	sum := 0
	for _, s := range n.Sheets {
		sum += s.Copies
	}
	return sum
}

// Offcut returns the share of the sheets that is no piece, from 0 to 1; 0 where nothing is cut.
func (n Nest) Offcut() float64 {
	total := n.Total()
	if total == 0 {
		return 0
	}
	var area float64
	for _, p := range n.Parts {
		area += float64(p.Outline.Area() * float64(p.Count))
	}
	return 1 - area/(float64(n.Stock.Width*n.Stock.Height)*float64(total))
}

// Counts returns how many pieces of each part lie on one sheet cut so.
func (n Nest) Counts(s Sheet) []int {
	out := make([]int, len(n.Parts))
	for _, p := range s.Placements {
		out[p.Part]++
	}
	return out
}

// Outline returns the outline of a placed piece, in mm from the bottom-left corner of the sheet.
func (n Nest) Outline(p Placement) plane.Ring {
	ring, _ := turned(n.Parts[p.Part].Outline, p.Turn)
	return ring.Map(p.At.Add)
}

// turned returns the ring turned about the origin by degrees counter-clockwise, to 0.001 mm, and its
// bounds.
func turned(r plane.Ring, degrees float64) (plane.Ring, plane.Rect) {
	out := r.Place(plane.Point{}, degrees*math.Pi/180).Map(func(p plane.Point) plane.Point { return p.Snap(1000) })
	return out, out.Bounds()
}

// Check returns what is wrong with the stock and the parts, with the name of the stock's field before
// its own. Lengths in what it says are in the given unit.
func Check(field string, s Stock, parts []Part, units measure.Unit) []wall.Problem {
	var out []wall.Problem
	add := func(part, wrong, fix string) {
		out = append(out, wall.Problem{Field: field + part, Wrong: wrong, Fix: fix})
	}
	show := func(mm float64) string { return measure.Precise(mm, units) }
	if !(min(s.Width, s.Height) >= MinSide && max(s.Width, s.Height) <= MaxSide) {
		add(".size", show(s.Width)+" by "+show(s.Height)+" is no size of a sheet", "give each side from "+show(MinSide)+" to "+show(MaxSide))
		return out
	}
	switch {
	case !(s.Margin >= 0 && s.Margin <= MaxSide):
		add(".margin", show(s.Margin)+" is not a margin", "give 0 or more")
	case !(s.Gap >= 0 && s.Gap <= MaxGap):
		add(".gap", show(s.Gap)+" is not a gap between cuts", "give a length from 0 to "+show(MaxGap))
	case !slices.Contains(Turns(), s.Turn):
		add(".turn", fmt.Sprintf("%q is no rule for turning", string(s.Turn)), "write any, quarter, half or none")
	case len(parts) > MaxParts:
		add(".cuts", fmt.Sprintf("there are %d kinds of pieces", len(parts)), fmt.Sprintf("give at most %d", MaxParts))
	case s.openWidth() < MinSide || s.openHeight() < MinSide:
		add(".margin", "margins of "+show(s.Margin)+" leave nothing of the sheet", "make them narrower")
	}
	if len(out) > 0 {
		return out
	}
	var large []string
	for _, p := range parts {
		if p.Count < 0 || p.Count > MaxCount || len(p.Outline) < 3 || len(p.Outline) > MaxCorners {
			add(".cuts", fmt.Sprintf("%q with %d corners, %d times, cannot be cut", p.Code, len(p.Outline), p.Count),
				fmt.Sprintf("cut pieces of 3 to %d corners, at most %d times", MaxCorners, MaxCount))
			continue
		}
		if !s.holds(p) {
			_, box := turned(p.Outline, 0)
			large = append(large, fmt.Sprintf("%s (%s by %s)", p.Code, show(box.Width()), show(box.Height())))
		}
	}
	if len(large) > 0 {
		add(".size", fmt.Sprintf("within its margins, %s by %s, the sheet is too small for %s", show(s.openWidth()), show(s.openHeight()), strings.Join(large, ", ")),
			"give larger sheets, or cut those from others")
	}
	return out
}

func (s Stock) openWidth() float64  { return s.Width - float64(2*s.Margin) }
func (s Stock) openHeight() float64 { return s.Height - float64(2*s.Margin) }

// holds reports whether a sheet has room for the part in any of the turns that are tried.
func (s Stock) holds(p Part) bool {
	for _, degrees := range s.turns(p) {
		_, box := turned(p.Outline, degrees)
		if box.Width() <= s.openWidth()+touch && box.Height() <= s.openHeight()+touch {
			return true
		}
	}
	return false
}
