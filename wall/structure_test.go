package wall_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A lattice is the same wall as MayDrill sees, drawn out bar by bar and unit by unit.
type lattice struct {
	bars, units []plane.Ring
	studs       *wall.Studs
	joints      *wall.Joints
}

// drawn returns what there is on and about a wall of 1200 by 900 mm.
func drawn(w wall.Wall) lattice {
	l := lattice{studs: w.Studs, joints: w.Joints}
	if s := w.Studs; s != nil {
		centres := s.At
		if len(centres) == 0 {
			end := 1200.0
			if s.Across {
				end = 900
			}
			for c := s.First; c <= end; c += s.Spacing {
				centres = append(centres, c)
			}
		}
		for _, c := range centres {
			bar := plane.Rectangle(plane.Point{X: c - s.Width/2, Y: -5000}, s.Width, 10000)
			if s.Across {
				bar = plane.Rectangle(plane.Point{X: -5000, Y: c - s.Width/2}, 10000, s.Width)
			}
			l.bars = append(l.bars, bar)
		}
	}
	if j := w.Joints; j != nil {
		for row := -2; row <= 13; row++ {
			shift := 0.0
			if j.Bond == wall.HalfBond && row%2 != 0 {
				shift = j.Length / 2
			}
			for n := -2; n <= 13; n++ {
				corner := plane.Point{
					X: j.First.X + shift + float64(n)*j.Length + j.Width/2,
					Y: j.First.Y + float64(row)*j.Course + j.Width/2,
				}
				l.units = append(l.units, plane.Rectangle(corner, j.Length-j.Width, j.Course-j.Width))
			}
		}
	}
	return l
}

// room returns how much farther than it has to be the rim of a hole is from the nearest edge of a
// ring: on one of them where in is true, and clear of all where it is false.
func (l lattice) room(at plane.Point, rings []plane.Ring, in bool, keep float64) float64 {
	edge := math.Inf(1)
	inside := false
	for _, r := range rings {
		inside = inside || r.Contains(at)
		for i, a := range r {
			edge = math.Min(edge, plane.SegmentDistance(at, a, r[(i+1)%len(r)]))
		}
	}
	if inside != in {
		edge = -edge
	}
	return edge - keep
}

// allows returns how clearly a hole may be drilled: above 0 where it may.
func (l lattice) allows(at plane.Point, bit float64) float64 {
	room := math.Inf(1)
	if s := l.studs; s != nil && s.Holes != wall.HolesAnywhere {
		room = l.room(at, l.bars, s.Holes == wall.HolesOn, bit/2+s.Keep)
	}
	if j := l.joints; j != nil && j.Holes != wall.HolesAnywhere {
		room = math.Min(room, l.room(at, l.units, j.Holes == wall.HolesOff, bit/2+j.Keep))
	}
	return room
}

// built returns walls of 1200 by 900 mm with all sorts of studs and joints.
func built() map[string]wall.Wall {
	brick := func(change func(*wall.Joints)) *wall.Joints {
		j := wall.Joints{Course: 75, Length: 225, Width: 10, First: plane.Point{X: -30, Y: 12}, Bond: wall.HalfBond, Holes: wall.HolesOn}
		change(&j)
		return &j
	}
	walls := map[string]wall.Wall{
		"on studs":        {Studs: &wall.Studs{First: 215, Spacing: 400, Width: 45, Holes: wall.HolesOn, Keep: 5}},
		"off studs":       {Studs: &wall.Studs{First: 215, Spacing: 400, Width: 45, Holes: wall.HolesOff, Keep: 20}},
		"on battens":      {Studs: &wall.Studs{First: 80, Spacing: 160, Width: 38, Across: true, Holes: wall.HolesOn}},
		"uneven studs":    {Studs: &wall.Studs{At: []float64{10, 100, 640, 1190}, Width: 60, Holes: wall.HolesOn}},
		"off uneven":      {Studs: &wall.Studs{At: []float64{10, 100, 640, 1190}, Width: 60, Holes: wall.HolesOff, Keep: 10}},
		"one stud":        {Studs: &wall.Studs{At: []float64{500}, Width: 60, Holes: wall.HolesOn}},
		"shown only":      {Studs: &wall.Studs{First: 215, Spacing: 400, Width: 45}, Joints: brick(func(j *wall.Joints) { j.Holes = wall.HolesAnywhere })},
		"on mortar":       {Joints: brick(func(*wall.Joints) {})},
		"in bricks":       {Joints: brick(func(j *wall.Joints) { j.Holes, j.Keep = wall.HolesOff, 15 })},
		"on wide joints":  {Joints: brick(func(j *wall.Joints) { j.Width, j.Keep = 30, 4 })},
		"on grout":        {Joints: brick(func(j *wall.Joints) { j.Bond, j.Course, j.Length, j.Width = wall.StackBond, 100, 100, 8 })},
		"in tall tiles":   {Joints: brick(func(j *wall.Joints) { j.Bond, j.Course, j.Length, j.Holes = wall.StackBond, 300, 100, wall.HolesOff })},
		"in halved tiles": {Joints: brick(func(j *wall.Joints) { j.Course, j.Length, j.Holes = 300, 100, wall.HolesOff })},
		"studs and bricks": {
			Studs:  &wall.Studs{First: 215, Spacing: 400, Width: 100, Holes: wall.HolesOn},
			Joints: brick(func(j *wall.Joints) { j.Holes = wall.HolesOff }),
		},
	}
	for name, w := range walls {
		w.Name, w.Surface, w.Outline = name, wall.Brick, plane.Rectangle(plane.Point{}, 1200, 900)
		walls[name] = w
	}
	return walls
}

