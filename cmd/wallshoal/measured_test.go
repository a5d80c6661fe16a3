package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The bars are 100 mm and 4 in, which are 101.6 mm.
func TestMeasuredFlag(t *testing.T) {
	for text, want := range map[string][2]float64{
		"99.4x100.2": {99.4, 100.2}, "100 × 98.5": {100, 98.5}, "9.94cm x 100": {99.4, 100},
		"3.98inx4.01in": {99.5, 100.25}, `4"x3.96"`: {100, 99},
	} {
		var f measuredFlag
		require.NoError(t, f.Set(text), text)
		assert.InDelta(t, want[0], f.measured.Across, 1e-9, text)
		assert.InDelta(t, want[1], f.measured.Up, 1e-9, text)
	}
	for text, want := range map[string]string{
		"99.4": "is not two lengths", "99.4xfour": "is not a length", "90x100": "off by more than 3 %", "100x0": "off by more",
		"3.98inx100in": "off by more",
	} {
		var f measuredFlag
		assert.ErrorContains(t, f.Set(text), want, text)
	}
}
