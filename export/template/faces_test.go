package template_test

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

	"wallshoal/export/clientpage"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/template"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// The elevations together must show every hole of every face exactly once.
func TestElevationsShowEveryHoleOfEveryFaceOnce(t *testing.T) {
	w := worktest.Stepping(t, 300)
	seen := map[string]int{}
	for _, face := range elevation.Faces(w.Site) {
		r := worktest.Recorded(t, func(c draw.Canvas) error { return elevation.Draw(c, w, face) })
		for _, m := range r.Marks {
			if last := len(m.Groups) - 1; m.Kind == "circle" && strings.HasPrefix(m.Groups[last], "hole ") {
				seen[m.Groups[last]]++
			}
		}
	}
	assert.Len(t, seen, len(w.Map.Holes))
	for hole, n := range seen {
		assert.Equal(t, 1, n, hole)
	}
}

// place is what a sheet says of its black register mark.
var place = regexp.MustCompile(`([\d.]+) mm from (?:the left end|the wall|its front corner|its back corner|the edge at [^·\n]+?|the corner with [^·\n]+?) · ([\d.]+) mm (above the floor|from [^\n·]+)`)

// On every sheet of every face, as other programs read it, each hole must lie where the words on
// the sheet put it: so far from the face's left end, and above the floor or from the edge named.
func TestCrossesOnEveryFaceLieWhereTheHolesAre(t *testing.T) {
	w, p := worktest.Stepping(t, 800), worktest.Print("A4")
	cut := worktest.CutUp(t, w, p)
	doc := worktest.PDFOf(t, w, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	words := strings.Split(worktest.Judge(t, "map.pdf", doc, "pdftotext", "-layout", "FILE", "-"), "\f")
	readers := map[string][][]worktest.Stroke{"reader": worktest.Strokes(t, doc), "mutool": traced(t, doc)}
	var sheets []int
	for i, text := range words {
		if place.MatchString(text) {
			sheets = append(sheets, i)
		}
	}
	seen := map[int]bool{}
	for face, f := range w.Site.Faces {
		tiles := cut.Tiles(face)
		for _, tile := range tiles {
			if len(tile.Holes) == 0 {
				continue
			}
			require.NotEmpty(t, sheets)
			page := sheets[0]
			sheets = sheets[1:]
			says := place.FindStringSubmatch(words[page])
			x, _ := strconv.ParseFloat(says[1], 64)
			y, _ := strconv.ParseFloat(says[2], 64)
			assert.Equal(t, holemap.Upright(f), says[3] == "above the floor", "%s says %q", tile.Name, says[3])
			if holemap.Upright(f) {
				y -= f.Frame.Origin.Z
			}
			mark := tile.ToPage(plane.Point{X: x, Y: y})
			for who, pages := range readers {
				found := worktest.Crosses(pages[page])
				assert.Less(t, worktest.Near(found, mark), 0.1, "%s finds no register mark on %s of %s", who, tile.Name, f.Name)
				for _, i := range tile.Holes {
					at := w.Map.Holes[i].At
					page := plane.Point{X: mark.X + at.X - x, Y: mark.Y - (at.Y - y)}
					assert.Less(t, worktest.Near(found, page), 0.1, "%s: hole %d on %s of %s", who, i+1, tile.Name, f.Name)
					seen[i] = true
				}
			}
		}
	}
	assert.Empty(t, sheets, "no sheet too many")
	assert.Len(t, seen, len(w.Map.Holes), "every hole is on a sheet")
}

// A side is drawn beside the front of its thing as it would be if it were laid flat: every hole as
// far from the line it is folded along as it is from that corner in the room.
func TestSidesAreUnfoldedAboutTheirCorners(t *testing.T) {
	w := worktest.Stepping(t, 170)
	ways := w.Site.Ways()
	byHole := map[string]holemap.Hole{}
	for _, h := range w.Map.Holes {
		byHole[fmt.Sprintf("hole %d", h.Number)] = h
	}
	checked := map[string]bool{}
	for _, face := range elevation.Faces(w.Site) {
		r := worktest.Recorded(t, func(c draw.Canvas) error { return elevation.Draw(c, w, face) })
		ratio := ratioOf(t, r)
		folds := map[string][2]plane.Point{}
		for _, m := range r.Marks {
			if m.Kind == "line" && m.Paint.Stroke.Dash == draw.DashDotDot {
				folds[strings.TrimPrefix(m.Groups[len(m.Groups)-1], "fold to ")] = [2]plane.Point{m.Points[0], m.Points[1]}
			}
		}
		for _, m := range r.Marks {
			if m.Kind != "circle" || !strings.HasPrefix(m.Groups[0], "sides of ") {
				continue
			}
			h := byHole[m.Groups[len(m.Groups)-1]]
			side := w.Site.Faces[h.Face]
			fold, folded := folds[side.Name]
			if !folded {
				continue
			}
			along := fold[1].Sub(fold[0])
			far := math.Abs(along.Cross(m.Points[0].Sub(fold[0]))) / along.Len() * ratio
			assert.True(t, slices.ContainsFunc(ways.Joins(h.Face), func(j wall.Join) bool {
				other := w.Site.Faces[j.To].Side
				if other != wall.Front && other != wall.Back {
					return false
				}
				edge := j.B.Sub(j.A)
				return math.Abs(math.Abs(edge.Cross(h.At.Sub(j.A)))/edge.Len()-far) < 0.01
			}), "hole %d of %s is drawn %g mm from its fold", h.Number, side.Name, far)
			checked[side.Name] = true
		}
	}
	for _, name := range []string{
		"chimney breast left return", "chimney breast right return", "mantel top", "mantel underside", "pipe bulkhead underside",
		"book niche left reveal", "book niche head", "book niche sill", "buttress left return", "buttress right return", "buttress top",
	} {
		assert.True(t, checked[name], name)
	}
}

func ratioOf(t *testing.T, r *draw.Record) float64 {
	t.Helper()
	says := regexp.MustCompile(`SCALE 1:(\d+)`).FindStringSubmatch(strings.Join(r.Texts(1), "\n"))
	require.NotNil(t, says)
	ratio, err := strconv.ParseFloat(says[1], 64)
	require.NoError(t, err)
	return ratio
}

// The drawings on a page keep clear of one another.
func TestDrawingsOfAWallDoNotOverlap(t *testing.T) {
	for _, w := range []holemap.Work{worktest.Stepping(t, 400), worktest.InFeet(worktest.Stepping(t, 400))} {
		pages := map[string]*draw.Record{"client": worktest.Recorded(t, func(c draw.Canvas) error { return clientpage.DrawWith(c, w, clientpage.More{}, worktest.Print("A4")) })}
		for _, face := range elevation.Faces(w.Site) {
			pages[fmt.Sprint("elevation ", face)] = worktest.Recorded(t, func(c draw.Canvas) error { return elevation.Draw(c, w, face) })
		}
		for name, r := range pages {
			type part struct {
				page int
				name string
			}
			boxes := map[part]plane.Rect{}
			for _, m := range r.Marks {
				if m.Kind != "polygon" && m.Kind != "text" || len(m.Groups) == 0 {
					continue
				}
				group := m.Groups[0]
				if !strings.HasPrefix(group, "sides of ") && !strings.HasPrefix(group, "wall ") && group != "dimensions" {
					continue
				}
				if group == "dimensions" {
					group = "wall"
				}
				key := part{m.Page, strings.SplitN(group+" of", " of", 2)[0] + group}
				if strings.HasPrefix(group, "wall") {
					key.name = "wall"
				}
				var own plane.Rect
				switch {
				case m.Kind == "text" && m.Text.Say == "":
					continue
				case m.Kind == "text":
					own = m.Text.Box(0).Bounds()
				default:
					own = m.Rings[0].Bounds()
				}
				if b, known := boxes[key]; known {
					own = own.Union(b)
				}
				boxes[key] = own
			}
			for a, first := range boxes {
				for b, second := range boxes {
					if a != b && a.page == b.page {
						assert.False(t, first.Overlaps(second), "%s, page %d: %s and %s", name, a.page, a.name, b.name)
					}
				}
			}
		}
	}
}

// Every sheet names the corners of the room that its edges are.
func TestSheetsNameTheCornersOfTheRoom(t *testing.T) {
	w := worktest.Stepping(t, 300)
	p := worktest.Print("A4")
	cut := worktest.CutUp(t, w, p)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	said := map[string]string{} // by sheet
	for _, m := range r.Marks {
		if m.Kind == "text" && len(m.Groups) == 2 && m.Groups[1] == "edge" {
			said[m.Groups[0]] += " " + m.Text.Say
		}
	}
	ways := w.Site.Ways()
	named := 0
	for face := range w.Site.Faces {
		tiles := cut.Tiles(face)
		for _, tile := range tiles {
			for _, j := range ways.Joins(face) {
				shown, steps := 0.0, math.Ceil(j.A.Distance(j.B))
				for i := range int(steps) {
					if tile.Area.Grow(1e-6).Contains(j.A.Lerp(j.B, (float64(i)+0.5)/steps)) {
						shown++
					}
				}
				if len(tile.Holes) == 0 || shown < 20 {
					continue
				}
				to := w.Site.Faces[j.To]
				name := w.Site.Room.Walls[to.Wall].Name
				if !to.IsWall() {
					name = w.Site.Room.Walls[to.Wall].Obstructions[to.Obstruction].Name
				}
				assert.Contains(t, said["sheet "+tile.Name], name, "sheet %s of %s", tile.Name, w.Site.Title(face))
				named++
			}
		}
	}
	assert.Greater(t, named, 200)
	all := fmt.Sprint(said)
	for _, words := range []string{
		"this edge to the left corner of the chimney breast, next to its left return",
		"this edge to the right corner of the chimney breast, next to its front",
		"this edge to the lower edge of the pipe bulkhead, next to its underside",
		"this edge into the corner with Hearth wall",
		"this edge to the outside corner with",
	} {
		assert.Contains(t, all, words)
	}
}

// The sides of a thing share one key page, and a ceiling says how it is looked at.
func TestKeyPagesAreOneAThing(t *testing.T) {
	w := worktest.Stepping(t, 500)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, w, worktest.Print("A3"))) })
	var keys []string
	for _, m := range r.Marks {
		if name, is := strings.CutPrefix(m.Text.Say, "Key to the hole map: "); is && !strings.Contains(name, "continued") {
			keys = append(keys, name)
		}
	}
	assert.Equal(t, []string{
		"Hearth wall", "Hearth wall, chimney breast", "Hearth wall, mantel", "Hearth wall, pipe bulkhead", "Hearth wall, book niche",
		"Garden wall", "Garden wall, buttress", "Long bench wall", "Folding screen", "Folding screen, back", "Ceiling",
	}, keys)
	var all []string
	for page := range r.Pages {
		all = append(all, r.Texts(page+1)...)
	}
	text := strings.Join(all, " ")
	assert.Contains(t, text, "as seen looking up as you face Hearth wall, head back")
	assert.Contains(t, text, "as seen from before the wall, looking down")
	ceiling := elevation.Faces(w.Site)[5]
	e := worktest.Recorded(t, func(c draw.Canvas) error { return elevation.Draw(c, w, ceiling) })
	assert.Contains(t, strings.Join(e.Texts(1), " "), "Ceiling, as seen looking up")
	for _, name := range []string{"Hearth wall", "Garden wall", "Door wall", "Long bench wall"} {
		assert.Contains(t, e.Texts(1), name, "along its edge of the ceiling")
	}
	assert.NotContains(t, e.Texts(1), "Folding screen", "which does not rise to it")
}

