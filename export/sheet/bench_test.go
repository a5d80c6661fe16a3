package sheet_test

import (
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/sheet"
)

func BenchmarkHoleMapOfTwoWalls(b *testing.B) {
	w := ferry(b)
	for b.Loop() {
		p := draw.NewPDF(draw.About{Title: w.Title}, w.Date)
		require.NoError(b, sheet.HoleMap(p, cutUp(b, w, print("A4"))))
		_, err := p.WriteTo(io.Discard)
		require.NoError(b, err)
	}
}

func BenchmarkElevation(b *testing.B) {
	w := ferry(b)
	for b.Loop() {
		s := draw.NewSVG(io.Discard, draw.About{Title: w.Title})
		require.NoError(b, sheet.Elevation(s, w, 0))
		require.NoError(b, s.Close())
	}
}
