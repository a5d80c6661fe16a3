// Package parting leads a flow round what stands in its way on a face.
//
// A flow that takes no notice of obstructions is corrected by the gentlest change that leaves
// nothing of it running into them: the slope of a potential φ that is smooth (∇²φ = 0) where
// pieces may go, takes all of the flow that runs into a wall of that region (∂φ/∂n = flow·n), and
// changes nothing of what runs in and out over the edges of the face. What the flow gathers, turns
// and scatters stays as it was. A uniform stream past a disc becomes the flow that textbooks give
// for a cylinder.
//
// The potential is found on a grid of square cells. The walls cut through cells where they lie,
// and the balance of each cell counts as much of its sides as is open: Y. T. Ng, C. Min and
// F. Gibou, An efficient fluid-solid coupling algorithm for single-phase flows, Journal of
// Computational Physics 228 (2009) 8807-8829. So the error falls with the size of the cells, and
// no wall has steps. What is thinner than a cell may be missed.
//
// All products are rounded before they are added, so the same flow is parted in the same way on
// every processor.
package parting

import (
	"context"
	"math"

	"wallshoal/scatter/flow"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Correction is what parting changes of a flow on one face. Its zero value changes nothing.
type Correction struct {
	grid   grid
	across []float64 // the x component at the middle of every standing side
	up     []float64 // the y component at the middle of every lying side
}

// Solve returns what has to be added to the field, on the face with the frame f, for it to run
// round everything that is in open and not in free. Open is the face with nothing in the way: over
// the edges that free shares with it the flow runs as it did. Cells are of the given size in mm,
// above 0.
//
// Where more runs into a part of free that walls enclose than out of it, the difference is taken
// up evenly over that part. The error is ctx's where it is cancelled.
func Solve(ctx context.Context, f space.Frame, field flow.Field, open, free plane.Region, cell float64) (Correction, error) {
	if open.Empty() || free.Empty() {
		return Correction{}, nil
	}
	g := newGrid(free.Bounds().Grow(cell), cell) // of what lies beyond nothing runs in
	inFree, inOpen := g.depths(free), g.depths(open)
	room := g.apertures(inFree)
	b := g.running(f, field, room, g.apertures(inOpen), inFree)
	g.balance(b, room, inFree)
	potential, err := settle(ctx, g, room, b)
	if err != nil {
		return Correction{}, err
	}
	return g.slopes(potential, room), nil
}

// finest is the size of cells that shows all that a piece of the usual size can follow, in mm, and
// most is the number of them that takes some tenths of a second.
const (
	finest = 60
	most   = 100_000
)

// Cell returns the size of cells, in mm, that suits faces whose boxes come to so many mm² together.
func Cell(area float64) float64 { return math.Max(finest, math.Sqrt(area/most)) }

// At returns what has to be added to the flow at p.
func (c Correction) At(p plane.Point) plane.Point {
	if c.grid.columns == 0 {
		return plane.Point{}
	}
	x := (p.X - c.grid.min.X) / c.grid.cell
	y := (p.Y - c.grid.min.Y) / c.grid.cell
	return plane.Point{
		X: between(c.across, c.grid.columns+1, c.grid.rows, x, y-0.5),
		Y: between(c.up, c.grid.columns, c.grid.rows+1, x-0.5, y),
	}
}

// between returns the value at x, y between those that stand at whole numbers, columns to a row.
// Outside them it is the value at the nearest edge.
func between(values []float64, columns, rows int, x, y float64) float64 {
	x = math.Min(math.Max(x, 0), float64(columns-1))
	y = math.Min(math.Max(y, 0), float64(rows-1))
	i, j := min(int(x), max(columns-2, 0)), min(int(y), max(rows-2, 0))
	s, t := x-float64(i), y-float64(j)
	right, above := min(i+1, columns-1), min(j+1, rows-1)
	low := float64((1-s)*values[j*columns+i]) + float64(s*values[j*columns+right])
	high := float64((1-s)*values[above*columns+i]) + float64(s*values[above*columns+right])
	return float64((1-t)*low) + float64(t*high)
}
