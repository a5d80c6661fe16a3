package roomview

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

var sheetArea = plane.Rect{Min: plane.Point{X: 10, Y: 10}, Max: plane.Point{X: 410, Y: 280}}

func kinds() []scatter.Kind {
	fish := plane.Ring{{X: 90, Y: 0}, {X: 30, Y: 28}, {X: -60, Y: 8}, {X: -95, Y: 30}, {X: -80, Y: 0}, {X: -95, Y: -30}, {X: -60, Y: -8}, {X: 30, Y: -28}}
	return []scatter.Kind{
		{Name: "flat", Code: "F", Outline: fish, Colour: scatter.Colour{R: 120, G: 150, B: 170}},
		{Name: "near", Code: "N", Outline: plane.Rectangle(plane.Point{X: -60, Y: -25}, 120, 50), StandOff: 18, Colour: scatter.Colour{R: 60, G: 90, B: 120}},
		{Name: "far", Code: "W", Outline: plane.Ellipse(plane.Point{}, 70, 30, 24), StandOff: 45, Colour: scatter.Colour{R: 200, G: 120, B: 60}},
	}
}

// randomRoom returns a room of up to five walls at odd angles, with things on them that stand out,
// overlap and are let in.
func randomRoom(r *rand.Rand) wall.Room {
	between := func(low, high float64) float64 { return math.Round(low + (high-low)*r.Float64()) }
	var room wall.Room
	for i := range 1 + r.IntN(5) {
		w := wall.Wall{
			Name: string(rune('A' + i)), Surface: wall.Plaster, Turn: []float64{90, 90, 60, -90, 30, -45}[r.IntN(6)],
			Outline: plane.Rectangle(plane.Point{}, between(1500, 6000), 2700),
		}
		width := w.Outline.Bounds().Width()
		if r.IntN(3) == 0 {
			w.Outline = plane.Ring{{}, {X: width}, {X: width, Y: 2700}, {X: width / 2, Y: 3600}, {Y: 2700}}
		}
		for range r.IntN(5) {
			wide, high := between(150, width/2), between(150, 1500)
			kind := []wall.ObstructionKind{wall.Window, wall.Chimney, wall.Niche, wall.Bulkhead, wall.Door, wall.Shelf}[r.IntN(6)]
			depth := map[wall.ObstructionKind]float64{wall.Chimney: between(100, 500), wall.Niche: -between(50, 300), wall.Bulkhead: between(50, 400), wall.Shelf: between(100, 300)}[kind]
			w.Obstructions = append(w.Obstructions, wall.Obstruction{
				Kind: kind, Name: string(kind), Depth: depth, Use: wall.Sides(depth),
				Shape: plane.Rectangle(plane.Point{X: between(0, width-wide), Y: between(0, 2700-high)}, wide, high),
			})
		}
		room.Walls = append(room.Walls, w)
	}
	return room
}

// strewn hangs n pieces anywhere on the faces of a site, one over another where it so happens.
func strewn(site wall.Site, r *rand.Rand, n int) holemap.Work {
	w := holemap.Work{Title: "Strewn", Units: measure.Millimetre, Site: site, Kinds: kinds()}
	for id := 1; id <= n; {
		face := r.IntN(len(site.Faces))
		b := site.Faces[face].Outline.Bounds()
		at := plane.Point{X: b.Min.X + b.Width()*r.Float64(), Y: b.Min.Y + b.Height()*r.Float64()}.Snap(100)
		if site.Faces[face].Outline.Contains(at) {
			w.Layout.Pieces = append(w.Layout.Pieces, scatter.Piece{ID: id, Face: face, At: at, Kind: r.IntN(3), Heading: heading.Bearing(360 * r.Float64())})
		}
		id++
	}
	return w
}

// surveyed returns a random room that makes sense.
func surveyed(t testing.TB, r *rand.Rand) wall.Site {
	for range 100 {
		room := randomRoom(r)
		if len(room.Check(measure.Millimetre)) > 0 {
			continue
		}
		if site, err := wall.Survey(room); err == nil {
			return site
		}
	}
	require.Fail(t, "no random room makes sense")
	return wall.Site{}
}

// A caster finds what is seen at a point of a picture by asking every facet where the ray meets it.
// It shares with the painter the camera's matrix alone.
type caster struct {
	camera Camera
	flats  []flat
}

type flat struct {
	facet
	u, v, o space.Vec
	inverse [3][3]float64
	rings   []plane.Ring
}

func newCaster(c Camera, facets []facet) caster {
	out := caster{camera: c}
	for _, f := range facets {
		u := f.level.normal.Cross(space.Vec{Z: 1})
		if u.Len() < 0.1 {
			u = f.level.normal.Cross(space.Vec{X: 1})
		}
		u = u.Scale(1 / u.Len())
		g := flat{facet: f, u: u, v: f.level.normal.Cross(u), o: f.loops[0][0].at}
		var h [3][3]float64
		for i, row := range c.matrix {
			lin := space.Vec{X: row[0], Y: row[1], Z: row[2]}
			h[i] = [3]float64{lin.Dot(g.u), lin.Dot(g.v), lin.Dot(g.o) + row[3]}
		}
		g.inverse = adjugate(h)
		for _, l := range f.loops {
			var ring plane.Ring
			for _, k := range l {
				d := k.at.Sub(g.o)
				ring = append(ring, plane.Point{X: d.Dot(g.u), Y: d.Dot(g.v)})
			}
			g.rings = append(g.rings, ring)
		}
		out.flats = append(out.flats, g)
	}
	return out
}

