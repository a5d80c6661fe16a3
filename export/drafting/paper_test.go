package drafting_test

import (
	"math"
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
	"wallshoal/wall/measure"
)

// A0 to A4 by ISO 216:2007. Letter and Tabloid are sheets A and B of ANSI/ASME Y14.1; Legal and the
// ARCH sheets, common practice, as their sellers list them. An inch is 25.4 mm.
func TestPaperSizes(t *testing.T) {
	in := func(w, h float64) [2]float64 { return [2]float64{w * 25.4, h * 25.4} }
	sizes := map[string][2]float64{
		"A4": {210, 297}, "A3": {297, 420}, "A2": {420, 594}, "A1": {594, 841}, "A0": {841, 1189},
		"Letter": {215.9, 279.4}, "Legal": in(8.5, 14), "Tabloid": {279.4, 431.8},
		"ARCH A": in(9, 12), "ARCH B": in(12, 18), "ARCH C": in(18, 24), "ARCH D": in(24, 36), "ARCH E": in(36, 48), "ARCH E1": in(30, 42),
	}
	for name, size := range sizes {
		p, ok := drafting.PaperByName(name)
		require.True(t, ok, name)
		assert.InDelta(t, size[0], p.Width, 1e-9, name)
		assert.InDelta(t, size[1], p.Height, 1e-9, name)
		assert.LessOrEqual(t, p.Width, p.Height, "papers stand upright")
		assert.False(t, p.Roll)
	}
	assert.Len(t, drafting.PaperNames(), len(sizes))
	for name, want := range map[string]string{" letter ": "Letter", "arch e1": "ARCH E1", "ARCHD": "ARCH D"} {
		p, ok := drafting.PaperByName(name)
		assert.True(t, ok)
		assert.Equal(t, want, p.Name)
	}
	for _, name := range []string{"A9", "roll", "roll 0", "roll -3", "roll 9 km", "914"} {
		_, ok := drafting.PaperByName(name)
		assert.False(t, ok, name)
	}
}

// Rolls come 24, 36 and 42 in wide (common practice), or as wide as somebody says. A page can be 14,400
// units of 1/72 in long (Adobe PDF Reference 1.7, Appendix C): 5,080 mm.
func TestRolls(t *testing.T) {
	for name, width := range map[string]float64{"24 in roll": 609.6, "36in roll": 914.4, "roll 42 in": 1066.8, "roll 914": 914, "Roll 0.5 m": 500} {
		p, ok := drafting.PaperByName(name)
		require.True(t, ok, name)
		assert.InDelta(t, width, p.Width, 1e-9, name)
		assert.InDelta(t, 5080, p.Height, 1e-9)
		assert.True(t, p.Roll)
	}
	assert.Equal(t, "36 in roll", drafting.Roll(914.4).Name)
	assert.Equal(t, "914 mm roll", drafting.Roll(914).Name)
}

// Off a roll a wall is papered in drops, or in strips along it: pages no longer than a page can be, as
// wide as the roll one way, and no longer the other way than the holes on them need. What is longer is
// split, and the drawing stays at full size.
func TestSheetsOffARoll(t *testing.T) {
	t.Parallel()
	for name, w := range map[string]holemap.Work{"wall": worktest.Ferry(t), "tower": worktest.Strewn(t, 700, 9000, 60), "corridor": worktest.Strewn(t, 14_000, 600, 90)} {
		for _, level := range []bool{false, true} {
			p := tiling.Print{Paper: drafting.Roll(914), Landscape: level, Overlap: 12, Margin: 6}
			cut := worktest.CutUp(t, w, p)
			r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
			pages := map[string]draw.Size{}
			for _, m := range r.Marks {
				if len(m.Groups) > 0 && strings.HasPrefix(m.Groups[0], "sheet ") {
					pages[strings.TrimPrefix(m.Groups[0], "sheet ")] = r.Pages[m.Page-1]
				}
			}
			sheets := 0
			for face := range w.Site.Faces {
				tiles := cut.Tiles(face)
				for _, tile := range tiles {
					if len(tile.Holes) == 0 {
						continue
					}
					sheets++
					size := pages[tile.Name]
					assert.Equal(t, tile.Sheet, size, tile.Name)
					across, along, need := size.Width, size.Height, 0.0
					if level {
						across, along = along, across
					}
					assert.InDelta(t, 914, across, 1e-9)
					assert.LessOrEqual(t, along, 5080.0)
					for _, i := range tile.Holes {
						at := tile.ToPage(w.Map.Holes[i].At)
						need = math.Max(need, at.Y)
						if level {
							need = math.Max(need, at.X)
						}
						assert.True(t, tile.Area.Contains(w.Map.Holes[i].At), tile.Name)
					}
					shared := len(tile.Below) > 0 || tile.Right.Name != ""
					assert.True(t, shared || along < math.Max(need+100, 230), "%s: %g mm for %g", tile.Name, along, need)
					assert.InDelta(t, tile.Area.Width(), tile.Frame.Width(), 1e-9)
					assert.InDelta(t, tile.Area.Height(), tile.Frame.Height(), 1e-9)
				}
			}
			assert.Len(t, pages, sheets)
			assert.Less(t, sheets, 30, name)
			for page := range r.Pages {
				var texts []draw.Text
				for _, m := range r.Marks {
					if m.Page == page+1 && m.Kind == "text" && strings.TrimSpace(m.Text.Say) != "" {
						texts = append(texts, m.Text)
					}
				}
				assert.Empty(t, worktest.Collisions(texts), "%s, page %d", name, page+1)
			}
		}
	}
}

