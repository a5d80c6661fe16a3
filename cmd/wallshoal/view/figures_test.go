package view

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/examples"
)

// The sheets and key pages that the page counts are the pages of the hole map.
func TestAllPagesOfTheHoleMapAreCounted(t *testing.T) {
	rarely(t)
	for name, text := range map[string]string{"small": small, "ferry": examples.Ferry} {
		v := served(t, text)
		f := decoded[figures](t, v.get("/api/figures?revision="+strconv.Itoa(decoded[state](t, v.get("/api/state").body).Revision)).body)
		file := filepath.Join(t.TempDir(), "hole-map.pdf")
		require.NoError(t, os.WriteFile(file, []byte(v.get("/export/hole-map.pdf").body), 0o600))
		assert.Positive(t, f.Keys)
		assert.Equal(t, f.Sheets+f.Keys, printed(t, file), name)
	}
}

// printed returns how many pages a PDF has, as another program counts them.
func printed(t *testing.T, file string) int {
	t.Helper()
	if _, err := exec.LookPath("qpdf"); err != nil {
		t.Skip("there is no qpdf to count pages with")
	}
	out, err := exec.CommandContext(t.Context(), "qpdf", "--show-npages", file).Output()
	require.NoError(t, err)
	n, err := strconv.Atoi(strings.TrimSpace(string(out)))
	require.NoError(t, err)
	return n
}

// BenchmarkFigures is how long the figures take: while somebody drags they come no more often than that.
func BenchmarkFigures(b *testing.B) {
	ask, _ := asking(b, 440)
	for i := 0; b.Loop(); i++ {
		b.StopTimer()
		ask("POST", "/api/knobs", `{"gesture":"drag","set":[{"knob":"composition.spread","value":"`+strconv.Itoa(15+i%2)+`"}]}`)
		var st state
		require.NoError(b, json.Unmarshal([]byte(ask("GET", "/api/state", "")), &st))
		b.StartTimer()
		ask("GET", "/api/figures?revision="+strconv.Itoa(st.Revision), "")
	}
}
