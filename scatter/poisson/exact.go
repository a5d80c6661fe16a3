package poisson

import (
	"cmp"
	"context"
	"errors"
	"math"
	"math/rand/v2"
)

// ErrNoRoom says that a domain has no room for the points asked.
var ErrNoRoom = errors.New("no room for so many points")

// most is how many fills Exactly tries.
const most = 24

// Exactly returns exactly count points, evenly spread over the charts, and the scale that they keep:
// every two are at least that many times the smaller of their radii apart, in mm. A chart without
// Radii has radii of 1.
//
// The scale is solved for beforehand, from the area and the edge of the domain and the slope of its
// radii, so that one fill has a few points more than asked as a rule; the most crowded of them go. Where it has a few less, the
// same fill goes on at a slightly smaller scale.
//
// The result follows from the arguments and the state of rng alone. The error is ErrNoRoom or ctx's.
func Exactly(ctx context.Context, charts []Chart, count int, rng *rand.Rand) (points []Point, scale float64, err error) {
	if count <= 0 {
		return nil, math.Inf(1), nil
	}
	size := measured(charts, math.Inf(1))
	if size.area > 0 {
		size = measured(charts, size.scale(float64(count)))
	}
	if !(size.area > 0) {
		return nil, 0, ErrNoRoom
	}
	wanted := float64(count) + surplus(count)
	scale = size.scale(wanted)
	var given []Point
	for range most {
		if scale*PerMM < 1 {
			return nil, 0, ErrNoRoom
		}
		grid, err := Fill(ctx, charts, Spacing{Scale: scale}, given, nil, rng)
		if err != nil {
			return nil, 0, err
		}
		got := float64(grid.Len())
		missing := float64(count) - got
		switch {
		case missing <= 0 && (given != nil || got <= wanted+float64(5*surplus(count))):
			return grid.thinned(count), scale, nil
		case missing > 0 && missing < 4*surplus(count) && got > 0:
			// The widest gaps left take a point each once the scale gives way a little.
			given = grid.points
			scale *= 1 - (missing+surplus(count))/(2*float64(count))
		default:
			given = nil
			off := max(got, 1) / size.count(scale)
			size.area, size.edge = size.area*off, size.edge*off
			scale = size.scale(wanted)
		}
	}
	return nil, 0, ErrNoRoom
}

// surplus returns how many points more than asked a fill aims at: a little more than the number that
// fits at a scale varies by from fill to fill.
func surplus(count int) float64 { return float64(0.4 * math.Sqrt(float64(count))) }

// thinned returns count points of the grid, the most crowded taken away.
func (g *Grid) thinned(count int) []Point {
	t := thinner{grid: g, gone: make([]bool, g.Len()), queue: make([]pressed, 0, g.Len())}
	for _, sheets := range g.sheets {
		for _, s := range sheets {
			s.each(func(i int32) { t.queue = append(t.queue, pressed{i, t.pressure(int(i))}) })
		}
	}
	for i := len(t.queue)/2 - 1; i >= 0; i-- {
		t.sink(i)
	}
	for left := g.Len(); left > count; {
		worst := &t.queue[0]
		if now := t.pressure(int(worst.point)); now < worst.pressure {
			worst.pressure = now
		} else {
			t.gone[worst.point] = true
			left--
			t.queue[0] = t.queue[len(t.queue)-1]
			t.queue = t.queue[:len(t.queue)-1]
		}
		t.sink(0)
	}
	points := make([]Point, 0, count)
	for i, p := range g.points {
		if !t.gone[i] {
			points = append(points, p)
		}
	}
	return points
}

// A thinner takes points away. Its queue is a heap, the most pressed on top.
type thinner struct {
	grid  *Grid
	gone  []bool
	queue []pressed
}

// pressed is a point and how hard its neighbours pressed it when last looked at.
type pressed struct {
	point    int32
	pressure float64
}

func (p pressed) before(q pressed) bool {
	return cmp.Or(cmp.Compare(q.pressure, p.pressure), cmp.Compare(p.point, q.point)) < 0
}

func (t *thinner) sink(i int) {
	for {
		child := 2*i + 1
		if child >= len(t.queue) {
			return
		}
		if child+1 < len(t.queue) && t.queue[child+1].before(t.queue[child]) {
			child++
		}
		if !t.queue[child].before(t.queue[i]) {
			return
		}
		t.queue[i], t.queue[child] = t.queue[child], t.queue[i]
		i = child
	}
}

// felt is how many radii away a neighbour presses: at 1.6 a 1500th as hard as at 1.
const felt = 1.6

// pressure is the weight of C. Yuksel, Sample elimination for generating Poisson disk sample sets,
// Computer Graphics Forum 34 (2015): (1 - d/2r)⁸ summed over the neighbours, with the smaller of both
// radii, but not as far as two of them.
func (t *thinner) pressure(i int) float64 {
	g, sum := t.grid, 0.0
	radius := g.radius(1)
	if !g.even {
		radius = g.radii[i]
	}
	g.Near(g.points[i], felt*radius, func(j int, d float64) bool {
		if j == i || t.gone[j] {
			return true
		}
		keep := radius
		if !g.even {
			keep = min(keep, g.radii[j])
		}
		if share := 1 - d/(2*keep); share > 0 {
			square := share * share
			fourth := square * square
			sum += float64(fourth * fourth)
		}
		return true
	})
	return sum
}
