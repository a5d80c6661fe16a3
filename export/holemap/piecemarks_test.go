package holemap

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
)

// The mark of a piece tells its holes alone: it outlasts another number and other pieces, and not a move.
func TestPieceMarks(t *testing.T) {
	base := layout(20, rand.New(rand.NewPCG(7, 8)))
	of := func(pieces []scatter.Piece) map[int]string {
		m, err := Make(room(), kinds(), scatter.Layout{Pieces: pieces})
		require.NoError(t, err)
		return PieceMarks(room(), m.Holes)
	}
	marks := of(base.Pieces)
	require.Len(t, marks, len(base.Pieces))
	seen := map[string]bool{}
	for _, m := range marks {
		assert.Len(t, m, pieceMarkLength)
		assert.False(t, seen[m])
		seen[m] = true
	}
	other := slices.Clone(base.Pieces[5:])
	for i := range other {
		other[i].ID += 100
	}
	other[0].At.X += 0.1
	for i, p := range other {
		if now := of(other)[p.ID]; i == 0 {
			assert.NotContains(t, seen, now)
		} else {
			assert.Equal(t, marks[p.ID-100], now)
		}
	}
}
