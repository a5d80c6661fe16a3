package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// careful is a plan of one sharp piece low on a thin glass wall with a wet room behind it, in which one
// caution is acknowledged, and one that is not there.
func careful() string {
	plan := strings.Replace(small(`      thickness: 40
      behind: wet room
      far-side:
        - {kind: fixture, name: wash basin, left: 0, bottom: 0, width: 4000, height: 2700}
      zones:
        - {name: upper part, left: 0, bottom: 600, width: 4000, height: 2100, reason: out of the way}
`, ""), "surface: brick", "surface: glass", 1)
	plan = strings.Replace(plan, "stand-off: 5", "stand-off: 5\n    edges: sharp", 1)
	return plan + `cautions:
  acknowledged:
    - {caution: behind, wall: Wall, reason: surveyed in May, by: building manager}
    - {caution: heat, reason: it is off for good, by: caretaker}
`
}

func TestCautionsShowWhereverSomebodyLooks(t *testing.T) {
	const unmet = "heat is acknowledged by the caretaker, and there is no such caution in this layout: it is off for good"
	text := said(t, careful())
	for _, says := range []string{
		"ask, acknowledged: behind, Wall (1 piece, 1 hole)", "ask: glass, Wall, wall (1 piece, 1 hole)", "ask: sharp-piece, Wall, wall",
		"ask: far-side, Wall, wall", "ask: comes-through, Wall, wall", "note: mineral-dust, Wall",
		"heat is acknowledged, and there is no such caution", "pieces that burn cover 0.0 % of Wall; the limit set is 10.0 %",
	} {
		assert.Contains(t, text, says)
	}

	dir := t.TempDir()
	file, out := filepath.Join(dir, "glass.yaml"), filepath.Join(dir, "pack")
	require.NoError(t, os.WriteFile(file, []byte(careful()), 0o644))
	var say, errs bytes.Buffer
	require.Equal(t, done, run([]string{"pack", file, "-o", out}, strings.NewReader(""), &say, &errs), errs.String())
	assert.Contains(t, strings.Join(strings.Fields(errs.String()), " "), unmet)

	holes := rows(t, filepath.Join(out, "holes.csv"))
	require.Len(t, holes, 1)
	for _, code := range []string{"comes-through", "far-side", "glass", "sharp-piece"} {
		assert.Contains(t, holes[0]["caution"], code)
	}
	page, err := os.ReadFile(filepath.Join(out, "scope.md"))
	require.NoError(t, err)
	assert.Contains(t, string(page), "### Acknowledged: somebody has decided")
	assert.Contains(t, string(page), unmet)
	assert.Contains(t, string(page), "### What burns")

	var scope struct {
		Unmet []struct{ Code, By string }
		Burns []struct {
			Wall  string
			Limit float64
			Kept  bool
		}
	}
	content, err := os.ReadFile(filepath.Join(out, "scope.json"))
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(content, &scope))
	require.Len(t, scope.Unmet, 1)
	assert.Equal(t, [2]string{"heat", "caretaker"}, [2]string{scope.Unmet[0].Code, scope.Unmet[0].By})
	require.Len(t, scope.Burns, 1)
	assert.Equal(t, [3]any{"Wall", 0.10, true}, [3]any{scope.Burns[0].Wall, scope.Burns[0].Limit, scope.Burns[0].Kept})

	key := output(t, "pdftotext", filepath.Join(out, "hole-map.pdf"), "-")
	key = strings.Join(strings.Fields(key), " ")
	for _, says := range []string{"Acknowledged by the building manager: surveyed in May.", "Glass shatters", "sharp edges or points hang lower"} {
		assert.Contains(t, key, says)
	}
}
