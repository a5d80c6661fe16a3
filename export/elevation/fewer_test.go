package elevation

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestFewerWordsOfALevelLine(t *testing.T) {
	for text, want := range map[string]string{
		"DATUM 1500 mm": "DATUM 1500", "LINE 180 mm from its back edge": "LINE 180", `DATUM 4'-9"`: `DATUM 4'-9"`,
		"level, 400 mm below the datum": "400 mm below", "level, 12.5 cm above the level 345.0": "12.5 cm above",
	} {
		assert.Equal(t, want, Fewer(text))
	}
	assert.Equal(t, "400 mm below datum", Briefer("level, 400 mm below the datum"))
	assert.Equal(t, "12.5 cm above level 345.0", Briefer("level, 12.5 cm above the level 345.0"))
	assert.Equal(t, "DATUM", Fewest("DATUM 1500 mm"))
	assert.Equal(t, "LEVEL 3450", Fewest("LEVEL 3450 mm"), "of these there can be several")
}
