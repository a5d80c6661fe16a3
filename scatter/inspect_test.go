package scatter_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// What Lay makes has no flaw, however the walls meet.
func TestALaidLayoutHasNoFlaw(t *testing.T) {
	for _, turn := range []float64{90, -90, 0, 35} {
		for seed := range uint64(3) {
			site, comp := corner(t, turn), composition(300)
			layout, err := scatter.Lay(t.Context(), site, kinds(), comp, seed, nil)
			require.NoError(t, err)
			found, err := scatter.Inspect(site, kinds(), comp, layout, measure.Millimetre)
			require.NoError(t, err)
			assert.Empty(t, found, "turn %v, seed %d", turn, seed)
		}
	}
}

// inspected returns what is found of pieces of the first kind, a dart of 110 by 26 mm with holes
// 27.5 mm before and 36.7 mm behind its centre, on the walls of corner.
func inspected(t *testing.T, site wall.Site, comp scatter.Composition, pieces ...scatter.Piece) []scatter.Finding {
	t.Helper()
	for i := range pieces {
		pieces[i].ID = 10 * (i + 1)
	}
	one := kinds()[:1]
	comp.Count = len(pieces)
	found, err := scatter.Inspect(site, one, comp, scatter.Layout{Pieces: pieces}, measure.Millimetre)
	require.NoError(t, err)
	return found
}

func TestInspectNamesWhatIsInTheWay(t *testing.T) {
	site := corner(t, 90)
	for f := range site.Faces {
		site.Faces[f].Zones = append(site.Faces[f].Zones, wall.Zone{
			Code: "cable-run", Name: "old cable", Strength: wall.Forbidden, Binds: wall.Holes, Reason: "a known cable runs here",
			Shape: plane.RegionOf(plane.Rectangle(plane.Point{Y: 2000}, 4000, 20)),
		})
	}
	for _, tt := range []struct {
		name    string
		face    int
		x, y    float64
		heading heading.Bearing
		flaw    scatter.Flaw
		wrong   string
	}{
		{"both holes on a box", 0, 1600, 600, 90, scatter.BadHole, "its hole 1 lies on the box"},
		{"its point in the box", 0, 1120, 600, 90, scatter.NotFree, "comes nearer to the box than its clearance of 40 mm"},
		{"one hole on a box", 0, 1190, 600, 90, scatter.BadHole, "its hole 1 lies on the box"},
		{"a hole beyond the end", 0, 20, 600, 90, scatter.BadHole, "its hole 2 lies 17 mm off left"},
		{"the outline beyond the end", 0, 45, 600, 90, scatter.NotFree, "reaches past the edge of left"},
		{"in the margin", 0, 75, 600, 90, scatter.NotFree, "lies too near to an edge or a corner of left"},
		{"across a cable", 0, 600, 2010, 90, scatter.BadHole, "its hole 1 lies where the plan allows none: old cable (a known cable runs here)"},
		{"in free air", 1, 500, 1500, 12, 0, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			found := inspected(t, site, scatter.Composition{}, scatter.Piece{Face: tt.face, At: plane.Point{X: tt.x, Y: tt.y}, Heading: tt.heading})
			if tt.flaw == 0 {
				assert.Empty(t, found)
				return
			}
			require.NotEmpty(t, found)
			assert.Equal(t, tt.wrong, found[0].Wrong)
			assert.Equal(t, tt.flaw, found[0].Flaw)
			assert.Equal(t, 10, found[0].Piece)
			assert.NotEmpty(t, found[0].Fix)
		})
	}
}

func TestInspectSaysWhichPiecesAreTooNear(t *testing.T) {
	site, comp := corner(t, 90), scatter.Composition{Gap: 6, Spacing: 60}
	at := func(face int, x, y float64) scatter.Piece {
		return scatter.Piece{Face: face, At: plane.Point{X: x, Y: y}, Heading: 90}
	}
	for _, tt := range []struct {
		name  string
		other scatter.Piece
		wrong string
	}{
		{"one upon the other", at(0, 600, 600), "overlaps piece 10"},
		{"tip in tail", at(0, 709, 600), "overlaps piece 10"},
		{"tip to tail, 3 mm apart", at(0, 713, 600), "is 3 mm from piece 10, and the gap is to be 6 mm"},
		{"far enough", at(0, 716.1, 600), ""},
		{"side by side", at(0, 600, 640), "has its centre 40 mm from that of piece 10, and the spacing is to be 60 mm"},
		{"side by side, far enough", at(0, 600, 660), ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			found := inspected(t, site, comp, at(0, 600, 600), tt.other)
			if tt.wrong == "" {
				assert.Empty(t, found)
				return
			}
			require.Len(t, found, 1, "a pair is named once")
			assert.Equal(t, scatter.TooClose, found[0].Flaw)
			assert.Equal(t, [2]int{20, 10}, [2]int{found[0].Piece, found[0].Other})
			assert.Equal(t, tt.wrong, found[0].Wrong)
		})
	}
	t.Run("round an inside corner", func(t *testing.T) {
		found := inspected(t, site, scatter.Composition{Spacing: 142}, at(0, 3900, 1500), at(1, 100, 1500)) // 100·√2 apart
		require.Len(t, found, 1)
		assert.Equal(t, "has its centre 141 mm from that of piece 10, and the spacing is to be 142 mm", found[0].Wrong)
		assert.Empty(t, inspected(t, site, scatter.Composition{Spacing: 141}, at(0, 3900, 1500), at(1, 100, 1500)))
	})
}

