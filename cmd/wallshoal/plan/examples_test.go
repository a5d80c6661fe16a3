package plan_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
)

// Every plan that a reader can run is without fault.
func TestExamples(t *testing.T) {
	files, err := filepath.Glob("../../../examples/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			p, err := plan.Read(file, data)
			require.NoError(t, err)
			assert.NotEmpty(t, p.Title)
			assert.NotEmpty(t, p.Room.Walls)
			assert.NotEmpty(t, p.Kinds)
			assert.Positive(t, p.Composition.Count)
		})
	}
}
