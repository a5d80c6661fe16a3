package scope

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/stand"
)

func TestStandsCountEveryPieceAndHole(t *testing.T) {
	w := work(t)
	stands, err := stand.Plan(w, stand.UsualReach())
	require.NoError(t, err)
	s, err := Of(w)
	require.NoError(t, err)
	assert.Nil(t, s.Stands)
	pieces, holes := 0, 0
	for i, at := range s.Installed(w, stands).Stands {
		assert.Equal(t, i+1, at.Number)
		pieces, holes = pieces+len(at.Pieces), holes+at.Holes
	}
	assert.Equal(t, s.Pieces, pieces)
	assert.Equal(t, s.Holes, holes)
}
