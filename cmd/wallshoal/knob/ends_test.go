package knob

import (
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/examples"
)

// Both ends of every slider of every example are values that the plan can have. Whether so many pieces find room at
// the end of one is known once they are laid, and then the refusal says how many do.
func TestBothEndsOfASliderAreAccepted(t *testing.T) {
	for name, text := range plans() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if os.Getenv("CI") != "true" && name != "ferry" && name != "reading room" {
				t.Skip("CI=true tries it")
			}
			j, err := job.ReadBeside(name, []byte(text), examples.Files)
			require.NoError(t, err)
			for _, k := range Of(j, []byte(text)) {
				if k.Max <= k.Min {
					continue
				}
				for _, end := range []float64{k.Min, k.Max} {
					value := strconv.FormatFloat(end, 'f', -1, 64)
					if k.Type == Percent {
						value += " %"
					}
					after, err := Change(j, []byte(text), []Setting{{k.ID, value}})
					require.NoError(t, err, k.ID)
					_, err = j.Reread(name, after, examples.Files)
					assert.NoError(t, err, "%s from %g to %g, at %s", k.ID, k.Min, k.Max, value)
				}
			}
		})
	}
}

// What a knob says is usual is what holds once the plan does not say it.
func TestTheUsualIsWhatHolds(t *testing.T) {
	seen := 0
	for _, name := range []string{"ferry", "reading room"} { // in mm, and in inches
		text := plans()[name]
		j, err := job.ReadBeside(name, []byte(text), examples.Files)
		require.NoError(t, err)
		for _, k := range Of(j, []byte(text)) {
			if !k.Given {
				assert.Equal(t, k.Usual, k.Value, k.ID)
				continue
			}
			if k.Needed || k.Type == Place || k.Type == Path {
				assert.Empty(t, k.Usual, k.ID)
				continue
			}
			after, err := Change(j, []byte(text), []Setting{{k.ID, ""}})
			if err != nil {
				continue // its comments would be lost
			}
			without, err := j.Reread(name, after, examples.Files)
			if err != nil {
				continue // something else rests on it
			}
			written, err := Change(j, []byte(text), []Setting{{k.ID, k.Usual}})
			require.NoError(t, err, k.ID)
			if k.Usual == none || k.Usual == everywhere {
				continue
			}
			same, err := j.Reread(name, written, examples.Files)
			require.NoError(t, err, "%s: %s is usually %s", name, k.ID, k.Usual)
			// A length that is round in mm is written in inches to a ten-thousandth.
			for _, c := range []*job.Job{&without, &same} {
				c.Plan.Composition.Gap, c.Plan.Print.Overlap = math.Round(c.Plan.Composition.Gap*10)/10, math.Round(c.Plan.Print.Overlap*10)/10
			}
			assert.Equal(t, without.Plan.Composition, same.Plan.Composition, "%s: %s is usually %s", name, k.ID, k.Usual)
			assert.Equal(t, without.Plan.Print, same.Plan.Print, "%s: %s is usually %s", name, k.ID, k.Usual)
			assert.InDelta(t, without.Plan.Room.Datum, same.Plan.Room.Datum, 0.01, "%s: %s is usually %s", name, k.ID, k.Usual)
			seen++
		}
	}
	assert.Greater(t, seen, 10)
}
