package easel

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/hanging"
	"wallshoal/cmd/wallshoal/progress"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
)

var morning = time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)

// hang ticks pieces of what is shown.
func hang(t *testing.T, e *Easel, ids ...int) {
	t.Helper()
	log, err := progress.Open(t.Context(), e.progressPath)
	require.NoError(t, err)
	defer log.Close()
	shown, _ := e.Now()
	for _, p := range progress.Pieces(shown.Work) {
		if slices.Contains(ids, p.Number) {
			require.NoError(t, log.Up(morning, shown.Work.Map.Fingerprint, p))
		}
	}
}

// hangs returns the marks of everything that hangs, and fails where the layout has other holes for one.
func hangs(t *testing.T, e *Easel) []string {
	t.Helper()
	shown, _ := e.Now()
	var marks []string
	for _, p := range progress.Pieces(shown.Work) {
		marks = append(marks, p.Holes)
	}
	record, err := e.record()
	require.NoError(t, err)
	var up []string
	for _, tick := range record.Up {
		require.Contains(t, marks, tick.Holes, "piece %d was moved", tick.Number)
		up = append(up, tick.Holes)
	}
	return up
}

func held(t *testing.T, e *Easel) []int {
	t.Helper()
	h, err := e.hanging()
	require.NoError(t, err)
	var ids []int
	for _, p := range h.Held {
		ids = append(ids, p.ID)
	}
	return ids
}

const alarm = `, obstructions: [{kind: alarm, centre: [%d, 1500], width: 150, height: 150}]`

// Whatever is changed in the plan, here or in an editor, and whatever is undone, tried and mended meanwhile: no piece that hangs ever
// has other holes, unless somebody says that it is taken down.
func TestNoPieceThatHangsIsMoved(t *testing.T) {
	changes := []func(r *rand.Rand) (key, value string){
		func(r *rand.Rand) (string, string) { return "count: ", fmt.Sprint(18 + r.IntN(20)) },
		func(r *rand.Rand) (string, string) { return "spacing: ", fmt.Sprint(90 + r.IntN(60)) },
		func(r *rand.Rand) (string, string) { return "seed: ", fmt.Sprint(r.IntN(9)) },
		func(r *rand.Rand) (string, string) { return "datum: ", fmt.Sprint(1300 + r.IntN(300)) },
		func(r *rand.Rand) (string, string) { return "length: 20", fmt.Sprintf("%02d", r.IntN(99)) },
	}
	told, refused, asked := 0, 0, 0
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(seed, 7))
		e, path := opened(t)
		hang(t, e, 1+r.IntN(10), 11+r.IntN(10), 21+r.IntN(10))
		for range 14 {
			before := hangs(t, e)
			shown, status := e.Now()
			text := string(shown.Text)
			switch r.IntN(3) {
			case 0: // an alarm, or another place for it
				line, rest, _ := strings.Cut(text[strings.Index(text, "name: One"):], "}\n")
				plain, _, _ := strings.Cut(line, ", obstructions")
				text = strings.Replace(text, line+"}\n"+rest, plain+fmt.Sprintf(alarm, 200+r.IntN(1600))+"}\n"+rest, 1)
			default:
				key, value := changes[r.IntN(len(changes))](r)
				at := strings.Index(text, key) + len(key)
				end := at + strings.IndexAny(text[at:], "\n ,")
				if strings.HasSuffix(key, "20") {
					end = at + 2
				}
				text = text[:at] + value + text[end:]
			}
			var err error
			p := pieces(e)[r.IntN(len(pieces(e)))]
			flow := r.IntN(2) == 0
			var down *HangsError
			switch r.IntN(8) {
			case 0, 1:
				err = e.Change(t.Context(), "", func(*Shown) ([]byte, error) { return []byte(text), nil })
			case 2, 3:
				require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
				_, err = e.Look(t.Context())
				if _, status := e.Now(); status.Outside == Changed && err == nil {
					err = e.TakeTheirs(t.Context())
				}
			case 4:
				err = e.Hand(t.Context(), "", []Move{placed(p.ID, p.Face, p.At.X+40, p.At.Y, 30)}, flow)
				if assert.Equal(t, slices.Contains(held(t, e), p.ID) && shown == e.shown, errors.As(err, &down), "it is asked about what hangs, and nothing else") && down != nil {
					asked++
					assert.Equal(t, &HangsError{[]int{p.ID}, 1, 1}, down)
					assert.EqualError(t, err, fmt.Sprintf("%d hangs: this means take it down, fill 1 hole, drill 1 new", p.ID))
				}
			case 5:
				if err = e.Walk(-1, false); status.Undo && r.IntN(2) == 0 && err == nil {
					err = e.Walk(+1, false)
				}
			case 6:
				err = e.Mend(t.Context())
			case 7:
				var tried *Shown
				if tried, err = e.Try(t.Context(), func(*Shown) ([]byte, error) { return []byte(text), nil }); err == nil {
					err = e.Take(tried)
				}
			}
			if faults := (yamlfile.Faults)(nil); err != nil && !errors.As(err, &down) {
				require.ErrorAs(t, err, &faults)
				refused++
			}
			require.Equal(t, before, hangs(t, e))
			now, _ := e.Now()
			for _, f := range now.Flaws {
				if slices.Contains(held(t, e), f.Piece) {
					told++
				}
			}
			if r.IntN(4) == 0 {
				hang(t, e, pieces(e)[r.IntN(len(pieces(e)))].ID)
			}
		}
	}
	assert.Positive(t, told, "what hangs where it may not is told")
	assert.Positive(t, asked)
	assert.Less(t, refused, 40, "most can be done")
}

