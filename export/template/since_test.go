package template_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// changed returns a work with some of its pieces changed, and its holes numbered as they were.
func changed(t testing.TB, w holemap.Work, change func([]scatter.Piece) []scatter.Piece) holemap.Work {
	t.Helper()
	w.Layout.Pieces = change(slices.Clone(w.Layout.Pieces))
	m, err := holemap.Make(w.Site, w.Kinds, w.Layout)
	require.NoError(t, err)
	w.Map, _ = m.NumberedAs(w.Map)
	return w
}

// spread is a wall with holes in its left half alone.
func spread(t testing.TB) holemap.Work {
	s := worktest.Site(wall.Wall{Name: "Half wall", Outline: plane.Rectangle(plane.Point{}, 3000, 1800), Surface: wall.Plaster})
	var pieces []scatter.Piece
	for i := range 40 {
		pieces = append(pieces, scatter.Piece{At: plane.Point{X: 90 + 137*float64(i%10), Y: 150 + 390*float64(i/10)}, Kind: i % 2, Heading: 90})
	}
	return worktest.Work(t, s, pieces)
}

// sheets returns, of each sheet drawn, the crosses on it as places of the face.
func sheets(r *draw.Record) map[string]map[string]bool {
	out := map[string]map[string]bool{}
	for _, m := range r.Marks {
		name, is := strings.CutPrefix(strings.Join(m.Groups[:min(1, len(m.Groups))], ""), "sheet ")
		if !is {
			continue
		}
		if out[name] == nil {
			out[name] = map[string]bool{}
		}
		if len(m.Groups) > 1 && strings.HasPrefix(m.Groups[1], "hole ") {
			out[name][m.Groups[1]] = true
		}
	}
	return out
}

func names(all []tiling.Marked) []string {
	var out []string
	for _, m := range all {
		out = append(out, m.Name)
	}
	return out
}

// Of a map that was printed before only the sheets are printed on which a hole changed; all others stay
// under their names, and what is printed and what stays shows every hole there is.
func TestOnlySheetsWhoseHolesDifferArePrintedAgain(t *testing.T) {
	old := spread(t)
	p := worktest.Print("A4")
	before := sheets(worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, old, p)) }))
	w := changed(t, old, func(pieces []scatter.Piece) []scatter.Piece {
		pieces[7].At = pieces[7].At.Add(plane.Point{X: 3, Y: -2})
		pieces[23].At.Y += 0.5
		return slices.Delete(pieces, 30, 31)
	})
	cut := worktest.CutUp(t, w, p, old)
	rev := cut.Revision()
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	now := sheets(r)
	assert.Len(t, now, len(rev.Printed))
	touched := map[int]bool{8: true, 24: true, 31: true}
	var want []string
	for name, holes := range before {
		for _, h := range old.Map.Holes {
			if touched[h.Piece] && holes[fmt.Sprintf("hole %d", h.Number)] && !slices.Contains(want, name) {
				want = append(want, name)
			}
		}
	}
	assert.ElementsMatch(t, want, names(rev.Thrown))
	assert.Subset(t, want, names(rev.Printed))
	assert.Len(t, before, len(rev.Thrown)+len(rev.Staying))
	text := strings.Join(r.Texts(1), " ")
	for _, m := range append(rev.Thrown, rev.Staying...) {
		assert.Equal(t, old.Map.Fingerprint, m.Fingerprint)
		assert.Contains(t, text, m.String())
	}
	for _, h := range w.Map.Holes {
		hole := fmt.Sprintf("hole %d", h.Number)
		shown := slices.ContainsFunc(rev.Printed, func(m tiling.Marked) bool { return now[m.Name][hole] }) ||
			slices.ContainsFunc(rev.Staying, func(m tiling.Marked) bool { return before[m.Name][hole] })
		assert.True(t, shown, hole)
	}
}

// What has no place on the old sheets gets sheets of its own, which show every hole that they cover; the
// old ones stay. A third map knows the sheets of both.
func TestNewPlacesGetSheetsOfTheirOwn(t *testing.T) {
	old := spread(t)
	p := worktest.Print("A4")
	second := changed(t, old, func(pieces []scatter.Piece) []scatter.Piece {
		return append(pieces, scatter.Piece{ID: 90, At: plane.Point{X: 2800, Y: 1000}}, scatter.Piece{ID: 91, At: plane.Point{X: 2000, Y: 300}})
	})
	cut := worktest.CutUp(t, second, p, old)
	rev := cut.Revision()
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	assert.Equal(t, []string{"+1", "+2"}, names(rev.Printed))
	assert.Empty(t, rev.Thrown)
	assert.True(t, slices.ContainsFunc(r.Texts(len(r.Pages)), func(s string) bool { return s == "ADDED to older sheets" }))

	third := changed(t, second, func(pieces []scatter.Piece) []scatter.Piece {
		pieces[40].At.Y += 5
		pieces[0].At.X += 1
		return append(pieces, scatter.Piece{ID: 92, At: plane.Point{X: 2400, Y: 1600}})
	})
	cut = worktest.CutUp(t, third, p, old, second)
	rev = cut.Revision()
	again := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	assert.Contains(t, names(rev.Printed), "+3")
	assert.Contains(t, names(rev.Staying), "+2")
	thrown := map[string]string{}
	for _, m := range rev.Thrown {
		thrown[m.Name] = m.Fingerprint
	}
	assert.Equal(t, second.Map.Fingerprint, thrown["+1"])
	assert.Equal(t, old.Map.Fingerprint, thrown["D1"], thrown)
	assert.NotEmpty(t, again.Marks)
}

