package template_test

import (
	"bytes"
	"encoding/xml"
	"image"
	_ "image/png"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/ledongthuc/pdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// traced reads the straight lines of every page as mutool draws them.
func traced(t *testing.T, doc []byte) [][]worktest.Stroke {
	t.Helper()
	trace := worktest.Judge(t, "map.pdf", doc, "mutool", "draw", "-F", "trace", "FILE")
	number := regexp.MustCompile(`(x|y)="(-?[\d.]+)"`)
	matrix := regexp.MustCompile(`transform="([^"]+)"`)
	var pages [][]worktest.Stroke
	var last plane.Point
	m := [6]float64{}
	for _, line := range strings.Split(trace, "\n") {
		switch {
		case strings.Contains(line, "<page "):
			pages = append(pages, nil)
		case strings.Contains(line, "transform="):
			for i, f := range strings.Fields(matrix.FindStringSubmatch(line)[1]) {
				m[i], _ = strconv.ParseFloat(f, 64)
			}
		case strings.Contains(line, "<moveto"), strings.Contains(line, "<lineto"):
			xy := number.FindAllStringSubmatch(line, 2)
			x, _ := strconv.ParseFloat(xy[0][2], 64)
			y, _ := strconv.ParseFloat(xy[1][2], 64)
			at := plane.Point{X: m[0]*x + m[2]*y + m[4], Y: m[1]*x + m[3]*y + m[5]}.Scale(25.4 / 72)
			if strings.Contains(line, "<lineto") {
				pages[len(pages)-1] = append(pages[len(pages)-1], worktest.Stroke{A: last, B: at})
			}
			last = at
		}
	}
	return pages
}

var foot = regexp.MustCompile(`(\d+) mm from the left end · (\d+) mm above the floor`)

// On every printed tile, as other programs read it, each hole must lie where it is set out: so far
// from the register mark whose place on the wall the sheet's foot states.
func TestCrossesLieWhereTheHolesAre(t *testing.T) {
	for _, p := range []tiling.Print{worktest.Print("A4"), worktest.Print("Letter"), worktest.Landscape(worktest.Print("A3"))} {
		w := worktest.Known(t, p)
		cut := worktest.CutUp(t, w, p)
		doc := worktest.PDFOf(t, w, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
		tiles := cut.Tiles(0)
		readers := map[string][][]worktest.Stroke{"reader": worktest.Strokes(t, doc), "mutool": traced(t, doc)}
		words := strings.Split(worktest.Judge(t, "map.pdf", doc, "pdftotext", "-layout", "FILE", "-"), "\f")

		page := len(readers["reader"]) - worktest.Printed(tiles)
		black := worktest.BlackOn(worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) }))
		seen := map[int]bool{}
		for _, tile := range tiles {
			if len(tile.Holes) == 0 {
				continue
			}
			says := foot.FindStringSubmatch(words[page])
			require.NotNil(t, says, "page %d: %s", page+1, words[page])
			left, _ := strconv.ParseFloat(says[1], 64)
			up, _ := strconv.ParseFloat(says[2], 64)
			for who, pages := range readers {
				found := worktest.Crosses(pages[page])
				mark := black[tile.Name][0]
				assert.Less(t, worktest.Near(found, mark), 0.01, "%s finds no register mark on %s", who, tile.Name)
				for _, i := range tile.Holes {
					h := w.Map.Holes[i]
					at := plane.Point{X: mark.X + h.At.X - left, Y: mark.Y - (h.At.Y - up)}
					assert.Less(t, worktest.Near(found, at), 0.01, "%s: hole %d on %s of %s", who, h.Number, tile.Name, p.Paper.Name)
					seen[i] = true
				}
				// Nothing else looks like a hole.
				expected := []plane.Point{mark}
				for _, m := range tile.Marks {
					expected = append(expected, tile.ToPage(m))
				}
				for _, h := range w.Map.Holes {
					expected = append(expected, tile.ToPage(h.At))
				}
				for _, f := range found {
					assert.Less(t, worktest.Near(expected, f), 0.01, "%s: a cross too many on %s", who, tile.Name)
				}
			}
			page++
		}
		assert.Len(t, seen, len(w.Map.Holes), "every hole is on a tile")
		assert.Equal(t, len(readers["reader"]), page, "no page too many")
	}
}

