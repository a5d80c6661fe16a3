package elevation_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/template"
	"wallshoal/export/worktest"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// Where zones overlap they are hatched once and one way: a caution is not hatched over another, over what is kept
// free, nor over a thing on the wall.
func TestOverlappingZonesAreHatchedOnce(t *testing.T) {
	zone := func(name string, x, y, width, height float64, strength wall.Strength) wall.Zone {
		return wall.Zone{Code: "own", Name: name, Reason: name, Shape: plane.RegionOf(plane.Rectangle(plane.Point{X: x, Y: y}, width, height)), Strength: strength, Binds: wall.Holes}
	}
	s := worktest.Site(wall.Wall{
		Name: "Wall", Outline: plane.Rectangle(plane.Point{}, 700, 500), Surface: wall.Brick,
		Obstructions: []wall.Obstruction{worktest.Box(wall.Window, "window", 500, 300, 150, 150)},
		Marked: []wall.Zone{
			zone("upright", 100, 0, 200, 500, wall.Caution), zone("level", 0, 100, 700, 300, wall.Caution), zone("free", 350, 50, 120, 120, wall.Forbidden),
		},
	})
	w, p := worktest.Work(t, s, worktest.Strew(s, 0, 90)), worktest.Auto(worktest.Print("A1"))
	lines := map[string][][2]plane.Point{}
	clips := map[string][]plane.Ring{}
	for _, m := range worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, w, p)) }).Marks {
		if len(m.Groups) != 2 || !strings.HasPrefix(m.Groups[1], "hatching of ") {
			continue
		}
		switch m.Kind {
		case "line":
			lines[m.Groups[1]] = append(lines[m.Groups[1]], [2]plane.Point{m.Points[0], m.Points[1]})
		case "clip":
			clips[m.Groups[1]] = append(clips[m.Groups[1]], m.Rings...)
		}
	}
	for name, all := range lines {
		for i, a := range all {
			for _, b := range all[:i] {
				across := a[1].Sub(a[0]).Scale(1 / a[0].Distance(a[1]))
				apart := math.Abs(b[0].Sub(a[0]).Dot(plane.Point{X: -across.Y, Y: across.X}))
				assert.Greater(t, apart, 5.0, "%s: two lines nearer than their pitch", name)
			}
		}
	}
	assert.Len(t, lines, 2)
	tiles := worktest.CutUp(t, w, p).Tiles(0)
	require.Len(t, tiles, 1)
	within := func(name string, at plane.Point) bool {
		n := 0
		for _, r := range clips[name] {
			if r.Contains(at) {
				n++
			}
		}
		assert.LessOrEqual(t, n, 1, "%v is hatched more than once", at)
		return n > 0
	}
	face, hatched := s.Faces[0], 0
	for x := tiles[0].Area.Min.X + 1.3; x < tiles[0].Area.Max.X; x += 7 {
		for y := tiles[0].Area.Min.Y + 1.3; y < tiles[0].Area.Max.Y; y += 7 {
			at := plane.Point{X: x, Y: y}
			in := func(strength wall.Strength) bool {
				return slices.ContainsFunc(face.Zones, func(z wall.Zone) bool {
					return z.Strength == strength && z.Binds == wall.Holes && z.Shape.Contains(at)
				})
			}
			free, caution := in(wall.Forbidden), in(wall.Caution)
			thing := slices.ContainsFunc(s.Room.Walls[0].Obstructions, func(o wall.Obstruction) bool { return o.Shape.Contains(at) })
			assert.Equal(t, free, within("hatching of what is kept free", tiles[0].ToPage(at)), "kept free at %v", at)
			assert.Equal(t, caution && !free && !thing, within("hatching of cautions", tiles[0].ToPage(at)), "a caution at %v", at)
			if caution {
				hatched++
			}
		}
	}
	assert.Greater(t, hatched, 100)
}
