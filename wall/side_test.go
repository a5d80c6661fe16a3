package wall_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A turnRoom is a closed room of equal walls that turn equally, with its own reckoning of where
// things are in it.
type turnRoom struct {
	walls          int
	length, height float64
	room           wall.Room
}

// start returns where a wall begins in plan, and the sine and cosine of its direction.
func (r turnRoom) start(w int) (x, y, sin, cos float64) {
	turn := 2 * math.Pi / float64(r.walls)
	for i := range w {
		x += r.length * math.Cos(-turn*float64(i))
		y += r.length * math.Sin(-turn*float64(i))
	}
	return x, y, math.Sin(-turn * float64(w)), math.Cos(-turn * float64(w))
}

func (r turnRoom) at(w int, p space.Vec) space.Vec { // p: along, up, off
	x, y, sin, cos := r.start(w)
	return space.Vec{X: x + p.X*cos + p.Z*sin, Y: y + p.X*sin - p.Z*cos, Z: p.Y}
}

func (r turnRoom) on(w int, v space.Vec) space.Vec {
	x, y, sin, cos := r.start(w)
	dx, dy := v.X-x, v.Y-y
	return space.Vec{X: dx*cos + dy*sin, Y: v.Z, Z: dx*sin - dy*cos}
}

// between reports whether v lies between the walls.
func (r turnRoom) between(v space.Vec) bool {
	in := v.Z > 0 && v.Z < r.height
	for w := range r.walls {
		in = in && r.on(w, v).Z > 0
	}
	return in
}

func (r turnRoom) air(v space.Vec) bool {
	in := r.between(v)
	for w, of := range r.room.Walls {
		p := r.on(w, v)
		for _, o := range of.Obstructions {
			if o.Shape.Contains(plane.Point{X: p.X, Y: p.Y}) && p.Z*o.Depth > 0 && math.Abs(p.Z) < math.Abs(o.Depth) {
				if o.Depth > 0 {
					return false
				}
				in = true
			}
		}
	}
	return in
}

func randomTurnRoom(r *rand.Rand) turnRoom {
	t := turnRoom{walls: 3 + r.IntN(6), length: 2000 + 2000*r.Float64(), height: 2500}
	for i := range t.walls {
		w := wall.Wall{
			Name: fmt.Sprint("Wall ", i+1), Surface: wall.Plaster, Turn: 360 / float64(t.walls), Margin: 10,
			Outline: plane.Rectangle(plane.Point{}, t.length, t.height),
		}
		depth := 40 + 500*r.Float64()
		if i%3 == 2 {
			depth = -0.2 * depth
		}
		for n := range 1 + r.IntN(2) {
			wide, high := 200+(t.length-200)*r.Float64(), 200+2000*r.Float64()
			x, y := (t.length-wide)*r.Float64(), (t.height-high)*r.Float64()
			if r.IntN(3) == 0 {
				x = t.length - wide
			}
			o := wall.Obstruction{Kind: wall.Boxing, Name: fmt.Sprint("box ", n+1), Depth: depth * (1 - 0.3*float64(n)), Use: []wall.Side{wall.All}}
			switch r.IntN(3) {
			case 0:
				o.Shape = plane.Rectangle(plane.Point{X: x, Y: y}, wide, high)
			case 1: // an L
				o.Shape = plane.Ring{{X: x, Y: y}, {X: x + wide, Y: y}, {X: x + wide, Y: y + high/3}, {X: x + wide/2, Y: y + high/3}, {X: x + wide/2, Y: y + high}, {X: x, Y: y + high}}
			case 2:
				o.Shape = plane.Ring{{X: x, Y: y}, {X: x + wide, Y: y + high/4}, {X: x + wide/3, Y: y + high}}
			}
			w.Obstructions = append(w.Obstructions, o)
		}
		t.room.Walls = append(t.room.Walls, w)
	}
	return t
}

// edge is a side of an obstruction square to its wall, as a strip along one edge of its outline.
func (r turnRoom) edge(w int, o wall.Obstruction, i int, along, deep float64) (at, out space.Vec) {
	a, b := o.Shape[i], o.Shape[(i+1)%len(o.Shape)]
	p := a.Lerp(b, along)
	n := b.Sub(a).Rotate(-math.Pi / 2).Scale(1 / a.Distance(b))
	if o.Depth < 0 {
		n = n.Scale(-1)
	}
	at = r.at(w, space.Vec{X: p.X, Y: p.Y, Z: deep * o.Depth})
	return at, r.at(w, space.Vec{X: p.X + n.X, Y: p.Y + n.Y, Z: deep * o.Depth}).Sub(at)
}

