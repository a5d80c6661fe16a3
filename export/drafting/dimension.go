package drafting

import (
	"math"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// The sizes of dimension lines, mm: ISO 129 leaves them to taste within reason.
const (
	DimensionHeight = draw.Letter25
	dimensionArrow  = 2.2
	ExtensionGap    = 1.0 // between what is measured and its extension line
	dimensionAir    = 1.3 // between a dimension line and its figure
	extensionPast   = 1.5 // by which an extension line passes the dimension line
)

// DimensionAcross draws the dimension of a level length from x1 to x2 on a line at y, measured at foot.
func (p Pen) DimensionAcross(x1, x2, y, foot float64, text string) {
	p.Segment(x1, foot+ExtensionGap, x1, y+extensionPast, Hair)
	p.Segment(x2, foot+ExtensionGap, x2, y+extensionPast, Hair)
	p.Segment(x1, y, x2, y, Hair)
	width := TextWidth(text, DimensionHeight, false)
	if x2-x1 > 2*dimensionArrow+2 {
		p.Arrow(plane.Point{X: x1, Y: y}, plane.Point{X: -1}, dimensionArrow, Ink)
		p.Arrow(plane.Point{X: x2, Y: y}, plane.Point{X: 1}, dimensionArrow, Ink)
	}
	if width < x2-x1 {
		p.Say((x1+x2)/2, y-dimensionAir, DimensionHeight, text, 0, Style{Align: draw.Centre})
		return
	}
	p.Say(x2+2, y-dimensionAir, DimensionHeight, text, 0, Style{})
}

// DimensionUpright draws the dimension of an upright length from y1 up to y2 on a line at x, measured at
// side to its right.
func (p Pen) DimensionUpright(y1, y2, x, side float64, text string) {
	p.Segment(side-ExtensionGap, y1, x-extensionPast, y1, Hair)
	p.Segment(side-ExtensionGap, y2, x-extensionPast, y2, Hair)
	p.Segment(x, y1, x, y2, Hair)
	if y1-y2 > 2*dimensionArrow+2 {
		p.Arrow(plane.Point{X: x, Y: y1}, plane.Point{Y: 1}, dimensionArrow, Ink)
		p.Arrow(plane.Point{X: x, Y: y2}, plane.Point{Y: -1}, dimensionArrow, Ink)
	}
	middle := (y1 + y2) / 2
	p.Say(x-dimensionAir, middle, DimensionHeight, text, 0, Style{Align: draw.Centre, Turn: math.Pi / 2})
}

// A Reading is one place on a running dimension.
type Reading struct {
	at   float64 // on the page, along the dimension
	text string
}

// The room that running dimensions need beside what they measure, mm.
const (
	runningPitch = DimensionHeight + 1.3 // between neighbouring figures
	RunningStub  = 2.5                   // of the extension line before it bends
	RunningBend  = 2.5                   // over which it bends to its figure
)

// thinned leaves out every other reading until the rest have room to stand side by side.
func thinned(readings []Reading, pitch, room float64) []Reading {
	for len(readings) > 1 && float64(len(readings)-1)*pitch > room {
		var kept []Reading
		for i := 0; i < len(readings); i += 2 {
			kept = append(kept, readings[i])
		}
		readings = kept
	}
	return readings
}

// spread moves readings apart so that their figures do not touch, each as little as may be, and
// returns where they come to stand. Readings come in order.
func spread(readings []Reading, pitch, low, high float64) []float64 {
	out := make([]float64, len(readings))
	for i, r := range readings {
		out[i] = r.at
		if i > 0 {
			out[i] = math.Max(out[i], out[i-1]+pitch)
		}
	}
	// What was pushed on is pushed back half as far, from the end, so that a crowd stands about
	// its middle.
	for range 30 {
		for i := range out {
			out[i] += (readings[i].at - out[i]) / 2
		}
		for i := 1; i < len(out); i++ {
			if short := pitch - (out[i] - out[i-1]); short > 0 {
				out[i-1] -= short / 2
				out[i] += short / 2
			}
		}
	}
	for i := range out {
		floor := low
		if i > 0 {
			floor = out[i-1] + pitch
		}
		out[i] = math.Max(out[i], floor)
	}
	for i := len(out) - 1; i >= 0; i-- {
		ceiling := high
		if i < len(out)-1 {
			ceiling = out[i+1] - pitch
		}
		out[i] = math.Min(out[i], ceiling)
	}
	return out
}

// ReadingsOf returns the places in order, with what is nearly the same given once.
func ReadingsOf(places []float64, at func(float64) float64, say func(float64) string) []Reading {
	places = slices.Sorted(slices.Values(places))
	var out []Reading
	for i, v := range places {
		if i > 0 && v-places[i-1] < 0.5 {
			continue
		}
		out = append(out, Reading{at(v), say(v)})
	}
	slices.SortFunc(out, func(a, b Reading) int {
		if a.at < b.at {
			return -1
		}
		return 1
	})
	return out
}

// RunningBelow writes distances from the left end under the foot of what is measured, each turned
// to read upwards at the end of its extension line, and returns how far down they reach.
func (p Pen) RunningBelow(readings []Reading, foot, low, high float64) float64 {
	readings = thinned(readings, runningPitch, high-low)
	places := spread(readings, runningPitch, low, high)
	far := foot
	for i, r := range readings {
		top := foot + ExtensionGap
		p.Polyline([]plane.Point{
			{X: r.at, Y: top}, {X: r.at, Y: top + RunningStub},
			{X: places[i], Y: top + RunningStub + RunningBend},
		}, Hair)
		end := top + RunningStub + RunningBend + 0.8
		length := TextWidth(r.text, DimensionHeight, false)
		p.Say(places[i]+DimensionHeight/2, end+length, DimensionHeight, r.text, 0, Style{Turn: math.Pi / 2})
		far = math.Max(far, end+length)
	}
	return far
}

// RunningLeft writes heights to the left of what is measured and returns how far left they reach.
func (p Pen) RunningLeft(readings []Reading, side, low, high float64) float64 {
	readings = thinned(readings, runningPitch, high-low)
	places := spread(readings, runningPitch, low, high)
	far := side
	for i, r := range readings {
		right := side - ExtensionGap
		p.Polyline([]plane.Point{
			{X: right, Y: r.at}, {X: right - RunningStub, Y: r.at},
			{X: right - RunningStub - RunningBend, Y: places[i]},
		}, Hair)
		end := right - RunningStub - RunningBend - 0.8
		p.Say(end, places[i]+DimensionHeight/2, DimensionHeight, r.text, 0, Style{Align: draw.Right})
		far = math.Min(far, end-TextWidth(r.text, DimensionHeight, false))
	}
	return far
}
