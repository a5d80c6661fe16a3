package heading

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// striations are the bearings of 51 glacial striations in Finland, in degrees: J. C. Davis,
// Statistics and Data Analysis in Geology (1986), page 316.
var striations = []Bearing{
	23, 27, 53, 58, 64, 83, 85, 88, 93, 99, 100, 105, 113, 113, 114, 117, 121, 123, 125, 126, 126,
	126, 127, 127, 128, 128, 129, 132, 132, 132, 134, 135, 137, 144, 145, 145, 146, 153, 155, 155,
	155, 157, 163, 165, 171, 172, 179, 181, 186, 190, 212,
}

// TestMeanOfTheFinnishStriations: 0.8003694 is the mean resultant length that the documentation
// of the R package tectonicr prints; the mean direction is worked out from the same data.
func TestMeanOfTheFinnishStriations(t *testing.T) {
	mean, resultant, ok := MeanBearing(striations)
	assert.True(t, ok)
	assert.InDelta(t, 129.190, float64(mean), 0.005)
	assert.InDelta(t, 0.8003694, resultant, 5e-8)
}

func TestMeanWrapsAtTheTop(t *testing.T) {
	mean, resultant, ok := MeanBearing([]Bearing{350, 10})
	assert.True(t, ok)
	assert.Equal(t, Bearing(0), mean)
	assert.InDelta(t, 0.984807753012208, resultant, 1e-12, "the cosine of 10°")
}

func TestMeanOfOneIsItself(t *testing.T) {
	for _, b := range []Bearing{0, 0.01, 90, 180, 359.99} {
		mean, resultant, ok := MeanBearing([]Bearing{b})
		assert.True(t, ok)
		assert.Equal(t, b, mean)
		assert.InDelta(t, 1, resultant, 1e-15)
		assert.LessOrEqual(t, resultant, 1.0)
	}
}

func TestMeanIsUndefinedWhereDirectionsCancelOut(t *testing.T) {
	quarters := []Bearing{0, 90, 180, 270}
	var fan []Bearing
	for i := range 36_000 {
		fan = append(fan, Bearing(i)/100)
	}
	for name, bearings := range map[string][]Bearing{
		"none": nil, "quarters": quarters, "opposites": {33.33, 213.33}, "every hundredth": fan,
	} {
		mean, resultant, ok := MeanBearing(bearings)
		assert.False(t, ok, name)
		assert.Zero(t, mean, name)
		assert.Zero(t, resultant, name)
	}
	_, _, ok := Mean([]float64{math.NaN()})
	assert.False(t, ok)
}

func TestBearingsAndAnglesAreOneAnother(t *testing.T) {
	for i := range 36_000 {
		b := Bearing(float64(i) / 100)
		if FromAngle(b.Angle()) != b {
			t.Fatalf("%v° comes back as %v°", float64(b), float64(FromAngle(b.Angle())))
		}
	}
}

func TestFromAngle(t *testing.T) {
	for _, row := range []struct {
		angle float64
		want  Bearing
	}{
		{math.Pi / 2, 0},
		{0, 90},
		{-math.Pi / 2, 180},
		{math.Pi, 270},
		{5 * math.Pi / 2, 0},
		{9 * math.Pi, 270},
		{math.Pi/2 + 1e-9, 0},
		{math.Pi/2 - 2*math.Pi, 0},
		{-10, 302.96}, // 90 + 572.958 - 360
	} {
		got := FromAngle(row.angle)
		assert.Equal(t, row.want, got, "angle %v", row.angle)
		assert.False(t, math.Signbit(float64(got)), "angle %v gives -0", row.angle)
	}
}
