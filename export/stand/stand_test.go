package stand

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

func kinds() []scatter.Kind {
	outline := plane.Rectangle(plane.Point{X: -40, Y: -15}, 80, 30)
	return []scatter.Kind{
		{Name: "Herring", Code: "A", Outline: outline, StandOff: 18, Holes: []scatter.Hole{
			{At: plane.Point{X: 20}, Bit: 1.5, Depth: 25, Fixing: "pin"}, {At: plane.Point{X: -20}, Bit: 1.5, Depth: 25, Fixing: "pin"},
		}},
		{Name: "Float", Code: "B", Outline: outline, StandOff: 30, Holes: []scatter.Hole{{Bit: 6, Depth: 30, Fixing: "plug"}}},
	}
}

// room returns two walls 4 m high at an inside corner, with a door and a deep boxing.
func room(t testing.TB) wall.Site {
	t.Helper()
	site, err := wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{
		{Name: "Long", Turn: 90, Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 6000, 4000), Obstructions: []wall.Obstruction{
			{Kind: wall.Door, Name: "door", Shape: plane.Rectangle(plane.Point{X: 600}, 900, 2100)},
			{Kind: wall.Boxing, Name: "boxing", Shape: plane.Rectangle(plane.Point{X: 2500, Y: 2600}, 2000, 300), Depth: 300, Use: []wall.Side{wall.All}},
		}},
		{Name: "Short", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 3000, 4000)},
	}})
	require.NoError(t, err)
	return site
}

func workOf(t testing.TB, site wall.Site, pieces []scatter.Piece) holemap.Work {
	t.Helper()
	for i := range pieces {
		pieces[i].ID = i + 1
	}
	w := holemap.Work{Site: site, Kinds: kinds(), Layout: scatter.Layout{Pieces: pieces}}
	m, err := holemap.Make(site, w.Kinds, w.Layout)
	require.NoError(t, err)
	w.Map = m
	return w
}

// strewn puts n pieces on faces by chance.
func strewn(t testing.TB, seed uint64, n int) holemap.Work {
	t.Helper()
	r, site := rand.New(rand.NewPCG(seed, 1)), room(t)
	var pieces []scatter.Piece
	for len(pieces) < n {
		i := r.IntN(len(site.Faces))
		b := site.Faces[i].Outline.Bounds()
		at := plane.Point{X: b.Min.X + r.Float64()*b.Width(), Y: b.Min.Y + r.Float64()*b.Height()}.Snap(100)
		pieces = append(pieces, scatter.Piece{Face: i, At: at, Kind: r.IntN(2), Heading: heading.Bearing(r.IntN(360))})
	}
	return workOf(t, site, pieces)
}

func TestEveryPieceIsInOneStandWithinReach(t *testing.T) {
	for seed := range uint64(6) {
		w := strewn(t, seed, 300)
		reach := Reach{Width: 700 + 200*float64(seed), Height: 1900, Ladder: 2900}
		stands, err := Plan(w, reach)
		require.NoError(t, err)
		seen := map[int]int{}
		holes := 0
		for i, s := range stands {
			assert.Equal(t, i+1, s.Number)
			holes += s.Holes
			for _, id := range s.Pieces {
				seen[id]++
				assert.Equal(t, s.Face, w.Layout.Pieces[id-1].Face)
			}
			high := reach.Height
			if !holemap.Upright(w.Site.Faces[s.Face]) {
				high = reach.Width
			}
			assert.LessOrEqual(t, s.Bounds.Width(), reach.Width)
			assert.LessOrEqual(t, s.Bounds.Height(), high)
			if len(s.Over) > 0 {
				continue
			}
			switch s.Access {
			case Floor:
				assert.LessOrEqual(t, s.High, reach.Height)
			case Ladder:
				assert.LessOrEqual(t, s.High, reach.Ladder)
				assert.Greater(t, s.High, reach.Height)
				assert.False(t, s.Overhead, "nobody drills upwards from a ladder")
			case Platform:
				assert.True(t, s.High > reach.Ladder || s.Overhead && s.High > reach.Height)
			case StairPlatform:
				t.Error("there are no steps")
			}
		}
		assert.Equal(t, len(w.Map.Holes), holes)
		assert.Len(t, seen, 300)
		for id, n := range seen {
			assert.Equal(t, 1, n, "piece %d", id)
		}
		// No window can hold two holes that are farther apart along a face than it is wide.
		assert.GreaterOrEqual(t, len(stands), apart(w, reach))
	}
}

