package knob

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/job"
)

func again(text []byte) (job.Job, error) { return job.Read("house", text) }

// version reads house with parts of it replaced.
func version(t *testing.T, pairs ...string) Version {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		require.Contains(t, house, pairs[i])
	}
	text := []byte(strings.NewReplacer(pairs...).Replace(house))
	j, err := again(text)
	require.NoError(t, err)
	return Version{text, j}
}

// turnedTo returns a version with knobs set, as the page sets them.
func turnedTo(t *testing.T, v Version, all ...Setting) Version {
	t.Helper()
	for _, s := range all {
		var err error
		v, err = v.with([]Setting{s}, again)
		require.NoError(t, err, s)
	}
	return v
}

// What was turned here is turned in the text that is there now, which keeps all else to the byte.
func TestMerge(t *testing.T) {
	base := version(t)
	theirs := version(t, "seed: 3", "seed: 4   # the fourth", "name: Twig", "name: Sprig")
	for name, all := range map[string][]Setting{
		"a value":             {{"composition.spacing", "131"}},
		"one that is new":     {{"composition.strays", "3 %"}},
		"one of a named list": {{"pieces[1].share", "2"}, {"room.walls[2].use", "true"}},
		"a place":             {{"composition.flow[0].toward", "0 1500 1200"}},
		"what comes with it":  {{"composition.density.clumps.size", "700"}, {"composition.density.clumps.strength", "9"}},
		"what is a map":       {{"composition.mix", "families"}, {"composition.mix.families", "3"}},
	} {
		t.Run(name, func(t *testing.T) {
			find(t, base.knobs(), all[0].Knob)
			got, err := Merge(base, turnedTo(t, base, all...), theirs, again)
			require.NoError(t, err)
			assert.Equal(t, string(turnedTo(t, theirs, all...).Text), string(got))
		})
	}
}

// What cannot be brought together is not, and the error says what is in the way.
func TestWhatCannotBeMerged(t *testing.T) {
	base := version(t)
	mine := turnedTo(t, base, Setting{"seed", "8"}, Setting{"pieces[1].share", "2"})
	for wrong, theirs := range map[string]Version{
		"“seed” was changed here and there":        version(t, "seed: 3", "seed: 4"),
		"“Twig, share” is not there as it was":     version(t, "code: B", "code: D"),
		"“Twig, share” was changed here and there": version(t, "fixing: pin}], stand-off: 5, share: 1}", "fixing: pin}], stand-off: 5, share: 4}"),
	} {
		_, err := Merge(base, mine, theirs, again)
		assert.ErrorContains(t, err, wrong)
	}
	got, err := Merge(base, mine, version(t, "seed: 3", "seed: 8"), again)
	require.NoError(t, err, "both did the same")
	assert.Equal(t, string(mine.Text), string(got))

	_, err = Merge(base, version(t, "title: Leaves", "title: Other leaves"), version(t, "seed: 3", "seed: 4"), again)
	assert.ErrorContains(t, err, "something else than the value of a knob was changed here")
}

// Knobs turned at random on one side and others on the other come together the same whichever side they were turned on.
func TestMergingBothWays(t *testing.T) {
	base := version(t)
	read := func(text []byte) (job.Job, error) { return base.Job.Reread("house", text, nil) } // surveys only another room
	var ids []string
	for _, k := range base.knobs() {
		if k.Known && k.Given && !strings.Contains(k.ID, "count") {
			ids = append(ids, k.ID)
		}
	}
	require.Greater(t, len(ids), 4)
	merged := 0
	for seed := range uint64(12) {
		rng := rand.New(rand.NewPCG(seed, 5))
		rng.Shuffle(len(ids), func(i, k int) { ids[i], ids[k] = ids[k], ids[i] })
		set := func(ids []string) (Version, bool) {
			v := base
			for _, id := range ids {
				k := find(t, base.knobs(), id)
				v2, err := v.with([]Setting{{id, fmt.Sprint(k.Min + k.Step*float64(1+rng.IntN(3)))}}, read)
				if err != nil {
					return v, false
				}
				v = v2
			}
			return v, true
		}
		n := 1 + rng.IntN(2)
		one, ok := set(ids[:n])
		other, well := set(ids[n : n+2])
		if !ok || !well {
			continue
		}
		a, errA := Merge(base, one, other, read)
		b, errB := Merge(base, other, one, read)
		require.Equal(t, errA == nil, errB == nil, "%v, %v", errA, errB)
		assert.Equal(t, string(a), string(b))
		if errA == nil {
			merged++
		}
	}
	assert.Positive(t, merged)
}

// What was changed is told by the names of knobs, with values before and after; the rest is counted.
func TestTurnsInWords(t *testing.T) {
	base := version(t)
	all, lines := Turns(base, version(t, "seed: 3", "seed: 4   # the fourth", "name: Berry", "name: Bud"), again)
	said := fmt.Sprint(all)
	assert.Contains(t, said, "seed: 3 → 4")
	assert.Equal(t, 2, lines, "the comment and the name")
	all, lines = Turns(base, turnedTo(t, base, Setting{"composition.spacing", "131"}, Setting{"composition.strays", "3 %"}), again)
	require.Len(t, all, 2)
	assert.Zero(t, lines)
	assert.Contains(t, all[0].String(), " → 131 mm")
	assert.Equal(t, "strays: 0 % (usual) → 3 %", all[1].String())
	all, lines = Turns(base, base, again)
	assert.Empty(t, all)
	assert.Zero(t, lines)
}
