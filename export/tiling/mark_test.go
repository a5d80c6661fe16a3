package tiling_test

import (
	"maps"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A mapped is a work with its hole map on A3.
type mapped struct {
	work  holemap.Work
	cut   tiling.Cut
	drawn *draw.Record
}

// deep are works with much that stands out of their walls, mapped once for all tests that only read them.
var deep struct {
	once sync.Once
	maps map[string]mapped
}

func deepMaps(t testing.TB) map[string]mapped {
	t.Helper()
	deep.once.Do(func() {
		maps := map[string]mapped{}
		for name, w := range map[string]holemap.Work{"ferry": worktest.DeepFerry(t), "chamber": worktest.Stepping(t, 300)} {
			cut := worktest.CutUp(t, w, worktest.Print("A3"))
			maps[name] = mapped{w, cut, worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })}
		}
		deep.maps = maps
	})
	require.Len(t, deep.maps, 2)
	return deep.maps
}

// Paper over what stands out of the wall is cut away, and with it any mark on it: the mark that is
// measured lies on what can be seen of the face, on every sheet.
func TestTheMeasuredMarkLiesOnWhatIsSeenOfTheFace(t *testing.T) {
	t.Parallel()
	for name, m := range deepMaps(t) {
		w, cut, black := m.work, m.cut, worktest.BlackOn(m.drawn)
		for face, f := range w.Site.Faces {
			tiles := cut.Tiles(face)
			for _, tile := range tiles {
				if len(tile.Holes) == 0 {
					continue
				}
				require.Len(t, black[tile.Name], 1, "%s: sheet %s of %s", name, tile.Name, w.Site.Title(face))
				at := tile.ToFace(black[tile.Name][0])
				assert.GreaterOrEqual(t, f.Outline.Distance(at), -1.0, "%s: sheet %s of %s: %v", name, tile.Name, w.Site.Title(face), at)
			}
		}
	}
}

// Nobody draws a mark on a switch: where a corner of the cell lies on free wall, that is measured.
func TestTheMeasuredMarkKeepsOffFittings(t *testing.T) {
	bare := worktest.Site(wall.Wall{Name: "Wall", Outline: plane.Rectangle(plane.Point{}, 2000, 2000), Surface: wall.Brick})
	tiles := worktest.CutUp(t, worktest.Work(t, bare, worktest.StrewFaces(bare, 100)), worktest.Print("A3")).Tiles(0)
	corner := plane.Point{X: tiles[0].Cell.Max.X, Y: tiles[0].Cell.Max.Y - tiles[0].Cell.Height()}
	s := worktest.Site(wall.Wall{
		Name: "Wall", Outline: plane.Rectangle(plane.Point{}, 2000, 2000), Surface: wall.Brick,
		Obstructions: []wall.Obstruction{worktest.Box(wall.Switch, "switch", corner.X-43, corner.Y-43, 86, 86)},
	})
	cut := worktest.CutUp(t, worktest.Work(t, s, worktest.StrewFaces(s, 100)), worktest.Print("A3"))
	black := worktest.BlackOn(worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) }))
	tiles = cut.Tiles(0)
	checked := 0
	for _, tile := range tiles {
		for _, at := range black[tile.Name] {
			assert.Greater(t, tile.ToFace(at).Distance(corner), 50.0, tile.Name)
			checked++
		}
	}
	assert.Greater(t, checked, 10)
}

// Where a body of another wall stands before a part of this one, the sheets of this one have that
// part cut away, and say so. What tells sheets apart stays on them.
func TestWhatANeighbourCoversIsCutAway(t *testing.T) {
	t.Parallel()
	cut := false
	for name, m := range deepMaps(t) {
		w, whole, r := m.work, m.cut, m.drawn
		tiles := map[string]tiling.Tile{}
		for face := range w.Site.Faces {
			own := whole.Tiles(face)
			for _, tile := range own {
				tiles[tile.Name] = tile
			}
		}
		notes, named := 0, 0
		for _, m := range r.Marks {
			if len(m.Groups) == 0 || !strings.HasPrefix(m.Groups[0], "sheet ") {
				continue
			}
			tile := tiles[strings.TrimPrefix(m.Groups[0], "sheet ")]
			f := w.Site.Faces[tile.Face]
			switch {
			case m.Kind == "text" && strings.HasPrefix(m.Text.Say, "pipe bulkhead: cut this part"):
				notes++
				middle := tile.ToFace(m.Text.Box(0).Bounds().Centre())
				assert.Less(t, f.Outline.Distance(middle), 0.0, "%s: the words stand on what is cut away, on %s", name, tile.Name)
				assert.True(t, f.Whole.Contains(middle))
			case m.Kind == "polygon" && m.Groups[len(m.Groups)-1] == "pipe bulkhead" && f.IsWall() && f.Wall != w.Site.Faces[0].Wall:
				cut = cut || m.Paint.Stroke.Dash == draw.Dashed
			case m.Kind == "text" && len(m.Groups) == 2 && m.Groups[1] == "name of the sheet" && f.IsWall():
				box := m.Text.Box(0)
				at := tile.ToFace(box.Bounds().Centre())
				assert.Positive(t, f.Outline.Distance(at), "%s: %q on %s", name, m.Text.Say, tile.Name)
				named++
			}
		}
		assert.Positive(t, notes, name)
		assert.Positive(t, named, name)
	}
	assert.True(t, cut, "along the bulkhead itself")
}

