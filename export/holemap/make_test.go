package holemap

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// room returns two walls of 4 by 2.7 m and the front of a bulkhead that hangs at 2.4 m.
func room() wall.Site {
	return wall.Site{
		Room: wall.Room{
			Datum: 1500,
			Walls: []wall.Wall{{Name: "Long wall"}, {Name: "Short wall"}},
		},
		Faces: []wall.Face{
			{Wall: 0, Name: "wall", Frame: space.Upright(space.Vec{}, 0)},
			{Wall: 0, Name: "bulkhead front", Frame: space.Upright(space.Vec{Y: -350, Z: 2400}, 0)},
			{Wall: 1, Name: "wall", Frame: space.Upright(space.Vec{X: 4000}, -90)},
		},
	}
}

func kinds() []scatter.Kind {
	pin := func(x, y float64) scatter.Hole {
		return scatter.Hole{At: plane.Point{X: x, Y: y}, Bit: 1.5, Depth: 25, Fixing: "steel pin"}
	}
	outline := plane.Ellipse(plane.Point{}, 60, 20, 24)
	return []scatter.Kind{
		{Name: "One", Code: "A", Outline: outline, Holes: []scatter.Hole{pin(0, 0)}},
		{Name: "Two", Code: "B", Outline: outline, Holes: []scatter.Hole{pin(40, 0), pin(-30, 10)}},
	}
}

func layout(n int, rng *rand.Rand) scatter.Layout {
	var l scatter.Layout
	for i := range n {
		l.Pieces = append(l.Pieces, scatter.Piece{
			ID:      i + 1,
			Kind:    rng.IntN(2),
			Face:    rng.IntN(3),
			At:      plane.Point{X: 4000 * rng.Float64(), Y: 2700 * rng.Float64()}.Snap(100),
			Heading: heading.Bearing(rng.IntN(36000)) / 100,
		})
	}
	return l
}

func TestAHoleTurnsWithItsPiece(t *testing.T) {
	tests := []struct {
		name    string
		heading heading.Bearing
		want    plane.Point // of the hole 40 mm ahead and 20 mm to the left of (1000, 1500)
	}{
		{"heading right, as the outline is drawn", 90, plane.Point{X: 1040, Y: 1520}},
		{"heading up: ahead is up, left is left", 0, plane.Point{X: 980, Y: 1540}},
		{"heading left", 270, plane.Point{X: 960, Y: 1480}},
		{"heading down", 180, plane.Point{X: 1020, Y: 1460}},
		// Turned 30° counter-clockwise: (40 cos 30° − 20 sin 30°, 40 sin 30° + 20 cos 30°)
		// = (34.641 − 10, 20 + 17.321).
		{"bearing 60 is 30° above the level", 60, plane.Point{X: 1024.641, Y: 1537.321}},
	}
	ks := kinds()
	ks[0].Holes[0].At = plane.Point{X: 40, Y: 20}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m, err := Make(room(), ks, scatter.Layout{Pieces: []scatter.Piece{
				{ID: 1, At: plane.Point{X: 1000, Y: 1500}, Heading: tt.heading},
			}})
			require.NoError(t, err)
			require.Len(t, m.Holes, 1)
			assert.Equal(t, tt.want, m.Holes[0].At)
		})
	}
}

func TestTurningAPieceKeepsItsHolesApart(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	apart := kinds()[1].Holes[0].At.Distance(kinds()[1].Holes[1].At)
	for range 500 {
		m, err := Make(room(), kinds(), scatter.Layout{Pieces: []scatter.Piece{{
			ID: 1, Kind: 1,
			At:      plane.Point{X: 3000 * rng.Float64(), Y: 2000 * rng.Float64()},
			Heading: heading.Bearing(rng.IntN(36000)) / 100,
		}}})
		require.NoError(t, err)
		require.Len(t, m.Holes, 2)
		assert.InDelta(t, apart, m.Holes[0].At.Distance(m.Holes[1].At), 0.002)
	}
}

func TestHolesAreNumberedInHangingOrder(t *testing.T) {
	l := layout(80, rand.New(rand.NewPCG(3, 4)))
	m, err := Make(room(), kinds(), l)
	require.NoError(t, err)

	want := 0
	for _, p := range l.Pieces {
		want += len(kinds()[p.Kind].Holes)
	}
	require.Len(t, m.Holes, want)
	for i, h := range m.Holes {
		assert.Equal(t, i+1, h.Number)
		assert.Equal(t, kinds()[h.Kind].Code, h.Code)
		if i > 0 {
			before := m.Holes[i-1]
			assert.True(t, before.Face < h.Face || before.Face == h.Face && before.Piece <= h.Piece,
				"hole %d comes after hole %d", h.Number, before.Number)
		}
	}
}

