package sheet_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/sheet"
	"wallshoal/wall/measure"
)

// A3 is 297 × 420 mm and A4 210 × 297 mm (ISO 216:2007); Letter is 8.5 × 11 in and Tabloid
// 11 × 17 in, an inch being 25.4 mm.
func TestPaperSizes(t *testing.T) {
	for name, size := range map[string][2]float64{
		"A4": {210, 297}, "A3": {297, 420}, "Letter": {215.9, 279.4}, "Tabloid": {279.4, 431.8},
	} {
		p, ok := sheet.PaperByName(name)
		require.True(t, ok, name)
		assert.InDelta(t, size[0], p.Width, 1e-9, name)
		assert.InDelta(t, size[1], p.Height, 1e-9, name)
		assert.LessOrEqual(t, p.Width, p.Height, "papers stand upright")
	}
	p, ok := sheet.PaperByName(" letter ")
	assert.True(t, ok)
	assert.Equal(t, "Letter", p.Name)
	_, ok = sheet.PaperByName("A9")
	assert.False(t, ok)
	assert.Len(t, sheet.PaperNames(), len(sheet.Papers()))
}

// ISO 5455:1979, clause 5.1: reductions are 1:2, 1:5, 1:10 and their multiples by powers of ten.
func TestMetricScalesAreThoseOfTheStandard(t *testing.T) {
	for _, s := range sheet.Scales(measure.Metre)[1:] {
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
	for _, s := range sheet.Scales(measure.Foot) {
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
		got := sheet.ScaleFor(c.unit, c.width, c.height, c.roomX, c.roomY)
		assert.Equal(t, c.want, got.String(), "%+v", c)
	}
}

func TestProblemsOfAPrint(t *testing.T) {
	good := print("A4")
	assert.Empty(t, good.Problems())
	for field, spoil := range map[string]func(*sheet.Print){
		"print.paper":   func(p *sheet.Print) { p.Paper = sheet.Paper{} },
		"print.margin":  func(p *sheet.Print) { p.Margin = math.NaN() },
		"print.overlap": func(p *sheet.Print) { p.Overlap = 0 },
	} {
		bad := good
		spoil(&bad)
		require.Len(t, bad.Problems(), 1)
		assert.Equal(t, field, bad.Problems()[0].Field)
		_, err := sheet.Tiles(ferry(t), 0, bad)
		assert.ErrorContains(t, err, field)
	}
	for _, spoil := range []func(*sheet.Print){
		func(p *sheet.Print) { p.Margin = 70 },
		func(p *sheet.Print) { p.Overlap = 100 },
		func(p *sheet.Print) { p.Margin = -1 },
		func(p *sheet.Print) { p.Overlap = math.Inf(1) },
	} {
		bad := good
		spoil(&bad)
		assert.NotEmpty(t, bad.Problems())
	}
	for _, p := range sheet.Papers() {
		for _, landscape := range []bool{false, true} {
			assert.Empty(t, sheet.Print{Paper: p, Landscape: landscape, Overlap: 12, Margin: 6}.Problems(), p.Name)
		}
	}
}
