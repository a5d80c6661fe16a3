package quality_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/scatter/heading"
	"wallshoal/scatter/quality"
	"wallshoal/wall/plane"
)

// headed returns pieces in a flow to the right.
func headed(bearings ...heading.Bearing) []quality.Headed {
	pieces := make([]quality.Headed, len(bearings))
	for i, b := range bearings {
		pieces[i].Heading = b
	}
	return pieces
}

// row makes every piece a neighbour of the one before and the one after.
func row(n int) func(int) []int32 {
	return func(i int) []int32 {
		var near []int32
		for _, j := range []int{i - 1, i + 1} {
			if 0 <= j && j < n {
				near = append(near, int32(j))
			}
		}
		return near
	}
}

// TestHeadingsByHand: deviations of -10°, 10°, 0° and 0°. R = (2 cos 10° + 2)/4 = 0.99240388 and
// √(-2 ln R) = 0.12349 = 7.0755°. Neighbours differ by 20°, 10° and 0°, all pairs by 20°, four
// times 10°, and 0°.
func TestHeadingsByHand(t *testing.T) {
	h := quality.MeasureHeadings(headed(80, 100, 90, 90), heading.Scheme{Spread: 12, Apart: 10}, row(4), row(4))
	assert.InDelta(t, 5, h.Deviation, 1e-12)
	assert.InDelta(t, 0.9924038765, h.Resultant, 1e-9)
	assert.InDelta(t, 7.0755, h.Spread, 5e-4)
	assert.InDelta(t, 7.0755, h.Along, 5e-4)
	assert.InDelta(t, 0.5, h.Apart, 1e-12, "the first two")
	assert.InDelta(t, (0.9396926208+0.9848077530+1)/3, h.Alike, 1e-9)
	assert.InDelta(t, (0.9396926208+4*0.9848077530+1)/6, h.Chance, 1e-9)
	assert.Zero(t, h.Strays)
	assert.Zero(t, h.Second)
}

func TestHeadingsAreMeasuredFromFlowAndOffset(t *testing.T) {
	pieces := []quality.Headed{
		{Heading: 355, Flow: heading.Bearing(5).Angle()},               // 10° anticlockwise
		{Heading: 100, Flow: heading.Bearing(5).Angle(), Offset: 90},   // 5° clockwise
		{Heading: 300, Flow: heading.Bearing(30).Angle(), Offset: -90}, // as meant
	}
	h := quality.MeasureHeadings(pieces, heading.Scheme{}, nil, nil)
	assert.InDelta(t, 5, h.Deviation, 1e-12)
	assert.InDelta(t, 2./3/(1-0.04/360), h.Strays, 1e-12, "without a spread whoever is off the flow is a stray")
	assert.Zero(t, h.Apart)
	assert.Zero(t, h.Alike)
}

func TestHeadingsThatCancelOut(t *testing.T) {
	h := quality.MeasureHeadings(headed(0, 90, 180, 270), heading.Scheme{Spread: 60}, row(4), nil)
	assert.InDelta(t, 90, h.Deviation, 1e-12, "90°, 0°, 90° and 180°")
	assert.Zero(t, h.Resultant)
	assert.Equal(t, 360.0, h.Spread, "as wide as can be said")
	assert.InDelta(t, 0, h.Alike, 1e-12)
	assert.InDelta(t, -1./3, h.Chance, 1e-12, "four pairs at right angles and two opposite")
	assert.Equal(t, quality.Headings{}, quality.MeasureHeadings(nil, heading.Scheme{Spread: 12}, nil, nil))
	one := quality.MeasureHeadings(headed(90), heading.Scheme{Spread: 12}, row(1), row(1))
	assert.Equal(t, quality.Headings{Resultant: 1, Apart: 1}, one)
}

// TestSharesOfRoles: within 30° of the flow go 18 of 20. Strays would fall there in 60 of 360
// cases, so the two others are five sixths of them.
func TestSharesOfRoles(t *testing.T) {
	var bearings []heading.Bearing
	for range 18 {
		bearings = append(bearings, 90)
	}
	h := quality.MeasureHeadings(headed(append(bearings, 121, 270)...), heading.Scheme{Spread: 10}, nil, nil)
	assert.InDelta(t, 0.12, h.Strays, 1e-12)
	assert.Zero(t, h.Along)

	// Two directions, 120° apart: they leave two thirds of the circle, so the one stray in ten is two
	// thirds of all strays, 0.15; a sixth of those are among the three tenths of the second.
	s := heading.Scheme{Spread: 10, Second: heading.Second{Turn: 120, Share: 0.25}}
	h = quality.MeasureHeadings(headed(90, 90, 90, 100, 80, 90, 210, 220, 200, 330), s, nil, nil)
	assert.InDelta(t, 0.15, h.Strays, 1e-12)
	assert.InDelta(t, 0.3-0.15/6, h.Second, 1e-12)

	// Reaches that meet: 60° wide each, 40° apart, they cover 100°.
	s.Second.Turn = -40
	h = quality.MeasureHeadings(headed(90, 69, 71, 50, 270), s, nil, nil)
	assert.InDelta(t, 0.2*360/260, h.Strays, 1e-12)
	assert.InDelta(t, 0.4-h.Strays*50/360, h.Second, 1e-12, "69° and 50°")

	s.Spread = 100
	h = quality.MeasureHeadings(headed(90, 270), s, nil, nil)
	assert.Zero(t, h.Strays, "with so wide a spread nobody can be told for a stray")
}

