package plan_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/examples"
	"wallshoal/export/drafting"
	"wallshoal/export/tiling"
)

// printed returns the health centre's print section, which is in cm, with its lines replaced.
func printed(t *testing.T, section string) (tiling.Print, error) {
	t.Helper()
	head, rest, found := strings.Cut(examples.HealthCentre, "\nprint:\n")
	require.True(t, found)
	_, tail, _ := strings.Cut(rest, "\n\n")
	p, err := plan.Read("p.yaml", []byte(head+"\nprint:\n"+section+"\n"+tail))
	return p.Print, err
}

func TestPapersOfAPlan(t *testing.T) {
	for section, want := range map[string]drafting.Paper{
		"  paper: A0":              {Name: "A0", Width: 841, Height: 1189},
		"  paper: ARCH D":          {Name: "ARCH D", Width: 609.6, Height: 914.4},
		"  paper: {roll: 91.4}":    drafting.Roll(914),
		"  paper: {roll: 36 in}":   drafting.Roll(914.4),
		"  paper: {roll: 1067 mm}": drafting.Roll(1067),
	} {
		p, err := printed(t, section)
		require.NoError(t, err, section)
		assert.Equal(t, want, p.Paper, section)
		assert.True(t, p.Auto)
	}
	for section, want := range map[string][2]bool{"portrait": {}, "landscape": {true, false}, "auto": {false, true}} {
		p, err := printed(t, "  orientation: "+section)
		require.NoError(t, err, section)
		assert.Equal(t, want, [2]bool{p.Landscape, p.Auto}, section)
	}
	for section, want := range map[string]string{
		"  paper: A9":              "is not a paper",
		"  paper: {roll: 2}":       "print.paper.roll",
		"  paper: {roll: }":        "print.paper.roll",
		"  paper: {sheet: A4}":     "is not a known key",
		"  paper: [1, 2]":          "print.paper",
		"  paper: {roll: 11 cm}\n": "too little of a sheet of 110 mm roll",
	} {
		_, err := printed(t, section)
		assert.ErrorContains(t, err, want, section)
	}
}
