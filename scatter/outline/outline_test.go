package outline_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter/outline"
	"wallshoal/wall/plane"
)

func parse(t testing.TB, data string) outline.Path {
	t.Helper()
	p, err := outline.ParsePath(data)
	require.NoError(t, err, data)
	return p
}

// cubicArea is the area between a cubic Bézier curve and its chord: half the integral of
// x dy - y dx, which is a polynomial and so integrated exactly. It is above 0 where the curve
// turns counter-clockwise with y up.
func cubicArea(p [4]plane.Point) float64 {
	power := func(a, b, c, d float64) [4]float64 {
		return [4]float64{a, 3 * (b - a), 3 * (a - 2*b + c), d - 3*c + 3*b - a}
	}
	x := power(p[0].X, p[1].X, p[2].X, p[3].X)
	y := power(p[0].Y, p[1].Y, p[2].Y, p[3].Y)
	var sum float64
	for i := range x {
		for j := 1; j < 4; j++ {
			sum += float64(j) * (x[i]*y[j] - y[i]*x[j]) / float64(i+j)
		}
	}
	return (sum + p[3].Cross(p[0])) / 2
}

// Areas have closed forms; an outline whose corners lie on the curve and whose sides leave it by
// at most the tolerance is off by at most the tolerance times the length of the curve.
func TestArea(t *testing.T) {
	// 2π r² / 3 - r² √3/2 and so on: a circle of radius 10 cut by a chord of length 10√3, which is
	// seen from the centre under 120°.
	const third = math.Pi*100/3 - 25*1.7320508075688772
	tests := []struct {
		name, path string
		want       float64 // the sign tells which way it runs with y up
	}{
		{"triangle", "M0,0 L10,0 L10,10 Z", -50}, // clockwise as seen, y down
		{"square by H and V", "M0 0H10V-10H0Z", 100},
		{"circle", "M10,0 A10,10 0 0 0 -10,0 A10,10 0 0 0 10,0 Z", math.Pi * 100},
		{"circle clockwise", "M10,0 A10,10 0 0 1 -10,0 A10,10 0 0 1 10,0 Z", -math.Pi * 100},
		{"half circle, radius stretched to reach", "M0,0 A1,1 0 0 1 20,0 Z", -math.Pi * 50},
		{"ellipse, tilted", "M0,0 A30,10 30 0 0 51.96152422706632,30 A30,10 30 0 0 0,0 Z", math.Pi * 300},
		{"small segment", "M0,0 A10,10 0 0 0 17.32050807568877,0 Z", third},
		{"small segment, other side", "M0,0 A10,10 0 0 1 17.32050807568877,0 Z", -third},
		{"large segment", "M0,0 A10,10 0 1 0 17.32050807568877,0 Z", math.Pi*100 - third},
		{"large segment, other side", "M0,0 A10,10 0 1 1 17.32050807568877,0 Z", -(math.Pi*100 - third)},
		{"parabola: two thirds of its triangle (Archimedes)", "M0,0 Q20,-30 40,0 Z", -400},
		{"cubic", "M0,0 C10,-40 60,-30 50,0 Z", cubicArea([4]plane.Point{{}, {X: 10, Y: 40}, {X: 60, Y: 30}, {X: 50}})},
		{"cubic with a bend back", "M0,0 C0,-40 60,40 60,0 L60,60 L0,60 Z", -3600},
		{"arc without radius is a line", "M0,0 A0,5 0 0 1 10,0 L10,10 Z", -50},
		{"arc to where it starts is nothing", "M0,0 A5,5 0 0 1 0,0 L10,0 L10,10 Z", -50},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for _, tolerance := range []float64{0.5, 0.05, 0.001} {
				ring := parse(t, tt.path).Ring(tolerance, math.MaxInt)
				assert.InDelta(t, tt.want, ring.Area(), tolerance*ring.Perimeter()+1e-9)
			}
		})
	}
}

// On the screen the sweep flag 1 runs clockwise: from left to right that is over the top.
func TestUpIsUp(t *testing.T) {
	b := parse(t, "M0,0 A10,10 0 0 1 20,0 Z").Ring(0.01, math.MaxInt).Bounds()
	assert.InDelta(t, 10, b.Max.Y, 0.01)
	assert.InDelta(t, 0, b.Min.Y, 1e-9)
	assert.Equal(t, plane.Ring{{}, {X: 3, Y: -4}, {X: 6}}, parse(t, "M0,0 L3,4 L6,0 Z").Ring(1, 10))
}

