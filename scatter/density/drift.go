package density

import (
	"math"

	"wallshoal/scatter/flow"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Drift changes the density along the flow, by the same share over every stretch of it. Half way
// it changes nothing.
type Drift struct {
	Flow     flow.Field
	From, To float64 // progress along the flow where it begins and where it ends, mm
	Factor   float64 // how many times as dense the work is at the end as at the beginning
}

// NewDrift returns the drift by the factor from where on the areas the flow begins to where it ends.
// A flow that leads nowhere, or is as far along everywhere, gives one that changes nothing.
func NewDrift(fl flow.Field, areas []Area, factor float64) Drift {
	from, to := math.Inf(1), math.Inf(-1)
	total := 0.0
	for _, a := range areas {
		total += a.Region.Area()
	}
	step := math.Sqrt(total / samples)
	for _, a := range areas {
		look := func(p plane.Point, _ float64) {
			if mm, ok := fl.Progress(a.Frame, p); ok {
				from, to = math.Min(from, mm), math.Max(to, mm)
			}
		}
		cells(a.Region, step, look)
		box := a.Region.Bounds()
		for _, corner := range []plane.Point{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}} {
			if a.Region.Distance(corner) > -step {
				look(corner, 0)
			}
		}
	}
	if !(from < to) {
		return Drift{Flow: fl, Factor: 1}
	}
	return Drift{fl, from, to, factor}
}

// samples is about how many places are looked at to find where a flow begins and ends.
const samples = 4000

// At implements Field.
func (d Drift) At(f space.Frame, p plane.Point) float64 {
	mm, ok := d.Flow.Progress(f, p)
	if !ok || !(d.From < d.To) {
		return 1
	}
	t := math.Min(math.Max((mm-d.From)/(d.To-d.From), 0), 1)
	return math.Pow(d.Factor, t-0.5)
}

// Grain returns the least distance in mm over which the density changes by much.
func (d Drift) Grain() float64 {
	if !(d.From < d.To) {
		return math.Inf(1)
	}
	return (d.To - d.From) / math.Max(1, math.Abs(math.Log(d.Factor)))
}