// adjugate returns the inverse of a matrix but for a factor.
func adjugate(m [3][3]float64) (out [3][3]float64) {
	for i := range 3 {
		for j := range 3 {
			a, b, c, d := (j+1)%3, (j+2)%3, (i+1)%3, (i+2)%3
			out[i][j] = m[a][c]*m[b][d] - m[a][d]*m[b][c]
		}
	}
	return out
}

// at returns the facet that is seen at a point of the picture, and whether any is.
func (c caster) at(p plane.Point) (facet, bool) {
	var best facet
	near, found := math.Inf(1), false
	for _, f := range c.flats {
		var h [3]float64
		for i, row := range f.inverse {
			h[i] = row[0]*p.X + row[1]*p.Y + row[2]
		}
		q := plane.Point{X: h[0] / h[2], Y: h[1] / h[2]}
		inside := false
		for _, r := range f.rings {
			if r.Contains(q) {
				inside = !inside
			}
		}
		if !inside {
			continue
		}
		depth := c.camera.depth(f.o.Add(f.u.Scale(q.X)).Add(f.v.Scale(q.Y)))
		if c.camera.eye[3] != 0 && depth < nearest {
			continue
		}
		if depth < near-0.01 || depth < near+0.01 && f.rank >= best.rank {
			best, near, found = f.facet, depth, true
		}
	}
	return best, found
}

// clearly returns what is seen at p, unless something else is seen a hair beside it.
func (c caster) clearly(p plane.Point) (seen facet, any, clear bool) {
	seen, any = c.at(p)
	for _, d := range []plane.Point{{X: 0.03}, {X: -0.03}, {Y: 0.03}, {Y: -0.03}} {
		beside, there := c.at(p.Add(d))
		if there != any || beside.name != seen.name || beside.fill != seen.fill {
			return seen, any, false
		}
	}
	return seen, any, true
}

// topmost returns the last area painted over p.
func topmost(marks []draw.Mark, p plane.Point) (draw.Mark, bool) {
	for i := len(marks) - 1; i >= 0; i-- {
		if marks[i].Kind != "polygon" {
			continue
		}
		inside := false
		for _, r := range marks[i].Rings {
			if r.Contains(p) {
				inside = !inside
			}
		}
		if inside {
			return marks[i], true
		}
	}
	return draw.Mark{}, false
}

// In pictures of rooms of every shape, and of random ones, strewn with pieces, what was painted last at a point is what a ray
// through that point meets first: at random points, and in the middle of every piece.
func TestPaintersPictureAgreesWithRays(t *testing.T) {
	rooms, points := 20, 250
	if testing.Short() {
		rooms = 8
	}
	works := map[string]holemap.Work{}
	for name, room := range shapes() {
		works[name] = strewnRoom(t, room, 100)
	}
	for seed := range rooms {
		r := rand.New(rand.NewPCG(uint64(seed), 11))
		works[fmt.Sprint(seed)] = strewn(surveyed(t, r), r, 60)
	}
	checked := 0
	for seed, w := range works {
		r := rand.New(rand.NewPCG(uint64(len(w.Layout.Pieces)), 12))
		s, err := New(w)
		require.NoError(t, err)
		quarter := r.IntN(4)
		sin, cos := math.Sincos(2 * math.Pi * r.Float64())
		inside := s.faces[0].centre.Add(s.faces[0].level.normal.Scale(1500))
		inside.Z = eyeHeight
		for name, p := range map[string]Picture{
			"perspective": s.Perspective(), "isometric": s.Isometric(), "quarter": s.seen(Isometric(quarter)),
			"within": s.seen(Perspective(inside, space.Vec{X: cos, Y: sin})),
		} {
			if p.box.Width() == 0 || p.box.Height() == 0 {
				continue // nothing looks that way
			}
			record := draw.NewRecord()
			record.Page(420, 297)
			taken := p.Draw(record, sheetArea)
			require.NoError(t, record.Close())
			rays := newCaster(p.camera.framed(p.box, sheetArea), p.gathered())
			var ask []plane.Point
			for range points {
				ask = append(ask, plane.Point{X: taken.Min.X + taken.Width()*r.Float64(), Y: taken.Min.Y + taken.Height()*r.Float64()})
			}
			for _, h := range s.hung {
				if p.shown[h.face] && rays.camera.depth(h.centre) > 2*nearest {
					ask = append(ask, rays.camera.At(h.centre))
				}
			}
			for _, q := range ask {
				seen, any, clear := rays.clearly(q)
				if !clear || !taken.Contains(q) {
					continue
				}
				checked++
				mark, painted := topmost(record.Marks, q)
				if !assert.Equal(t, any, painted, "room %s, %s, %v: something is seen there", seed, name, q) || !any {
					continue
				}
				if !assert.Equal(t, seen.name, mark.Groups[len(mark.Groups)-1], "room %s, %s, %v", seed, name, q) {
					return
				}
				assert.Equal(t, seen.fill, mark.Paint.Fill.Colour, "room %s, %s, %v: %s", seed, name, q, seen.name)
			}
		}
	}
	assert.Greater(t, checked, rooms*points, "most points were clear")
}
