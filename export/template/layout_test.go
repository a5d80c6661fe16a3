package template_test

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
	"wallshoal/export/clientpage"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/roompage"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// drawn records every page of a work.
func drawn(t testing.TB, w holemap.Work, p tiling.Print) map[string]*draw.Record {
	t.Helper()
	out := map[string]*draw.Record{"map": draw.NewRecord(), "client": draw.NewRecord(), "room": draw.NewRecord()}
	require.NoError(t, roompage.Draw(out["room"], w))
	require.NoError(t, template.HoleMap(out["map"], worktest.CutUp(t, w, p)))
	require.NoError(t, clientpage.DrawWith(out["client"], w, clientpage.More{}, p))
	for _, i := range elevation.Faces(w.Site) {
		r := draw.NewRecord()
		require.NoError(t, elevation.Draw(r, w, i))
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
	works := worktest.Oddities(t)
	for i, name := range slices.Sorted(maps.Keys(works)) {
		w, prints := works[name], []tiling.Print{worktest.Print("A4"), worktest.Landscape(worktest.Print("Letter"))}
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
					for _, c := range worktest.Collisions(texts) {
						t.Errorf("%s, %s, page %d: %s", name, kind, page, c)
					}
				}
			}
		}
	}
}

// The number of a hole is read at arm's length, and nothing is written over the place where it is
// drilled.
func TestHoleLabelsAreLegibleAndKeepOffTheCrosses(t *testing.T) {
	w := worktest.Ferry(t)
	r := draw.NewRecord()
	require.NoError(t, template.HoleMap(r, worktest.CutUp(t, w, worktest.Print("A4"))))
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
	w := worktest.Ferry(t)
	r := draw.NewRecord()
	require.NoError(t, template.HoleMap(r, worktest.CutUp(t, w, worktest.Print("A4"))))
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
	s := worktest.Site(wall.Wall{Name: "Crowd", Outline: plane.Rectangle(plane.Point{}, 160, 240), Surface: wall.Plaster})
	var pieces []scatter.Piece
	for y := 20.0; y < 225; y += 15 {
		for x := 15.0; x < 150; x += 17 {
			pieces = append(pieces, scatter.Piece{At: plane.Point{X: x, Y: y}, Kind: 1, Heading: heading.Bearing(math.Mod(x*y, 360))})
		}
	}
	w := worktest.Work(t, s, pieces)
	r := draw.NewRecord()
	require.NoError(t, template.HoleMap(r, worktest.CutUp(t, w, worktest.Print("A4"))))
	texts := r.Texts(len(r.Pages))
	for _, h := range w.Map.Holes {
		found := slices.ContainsFunc(texts, func(s string) bool { return strings.TrimSuffix(s, "!") == fmt.Sprint(h.Number) })
		assert.True(t, found, "hole %d has no number", h.Number)
	}
}

func TestClientPagesCountWhatHangs(t *testing.T) {
	w := worktest.Ferry(t)
	r := draw.NewRecord()
	require.NoError(t, clientpage.DrawWith(r, w, clientpage.More{}, worktest.Print("Tabloid")))
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
	bare := worktest.Site(wall.Wall{Name: "Bare", Outline: plane.Rectangle(plane.Point{}, 1000, 1000), Bare: true, Surface: wall.Plaster})
	w := worktest.Work(t, bare, nil)
	assert.ErrorIs(t, template.HoleMap(draw.NewRecord(), worktest.CutUp(t, w, worktest.Print("A4"))), tiling.ErrNoHoles)
	assert.ErrorIs(t, clientpage.DrawWith(draw.NewRecord(), w, clientpage.More{}, worktest.Print("A4")), elevation.ErrNoPieces)
	assert.NoError(t, elevation.Draw(draw.NewRecord(), w, 0), "a bare wall has an elevation too")
	assert.Error(t, elevation.Draw(draw.NewRecord(), w, 1))
	w.Site.Faces[0].Outline, w.Site.Faces[0].Whole = plane.Region{}, plane.Region{}
	assert.ErrorContains(t, elevation.Draw(draw.NewRecord(), w, 0), "no outline")
	w = worktest.Ferry(t)
	w.Layout.Pieces[3].Kind = 9
	assert.ErrorContains(t, elevation.Draw(draw.NewRecord(), w, 0), "kind number 9")
}

// Bits are sold by fractions of an inch where the plan is in feet, to a sixty-fourth.
func TestBitsAreNamedAsTheyAreSold(t *testing.T) {
	t.Parallel()
	for bit, want := range map[float64]string{3.175: `1/8"`, 25.4 * 9 / 64: `9/64"`, 25.4: `1"`, 25.4 * 1.25: `1-1/4"`, 5: "Ø5 mm"} {
		w := worktest.Known(t, worktest.Print("Letter"))
		w.Units = measure.Inch
		w.Kinds = slices.Clone(w.Kinds)
		w.Kinds[1].Holes = []scatter.Hole{{Bit: bit}}
		m, err := holemap.Make(w.Site, w.Kinds, w.Layout)
		require.NoError(t, err)
		w.Map = m
		r := draw.NewRecord()
		require.NoError(t, template.HoleMap(r, worktest.CutUp(t, w, worktest.Print("Letter"))))
		found := slices.ContainsFunc(r.Marks, func(m draw.Mark) bool { return m.Kind == "text" && strings.HasPrefix(m.Text.Say+" ", want+" ") })
		assert.True(t, found, want)
	}
}

// Kind is told by a code beside a shape, never by colour alone: also in a crowd, and where pieces are small on
// paper but few.
func TestEveryPieceBearsItsCode(t *testing.T) {
	t.Parallel()
	crowd := worktest.Site(wall.Wall{Name: "Wall", Outline: plane.Rectangle(plane.Point{}, 4000, 2600), Surface: wall.Brick})
	small := worktest.Site(wall.Wall{Name: "Wall", Outline: plane.Rectangle(plane.Point{}, 7500, 2600), Surface: wall.Brick})
	seeds := worktest.Work(t, small, worktest.Strew(small, 0, 400))
	for i := range seeds.Kinds {
		seeds.Kinds[i].Outline = plane.Ellipse(plane.Point{}, 20, 9, 32)
	}
	for name, w := range map[string]holemap.Work{"ferry": worktest.Ferry(t), "crowd": worktest.Work(t, crowd, worktest.Strew(crowd, 0, 70)), "seeds": seeds} {
		for face := range w.Site.Faces {
			r := draw.NewRecord()
			require.NoError(t, elevation.Draw(r, w, face))
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
	w := worktest.Ferry(t)
	r := draw.NewRecord()
	require.NoError(t, clientpage.DrawWith(r, w, clientpage.More{}, worktest.Print("A4")))
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
	s := worktest.Site(wall.Wall{Name: "Stair", Outline: plane.Ring{{}, {X: 1210}, {X: 4000, Y: 1530}, {X: 4000, Y: 4120}, {X: 2870, Y: 4120}, {Y: 2610}}, Surface: wall.Plaster})
	w := worktest.Work(t, s, nil)
	r := draw.NewRecord()
	require.NoError(t, elevation.Draw(r, w, 0))
	for _, figure := range []string{"1210", "2870", "4000", "1530", "2610", "4120"} {
		assert.Contains(t, r.Texts(1), figure)
	}
}