// Opaque paper hides what lies under it. So the cut edge of a sheet and the line on its neighbour
// where that edge is to lie must be the same line of the wall, and each must bear half of every
// register mark on it.
func TestCutEdgesMeetTheirLandingLines(t *testing.T) {
	for _, p := range []tiling.Print{worktest.Print("A4"), worktest.Landscape(worktest.Print("Letter"))} {
		w := worktest.Ferry(t)
		r := draw.NewRecord()
		cut := worktest.CutUp(t, w, p)
		require.NoError(t, template.HoleMap(r, cut))
		black := worktest.BlackOn(r)
		byName := map[string]tiling.Tile{}
		for face := range w.Site.Faces {
			tiles := cut.Tiles(face)
			for _, tile := range tiles {
				byName[tile.Name] = tile
			}
		}
		type edges struct{ upright, level []float64 } // on the wall
		cuts, landings, registers := map[string]edges{}, map[[2]string]edges{}, map[string][]plane.Point{}
		for _, m := range r.Marks {
			if len(m.Groups) < 2 || !strings.HasPrefix(m.Groups[0], "sheet ") {
				continue
			}
			name := strings.TrimPrefix(m.Groups[0], "sheet ")
			tile := byName[name]
			if m.Groups[1] == "register" && m.Kind == "circle" {
				registers[name] = append(registers[name], tile.ToFace(m.Points[0]))
			}
			if m.Kind != "line" {
				continue
			}
			a, b := tile.ToFace(m.Points[0]), tile.ToFace(m.Points[1])
			add := func(e edges) edges {
				if math.Abs(a.X-b.X) < 1e-9 {
					e.upright = append(e.upright, a.X)
				} else {
					e.level = append(e.level, a.Y)
				}
				return e
			}
			if m.Groups[1] == "cut" {
				cuts[name] = add(cuts[name])
			}
			if other, is := strings.CutPrefix(m.Groups[1], "landing line of "); is {
				landings[[2]string{name, other}] = add(landings[[2]string{name, other}])
			}
		}
		require.NotEmpty(t, landings)
		for name := range cuts {
			tile := byName[name]
			if tile.Right.Printed {
				assert.Less(t, worktest.Apart(landings[[2]string{name, tile.Right.Name}].upright, cuts[tile.Right.Name].upright), 1e-6)
			}
			for _, n := range tile.Below {
				if n.Printed {
					assert.Less(t, worktest.Apart(landings[[2]string{name, n.Name}].level, cuts[n.Name].level), 1e-6)
				}
			}
			for c, shared := range map[plane.Point]bool{
				tile.Cell.Min: tile.Left.Printed, tile.Cell.Max: tile.Right.Printed,
				{X: tile.Cell.Min.X, Y: tile.Cell.Max.Y}: tile.Left.Printed, {X: tile.Cell.Max.X, Y: tile.Cell.Min.Y}: tile.Right.Printed,
			} {
				beside := byName[tile.Left.Name]
				if c.X == tile.Cell.Max.X {
					beside = byName[tile.Right.Name]
				}
				shared = shared && beside.Area.Contains(c) // rows may start a little apart
				var all []plane.Point                      // with what has to keep away from a mark
				for _, h := range w.Map.Holes {
					if h.Face == tile.Face {
						all = append(all, h.At)
					}
				}
				for other, marks := range registers {
					if byName[other].Face == tile.Face {
						all = append(all, marks...)
					}
				}
				if shared && worktest.Near(all, c) >= 12 {
					assert.Fail(t, "a register mark at every corner that sheets share", "%v on %s", c, name)
				}
			}
			for _, m := range registers[name] {
				halves := 0
				for other, marks := range registers {
					if other != name && byName[other].Face == tile.Face && worktest.Near(marks, m) < 1e-6 {
						halves++
					}
				}
				assert.True(t, halves > 0 || worktest.Near(black[name], tile.ToPage(m)) < 1e-6, "%v on %s is half a mark, and nothing has the other", m, name)
			}
			for _, n := range append(tile.Below, tile.Above...) {
				for _, m := range registers[n.Name] {
					if n.Printed && math.Abs(m.Y-tile.Cell.Max.Y) < 1e-6 && m.X > tile.Cell.Min.X && m.X < tile.Cell.Max.X {
						assert.Less(t, worktest.Near(registers[name], m), 1e-6, "half of the mark of %s, on %s", n.Name, name)
					}
				}
			}
		}
	}
}

// What a sheet says of itself must still be read when the next one lies over its foot.
func TestSheetsSayWhoTheyAreWhereNothingCoversThem(t *testing.T) {
	w := worktest.Ferry(t)
	p := worktest.Print("A4")
	r := draw.NewRecord()
	cut := worktest.CutUp(t, w, p)
	require.NoError(t, template.HoleMap(r, cut))
	for face := range w.Site.Faces {
		tiles := cut.Tiles(face)
		for _, tile := range tiles {
			if len(tile.Holes) == 0 {
				continue
			}
			for _, say := range []string{tile.Name, w.Map.Fingerprint} {
				assert.True(t, slices.ContainsFunc(r.Marks, func(m draw.Mark) bool {
					return m.Kind == "text" && m.Text.Say == say && slices.Equal(m.Groups, []string{"sheet " + tile.Name, "name of the sheet"}) &&
						(tile.Cell.Contains(tile.ToFace(m.Text.At)) || tile.Area.Contains(tile.ToFace(m.Text.At)) && !worktest.Lands(tile.Below))
				}), "%s on %s", say, tile.Name)
			}
		}
	}
}