// In rooms of three to eight corners, with boxes, ells and triangles that run into the corners and
// over one another: what has air before it and something solid behind it, and nothing else, lies
// on a face. Places within half a millimetre of the end of a face are left to either side.
func TestFacesBetweenWallsAtAnyTurn(t *testing.T) {
	for seed := range uint64(25) {
		rnd := rand.New(rand.NewPCG(seed, 5))
		r := randomTurnRoom(rnd)
		site, err := wall.Survey(r.room)
		require.NoError(t, err)
		find := func(at, out space.Vec) (in bool, off float64) {
			off = math.Inf(1)
			for _, f := range site.Faces {
				p, z := f.Frame.Local(at)
				if math.Abs(z) > 1e-3 || f.Frame.Out.Dot(out) < 0.999 {
					continue
				}
				in = in || f.Outline.Contains(p)
				off = math.Min(off, math.Abs(f.Outline.Distance(p)))
			}
			return in, off
		}
		for w, of := range r.room.Walls {
			for _, o := range of.Obstructions {
				wrong := 0
				for range 300 {
					at, out := r.edge(w, o, rnd.IntN(len(o.Shape)), rnd.Float64(), rnd.Float64())
					ahead := at.Add(out.Scale(0.01))
					// Ends of things in the corners that are only seen from within a recess make no face.
					seen := r.air(ahead) && !r.air(at.Add(out.Scale(-0.01))) && (o.Depth < 0 || r.between(ahead))
					if in, off := find(at, out); in != seen && off > 0.5 {
						wrong++
					}
				}
				assert.Zero(t, wrong, "seed %d: places on the edges of %s on %s", seed, o.Name, of.Name)
			}
		}
		for i, f := range site.Faces {
			box, wrong := f.Outline.Bounds(), 0
			for range 200 {
				p := plane.Point{X: box.Min.X + rnd.Float64()*box.Width(), Y: box.Min.Y + rnd.Float64()*box.Height()}
				if f.Outline.Contains(p) && f.Outline.Distance(p) > 0.5 && !(r.air(f.Frame.Lift(p, 0.01)) && !r.air(f.Frame.Lift(p, -0.01))) {
					wrong++
				}
			}
			assert.Zero(t, wrong, "seed %d: places of %s that nobody can see", seed, site.Title(i))
		}
		if t.Failed() {
			t.Logf("%d walls of %v", r.walls, r.length)
			for _, w := range r.room.Walls {
				for _, o := range w.Obstructions {
					t.Log(w.Name, o.Name, o.Depth, o.Shape)
				}
			}
			return
		}
	}
}

func TestNamesOfSides(t *testing.T) {
	radiator := rect(wall.Radiator, 200, 200, 800, 600, 0)
	radiator.Name, radiator.Depth = "radiator", 100
	second := radiator
	second.Shape = plane.Rectangle(plane.Point{X: 2000, Y: 200}, 800, 600)
	oddly := second // whoever calls things so gets faces that can be told apart all the same
	oddly.Name, oddly.Shape = "Radiator", plane.Rectangle(plane.Point{X: 3000, Y: 200}, 800, 600)
	round := radiator
	round.Name, round.Round, round.Shape = "clock", true, plane.Ellipse(plane.Point{X: 2000, Y: 2000}, 150, 150, 48)
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{boxWall(0, radiator, second, oddly, round)}})
	require.NoError(t, err)
	names := map[string]bool{}
	for i, f := range site.Faces {
		key := wall.FoldName(f.Name)
		assert.False(t, names[key], f.Name)
		names[key] = true
		assert.Equal(t, f.Obstruction < 0, f.IsWall())
		if f.IsWall() {
			assert.Equal(t, 4000.0*2500, f.Whole.Area())
		} else {
			assert.Equal(t, "Wall, "+f.Name, site.Title(i))
		}
	}
	for _, name := range []string{"wall", "radiator left return", "radiator underside", "radiator front 2", "Radiator front 3", "clock front"} {
		_, found := site.FaceByName("Wall", name)
		assert.True(t, found, name)
	}
	assert.Len(t, site.Faces, 1+3*5+1, "of a round thing there is a front alone")
	assert.InDelta(t, 4000*2500-3*800*600-round.Shape.Area(), site.Faces[0].Outline.Area(), 1)
}