// ISO 5455:1979, clause 5.1: reductions are 1:2, 1:5, 1:10 and their multiples by powers of ten.
func TestMetricScalesAreThoseOfTheStandard(t *testing.T) {
	for _, s := range drafting.Scales(measure.Metre)[1:] {
		power := math.Pow(10, math.Floor(math.Log10(s.Ratio)))
		assert.Contains(t, []float64{1, 2, 5}, s.Ratio/power, "1:%g", s.Ratio)
	}
}

// The ratio of an architect's scale is 12 over the inches that stand for a foot: 1/4 in makes 1:48.
func TestArchitectsScales(t *testing.T) {
	notes := map[string]float64{
		`3" = 1'-0"`: 4, `1-1/2" = 1'-0"`: 8, `1" = 1'-0"`: 12, `3/4" = 1'-0"`: 16, `1/2" = 1'-0"`: 24,
		`3/8" = 1'-0"`: 32, `1/4" = 1'-0"`: 48, `3/16" = 1'-0"`: 64, `1/8" = 1'-0"`: 96, `3/32" = 1'-0"`: 128,
	}
	found := 0
	for _, s := range drafting.Scales(measure.Foot) {
		if ratio, known := notes[s.Note]; known {
			assert.Equal(t, ratio, s.Ratio, s.Note)
			found++
		}
	}
	assert.Len(t, notes, found)
}

func TestScaleForTakesTheLargestThatFits(t *testing.T) {
	for _, c := range []struct {
		unit                        measure.Unit
		width, height, roomX, roomY float64
		want                        string
	}{
		{measure.Millimetre, 6400, 2700, 350, 200, "1:20"},
		{measure.Millimetre, 7000, 2700, 350, 200, "1:20"},
		{measure.Millimetre, 7001, 2700, 350, 200, "1:50"},
		{measure.Centimetre, 300, 200, 350, 200, "1:1"},
		{measure.Metre, 1_000_000, 3000, 350, 200, "1:5000"},
		{measure.Millimetre, 1e9, 1e9, 350, 200, "1:10000"},
		{measure.Foot, 6096, 2438, 350, 200, "1:24"},
		{measure.Inch, 14_000, 2438, 350, 200, "1:48"},
	} {
		got := drafting.ScaleFor(c.unit, c.width, c.height, c.roomX, c.roomY)
		assert.Equal(t, c.want, got.String(), "%+v", c)
	}
}

func TestProblemsOfAPrint(t *testing.T) {
	good := worktest.Print("A4")
	assert.Empty(t, good.Problems())
	for field, spoil := range map[string]func(*tiling.Print){
		"print.paper":   func(p *tiling.Print) { p.Paper = drafting.Paper{} },
		"print.margin":  func(p *tiling.Print) { p.Margin = math.NaN() },
		"print.overlap": func(p *tiling.Print) { p.Overlap = 0 },
	} {
		bad := good
		spoil(&bad)
		require.Len(t, bad.Problems(), 1)
		assert.Equal(t, field, bad.Problems()[0].Field)
		_, err := tiling.CutOf(worktest.Ferry(t), bad)
		assert.ErrorContains(t, err, field)
	}
	for _, spoil := range []func(*tiling.Print){
		func(p *tiling.Print) { p.Margin = 70 },
		func(p *tiling.Print) { p.Overlap = 100 },
		func(p *tiling.Print) { p.Margin = -1 },
		func(p *tiling.Print) { p.Overlap = math.Inf(1) },
	} {
		bad := good
		spoil(&bad)
		assert.NotEmpty(t, bad.Problems())
	}
	for _, p := range drafting.Papers() {
		for _, landscape := range []bool{false, true} {
			assert.Empty(t, tiling.Print{Paper: p, Landscape: landscape, Overlap: 12, Margin: 6}.Problems(), p.Name)
		}
	}
}
