package wall_test

import (
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

// parlour is a closed room with things that overlap: a mantel shelf on a chimney breast, a bulkhead
// over it that runs into the next wall, a column in the corner with a switch on it, the opening of
// the fire, a niche, and a window in a reveal with a radiator before it.
func parlour() boxRoom {
	deep := func(kind wall.ObstructionKind, name string, x, y, w, h, depth, clearance float64) wall.Obstruction {
		return wall.Obstruction{
			Kind: kind, Name: name, Depth: depth, Clearance: clearance, Use: []wall.Side{wall.All},
			Shape: plane.Rectangle(plane.Point{X: x, Y: y}, w, h),
		}
	}
	flat := func(kind wall.ObstructionKind, name string, x, y, w, h, clearance float64) wall.Obstruction {
		o := deep(kind, name, x, y, w, h, 0, clearance)
		o.Use = nil
		return o
	}
	b := boxRoom{length: 5000, width: 4000, height: 2600}
	things := [][]wall.Obstruction{
		{
			deep(wall.Chimney, "breast", 1500, 0, 1600, 2600, 350, 30),
			flat(wall.Vent, "opening", 1900, 0, 800, 750, 50),
			deep(wall.Shelf, "mantel", 1350, 1150, 1900, 100, 500, 20),
			deep(wall.Bulkhead, "bulkhead", 0, 2250, 5000, 350, 450, 30),
			deep(wall.Column, "column", 4700, 0, 300, 2600, 300, 40),
			flat(wall.Switch, "switch", 4800, 1100, 100, 100, 50),
			deep(wall.Niche, "niche", 400, 900, 600, 800, -200, 25),
			flat(wall.Sign, "sign", 450, 1300, 200, 100, 10),
		},
		{
			deep(wall.Window, "window", 1200, 850, 1500, 1150, -250, 60),
			flat(wall.Window, "pane", 1300, 950, 1300, 950, 40),
			deep(wall.Radiator, "radiator", 1300, 100, 1300, 850, 150, 100),
			flat(wall.Socket, "socket", 3000, 300, 100, 100, 50),
		},
		nil, nil,
	}
	for i, l := range []float64{b.length, b.width, b.length, b.width} {
		b.room.Walls = append(b.room.Walls, wall.Wall{
			Name: []string{"fire side", "window side", "door side", "blank side"}[i], Surface: wall.Plaster, Turn: 90, Margin: 70,
			Outline: plane.Rectangle(plane.Point{}, l, b.height), Obstructions: things[i],
		})
	}
	b.room.Ceiling = &wall.Wall{Name: "Ceiling", Surface: wall.Plaster, Margin: 60, Obstructions: []wall.Obstruction{
		flat(wall.Lamp, "lamp", 2400, 1900, 200, 200, 100),
	}}
	return b
}

// toBox returns how far p is from a box, in mm.
func toBox(p space.Vec, b solidBox) float64 {
	out := func(v, low, high float64) float64 { return math.Max(0, math.Max(low-v, v-high)) }
	return space.Vec{X: out(p.X, b.min.X, b.max.X), Y: out(p.Y, b.min.Y, b.max.Y), Z: out(p.Z, b.min.Z, b.max.Z)}.Len()
}

// spare returns how much room, in mm, there is at the place p that can be seen of the face f before
// it comes into a margin, a clearance or something else that keeps pieces away; below 0 where it is
// in one. What it measures are distances between points and upright boxes, and nothing else.
func (b boxRoom) spare(f wall.Face, things []thing, p plane.Point) float64 {
	w := b.walls()[f.Wall]
	at, ahead, inside := f.Frame.At(p), f.Frame.Lift(p, 0.5), f.Frame.Lift(p, -0.5)
	sheet := func(t thing, q space.Vec) (solidBox, bool) { // where t meets the plane just before or behind the face
		s := t.solidBox
		for axis, out := range [3]float64{f.Frame.Out.X, f.Frame.Out.Y, f.Frame.Out.Z} {
			if math.Abs(out) < 0.5 {
				continue
			}
			low, high := [3]*float64{&s.min.X, &s.min.Y, &s.min.Z}[axis], [3]*float64{&s.max.X, &s.max.Y, &s.max.Z}[axis]
			v, here := [3]float64{q.X, q.Y, q.Z}[axis], [3]float64{at.X, at.Y, at.Z}[axis]
			if v < *low || v > *high {
				return s, false
			}
			*low, *high = here, here
		}
		return s, true
	}
	room, surface := math.Inf(1), 0.0
	if f.Obstruction < 0 {
		whole := w.Outline
		if whole == nil {
			whole = plane.Rectangle(plane.Point{}, b.length, b.width)
		}
		room = toEdge(p, whole) - w.Margin
	}
	for _, t := range things {
		if t.wall == f.Wall && t.index == f.Obstruction {
			surface = t.front
			if t.o.Depth < 0 {
				surface += t.o.Depth
			}
			corners := []space.Vec{t.min, t.max}
			lows, _ := f.Frame.Local(corners[0])
			highs, _ := f.Frame.Local(corners[1])
			x0, x1 := math.Min(lows.X, highs.X), math.Max(lows.X, highs.X)
			y0, y1 := math.Min(lows.Y, highs.Y), math.Max(lows.Y, highs.Y)
			margin := math.Min(w.Margin, math.Min(x1-x0, y1-y0)/8)
			room = math.Min(room, math.Min(math.Min(p.X-x0, x1-p.X), math.Min(p.Y-y0, y1-p.Y))-margin)
			continue
		}
		look := ahead
		if t.o.Depth < 0 {
			if f.Obstruction >= 0 && w.Obstructions[f.Obstruction].Depth > 0 {
				continue // what is let into the wall is no matter for what stands on it
			}
			look = inside
		}
		if s, met := sheet(t, look); met {
			room = math.Min(room, toBox(at, s)-t.o.Clearance)
		}
	}
	if f.Side != "" && f.Side != wall.Front && f.Side != wall.Back {
		return room
	}
	for i, o := range w.Obstructions {
		if o.Depth != 0 {
			continue
		}
		on, box := 0.0, o.Shape.Bounds()
		for _, t := range things {
			over := t.o.Shape.Bounds()
			if t.wall != f.Wall || t.index == i || over.Min.X > box.Min.X || over.Min.Y > box.Min.Y || over.Max.X < box.Max.X || over.Max.Y < box.Max.Y {
				continue
			}
			if t.o.Depth > 0 {
				on = math.Max(on, t.front)
			} else if on == 0 {
				on = t.o.Depth
			}
		}
		if on == surface {
			room = math.Min(room, toBox(at, boxOf(b.at(f.Wall, box.Min.X, box.Min.Y, on), b.at(f.Wall, box.Max.X, box.Max.Y, on)))-o.Clearance)
		}
	}
	return room
}

// checkFree holds the free region of every used face to spare, place by place on a square grid, and
// its area to the number of free places. A place stands for a square of the grid; only squares that
// the boundary passes through can be counted wrongly, and along a boundary of length L those are
// wrong by at most half the diagonal of a square on either side: L·step/√2.
func checkFree(t *testing.T, b boxRoom, step float64) {
	t.Helper()
	things := b.things()
	site, err := wall.Survey(b.room)
	require.NoError(t, err)
	for i, f := range site.Faces {
		if !f.Used {
			continue
		}
		box := f.Outline.Bounds()
		free, wrong := 0, 0
		for x := box.Min.X + step/2; x < box.Max.X; x += step {
			for y := box.Min.Y + step/2; y < box.Max.Y; y += step {
				p := plane.Point{X: x, Y: y}
				want := f.Outline.Contains(p) && b.spare(f, things, p) > 0
				if want {
					free++
				}
				if f.Free().Contains(p) != want && math.Abs(f.Free().Distance(p)) > 0.1 {
					wrong++
				}
			}
		}
		var boundary float64
		for _, poly := range f.Free().Polygons() {
			boundary += poly.Outer.Perimeter()
			for _, h := range poly.Holes {
				boundary += h.Perimeter()
			}
		}
		assert.Zero(t, wrong, "%s: places judged wrongly", site.Title(i))
		assert.InDelta(t, float64(free)*step*step, f.Free().Area(), boundary*step/math.Sqrt2+1, site.Title(i))
	}
}

func TestFreeAreasOfAParlour(t *testing.T) {
	b := parlour()
	require.Empty(t, b.room.Check(measure.Millimetre))
	checkFree(t, b, 20)
	site, err := wall.Survey(b.room)
	require.NoError(t, err)
	// By hand, where a hand can: areas in mm².
	for name, want := range map[string]float64{
		"breast left return":   350 * (2250 - 100), // behind the bulkhead, and behind the end of the mantel
		"breast front":         1600 * (2250 - 100),
		"mantel left return":   500 * 100,
		"mantel front":         1900 * 100,
		"mantel top":           1900*500 - 1600*350,
		"bulkhead front":       5000 * 350,
		"bulkhead underside":   5000*450 - 1600*350 - 300*300,
		"column left return":   300 * 2250,
		"column front":         300 * 2250,
		"niche back":           600 * 800,
		"niche head":           600 * 200,
		"niche left reveal":    800 * 200,
		"window side|wall":     0,
		"window left reveal":   1150 * 250,
		"radiator top":         1300 * 150,
		"radiator underside":   1300 * 150,
		"radiator left return": 850 * 150,
	} {
		wallName, face := "fire side", name
		if name == "window side|wall" {
			wallName, face = "window side", wall.WallFace
			// The breasts and the bulkhead of the fire side end in this wall; the radiator stands before
			// 100 mm of the reveal.
			want = 4000*2600 - 1500*1150 - 1300*850 + 1300*100 - 450*350 - 300*2250
		}
		i, found := site.FaceByName(wallName, face)
		if !found {
			i, found = site.FaceByName("window side", face)
		}
		require.True(t, found, name)
		assert.InDelta(t, want, site.Faces[i].Outline.Area(), 1, name)
	}
	_, found := site.FaceByName("fire side", "breast top")
	assert.False(t, found, "nothing can be seen of the top of what goes up to the ceiling")
	_, found = site.FaceByName("fire side", "column right return")
	assert.False(t, found, "nor of what stands in the corner")
	ceiling := site.Faces[len(site.Faces)-1]
	assert.InDelta(t, 5000*(4000-450), ceiling.Outline.Area(), 1)
}

func TestFreeAreasOfRandomRooms(t *testing.T) {
	tried := 0
	for seed := uint64(1); tried < 5; seed++ {
		r := rand.New(rand.NewPCG(seed, 77))
		b := randomBoxRoom(r, seed%2 == 0)
		things := b.things()
		simple := !b.closed(things)
		for _, th := range things {
			simple = simple && (th.o.Depth > 0 || th.front == 0)
		}
		if !simple {
			continue
		}
		tried++
		checkFree(t, b, 50)
		if t.Failed() {
			t.Logf("seed %d", seed)
			for _, th := range things {
				t.Logf("wall %d: %v %v depth %v clearance %v use %v", th.wall+1, th.o.Name, th.o.Shape.Bounds(), th.o.Depth, th.o.Clearance, th.o.Use)
			}
			return
		}
	}
}