// What is narrow has margins of an eighth of its width, what is wide those of the wall, and what
// the plan says goes before either.
func TestMarginsOfSides(t *testing.T) {
	breast := rect(wall.Chimney, 1000, 0, 1200, 2500, 0)
	breast.Name, breast.Depth, breast.Use = "breast", 150, []wall.Side{wall.All}
	free := func(own *float64, face string) float64 {
		breast.Margin = own
		site, err := wall.Survey(wall.Room{Walls: []wall.Wall{boxWall(70, breast)}})
		require.NoError(t, err)
		i, found := site.FaceByName("Wall", face)
		require.True(t, found)
		return site.Faces[i].Free().Area()
	}
	narrow := 150.0 / 8
	assert.InDelta(t, (150-2*narrow)*(2500-2*narrow), free(nil, "breast left return"), 0.1)
	assert.InDelta(t, (1200-140)*(2500-140), free(nil, "breast front"), 0.1)
	ten := 10.0
	assert.InDelta(t, 130*2480, free(&ten, "breast left return"), 0.1)
	assert.InDelta(t, 1180*2480, free(&ten, "breast front"), 0.1)
}

// An opening for a fire keeps what burns off the front that it is in as on a plain wall; on the
// returns nothing that burns hangs as deep as the corner is inside the distance, however far round.
func TestFireReachesRoundTheCorner(t *testing.T) {
	breast := rect(wall.Chimney, 1000, 0, 1200, 1500, 0)
	breast.Name, breast.Depth, breast.Use = "breast", 300, []wall.Side{wall.All}
	fire := rect(wall.Fireplace, 1100, 0, 900, 800, 0) // 100 mm from the left corner, 200 from the right
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{boxWall(0, breast, fire)}})
	require.NoError(t, err)
	face := func(name string) wall.Face {
		i, found := site.FaceByName("Wall", name)
		require.True(t, found, name)
		return site.Faces[i]
	}
	near := func(name string) plane.Region { return zone(t, face(name), "fire-opening", "the fireplace").Shape }
	front := near("breast front")
	assert.True(t, front.Contains(plane.Point{X: 1, Y: 400}))
	assert.True(t, front.Contains(plane.Point{X: 1000 + 152, Y: 400}))
	assert.False(t, front.Contains(plane.Point{X: 1000 + 153, Y: 400}))
	// The left corner is 100 mm off the opening: the circle about its top corner passes it √(152.4² − 100²)
	// = 115 mm higher.
	left := near("breast left return")
	assert.InDelta(t, 300*(800+math.Sqrt(152.4*152.4-100*100)), left.Area(), 300*0.1)
	assert.InDelta(t, 300, left.Bounds().Width(), 1e-6)
	assert.Empty(t, zonesOf(face("breast right return"), "fire-opening"), "200 mm off")
	assert.NotEmpty(t, zonesOf(face("breast right return"), "fire-slope"))
	assert.Empty(t, zonesOf(face("breast top"), "fire-slope"), "700 mm off")

	paper := wall.Load{Combustible: true, StandOff: 5}
	for i, f := range site.Faces {
		if !f.Used {
			continue
		}
		free, err := f.FreeFor(paper)
		require.NoError(t, err)
		in, err := free.Intersection(f.Free())
		require.NoError(t, err)
		assert.InDelta(t, free.Area(), in.Area(), 0.01, site.Title(i))
	}
	// The clearance of the opening acts on the front, which is where the opening is, and not on the
	// wall 300 mm behind it.
	fire.Clearance = 200
	wide, err := wall.Survey(wall.Room{Walls: []wall.Wall{boxWall(0, breast, fire)}})
	require.NoError(t, err)
	assert.Equal(t, site.Faces[0].Free(), wide.Faces[0].Free())
	i, _ := wide.FaceByName("Wall", "breast front")
	assert.Less(t, wide.Faces[i].Free().Area(), face("breast front").Free().Area())
}

