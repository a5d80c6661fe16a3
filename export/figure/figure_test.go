package figure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/export/figure"
	"wallshoal/wall/plane"
)

func TestTheFigureStandsOnItsFeet(t *testing.T) {
	rings := figure.Rings()
	b := plane.Rect{}
	for _, r := range rings {
		b = b.Union(r.Bounds())
	}
	assert.Equal(t, 0.0, b.Min.Y, "the soles are on the floor")
	assert.InDelta(t, figure.Height, b.Max.Y, 0.5)
	assert.InDelta(t, figure.Width, b.Width(), 10)
	assert.InDelta(t, 0, b.Min.X+b.Max.X, 1e-9, "it is even on both sides")
}
