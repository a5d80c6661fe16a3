package main

import (
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"wallshoal/cmd/wallshoal/job"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A drawing is sought beside the plan, wherever the program was started; what comes through the
// standard input lies nowhere.
func TestADrawingBesideThePlan(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "hall.yaml")
	text := strings.Replace(starter, "composition:\n", "composition:\n  density: {maps: {wall: Hall wall, file: maps/shoal.svg}}\n", 1)
	require.NotEqual(t, starter, text)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "maps"), 0o700))
	open := func(path string) error {
		_, err := desk{in: strings.NewReader(text), out: io.Discard, errs: io.Discard}.open(path)
		return err
	}
	assert.ErrorContains(t, open(path), `"maps/shoal.svg" is not there`)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "maps", "shoal.svg"), []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 5"><rect width="5" height="5"/></svg>`), 0o600))
	assert.NoError(t, open(path))
	assert.ErrorContains(t, open("-"), `standard input:`)
	assert.ErrorContains(t, open("-"), `the plan was not read from a folder`)
}

// A base says how many pieces there are once the room is surveyed; what it comes to must be possible.
func TestABaseCounts(t *testing.T) {
	read := func(base string) (job.Job, error) {
		text := regexp.MustCompile(`\n  count: \d+.*`).ReplaceAllString(starter, "\n  density: {base: "+base+"}")
		require.NotEqual(t, starter, text)
		return job.Read("hall.yaml", []byte(text))
	}
	j, err := read("10 per m2")
	require.NoError(t, err)
	free := 0.0
	for _, f := range j.Site.Faces {
		free += f.Free().Area() / 1e6
	}
	assert.InDelta(t, 10*free, float64(j.Plan.Composition.Count), 0.6)
	_, err = read("0.01 per m2")
	assert.ErrorContains(t, err, "composition.density.base: comes to 0 pieces on these walls, and there is to be at least one; write another base, or a count in its place")
	assert.Regexp(t, `^hall.yaml:\d+: `, err.Error())
	_, err = read("100000 per m2")
	assert.ErrorContains(t, err, "is not a number of pieces")
}