// The same holes need no new sheet.
func TestTheSameHolesNeedNoNewSheet(t *testing.T) {
	w := worktest.Ferry(t)
	cut := worktest.CutUp(t, w, worktest.Print("A4"), w)
	require.ErrorIs(t, template.HoleMap(draw.NewRecord(), cut), tiling.ErrNoChange)
	rev := cut.Revision()
	assert.NotEmpty(t, rev.Staying)
	assert.Empty(t, append(rev.Thrown, rev.Printed...))
}

// What sheets say of themselves has room beside one another, whatever they all say at once.
func TestNoticesKeepClearOfOneAnother(t *testing.T) {
	old := worktest.Ferry(t)
	w := changed(t, old, func(pieces []scatter.Piece) []scatter.Piece {
		for i := range 30 {
			pieces[i*3].At.X += 2
		}
		return pieces
	})
	for _, p := range []tiling.Print{worktest.Print("A4"), worktest.Print("Letter"), worktest.Landscape(worktest.Print("A4"))} {
		p.Mirror, p.Measured = true, drafting.Measured{Across: 99.4, Up: 100.2}
		r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, w, p, old)) })
		pages := map[int][]draw.Text{}
		said := 0
		for _, m := range r.Marks {
			if m.Kind == "text" {
				pages[m.Page] = append(pages[m.Page], m.Text)
				if strings.HasPrefix(m.Text.Say, "REPLACES ") && !strings.HasSuffix(m.Text.Say, "…") {
					said++
				}
			}
		}
		assert.Greater(t, said, 10)
		for page, texts := range pages {
			assert.Empty(t, worktest.Collisions(texts), "page %d", page)
		}
	}
}

// However pieces are moved, added and taken away, twice, the sheets that belong on the wall show every hole,
// and none of them one that is not there any more or was moved.
func TestWhatBelongsOnTheWallIsWhatIsDrilled(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	p := worktest.Print("A4")
	for range 12 {
		change := func(pieces []scatter.Piece) []scatter.Piece {
			for range 1 + rng.IntN(5) {
				i := rng.IntN(len(pieces))
				switch rng.IntN(3) {
				case 0:
					pieces[i].At = pieces[i].At.Add(plane.Point{X: 40 * rng.Float64(), Y: 40*rng.Float64() - 20}).Snap(100)
				case 1:
					pieces = slices.Delete(pieces, i, i+1)
				case 2:
					at := plane.Point{X: 60 + 2800*rng.Float64(), Y: 60 + 1600*rng.Float64()}.Snap(100)
					pieces = append(pieces, scatter.Piece{ID: 1000 + rng.IntN(1e6), Kind: rng.IntN(2), At: at, Heading: 30})
				}
			}
			return pieces
		}
		works := []holemap.Work{spread(t)}
		printed := map[string]map[string]map[string]bool{works[0].Map.Fingerprint: sheets(worktest.Recorded(t, func(c draw.Canvas) error {
			return template.HoleMap(c, worktest.CutUp(t, works[0], p))
		}))}
		var rev tiling.Revision
		for range 2 {
			w := changed(t, works[len(works)-1], change)
			cut := worktest.CutUp(t, w, p, works...)
			rev = cut.Revision()
			printed[w.Map.Fingerprint] = sheets(worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) }))
			works = append(works, w)
		}
		last := works[2]
		where := map[string]plane.Point{}
		for _, h := range last.Map.Holes {
			where[fmt.Sprintf("hole %d", h.Number)] = h.At
		}
		stale := map[string]map[string]bool{} // by fingerprint
		for _, w := range works {
			stale[w.Map.Fingerprint] = map[string]bool{}
			for _, h := range w.Map.Holes {
				hole := fmt.Sprintf("hole %d", h.Number)
				stale[w.Map.Fingerprint][hole] = where[hole] != h.At
			}
		}
		shown := map[string]bool{}
		for _, m := range append(rev.Printed, rev.Staying...) {
			holes := printed[m.Fingerprint][m.Name]
			assert.NotEmpty(t, holes, m)
			for hole := range holes {
				shown[hole] = true
				assert.False(t, stale[m.Fingerprint][hole], "%s on %s", hole, m)
			}
		}
		for _, h := range last.Map.Holes {
			assert.True(t, shown[fmt.Sprintf("hole %d", h.Number)], "hole %d is on no sheet", h.Number)
		}
	}
}
