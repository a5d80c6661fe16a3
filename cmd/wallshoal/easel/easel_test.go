package easel

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/examples"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall/plane"
)

// small is a plan of a few pieces on two walls.
const small = `title: Small
seed: 3
room:
  datum: 1500 # the line
  walls:
    - {name: One, length: 2000, height: 2500, surface: brick, turn: 90}
    - {name: Two, length: 1500, height: 2500, surface: brick}
pieces:
  - name: Disc
    code: D
    outline: {ellipse: [60, 40]}
    holes: [{at: [0, 0], bit: 5, depth: 30, fixing: pin}]
    stand-off: 5
  - name: Bar
    code: B
    outline: {rectangle: [70, 20]}
    holes: [{at: [0, 0], bit: 5, depth: 30, fixing: pin}]
    stand-off: 5
composition:
  count: 30
  spacing: 120
`

func opened(t *testing.T) (*Easel, string) {
	t.Helper()
	return openedWith(t, small)
}

func openedWith(t *testing.T, text string) (*Easel, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "hall.yaml")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	e, err := Open(t.Context(), path, "")
	require.NoError(t, err)
	t.Cleanup(func() { _ = e.Close() })
	return e, path
}

// looked looks until what the files hold counts.
func looked(t *testing.T, e *Easel) (bool, error) {
	t.Helper()
	changed, err := e.Look(t.Context())
	require.NoError(t, err)
	again, err := e.Look(t.Context())
	return changed || again, err
}

// seen returns what the files hold as it is told to whoever is asked about it.
func seen(t *testing.T, e *Easel) string {
	t.Helper()
	d, err := e.Difference(t.Context())
	require.NoError(t, err)
	return d.Seen
}

func replacing(old, new string) Edit {
	return func(shown *Shown) ([]byte, error) { return bytes.ReplaceAll(shown.Text, []byte(old), []byte(new)), nil }
}

func pieces(e *Easel) []scatter.Piece {
	shown, _ := e.Now()
	return shown.Work.Layout.Pieces
}

func placed(id, face int, x, y, turn float64) Move {
	return Move{Do: Place, ID: id, Face: &face, At: &plane.Point{X: x, Y: y}, Heading: new(heading.Bearing(turn))}
}

func TestAChangeComposesAnewAndCanBeUndone(t *testing.T) {
	e, _ := opened(t)
	before := pieces(e)
	require.Len(t, before, 30)
	require.NoError(t, e.Change(t.Context(), "", replacing("count: 30", "count: 20")))
	_, status := e.Now()
	assert.True(t, status.Undo)
	assert.False(t, status.Redo)
	assert.False(t, status.Saved)
	require.Len(t, pieces(e), 20)
	require.NoError(t, e.Walk(-1, false))
	assert.Equal(t, before, pieces(e))
	_, status = e.Now()
	assert.True(t, status.Redo)
	assert.True(t, status.Saved)
	require.NoError(t, e.Walk(+1, false))
	assert.Len(t, pieces(e), 20)
	require.NoError(t, e.Walk(+1, false), "there is none, and nothing happens")
	assert.Len(t, pieces(e), 20)
}

// Undo has no end: as many steps back as there were, to the last bit.
func TestUndoHasNoEnd(t *testing.T) {
	e, _ := opened(t)
	first := pieces(e)
	const steps = 300
	for i := range steps {
		require.NoError(t, e.Hand(t.Context(), "", []Move{placed(1, 0, 300+float64(i), 700, 10)}, false))
	}
	for range steps {
		require.NoError(t, e.Walk(-1, false))
	}
	assert.Equal(t, first, pieces(e))
	_, status := e.Now()
	assert.False(t, status.Undo)
}

func TestChangesOfOneGestureAreOneStep(t *testing.T) {
	e, _ := opened(t)
	for _, n := range []string{"29", "28", "27"} {
		shown, _ := e.Now()
		require.NoError(t, e.Change(t.Context(), "drag", replacing(fmt.Sprintf("count: %d", len(shown.Work.Layout.Pieces)), "count: "+n)))
	}
	require.Len(t, pieces(e), 27)
	require.NoError(t, e.Walk(-1, false))
	assert.Len(t, pieces(e), 30)
	_, status := e.Now()
	assert.False(t, status.Undo)
}

