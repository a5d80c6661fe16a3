package holemap

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
)

// A hole keeps its number whatever happens to other pieces, and no number is given twice or again.
func TestHolesKeepTheirNumbers(t *testing.T) {
	ks := kinds()
	rng := rand.New(rand.NewPCG(5, 5))
	old := layout(30, rng)
	before, err := Make(room(), ks, old)
	require.NoError(t, err)
	same, differs := before.NumberedAs(before)
	assert.Equal(t, before, same)
	assert.False(t, differs)

	now := scatter.Layout{Pieces: slices.Delete(slices.Clone(old.Pieces), 3, 5)}
	now.Pieces[10].At.X += 40
	now.Pieces[0].Face = (now.Pieces[0].Face + 1) % 3
	now.Pieces = append(now.Pieces, scatter.Piece{ID: 99, Kind: 1, At: now.Pieces[2].At})
	m, err := Make(room(), ks, now)
	require.NoError(t, err)
	got, differs := m.NumberedAs(before)
	assert.True(t, differs)
	numbers := func(holes []Hole) map[int][]int {
		out := map[int][]int{}
		for _, h := range holes {
			out[h.Piece] = append(out[h.Piece], h.Number)
		}
		return out
	}
	was, seen := numbers(before.Holes), map[int]bool{}
	for piece, list := range numbers(got.Holes) {
		if piece != 99 {
			assert.Equal(t, was[piece], list, "piece %d", piece)
		}
		for _, n := range list {
			assert.False(t, seen[n], "number %d twice", n)
			assert.True(t, piece != 99 || n > len(before.Holes), "a new hole has a new number")
			seen[n] = true
		}
	}
	assert.Equal(t, m.Fingerprint, got.Fingerprint)
}
