package quality

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall/plane"
)

// areaOf is a rectangle of face 0.
func areaOf(width, height float64) []Area {
	return []Area{{Region: plane.RegionOf(plane.Rectangle(plane.Point{}, width, height))}}
}

// rising is a density that is no pieces at the left edge and most at the right one, 1000 mm off.
func rising(p Place) float64 { return p.At.X / 1000 }

// thrown returns n places in the density rising.
func thrown(n int, rng *rand.Rand) []Place {
	places := make([]Place, n)
	for i := range places {
		places[i].At = plane.Point{X: 1000 * math.Sqrt(rng.Float64()), Y: 1000 * rng.Float64()}
	}
	return places
}

// TestChanceHasTheIndexOne takes the mean of many throws: the statistic of Pearson has its degrees of
// freedom for mean and twice these for variance (Pearson 1900, from memory).
func TestChanceHasTheIndexOne(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	const throws, n = 60, 400
	sum, freedom := 0.0, 0.0
	for range throws {
		patches := Patches(areaOf(1000, 1000), thrown(n, rng), rising)
		require.Greater(t, len(patches), 20)
		sum += DispersionIndex(patches)
		freedom = float64(len(patches) - 1)
	}
	assert.InDelta(t, 1, sum/throws, 4*math.Sqrt(2/freedom/throws))
}

func TestTheWrongDensityIsFound(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	places := thrown(400, rng)
	true1, even := Patches(areaOf(1000, 1000), places, rising), Patches(areaOf(1000, 1000), places, nil)
	assert.Greater(t, DispersionIndex(even), 2*DispersionIndex(true1))
	// The integral of |2x - 1| / 2 from 0 to 1; chance adds a little.
	assert.InDelta(t, 0.25, Displaced(even), 0.06)
	assert.Less(t, Displaced(true1), Displaced(even)-0.08)
}

func TestALatticeIsTruerThanChance(t *testing.T) {
	var places []Place
	for i := range 40 {
		for j := range 40 {
			places = append(places, Place{At: plane.Point{X: 25 * (float64(i) + 0.5), Y: 25 * (float64(j) + 0.5)}})
		}
	}
	patches := Patches(areaOf(1000, 1000), places, nil)
	assert.Less(t, DispersionIndex(patches), 0.5)
	assert.Less(t, Displaced(patches), 0.15)
}

func TestPatchesHoldEverythingOnce(t *testing.T) {
	ring := plane.Ring{{X: 0, Y: 0}, {X: 900, Y: 0}, {X: 900, Y: 300}, {X: 300, Y: 300}, {X: 300, Y: 900}, {X: 0, Y: 900}}
	areas := []Area{{Face: 0, Region: plane.RegionOf(ring)}, {Face: 2, Region: plane.RegionOf(plane.Rectangle(plane.Point{X: 50, Y: 60}, 200, 100))}}
	rng := rand.New(rand.NewPCG(5, 6))
	var places []Place
	for range 300 {
		places = append(places, Place{At: plane.Point{X: 900 * rng.Float64(), Y: 900 * rng.Float64()}}, Place{Face: 2, At: plane.Point{X: 100, Y: 100}})
	}
	patches := Patches(areas, places, func(p Place) float64 { return 1 + float64(p.Face) })
	have, want := 0, 0.0
	for _, p := range patches {
		assert.GreaterOrEqual(t, p.Want, 5.0)
		have += p.Have
		want += p.Want
	}
	assert.Equal(t, 600, have)
	assert.InDelta(t, 600, want, 1e-9)
}

func TestWhereThereIsNoDensityToCompare(t *testing.T) {
	places := thrown(100, rand.New(rand.NewPCG(1, 1)))
	assert.Empty(t, Patches(nil, places, nil))
	assert.Empty(t, Patches(areaOf(1000, 1000), places[:9], nil))
	assert.Empty(t, Patches(areaOf(1000, 1000), places, func(Place) float64 { return 0 }))
	assert.Zero(t, DispersionIndex(nil))
	assert.Zero(t, DispersionIndex([]Patch{{3, 3}}))
	assert.Zero(t, Displaced(nil))
}

func TestByHand(t *testing.T) {
	patches := []Patch{{8, 10}, {15, 10}, {7, 10}}
	assert.InDelta(t, (4+25+9)/10.0/2, DispersionIndex(patches), 1e-12)
	assert.InDelta(t, 5/30.0, Displaced(patches), 1e-12, "five of thirty have to go elsewhere")
}
