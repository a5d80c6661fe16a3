package easel

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/knob"
)

// turnedTo changes what is shown as knobs do.
func turnedTo(id, value string) Edit {
	return func(shown *Shown) ([]byte, error) {
		return knob.Change(shown.Job, shown.Text, []knob.Setting{{Knob: id, Value: value}})
	}
}

// Another line is changed in an editor while a knob is turned here: both are kept, and undone in one step.
func TestBothAreKept(t *testing.T) {
	e, path := opened(t)
	require.NoError(t, e.Change(t.Context(), "", turnedTo("composition.count", "31")))
	mine, _ := e.Now()
	theirs := strings.NewReplacer("datum: 1500 # the line", "datum: 1450 # the line, lower", "title: Small", "title: Theirs").Replace(small)
	require.NoError(t, os.WriteFile(path, []byte(theirs), 0o644))
	require.ErrorIs(t, e.Save(t.Context(), ""), ErrOutside)

	d, err := e.Difference(t.Context())
	require.NoError(t, err)
	assert.Equal(t, []string{"hall.yaml"}, d.Files)
	assert.Equal(t, []string{"title: Theirs", "datum: 1450 # the line, lower", "count: 30"}, d.Lost)
	assert.Equal(t, Changed, d.Outside)
	require.NoError(t, d.Both)
	require.Len(t, d.Here.Turns, 1)
	assert.Equal(t, "pieces: 30 → 31", d.Here.Turns[0].String())
	assert.Zero(t, d.Here.Lines)
	require.Len(t, d.There.Turns, 1)
	assert.Equal(t, "datum: 1500 mm → 1450 mm", d.There.Turns[0].String())
	assert.Equal(t, 2, d.There.Lines, "the title, and the comment of the datum")
	after, status := e.Now()
	assert.Same(t, mine, after, "asking changes nothing")
	assert.True(t, status.Undo)

	require.NoError(t, e.KeepBoth(t.Context()))
	shown, status := e.Now()
	both := strings.ReplaceAll(theirs, "count: 30", "count: 31")
	assert.Equal(t, both, string(shown.Text))
	assert.Len(t, pieces(e), 31)
	assert.Equal(t, Same, status.Outside)
	assert.False(t, status.Saved)
	onDisk, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, theirs, string(onDisk), "nothing is written before it is saved")

	require.NoError(t, e.Walk(-1, false))
	shown, status = e.Now()
	assert.Equal(t, string(mine.Text), string(shown.Text))
	assert.Equal(t, Changed, status.Outside)
	assert.Equal(t, "hall.yaml", status.File)
	require.ErrorIs(t, e.Save(t.Context(), ""), ErrOutside, "the other's lines are not in this step")
	require.NoError(t, e.Walk(+1, false))
	_, status = e.Now()
	assert.Equal(t, Same, status.Outside)
	require.NoError(t, e.Save(t.Context(), ""))
	onDisk, err = os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, both, string(onDisk))
}

// Both cannot be kept where the same knob was turned, where more than knobs was changed here, or where there is no room for the
// two together; nothing changes then.
func TestBothCannotBeKept(t *testing.T) {
	for name, tt := range map[string]struct {
		here       Edit
		old, there string
		wrong      string
	}{
		"the same knob":   {turnedTo("composition.spacing", "110"), "spacing: 120", "spacing: 100", "“spacing” was changed here and there"},
		"more than knobs": {replacing("Small", "Mine"), "spacing: 120", "spacing: 100", "something else"},
		"no room":         {turnedTo("composition.count", "200"), "spacing: 120", "spacing: 190", "composition.count"},
	} {
		t.Run(name, func(t *testing.T) {
			e, path := opened(t)
			require.NoError(t, e.Change(t.Context(), "", tt.here))
			mine, _ := e.Now()
			require.NoError(t, os.WriteFile(path, []byte(strings.ReplaceAll(small, tt.old, tt.there)), 0o644))
			d, err := e.Difference(t.Context())
			require.NoError(t, err)
			assert.Equal(t, Changed, d.Outside)
			assert.ErrorContains(t, d.Both, tt.wrong)
			assert.ErrorContains(t, e.KeepBoth(t.Context()), tt.wrong)
			after, _ := e.Now()
			assert.Same(t, mine, after)
		})
	}
}

// A file with a fault, or without room for its pieces, is said to be so, one that is gone too, and of a layout that was changed its name.
func TestWhatStandsAgainstWhat(t *testing.T) {
	e, path := opened(t)
	d, err := e.Difference(t.Context())
	require.NoError(t, err)
	assert.Equal(t, Difference{}, d)
	require.NoError(t, e.Change(t.Context(), "", turnedTo("composition.count", "31")))
	for _, text := range []string{strings.ReplaceAll(small, "spacing: 120", "spacing: wide"), strings.ReplaceAll(small, "count: 30", "count: 9000")} {
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		d, err = e.Difference(t.Context())
		require.NoError(t, err)
		assert.Equal(t, Faulty, d.Outside)
		require.NotEmpty(t, d.Faults)
		assert.Positive(t, d.Faults[0].Line)
		assert.Error(t, e.KeepBoth(t.Context()))
	}
	require.NoError(t, os.Remove(path))
	d, err = e.Difference(t.Context())
	require.NoError(t, err)
	assert.Equal(t, Gone, d.Outside)
	assert.Error(t, e.KeepBoth(t.Context()))

	require.NoError(t, os.WriteFile(path, []byte(small), 0o644))
	require.NoError(t, os.WriteFile(LayoutBeside(path), []byte("seed: 1\npieces:\n- {id: 2, kind: D, wall: One, face: wall, at: [700, 1500], heading: 0}\n"), 0o644))
	d, err = e.Difference(t.Context())
	require.NoError(t, err)
	assert.Equal(t, []string{"hall.layout.yaml"}, d.Files)
	assert.Equal(t, Changed, d.Outside)
	assert.Len(t, d.There.Pieces, 31, "30 are gone there, and one lies elsewhere")
	assert.Error(t, d.Both)
	assert.NotEmpty(t, d.Seen)
	assert.Empty(t, d.Lost)
}
