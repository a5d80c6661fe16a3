package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/cmd/wallshoal/progress"
)

// What hangs stays on the command line, whatever else is laid anew; and where a layout has it elsewhere, its old holes count.
func TestWhatHangsOnTheCommandLine(t *testing.T) {
	t.Chdir(t.TempDir())
	do := func(line string) (out, errs string) {
		t.Helper()
		var o, e bytes.Buffer
		require.Equal(t, done, run(strings.Fields(line), strings.NewReader(""), &o, &e), e.String())
		return o.String(), e.String()
	}
	do("new hall.yaml")
	do("lay hall.yaml -o old.yaml")
	text, err := os.ReadFile("hall.yaml")
	require.NoError(t, err)
	j, err := job.Read("hall.yaml", text)
	require.NoError(t, err)
	data, err := os.ReadFile("old.yaml")
	require.NoError(t, err)
	layout, _, err := layoutfile.Read("old.yaml", data, j.Site, j.Plan.Kinds)
	require.NoError(t, err)
	work, err := j.Work(layout)
	require.NoError(t, err)
	log, err := progress.Open(t.Context(), "hall.progress")
	require.NoError(t, err)
	require.NoError(t, log.Up(time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC), work.Map.Fingerprint, progress.Pieces(work)[:5]...))
	require.NoError(t, log.Close())

	_, errs := do("lay hall.yaml --from old.yaml --progress hall.progress --seed 9 -o round.yaml")
	assert.Contains(t, errs, "kept 5 pieces as laid, 0 locked, 5 hanging")
	do("lay hall.yaml --progress hall.progress --seed 9 -o places.yaml") // by their places alone
	for _, name := range []string{"round.yaml", "places.yaml"} {
		out, _ := do("take-down hall.yaml --layout " + name + " --progress hall.progress --json")
		assert.Contains(t, out, `"earlier_holes": 0`, name)
	}
	do("lay hall.yaml --seed 9 -o anew.yaml")
	before, _ := do("take-down hall.yaml --layout anew.yaml --json")
	out, _ := do("take-down hall.yaml --layout anew.yaml --progress hall.progress")
	assert.Contains(t, before, `"holes": 150`)
	assert.Regexp(t, `15[0-9] holes to fill`, out)
	assert.Contains(t, out, "are of pieces that hung elsewhere before.")
	do("lay hall.yaml --from anew.yaml --mend --progress hall.progress -o back.yaml")
	out, _ = do("take-down hall.yaml --layout back.yaml --progress hall.progress --json")
	assert.Contains(t, out, `"earlier_holes": 0`, "what hangs is brought back")
}
