package easel

import (
	"context"
	"io"
	"os"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/folder"
)

// Where a file cannot be written the files are as they were, what is shown stays, and saving works once that is put right. What was
// written before it failed is not taken for another's.
func TestSavingThatFails(t *testing.T) {
	e, path := opened(t)
	both := func(x float64, count string) {
		require.NoError(t, e.Hand(t.Context(), "", []Move{placed(5, 1, x, 1300, 45)}, false))
		require.NoError(t, e.Change(t.Context(), "", turnedTo("composition.count", count)))
	}
	both(700, "31")
	require.NoError(t, os.Chmod(path, 0o444))
	err := e.Save(t.Context(), "")
	require.ErrorContains(t, err, "hall.yaml is read-only")
	assert.NoFileExists(t, LayoutBeside(path), "neither is written")
	require.NoError(t, os.Chmod(path, 0o644))

	e.replace = func(ctx context.Context, to string, write func(io.Writer) error) error {
		if to == path {
			return syscall.ENOSPC
		}
		return folder.ReplaceFile(ctx, to, write)
	}
	err = e.Save(t.Context(), "")
	require.ErrorIs(t, err, syscall.ENOSPC)
	assert.Equal(t, "hall.yaml is not saved: no space left on device; nothing is lost: put that right, and save again", err.Error())
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, small, string(text))
	_, status := e.Now()
	assert.Equal(t, []string{"hall.yaml"}, status.Unsaved)
	assert.Equal(t, Same, status.Outside)

	both(800, "32")
	e.replace = folder.ReplaceFile
	require.NoError(t, e.Save(t.Context(), ""), "the layout there is one's own")
	_, status = e.Now()
	assert.True(t, status.Saved)
}

// A layout that another program writes is taken where nothing was placed here; a step from before it asks before it is saved over it, and so
// does one whose file is gone.
func TestALayoutChangedOutside(t *testing.T) {
	e, path := opened(t)
	layout := LayoutBeside(path)
	require.NoError(t, e.Hand(t.Context(), "", []Move{placed(5, 1, 700, 1300, 45)}, false))
	require.NoError(t, e.Save(t.Context(), ""))
	saved, err := os.ReadFile(layout)
	require.NoError(t, err)
	for _, y := range []string{"1310", "1320"} {
		require.NoError(t, os.WriteFile(layout, []byte(strings.Replace(string(saved), "[700, 1300]", "[700, "+y+"]", 1)), 0o644))
		changed, err := looked(t, e)
		require.NoError(t, err)
		assert.True(t, changed, "taken by itself, though it has not the form that is written here")
		_, status := e.Now()
		assert.Equal(t, Same, status.Outside)
		assert.True(t, status.Saved)
	}
	require.NoError(t, e.Walk(-1, false))
	_, status := e.Now()
	assert.Equal(t, Changed, status.Outside)
	assert.Equal(t, "hall.layout.yaml", status.File)
	require.ErrorIs(t, e.Save(t.Context(), ""), ErrOutside)
	require.NoError(t, e.TakeTheirs(t.Context()))
	assert.InDelta(t, 1320, pieces(e)[4].At.Y, 0)

	require.NoError(t, os.WriteFile(layout, []byte("pieces: 3\n"), 0o644))
	_, err = looked(t, e)
	require.NoError(t, err)
	_, status = e.Now()
	assert.Equal(t, Faulty, status.Outside)
	require.NoError(t, os.Remove(layout))
	_, err = looked(t, e)
	require.NoError(t, err)
	_, status = e.Now()
	assert.Equal(t, Gone, status.Outside)
	assert.Empty(t, status.Faults)
	require.ErrorIs(t, e.Save(t.Context(), ""), ErrOutside)
	require.NoError(t, e.Save(t.Context(), seen(t, e)))
	assert.FileExists(t, layout)
}