// The elevation of a wall shows and names what of another wall stands before it.
func TestElevationsNameWhatANeighbourCovers(t *testing.T) {
	w := worktest.DeepFerry(t)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return elevation.Draw(c, w, elevation.Faces(w.Site)[0]) })
	all := strings.Join(r.Texts(1), " ")
	assert.Contains(t, all, "pipe bulkhead")
	assert.Contains(t, r.Texts(1), "3850", "where it begins")
}

// Somebody cuts along the edges of what stands out: words keep off them, and white paper round words
// never takes a part of them away.
func TestWordsKeepOffTheLinesToCutAlong(t *testing.T) {
	t.Parallel()
	for name, m := range deepMaps(t) {
		r := m.drawn
		lines := map[string][]plane.Ring{}
		words := 0
		for _, m := range r.Marks {
			if len(m.Groups) == 0 || !strings.HasPrefix(m.Groups[0], "sheet ") {
				continue
			}
			if m.Kind == "polygon" && m.Paint.Stroke.Dash == draw.Dashed && m.Paint.Stroke.Width == draw.Width050 {
				lines[m.Groups[0]] = append(lines[m.Groups[0]], m.Rings...)
			}
			if m.Kind == "polygon" && m.Paint.Fill == draw.Solid(draw.White) {
				for _, line := range lines[m.Groups[0]] {
					assert.False(t, cutBy(m.Rings[0], line, 0), "%s, %s: white over a line", name, m.Groups[0])
				}
			}
		}
		for _, m := range r.Marks {
			if m.Kind != "text" || !strings.Contains(m.Text.Say, "this edge ") && !strings.Contains(m.Text.Say, "cut this part") {
				continue
			}
			words++
			for _, line := range lines[m.Groups[0]] {
				assert.False(t, cutBy(m.Text.Box(0), line, 1.4), "%s, %s: %q lies on a line", name, m.Groups[0], m.Text.Say)
			}
		}
		assert.NotEmpty(t, lines, name)
		assert.Greater(t, words, 20, name)
	}
}

// cutBy reports whether an edge of the line comes nearer to the box than far.
func cutBy(box, line plane.Ring, far float64) bool {
	around := plane.Rectangle(box.Bounds().Grow(far).Min, box.Bounds().Width()+2*far, box.Bounds().Height()+2*far)
	for i, a := range line {
		b := line[(i+1)%len(line)]
		if around.Contains(a) || around.Contains(b) {
			return true
		}
		for k, c := range around {
			if plane.SegmentsMeet(a, b, c, around[(k+1)%len(around)]) {
				return true
			}
		}
	}
	return false
}

// Paper cannot run on past an inside corner or the floor: where such an edge lies within a sheet, its
// words say to cut or fold there, and the key says so too. Past an outside corner it may hang free.
func TestSheetsAreCutOrFoldedAtInsideCorners(t *testing.T) {
	t.Parallel()
	chamber := deepMaps(t)["chamber"]
	w, cut, r := chamber.work, chamber.cut, chamber.drawn
	said := map[string]string{} // by sheet
	key := ""
	for _, m := range r.Marks {
		switch {
		case m.Kind == "text" && len(m.Groups) == 2 && m.Groups[1] == "edge":
			said[strings.TrimPrefix(m.Groups[0], "sheet ")] += " " + m.Text.Say
		case m.Kind == "text" && len(m.Groups) == 0:
			key += " " + m.Text.Say
		}
	}
	assert.Contains(t, key, "inside corner")
	inside, ended, outside := 0, 0, 0
	corners := w.Site.Corners()
	for face := range w.Site.Faces {
		tiles := cut.Tiles(face)
		for _, tile := range tiles {
			within, atEnd, none := false, false, true
			for _, j := range corners[face] {
				middle := j.A.Lerp(j.B, 0.5)
				cut := math.Abs(middle.X-tile.Cell.Min.X) < 20 || math.Abs(middle.Y-tile.Cell.Max.Y) < 20
				if tile.Area.Grow(-20).Contains(middle) && !cut && j.Angle < math.Pi-0.01 {
					within = true
				}
				if tile.Area.Grow(0.1).Contains(middle) && !cut && (math.Abs(middle.X-tile.Area.Max.X) < 0.1 || math.Abs(middle.Y-tile.Area.Min.Y) < 0.1) {
					atEnd = true
				}
				none = none && (j.Outside || math.Abs(j.Angle-math.Pi) < 1e-6)
			}
			f := w.Site.Faces[face]
			switch {
			case len(tile.Holes) == 0:
			case within:
				assert.Contains(t, said[tile.Name], "fold here", "sheet %s of %s: %s", tile.Name, w.Site.Title(face), said[tile.Name])
				inside++
			case atEnd:
				assert.Contains(t, said[tile.Name], ": cut here", "sheet %s of %s", tile.Name, w.Site.Title(face))
				ended++
			case none && !f.IsWall():
				assert.NotContains(t, said[tile.Name], "fold here", "sheet %s of %s", tile.Name, w.Site.Title(face))
				outside++
			}
		}
	}
	assert.Greater(t, inside, 5)
	assert.Greater(t, ended, 10)
	assert.Positive(t, outside)
	assert.Contains(t, strings.Join(slices.Sorted(maps.Values(said)), " "), "the floor: cut here")
}
