package sheet_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// saidOnKeys joins all that the key pages of a map say.
func saidOnKeys(r *draw.Record) string {
	var all strings.Builder
	for _, m := range r.Marks {
		if m.Kind == "text" && (len(m.Groups) == 0 || !strings.HasPrefix(m.Groups[0], "sheet ")) {
			all.WriteString(" " + m.Text.Say)
		}
	}
	return all.String()
}

// On a top, an underside or a ceiling there is no level line. Its key tells of a line by its distances from
// both edges, which make up the face, and every sheet that the line crosses shows it.
func TestFacesThatLieFlatHaveALineOfTheirOwn(t *testing.T) {
	w, p := worktest.Stepping(t, 600), worktest.Print("A1")
	cut := worktest.CutUp(t, w, p)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	key := saidOnKeys(r)
	lines := map[string][]float64{}
	for _, m := range r.Marks {
		if m.Kind == "line" && len(m.Groups) == 2 && m.Groups[1] == "datum" {
			name := strings.TrimPrefix(m.Groups[0], "sheet ")
			lines[name] = append(lines[name], m.Points[0].Y)
		}
	}
	stated := regexp.MustCompile(`Draw a straight line on the face, (\d+) mm from [a-zA-Z ]+ and (\d+) mm from `)
	var sums []float64
	for _, says := range stated.FindAllStringSubmatch(key, -1) {
		a, _ := strconv.ParseFloat(says[1], 64)
		b, _ := strconv.ParseFloat(says[2], 64)
		sums = append(sums, a+b)
	}
	crossed, told := 0, 0
	for face, f := range w.Site.Faces {
		flat := slices.Contains([]wall.Side{wall.Top, wall.Underside, wall.Head, wall.Sill}, f.Side) || w.Site.Room.Walls[f.Wall].Ceiling
		if holemap.Upright(f) || !f.Used || !flat {
			continue
		}
		tiles := cut.Tiles(face)
		box := f.Outline.Bounds()
		if !f.Whole.Empty() {
			box = f.Whole.Bounds()
		}
		rectangular := math.Abs(f.Outline.Area()-box.Width()*box.Height()) < 1 // else its edges are not one line each
		if rectangular && slices.ContainsFunc(tiles, func(tile tiling.Tile) bool { return len(tile.Holes) > 0 }) {
			told++
			assert.True(t, slices.ContainsFunc(sums, func(s float64) bool { return math.Abs(s-box.Height()) < 0.51 }), "%s is %g deep: %v", w.Site.Title(face), box.Height(), sums)
		}
		for _, tile := range tiles {
			for _, y := range lines[tile.Name] {
				at := tile.ToFace(plane.Point{Y: y}).Y
				assert.Greater(t, at, box.Min.Y)
				assert.Less(t, at, box.Max.Y)
				crossed++
			}
		}
	}
	assert.Greater(t, crossed, 2)
	assert.Greater(t, told, 2)
}

// A handrail from end to end cuts every sheet off a roll in two. Each part that has holes has a plumb line and a
// level line with words in it, so that it can be hung by itself; and words stand along a long line again and again.
func TestEveryPartOfASheetCanBeHung(t *testing.T) {
	rail := worktest.Box(wall.Fixture, "handrail", 0, 900, 2600, 60)
	rail.Depth = 85
	s := worktest.Site(wall.Wall{Name: "Stair wall", Outline: plane.Rectangle(plane.Point{}, 2600, 3600), Surface: wall.Brick, Obstructions: []wall.Obstruction{rail}})
	w := worktest.Work(t, s, worktest.Strew(s, 0, 400))
	p := tiling.Print{Paper: drafting.Roll(914), Overlap: 12, Margin: 6}
	cut := worktest.CutUp(t, w, p)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	tiles := cut.Tiles(0)
	parts := 0
	for _, tile := range tiles {
		if len(tile.Holes) == 0 {
			continue
		}
		for _, span := range [][2]float64{{0, 900}, {960, 3600}} {
			levels, plumbs := 0, map[string]int{}
			within := func(y float64) bool { return y > span[0] && y < span[1] }
			for _, m := range r.Marks {
				if len(m.Groups) < 2 || m.Groups[0] != "sheet "+tile.Name {
					continue
				}
				switch {
				case m.Kind == "line" && (m.Groups[1] == "datum" || m.Groups[1] == "fine level line") && within(tile.ToFace(m.Points[0]).Y):
					levels++
				case m.Kind == "text" && m.Groups[1] == "plumb line" && within(tile.ToFace(m.Text.At).Y):
					plumbs[m.Text.Say]++
				}
			}
			name := fmt.Sprintf("sheet %s from %g to %g", tile.Name, span[0], span[1])
			assert.Positive(t, levels, name)
			assert.NotEmpty(t, plumbs, name)
			for words, n := range plumbs {
				if span[1]-span[0] > 1000 && tile.Area.Height() > 2000 {
					assert.Greater(t, n, 1, "%s says once: %s", name, words)
				}
			}
			parts++
		}
	}
	assert.Greater(t, parts, 4)
}