func TestTheOrderPiecesAreWrittenInChangesNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	l := layout(60, rng)
	want, err := Make(room(), kinds(), l)
	require.NoError(t, err)

	given := slices.Clone(l.Pieces)
	rng.Shuffle(len(given), func(i, j int) { given[i], given[j] = given[j], given[i] })
	kept := slices.Clone(given)
	got, err := Make(room(), kinds(), scatter.Layout{Pieces: given})
	require.NoError(t, err)
	assert.Equal(t, want, got)
	assert.Equal(t, kept, given, "the layout handed in is left as it was")
}

func TestHeightsAreAgainstTheDatum(t *testing.T) {
	m, err := Make(room(), kinds(), scatter.Layout{Pieces: []scatter.Piece{
		{ID: 1, Face: 0, At: plane.Point{X: 100, Y: 1200}, Heading: 90},
		{ID: 2, Face: 1, At: plane.Point{X: 100, Y: 140}, Heading: 90},
		{ID: 3, Face: 2, At: plane.Point{X: 100, Y: 1500}, Heading: 90},
	}})
	require.NoError(t, err)
	require.Len(t, m.Holes, 3)
	assert.Equal(t, -300.0, m.Holes[0].FromDatum, "on the wall, y is above the floor")
	assert.Equal(t, 1040.0, m.Holes[1].FromDatum, "the bulkhead's foot is 2400 mm up")
	assert.Equal(t, 0.0, m.Holes[2].FromDatum)
	assert.False(t, math.Signbit(m.Holes[2].FromDatum), "no negative zero")
}

func TestTheFingerprintIsOfWhatIsDrilled(t *testing.T) {
	base := layout(20, rand.New(rand.NewPCG(7, 8)))
	print := func(site wall.Site, ks []scatter.Kind, l scatter.Layout) string {
		m, err := Make(site, ks, l)
		require.NoError(t, err)
		return m.Fingerprint
	}
	want := print(room(), kinds(), base)
	assert.Len(t, want, fingerprintLength)
	assert.Empty(t, strings.Trim(want, marks))

	renumbered := scatter.Layout{Pieces: slices.Clone(base.Pieces)}
	for i := range renumbered.Pieces {
		renumbered.Pieces[i].ID += 100
	}
	assert.Equal(t, want, print(room(), kinds(), renumbered), "numbers are not drilled")

	seen := map[string]string{want: "the layout itself"}
	differs := func(why string, site wall.Site, ks []scatter.Kind, l scatter.Layout) {
		t.Helper()
		got := print(site, ks, l)
		assert.Empty(t, seen[got], "%s: the same fingerprint as %s", why, seen[got])
		seen[got] = why
	}
	for i := range base.Pieces {
		moved := scatter.Layout{Pieces: slices.Clone(base.Pieces)}
		moved.Pieces[i].At.X += 0.1
		differs("a piece moved by 0.1 mm", room(), kinds(), moved)
	}
	differs("one piece less", room(), kinds(), scatter.Layout{Pieces: base.Pieces[1:]})
	ks := kinds()
	ks[0].Holes[0].Bit = 2
	differs("another bit", room(), ks, base)
	ks = kinds()
	ks[0].Holes[0].Depth = 30
	differs("another depth", room(), ks, base)
	ks = kinds()
	ks[0].Holes[0].Fixing = "brass pin"
	differs("another fixing", room(), ks, base)
	site := room()
	site.Room.Walls[0].Name = "Other wall"
	differs("another wall", site, kinds(), base)
	differs("nothing at all", room(), kinds(), scatter.Layout{})
}

func TestAPieceThatCannotBeDrilledIsRefused(t *testing.T) {
	tests := []struct {
		name   string
		pieces []scatter.Piece
		want   string
	}{
		{"no such kind", []scatter.Piece{{ID: 7, Kind: 2}}, "piece 7 is of kind number 2"},
		{"kind below 0", []scatter.Piece{{ID: 7, Kind: -1}}, "piece 7 is of kind number -1"},
		{"no such face", []scatter.Piece{{ID: 7, Face: 3}}, "piece 7 is on face number 3"},
		{"face below 0", []scatter.Piece{{ID: 7, Face: -1}}, "piece 7 is on face number -1"},
		{"the same number twice", []scatter.Piece{{ID: 7}, {ID: 7, Face: 1}}, "piece 7 is listed twice"},
		{"nowhere", []scatter.Piece{{ID: 7, At: plane.Point{X: math.NaN()}}}, "piece 7 has no place"},
		{"no way it heads", []scatter.Piece{{ID: 7, Heading: heading.Bearing(math.Inf(1))}}, "piece 7 has no place or heading"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Make(room(), kinds(), scatter.Layout{Pieces: tt.pieces})
			assert.ErrorContains(t, err, tt.want)
		})
	}
}