func TestHolesOnStudsAndJointsAgainstEveryBarAndUnit(t *testing.T) {
	for name, w := range built() {
		t.Run(name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(1, 2))
			f := survey(t, w)
			slow := drawn(w)
			allowed := 0
			for range 500 {
				at := plane.Point{X: 1200 * rng.Float64(), Y: 900 * rng.Float64()}.Snap(100)
				bit := 1 + 7*rng.Float64()
				want := slow.allows(at, bit)
				if math.Abs(want) < 1e-5 {
					continue
				}
				reason, ok := f.MayDrill(at, bit)
				require.Equal(t, want > 0, ok, "%v with %v: %v", at, bit, want)
				require.Equal(t, ok, reason == "")
				require.Equal(t, ok, f.DrillMargin(at, bit) >= 0)
				if ok {
					allowed++
				}
			}
			assert.Positive(t, allowed)
		})
	}
}

// Inside it is the distance that may be gone any way; outside nothing so near allows a hole.
func TestDrillMarginIsADistance(t *testing.T) {
	for name, w := range built() {
		t.Run(name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(3, 4))
			f := survey(t, w)
			for range 300 {
				at := plane.Point{X: 1200 * rng.Float64(), Y: 900 * rng.Float64()}
				margin := f.DrillMargin(at, 3)
				if math.IsInf(margin, 0) {
					continue
				}
				for range 40 {
					step := plane.Point{X: math.Abs(margin) * math.Sqrt(rng.Float64()) * 0.999}.Rotate(2 * math.Pi * rng.Float64())
					_, ok := f.MayDrill(at.Add(step), 3)
					require.Equal(t, margin > 0, ok, "%v moved by %v of %v", at, step, margin)
				}
			}
		})
	}
}

func TestTheEdgeOfAStudCounts(t *testing.T) {
	w := boxWall(0)
	w.Studs = &wall.Studs{First: 215, Spacing: 400, Width: 45, Holes: wall.HolesOn}
	f := survey(t, w)
	for _, tt := range []struct {
		x    float64
		want bool
	}{
		{215, true}, {215 + 21, true}, {215 + 21.01, false}, {1815 - 21, true}, {1815 - 21.01, false},
		{3815, true},  // the last: the next would be past the end
		{-185, false}, // the first has none before it
	} {
		_, ok := f.MayDrill(plane.Point{X: tt.x, Y: 1000}, 3)
		assert.Equal(t, tt.want, ok, "%v", tt.x)
	}
	assert.InDelta(t, -22.5, f.OffStud(plane.Point{X: 615}), 1e-9)
	assert.InDelta(t, 177.5, f.OffStud(plane.Point{X: 415}), 1e-9)
	_, ok := f.MayDrill(plane.Point{X: 215, Y: 10}, 45)
	assert.True(t, ok, "a bit as wide as the stud")
	assert.True(t, math.IsInf(f.DrillMargin(plane.Point{X: 215}, 46), -1), "a wider one")
}

// UK brickwork of 215 x 65 mm with joints of 10 mm is 225 by 75 from brick to brick
// (armstrongsupplies.co.uk, searchabrick.co.uk): 59 bricks to the square metre.
func TestAsManyBricksAsAreCounted(t *testing.T) {
	w := boxWall(0)
	w.Joints = &wall.Joints{Course: 75, Length: 225, Width: 10, Bond: wall.HalfBond, Holes: wall.HolesOff}
	f := survey(t, w)
	rng := rand.New(rand.NewPCG(5, 6))
	in := 0
	const points = 50_000
	for range points {
		if _, ok := f.MayDrill(plane.Point{X: 4000 * rng.Float64(), Y: 2500 * rng.Float64()}, 0); ok {
			in++
		}
	}
	assert.InDelta(t, 59.26*0.215*0.065, float64(in)/points, 0.008)
}

