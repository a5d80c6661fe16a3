package nesting_test

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/nesting"
)

// A drawing is of the sheet's size, and has a line for each piece and nothing else to cut.
func TestDrawing(t *testing.T) {
	n := nest(t, stock(400, 300, 10, 3, nesting.Any),
		nesting.Part{Code: "A", Outline: leaf(80, 30), Count: 14}, nesting.Part{Code: "B", Outline: horn(40), Count: 12},
		nesting.Part{Code: "C", Outline: triangle(50, 50), Count: 12})
	var b bytes.Buffer
	svg := draw.NewSVG(&b, draw.About{Title: "Nest"})
	n.Draw(svg, n.Sheets[0])
	require.NoError(t, svg.Close())
	assert.Contains(t, b.String(), `width="400.000mm" height="300.000mm"`)
	assert.Equal(t, len(n.Sheets[0].Placements), strings.Count(b.String(), "<path"))
	assert.Contains(t, b.String(), "<title>cut</title>")
	assert.Contains(t, b.String(), "<title>codes</title>")
	assert.Equal(t, "nest-01.svg", nesting.FileName(0))
	if to := os.Getenv("LOOK"); to != "" {
		require.NoError(t, os.WriteFile(to, b.Bytes(), 0o644))
	}
}
