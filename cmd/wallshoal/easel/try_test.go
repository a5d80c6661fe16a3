package easel

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTryAndTake(t *testing.T) {
	e, _ := opened(t)
	tried, err := e.Try(t.Context(), replacing("seed: 3", "seed: 4"))
	require.NoError(t, err)
	shown, status := e.Now()
	assert.NotEqual(t, shown.Work.Layout.Pieces, tried.Work.Layout.Pieces)
	assert.NotEqual(t, shown.Revision, tried.Revision)
	assert.False(t, status.Undo)
	require.NoError(t, e.Take(tried))
	assert.Equal(t, tried.Work.Layout.Pieces, pieces(e))
	require.NoError(t, e.Walk(-1, false))
	assert.Equal(t, shown.Work.Layout.Pieces, pieces(e))
}

// An option that is taken is the plan, in one step: its text and its layout, and undo brings all back.
func TestAnOptionIsTaken(t *testing.T) {
	e, path := opened(t)
	text := small + "options:\n  - {name: few, count: 12}\n  - {name: as it is}\n  - {name: wide, spacing: 150, counts: {B: 0}}\n"
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	_, err := looked(t, e)
	require.NoError(t, err)
	require.NoError(t, e.Hand(t.Context(), "", []Move{{Do: Lock, ID: 3}}, false))
	before, _ := e.Now()

	tried, err := e.Option(t.Context(), "few")
	require.NoError(t, err)
	require.NoError(t, tried.Trial.Refused)
	require.NoError(t, e.Take(tried))
	now, status := e.Now()
	assert.Equal(t, strings.NewReplacer("count: 30", "count: 12").Replace(text), string(now.Text))
	assert.Equal(t, tried.Work.Layout.Pieces, now.Work.Layout.Pieces)
	assert.Len(t, now.Work.Layout.Pieces, 12)
	assert.Empty(t, now.Flaws)
	assert.Equal(t, []string{"hall.yaml"}, status.Unsaved)
	require.ErrorIs(t, e.Take(tried), ErrStale, "the plan is another by now")
	wide, err := e.Option(t.Context(), "wide")
	require.NoError(t, err)

	require.NoError(t, e.Walk(-1, false))
	again, _ := e.Now()
	assert.Equal(t, string(before.Text), string(again.Text))
	assert.Equal(t, before.Work.Layout, again.Work.Layout)
	require.ErrorIs(t, e.Take(wide), ErrStale)

	same, err := e.Option(t.Context(), "as it is")
	require.NoError(t, err)
	require.ErrorContains(t, same.Trial.Refused, "changes nothing")
	require.Error(t, e.Take(same))
	_, err = e.Option(t.Context(), "none such")
	require.Error(t, err)
}