// What alters neither the plan nor a piece leaves nothing to undo, and what was undone can be done again still: a knob set
// to what it has, a lock on what is locked, a piece put where it is, the seed of the work taken once more.
func TestWhatChangesNothingIsNoStep(t *testing.T) {
	e, _ := opened(t)
	require.NoError(t, e.Hand(t.Context(), "", []Move{placed(5, 1, 700, 1300, 45)}, false))
	require.NoError(t, e.Change(t.Context(), "", replacing("count: 30", "count: 29")))
	require.NoError(t, e.Change(t.Context(), "", replacing("count: 29", "count: 28")))
	require.NoError(t, e.Walk(-1, false))
	before, status := e.Now()
	require.True(t, status.Redo)
	five := before.Work.Layout.Pieces[slices.IndexFunc(before.Work.Layout.Pieces, func(p scatter.Piece) bool { return p.Locked })]
	tried, err := e.Try(t.Context(), replacing("seed: 3", "seed: 3"))
	require.NoError(t, err)
	for name, does := range map[string]func() error{
		"a knob as it is":  func() error { return e.Change(t.Context(), "", replacing("count: 29", "count: 29")) },
		"a lock on a lock": func() error { return e.Hand(t.Context(), "", []Move{{Do: Lock, ID: five.ID}}, false) },
		"an open lock": func() error {
			return e.Hand(t.Context(), "g", []Move{{Do: Unlock, ID: five.ID}, {Do: Lock, ID: five.ID}}, false)
		},
		"a piece where it is":   func() error { return e.Hand(t.Context(), "", []Move{placed(five.ID, 1, 700, 1300, 45)}, false) },
		"the rest as it flowed": func() error { return e.Hand(t.Context(), "", []Move{{Do: Lock, ID: five.ID}}, true) },
		"no piece":              func() error { return e.Hand(t.Context(), "", nil, false) },
		"the same seed":         func() error { return e.Take(tried) },
	} {
		require.NoError(t, does(), name)
		after, now := e.Now()
		require.Same(t, before, after, name)
		require.Equal(t, status, now, name)
	}
}

// A gesture that comes back to where it began is no step, whether knobs were turned or a piece was moved; what it began from
// is shown again as it was.
func TestAGestureThereAndBackIsNoStep(t *testing.T) {
	e, _ := opened(t)
	before, first := e.Now()
	require.NoError(t, e.Change(t.Context(), "drag", replacing("count: 30", "count: 25")))
	require.NoError(t, e.Change(t.Context(), "drag", replacing("count: 25", "count: 30")))
	after, status := e.Now()
	assert.Equal(t, before.Work.Layout, after.Work.Layout)
	assert.True(t, after.Laid)
	status.Revision = first.Revision
	assert.Equal(t, first, status)

	require.NoError(t, e.Hand(t.Context(), "", []Move{{Do: Lock, ID: 9}}, false))
	nine := pieces(e)[8]
	before, first = e.Now()
	require.NoError(t, e.Hand(t.Context(), "nudge", []Move{placed(9, nine.Face, nine.At.X+20, nine.At.Y, float64(nine.Heading))}, false))
	require.NoError(t, e.Hand(t.Context(), "nudge", []Move{placed(9, nine.Face, nine.At.X, nine.At.Y, float64(nine.Heading))}, false))
	after, status = e.Now()
	assert.Equal(t, before.Work.Layout, after.Work.Layout)
	status.Revision = first.Revision
	assert.Equal(t, first, status)
	require.NoError(t, e.Walk(-1, false))
	_, status = e.Now()
	assert.False(t, status.Undo, "one undo for the lock, and none for the way there and back")
}