// A page for the client counts what hangs on the wall, and on each of its faces.
func TestClientPagesCountEveryFace(t *testing.T) {
	w := worktest.Stepping(t, 400)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return clientpage.DrawWith(c, w, clientpage.More{}, worktest.Print("A4")) })
	require.Greater(t, len(r.Pages), 6, "the room, four walls that carry pieces with the screen, the ceiling, and words")
	assert.Contains(t, r.Texts(7), "Holes and fixings, wall by wall")
	texts := r.Texts(2)
	pieces, holes := 0, 0
	for face, f := range w.Site.Faces {
		if f.Wall != 0 || !f.Used {
			continue
		}
		own, drilled := 0, 0
		for _, p := range w.Layout.Pieces {
			if p.Face == face {
				own++
			}
		}
		for _, h := range w.Map.Holes {
			if h.Face == face {
				drilled++
			}
		}
		name := f.Name
		if f.IsWall() {
			name = "the wall itself"
		}
		i := slices.Index(texts, name)
		require.Positive(t, i, name)
		assert.Equal(t, []string{fmt.Sprint(own), fmt.Sprint(drilled)}, texts[i-2:i], name)
		pieces, holes = pieces+own, holes+drilled
	}
	assert.Contains(t, texts, fmt.Sprintf("%d pieces, %d holes", pieces, holes))
}