func TestTheBackOfAScreenIsMirrored(t *testing.T) {
	w := boxWall(0)
	w.Alone = &wall.Stand{Thickness: 100, Back: true}
	w.Studs = &wall.Studs{At: []float64{100, 700}, Width: 45, Holes: wall.HolesOn}
	w.Joints = &wall.Joints{Course: 300, Length: 300, Width: 10, First: plane.Point{X: 40}, Bond: wall.StackBond}
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{w}})
	require.NoError(t, err)
	i, found := site.FaceByName("Wall", wall.BackFace)
	require.True(t, found)
	front, back := site.Faces[0], site.Faces[i]
	for x := 3.0; x < 4000; x += 7 {
		p, _ := back.Frame.Local(front.Frame.At(plane.Point{X: x, Y: 700}))
		_, onFront := front.MayDrill(plane.Point{X: x, Y: 700}, 3)
		_, onBack := back.MayDrill(p, 3)
		require.Equal(t, onFront, onBack, "%v", x)
		require.InDelta(t, front.OffStud(plane.Point{X: x}), back.OffStud(p), 1e-9)
	}
	lines := back.StudLines()
	require.Len(t, lines, 2)
	assert.InDelta(t, 3900, lines[0][0].X, 1e-9)
	assert.InDelta(t, 3300, lines[1][0].X, 1e-9)
	box := plane.Rect{Min: plane.Point{X: 3500, Y: 10}, Max: plane.Point{X: 3700, Y: 290}}
	joints := back.JointLines(box)
	require.Len(t, joints, 1, "one upright joint, at 340 from the other end")
	assert.InDelta(t, 3660, joints[0][0].X, 1e-9)
	assert.InDelta(t, 280, joints[0][0].Distance(joints[0][1]), 1e-9)
}

func TestStudLinesStayOnTheFace(t *testing.T) {
	w := wall.Wall{Name: "Gable", Surface: wall.Plasterboard, Outline: plane.Ring{
		{}, {X: 4000}, {X: 4000, Y: 1500}, {X: 2000, Y: 3000}, {Y: 1500},
	}, Obstructions: []wall.Obstruction{{
		Kind: wall.Boxing, Name: "boxing", Depth: 100, Use: []wall.Side{wall.Front}, Shape: plane.Rectangle(plane.Point{X: 900, Y: 1000}, 400, 200),
	}}}
	w.Studs = &wall.Studs{First: 1000, Spacing: 600, Width: 45, Holes: wall.HolesOn}
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{w}})
	require.NoError(t, err)
	var got [][4]float64
	for _, l := range site.Faces[0].StudLines() {
		got = append(got, [4]float64{l[0].X, l[0].Y, l[1].X, l[1].Y})
	}
	assert.InDeltaSlice(t, []float64{1000, 0, 1000, 1000}, got[0][:], 1e-6)
	assert.InDeltaSlice(t, []float64{1000, 1200, 1000, 2250}, got[1][:], 1e-6)
	assert.InDeltaSlice(t, []float64{1600, 0, 1600, 2700}, got[2][:], 1e-6)
	assert.Len(t, got, 6)

	w.Studs = &wall.Studs{At: []float64{2250}, Width: 45, Across: true}
	level := survey(t, w).StudLines()
	require.Len(t, level, 1)
	assert.InDelta(t, 2000, level[0][0].Distance(level[0][1]), 1e-6)

	i, found := site.FaceByName("Gable", "boxing front")
	require.True(t, found)
	front := site.Faces[i]
	_, known := front.Studs()
	assert.False(t, known, "what stands on a wall is built of itself")
	assert.Empty(t, front.StudLines())
	_, ok := front.MayDrill(plane.Point{X: 5, Y: 5}, 3)
	assert.True(t, ok)
	assert.True(t, math.IsInf(front.OffStud(plane.Point{}), 1))
}

