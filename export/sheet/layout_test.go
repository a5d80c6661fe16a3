package sheet_test

import (
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/caution"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/sheet"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// oddities are works at the ends of what people draw.
func oddities(t testing.TB) map[string]holemap.Work {
	one := func(s wall.Site) []scatter.Piece {
		b := s.Faces[0].Outline.Bounds()
		return []scatter.Piece{{At: b.Centre(), Heading: 40}}
	}
	tiny := site(wall.Wall{Name: "Alcove", Outline: plane.Rectangle(plane.Point{}, 260, 180), Surface: wall.Plaster})
	long := site(wall.Wall{Name: "Corridor", Outline: plane.Rectangle(plane.Point{}, 12_000, 2600), Surface: wall.Concrete})
	vast := site(wall.Wall{Name: "Quay shed", Outline: plane.Rectangle(plane.Point{}, 180_000, 9000), Surface: wall.Brick})
	name := strings.Repeat("Wall of the long gallery above the landing stage ", 4)
	named := site(wall.Wall{
		Name: name, Outline: plane.Rectangle(plane.Point{}, 3000, 2400), Surface: wall.Plaster,
		Obstructions: []wall.Obstruction{
			box(wall.Fixture, name, 400, 300, 900, 700), box(wall.Socket, name, 1800, 300, 86, 86), box(wall.Switch, name, 1900, 320, 86, 86),
		},
		Marked: []wall.Zone{{Code: "own", Name: name, Reason: name, Shape: plane.RegionOf(plane.Rectangle(plane.Point{X: 1500}, 90, 2400)), Strength: wall.Caution, Binds: wall.Holes}},
	})
	crowd := wall.Wall{Name: "Switch room", Outline: plane.Rectangle(plane.Point{}, 3000, 2400), Surface: wall.Block}
	for i := range 70 {
		crowd.Obstructions = append(crowd.Obstructions, box(wall.Socket, fmt.Sprintf("socket %d", i), 100+40*float64(i), 150+31*float64(i), 30, 20))
	}
	sockets := site(crowd)
	greek := site(wall.Wall{
		Name: "Τοίχος της σκάλας", Outline: plane.Rectangle(plane.Point{}, 2600, 2400), Surface: wall.Plaster,
		Obstructions: []wall.Obstruction{box(wall.Window, "παράθυρο προς την αυλή", 900, 900, 800, 900)},
	})
	out := map[string]holemap.Work{
		"tiny":     work(t, tiny, one(tiny)),
		"long":     work(t, long, strew(long, 0, 104)),
		"vast":     work(t, vast, one(vast)),
		"names":    work(t, named, strew(named, 0, 200)),
		"sockets":  work(t, sockets, one(sockets)),
		"greek":    work(t, greek, strew(greek, 0, 170)),
		"framed":   framed(t),
		"ferry":    ferry(t),
		"imperial": ferry(t),
		"faces":    stepping(t, 900),
		"in feet":  stepping(t, 900),
	}
	w := out["names"]
	w.Title, w.For, w.Place, w.By = name, name, name, name
	w.Kinds = slices.Clone(w.Kinds)
	w.Kinds[0].Name = name
	out["names"] = w
	w = out["greek"]
	w.Title, w.For, w.By = "Ρέγγες στη σκάλα", "Δημοτικό σχολείο", "鰊 studio"
	out["greek"] = w
	w = out["imperial"]
	w.Units = measure.Foot
	out["imperial"] = w
	w = out["in feet"]
	w.Units = measure.Foot
	out["in feet"] = w
	return out
}

// drawn records every page of a work.
func drawn(t testing.TB, w holemap.Work, p sheet.Print) map[string]*draw.Record {
	t.Helper()
	out := map[string]*draw.Record{"map": draw.NewRecord(), "client": draw.NewRecord(), "room": draw.NewRecord()}
	require.NoError(t, sheet.Room(out["room"], w))
	require.NoError(t, sheet.HoleMap(out["map"], cutUp(t, w, p)))
	require.NoError(t, sheet.ClientWith(out["client"], w, sheet.More{}, p))
	for _, i := range sheet.Elevations(w.Site) {
		r := draw.NewRecord()
		require.NoError(t, sheet.Elevation(r, w, i))
		out[fmt.Sprintf("elevation %d", i)] = r
	}
	for name, r := range out {
		require.NoError(t, r.Close(), name)
	}
	return out
}

// Every line of text must stay on the part of the page that is printed, and none may lie over
// another.
func TestTextStaysOnThePageAndNeverCollides(t *testing.T) {
	t.Parallel()
	works := oddities(t)
	for i, name := range slices.Sorted(maps.Keys(works)) {
		w, prints := works[name], []sheet.Print{print("A4"), landscape(print("Letter"))}
		if os.Getenv("CI") != "true" {
			prints = prints[i%2:][:1] // by turns
		}
		for _, p := range prints {
			for kind, r := range drawn(t, w, p) {
				pages := map[int][]draw.Text{}
				for _, m := range r.Marks {
					if m.Kind != "text" || strings.TrimSpace(m.Text.Say) == "" {
						continue
					}
					pages[m.Page] = append(pages[m.Page], m.Text)
					size := r.Pages[m.Page-1]
					edge := plane.Rect{Max: plane.Point{X: size.Width, Y: size.Height}}.Grow(-p.Margin + 0.01)
					b := m.Text.Box(0).Bounds()
					if !edge.Contains(b.Min) || !edge.Contains(b.Max) {
						t.Errorf("%s, %s, page %d: %q at %v leaves the page", name, kind, m.Page, m.Text.Say, b)
					}
				}
				for page, texts := range pages {
					for _, c := range collisions(texts) {
						t.Errorf("%s, %s, page %d: %s", name, kind, page, c)
					}
				}
			}
		}
	}
}

func collisions(texts []draw.Text) []string {
	var out []string
	boxes := make([]plane.Rect, len(texts))
	for i, t := range texts {
		boxes[i] = t.Box(-0.05).Bounds()
	}
	order := make([]int, len(texts))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		if boxes[a].Min.X < boxes[b].Min.X {
			return -1
		}
		return 1
	})
	for n, i := range order {
		for _, j := range order[n+1:] {
			if boxes[j].Min.X > boxes[i].Max.X {
				break
			}
			if boxes[i].Overlaps(boxes[j]) {
				out = append(out, fmt.Sprintf("%q lies over %q at %v", texts[i].Say, texts[j].Say, boxes[i].Min))
			}
		}
	}
	return out
}

