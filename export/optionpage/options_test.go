package optionpage_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/clientpage"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/optionpage"
	"wallshoal/export/scope"
	"wallshoal/export/worktest"
	"wallshoal/wall/plane"
)

// beside returns n options of a work: each hangs some pieces fewer than the one before.
func beside(t testing.TB, w holemap.Work, n int) optionpage.SideBySide {
	t.Helper()
	s, err := scope.Of(w)
	require.NoError(t, err)
	var works []holemap.Work
	var options []scope.Option
	for i := range n {
		one := w
		one.Layout.Pieces = w.Layout.Pieces[:len(w.Layout.Pieces)*(n-i)/n]
		one.Map, err = holemap.Make(w.Site, w.Kinds, one.Layout)
		require.NoError(t, err)
		counted, err := scope.Of(one)
		require.NoError(t, err)
		works = append(works, one)
		options = append(options, scope.OptionOf(strings.Repeat("W", 20)+fmt.Sprint(i), []string{"fewer pieces", "another density", strings.Repeat("gallery ", 20) + "bare"}, one, counted))
	}
	return optionpage.Options(s.Beside(options), works)
}

// onOnePage returns the marks of parts drawn one after the other, a page each.
func onOnePage(t testing.TB, parts []optionpage.Part, width, height float64) *draw.Record {
	t.Helper()
	return worktest.Recorded(t, func(c draw.Canvas) error {
		for _, p := range parts {
			c.Page(width+20, height+20)
			if err := p.Draw(c, plane.Point{X: 10, Y: 10}); err != nil {
				return err
			}
		}
		return nil
	})
}

// Every row stands there once, with as many cells as there are options; words stay in their area and
// never meet, whatever its size; and each option shows its own pieces.
func TestOptionsStandSideBySide(t *testing.T) {
	odd := worktest.Oddities(t)
	for name, w := range map[string]holemap.Work{"ferry": worktest.Ferry(t), "faces": worktest.Stepping(t, 200), "vast": odd["vast"], "names": odd["names"], "greek": odd["greek"]} {
		for _, size := range []draw.Size{{Width: 174, Height: 233}, {Width: 269, Height: 155}, {Width: 174, Height: 60}} {
			for _, n := range []int{2, 7} {
				label := fmt.Sprintf("%s, %d on %v", name, n, size)
				side := beside(t, w, n)
				parts, err := side.Parts(size.Width, size.Height)
				require.NoError(t, err)
				r := onOnePage(t, parts, size.Width, size.Height)
				said := ""
				for page, p := range parts {
					assert.LessOrEqual(t, p.Height, size.Height+1e-9, label)
					said += strings.Join(r.Texts(page+1), "\n") + "\n"
				}
				for _, row := range side.Table.Rows {
					if len(row[0]) < 30 { // longer ones may be cut
						assert.Equal(t, 1, strings.Count(said, row[0]+"\n"+row[1][:min(4, len(row[1]))]), "%s: %s", label, row[0])
					}
				}
				pages := map[int][]draw.Text{}
				for _, m := range r.Marks {
					if m.Kind == "text" && strings.TrimSpace(m.Text.Say) != "" {
						box := m.Text.Box(0).Bounds()
						area := plane.Rect{Min: plane.Point{X: 10, Y: 10}, Max: plane.Point{X: 10 + size.Width, Y: 10 + parts[m.Page-1].Height}}.Grow(0.3)
						assert.True(t, area.Contains(box.Min) && area.Contains(box.Max), "%s: %q leaves its area", label, m.Text.Say)
						pages[m.Page] = append(pages[m.Page], m.Text)
					}
				}
				for _, texts := range pages {
					for _, c := range worktest.Collisions(texts) {
						t.Errorf("%s: %s", label, c)
					}
				}
			}
		}
	}
}