// A switch on the back of a niche does not stand out of it.
func TestWhatIsFlatInARecessIsNotCutOutOfTheSheet(t *testing.T) {
	niche := worktest.Box(wall.Niche, "niche", 500, 500, 700, 700)
	niche.Depth, niche.Use = -200, []wall.Side{wall.Back}
	s := worktest.Site(wall.Wall{
		Name: "Wall", Outline: plane.Rectangle(plane.Point{}, 2000, 2000), Surface: wall.Brick,
		Obstructions: []wall.Obstruction{niche, worktest.Box(wall.Switch, "lamp switch", 700, 800, 86, 86)},
	})
	back, found := s.FaceByName("Wall", "niche back")
	require.True(t, found)
	w := worktest.Work(t, s, []scatter.Piece{{Face: back, At: plane.Point{X: 120, Y: 500}, Kind: 1, Heading: 90}, {Face: back, At: plane.Point{X: 420, Y: 350}, Kind: 1, Heading: 90}})
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, w, worktest.Print("A3"))) })
	shown := false
	for _, m := range r.Marks {
		if len(m.Groups) > 0 && strings.HasPrefix(m.Groups[0], "sheet ") {
			assert.NotContains(t, m.Text.Say, "stands out")
		}
		shown = shown || m.Text.Say == "lamp switch"
	}
	assert.True(t, shown)
}