func TestNearestOf(t *testing.T) {
	near := quality.NearestOf(func(int) []int32 { return []int32{1, 2, 3, 4, 5} }, func(_, j int) float64 {
		return []float64{0, 9, 4, 4, 1, 7}[j]
	})
	assert.Equal(t, []int32{4, 2, 3}, near(0))
}

// laidOut stands n by n pieces on a lattice in a flow that turns slowly over the face, in chance
// order, by the scheme.
func laidOut(s heading.Scheme, n int) (pieces []quality.Headed, adjacent, nearest func(int) []int32) {
	rng := rand.New(rand.NewPCG(11, 12))
	at := func(i int) plane.Point { return plane.Point{X: float64(i % n), Y: float64(i / n)} }
	adjacent = func(i int) []int32 {
		var near []int32
		for j := range n * n {
			if j != i && at(i).Distance(at(j)) < 1.5 {
				near = append(near, int32(j))
			}
		}
		return near
	}
	nearest = quality.NearestOf(adjacent, func(i, j int) float64 { return at(i).Distance(at(j)) })
	var roles []heading.Role
	for role, quota := range s.Quotas(n * n) {
		for range quota {
			roles = append(roles, heading.Role(role))
		}
	}
	rng.Shuffle(len(roles), func(i, j int) { roles[i], roles[j] = roles[j], roles[i] })
	pieces = make([]quality.Headed, n*n)
	stands := make([]bool, n*n)
	drawer := heading.NewDrawer(s)
	for turn, i := range rng.Perm(n * n) {
		pieces[i].Flow = at(i).X / float64(n)
		pieces[i].Offset = float64(i%2) * 90
		var near []heading.Bearing
		for _, j := range nearest(i) {
			if stands[j] {
				near = append(near, pieces[j].Heading)
			}
		}
		pieces[i].Heading = drawer.Draw(rng, roles[turn], pieces[i].Flow, pieces[i].Offset, near)
		stands[i] = true
	}
	return pieces, adjacent, nearest
}

// measured is what comes of a scheme.
func measured(s heading.Scheme) quality.Headings {
	pieces, adjacent, nearest := laidOut(s, 24)
	return quality.MeasureHeadings(pieces, s, adjacent, nearest)
}

// TestKnobsOfHeadings turns each knob up and sees what it is for grow, and come near what is asked:
// the error of a spread of n pieces is about one in √(2n), 3 in 100 here; that of a share of strays
// between two directions is about 0.01, and some 5 in 1000 pieces pass three times the spread besides.
func TestKnobsOfHeadings(t *testing.T) {
	last := quality.Headings{Alike: 1}
	for _, spread := range []float64{0, 4, 9, 16, 30, 50} {
		h := measured(heading.Scheme{Spread: spread})
		assert.GreaterOrEqual(t, h.Along, last.Along, "spread %v°", spread)
		assert.GreaterOrEqual(t, h.Deviation, last.Deviation, "spread %v°", spread)
		assert.InDelta(t, spread, h.Along, 0.1*spread, "spread %v°", spread)
		last = h
	}
	last = quality.Headings{}
	for _, strays := range []float64{0, 0.05, 0.12, 0.3, 0.6} {
		h := measured(heading.Scheme{Spread: 12, Strays: strays})
		assert.GreaterOrEqual(t, h.Strays, last.Strays, "strays %v", strays)
		assert.InDelta(t, strays, h.Strays, 0.03, "strays %v", strays)
		last = h
	}
	last = quality.Headings{}
	for _, share := range []float64{0, 0.05, 0.12, 0.3, 0.6} {
		h := measured(heading.Scheme{Spread: 12, Strays: 0.1, Second: heading.Second{Turn: -110, Share: share}})
		assert.GreaterOrEqual(t, h.Second, last.Second, "second %v", share)
		assert.InDelta(t, share, h.Second, 0.03, "second %v", share)
		assert.InDelta(t, 0.1, h.Strays, 0.04, "second %v", share)
		last = h
	}
	last = quality.Headings{Alike: 1}
	for _, apart := range []float64{0, 10, 20, 35} {
		h := measured(heading.Scheme{Spread: 25, Apart: apart})
		assert.Less(t, h.Alike, last.Alike, "apart %v°", apart)
		assert.Greater(t, h.Spread, 0.9*25)
		if apart > 0 {
			without := apartWithout(apart)
			assert.Greater(t, h.Apart, without, "apart %v°: more meet it than by chance", apart)
		}
		last = h
	}
}

// apartWithout returns the share that meets a difference that nobody asked for.
func apartWithout(apart float64) float64 {
	pieces, adjacent, nearest := laidOut(heading.Scheme{Spread: 25}, 24)
	return quality.MeasureHeadings(pieces, heading.Scheme{Spread: 25, Apart: apart}, adjacent, nearest).Apart
}

// TestNeighboursOfAFlowThatTurnsAreMoreAlikeThanChance, as the flow turns by a radian over the face.
func TestNeighboursOfAFlowThatTurnsAreMoreAlikeThanChance(t *testing.T) {
	pieces, adjacent, _ := laidOut(heading.Scheme{Spread: 8}, 24)
	for i := range pieces {
		turned := float64(pieces[i].Heading) + 360 - pieces[i].Offset
		pieces[i].Heading, pieces[i].Offset = heading.Bearing(math.Mod(turned, 360)), 0
	}
	h := quality.MeasureHeadings(pieces, heading.Scheme{Spread: 8}, adjacent, nil)
	assert.Greater(t, h.Alike, h.Chance+0.05)
}
