package mixing

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/scatter/neighbour"
	"wallshoal/wall/plane"
)

// wishOf returns the wish of a scheme for a room of two faces, known by 3000 places.
func wishOf(scheme Scheme, kinds []Kind, seed uint64) *Wish {
	room := strewn(3000, alike(1, 3000), source(seed))
	return NewWish(scheme, kinds, room.places, room.progress, source(seed))
}

func TestWeightsAreShares(t *testing.T) {
	kinds := []Kind{{Of: "a", Quota: 30}, {Of: "b", Form: "x", Quota: 50}, {Of: "b", Form: "y", Quota: 20}, {Of: "c", Quota: 0}}
	for _, scheme := range schemes {
		wish := wishOf(scheme, kinds, 1)
		into := make([]float64, 9)
		for _, p := range strewn(200, alike(1, 200), source(2)).places {
			weights := wish.Weights(p, p.At.X, into)
			assert.Len(t, weights, 4)
			var sum float64
			for _, w := range weights {
				assert.GreaterOrEqual(t, w, 0.0)
				sum += w
			}
			assert.InDelta(t, 1, sum, 1e-12)
			assert.Zero(t, weights[3], "none are wanted")
			assert.InDelta(t, 2.5, weights[1]/weights[2], 1e-9, "forms of one are dealt by their quotas")
			if scheme.Way != Drifting && scheme.Way != Families {
				assert.InDeltaSlice(t, []float64{0.3, 0.5, 0.2, 0}, weights, 1e-12)
			}
		}
	}
}

func TestWeightsLeadFromOneKindToTheNext(t *testing.T) {
	kinds := alike(4, 800)
	wish := wishOf(Scheme{Way: Drifting}, kinds, 3)
	most := math.Sqrt(3000) * 100
	for k := range 4 {
		for tenth := range 10 { // of the interval of k
			progress := most * (float64(k) + (float64(tenth)+0.5)/10) / 4
			wins := 0
			for y := range 100 {
				weights := wish.Weights(neighbour.Place{At: plane.Point{X: progress, Y: float64(37 * y)}}, progress, nil)
				if weights[k] == slices.Max(weights) {
					wins++
				}
				if tenth == 4 || tenth == 5 {
					assert.Less(t, weights[(k+2)%4], 0.02, "two intervals away")
				}
			}
			switch tenth {
			case 4, 5:
				assert.Greater(t, wins, 85, "in the middle of %d", k)
			case 0:
				if k > 0 {
					assert.InDelta(t, 55, wins, 25, "where %d begins", k)
				}
			}
		}
	}
}

// TestPiecesPlacedByWeightsNeedFewSwaps composes as by throwing darts: piece by piece, with the kind
// that weighs most against what its quota lacks, before anybody knows where the others will be.
func TestPiecesPlacedByWeightsNeedFewSwaps(t *testing.T) {
	kinds := alike(5, 1000)
	for _, scheme := range []Scheme{{Way: Drifting}, {Way: Families, Size: 10}} {
		w, room := strewn(1000, kinds, source(5)), strewn(1000, kinds, source(4))
		wish := NewWish(scheme, kinds, room.places, room.progress, source(4))
		left := make([]int, 5)
		for k := range left {
			left[k] = kinds[k].Quota
		}
		for _, i := range source(6).Perm(1000) {
			weights := wish.Weights(w.places[i], w.progress[i], nil)
			best := 0
			for k := range weights {
				weights[k] *= float64(left[k])
				if weights[k] > weights[best] {
					best = k
				}
			}
			left[best]--
			w.now[i] = best
		}
		if scheme.Way == Drifting {
			assert.Greater(t, w.drift(), 0.85)
		} else {
			assert.Greater(t, w.company(), 6.0)
		}
		w.mix(scheme, 1) // by a wish with another blur and other plots
		before := slices.Clone(w.now)
		made := wish.Mix(w.graph, w.places, w.progress, w.now, w.swap, source(7))
		again := wish.Mix(w.graph, w.places, w.progress, w.now, w.swap, source(8))
		assert.NotEqual(t, before, w.now)
		assert.Less(t, again, made/4, "what is dealt by a wish is left as it is")
	}
}

func TestAWishKnowsNoMoreThanItsSample(t *testing.T) {
	kinds := alike(3, 30)
	at := neighbour.Place{Face: 4, At: plane.Point{X: -500, Y: 1e6}}
	for _, scheme := range schemes {
		for _, wish := range []*Wish{
			NewWish(scheme, kinds, nil, nil, source(1)),
			wishOf(scheme, kinds, 1),
			NewWish(scheme, kinds, []neighbour.Place{at, at, at}, []float64{1, 1, 1}, source(1)),
		} {
			for _, p := range []neighbour.Place{at, {Face: 0, At: at.At}, {}} {
				for _, progress := range []float64{-1e9, 0, 1, 1e9} {
					weights := wish.Weights(p, progress, nil)
					assert.InDelta(t, 1, weights[0]+weights[1]+weights[2], 1e-12)
				}
			}
		}
	}
}

func TestPlotsHoldAboutAsMuchEach(t *testing.T) {
	room := strewn(4000, alike(1, 4000), source(9))
	p := layOut(20, []int{1500, 1500, 1000}, room.places, source(9))
	plots := 0
	for face, b := range p.beds {
		held := make([]int, len(b.middles))
		plots += len(held)
		for _, place := range room.places {
			if place.Face == face {
				nearest, least := int32(0), math.Inf(1)
				b.near(place.At, func(m int32, square float64) {
					if square < least {
						nearest, least = m, square
					}
				})
				held[nearest]++
			}
		}
		for m, n := range held {
			assert.InDelta(t, 20, n, 10, "plot %d of face %d", m, face)
		}
	}
	assert.Equal(t, 200, plots)
	assert.Equal(t, []int{2, 0, 5}, parts(7, [][]plane.Point{make([]plane.Point, 3), nil, make([]plane.Point, 8)}))
}
