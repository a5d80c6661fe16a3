package yamledit_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/yamledit"
	"wallshoal/cmd/wallshoal/yamlfile"
)

// Files made to keep a reader busy are changed or refused.
func TestHostileTexts(t *testing.T) {
	n := 20_000
	for name, c := range map[string]struct {
		text  string
		fails bool
	}{
		"one long list":      {"a: [" + strings.Repeat("1,", n) + "1]\nb: 1\n", false},
		"one long map":       {"a: {" + strings.Repeat("k: , ", n) + "}\nb: 1\n", false},
		"many empty items":   {"a:\n" + strings.Repeat("-\n", n) + "b: 1\n", false},
		"many comments":      {"a: 1 # x\n" + strings.Repeat("# y\n", n) + "b: 1\n", false},
		"many wide letters":  {"a: " + strings.Repeat("ü ", n) + "\nb: 1\n", false},
		"deep within":        {"a: " + strings.Repeat("[", 9000) + strings.Repeat("]", 9000) + "\nb: 1\n", false},
		"deeper":             {"a: " + strings.Repeat("[", n) + "\nb: 1\n", true},
		"too many values":    {"a: [" + strings.Repeat("1,", yamlfile.MaxValues) + "1]\nb: 1\n", true},
		"too long":           {"b: 1\na: " + strings.Repeat("x", yamlfile.MaxBytes), true},
		"unfolds":            {"a: &a [1]\n" + strings.Repeat("c: [*a, *a]\n", n) + "b: 1\n", false},
		"a quotation opens":  {"b: 1\na: \"" + strings.Repeat("\\\"", n), true},
		"ends in the middle": {"b: 1\na: \"\\", true},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := yamledit.Apply([]byte(c.text), []yamledit.Change{{Path: path(t, "b"), Value: 2}})
			assert.Equal(t, c.fails, err != nil, err)
			if err == nil {
				assert.Equal(t, strings.Replace(c.text, "b: 1\n", "b: 2\n", 1), string(got))
			}
		})
	}
}

func BenchmarkApply(b *testing.B) {
	text, err := os.ReadFile("../../../examples/ferry-terminal.yaml")
	require.NoError(b, err)
	changes := []yamledit.Change{{Path: path(b, "composition.count"), Value: 441}}
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := yamledit.Apply(text, changes); err != nil {
			b.Fatal(err)
		}
	}
}
