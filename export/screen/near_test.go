package screen_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/screen"
	"wallshoal/export/worktest"
	"wallshoal/wall/plane"
)

// holeMap records the face as it is drilled.
func holeMap(t *testing.T, w holemap.Work, face int) *draw.Record {
	return shown(t, func(c draw.Canvas) error { return screen.Face(c, w, face, screen.LookHoles) })
}

// No word of a hole map lies over another or over a cross, on a crowded wall either.
func TestNoWordLiesOverAnotherOrOverACross(t *testing.T) {
	crowded := worktest.Ferry(t)
	crowded.Layout.Pieces = slices.Clone(crowded.Layout.Pieces)
	for i := range crowded.Layout.Pieces {
		crowded.Layout.Pieces[i].At.X = 0.6*crowded.Layout.Pieces[i].At.X + 100
	}
	var err error
	crowded.Map, err = holemap.Make(crowded.Site, crowded.Kinds, crowded.Layout)
	require.NoError(t, err)
	for name, w := range map[string]holemap.Work{"as laid": worktest.Ferry(t), "crowded": crowded} {
		t.Run(name, func(t *testing.T) {
			for face := range w.Site.Faces {
				var crosses, words []plane.Rect
				record := holeMap(t, w, face)
				for _, m := range record.Marks {
					if m.Kind == "line" && in(m, "hole ") {
						crosses = append(crosses, plane.Ring(m.Points).Bounds().Grow(0.01))
					}
				}
				for _, m := range record.Marks {
					if m.Kind != "text" {
						continue
					}
					box := m.Text.Box(0).Bounds().Grow(-0.5)
					for _, other := range slices.Concat(words, crosses) {
						require.False(t, box.Overlaps(other), "%q lies over something", m.Text.Say)
					}
					words = append(words, box)
				}
			}
		})
	}
}

// Codes and numbers are seen once their letters are six pixels high: none in a small picture, and all before a pixel is
// half a millimetre.
func TestSmallWordsAreSeenFromNear(t *testing.T) {
	w := worktest.Ferry(t)
	wide := screen.Frame(w, 0).Width()
	seen := 0
	for _, m := range holeMap(t, w, 0).Marks {
		if m.Kind != "text" || !in(m, "codes") && !in(m, "numbers") {
			continue
		}
		seen++
		var from float64
		near := m.Groups[slices.IndexFunc(m.Groups, func(g string) bool { return strings.HasPrefix(g, "near ") })]
		_, err := fmt.Sscanf(near, "near %g", &from)
		require.NoError(t, err)
		assert.InDelta(t, math.Min(6, 2*m.Text.Height), m.Text.Height*from/wide, 0.05)
		assert.Greater(t, from, 120.0, "the width of the small pictures of the faces")
		assert.LessOrEqual(t, from, 2*wide+1)
	}
	assert.NotZero(t, seen)
	var svg bytes.Buffer
	c := draw.NewScreenSVG(&svg, draw.About{Title: "Wall"})
	require.NoError(t, screen.Face(c, w, 0, screen.LookHoles))
	require.NoError(t, c.Close())
	assert.Regexp(t, `<style>@media not all and \(min-width:\d+px\)\{\.n1\{display:none\}\}</style><g class="n1">`, svg.String())
}
