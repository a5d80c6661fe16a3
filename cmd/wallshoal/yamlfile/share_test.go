package yamlfile_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/cmd/wallshoal/yamlfile"
)

func TestShare(t *testing.T) {
	const fix = "give a number from 0 to 1, or per cent, like 20 %"
	for text, want := range map[string]any{
		"0.2": 0.2, "20 %": 0.2, "20%": 0.2, " 29 % ": 0.29, "100 %": 1.0, "0": 0.0, "1": 1.0, ".5": 0.5, "12.5 %": 0.125,
		"20":     "f:1: x: 20 is not a share of strays; write 20 % if it is meant per cent, or a number from 0 to 1",
		"101 %":  "f:1: x: 101 % is not a share of strays; " + fix,
		"101":    "f:1: x: 101 is not a share of strays; " + fix,
		"-1":     "f:1: x: -1 is not a share of strays; " + fix,
		"many":   `f:1: x: "many" is not a share of strays; ` + fix,
		"'%'":    `f:1: x: "%" is not a share of strays; ` + fix,
		"20 % %": `f:1: x: "20 % %" is not a share of strays; ` + fix,
		"0,2":    `f:1: x: "0,2" is not a share of strays; ` + fix,
		"[0.2]":  "f:1: x: is a list; write a share, like 0.2 or 20 %",
		"1e-1":   `f:1: x: "1e-1" is not a share of strays; ` + fix,
		".nan":   `f:1: x: ".nan" is not a share of strays; ` + fix,
	} {
		var got float64
		err := yamlfile.Read("f", []byte("x: "+text), yamlfile.MaxBytes, func(_ *yamlfile.File, top yamlfile.Map) {
			got, _ = top.Get("x").Share("a share of strays", 0, 1)
		})
		if said, wrong := want.(string); wrong {
			assert.EqualError(t, err, said, text)
		} else {
			assert.NoError(t, err, text)
			assert.Equal(t, want, got, text)
		}
	}
}