// A change that gives the plan faults, or asks for more than there is room for, changes nothing.
func TestAChangeWithFaultsChangesNothing(t *testing.T) {
	e, _ := opened(t)
	before, status := e.Now()
	for _, wrong := range []string{"count: none", "count: 9999"} {
		err := e.Change(t.Context(), "", replacing("count: 30", wrong))
		var faults yamlfile.Faults
		require.ErrorAs(t, err, &faults)
		assert.Equal(t, "composition.count", faults[0].Field)
		after, now := e.Now()
		assert.Same(t, before, after)
		assert.Equal(t, status, now)
	}
}

// What was placed by hand stays where it is when a knob is turned, and the rest flows round it.
func TestWhatIsLockedStays(t *testing.T) {
	e, _ := opened(t)
	require.NoError(t, e.Hand(t.Context(), "", []Move{placed(5, 1, 700.123, 1300, 45), {Do: Lock, ID: 9}}, false))
	nine := pieces(e)[8]
	require.True(t, nine.Locked)
	for _, change := range []string{"count: 40", "count: 12"} {
		shown, _ := e.Now()
		require.NoError(t, e.Change(t.Context(), "", replacing(fmt.Sprintf("count: %d", len(shown.Work.Layout.Pieces)), change)))
		var found []scatter.Piece
		for _, p := range pieces(e) {
			if p.Locked {
				found = append(found, p)
			}
		}
		require.Len(t, found, 2)
		assert.Equal(t, scatter.Piece{ID: 5, Kind: found[0].Kind, Face: 1, At: plane.Point{X: 700.12, Y: 1300}, Heading: 45, Locked: true}, found[0])
		assert.Equal(t, nine, found[1])
	}
}

// A piece is not put where there is no wall. One that came to lie there, because the plan changed or a file says
// so, is shown as it is, to be mended.
func TestPiecesStayOnWalls(t *testing.T) {
	e, path := opened(t)
	before := pieces(e)
	for _, m := range []Move{placed(before[0].ID, 0, -40, 700, 0), {Do: Add, Face: new(1), At: &plane.Point{X: 200, Y: -300}}} {
		require.ErrorContains(t, e.Hand(t.Context(), "", []Move{m}, false), "there is no wall at that place beside")
		assert.Equal(t, before, pieces(e))
	}
	at := before[0].At
	require.NoError(t, e.Hand(t.Context(), "", []Move{placed(before[0].ID, before[0].Face, at.X, at.Y, 0)}, false))
	require.NoError(t, e.Save(t.Context(), ""))
	data, err := os.ReadFile(LayoutBeside(path))
	require.NoError(t, err)
	off := regexp.MustCompile(`at: \[[^\]]*\]`).ReplaceAllString(strings.SplitAfter(string(data), "id: 2,")[0], "at: [-500, 700]") +
		strings.Join(strings.SplitAfter(string(data), "id: 2,")[1:], "")
	require.NoError(t, os.WriteFile(LayoutBeside(path), []byte(off), 0o644))
	again, err := Open(t.Context(), path, "")
	require.NoError(t, err)
	defer func() { _ = again.Close() }()
	shown, _ := again.Now()
	require.NotEmpty(t, shown.Flaws)
	assert.Equal(t, scatter.BadHole, shown.Flaws[0].Flaw)
	assert.Equal(t, 1, shown.Flaws[0].Piece)
}

