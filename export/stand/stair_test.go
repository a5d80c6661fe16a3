package stand

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/hours"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// stairwell returns a room with a stair along one wall, a landing, a floor that was measured along
// another wall, and a ceiling over all.
func stairwell(t testing.TB) wall.Site {
	t.Helper()
	stair := plane.Ring{{}, {X: 1200}, {X: 4200, Y: 1950}, {X: 5600, Y: 1950}, {X: 5600, Y: 4800}, {Y: 4800}}
	site, err := wall.Survey(wall.Room{Datum: 1500, Ceiling: &wall.Wall{Name: "Ceiling", Surface: wall.Plaster}, Walls: []wall.Wall{
		{Name: "Stair wall", Turn: 90, Surface: wall.Brick, Outline: stair},
		{Name: "Landing wall", Turn: 90, Surface: wall.Brick, Outline: plane.Rectangle(plane.Point{Y: 1950}, 2000, 2850)},
		{Name: "Low wall", Turn: 90, Surface: wall.Brick, Outline: plane.Rectangle(plane.Point{}, 5600, 4800), Floor: []plane.Point{{X: 0, Y: -12}, {X: 5600, Y: 9}}},
		{Name: "Door wall", Turn: 90, Surface: wall.Brick, Outline: plane.Rectangle(plane.Point{}, 2000, 4800)},
	}})
	require.NoError(t, err)
	return site
}

func strewnOn(t testing.TB, site wall.Site, seed uint64, n int) []scatter.Piece {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 2))
	var pieces []scatter.Piece
	for len(pieces) < n {
		i := r.IntN(len(site.Faces))
		f := site.Faces[i]
		b := f.Outline.Bounds()
		at := plane.Point{X: b.Min.X + r.Float64()*b.Width(), Y: b.Min.Y + r.Float64()*b.Height()}.Snap(100)
		if f.Outline.Contains(at) {
			pieces = append(pieces, scatter.Piece{Face: i, At: at, Kind: r.IntN(2), Heading: heading.Bearing(r.IntN(360))})
		}
	}
	return pieces
}

// What one stands on follows from how high above the floor there the highest hole is, not above the
// plan's 0; nobody stands on a ladder on steps or drills upwards from one, and what is drilled is never
// below the step that one stands on.
func TestReachCountsFromTheFloorWhereOneStands(t *testing.T) {
	site, reach := stairwell(t), UsualReach()
	seen := map[Access]int{}
	for seed := range uint64(5) {
		w := workOf(t, site, strewnOn(t, site, seed, 300))
		stands, err := Plan(w, reach)
		require.NoError(t, err)
		hung := map[int]int{}
		for _, s := range stands {
			low, high := s.Above()
			seen[s.Access]++
			for _, id := range s.Pieces {
				hung[id]++
			}
			switch s.Access {
			case Floor:
				assert.LessOrEqual(t, high, reach.Height)
			case Ladder:
				assert.Greater(t, high, reach.Height)
				assert.LessOrEqual(t, high, reach.Ladder)
				assert.False(t, s.Overhead || s.Foot.Steps, "stand %d", s.Number)
			case StairPlatform:
				assert.True(t, s.Foot.Steps)
				assert.Greater(t, high, reach.Height)
			case Platform:
				assert.False(t, s.Foot.Steps)
				assert.True(t, high > reach.Ladder || s.Overhead && high > reach.Height)
			}
			if len(s.Pieces) > 1 {
				assert.GreaterOrEqual(t, low, 0.0, "stand %d", s.Number)
			}
			if s.Place.Wall >= 0 {
				assert.InDelta(t, site.Room.Walls[s.Place.Wall].FootAt(s.Place.Left), s.Foot.Height, 0.01)
			}
		}
		assert.Len(t, hung, 300)
		for id, n := range hung {
			assert.Equal(t, 1, n, "piece %d", id)
		}
	}
	for _, a := range Accesses() {
		assert.Positive(t, seen[a], a)
	}
}

// Worked by hand: on the landing, 1950 mm up, a hole 3.5 m above the plan's 0 is 1550 mm above the floor
// and one at 4.2 m takes a ladder; half way up the stair, over the step at 975, one at 3.5 m takes what
// is made for stairs; over a floor that lies 12 mm lower, one at 1990 is out of reach.
func TestFourPlacesOnAStair(t *testing.T) {
	at := func(face int, x, y float64) scatter.Piece {
		return scatter.Piece{Face: face, At: plane.Point{X: x, Y: y}, Kind: 1}
	}
	site := stairwell(t)
	for _, tt := range []struct {
		piece scatter.Piece
		want  Access
		foot  float64
	}{
		{at(0, 4900, 3500), Floor, 1950}, {at(0, 4900, 4200), Ladder, 1950}, {at(0, 2700, 3500), StairPlatform, 975},
		{at(0, 2700, 2900), Floor, 975}, {at(2, 10, 1990), Ladder, -11.96}, {at(2, 5590, 1990), Floor, 8.96},
	} {
		stands, err := Plan(workOf(t, site, []scatter.Piece{tt.piece}), UsualReach())
		require.NoError(t, err)
		require.Len(t, stands, 1)
		assert.Equal(t, tt.want, stands[0].Access, "%v", tt.piece.At)
		assert.InDelta(t, tt.foot, stands[0].Foot.Height, 0.01)
	}
}

// A log in the plan's own words: what comes before the sheets is done in the workshop and takes no time at
// a stand; of the rest pieces and holes are counted by kind.
func TestTimesAreThoseOfWorkAtTheWall(t *testing.T) {
	w := strewn(t, 2, 120)
	stands, err := Plan(w, UsualReach())
	require.NoError(t, err)
	judged := func(m float64) *hours.Judged { return &hours.Judged{Least: m, Likely: m, Most: m + 0.001} }
	operations := []hours.Operation{
		{Name: "fold", Per: hours.Piece, Judged: judged(3)}, {Name: "paper comes"},
		{Name: "tape up", Per: hours.Sheet, Judged: judged(6)}, {Name: "drill", Per: hours.Hole, Judged: judged(1.2)},
		{Name: "pin up", Per: hours.Piece, Of: []string{"A"}, Judged: judged(2)}, {Name: "ask", Per: hours.Piece},
	}
	a, b := 0, 0
	for _, p := range w.Layout.Pieces {
		if p.Kind == 0 {
			a++
		} else {
			b++
		}
	}
	counts := hours.Counts{Sheets: 4, Kinds: []hours.KindCount{{Code: "A", Pieces: a, Holes: 2 * a}, {Code: "B", Pieces: b, Holes: b}}}
	work, err := hours.Of(operations, counts, nil, 0.8)
	require.NoError(t, err)
	sums := map[string]float64{}
	for _, s := range Timed(stands, w.Kinds, work) {
		for _, m := range s.Times {
			sums[m.Operation] += m.Minutes
		}
	}
	assert.Len(t, sums, 2)
	assert.InDelta(t, float64(2*a+b)*1.2, sums["drill"], 0.05*float64(len(stands)))
	assert.InDelta(t, float64(a)*2, sums["pin up"], 0.05*float64(len(stands)))
	assert.Nil(t, stands[0].Times, "the stands that were given stay as they are")
}
