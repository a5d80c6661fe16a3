package template

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/export/sheet"
	"wallshoal/wall"
)

// What people are to see, to reach and to go through in a fire is never papered over (29 CFR 1910.37(a)(3)
// and (b), on ways out kept free and signs kept in sight, from memory; common practice).
func TestNothingForAFireIsPaperedOver(t *testing.T) {
	for _, kind := range []wall.ObstructionKind{wall.ExitSign, wall.CallPoint, wall.Alarm, wall.Extinguisher, wall.Detector, wall.Sprinkler} {
		assert.Contains(t, sheet.OverWords(kind), "cut this out", string(kind))
	}
	assert.Contains(t, sheet.OverWords(wall.ExitDoor), "end the paper at its frame")
	assert.Contains(t, sheet.OverWords(wall.Window), "only where it is flush")
}