// Ways of writing the same outline give the same outline.
func TestSameOutline(t *testing.T) {
	for _, same := range [][]string{
		{"M0,0 L10,0 L10,10 L0,10 Z", "m0,0 l10,0 l0,10 l-10,0 z", "M0 0 10 0 10 10 0 10z", "m0 0 10 0 0 10-10 0z", "M0,0H10V10H0Z",
			"M0,0h10v10h-10z", "M0,0 L10,0 10,10 0,10 0,0", " M\t0 ,\n0\fL1e1,0,10,+10 0 1.0E+1 Z ", "M5,5 M0,0 H10 V10 H0 Z"},
		{"M.5.5-.5.5-.5-.5Z", "M0.5,0.5 L-0.5,0.5 L-0.5,-0.5 Z"},
		{"M0,0 C1,2 3,4 5,6 C7,8 9,-10 11,0 Z", "M0,0 C1,2 3,4 5,6 S9,-10 11,0 Z", "m0,0 c1,2 3,4 5,6 s4,-16 6,-6 z", "M0,0 C1,2 3,4 5,6 7,8 9,-10 11,0 Z"},
		{"M0,0 C0,0 9,-10 11,0 Z", "M0,0 S9,-10 11,0 Z"}, // nothing to mirror
		{"M0,0 Q1,3 5,6 Q9,9 11,0 Z", "M0,0 Q1,3 5,6 T11,0 Z", "m0,0 q1,3 5,6 t6,-6 z"},
		{"M0,0 Q1,3 5,6 L6,7 Q6,7 11,0 Z", "M0,0 Q1,3 5,6 L6,7 T11,0 Z"},
		{"M0,0 C1,2 3,4 5,6 Q5,6 11,0 Z", "M0,0 C1,2 3,4 5,6 T11,0 Z"}, // of another sort
		{"M0,0 A4,3 20 1 0 5,6 Z", "m0,0 a4,3 20 1 0 5,6 z", "M0,0 A4 3 20 105 6Z", "M0,0A4,3,20,1,0,5,6Z", "M0,0 A-4,-3 380 1 0 5,6 Z"},
		{"M0,0 A4,3 20 0 1 5,6 A4,3 20 0 1 0,0 Z", "M0,0 A4,3 20 0 1 5,6 4 3 20 0 1 0 0"},
	} {
		want := parse(t, same[0]).Ring(0.01, math.MaxInt)
		for _, other := range same[1:] {
			got := parse(t, other).Ring(0.01, math.MaxInt)
			require.Len(t, got, len(want), other)
			for i := range want {
				assert.InDelta(t, 0, want[i].Distance(got[i]), 1e-9, "%s: corner %d", other, i)
			}
		}
	}
}

func TestParsePathRefuses(t *testing.T) {
	for data, want := range map[string]string{
		"":                         "the path is empty",
		"  ":                       "the path is empty",
		"L 1,1":                    "the path does not begin with M",
		"M 0,0":                    "the path draws nothing",
		"M 0,0 Z":                  "the path draws nothing",
		"M 0,0 L 10,0 L 10,10":     "the path is not closed",
		"M0,0 L10,0 L9,9 Z M1,1":   "the path has more than one contour",
		"M0,0 L10,0 L9,9 Z z":      "the path has more than one contour",
		"M0,0 L10,0 M1,1 L2,2 Z":   "the path has more than one contour",
		"M0,0 L10,0 L9,9 Z 5":      "character 19 of the path, '5', is no path command",
		"M0,0 L10,0 X9,9 Z":        "character 12 of the path, 'X', is no path command",
		"M0,0 L10,0 L9 Z":          "character 15 of the path, 'Z', should be a number up to 1000000",
		"M0,0 L10":                 "character 9 of the path, the end of the path, should be a number up to 1000000",
		"M0,0 L10,,0 Z":            "character 10 of the path, ',', should be a number up to 1000000",
		"M0,0 Lé,0 Z":              "character 7 of the path, 'é', should be a number up to 1000000",
		"M0,0 LNaN,0 Z":            "character 7 of the path, 'N', should be a number up to 1000000",
		"M0,0 L1e9,0 Z":            "character 7 of the path, '1', should be a number up to 1000000",
		"M0,0 L1e999,0 Z":          "character 7 of the path, '1', should be a number up to 1000000",
		"M0,0 l900000,0 200000,0Z": "the path goes more than 1000000 from its origin",
		"M0,0 A5,5 0 2 0 10,0 Z":   "character 13 of the path, '2', should be 0 or 1",
		"M0,0 A5,5 0 0":            "character 14 of the path, the end of the path, should be 0 or 1",
		"#!":                       "character 1 of the path, '#', is no path command",
	} {
		_, err := outline.ParsePath(data)
		assert.EqualError(t, err, want, data)
	}
	_, err := outline.ParsePath("M0,0" + strings.Repeat(" L1,1", 500) + "Z")
	assert.EqualError(t, err, "the path has more than 400 lines and curves")
	_, err = outline.ParsePath(strings.Repeat(" ", outline.MaxPathBytes+1))
	assert.EqualError(t, err, "the path has 65537 bytes, more than 65536")
}

