package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The order of work that goes with sheets has times where the plan has hours, as that of a pack, and says
// nothing of them where it has none.
func TestTheOrderOfSheetsHasTimes(t *testing.T) {
	hours := `hours:
  operations:
    - {name: drill, per: hole, minutes: {least: 3, likely: 4, most: 5}}
`
	for plan, timed := range map[string]bool{small("", ""): false, small("", "") + hours: true} {
		dir := t.TempDir()
		path := filepath.Join(dir, "one.yaml")
		require.NoError(t, os.WriteFile(path, []byte(plan), 0o600))
		var out, errs bytes.Buffer
		order := filepath.Join(dir, "order.pdf")
		require.Equal(t, done, run([]string{"template", path, "-o", filepath.Join(dir, "map.pdf"), "--order", order}, strings.NewReader(""), &out, &errs), errs.String())
		text := strings.Join(strings.Fields(output(t, "pdftotext", "-layout", order, "-")), " ")
		assert.Equal(t, timed, strings.Contains(text, "Time, about"), text)
		assert.Equal(t, timed, strings.Contains(text, "All 1 1 4 min"), text)
	}
}