// The number of a hole is read at arm's length, and nothing is written over the place where it is
// drilled.
func TestHoleLabelsAreLegibleAndKeepOffTheCrosses(t *testing.T) {
	w := ferry(t)
	r := draw.NewRecord()
	require.NoError(t, sheet.HoleMap(r, cutUp(t, w, print("A4"))))
	numbers := map[string]bool{}
	for _, h := range w.Map.Holes {
		numbers[fmt.Sprintf("label of hole %d|%d", h.Number, h.Number)] = false
	}
	crosses := map[int][]plane.Point{}
	for _, m := range r.Marks {
		if m.Kind == "circle" && len(m.Groups) > 1 && strings.HasPrefix(m.Groups[1], "hole ") {
			crosses[m.Page] = append(crosses[m.Page], m.Points[0])
		}
	}
	for _, m := range r.Marks {
		if m.Kind != "text" {
			continue
		}
		if len(m.Groups) > 1 {
			key := m.Groups[1] + "|" + strings.TrimSuffix(m.Text.Say, "!")
			if _, known := numbers[key]; known {
				numbers[key] = true
				assert.GreaterOrEqual(t, m.Text.Height, 3.5)
			}
		}
		b := m.Text.Box(0).Bounds()
		for _, c := range crosses[m.Page] {
			assert.False(t, b.Contains(c), "%q is written over a hole on page %d", m.Text.Say, m.Page)
		}
	}
	for label, seen := range numbers {
		assert.True(t, seen, label)
	}
}