// A check bar must be as long as it says, both ways, on every tile.
func TestCheckBarsAreTrue(t *testing.T) {
	for _, p := range []tiling.Print{worktest.Print("A4"), worktest.Print("Letter"), worktest.Landscape(worktest.Print("A3"))} {
		w := worktest.Known(t, p)
		cut := worktest.CutUp(t, w, p)
		doc := worktest.PDFOf(t, w, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
		tiles := cut.Tiles(0)
		pages := traced(t, doc)
		for _, lines := range pages[len(pages)-worktest.Printed(tiles):] {
			for _, length := range []float64{100, 101.6} {
				level, upright := 0, 0
				for _, l := range lines {
					d := l.B.Sub(l.A)
					if math.Abs(d.Len()-length) > 0.01 {
						continue
					}
					if math.Abs(d.Y) < 0.005 {
						level++
					}
					if math.Abs(d.X) < 0.005 {
						upright++
					}
				}
				assert.Equal(t, 1, level, "level bar of %g mm", length)
				assert.Equal(t, 1, upright, "upright bar of %g mm", length)
			}
		}
	}
}

// The printed picture itself, at 600 dots to the inch: the lines of a cross are dark where the hole
// is set out.
func TestCrossesOnThePrintedPicture(t *testing.T) {
	for _, paper := range []string{"A4", "Letter"} {
		p := worktest.Print(paper)
		s := worktest.Site(wall.Wall{Name: "One", Outline: plane.Rectangle(plane.Point{}, 400, 400), Surface: wall.Brick})
		w := worktest.Work(t, s, []scatter.Piece{{At: plane.Point{X: 77.77, Y: 123.45}, Kind: 1, Heading: 90}})
		cut := worktest.CutUp(t, w, p)
		doc := worktest.PDFOf(t, w, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
		tiles := cut.Tiles(0)
		for _, tile := range tiles {
			if len(tile.Holes) > 0 {
				want := tile.ToPage(w.Map.Holes[0].At)
				got := inkCross(t, doc, want)
				assert.InDelta(t, want.X, got.X, 0.05, paper)
				assert.InDelta(t, want.Y, got.Y, 0.05, paper)
			}
		}
	}
}

// inkCross renders the last page about p and returns where the lines of the cross there run, in
// mm: the middle of the ink 1.2 mm away from p, within the ring round the hole.
func inkCross(t *testing.T, doc []byte, p plane.Point) plane.Point {
	t.Helper()
	const dpi, half = 600, 60
	dot := 25.4 / dpi
	left, top := int(p.X/dot)-half, int(p.Y/dot)-half
	dir := t.TempDir()
	reader, err := pdf.NewReader(bytes.NewReader(doc), int64(len(doc)))
	require.NoError(t, err)
	last := strconv.Itoa(reader.NumPage())
	worktest.Judge(t, "one.pdf", doc, "pdftoppm", "-r", strconv.Itoa(dpi), "-f", last, "-l", last, "-gray", "-png",
		"-x", strconv.Itoa(left), "-y", strconv.Itoa(top), "-W", strconv.Itoa(2*half), "-H", strconv.Itoa(2*half),
		"FILE", filepath.Join(dir, "p"))
	files, err := filepath.Glob(filepath.Join(dir, "p*.png"))
	require.NoError(t, err)
	require.Len(t, files, 1)
	f, err := os.Open(files[0])
	require.NoError(t, err)
	defer f.Close()
	picture, _, err := image.Decode(f)
	require.NoError(t, err)

	aside := int(1.2 / dot)
	middle := func(at func(i int) (x, y int)) float64 {
		sum, weight := 0.0, 0.0
		for i := half - 20; i <= half+20; i++ {
			x, y := at(i)
			grey, _, _, _ := picture.At(x, y).RGBA()
			ink := 1 - float64(grey)/0xFFFF
			sum += ink * (float64(i) + 0.5)
			weight += ink
		}
		return sum / weight
	}
	return plane.Point{
		X: (float64(left) + middle(func(i int) (int, int) { return i, half - aside })) * dot,
		Y: (float64(top) + middle(func(i int) (int, int) { return half - aside, i })) * dot,
	}
}

func TestHoleMapStandsBeforeOutsideJudges(t *testing.T) {
	s := worktest.FerrySite()
	w := worktest.Work(t, s, append(worktest.Strew(s, 0, 450), worktest.Strew(s, 1, 450)...))
	make := func() []byte {
		return worktest.PDFOf(t, w, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, w, worktest.Print("A4"))) })
	}
	doc := make()
	assert.True(t, bytes.Equal(doc, make()), "the same bytes twice")
	assert.Contains(t, worktest.Judge(t, "map.pdf", doc, "qpdf", "--check", "FILE"), "No syntax or stream encoding errors")
	assert.Contains(t, worktest.Judge(t, "map.pdf", doc, "pdfinfo", "-l", "-1", "FILE"), "595.28 x 841.89 pts (A4)")
	for _, line := range strings.Split(strings.TrimSpace(worktest.Judge(t, "map.pdf", doc, "pdffonts", "FILE")), "\n")[2:] {
		fields := strings.Fields(line)
		assert.Equal(t, "yes", fields[len(fields)-5], "embedded: %s", line)
	}
	var sheets int
	cut := worktest.CutUp(t, w, worktest.Print("A4"))
	for face := range w.Site.Faces {
		tiles := cut.Tiles(face)
		sheets += worktest.Printed(tiles)
	}
	text := worktest.Judge(t, "map.pdf", doc, "pdftotext", "FILE", "-")
	assert.Equal(t, sheets, strings.Count(text, "SCALE 1:1\n"), "a page for every tile with holes and no other")
	assert.Contains(t, text, "Print every sheet at 100 %")
	assert.GreaterOrEqual(t, strings.Count(text, w.Map.Fingerprint), sheets)
}