func TestInspectComparesCounts(t *testing.T) {
	site, comp := corner(t, 90), composition(40)
	layout, err := scatter.Lay(t.Context(), site, kinds(), comp, 1, nil)
	require.NoError(t, err)
	gone := layout.Pieces[7]
	layout.Pieces = append(layout.Pieces[:7:7], layout.Pieces[8:]...)
	found, err := scatter.Inspect(site, kinds(), comp, layout, measure.Millimetre)
	require.NoError(t, err)
	require.Len(t, found, 2)
	assert.Equal(t, "there are 39 pieces, and the plan asks for 40", found[0].Wrong)
	assert.Contains(t, found[1].Wrong, kinds()[gone.Kind].Name)
	for _, f := range found {
		assert.Equal(t, scatter.Miscount, f.Flaw)
	}
}

// scattered returns pieces thrown on both walls without a thought.
func thrown(n int, wide, high float64, rng *rand.Rand) []scatter.Piece {
	pieces := make([]scatter.Piece, n)
	for i := range pieces {
		pieces[i] = scatter.Piece{
			ID: i + 1, Kind: rng.IntN(len(kinds())), Face: rng.IntN(2), Heading: heading.FromAngle(7 * rng.Float64()),
			At: plane.Point{X: wide * rng.Float64(), Y: high * rng.Float64()},
		}
	}
	return pieces
}

// TestTooNearMissesNoPair compares it with asking every piece of every other.
func TestTooNearMissesNoPair(t *testing.T) {
	const gap, spacing = 6, 60
	rng := rand.New(rand.NewPCG(8, 9))
	for _, turn := range []float64{90, -90} {
		site := corner(t, turn)
		ways := site.Ways()
		pieces := thrown(250, 3000, 2000, rng)
		var want [][2]int
		for i, p := range pieces {
			for j, q := range pieces[:i] {
				near := p.Face == q.Face && plane.Closer(p.Outline(kinds()), q.Outline(kinds()), gap)
				if near || ways.Apart(p.Face, p.At, q.Face, q.At) < spacing {
					want = append(want, [2]int{j, i})
				}
			}
		}
		var got [][2]int
		for _, pair := range scatter.TooNear(site, kinds(), pieces, scatter.Distances{Gap: gap, Spacing: spacing}) {
			got = append(got, [2]int{pair.A, pair.B})
		}
		assert.ElementsMatch(t, want, got)
		assert.NotEmpty(t, want)
	}
}

// TestInspectIsQuick inspects twenty thousand pieces, in order and in a heap.
func TestInspectIsQuick(t *testing.T) {
	room := wall.Room{}
	for i := range 4 {
		room.Walls = append(room.Walls, wall.Wall{
			Name: fmt.Sprint(i), Turn: 90, Surface: wall.Brick, Outline: plane.Rectangle(plane.Point{}, 20e3, 5e3),
		})
	}
	site, err := wall.Survey(room)
	require.NoError(t, err)
	var rows []scatter.Piece
	for i := range 20_000 {
		rows = append(rows, scatter.Piece{
			ID: i + 1, Kind: i % 4, Face: i / 5000, Heading: 90,
			At: plane.Point{X: 200 + 195*float64(i%100), Y: 100 + 95*float64(i/100%50)},
		})
	}
	for name, pieces := range map[string][]scatter.Piece{
		"in rows":   rows,
		"in a heap": thrown(20_000, 200, 200, rand.New(rand.NewPCG(1, 1))),
	} {
		began := time.Now()
		found, err := scatter.Inspect(site, kinds(), composition(20_000), scatter.Layout{Pieces: pieces}, measure.Millimetre)
		require.NoError(t, err)
		assert.Less(t, time.Since(began), 5*time.Second, "%s: a second here, with room for slow machines", name)
		t.Log(name, time.Since(began), len(found))
	}
}

// Of two pieces that are too near each other the same is said of either, with the other's number.
func TestAFindingIsSaidOfEitherPiece(t *testing.T) {
	site := corner(t, 90)
	at := func(x, y float64) scatter.Piece {
		return scatter.Piece{At: plane.Point{X: x, Y: y}, Heading: 90}
	}
	for _, tt := range []struct {
		comp  scatter.Composition
		other scatter.Piece
		wrong string // with the number of the piece that it is too near to
	}{
		{scatter.Composition{}, at(600, 600), "overlaps piece %d"},
		{scatter.Composition{Gap: 6}, at(713, 600), "is 3 mm from piece %d, and the gap is to be 6 mm"},
		{scatter.Composition{Spacing: 80}, at(600, 678.02), "has its centre 78 mm from that of piece %d, and the spacing is to be 80 mm"},
		{scatter.Composition{Spacing: 80}, at(600, 679.7), "has its centre 79.7 mm from that of piece %d, and the spacing is to be 80 mm"},
	} {
		found := inspected(t, site, tt.comp, at(600, 600), tt.other)
		require.Len(t, found, 1)
		for piece, other := range map[int]int{10: 20, 20: 10} {
			f := found[0].Of(piece)
			assert.Equal(t, [2]int{piece, other}, [2]int{f.Piece, f.Other})
			assert.Equal(t, fmt.Sprintf(tt.wrong, other), f.Wrong)
			assert.Equal(t, found[0], f.Of(20), "and back")
		}
		assert.Equal(t, found[0], found[0].Of(0))
		assert.Equal(t, found[0], found[0].Of(99))
	}
}
