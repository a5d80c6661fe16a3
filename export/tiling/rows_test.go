package tiling

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// However much sheets overlap, every hole lies on a sheet of its row. Where paper reaches far beyond what is
// a sheet's own, the next may not start, and a sheet that holds nothing can stand between two.
func TestRowsHoldEveryHoleHoweverMuchSheetsOverlap(t *testing.T) {
	rng := rand.New(rand.NewPCG(30, 12))
	bare := 0
	for range 60 {
		const wide, tall = 269.5, 380.0
		overlap := 28 + float64(rng.IntN(14))
		across := axis{step: 1, pitch: wide - overlap, least: leastWidth, apart: wide, lip: 4.5}
		down := axis{step: 1, pitch: tall - overlap, least: leastHeight, apart: tall, lip: 4.5, thin: true}
		holes := make([]placed, 2+rng.IntN(180))
		for i := range holes {
			holes[i] = placed{at: 700 * rng.Float64(), across: 6400 * rng.Float64(), reach: 4}
		}
		search := newRowSearch(across, down, holes)
		search.rise, search.drop = 2*SeamAir, overlap-LeastOverlap
		lines, rows := search.best(1 << 30)
		require.NotEmpty(t, rows)
		on := 0
		for i, r := range rows {
			require.Len(t, r.tops, len(r.lefts))
			for n, left := range r.lefts {
				held := 0
				for _, h := range holes {
					inRow := h.at >= lines[i] && (i+1 == len(lines) || h.at < lines[i+1])
					inSheet := h.across >= left && h.across < left+across.pitch && (n+1 == len(r.lefts) || h.across < r.lefts[n+1])
					if inRow && inSheet {
						held++
						assert.Less(t, h.at, r.tops[n]+down.pitch)
					}
				}
				if on += held; held == 0 {
					bare++
				}
			}
		}
		require.Equal(t, len(holes), on, "overlap %g", overlap)
	}
	assert.Positive(t, bare, "a sheet that holds nothing")
}
