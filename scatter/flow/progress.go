package flow

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A leader is a current that leads somewhere: places of the room lie earlier or later along it.
type leader interface {
	// progress returns how far along the current the place lies, in mm from a beginning of the
	// current's own, and what that counts against other currents: 0 where it leads nowhere after all.
	progress(at space.Vec) (mm, weight float64)
}

// Leads reports whether the flow leads anywhere, so that there is a Progress along it: whether one
// of its currents is a Toward, an Away, a RoomSweep or an Along.
func (fl Field) Leads() bool {
	_, ok := fl.Progress(space.Frame{}, plane.Point{})
	return ok
}

// Progress returns how far along the flow the point p of the face with the frame f lies, in mm,
// rounded to 0.01 mm; only differences from place to place mean anything. It is the mean, by their
// strengths, of the ways along those currents that lead somewhere:
//
//	Toward, Away  the way to the point or from it, of which less counts where the current fades
//	RoomSweep     the way along its direction
//	Along         the way along the path to the nearest place of it
//
// A Swirl comes back to where it was, a Meander leads nowhere, and a Sweep begins anew on every
// face: these count nothing. Where nothing else is in the flow ok is false, wherever p lies.
//
// Progress is a matter of the place in the room, and so the same on both faces of a corner. The
// slope that it has on a face for Toward, Away and RoomSweep is these currents themselves, so that
// along their sum it nowhere falls; along a path it rises within the path's reach.
func (fl Field) Progress(f space.Frame, p plane.Point) (mm float64, ok bool) {
	at := f.At(p)
	var sum, weights float64
	for _, c := range fl {
		l, leads := c.(leader)
		if !leads {
			continue
		}
		way, weight := l.progress(at)
		sum += float64(way * weight)
		weights += weight
	}
	if weights == 0 {
		return 0, false
	}
	return math.Round(sum/weights*100)/100 + 0, true
}

// progress implements leader: what is left of the strength, added up from the place to the point.
func (c Toward) progress(at space.Vec) (mm, weight float64) {
	return -faded(c.Point.Sub(at).Len(), c.Reach), c.Strength
}

// progress implements leader.
func (c Away) progress(at space.Vec) (mm, weight float64) {
	return faded(at.Sub(c.Point).Len(), c.Reach), c.Strength
}

// faded returns the integral of Fade over the distance from 0 to far, in mm.
func faded(far, reach float64) float64 {
	if reach <= 0 {
		return far
	}
	scale := reach / math.Sqrt(tail)
	u := far / scale
	return 0.5 * scale * (u/(1+float64(u*u)) + math.Atan(u))
}

// progress implements leader.
func (c RoomSweep) progress(at space.Vec) (mm, weight float64) {
	far := c.Way.Len()
	if far == 0 {
		return 0, 0
	}
	return at.Dot(c.Way) / far, c.Strength
}

// progress implements leader.
//
// Where two places of the path are equally near, as inside a bend, the nearest jumps. So this is a
// mean over the path, where a place at the distance r weighs exp(-r²/2h²) with h half the reach:
// of a straight path it is a smooth step from its beginning to its end, and however far off it is
// the nearest place but for about h.
func (c Along) progress(at space.Vec) (mm, weight float64) {
	h := c.Reach / 2
	if !(h > 0) {
		return 0, 0
	}
	var total, moment float64
	nearest := math.Inf(1) // squared distance that weights are counted from
	gone := 0.0
	for i := 1; i < len(c.Path); i++ {
		from, step := c.Path[i-1], c.Path[i].Sub(c.Path[i-1])
		length := step.Len()
		if length == 0 {
			continue
		}
		way := step.Scale(1 / length)
		start := from.Sub(at).Dot(way)
		off := from.Sub(at).Sub(way.Scale(start))
		far2, mass, mean := weighed(start, start+length, h)
		far2 += off.Dot(off)
		mean += gone - start
		gone += length
		if far2 < nearest {
			less := math.Exp((far2 - nearest) / float64(2*h*h)) // 0 for the first stretch
			total, moment, nearest = float64(total*less), float64(moment*less), far2
		} else {
			mass *= math.Exp((nearest - far2) / float64(2*h*h))
		}
		total += mass
		moment += float64(mass * mean)
	}
	if total == 0 {
		return 0, 0
	}
	return moment / total, c.Strength
}

// weighed returns the integral of exp(-t²/2h²) from a to b, for a below b, as mass × exp(-far2/2h²)
// with far2 the least t², and the mean of t by it.
func weighed(a, b, h float64) (far2, mass, mean float64) {
	if b <= 0 {
		far2, mass, mean = weighed(-b, -a, h)
		return far2, mass, -mean
	}
	low := math.Max(a, 0)
	far2 = float64(low * low)
	drop := func(t float64) float64 { return math.Exp((far2 - float64(t*t)) / float64(2*h*h)) }
	unit := math.Sqrt2 * h
	if a > 0 {
		mass = scaledErfc(a/unit) - float64(drop(b)*scaledErfc(b/unit))
	} else {
		mass = math.Erf(b/unit) - math.Erf(a/unit)
	}
	mass *= h * math.Sqrt(math.Pi/2)
	if mass <= 0 { // a and b are too close together for their difference
		return far2, b - a, low
	}
	mean = float64(h*h) * (drop(a) - drop(b)) / mass
	return far2, mass, math.Min(math.Max(mean, a), b)
}

// scaledErfc returns exp(x²) erfc(x) for x from 0; far out, where the one is too large and the
// other too small, by the first terms of its continued fraction.
func scaledErfc(x float64) float64 {
	if x < 12 {
		return math.Exp(x*x) * math.Erfc(x)
	}
	return 1 / (math.SqrtPi * (x + 0.5/(x+1/(x+1.5/x))))
}