// A piece that hangs is moved, turned, swapped or taken away once somebody says that it is taken down, and one undo brings it back.
func TestAPieceIsTakenDown(t *testing.T) {
	e, _ := opened(t)
	hang(t, e, 4, 5)
	before := pieces(e)
	kinds := before[3].Kind
	other := slices.IndexFunc(before, func(p scatter.Piece) bool { return p.Kind != kinds && p.ID > 5 })
	for _, tt := range []struct {
		moves []Move
		want  *HangsError
	}{
		{[]Move{{Do: Delete, ID: 4}}, &HangsError{[]int{4}, 1, 0}},
		{[]Move{{Do: Delete, ID: 4}, {Do: Delete, ID: 5}}, &HangsError{[]int{4, 5}, 2, 0}},
		{[]Move{placed(5, 0, 1000, 1000, 20)}, &HangsError{[]int{5}, 1, 1}},
		{[]Move{{Do: Swap, ID: 4, With: before[other].ID}}, &HangsError{[]int{4}, 0, 0}}, // its hole is in the middle
	} {
		var got *HangsError
		require.ErrorAs(t, e.Hand(t.Context(), "", tt.moves, false), &got)
		assert.Equal(t, tt.want, got)
		assert.Equal(t, before, pieces(e))
		for i := range tt.moves {
			tt.moves[i].Down = true
		}
		require.NoError(t, e.Hand(t.Context(), "", tt.moves, tt.moves[0].Do == Place))
		require.NotEqual(t, before, pieces(e))
		require.NoError(t, e.Walk(-1, false))
		assert.Equal(t, before, pieces(e))
	}
	require.NoError(t, e.Hand(t.Context(), "", []Move{{Do: Lock, ID: 4}}, false), "a lock moves nothing")
	require.NoError(t, e.Hand(t.Context(), "", []Move{{Do: Add, Face: new(int), At: &before[0].At}}, false))

	// What hangs since stays where it is when a step is undone that had it elsewhere, until somebody says otherwise.
	require.NoError(t, e.Change(t.Context(), "", replacing("seed: 3", "seed: 8")))
	free := slices.IndexFunc(pieces(e), func(p scatter.Piece) bool { return !p.Locked && p.ID != 5 })
	hang(t, e, pieces(e)[free].ID)
	now := pieces(e)
	var down *HangsError
	require.ErrorAs(t, e.Walk(-1, false), &down)
	assert.Equal(t, []int{now[free].ID}, down.Pieces)
	assert.Equal(t, now, pieces(e))
	require.NoError(t, e.Walk(-1, true))
	assert.NotEqual(t, now, pieces(e))
}

// What hangs on a wall or is of a kind that the plan comes to lack, or is more than it is to have: the plan is at fault, and all stays.
func TestWhatHangsIsNotDropped(t *testing.T) {
	e, _ := opened(t)
	hang(t, e, 1, 2, 3, 30)
	before := pieces(e)
	for old, want := range map[string]string{
		"name: One, length":      `"One, wall" is not there, and 3 pieces hang by it: 1 to 3`,
		"code: " + codeOf(e, 30): "hang by it: ",
		"count: 30":              "3 is fewer than the 4 pieces that are to stay",
	} {
		new := map[string]string{"name: One, length": "name: Uno, length", "count: 30": "count: 3"}[old]
		if new == "" {
			new = "code: Z"
		}
		err := e.Change(t.Context(), "", replacing(old, new))
		var faults yamlfile.Faults
		require.ErrorAs(t, err, &faults, old)
		assert.Contains(t, faults.Error(), want)
		assert.Equal(t, before, pieces(e))
	}
	// One that takes no pieces any more keeps those that hang, and says so.
	require.NoError(t, e.Change(t.Context(), "", replacing("length: 2000,", "length: 2000, use: false,")))
	assert.Len(t, hangs(t, e), 4)
	shown, _ := e.Now()
	var of []int
	for _, f := range shown.Flaws {
		of = append(of, f.Piece)
		assert.Equal(t, "One takes no pieces", f.Wrong)
	}
	assert.Equal(t, []int{1, 2, 3}, of)
	require.NoError(t, e.Save(t.Context(), ""))
	again, err := Open(t.Context(), e.path, "")
	require.NoError(t, err)
	defer again.Close()
	assert.Equal(t, pieces(e), pieces(again))
}