// apart counts pieces of one face and access no two of which can share a window: a bound from below.
func apart(w holemap.Work, reach Reach) int {
	tasks, _ := tasksOf(w, reach)
	slices.SortStableFunc(tasks, func(a, b task) int { return int(math.Copysign(1, a.box.Min.X-b.box.Min.X)) })
	n := 0
	for f := range w.Site.Faces {
		for _, a := range Accesses() {
			last := math.Inf(-1)
			for _, k := range tasks {
				if k.Face == f && k.access == a && k.box.Min.X-last > reach.Width {
					n, last = n+1, k.box.Min.X
				}
			}
		}
	}
	return n
}

// In one strip the windows are the fewest, which a search of all ways confirms.
func TestOneStripTakesTheFewestWindows(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 200 {
		boxes := make([]plane.Rect, 1+r.IntN(7))
		for i := range boxes {
			x := float64(r.IntN(40))
			boxes[i] = plane.Rect{Min: plane.Point{X: x}, Max: plane.Point{X: x + float64(r.IntN(6)), Y: 1}}
		}
		assert.Len(t, cover(boxes, 10, 5), fewest(boxes, nil, 10))
	}
}

// fewest puts the boxes one after the other into every group there is, or one of their own.
func fewest(boxes, groups []plane.Rect, width float64) int {
	if len(boxes) == 0 {
		return len(groups)
	}
	best := fewest(boxes[1:], append(slices.Clone(groups), boxes[0]), width)
	for i, g := range groups {
		if u := g.Union(boxes[0]); u.Width() <= width {
			with := slices.Clone(groups)
			with[i] = u
			best = min(best, fewest(boxes[1:], with, width))
		}
	}
	return best
}

func TestHighWorkComesFirstAndTheLadderGoesAlong(t *testing.T) {
	w := strewn(t, 9, 400)
	stands, err := Plan(w, UsualReach())
	require.NoError(t, err)
	rank := Accesses()
	changes, moved := 0, 0.0
	for i, s := range stands[1:] {
		before := stands[i]
		require.GreaterOrEqual(t, slices.Index(rank, s.Access), slices.Index(rank, before.Access))
		if s.Access != before.Access {
			changes++
			assert.Equal(t, before.Place.Wall, s.Place.Wall, "the next pass begins where the last one ended")
			continue
		}
		if s.Place.Wall == before.Place.Wall && math.Floor(s.Place.Left/stride) == math.Floor(before.Place.Left/stride) {
			assert.LessOrEqual(t, s.High, before.High, "dust falls on what hangs below stand %d", s.Number)
		}
		if s.Place.Wall == before.Place.Wall {
			moved += math.Abs(s.Place.Left - before.Place.Left)
		}
	}
	assert.Equal(t, 2, changes)
	assert.LessOrEqual(t, moved, 3*(6000.0+3000), "each of three passes goes along each wall once")
}

func TestTheOrderOfPiecesChangesNothing(t *testing.T) {
	w := strewn(t, 4, 200)
	want, err := Plan(w, UsualReach())
	require.NoError(t, err)
	for range 3 {
		again, err := Plan(w, UsualReach())
		require.NoError(t, err)
		assert.Equal(t, want, again)
	}
	slices.Reverse(w.Layout.Pieces)
	again, err := Plan(w, UsualReach())
	require.NoError(t, err)
	assert.Equal(t, want, again)
}