// A hole in a zone that asks for something is flagged; one that is only high up is not.
func TestOnlyWhatMustBeSettledIsFlagged(t *testing.T) {
	w := ferry(t)
	r := draw.NewRecord()
	require.NoError(t, sheet.HoleMap(r, cutUp(t, w, print("A4"))))
	severity := map[string]string{}
	for _, c := range w.Map.Cautions {
		severity[c.Code] = c.Severity
	}
	flagged, plain := 0, 0
	for _, h := range w.Map.Holes {
		want := fmt.Sprint(h.Number)
		if slices.ContainsFunc(h.Cautions, func(code string) bool { return severity[code] != caution.Note }) {
			want += "!"
			flagged++
		} else {
			plain++
		}
		assert.True(t, slices.ContainsFunc(r.Marks, func(m draw.Mark) bool {
			return m.Kind == "text" && m.Text.Say == want && len(m.Groups) > 1 && m.Groups[1] == fmt.Sprintf("label of hole %d", h.Number)
		}), want)
	}
	assert.NotZero(t, flagged)
	assert.NotZero(t, plain)
}

// On a crowded sheet every hole must still be numbered, its cross clear of every label.
func TestCrowdedHolesKeepTheirNumbers(t *testing.T) {
	s := site(wall.Wall{Name: "Crowd", Outline: plane.Rectangle(plane.Point{}, 160, 240), Surface: wall.Plaster})
	var pieces []scatter.Piece
	for y := 20.0; y < 225; y += 15 {
		for x := 15.0; x < 150; x += 17 {
			pieces = append(pieces, scatter.Piece{At: plane.Point{X: x, Y: y}, Kind: 1, Heading: heading.Bearing(math.Mod(x*y, 360))})
		}
	}
	w := work(t, s, pieces)
	r := draw.NewRecord()
	require.NoError(t, sheet.HoleMap(r, cutUp(t, w, print("A4"))))
	texts := r.Texts(len(r.Pages))
	for _, h := range w.Map.Holes {
		found := slices.ContainsFunc(texts, func(s string) bool { return strings.TrimSuffix(s, "!") == fmt.Sprint(h.Number) })
		assert.True(t, found, "hole %d has no number", h.Number)
	}
}

func TestClientPagesCountWhatHangs(t *testing.T) {
	w := ferry(t)
	r := draw.NewRecord()
	require.NoError(t, sheet.ClientWith(r, w, sheet.More{}, print("Tabloid")))
	require.Greater(t, len(r.Pages), 3)
	assert.Contains(t, r.Texts(4), "Holes and fixings, wall by wall")
	assert.Contains(t, r.Texts(1), fmt.Sprintf("%d pieces, %d holes", len(w.Layout.Pieces), len(w.Map.Holes)), "the room first")
	assert.Equal(t, draw.Size{Width: 279.4, Height: 215.9}, r.Pages[0], "Letter for those who print on inches")
	for face := range w.Site.Faces {
		pieces, holes := 0, 0
		for _, p := range w.Layout.Pieces {
			if p.Face == face {
				pieces++
			}
		}
		for _, h := range w.Map.Holes {
			if h.Face == face {
				holes++
			}
		}
		assert.Contains(t, r.Texts(face+2), fmt.Sprintf("%d pieces, %d holes", pieces, holes))
		assert.Contains(t, r.Texts(face+2), w.Site.Room.Walls[face].Name)
	}
}

func TestPagesSayWhatCannotBeDrawn(t *testing.T) {
	bare := site(wall.Wall{Name: "Bare", Outline: plane.Rectangle(plane.Point{}, 1000, 1000), Bare: true, Surface: wall.Plaster})
	w := work(t, bare, nil)
	assert.ErrorIs(t, sheet.HoleMap(draw.NewRecord(), cutUp(t, w, print("A4"))), sheet.ErrNoHoles)
	assert.ErrorIs(t, sheet.ClientWith(draw.NewRecord(), w, sheet.More{}, print("A4")), sheet.ErrNoPieces)
	assert.NoError(t, sheet.Elevation(draw.NewRecord(), w, 0), "a bare wall has an elevation too")
	assert.Error(t, sheet.Elevation(draw.NewRecord(), w, 1))
	w.Site.Faces[0].Outline, w.Site.Faces[0].Whole = plane.Region{}, plane.Region{}
	assert.ErrorContains(t, sheet.Elevation(draw.NewRecord(), w, 0), "no outline")
	w = ferry(t)
	w.Layout.Pieces[3].Kind = 9
	assert.ErrorContains(t, sheet.Elevation(draw.NewRecord(), w, 0), "kind number 9")
}

