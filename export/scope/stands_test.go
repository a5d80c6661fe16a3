package scope

import (
	"bytes"
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

// Heights count from the floor where one stands, in the scope as in its page.
func TestReachCountsFromTheFloorThere(t *testing.T) {
	w := work(t)
	stands, err := stand.Plan(w, stand.UsualReach())
	require.NoError(t, err)
	stands[0].Foot.Height, stands[0].Foot.Steps, stands[0].Later = 400, true, stands[0].Pieces[:1]
	s, err := Of(w)
	require.NoError(t, err)
	s = s.Installed(w, stands)
	assert.InDelta(t, stands[0].High-400, s.Stands[0].High, 0.01)
	assert.Equal(t, 400.0, s.Stands[0].Floor)
	assert.True(t, s.Stands[0].Steps)
	table := s.StandTable(w.Units)
	require.Len(t, table.Rows, len(stands)+1)
	for _, row := range table.Rows {
		assert.Len(t, row, len(table.Heads))
	}
	assert.Equal(t, "1", table.Rows[len(stands)][6])
	for i, at := range stands {
		assert.Equal(t, w.Site.Room.Walls[at.Place.Wall].Name, s.Stands[i].Before)
	}
	stands[0].Place.Off = 800
	s = s.Installed(w, stands)
	assert.Equal(t, 800.0, s.Stands[0].Off)
	assert.Contains(t, s.StandTable(w.Units).Rows[0][3], s.Stands[0].Before+": ", "from which wall, where it is not the face's own")
	var page bytes.Buffer
	require.NoError(t, WriteMarkdown(&page, w, s))
	assert.Contains(t, page.String(), "above the floor where one stands")
}
