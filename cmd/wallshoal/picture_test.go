package main

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "draw the README's picture again")

// TestTheReadmesPicture holds the picture in the README to what the demonstration draws today.
func TestTheReadmesPicture(t *testing.T) {
	const picture = "../../examples/ferry-terminal.svg"
	drawn, err := os.ReadFile(filepath.Join(demonstrated(t), "room.svg"))
	require.NoError(t, err)
	if *update {
		require.NoError(t, os.WriteFile(picture, drawn, 0o666))
	}
	shown, err := os.ReadFile(picture)
	require.NoError(t, err)
	require.True(t, string(shown) == string(drawn),
		"the README shows another picture; look at the new one and then: go test ./cmd/wallshoal -run Picture -update")
}