// Worked by hand: two pieces 800 mm apart share a stand, one 1300 mm on has its own, and one at 2.5 m
// is done first, from a ladder before the door.
func TestFourPieces(t *testing.T) {
	at := func(kind int, x, y float64) scatter.Piece {
		return scatter.Piece{At: plane.Point{X: x, Y: y}, Kind: kind, Heading: 90}
	}
	w := workOf(t, room(t), []scatter.Piece{at(0, 2000, 1500), at(1, 2800, 1200), at(1, 4200, 1000), at(0, 1000, 2500)})
	stands, err := Plan(w, UsualReach())
	require.NoError(t, err)
	require.Len(t, stands, 3)
	high, far, near := stands[0], stands[1], stands[2]
	assert.Equal(t, []int{4}, high.Pieces)
	assert.Equal(t, Ladder, high.Access)
	assert.Equal(t, []string{"door"}, high.Doors)
	assert.Equal(t, Place{Left: 1000, Right: 5000, ToRight: "Short"}, high.Place)
	assert.Equal(t, []int{3}, far.Pieces, "the way back begins at the right")
	assert.Equal(t, []int{1, 2}, near.Pieces)
	assert.Equal(t, 2390.0, near.Place.Left, "half way between the holes at 1980 and 2800")
	assert.Equal(t, 3, near.Holes)
	assert.Equal(t, []Carry{{0, 1}, {1, 1}}, near.Carry)
	assert.Equal(t, []Fixing{{"pin", 2}, {"plug", 1}}, near.Fixings)
	assert.Equal(t, []Bit{{1.5, 25, 2}, {6, 30, 1}}, near.Bits)
	assert.Equal(t, map[int]int{1: 3, 2: 3, 3: 2, 4: 1}, Of(stands))
}

// What lies over a piece of a later stand waits for it.
func TestWhatLiesOverWaits(t *testing.T) {
	w := workOf(t, room(t), []scatter.Piece{
		{At: plane.Point{X: 1000, Y: 2010}, Kind: 1, Heading: 90}, {At: plane.Point{X: 1010, Y: 1995}, Heading: 90},
	})
	stands, err := Plan(w, UsualReach())
	require.NoError(t, err)
	require.Len(t, stands, 2)
	assert.Equal(t, []Wait{{Piece: 1, Stand: 2}}, stands[0].Waits)
	assert.Empty(t, stands[1].Waits)
}

func TestAReachIsHeldToItsLimits(t *testing.T) {
	assert.Empty(t, UsualReach().Problems(""))
	for field, r := range map[string]Reach{
		"width": {Width: math.NaN(), Height: 2000, Ladder: 3000}, "height": {Width: 900, Height: 10, Ladder: 3000},
		"ladder": {Width: 900, Height: 2000, Ladder: 1900},
	} {
		found := r.Problems("")
		require.Len(t, found, 1)
		assert.Equal(t, "install.reach."+field, found[0].Field)
	}
}

// A bench stands where one would stand before the wall over it: the stand says so. What hangs high on
// the wall, or beside the place, is in nobody's way, nor is what the pieces hang on themselves.
func TestWhatStandsWhereOneWouldStandIsNamed(t *testing.T) {
	site, err := wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{{
		Name: "Long", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 6000, 3000),
		Obstructions: []wall.Obstruction{
			{Kind: wall.Fixture, Name: "bench", Shape: plane.Rectangle(plane.Point{X: 500}, 1800, 450), Depth: 520, Use: []wall.Side{wall.All}},
			{Kind: wall.Boxing, Name: "boxing", Shape: plane.Rectangle(plane.Point{X: 3500, Y: 2600}, 2000, 300), Depth: 300},
		},
	}}})
	require.NoError(t, err)
	w := workOf(t, site, []scatter.Piece{
		{At: plane.Point{X: 1400, Y: 1700}, Kind: 1, Heading: 90}, {At: plane.Point{X: 4500, Y: 1700}, Kind: 1, Heading: 90},
	})
	stands, err := Plan(w, UsualReach())
	require.NoError(t, err)
	require.Len(t, stands, 2)
	for _, s := range stands {
		if s.Pieces[0] == 1 {
			require.Len(t, s.Over, 1)
			assert.Equal(t, "bench", s.Over[0].Name)
			assert.False(t, s.Over[0].Fixed)
			assert.Equal(t, Ladder, s.Access, "over 520 mm one does not reach as high")
		} else {
			assert.Empty(t, s.Over)
		}
	}
}