// drawings returns the same arrow, heading each way, as points.
func arrow(turn float64) outline.Points {
	ring := plane.Ring{{X: 30}, {X: -10, Y: 20}, {X: -10, Y: 5}, {X: -50, Y: 5}, {X: -50, Y: -5}, {X: -10, Y: -5}, {X: -10, Y: -12}}
	return outline.Points(ring.Map(func(p plane.Point) plane.Point { return p.Rotate(turn).Snap(1e9) }))
}

// However a piece is drawn, it is laid with its centroid at the origin, heading along +x,
// counter-clockwise, as long as asked, and its holes where they were in it.
func TestLay(t *testing.T) {
	hole := plane.Point{X: 5, Y: 3}
	var first plane.Ring
	var firstHoles []plane.Point
	for way, turn := range map[outline.Direction]float64{
		outline.Right: 0, outline.Up: math.Pi / 2, outline.Left: math.Pi, outline.Down: -math.Pi / 2,
	} {
		for _, reversed := range []bool{false, true} {
			d := arrow(turn)
			if reversed {
				d = outline.Points(plane.Ring(d).Reverse())
			}
			ring, holes, err := outline.Lay(d, []plane.Point{hole.Rotate(turn)}, way, 160)
			require.NoError(t, err)
			assert.InDelta(t, 0, ring.Centroid().Len(), 0.002)
			assert.Positive(t, ring.Area())
			assert.InDelta(t, 160, ring.Bounds().Width(), 0.002)
			tip := ring[0]
			for _, p := range ring {
				if p.X > tip.X {
					tip = p
				}
			}
			assert.InDelta(t, 2*3, holes[0].Y-tip.Y, 0.002) // to the left of the way it heads, twice the size
			assert.InDelta(t, 2*25, tip.X-holes[0].X, 0.002)
			if first == nil {
				first, firstHoles = ring, holes
			}
			assert.ElementsMatch(t, first, ring)
			assert.Equal(t, firstHoles, holes)
		}
	}
}

// Two holes that are so far apart in the drawing are as far apart in the piece, to 0.001 mm.
func TestHolesKeepTheirDistance(t *testing.T) {
	_, holes, err := outline.Lay(parse(t, "M60,0 C48,-13 20,-16 -10,-12 L-60,-15 L-54,0 L-60,15 L-10,12 C20,16 48,13 60,0Z"),
		[]plane.Point{{X: 25}, {X: -30}}, outline.Right, 0)
	require.NoError(t, err)
	assert.InDelta(t, 55, holes[0].X-holes[1].X, 1e-9)
	assert.InDelta(t, 0, holes[0].Y-holes[1].Y, 1e-9)
}

func TestShapes(t *testing.T) {
	ring, _, err := outline.Lay(outline.Ellipse{Width: 80, Height: 22}, nil, outline.Right, 0)
	require.NoError(t, err)
	assert.InDelta(t, math.Pi*40*11, ring.Area(), outline.Tolerance*ring.Perimeter())
	assert.InDelta(t, 80, ring.Bounds().Width(), 1e-9)
	assert.InDelta(t, 22, ring.Bounds().Height(), 1e-9)
	ring, _, err = outline.Lay(outline.Rectangle(20, 50), nil, outline.Up, 100)
	require.NoError(t, err)
	assert.Equal(t, plane.Rect{Min: plane.Point{X: -50, Y: -20}, Max: plane.Point{X: 50, Y: 20}}, ring.Bounds())
	ring, _, err = outline.Lay(parse(t, "M0,0 L5,0 L10,0 L10,0 L10,10 L0,10 L0,5 Z"), nil, outline.Right, 0)
	require.NoError(t, err)
	assert.Len(t, ring, 4, "corners in line with their neighbours are left out")
}