// The walls of all options are drawn at one scale, those that only some of them use too, and each with
// the pieces that hang there.
func TestOptionsAreDrawnAtOneScale(t *testing.T) {
	w := worktest.Ferry(t)
	side := beside(t, w, 3)
	onWalls := func(w holemap.Work) int {
		n := 0
		for _, p := range w.Layout.Pieces {
			if w.Site.Faces[p.Face].IsWall() {
				n++
			}
		}
		return n
	}
	sizes := map[string]plane.Point{}
	var pages []draw.Size
	for i, one := range side.Works {
		r := worktest.Recorded(t, func(c draw.Canvas) error { return optionpage.OptionPicture(c, side.Works, i) })
		pieces := 0
		for _, m := range r.Marks {
			if len(m.Groups) == 2 && strings.HasPrefix(m.Groups[1], "piece ") {
				pieces++
			}
			if m.Kind == "polygon" && len(m.Groups) == 1 {
				b := m.Rings[0].Bounds()
				size := plane.Point{X: math.Round(b.Width() * 100), Y: math.Round(b.Height() * 100)}
				if before, known := sizes[m.Groups[0]]; known {
					assert.Equal(t, before, size, m.Groups[0])
				}
				if _, known := sizes[m.Groups[0]]; !known {
					sizes[m.Groups[0]] = size
				}
			}
		}
		assert.Equal(t, onWalls(one), pieces)
		pages = append(pages, r.Pages[0])
	}
	require.Len(t, pages, 3)
	assert.Equal(t, pages[0], pages[1])
	assert.Equal(t, pages[0], pages[2])
	assert.ErrorIs(t, optionpage.OptionPicture(draw.NewRecord(), []holemap.Work{{Site: w.Site}}, 0), elevation.ErrNoPieces)
}

// The client's pages have the options after the room, and number all pages.
func TestTheClientSeesTheOptions(t *testing.T) {
	w := worktest.Ferry(t)
	without := worktest.Recorded(t, func(c draw.Canvas) error { return clientpage.DrawWith(c, w, clientpage.More{}, worktest.Print("A4")) })
	r := worktest.Recorded(t, func(c draw.Canvas) error {
		return clientpage.DrawWith(c, w, clientpage.More{Options: beside(t, w, 3)}, worktest.Print("A4"))
	})
	require.Len(t, r.Pages, len(without.Pages)+1)
	second := strings.Join(r.Texts(2), "\n")
	assert.Contains(t, second, "Options side by side")
	for page := range r.Pages {
		assert.Contains(t, strings.Join(r.Texts(page+1), "\n"), fmt.Sprintf("page %d of %d", page+1, len(r.Pages)))
	}
	parts, err := optionpage.SideBySide{}.Parts(100, 100)
	assert.NoError(t, err)
	assert.Empty(t, parts)
}

// Where the columns are too narrow for the figures, the options stand in several groups, with pictures of
// one scale in all of them, and no figure is cut.
func TestOptionsThatHaveNoRoomAbreast(t *testing.T) {
	side := beside(t, worktest.Ferry(t), 7)
	want := map[string]bool{}
	for i := range side.Table.Rows {
		for j := range side.Table.Rows[i][1:] {
			cell := fmt.Sprintf("€ 123456%d%d.00 under", i, j)
			side.Table.Rows[i][j+1] = cell
			want[cell] = true
		}
	}
	side.Says[5] = strings.Repeat("many changes ", 30)
	parts, err := side.Parts(174, 110)
	require.NoError(t, err)
	require.Greater(t, len(parts), 1)
	r := onOnePage(t, parts, 174, 110)
	sizes := map[string]plane.Point{}
	notes := 0
	for _, m := range r.Marks {
		delete(want, m.Text.Say)
		if strings.HasPrefix(m.Text.Say, "Every option") {
			notes++
		}
		if m.Kind == "polygon" && len(m.Groups) == 1 {
			b := m.Rings[0].Bounds()
			size := plane.Point{X: math.Round(b.Width() * 100), Y: math.Round(b.Height() * 100)}
			if _, known := sizes[m.Groups[0]]; !known {
				sizes[m.Groups[0]] = size
			}
			assert.Equal(t, sizes[m.Groups[0]], size, m.Groups[0])
		}
	}
	assert.Empty(t, want, "cut")
	assert.NotEmpty(t, sizes)
	assert.Equal(t, 1, notes)
}
