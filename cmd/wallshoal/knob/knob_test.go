package knob

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/examples"
)

func plans() map[string]string {
	return map[string]string{"ferry": examples.Ferry, "reading room": examples.ReadingRoom, "stair": examples.SchoolStair, "health centre": examples.HealthCentre}
}

func find(t *testing.T, knobs []Knob, id string) Knob {
	t.Helper()
	for _, k := range knobs {
		if k.ID == id {
			return k
		}
	}
	require.FailNow(t, "no knob", id)
	return Knob{}
}

// Setting a knob to the value that it has changes not a byte; and every knob of every example can be set to
// another value of its own kind, which the plan then holds, with no other line changed.
func TestEveryKnobTurns(t *testing.T) {
	for name, text := range plans() {
		t.Run(name, func(t *testing.T) {
			j, err := job.ReadBeside(name, []byte(text), examples.Files)
			require.NoError(t, err)
			knobs := Of(j, []byte(text))
			require.NotEmpty(t, knobs)
			ids := map[string]bool{}
			for i, k := range knobs {
				require.False(t, ids[k.ID], "%s twice", k.ID)
				ids[k.ID] = true
				assert.NotEmpty(t, k.Label, k.ID)
				assert.NotEmpty(t, k.Help, k.ID)
				if k.Given {
					same, err := Change(j, []byte(text), []Setting{{k.ID, k.Value}})
					require.NoError(t, err, k.ID)
					if k.Type != Place && k.Type != Path {
						assert.True(t, text == string(same), k.ID)
					}
				}
				another := other(k)
				after, err := Change(j, []byte(text), []Setting{{k.ID, another}})
				require.NoError(t, err, "%s to %q", k.ID, another)
				require.False(t, text == string(after), k.ID)
				if k.Given {
					before, now := strings.Split(text, "\n"), strings.Split(string(after), "\n")
					require.Len(t, now, len(before), k.ID)
					changed := 0
					for i := range now {
						if now[i] != before[i] {
							changed++
						}
					}
					assert.LessOrEqual(t, changed, 1, k.ID)
				}
				if k.Type != Path && (k.Type == Place || often(i)) {
					changed, err := j.Reread(name, after, examples.Files)
					require.NoError(t, err, "%s to %q", k.ID, another)
					if k.Type == Place {
						spot := find(t, Of(changed, after), k.ID).Spots[0]
						assert.InDelta(t, k.Spots[0].At.X+10, spot.At.X, 2, k.ID)
						assert.Equal(t, k.Spots[0].Face, spot.Face)
					}
				}
			}
		})
	}
}

// often reports whether the plan is read again for the knob of that index: always under CI=true, and else for one in four.
func often(i int) bool { return i%4 == 0 || os.Getenv("CI") == "true" }

// other returns another value of a knob.
func other(k Knob) string {
	switch k.Type {
	case Switch:
		if k.Value == "true" {
			return "false"
		}
		return "true"
	case Choice:
		for _, v := range k.Values {
			if v != k.Value {
				return v
			}
		}
	case Place, Path:
		b := board{}
		var moved []Spot
		for _, s := range k.Spots {
			s.At.X += 10
			moved = append(moved, s)
		}
		return b.spots(moved)
	case Percent:
		return "3.5 %"
	}
	if k.Known {
		return strconv.FormatFloat(k.Number+1, 'f', -1, 64)
	}
	return strconv.FormatFloat((k.Min+k.Max)/2, 'f', -1, 64)
}

// An empty value takes out what the plan says, and the usual one holds.
func TestAnEmptyValueIsTheUsual(t *testing.T) {
	j, err := job.ReadBeside("ferry", []byte(examples.Ferry), examples.Files)
	require.NoError(t, err)
	after, err := Change(j, []byte(examples.Ferry), []Setting{{"composition.spread", ""}})
	require.NoError(t, err)
	changed, err := job.ReadBeside("ferry", after, examples.Files)
	require.NoError(t, err)
	assert.InDelta(t, 12, changed.Plan.Composition.Headings.Spread, 0)
	assert.False(t, find(t, Of(changed, after), "composition.spread").Given)
}

// Whatever a plan can do without can be taken out of it, and it still is a plan; what it needs stays.
func TestWhatCanBeTakenOut(t *testing.T) {
	for name, text := range plans() {
		j, err := job.ReadBeside(name, []byte(text), examples.Files)
		require.NoError(t, err)
		for i, k := range Of(j, []byte(text)) {
			if !k.Given {
				continue
			}
			after, err := Change(j, []byte(text), []Setting{{k.ID, ""}})
			if k.Needed {
				require.Error(t, err, k.ID)
				continue
			}
			if err != nil && strings.Contains(err.Error(), "comments within it, which would be lost") {
				continue
			}
			require.NoError(t, err, k.ID)
			if !often(i) {
				continue
			}
			_, err = j.Reread(name, after, examples.Files)
			if err != nil && strings.Contains(err.Error(), "follows the flow, and the flow leads nowhere") {
				continue // something else of the plan rests on it, and says so
			}
			assert.NoError(t, err, "%s without %s", name, k.ID)
		}
	}
}

// A place that is dragged to another wall names that wall.
func TestAPlaceGoesToAnotherWall(t *testing.T) {
	j, err := job.ReadBeside("ferry", []byte(examples.Ferry), examples.Files)
	require.NoError(t, err)
	k := find(t, Of(j, []byte(examples.Ferry)), "composition.flow[0].toward")
	to, ok := j.Site.FaceByName("Long wall", "old fireplace front")
	require.True(t, ok)
	after, err := Change(j, []byte(examples.Ferry), []Setting{{k.ID, (&board{}).spots([]Spot{{to, j.Site.Faces[to].Outline.Bounds().Centre()}})}})
	require.NoError(t, err)
	changed, err := job.ReadBeside("ferry", after, examples.Files)
	require.NoError(t, err)
	assert.Equal(t, to, find(t, Of(changed, after), k.ID).Spots[0].Face)
	back, err := Change(changed, after, []Setting{{k.ID, k.Value}})
	require.NoError(t, err)
	again, err := job.ReadBeside("ferry", back, examples.Files)
	require.NoError(t, err)
	assert.Equal(t, k.Spots[0].Face, find(t, Of(again, back), k.ID).Spots[0].Face)
}

func TestWhatIsNoKnob(t *testing.T) {
	j, err := job.ReadBeside("ferry", []byte(examples.Ferry), examples.Files)
	require.NoError(t, err)
	for _, s := range []Setting{
		{"title", "x"}, {"composition.flow[9].strength", "1"}, {"", "1"}, {"composition.flow[0].toward", "x"},
		{"composition.flow[0].toward", "99 1 1"}, {"composition.flow[0].toward", "0 NaN 1"}, {"composition.part", "maybe"},
	} {
		_, err := Change(j, []byte(examples.Ferry), []Setting{s})
		assert.Error(t, err, s)
	}
}

// The README's own knobs come from its text: the plans that lie beside it are those that are tested here.
func TestExamplesAreAll(t *testing.T) {
	files, err := filepath.Glob("../../../examples/*.yaml")
	require.NoError(t, err)
	require.Len(t, files, len(plans()))
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		found := false
		for _, text := range plans() {
			found = found || text == string(data)
		}
		assert.True(t, found, f)
	}
}