// The key says how every fixing is put in, or whom to ask; which way each kind of piece heads, and where its holes are.
func TestTheKeyTellsHowPiecesGoUp(t *testing.T) {
	w := worktest.Strewn(t, 900, 700, 6)
	w.Layout.Pieces[0].Kind, w.Layout.Pieces[1].Kind = 0, 2
	w = worktest.Work(t, w.Site, w.Layout.Pieces)
	w.Fixings = []holemap.Fixing{{Name: "steel pin 1.5 x 45", How: "Tap it in and nip it off."}}
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, w, worktest.Print("A4"))) })
	key := saidOnKeys(r)
	assert.Contains(t, key, "steel pin 1.5 x 45: Tap it in and nip it off.")
	assert.Contains(t, key, "plug 6 mm: how it is put in")
	assert.Contains(t, key, "The paper studio")
	assert.Contains(t, key, "Measure the wall from end to end: 900 mm.")
	dots := 0
	for _, m := range r.Marks {
		if m.Kind == "circle" && len(m.Groups) == 0 && math.Abs(m.Radius-0.55) < 1e-9 {
			dots++
		}
	}
	want := 0
	for _, k := range w.Kinds {
		want += len(k.Holes)
	}
	assert.Equal(t, want, dots, "the samples of the kinds show their holes")
}

// Sheets that meet one another go up together. Where they fall into groups that meet none of another, and there
// alone, the key says that these can wait.
func TestOnlySheetsThatMeetGoUpTogether(t *testing.T) {
	for n, w := range map[string]holemap.Work{"dense": worktest.Strewn(t, 900, 700, 60), "sparse": worktest.Strewn(t, 6000, 2500, 5)} {
		p := worktest.Print("A4")
		cut := worktest.CutUp(t, w, p)
		tiles := cut.Tiles(0)
		var hung []tiling.Tile
		for _, tile := range tiles {
			if len(tile.Holes) > 0 {
				hung = append(hung, tile)
			}
		}
		reached := map[string]bool{hung[0].Name: true}
		for range hung {
			for _, a := range hung {
				for _, b := range hung {
					if reached[a.Name] && a.Area.Grow(-0.01).Overlaps(b.Area) {
						reached[b.Name] = true
					}
				}
			}
		}
		key := saidOnKeys(worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) }))
		assert.Equal(t, len(reached) < len(hung), strings.Contains(key, "Sheets that meet none of another stand can wait"), n)
	}
}

// A caution that holds none of the holes in it says so on the sheet; one that does never does.
func TestZonesThatHoldNoHoleSaySo(t *testing.T) {
	zone := wall.Zone{
		Code: "own", Name: "pipe run", Reason: "a pipe may run here", Source: "common practice",
		Shape: plane.RegionOf(plane.Rectangle(plane.Point{X: 200}, 500, 700)), Strength: wall.Caution, Binds: wall.Holes,
	}
	s := worktest.Site(wall.Wall{Name: "Wall", Outline: plane.Rectangle(plane.Point{}, 900, 700), Surface: wall.Brick, Marked: []wall.Zone{zone}})
	w := worktest.Work(t, s, []scatter.Piece{{At: plane.Point{X: 400, Y: 300}, Kind: 1, Heading: heading.Bearing(90)}})
	for i := range w.Map.Holes {
		for _, held := range []bool{true, false} {
			if !held {
				w.Map.Holes[i].Cautions = nil
			}
			r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, w, worktest.Print("A3"))) })
			all := strings.Join(r.Texts(len(r.Pages)), " ")
			require.Contains(t, all, "caution: pipe run")
			assert.Equal(t, !held, strings.Contains(all, "no hole here is held"))
		}
	}
}

// On a drawing of a crowded wall the code of nearly every piece stands on it, beside it or at the end of a line,
// in letters that are read.
func TestPiecesOnACrowdedElevationKeepTheirCodes(t *testing.T) {
	s := worktest.Site(wall.Wall{Name: "Long wall", Outline: plane.Rectangle(plane.Point{}, 6000, 2600), Surface: wall.Brick})
	w := worktest.Work(t, s, worktest.Strew(s, 0, 160))
	r := worktest.Recorded(t, func(c draw.Canvas) error { return elevation.Draw(c, w, 0) })
	codes := 0
	for _, m := range r.Marks {
		if m.Kind == "text" && len(m.Groups) > 0 && strings.HasPrefix(m.Groups[0], "wall ") && slices.Contains([]string{"A", "S", "L"}, m.Text.Say) {
			assert.GreaterOrEqual(t, m.Text.Height, 1.8)
			codes++
		}
	}
	assert.GreaterOrEqual(t, codes, len(w.Layout.Pieces)*9/10)
	assert.LessOrEqual(t, codes, len(w.Layout.Pieces))
}

// The sheets of a long, low face are named over its picture, where no name lies on a piece or on another name.
func TestSheetsOfALongLowFaceAreNamedOverItsPicture(t *testing.T) {
	w, p := worktest.Strewn(t, 6000, 280, 40), worktest.Print("A4")
	cut := worktest.CutUp(t, w, p)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	tiles := cut.Tiles(0)
	over, all := 0, 0
	for _, tile := range tiles {
		if len(tile.Holes) == 0 {
			continue
		}
		all++
		for _, m := range r.Marks {
			if m.Page == 1 && m.Kind == "text" && m.Text.Say == tile.Name && m.Text.Height >= 1.8 {
				over++
				break
			}
		}
	}
	assert.Greater(t, all, 8)
	assert.GreaterOrEqual(t, over, all-1)
}
