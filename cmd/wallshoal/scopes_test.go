package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// scopesAgree looks for every figure of the tables of scope.md in the text that poppler reads out of
// scope.pdf, which tells narrow spaces from none only at times.
func scopesAgree(t *testing.T, dir string) {
	page, err := os.ReadFile(filepath.Join(dir, "scope.md"))
	require.NoError(t, err)
	squeezed := func(s string) string { return strings.Join(strings.Fields(s), "") }
	drawn := squeezed(output(t, "pdftotext", "-layout", filepath.Join(dir, "scope.pdf"), "-"))
	figures := 0
	var lean []string // what says which columns hold figures
	for line := range strings.Lines(string(page)) {
		row, table := strings.CutPrefix(strings.TrimSpace(line), "| ")
		cells := strings.Split(strings.TrimSuffix(row, "|"), "|")
		switch {
		case !table:
			lean = nil
		case strings.HasPrefix(row, "--- |"), strings.HasPrefix(row, "---: |"):
			lean = cells
		case len(lean) == len(cells):
			for i, c := range cells {
				if figure := squeezed(strings.ReplaceAll(c, `\`, "")); figure != "" && !strings.HasPrefix(figure, "![") && strings.Contains(lean[i], ":") {
					figures++
					assert.Contains(t, drawn, figure, "%s", line)
				}
			}
		}
	}
	assert.Greater(t, figures, 40)
}
