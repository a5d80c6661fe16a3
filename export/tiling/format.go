package tiling

import (
	"math"

	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// A format is a print one way round, with the strips to the left and above as wide as a face needs
// them.
type format struct {
	Print
	landscape bool
	lip       float64 // how wide the strips to the left and above are, mm
}

// formats returns the ways round in which sheets may be printed.
func (p Print) formats() []format {
	upright, level := format{p, false, StripLeft}, format{p, true, StripLeft}
	switch {
	case p.Auto:
		return []format{upright, level}
	case p.Landscape:
		return []format{level}
	}
	return []format{upright}
}

// size returns the width and height of the sheet as it is printed, in the millimetres of what is drawn
// on it.
func (f format) size() (width, height float64) {
	width, height = f.Paper.Width, f.Paper.Height
	if f.landscape {
		width, height = height, width
	}
	x, y := f.Measured.Factors()
	return width / x, height / y
}

// corner returns the top left of a tile's drawing on the page.
func (f format) corner() plane.Point {
	return plane.Point{X: f.Margin + f.lip, Y: f.Margin + f.lip}
}

// room returns the most that the drawing of one tile can be wide and high, mm.
func (f format) room() (width, height float64) {
	width, height = f.size()
	return width - 2*f.Margin - f.lip - StripRight, height - 2*f.Margin - f.lip - stripBottom
}

// pitch returns how far apart tiles can stand on the wall: what a sheet can show less the overlap,
// rounded down to a length that the plan's units show exactly, so that the places of the register
// marks are true as they are printed.
func (f format) pitch(u measure.Unit) (x, y float64) {
	width, height := f.room()
	step := Exactly(u)
	return math.Floor((width-f.Overlap)/step) * step, math.Floor((height-f.Overlap)/step) * step
}