func TestHands(t *testing.T) {
	e, _ := opened(t)
	before := pieces(e)
	hand := func(flow bool, moves ...Move) error { return e.Hand(t.Context(), "", moves, flow) }

	require.NoError(t, hand(false, Move{Do: Delete, ID: 3}))
	assert.Len(t, pieces(e), 29)
	shown, _ := e.Now()
	require.NotEmpty(t, shown.Flaws, "there are fewer than the plan asks")

	require.NoError(t, hand(false, Move{Do: Add, Face: new(1), At: &plane.Point{X: 200, Y: 300}}))
	last := pieces(e)[29]
	assert.Equal(t, scatter.Piece{ID: 31, Face: 1, At: plane.Point{X: 200, Y: 300}, Locked: true}, last)

	a, b := pieces(e)[0], pieces(e)[1]
	require.NoError(t, hand(false, Move{Do: Swap, ID: a.ID, With: b.ID}))
	assert.Equal(t, [2]int{b.Kind, a.Kind}, [2]int{pieces(e)[0].Kind, pieces(e)[1].Kind})
	assert.Equal(t, a.At, pieces(e)[0].At)

	require.NoError(t, hand(true, Move{Do: Unlock, ID: 31}))
	assert.Len(t, pieces(e), 30, "laid anew round what is locked")

	for range 4 {
		require.NoError(t, e.Walk(-1, false))
	}
	assert.Equal(t, before, pieces(e))

	for name, m := range map[string]Move{
		"no such piece":  {Do: Delete, ID: 99},
		"no such face":   placed(1, 7, 0, 0, 0),
		"far away":       placed(1, 0, 1e9, 0, 0),
		"nothing at all": {Do: "burn", ID: 1},
		"no such kind":   {Do: Place, ID: 1, Kind: new(2)},
		"no place":       {Do: Add},
		"with nothing":   {Do: Swap, ID: 1, With: 99},
	} {
		assert.Error(t, hand(false, m), name)
		assert.Equal(t, before, pieces(e), name)
	}
}

func TestSaveAndOpenAgain(t *testing.T) {
	e, path := opened(t)
	require.NoError(t, e.Change(t.Context(), "", replacing("count: 30", "count: 31")))
	require.NoError(t, e.Save(t.Context(), ""))
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, strings.ReplaceAll(small, "count: 30", "count: 31"), string(text))
	assert.NoFileExists(t, LayoutBeside(path), "nobody laid hands on it")

	require.NoError(t, e.Hand(t.Context(), "", []Move{placed(5, 1, 700, 1300, 45)}, false))
	_, status := e.Now()
	assert.False(t, status.Saved)
	require.NoError(t, e.Save(t.Context(), ""))
	_, status = e.Now()
	assert.True(t, status.Saved)

	again, err := Open(t.Context(), path, "")
	require.NoError(t, err)
	t.Cleanup(func() { _ = again.Close() })
	assert.Equal(t, pieces(e), pieces(again))
	_, status = again.Now()
	assert.True(t, status.Saved)
}

// A file that somebody else changed is not written over unless that is asked for.
func TestNeverOverAnothersChange(t *testing.T) {
	e, path := opened(t)
	require.NoError(t, e.Change(t.Context(), "", replacing("count: 30", "count: 31")))
	theirs := strings.ReplaceAll(small, "Small", "Theirs")
	require.NoError(t, os.WriteFile(path, []byte(theirs), 0o644))
	require.ErrorIs(t, e.Save(t.Context(), ""), ErrOutside)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, theirs, string(text))

	changed, err := looked(t, e)
	require.NoError(t, err)
	assert.True(t, changed)
	_, status := e.Now()
	assert.Equal(t, Changed, status.Outside)

	require.NoError(t, e.TakeTheirs(t.Context()))
	shown, status := e.Now()
	assert.Equal(t, theirs, string(shown.Text))
	assert.Equal(t, Same, status.Outside)
	require.NoError(t, e.Walk(-1, false))
	shown, _ = e.Now()
	assert.Contains(t, string(shown.Text), "count: 31", "ours is a step back")

	require.ErrorIs(t, e.Save(t.Context(), ""), ErrOutside, "which has nothing of theirs")
	asked := seen(t, e)
	require.NoError(t, os.WriteFile(path, []byte(strings.ReplaceAll(small, "Small", "Others")), 0o644))
	require.ErrorIs(t, e.Save(t.Context(), asked), ErrOutside, "that was asked of another text")
	require.NoError(t, e.Save(t.Context(), seen(t, e)))
	text, err = os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(text), "count: 31")

	require.NoError(t, os.WriteFile(LayoutBeside(path), []byte("seed: 1\npieces: []\n"), 0o644))
	require.NoError(t, e.Hand(t.Context(), "", []Move{placed(5, 1, 700, 1300, 45)}, false))
	require.ErrorIs(t, e.Save(t.Context(), ""), ErrOutside, "nor another's layout")
}

