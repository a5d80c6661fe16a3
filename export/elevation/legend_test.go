package elevation_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/clientpage"
	"wallshoal/export/draw"
	"wallshoal/export/worktest"
	"wallshoal/wall/plane"
)

// Where a legend has no room for the names of several forms and sizes, what tells them apart must be
// left, and their pictures must stand in the proportion of their sizes.
func TestTheLegendTellsFormsAndSizesApart(t *testing.T) {
	w := worktest.Ferry(t)
	w.Kinds = slices.Clone(w.Kinds)
	const of = "Herring of hand-folded Japanese paper"
	large, small := &w.Kinds[0], &w.Kinds[1]
	large.Of, large.Name, large.Form, large.Size = of, of+", half fold, 100 %", "half fold", "100 %"
	small.Of, small.Name, small.Form, small.Size = of, of+", half fold, 75 %", "half fold", "75 %"
	small.Outline = large.Outline.Map(func(p plane.Point) plane.Point { return p.Scale(0.75) })
	r := draw.NewRecord()
	require.NoError(t, clientpage.DrawWith(r, w, clientpage.More{}, worktest.Print("A4")))
	told := map[string]int{}
	var widths []float64
	for _, m := range r.Marks {
		switch {
		case !slices.Contains(m.Groups, "legend"):
		case m.Kind == "text" && strings.Contains(m.Text.Say, "half fold"):
			assert.True(t, strings.HasSuffix(m.Text.Say, " %"), "%q", m.Text.Say)
			told[m.Text.Say]++
		case m.Kind == "polygon":
			widths = append(widths, m.Rings[0].Bounds().Width())
		}
	}
	assert.Positive(t, told["… half fold, 100 %"], "%v", told)
	assert.Positive(t, told["… half fold, 75 %"], "%v", told)
	require.GreaterOrEqual(t, len(widths), 3)
	assert.InDelta(t, 0.75, widths[1]/widths[0], 0.001)
}
