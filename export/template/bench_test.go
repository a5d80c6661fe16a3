package template_test

import (
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/template"
	"wallshoal/export/worktest"
)

func BenchmarkHoleMapOfTwoWalls(b *testing.B) {
	w := worktest.Ferry(b)
	for b.Loop() {
		p := draw.NewPDF(draw.About{Title: w.Title}, w.Date)
		require.NoError(b, template.HoleMap(p, worktest.CutUp(b, w, worktest.Print("A4"))))
		_, err := p.WriteTo(io.Discard)
		require.NoError(b, err)
	}
}

func BenchmarkElevation(b *testing.B) {
	w := worktest.Ferry(b)
	for b.Loop() {
		s := draw.NewSVG(io.Discard, draw.About{Title: w.Title})
		require.NoError(b, elevation.Draw(s, w, 0))
		require.NoError(b, s.Close())
	}
}