// ADA Standards 2010 §307.2 and 307.4: what stands out from a front or a return between 685 and 2030
// mm above the floor, and what hangs below 2030 mm.
func TestWalkingHeightOnSides(t *testing.T) {
	box := rect(wall.Bulkhead, 1000, 2080, 1000, 420, 0)
	box.Name, box.Depth, box.Use = "box", 400, []wall.Side{wall.All}
	low := rect(wall.Boxing, 2500, 600, 400, 300, 0)
	low.Name, low.Depth, low.Use = "low", 200, []wall.Side{wall.All}
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{boxWall(0, box, low)}})
	require.NoError(t, err)
	face := func(name string) wall.Face {
		i, found := site.FaceByName("Wall", name)
		require.True(t, found, name)
		return site.Faces[i]
	}
	hangs := zone(t, face("box underside"), "headroom", "walking height")
	assert.InDelta(t, 50, hangs.Limit, 1e-9)
	assert.InDelta(t, 1000*400, hangs.Shape.Area(), 1)
	assert.Empty(t, zonesOf(face("box front"), "route-projection"))
	band := zone(t, face("low left return"), "route-projection", "walking height").Shape.Bounds()
	assert.InDelta(t, 85, band.Min.Y, 0.05, "685 mm above the floor, 85 above the foot of the box")
	assert.InDelta(t, 300, band.Max.Y, 0.05)
	assert.Empty(t, zonesOf(face("low underside"), "headroom"), "nobody walks under what hangs at 600 mm")
}

// A ceiling that slopes: over a low wall of 2000 and a high one of 3200 mm, 1600 mm apart, it runs
// up by a 3-4-5 triangle, so it is 2000 mm deep.
func TestASlopingCeiling(t *testing.T) {
	gable := func(left, right float64) plane.Ring {
		return plane.Ring{{}, {X: 1600}, {X: 1600, Y: right}, {Y: left}}
	}
	r := wall.Room{Ceiling: &wall.Wall{Name: "Slope", Surface: wall.Timber}}
	for i, outline := range []plane.Ring{plane.Rectangle(plane.Point{}, 4000, 2000), gable(2000, 3200), plane.Rectangle(plane.Point{}, 4000, 3200), gable(3200, 2000)} {
		r.Walls = append(r.Walls, wall.Wall{Name: fmt.Sprint(i), Surface: wall.Plaster, Turn: 90, Outline: outline})
	}
	breast := rect(wall.Chimney, 1000, 0, 500, 2000, 0)
	breast.Name, breast.Depth, breast.Use = "breast", 400, []wall.Side{wall.All}
	r.Walls[0].Obstructions = []wall.Obstruction{breast}
	require.Empty(t, r.Check(measure.Millimetre))
	site, err := wall.Survey(r)
	require.NoError(t, err)
	i, found := site.FaceByName("Slope", wall.WallFace)
	require.True(t, found)
	c := site.Faces[i]
	// The breast stops at the top of the low wall, below the slope, and takes nothing of it but where
	// it would touch: along its foot.
	assert.InDelta(t, 4000*2000, c.Outline.Area(), 1)
	assert.InDelta(t, 0.8, c.Frame.Out.Z*-1, 1e-9)
	assert.InDelta(t, -0.6, c.Frame.Out.Y, 1e-9)
	top := c.Frame.At(plane.Point{X: 4000, Y: 2000})
	assert.InDelta(t, 0, top.Sub(space.Vec{X: 4000, Y: -1600, Z: 3200}).Len(), 1e-6)
	ways := site.Ways()
	meets := map[int]bool{}
	for _, j := range ways.Joins(i) {
		if site.Faces[j.To].IsWall() {
			meets[j.To] = true
			assert.False(t, j.Outside)
		}
	}
	assert.Len(t, meets, 4, "it meets every wall")
}

// A ceiling is seen facing the first wall with the head back: its lower edge lies on that wall, and
// its right is the wall's right.
func TestACeilingIsDrawnLookingUp(t *testing.T) {
	r := room([]float64{5000, 3000, 5000, 3000}, []float64{90, 90, 90, 90})
	r.Ceiling = &wall.Wall{Name: "Ceiling", Surface: wall.Plaster, Margin: 100, Obstructions: []wall.Obstruction{
		rect(wall.Sprinkler, 1000, 500, 100, 100, 100),
	}}
	site, err := wall.Survey(r)
	require.NoError(t, err)
	require.Len(t, site.Faces, 5)
	c := site.Faces[4]
	assert.Equal(t, "Ceiling", site.Title(4))
	assert.True(t, site.Room.Walls[c.Wall].Ceiling)
	assert.Equal(t, space.Frame{Origin: space.Vec{Z: 2500}, Right: space.Vec{X: 1}, Up: space.Vec{Y: -1}, Out: space.Vec{Z: -1}}, c.Frame)
	var codes []string
	for _, z := range c.Zones {
		codes = append(codes, z.Code)
	}
	assert.Equal(t, []string{"sprinkler-space"}, codes, "nobody walks along a ceiling")
	assert.InDelta(t, 4800*2800-100*100-4*100*100-64*math.Sin(2*math.Pi/128)*100*100, c.Free().Area(), 1)
	assert.InDelta(t, 50, site.Ways().Apart(0, plane.Point{X: 2000, Y: 2460}, 4, plane.Point{X: 2000, Y: 30}), 1e-9)
}

