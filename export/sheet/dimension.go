package sheet

import (
	"math"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// The sizes of dimension lines, mm: ISO 129 leaves them to taste within reason.
const (
	dimensionHeight = draw.Letter25
	dimensionArrow  = 2.2
	extensionGap    = 1.0 // between what is measured and its extension line
	dimensionAir    = 1.3 // between a dimension line and its figure
	extensionPast   = 1.5 // by which an extension line passes the dimension line
)

// across draws the dimension of a level length from x1 to x2 on a line at y, measured at foot.
func (p pen) across(x1, x2, y, foot float64, text string) {
	p.line(x1, foot+extensionGap, x1, y+extensionPast, hair)
	p.line(x2, foot+extensionGap, x2, y+extensionPast, hair)
	p.line(x1, y, x2, y, hair)
	width := wide(text, dimensionHeight, false)
	if x2-x1 > 2*dimensionArrow+2 {
		p.arrow(plane.Point{X: x1, Y: y}, plane.Point{X: -1}, dimensionArrow, ink)
		p.arrow(plane.Point{X: x2, Y: y}, plane.Point{X: 1}, dimensionArrow, ink)
	}
	if width < x2-x1 {
		p.say((x1+x2)/2, y-dimensionAir, dimensionHeight, text, 0, style{align: draw.Centre})
		return
	}
	p.say(x2+2, y-dimensionAir, dimensionHeight, text, 0, style{})
}

// upright draws the dimension of an upright length from y1 up to y2 on a line at x, measured at
// side to its right.
func (p pen) upright(y1, y2, x, side float64, text string) {
	p.line(side-extensionGap, y1, x-extensionPast, y1, hair)
	p.line(side-extensionGap, y2, x-extensionPast, y2, hair)
	p.line(x, y1, x, y2, hair)
	if y1-y2 > 2*dimensionArrow+2 {
		p.arrow(plane.Point{X: x, Y: y1}, plane.Point{Y: 1}, dimensionArrow, ink)
		p.arrow(plane.Point{X: x, Y: y2}, plane.Point{Y: -1}, dimensionArrow, ink)
	}
	middle := (y1 + y2) / 2
	p.say(x-dimensionAir, middle, dimensionHeight, text, 0, style{align: draw.Centre, turn: math.Pi / 2})
}

// A reading is one place on a running dimension.
type reading struct {
	at   float64 // on the page, along the dimension
	text string
}

// The room that running dimensions need beside what they measure, mm.
const (
	runningPitch = dimensionHeight + 1.3 // between neighbouring figures
	runningStub  = 2.5                   // of the extension line before it bends
	runningBend  = 2.5                   // over which it bends to its figure
)

// thinned leaves out every other reading until the rest have room to stand side by side.
func thinned(readings []reading, pitch, room float64) []reading {
	for len(readings) > 1 && float64(len(readings)-1)*pitch > room {
		var kept []reading
		for i := 0; i < len(readings); i += 2 {
			kept = append(kept, readings[i])
		}
		readings = kept
	}
	return readings
}

// spread moves readings apart so that their figures do not touch, each as little as may be, and
// returns where they come to stand. Readings come in order.
func spread(readings []reading, pitch, low, high float64) []float64 {
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

// readingsOf returns the places in order, with what is nearly the same given once.
func readingsOf(places []float64, at func(float64) float64, say func(float64) string) []reading {
	places = slices.Sorted(slices.Values(places))
	var out []reading
	for i, v := range places {
		if i > 0 && v-places[i-1] < 0.5 {
			continue
		}
		out = append(out, reading{at(v), say(v)})
	}
	slices.SortFunc(out, func(a, b reading) int {
		if a.at < b.at {
			return -1
		}
		return 1
	})
	return out
}

// runningBelow writes distances from the left end under the foot of what is measured, each turned
// to read upwards at the end of its extension line, and returns how far down they reach.
func (p pen) runningBelow(readings []reading, foot, low, high float64) float64 {
	readings = thinned(readings, runningPitch, high-low)
	places := spread(readings, runningPitch, low, high)
	far := foot
	for i, r := range readings {
		top := foot + extensionGap
		p.Polyline([]plane.Point{
			{X: r.at, Y: top}, {X: r.at, Y: top + runningStub},
			{X: places[i], Y: top + runningStub + runningBend},
		}, hair)
		end := top + runningStub + runningBend + 0.8
		length := wide(r.text, dimensionHeight, false)
		p.say(places[i]+dimensionHeight/2, end+length, dimensionHeight, r.text, 0, style{turn: math.Pi / 2})
		far = math.Max(far, end+length)
	}
	return far
}

// runningLeft writes heights to the left of what is measured and returns how far left they reach.
func (p pen) runningLeft(readings []reading, side, low, high float64) float64 {
	readings = thinned(readings, runningPitch, high-low)
	places := spread(readings, runningPitch, low, high)
	far := side
	for i, r := range readings {
		right := side - extensionGap
		p.Polyline([]plane.Point{
			{X: right, Y: r.at}, {X: right - runningStub, Y: r.at},
			{X: right - runningStub - runningBend, Y: places[i]},
		}, hair)
		end := right - runningStub - runningBend - 0.8
		p.say(end, places[i]+dimensionHeight/2, dimensionHeight, r.text, 0, style{align: draw.Right})
		far = math.Min(far, end-wide(r.text, dimensionHeight, false))
	}
	return far
}