// An outline in any unit is smooth once it is scaled: nowhere farther from the curve than told.
func TestTolerance(t *testing.T) {
	const r = 25.0
	for _, unit := range []float64{0.001, 1, 1000} {
		circle := fmt.Sprintf("M%g,0 A%g,%g 0 0 1 %g,0 A%g,%g 0 0 1 %g,0Z", r*unit, r*unit, r*unit, -r*unit, r*unit, r*unit, r*unit)
		ring, _, err := outline.Lay(parse(t, circle), nil, outline.Right, 2*r)
		require.NoError(t, err)
		for i, p := range ring {
			middle := p.Lerp(ring[(i+1)%len(ring)], 0.5)
			assert.InDelta(t, r, p.Len(), 0.003)
			assert.Greater(t, middle.Len(), r-outline.Tolerance-0.003)
		}
		assert.Less(t, len(ring), 80)
	}
}

func TestScale(t *testing.T) {
	for _, data := range []string{"M0,0 L10,0 L10,10 Z", "M0,0 C1,2 3,-9 5,6 Z", "M0,0 A4,3 20 1 0 5,6 Z", "M0,0 Q1,3 5,6 Z"} {
		p := parse(t, data)
		assert.InDelta(t, 25.4*25.4*p.Ring(0.001, 1e6).Area(), p.Scale(25.4).Ring(0.0254, 1e6).Area(), 1e-6)
	}
}

func TestLayRefuses(t *testing.T) {
	var star outline.Points
	for i := range outline.MaxCorners + 1 {
		star = append(star, plane.Point{X: 100}.Rotate(float64(i)/64).Scale(1+float64(i%2)))
	}
	tests := []struct {
		name string
		d    outline.Drawing
		want string
	}{
		{"nothing", outline.Points{}, "the outline has no size"},
		{"a point", outline.Points{{X: 1, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 1}}, "the outline has no size"},
		{"a line along", outline.Points{{}, {X: 5}, {X: 10}}, "the outline encloses nothing"},
		{"a line across", outline.Points{{}, {Y: 5}, {Y: 10}}, "the outline has no length the way it heads"},
		{"NaN", outline.Points{{}, {X: math.NaN()}, {Y: 10}}, "the outline has no size"},
		{"many corners", star, "the outline has more than 400 corners"},
		{"huge and fine", parse(t, "M0,0 C900000,900000 -900000,900000 1,0 Z").Scale(100), "the outline has more than 400 corners"},
		{"sharp", parse(t, "M0,0"+strings.Repeat(" C1000000,1000000 -1000000,-1000000 1,0", 300)+"Z"), "the outline bends too sharply"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			length := 100.0
			if tt.name == "huge and fine" {
				length = 0
			}
			_, _, err := outline.Lay(tt.d, nil, outline.Right, length)
			assert.EqualError(t, err, tt.want)
		})
	}
}

// Whatever path data is given, it is refused in words or becomes an outline within the limits.
func FuzzPath(f *testing.F) {
	for _, data := range []string{
		"M60,2 C50,-8 36,-15 16,-16 L4,-25 Z", "m0,0 a1,1 0 0110,10z", "M0,0 S1,2 3,4 T5,6 Q1,1 2,2 H9 V9 h-1 v-1Z",
		"M-1e5-1e5 1e5.5.5e-9Z", "M0,0A1e6,1e-6 45 1 1 1e-9,0Z", "M0,0C1e6,1e6-1e6,1e6 1,0Z", "M0 0Z", "zzz", "M1", "M0,0L1,1\x00",
	} {
		f.Add(data, 100.0, uint8(1))
	}
	f.Fuzz(func(t *testing.T, data string, length float64, way uint8) {
		p, err := outline.ParsePath(data)
		if err != nil {
			assert.NotContains(t, err.Error(), "\n")
			return
		}
		if !(length == 0 || (length >= 1 && length <= 1e6)) {
			t.Skip("the plan refuses such a length")
		}
		ring, holes, err := outline.Lay(p, []plane.Point{{X: 1, Y: 2}}, outline.Directions()[way%4], length)
		if err != nil {
			return
		}
		require.Len(t, holes, 1)
		assert.LessOrEqual(t, len(ring), outline.MaxCorners)
		assert.GreaterOrEqual(t, len(ring), 3)
		for _, p := range ring {
			assert.True(t, p.Finite())
		}
	})
}
