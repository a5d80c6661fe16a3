package knob

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/examples"
	"wallshoal/scatter"
)

// BenchmarkRemarks is what every state of the page waits for, of 2,000 small pieces.
func BenchmarkRemarks(b *testing.B) {
	text := []byte(strings.NewReplacer("count: 440", "count: 2000", "spacing: 96", "spacing: 40", "gap: 8", "gap: 1", "length: 120", "length: 40", "length: 112", "length: 40",
		"length: 67", "length: 24", "length: 130", "length: 44", "length: 105", "length: 40").Replace(examples.Ferry))
	j, err := job.ReadBeside("ferry", text, examples.Files)
	require.NoError(b, err)
	layout, err := j.LayFrom(b.Context(), scatter.Start{}, j.Plan.Seed, nil)
	require.NoError(b, err)
	for b.Loop() {
		Remarks(j, text, layout, true)
	}
}
