package density

import (
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Band is a band of heights, all round the room, in which the work is denser or thinner.
type Band struct {
	From, To float64 // above the floor, mm; From may be minus and To plus infinite
	Strength float64 // how many times as dense it is in the band as beside it
	Soft     float64 // how far the change takes at either edge, half of it on either side, mm; 0 for a step
}

// At implements Field.
func (b Band) At(f space.Frame, p plane.Point) float64 {
	height := f.At(p).Z
	return 1 + float64((b.Strength-1)*b.above(height-b.From)*b.above(b.To-height))
}

// above returns how far the change is done at a height of mm past an edge.
func (b Band) above(mm float64) float64 {
	switch {
	case b.Soft > 0:
		return ramp(mm/b.Soft + 0.5)
	case mm >= 0:
		return 1
	}
	return 0
}

// Grain returns the least distance in mm over which the density changes by much.
func (b Band) Grain() float64 { return b.Soft }
