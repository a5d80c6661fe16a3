package folder

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOneFileIsWrittenWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "plan.yaml")
	require.NoError(t, WriteFile(t.Context(), path, text("", "one").Write))
	assert.Equal(t, map[string]string{"plan.yaml": "one"}, tree(t, dir))

	err := WriteFile(t.Context(), path, text("", "two").Write)
	assert.ErrorContains(t, err, "is there already")
	assert.Equal(t, map[string]string{"plan.yaml": "one"}, tree(t, dir))

	require.NoError(t, ReplaceFile(t.Context(), path, text("", "two").Write))
	assert.Equal(t, map[string]string{"plan.yaml": "two"}, tree(t, dir))
}

func TestAFileThatCannotBeWrittenLeavesTheOldOne(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "plan.yaml")
	put(t, path, "old")
	failed := errors.New("no")
	assert.ErrorIs(t, ReplaceFile(t.Context(), path, func(io.Writer) error { return failed }), failed)

	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	assert.ErrorIs(t, ReplaceFile(ctx, path, text("", "new").Write), context.Canceled)

	assert.ErrorContains(t, WriteFile(t.Context(), path+"2", func(io.Writer) error {
		put(t, path+"2", "put there meanwhile")
		return nil
	}), "is there already")
	assert.Equal(t, map[string]string{"plan.yaml": "old", "plan.yaml2": "put there meanwhile"}, tree(t, dir))
}

func TestWhereNoFileCanStand(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "file"), "a")
	require.NoError(t, os.Symlink(filepath.Join(dir, "file"), filepath.Join(dir, "link")))
	require.NoError(t, os.Symlink(filepath.Join(dir, "nowhere"), filepath.Join(dir, "broken")))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "folder"), 0o777))
	before := tree(t, dir)
	tests := []struct{ path, want string }{
		{"", "no file is named"},
		{filepath.Join(dir, "no", "plan.yaml"), "does not exist; make it first"},
		{filepath.Join(dir, "file", "plan.yaml"), "is a file, not a folder"},
		{filepath.Join(dir, "folder"), "is a folder"},
		{filepath.Join(dir, "link"), "is a link"},
		{filepath.Join(dir, "broken"), "is a link"},
	}
	for _, tt := range tests {
		assert.ErrorContains(t, ReplaceFile(t.Context(), tt.path, text("", "b").Write), tt.want)
		assert.Error(t, WriteFile(t.Context(), tt.path, text("", "b").Write))
	}
	assert.Equal(t, before, tree(t, dir))
}
