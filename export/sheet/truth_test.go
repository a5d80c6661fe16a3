package sheet_test

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
	"wallshoal/export/holemap"
	"wallshoal/export/sheet"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A stroke is one straight line on a page, in mm from the top-left corner.
type stroke struct{ a, b plane.Point }

// strokes reads the straight lines of every page as another program's reader of PDF finds them.
func strokes(t *testing.T, doc []byte) [][]stroke {
	t.Helper()
	r, err := pdf.NewReader(bytes.NewReader(doc), int64(len(doc)))
	require.NoError(t, err)
	var pages [][]stroke
	for n := 1; n <= r.NumPage(); n++ {
		page := r.Page(n)
		box := page.V.Key("MediaBox")
		if box.IsNull() {
			box = page.V.Key("Parent").Key("MediaBox")
		}
		height := box.Index(3).Float64()
		var lines []stroke
		var last plane.Point
		pdf.Interpret(page.V.Key("Contents"), func(stk *pdf.Stack, op string) {
			args := make([]float64, stk.Len())
			for i := len(args) - 1; i >= 0; i-- {
				args[i] = stk.Pop().Float64()
			}
			if op != "m" && op != "l" {
				return
			}
			at := plane.Point{X: args[0] * 25.4 / 72, Y: (height - args[1]) * 25.4 / 72}
			if op == "l" {
				lines = append(lines, stroke{last, at})
			}
			last = at
		})
		pages = append(pages, lines)
	}
	return pages
}

// traced reads the straight lines of every page as mutool draws them.
func traced(t *testing.T, doc []byte) [][]stroke {
	t.Helper()
	trace := judge(t, "map.pdf", doc, "mutool", "draw", "-F", "trace", "FILE")
	number := regexp.MustCompile(`(x|y)="(-?[\d.]+)"`)
	matrix := regexp.MustCompile(`transform="([^"]+)"`)
	var pages [][]stroke
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
				pages[len(pages)-1] = append(pages[len(pages)-1], stroke{last, at})
			}
			last = at
		}
	}
	return pages
}

// crosses returns where a level and an upright line of 8 mm meet in the middle of both: holes and
// register marks.
func crosses(lines []stroke) []plane.Point {
	var level, upright, out []plane.Point
	for _, l := range lines {
		middle := l.a.Lerp(l.b, 0.5)
		switch {
		case math.Abs(l.a.Distance(l.b)-8) > 0.01:
		case math.Abs(l.a.Y-l.b.Y) < 0.005:
			level = append(level, middle)
		case math.Abs(l.a.X-l.b.X) < 0.005:
			upright = append(upright, middle)
		}
	}
	for _, p := range level {
		for _, q := range upright {
			if p.Distance(q) < 0.01 {
				out = append(out, p)
			}
		}
	}
	return out
}

func near(points []plane.Point, p plane.Point) float64 {
	best := math.Inf(1)
	for _, q := range points {
		best = math.Min(best, q.Distance(p))
	}
	return best
}

// known is a wall with holes at known places: on seams, in corners, and in between.
func known(t testing.TB, p sheet.Print) holemap.Work {
	s := site(wall.Wall{Name: "Measured wall", Outline: plane.Rectangle(plane.Point{}, 1200, 1700), Surface: wall.Brick})
	tiles := cutUp(t, work(t, s, nil), p).Tiles(0)
	c := tiles[0].Cell
	var pieces []scatter.Piece
	hang := func(x, y float64, kind int, bearing float64) {
		pieces = append(pieces, scatter.Piece{At: plane.Point{X: x, Y: y}.Snap(100), Kind: kind, Heading: heading.Bearing(bearing)})
	}
	hang(600, 900, 1, 90)
	hang(c.Width(), 700, 1, 90)                        // on an upright seam
	hang(400, 1700-2*c.Height(), 1, 0)                 // on a level seam
	hang(3*c.Width(), 1700-3*c.Height(), 1, 45)        // under a register mark of four sheets
	hang(2*c.Width()+5.5, 1700-c.Height()-5.5, 2, 300) // in the overlap of four
	hang(2*c.Width()-1.5, 1700-c.Height()+200, 1, 90)  // so close to a seam that its mark crosses it
	hang(100.13, 100.37, 0, 17.31)
	hang(1100, 1620.5, 0, 243.7)
	hang(812.25, 333.33, 2, 180)
	return work(t, s, pieces)
}

