package density

import (
	"math"
	"slices"

	"wallshoal/wall/plane"
)

// Integral returns the sum of the field over the area in mm², so that of a field that is 1 it is the
// area itself. It adds up the field in the middle of cells of at most step mm, which follow the
// area's sides, rounded to a millionth.
func Integral(f Field, over Area, step float64) float64 {
	sum := 0.0
	cells(over.Region, step, func(p plane.Point, area float64) {
		sum += float64(area * math.Round(f.At(over.Frame, p)*1e6) / 1e6)
	})
	return sum
}

// cells cuts the region into rows of at most step mm, and each row, as it is at half its height, into
// cells of at most step mm. It hands the middle of each and its area in mm² to visit.
func cells(r plane.Region, step float64, visit func(middle plane.Point, area float64)) {
	box := r.Bounds()
	rows := math.Ceil(box.Height() / step)
	if !(rows >= 1) {
		return
	}
	high := box.Height() / rows
	var rings []plane.Ring
	for _, p := range r.Polygons() {
		rings = append(append(rings, p.Outer), p.Holes...)
	}
	for row := range int(rows) {
		y := box.Min.Y + float64((float64(row)+0.5)*high)
		across := crossings(rings, y)
		for i := 0; i+1 < len(across); i += 2 {
			left, width := across[i], across[i+1]-across[i]
			n := math.Ceil(width / step)
			for k := range int(n) {
				x := left + float64((float64(k)+0.5)/n*width)
				visit(plane.Point{X: x, Y: y}, width/n*high)
			}
		}
	}
}

// crossings returns where the sides of the rings cross the height y, from left to right.
func crossings(rings []plane.Ring, y float64) []float64 {
	var at []float64
	for _, ring := range rings {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			if (a.Y > y) != (b.Y > y) {
				at = append(at, a.X+float64((y-a.Y)/(b.Y-a.Y)*(b.X-a.X)))
			}
		}
	}
	slices.Sort(at)
	return at
}
