package tiling

import (
	"fmt"
	"math"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// A Print is how the hole map is to be printed.
type Print struct {
	Paper     drafting.Paper
	Landscape bool
	Auto      bool    // portrait or landscape, whichever takes each face fewer sheets
	Overlap   float64 // how much neighbouring tiles share, mm
	Margin    float64 // what the printer cannot reach at each edge of the sheet, mm
	Measured  drafting.Measured
	HolesOnly bool // what is drilled, and what is needed to hang the sheets, without the pieces
	Mirror    bool // for working from behind, or on tracing paper face down: all of it mirrored from left to right, with words that read
}

// The strips round the drawing of a tile, in mm: names of neighbours to the left and above,
// upright check bars to the right, and the title with level check bars below.
const (
	StripLeft   = drafting.CrossReach + TabRim // or more, where cut lines go round marks
	StripTop    = drafting.CrossReach + TabRim //
	StripRight  = 11.0
	stripBottom = 25.0
)

// The limits of a print, in mm.
const (
	LeastOverlap = 4.0   // of neighbouring sheets: a register mark needs it
	leastWidth   = 60.0  // of a tile's own part of the wall
	leastHeight  = 60.0  //
	leastTall    = 130.0 // of a tile's drawing: the upright check bars stand beside it
	rowTall      = 160.0 // of a tile's drawing where there is paper for it, so that the bars stand free
)

// Problems returns what keeps tiles from being printed this way, with fields as a plan names them.
func (p Print) Problems() []wall.Problem {
	var out []wall.Problem
	add := func(field, wrong, fix string) {
		out = append(out, wall.Problem{Field: "print." + field, Wrong: wrong, Fix: fix})
	}
	if !(p.Paper.Width > 0 && p.Paper.Height > 0) || math.IsInf(p.Paper.Width+p.Paper.Height, 0) {
		add("paper", "the paper has no size", "name one of "+strings.Join(drafting.PaperNames(), ", ")+", or give the width of a roll")
		return out
	}
	if wrong, fix := p.Measured.Wrong(); wrong != "" {
		add("measured", wrong, fix)
		return out
	}
	if !(p.Margin >= 0) || math.IsInf(p.Margin, 0) {
		add("margin", fmt.Sprintf("a margin of %g mm cannot be printed", p.Margin), "write what the printer cannot reach, such as 6 mm")
		return out
	}
	if !(p.Overlap >= LeastOverlap) || math.IsInf(p.Overlap, 0) {
		add("overlap", fmt.Sprintf("an overlap of %g mm leaves no room for register marks", p.Overlap),
			fmt.Sprintf("write at least %g mm", LeastOverlap))
		return out
	}
	for _, f := range p.formats() {
		width, height := f.room()
		if width < 2*p.Overlap || height < 2*p.Overlap || width-p.Overlap < leastWidth || height-p.Overlap < leastHeight || height < leastTall {
			add("margin", fmt.Sprintf("with a margin of %g mm and an overlap of %g mm too little of a sheet of %s is left to draw on",
				p.Margin, p.Overlap, p.Paper.Name), "write less of either, or take larger paper")
			break
		}
	}
	return out
}

// Size returns the width and height of the sheet as it is printed.
func (p Print) Size() (width, height float64) {
	if p.Landscape {
		return p.Paper.Height, p.Paper.Width
	}
	return p.Paper.Width, p.Paper.Height
}

// Printable returns the part of the sheet that the printer reaches.
func (p Print) Printable() plane.Rect {
	width, height := p.Size()
	return plane.Rect{Max: plane.Point{X: width, Y: height}}.Grow(-p.Margin)
}

// Exactly returns a length whose multiples the units show exactly, mm.
func Exactly(u measure.Unit) float64 {
	if u.Imperial() {
		return drafting.Inch / 4
	}
	return 1
}

// End names an end of a face: as it is seen from the front.
func (p Print) End(side string) string {
	if p.Mirror {
		return "the front's " + side + " end"
	}
	return "the " + side + " end"
}

// Sides returns what on a sheet is to the left and to the right of its drawing as it is set out.
func (p Print) Sides() (left, right string) {
	if p.Mirror {
		return "right", "left"
	}
	return "left", "right"
}
