package drafting

import (
	"math"

	"wallshoal/wall/plane"
)

// A Raster says of an area, half a millimetre by half a millimetre, how bad it would be to cover it: a
// spots for crowds of small things.
type Raster struct {
	Within plane.Rect
	wide   int
	worth  []float64
}

// dot is the side of the squares of a raster, mm.
const dot = 0.5

// NewRaster returns a raster of a part of a page on which all is free.
func NewRaster(within plane.Rect) *Raster {
	wide := int(math.Ceil(within.Width()/dot)) + 1
	return &Raster{Within: within, wide: wide, worth: make([]float64, wide*(int(math.Ceil(within.Height()/dot))+1))}
}

// span returns the first and the last square that a box within the area touches; found is false where it
// touches none.
func (r *Raster) span(box plane.Rect) (x0, y0, x1, y1 int, found bool) {
	if !box.Overlaps(r.Within) {
		return 0, 0, 0, 0, false
	}
	box = Meet(box, r.Within)
	x0, y0 = int((box.Min.X-r.Within.Min.X)/dot), int((box.Min.Y-r.Within.Min.Y)/dot)
	x1, y1 = int((box.Max.X-r.Within.Min.X)/dot), int((box.Max.Y-r.Within.Min.Y)/dot)
	return x0, y0, min(x1, r.wide-1), min(y1, len(r.worth)/r.wide-1), true
}

// Take marks a box as used.
func (r *Raster) Take(box plane.Rect, worth float64) {
	x0, y0, x1, y1, found := r.span(box)
	if !found {
		return
	}
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			r.worth[y*r.wide+x] = math.Max(r.worth[y*r.wide+x], worth)
		}
	}
}

// Cost returns how much the box would cover, 0 where it is free; no more than most is summed up.
func (r *Raster) Cost(box plane.Rect, most float64) float64 {
	x0, y0, x1, y1, found := r.span(box)
	sum := 0.0
	for y := y0; found && y <= y1 && sum < most; y++ {
		for _, w := range r.worth[y*r.wide+x0 : y*r.wide+x1+1] {
			sum += float64(w * dot * dot)
		}
	}
	return sum
}

// Best returns the candidate within the area that covers least, the earlier of two that cover as little.
func (r *Raster) Best(candidates []plane.Rect, most float64) (box plane.Rect, cost float64, found bool) {
	cost = math.Inf(1)
	for _, c := range candidates {
		if !r.Within.Contains(c.Min) || !r.Within.Contains(c.Max) {
			continue
		}
		if here := r.Cost(c, most); here < cost {
			box, cost, found = c, here, true
		}
	}
	return box, cost, found
}