// Bits are sold by fractions of an inch where the plan is in feet, to a sixty-fourth.
func TestBitsAreNamedAsTheyAreSold(t *testing.T) {
	t.Parallel()
	for bit, want := range map[float64]string{3.175: `1/8"`, 25.4 * 9 / 64: `9/64"`, 25.4: `1"`, 25.4 * 1.25: `1-1/4"`, 5: "Ø5 mm"} {
		w := known(t, print("Letter"))
		w.Units = measure.Inch
		w.Kinds = slices.Clone(w.Kinds)
		w.Kinds[1].Holes = []scatter.Hole{{Bit: bit}}
		m, err := holemap.Make(w.Site, w.Kinds, w.Layout)
		require.NoError(t, err)
		w.Map = m
		r := draw.NewRecord()
		require.NoError(t, sheet.HoleMap(r, cutUp(t, w, print("Letter"))))
		found := slices.ContainsFunc(r.Marks, func(m draw.Mark) bool { return m.Kind == "text" && strings.HasPrefix(m.Text.Say+" ", want+" ") })
		assert.True(t, found, want)
	}
}

// Kind is told by a code beside a shape, never by colour alone: also in a crowd, and where pieces are small on
// paper but few.
func TestEveryPieceBearsItsCode(t *testing.T) {
	t.Parallel()
	crowd := site(wall.Wall{Name: "Wall", Outline: plane.Rectangle(plane.Point{}, 4000, 2600), Surface: wall.Brick})
	small := site(wall.Wall{Name: "Wall", Outline: plane.Rectangle(plane.Point{}, 7500, 2600), Surface: wall.Brick})
	seeds := work(t, small, strew(small, 0, 400))
	for i := range seeds.Kinds {
		seeds.Kinds[i].Outline = plane.Ellipse(plane.Point{}, 20, 9, 32)
	}
	for name, w := range map[string]holemap.Work{"ferry": ferry(t), "crowd": work(t, crowd, strew(crowd, 0, 70)), "seeds": seeds} {
		for face := range w.Site.Faces {
			r := draw.NewRecord()
			require.NoError(t, sheet.Elevation(r, w, face))
			want, got := map[string]int{}, map[string]int{}
			for _, p := range w.Layout.Pieces {
				if p.Face == face {
					want[w.Kinds[p.Kind].Code]++
				}
			}
			for _, m := range r.Marks {
				if m.Kind == "text" && len(m.Groups) == 1 && strings.HasPrefix(m.Groups[0], "wall ") && len(m.Text.Say) == 1 {
					got[m.Text.Say]++
				}
			}
			assert.Equal(t, want, got, name)
		}
	}
}

// A client must be able to tell what every thing on a wall is, however small it is drawn.
func TestClientPagesNameEveryThing(t *testing.T) {
	w := ferry(t)
	r := draw.NewRecord()
	require.NoError(t, sheet.ClientWith(r, w, sheet.More{}, print("A4")))
	for i, own := range w.Site.Room.Walls {
		said := strings.Join(r.Texts(i+2), " ")
		for _, o := range own.Obstructions {
			for _, word := range strings.Fields(o.Name) {
				assert.Contains(t, said, word, own.Name)
			}
		}
	}
}

// A wall that is no rectangle is set out by every corner.
func TestElevationsGiveEveryCornerOfASlopingWall(t *testing.T) {
	s := site(wall.Wall{Name: "Stair", Outline: plane.Ring{{}, {X: 1210}, {X: 4000, Y: 1530}, {X: 4000, Y: 4120}, {X: 2870, Y: 4120}, {Y: 2610}}, Surface: wall.Plaster})
	w := work(t, s, nil)
	r := draw.NewRecord()
	require.NoError(t, sheet.Elevation(r, w, 0))
	for _, figure := range []string{"1210", "2870", "4000", "1530", "2610", "4120"} {
		assert.Contains(t, r.Texts(1), figure)
	}
}