func codeOf(e *Easel, id int) string {
	shown, _ := e.Now()
	return shown.Job.Plan.Kinds[pieces(e)[id-1].Kind].Code
}

// A plan that was never saved with a layout is opened again after somebody corrected it: what hangs is where it was.
func TestOpenedAgainRoundWhatHangs(t *testing.T) {
	e, path := opened(t)
	hang(t, e, 2, 9, 17, 28)
	was := hangs(t, e)
	whole, err := Open(t.Context(), path, "")
	require.NoError(t, err)
	defer whole.Close()
	assert.Equal(t, pieces(e), pieces(whole), "nothing was changed, and nothing is laid otherwise")
	text := strings.Replace(small, "count: 30", "count: 26", 1)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	again, err := Open(t.Context(), path, "")
	require.NoError(t, err)
	defer again.Close()
	assert.Equal(t, was, hangs(t, again))
	assert.Len(t, pieces(again), 26)
	assert.Equal(t, []int{2, 9, 17, 28}, held(t, again), "under their numbers")
}

// Mending moves what must be and no more, and brings back what hangs elsewhere than the layout has it.
func TestMend(t *testing.T) {
	e, _ := opened(t)
	before := pieces(e)
	p := before[slices.IndexFunc(before, func(p scatter.Piece) bool { return p.Face == 0 })]
	require.NoError(t, e.Mend(t.Context()))
	_, status := e.Now()
	assert.False(t, status.Undo, "there is nothing to mend")
	hang(t, e, 7, 8)
	// An alarm over a piece, in a layout that keeps its pieces.
	require.NoError(t, e.Hand(t.Context(), "", []Move{{Do: Lock, ID: 1}}, false))
	require.NoError(t, e.Save(t.Context(), ""))
	text := strings.Replace(small, "surface: brick, turn", fmt.Sprintf("surface: brick"+strings.Replace(alarm, "1500", "%d", 1)+", turn", int(p.At.X)+5, int(p.At.Y)), 1)
	require.NoError(t, os.WriteFile(e.path, []byte(text), 0o644))
	again, err := Open(t.Context(), e.path, "")
	require.NoError(t, err)
	defer again.Close()
	shown, _ := again.Now()
	bad := map[int]bool{}
	for _, f := range shown.Flaws {
		bad[f.Piece] = true
	}
	require.NotEmpty(t, bad)
	require.NoError(t, again.Mend(t.Context()))
	moved := 0
	for i, q := range pieces(again) {
		if q.At != before[i].At {
			moved++
			assert.True(t, bad[q.ID])
		}
	}
	assert.Equal(t, len(bad)-len(slices.DeleteFunc([]int{1, 7, 8}, func(id int) bool { return !bad[id] })), moved)
	require.NoError(t, again.Walk(-1, false))

	// The layout has come to have a piece elsewhere that hangs: by itself that is told, and mended.
	shown, _ = again.Now()
	log, err := progress.Open(t.Context(), e.progressPath)
	require.NoError(t, err)
	elsewhere := progress.Pieces(shown.Work)[11]
	elsewhere.At.X += 30
	elsewhere.Holes = hanging.Mark(shown.Job.Site, shown.Job.Plan.Kinds, scatter.Piece{ID: 12, Kind: pieces(again)[11].Kind, Face: pieces(again)[11].Face, At: elsewhere.At, Heading: elsewhere.Heading})
	require.NoError(t, log.Up(morning, "EARLIER", elsewhere))
	require.NoError(t, log.Close())
	h, err := again.hanging()
	require.NoError(t, err)
	require.Len(t, h.Moved, 1)
	assert.Equal(t, "12 hangs by an earlier layout: take down, fill 1 hole, drill 1 new", hanging.Tell(h.Moved))
	require.NoError(t, again.Mend(t.Context()))
	assert.Len(t, hangs(t, again), 3)
}