// A screen has two sides that know nothing of one another but what goes right through.
func TestAScreen(t *testing.T) {
	window := rect(wall.Window, 300, 900, 400, 500, 50)
	hole := rect(wall.Niche, 1200, 900, 300, 300, 0)
	hole.Name, hole.Depth, hole.Use = "hole", -40, []wall.Side{wall.All}
	sign := rect(wall.Sign, 300, 200, 400, 300, 0)
	screen := wall.Wall{
		Name: "Screen", Surface: wall.Timber, Outline: plane.Rectangle(plane.Point{}, 1800, 1900), Margin: 20,
		Alone:        &wall.Stand{At: &plane.Point{X: 1000, Y: -2000}, Angle: 90, Thickness: 40, Back: true},
		Obstructions: []wall.Obstruction{window, hole, sign},
	}
	r := room([]float64{4000, 3000}, []float64{90, 0})
	r.Walls = append(r.Walls, screen)
	require.Empty(t, r.Check(measure.Millimetre))
	site, err := wall.Survey(r)
	require.NoError(t, err)
	i, found := site.FaceByName("Screen", wall.WallFace)
	require.True(t, found)
	j, found := site.FaceByName("Screen", wall.BackFace)
	require.True(t, found)
	front, back := site.Faces[i], site.Faces[j]
	assert.Equal(t, space.Vec{X: -1}, front.Frame.Out, "turned as after an inside corner, it looks against X")
	assert.Equal(t, space.Vec{X: 1}, back.Frame.Out)
	assert.InDelta(t, 40, back.Frame.Origin.X-front.Frame.Origin.X, 1e-9)
	whole := 1800.0 * 1900
	assert.InDelta(t, whole-300*300, front.Outline.Area(), 1)
	assert.InDelta(t, whole-300*300, back.Outline.Area(), 1)
	assert.Greater(t, back.Free().Area(), front.Free().Area(), "the sign is on the front alone")
	x := 1800 - 500.0 // the window from behind
	assert.False(t, back.Free().Contains(plane.Point{X: x, Y: 1100}))
	assert.True(t, back.Free().Contains(plane.Point{X: 500, Y: 1700}))
	on := site.On(j)
	require.Len(t, on, 2, "the window and the hole, seen from behind")
	assert.Equal(t, plane.Rect{Min: plane.Point{X: 1800 - 700, Y: 900}, Max: plane.Point{X: 1800 - 300, Y: 1400}}, on[0].Shape.Bounds())
	assert.Equal(t, plane.Rect{Min: plane.Point{X: 300, Y: 900}, Max: plane.Point{X: 600, Y: 1200}}, on[1].Shape.Bounds())
	assert.Greater(t, on[0].Shape.Area(), 0.0)
	_, found = site.FaceByName("Screen", "hole back")
	assert.False(t, found, "it goes right through")
	k, found := site.FaceByName("Screen", "hole left reveal")
	require.True(t, found)
	assert.InDelta(t, 40*300, site.Faces[k].Outline.Area(), 1)
	ways := site.Ways()
	assert.True(t, math.IsInf(ways.Apart(i, plane.Point{X: 900, Y: 1000}, j, plane.Point{X: 900, Y: 1000}), 1) ||
		ways.Apart(i, plane.Point{X: 900, Y: 1000}, j, plane.Point{X: 900, Y: 1000}) > 40, "not through the screen")
}