var foot = regexp.MustCompile(`(\d+) mm from the left end · (\d+) mm above the floor`)

// On every printed tile, as other programs read it, each hole must lie where it is set out: so far
// from the register mark whose place on the wall the sheet's foot states.
func TestCrossesLieWhereTheHolesAre(t *testing.T) {
	for _, p := range []sheet.Print{print("A4"), print("Letter"), landscape(print("A3"))} {
		w := known(t, p)
		cut := cutUp(t, w, p)
		doc := pdfOf(t, w, func(c draw.Canvas) error { return sheet.HoleMap(c, cut) })
		tiles := cut.Tiles(0)
		readers := map[string][][]stroke{"reader": strokes(t, doc), "mutool": traced(t, doc)}
		words := strings.Split(judge(t, "map.pdf", doc, "pdftotext", "-layout", "FILE", "-"), "\f")

		page := len(readers["reader"]) - printed(tiles)
		black := blackOn(recorded(t, func(c draw.Canvas) error { return sheet.HoleMap(c, cut) }))
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
				found := crosses(pages[page])
				mark := black[tile.Name][0]
				assert.Less(t, near(found, mark), 0.01, "%s finds no register mark on %s", who, tile.Name)
				for _, i := range tile.Holes {
					h := w.Map.Holes[i]
					at := plane.Point{X: mark.X + h.At.X - left, Y: mark.Y - (h.At.Y - up)}
					assert.Less(t, near(found, at), 0.01, "%s: hole %d on %s of %s", who, h.Number, tile.Name, p.Paper.Name)
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
					assert.Less(t, near(expected, f), 0.01, "%s: a cross too many on %s", who, tile.Name)
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
	for _, p := range []sheet.Print{print("A4"), landscape(print("Letter"))} {
		w := ferry(t)
		r := draw.NewRecord()
		cut := cutUp(t, w, p)
		require.NoError(t, sheet.HoleMap(r, cut))
		black := blackOn(r)
		byName := map[string]sheet.Tile{}
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
				assert.Less(t, apart(landings[[2]string{name, tile.Right.Name}].upright, cuts[tile.Right.Name].upright), 1e-6)
			}
			for _, n := range tile.Below {
				if n.Printed {
					assert.Less(t, apart(landings[[2]string{name, n.Name}].level, cuts[n.Name].level), 1e-6)
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
				if shared && near(all, c) >= 12 {
					assert.Fail(t, "a register mark at every corner that sheets share", "%v on %s", c, name)
				}
			}
			for _, m := range registers[name] {
				halves := 0
				for other, marks := range registers {
					if other != name && byName[other].Face == tile.Face && near(marks, m) < 1e-6 {
						halves++
					}
				}
				assert.True(t, halves > 0 || near(black[name], tile.ToPage(m)) < 1e-6, "%v on %s is half a mark, and nothing has the other", m, name)
			}
			for _, n := range append(tile.Below, tile.Above...) {
				for _, m := range registers[n.Name] {
					if n.Printed && math.Abs(m.Y-tile.Cell.Max.Y) < 1e-6 && m.X > tile.Cell.Min.X && m.X < tile.Cell.Max.X {
						assert.Less(t, near(registers[name], m), 1e-6, "half of the mark of %s, on %s", n.Name, name)
					}
				}
			}
		}
	}
}

// apart returns how far the one line is from the nearest of others, mm; far where there is not one line.
func apart(line, others []float64) float64 {
	if len(line) != 1 {
		return math.Inf(1)
	}
	best := math.Inf(1)
	for _, o := range others {
		best = math.Min(best, math.Abs(o-line[0]))
	}
	return best
}

// What a sheet says of itself must still be read when the next one lies over its foot.
func TestSheetsSayWhoTheyAreWhereNothingCoversThem(t *testing.T) {
	w := ferry(t)
	p := print("A4")
	r := draw.NewRecord()
	cut := cutUp(t, w, p)
	require.NoError(t, sheet.HoleMap(r, cut))
	for face := range w.Site.Faces {
		tiles := cut.Tiles(face)
		for _, tile := range tiles {
			if len(tile.Holes) == 0 {
				continue
			}
			for _, say := range []string{tile.Name, w.Map.Fingerprint} {
				assert.True(t, slices.ContainsFunc(r.Marks, func(m draw.Mark) bool {
					return m.Kind == "text" && m.Text.Say == say && slices.Equal(m.Groups, []string{"sheet " + tile.Name, "name of the sheet"}) &&
						(tile.Cell.Contains(tile.ToFace(m.Text.At)) || tile.Area.Contains(tile.ToFace(m.Text.At)) && !lands(tile.Below))
				}), "%s on %s", say, tile.Name)
			}
		}
	}
}

// lands reports whether one of the neighbours is printed.
func lands(below []sheet.Neighbour) bool {
	return slices.ContainsFunc(below, func(n sheet.Neighbour) bool { return n.Printed })
}

func landscape(p sheet.Print) sheet.Print {
	p.Landscape = true
	return p
}

func printed(tiles []sheet.Tile) int {
	n := 0
	for _, t := range tiles {
		if len(t.Holes) > 0 {
			n++
		}
	}
	return n
}

// A check bar must be as long as it says, both ways, on every tile.
func TestCheckBarsAreTrue(t *testing.T) {
	for _, p := range []sheet.Print{print("A4"), print("Letter"), landscape(print("A3"))} {
		w := known(t, p)
		cut := cutUp(t, w, p)
		doc := pdfOf(t, w, func(c draw.Canvas) error { return sheet.HoleMap(c, cut) })
		tiles := cut.Tiles(0)
		pages := traced(t, doc)
		for _, lines := range pages[len(pages)-printed(tiles):] {
			for _, length := range []float64{100, 101.6} {
				level, upright := 0, 0
				for _, l := range lines {
					d := l.b.Sub(l.a)
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
		p := print(paper)
		s := site(wall.Wall{Name: "One", Outline: plane.Rectangle(plane.Point{}, 400, 400), Surface: wall.Brick})
		w := work(t, s, []scatter.Piece{{At: plane.Point{X: 77.77, Y: 123.45}, Kind: 1, Heading: 90}})
		cut := cutUp(t, w, p)
		doc := pdfOf(t, w, func(c draw.Canvas) error { return sheet.HoleMap(c, cut) })
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
	judge(t, "one.pdf", doc, "pdftoppm", "-r", strconv.Itoa(dpi), "-f", last, "-l", last, "-gray", "-png",
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
	s := ferrySite()
	w := work(t, s, append(strew(s, 0, 450), strew(s, 1, 450)...))
	make := func() []byte {
		return pdfOf(t, w, func(c draw.Canvas) error { return sheet.HoleMap(c, cutUp(t, w, print("A4"))) })
	}
	doc := make()
	assert.True(t, bytes.Equal(doc, make()), "the same bytes twice")
	assert.Contains(t, judge(t, "map.pdf", doc, "qpdf", "--check", "FILE"), "No syntax or stream encoding errors")
	assert.Contains(t, judge(t, "map.pdf", doc, "pdfinfo", "-l", "-1", "FILE"), "595.28 x 841.89 pts (A4)")
	for _, line := range strings.Split(strings.TrimSpace(judge(t, "map.pdf", doc, "pdffonts", "FILE")), "\n")[2:] {
		fields := strings.Fields(line)
		assert.Equal(t, "yes", fields[len(fields)-5], "embedded: %s", line)
	}
	var sheets int
	cut := cutUp(t, w, print("A4"))
	for face := range w.Site.Faces {
		tiles := cut.Tiles(face)
		sheets += printed(tiles)
	}
	text := judge(t, "map.pdf", doc, "pdftotext", "FILE", "-")
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
	w := ferry(t)
	for face := range w.Site.Faces {
		page := svgOf(t, w, face)
		assert.True(t, bytes.Equal(page, svgOf(t, w, face)), "the same bytes twice")
		judge(t, "el.svg", page, "xmllint", "--noout", "FILE")
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
	w := ferry(t)
	record := draw.NewRecord()
	require.NoError(t, sheet.Elevation(record, w, 0))
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