// A change of the file is taken by itself where there is none here; with faults it shows them and the
// last good picture.
func TestLook(t *testing.T) {
	e, path := opened(t)
	first, _ := e.Now()
	changed, err := looked(t, e)
	require.NoError(t, err)
	assert.False(t, changed)

	write := func(text string) Status {
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		changed, err := looked(t, e)
		require.NoError(t, err)
		assert.True(t, changed)
		_, status := e.Now()
		return status
	}
	status := write("title: [")
	assert.Equal(t, Faulty, status.Outside)
	assert.NotEmpty(t, status.Faults)
	shown, _ := e.Now()
	assert.Same(t, first, shown)

	status = write(strings.ReplaceAll(small, "count: 30", "count: 9000"))
	assert.Equal(t, Faulty, status.Outside, "no room for so many")
	require.NotEmpty(t, status.Faults)
	assert.Equal(t, "composition.count", status.Faults[0].Field)

	status = write(strings.ReplaceAll(small, "count: 30", "count: 25"))
	assert.Equal(t, Same, status.Outside)
	assert.True(t, status.Saved)
	assert.Len(t, pieces(e), 25)
	require.NoError(t, e.Walk(-1, false))
	assert.Len(t, pieces(e), 30)

	require.NoError(t, os.Remove(path))
	_, err = looked(t, e)
	require.NoError(t, err)
	_, status = e.Now()
	assert.Equal(t, Gone, status.Outside)
}

// Many at once do not harm one another, and a later change of a gesture overtakes an earlier one.
func TestManyAtOnce(t *testing.T) {
	e, _ := opened(t)
	var all sync.WaitGroup
	for i := range 20 {
		all.Go(func() {
			switch i % 4 {
			case 0:
				err := e.Change(context.Background(), "drag", replacing("seed: ", "seed: 1"))
				if err != nil {
					assert.ErrorIs(t, err, ErrOvertaken)
				}
			case 1:
				assert.NoError(t, e.Hand(context.Background(), "", []Move{{Do: Lock, ID: 1 + i}}, false))
			case 2:
				_, err := e.Judge([]Move{{Do: Place, ID: 1}})
				assert.NoError(t, err)
			default:
				assert.NoError(t, e.Walk(-1, false))
				e.Now()
			}
		})
	}
	all.Wait()
}

func TestOpenTellsWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "hall.yaml")
	_, err := Open(t.Context(), path, "")
	require.Error(t, err)
	require.NoError(t, os.WriteFile(path, []byte("title: 3"), 0o644))
	_, err = Open(t.Context(), path, "")
	var faults yamlfile.Faults
	require.ErrorAs(t, err, &faults)
	require.NoError(t, os.WriteFile(path, []byte(small), 0o644))
	_, err = Open(t.Context(), path, filepath.Join(dir, "none.yaml"))
	require.Error(t, err)
	require.NoError(t, os.WriteFile(LayoutBeside(path), []byte("pieces: 3"), 0o644))
	_, err = Open(t.Context(), path, "")
	require.ErrorAs(t, err, &faults)
}

// BenchmarkChange turns a knob: the plan is read, composed and judged anew.
func BenchmarkChange(b *testing.B) {
	dir := b.TempDir()
	require.NoError(b, os.CopyFS(dir, examples.Files))
	e, err := Open(b.Context(), filepath.Join(dir, "ferry-terminal.yaml"), "")
	require.NoError(b, err)
	b.Cleanup(func() { _ = e.Close() })
	spacings := []string{"spacing: 96", "spacing: 95"}
	for i := 0; b.Loop(); i++ {
		require.NoError(b, e.Change(b.Context(), "drag", replacing(spacings[i%2], spacings[(i+1)%2])))
	}
}