type svgCircle struct {
	X float64 `xml:"cx,attr"`
	Y float64 `xml:"cy,attr"`
}

type svgGroup struct {
	Title   string      `xml:"title"`
	Groups  []svgGroup  `xml:"g"`
	Circles []svgCircle `xml:"circle"`
	Paths   []struct {
		D string `xml:"d,attr"`
	} `xml:"path"`
}

// The holes of an elevation must be where they are set out, by the scale that the sheet states and
// from the corners of the outline that it draws.
func TestElevationHolesAgreeWithTheHoleMap(t *testing.T) {
	w := worktest.Ferry(t)
	for face := range w.Site.Faces {
		page := worktest.SVGOf(t, w, face)
		assert.True(t, bytes.Equal(page, worktest.SVGOf(t, w, face)), "the same bytes twice")
		worktest.Judge(t, "el.svg", page, "xmllint", "--noout", "FILE")
		assert.Contains(t, string(page), `width="420.000mm" height="297.000mm"`)
		assert.Contains(t, string(page), `viewBox="0 0 420.000 297.000"`)
		ratio, err := strconv.ParseFloat(regexp.MustCompile(`SCALE 1:(\d+)`).FindStringSubmatch(string(page))[1], 64)
		require.NoError(t, err)

		var doc svgGroup
		require.NoError(t, xml.Unmarshal(page, &doc))
		groups := map[string]svgGroup{}
		gather(doc, groups)
		outline := groups["wall "+w.Site.Room.Walls[face].Name].Paths[0].D
		origin := regexp.MustCompile(`^M(-?[\d.]+),(-?[\d.]+)`).FindStringSubmatch(outline)
		x0, _ := strconv.ParseFloat(origin[1], 64)
		y0, _ := strconv.ParseFloat(origin[2], 64)

		holes := 0
		for _, h := range w.Map.Holes {
			if h.Face != face {
				continue
			}
			holes++
			g, found := groups["hole "+strconv.Itoa(h.Number)]
			require.True(t, found, "hole %d", h.Number)
			assert.InDelta(t, h.At.X, (g.Circles[0].X-x0)*ratio, 0.001*ratio)
			assert.InDelta(t, h.At.Y, (y0-g.Circles[0].Y)*ratio, 0.001*ratio)
		}
		assert.Greater(t, holes, 50)
	}
}

func gather(g svgGroup, into map[string]svgGroup) {
	if g.Title != "" {
		into[g.Title] = g
	}
	for _, child := range g.Groups {
		gather(child, into)
	}
}

// The figure for scale must be 1.7 m tall at the scale of the sheet.
func TestTheStandingFigureIsAsTallAsItSays(t *testing.T) {
	w := worktest.Ferry(t)
	record := draw.NewRecord()
	require.NoError(t, elevation.Draw(record, w, 0))
	var box plane.Rect
	for _, m := range record.Marks {
		if m.Kind == "polygon" && len(m.Groups) > 1 && m.Groups[1] == "standing figure" {
			for _, r := range m.Rings {
				if box == (plane.Rect{}) {
					box = r.Bounds()
				}
				box = box.Union(r.Bounds())
			}
		}
	}
	assert.InDelta(t, 1700, box.Height()*20, 1)
}
