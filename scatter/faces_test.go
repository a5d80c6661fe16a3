package scatter_test

import (
	"fmt"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// stepped is a room that steps in and out: a chimney breast with a mantel shelf, a bulkhead over
// both walls of an inside corner, a niche, and an outside corner. Every side carries pieces.
func stepped(t testing.TB) wall.Site {
	t.Helper()
	body := func(name string, kind wall.ObstructionKind, x, y, w, h, depth float64) wall.Obstruction {
		o := wall.Obstruction{
			Kind: kind, Name: name, Depth: depth, Clearance: 10,
			Shape: plane.Rectangle(plane.Point{X: x, Y: y}, w, h),
		}
		o.Use = wall.Sides(depth)
		return o
	}
	room := wall.Room{Datum: 1400, Walls: []wall.Wall{
		{
			Name: "left", Turn: 90, Surface: wall.Plaster, Margin: 25, Outline: plane.Rectangle(plane.Point{}, 3200, 2500),
			Obstructions: []wall.Obstruction{
				body("breast", wall.Chimney, 1000, 0, 1100, 2500, 340),
				body("mantel", wall.Shelf, 900, 1100, 1300, 120, 520),
				body("bulkhead", wall.Bulkhead, 0, 2200, 3200, 300, 400),
			},
		},
		{
			Name: "middle", Turn: -90, Surface: wall.Brick, Margin: 25, Outline: plane.Rectangle(plane.Point{}, 1800, 2500),
			Obstructions: []wall.Obstruction{
				body("niche", wall.Niche, 700, 700, 600, 900, -260),
				body("beam", wall.Bulkhead, 300, 2250, 1500, 250, 300),
			},
		},
		{Name: "right", Surface: wall.Timber, Margin: 25, Outline: plane.Rectangle(plane.Point{}, 900, 2500)},
	}}
	site, err := wall.Survey(room)
	require.NoError(t, err)
	return site
}

func lifted() []scatter.Kind {
	out := kinds()
	for i := range out {
		out[i].StandOff = float64(8 + 6*i)
		out[i].Combustible = false
	}
	return out
}

// The layouts of two hundred seeds (a dozen where CI is not set) over every face of a stepped
// room keep all that Lay promises.
func TestLayOverEveryFace(t *testing.T) {
	seeds := uint64(12)
	if os.Getenv("CI") == "true" && !testing.Short() {
		seeds = 200
	}
	site := stepped(t)
	carries := map[string]bool{}
	for seed := range seeds {
		comp := composition(180)
		layout := lay(t, site, lifted(), comp, seed)
		check(t, site, lifted(), comp, layout)
		checkAir(t, site, comp, layout)
		for _, p := range layout.Pieces {
			carries[site.Title(p.Face)] = true
		}
	}
	used := 0
	for _, f := range site.Faces {
		if f.Used && !f.Free().Empty() {
			used++
		}
	}
	assert.GreaterOrEqual(t, len(carries), used-3, "faces that carry pieces: %v", carries)
	assert.Greater(t, used, 14)
}

// checkAir measures the distances of a layout again, in the room alone: straight, and over the
// edge where two faces meet at an outside corner, by trying the places along that edge.
func checkAir(t testing.TB, site wall.Site, comp scatter.Composition, layout scatter.Layout) {
	t.Helper()
	ways := site.Ways()
	for i, p := range layout.Pieces {
		for _, q := range layout.Pieces[:i] {
			if p.Face == q.Face {
				continue
			}
			a := site.Faces[p.Face].Frame.At(p.At)
			b := site.Faces[q.Face].Frame.At(q.At)
			if a.Sub(b).Len() >= comp.Spacing {
				continue // no way through the air is shorter than the straight one
			}
			over, behind := math.Inf(1), false
			for _, j := range ways.Joins(p.Face) {
				if j.To == q.Face && j.Outside {
					frame := site.Faces[p.Face].Frame
					over = min(over, overEdge(a, b, frame.At(j.A), frame.At(j.B)))
				}
			}
			_, off := site.Faces[p.Face].Frame.Local(b)
			_, back := site.Faces[q.Face].Frame.Local(a)
			behind = off <= 0.5 && back <= 0.5
			require.True(t, behind, "pieces %d and %d see one another", p.ID, q.ID)
			require.GreaterOrEqual(t, over, comp.Spacing, "pieces %d and %d over the edge", p.ID, q.ID)
		}
	}
}

// overEdge returns the length of the shortest way from a to b by a point of the edge cd. The
// length is convex along the edge, so a search by thirds finds it.
func overEdge(a, b, c, d space.Vec) float64 {
	by := func(t float64) float64 {
		e := c.Add(d.Sub(c).Scale(t))
		return a.Sub(e).Len() + e.Sub(b).Len()
	}
	low, high := 0.0, 1.0
	for range 80 {
		third := (high - low) / 3
		if by(low+third) < by(high-third) {
			high -= third
		} else {
			low += third
		}
	}
	return by(low)
}

// No body of a piece reaches into that of another round an inside corner: with every outline made
// as thick as its kind stands out, bodies on faces that meet at an inside corner stay apart.
func TestBodiesStayApartInCorners(t *testing.T) {
	site := stepped(t)
	tall := lifted()
	for i := range tall {
		tall[i].StandOff = 60
	}
	comp := composition(160)
	layout := lay(t, site, tall, comp, 1)
	ways := site.Ways()
	for _, p := range layout.Pieces {
		for _, j := range ways.Joins(p.Face) {
			if j.Outside {
				continue
			}
			for _, corner := range p.Outline(tall) {
				d := plane.SegmentDistance(corner, j.A, j.B)
				require.GreaterOrEqual(t, d, 60/math.Tan(j.Angle/2)-0.01, "piece %d in the corner to %s", p.ID, site.Title(j.To))
			}
		}
	}
}

// BenchmarkLayOverEveryFace times 320, 2,000 and 20,000 pieces, made smaller as they grow in
// number, over the faces of the stepped room.
func BenchmarkLayOverEveryFace(b *testing.B) {
	site := stepped(b)
	for _, n := range []int{320, 2_000, 20_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			small, comp := smaller(lifted(), composition(n), math.Sqrt(float64(n)/200))
			for b.Loop() {
				lay(b, site, small, comp, 1)
			}
		})
	}
}