// A switch on the front of a column is on the column, and one in a niche on the niche's back; each
// keeps its place in the room.
func TestWhatIsOnAFace(t *testing.T) {
	column := rect(wall.Column, 1000, 0, 400, 2500, 0)
	column.Name, column.Depth, column.Use = "column", 400, []wall.Side{wall.All}
	niche := rect(wall.Niche, 2000, 500, 800, 900, 0)
	niche.Name, niche.Depth, niche.Use = "niche", -150, []wall.Side{wall.All}
	onColumn, inNiche, onWall := rect(wall.Switch, 1100, 1100, 80, 80, 0), rect(wall.Socket, 2100, 600, 80, 80, 0), rect(wall.Sign, 3000, 1500, 300, 200, 0)
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{boxWall(0, column, niche, onColumn, inNiche, onWall)}})
	require.NoError(t, err)
	for i, f := range site.Faces {
		var names []string
		for _, o := range site.On(i) {
			names = append(names, o.Name)
		}
		switch f.Name {
		case wall.WallFace:
			assert.Equal(t, []string{"column", "niche", "the sign"}, names)
		case "column front":
			assert.Equal(t, []string{"the switch"}, names)
			at := f.Frame.At(site.On(i)[0].Shape.Bounds().Min)
			assert.InDelta(t, 0, at.Sub(space.Vec{X: 1100, Y: -400, Z: 1100}).Len(), 1e-9)
			assert.False(t, f.Free().Contains(plane.Point{X: 140, Y: 1140}))
		case "niche back":
			assert.Equal(t, []string{"the socket"}, names)
			at := f.Frame.At(site.On(i)[0].Shape.Bounds().Min)
			assert.InDelta(t, 0, at.Sub(space.Vec{X: 2100, Y: 150, Z: 600}).Len(), 1e-9)
		default:
			assert.Empty(t, names, f.Name)
		}
	}
}

// What hangs from a ceiling has a soffit and sides, for who looks up.
func TestABeam(t *testing.T) {
	r := room([]float64{5000, 3000, 5000, 3000}, []float64{90, 90, 90, 90})
	beam := rect(wall.Boxing, 0, 1000, 5000, 300, 0)
	beam.Name, beam.Depth, beam.Use = "beam", 250, []wall.Side{wall.All}
	r.Ceiling = &wall.Wall{Name: "Ceiling", Surface: wall.Plaster, Obstructions: []wall.Obstruction{beam}}
	site, err := wall.Survey(r)
	require.NoError(t, err)
	areas := map[string]float64{}
	for _, f := range site.Faces {
		if f.Obstruction >= 0 {
			areas[f.Name] = math.Round(f.Outline.Area())
		}
	}
	assert.Equal(t, map[string]float64{"beam soffit": 5000 * 300, "beam near side": 5000 * 250, "beam far side": 5000 * 250}, areas)
	i, _ := site.FaceByName("Ceiling", "beam near side")
	assert.Equal(t, space.Vec{Y: 1}, site.Faces[i].Frame.Out, "it looks at the first wall")
	assert.InDelta(t, 3000*2500-300*250, site.Faces[1].Outline.Area(), 1, "its ends stand against the side walls")
}

// Somebody looks along a direction with another up, and so has a right: the head put back by a
// quarter turn brings the look to what was up, and up to the opposite of what was the look. What
// lies overhead, a ceiling or an underside, is drawn so for somebody who faces its wall.
func TestOverheadFacesAreDrawnForSomebodyWhoFacesTheWall(t *testing.T) {
	beam := rect(wall.Bulkhead, 1000, 2000, 1500, 300, 0)
	beam.Name, beam.Depth, beam.Use = "beam", 400, []wall.Side{wall.All}
	r := room([]float64{4000, 3000, 4000, 3000}, []float64{90, 90, 90, 90})
	r.Walls[0].Obstructions = []wall.Obstruction{beam}
	r.Walls[1].Obstructions = []wall.Obstruction{beam}
	r.Ceiling = &wall.Wall{Name: "Ceiling", Surface: wall.Plaster}
	site, err := wall.Survey(r)
	require.NoError(t, err)
	overhead := 0
	for _, f := range site.Faces {
		if f.Frame.Out != (space.Vec{Z: -1}) {
			continue
		}
		overhead++
		faced := site.Faces[0].Frame // the first wall, for the ceiling
		if f.Wall < len(r.Walls) {
			k, _ := site.FaceByName(r.Walls[f.Wall].Name, wall.WallFace)
			faced = site.Faces[k].Frame
		}
		look, up := faced.Out.Scale(-1), faced.Up
		right := look.Cross(up)
		look, up = up, look.Scale(-1) // the head put back
		assert.Equal(t, space.Vec{Z: 1}, look)
		assert.InDelta(t, 1, f.Frame.Right.Dot(right), 1e-9, "right of %s", f.Name)
		assert.InDelta(t, 1, f.Frame.Up.Dot(up), 1e-9, "up of %s", f.Name)
	}
	assert.Equal(t, 3, overhead)
}