func TestTakesBit(t *testing.T) {
	w := boxWall(0)
	takes := func(bit float64) bool { _, ok := w.TakesBit(bit); return ok }
	assert.True(t, takes(1e3))
	w.Studs = &wall.Studs{First: 215, Spacing: 400, Width: 45, Holes: wall.HolesOn, Keep: 5}
	assert.Equal(t, []bool{true, false}, []bool{takes(35), takes(35.1)})
	w.Studs.Holes, w.Studs.First = wall.HolesOff, 200
	assert.Equal(t, []bool{true, false}, []bool{takes(345), takes(346)})
	w.Studs.First = 3000
	assert.True(t, takes(1000), "beside the first")
	w.Studs = nil
	w.Joints = &wall.Joints{Course: 75, Length: 225, Width: 10, Bond: wall.HalfBond, Holes: wall.HolesOn, Keep: 1}
	assert.Equal(t, []bool{true, false}, []bool{takes(8), takes(8.1)})
	w.Joints.Holes = wall.HolesOff
	assert.Equal(t, []bool{true, false}, []bool{takes(63), takes(63.1)})
	what, _ := w.TakesBit(64)
	assert.Equal(t, "joints", what)
}

func TestJoistsOfACeiling(t *testing.T) {
	r := room([]float64{4000, 3000, 4000, 3000}, []float64{90, 90, 90, 90})
	r.Ceiling = &wall.Wall{Name: "Ceiling", Surface: wall.Plasterboard, Studs: &wall.Studs{First: 200, Spacing: 400, Width: 45, Across: true, Holes: wall.HolesOn}}
	site, err := wall.Survey(r)
	require.NoError(t, err)
	f := site.Faces[len(site.Faces)-1]
	assert.Len(t, f.StudLines(), 7, "the eighth is at the very edge")
	_, ok := f.MayDrill(plane.Point{X: 77, Y: 1000}, 3)
	assert.True(t, ok)
	reason, ok := f.MayDrill(plane.Point{X: 1000, Y: 77}, 3)
	assert.False(t, ok)
	assert.Equal(t, "does not lie within a joist, and the plan wants holes in joists only", reason)
}

func TestHolesKeepOffEdgesAndOpenings(t *testing.T) {
	window := rect(wall.Window, 1000, 900, 1000, 1000, 0)
	panel := rect(wall.Panel, 3000, 1000, 200, 200, 0) // no opening
	breast := rect(wall.Chimney, 2300, 0, 500, 1200, 0)
	breast.Depth, breast.Use = 300, []wall.Side{wall.Front}
	niche := rect(wall.Niche, 300, 1000, 400, 400, 0)
	niche.Depth = -100
	w := boxWall(0, window, panel, breast, niche)
	w.HoleEdge = 25
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{w}})
	require.NoError(t, err)
	f := site.Faces[0]
	drill, err := f.DrillFor(wall.Load{})
	require.NoError(t, err)
	for _, tt := range []struct {
		p    plane.Point
		want bool
	}{
		{plane.Point{X: 24.9, Y: 700}, false}, {plane.Point{X: 25.1, Y: 700}, true},
		{plane.Point{X: 1700, Y: 2475.1}, false}, {plane.Point{X: 1700, Y: 2474.9}, true},
		{plane.Point{X: 975.1, Y: 1500}, false}, {plane.Point{X: 974.9, Y: 1500}, true},
		{plane.Point{X: 2999, Y: 1100}, true},
		{plane.Point{X: 2299, Y: 600}, true}, // the wall goes on behind the breast
		{plane.Point{X: 724.9, Y: 1200}, false}, {plane.Point{X: 725.1, Y: 1200}, true},
	} {
		assert.Equal(t, tt.want, drill.Contains(tt.p), "%v", tt.p)
	}
	i, found := site.FaceByName("Wall", "the chimney breast front")
	require.True(t, found)
	front, err := site.Faces[i].DrillFor(wall.Load{})
	require.NoError(t, err)
	assert.InDelta(t, 450*1150, front.Area(), 1, "its arrises are edges too")
	free, err := f.FreeFor(wall.Load{})
	require.NoError(t, err)
	assert.True(t, free.Contains(plane.Point{X: 10, Y: 700}), "pieces may reach there")
}

func BenchmarkMayDrill(b *testing.B) {
	w := boxWall(0)
	w.Studs = &wall.Studs{First: 215, Spacing: 400, Width: 45, Holes: wall.HolesOff}
	w.Joints = &wall.Joints{Course: 75, Length: 225, Width: 10, Bond: wall.HalfBond, Holes: wall.HolesOff, Keep: 5}
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{w}})
	require.NoError(b, err)
	f := site.Faces[0]
	at := plane.Point{X: 1234.56, Y: 789.01}
	for b.Loop() {
		f.MayDrill(at, 3)
	}
}
