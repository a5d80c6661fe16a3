package progress

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

var morning = time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC)

// after returns the time so many minutes past the morning.
func after(minutes float64) time.Time {
	return morning.Add(time.Duration(minutes * float64(time.Minute)))
}

func piece(n int) Piece {
	return Piece{Number: n, Kind: "A", Heading: heading.Bearing(n % 360), Holes: holemap.Mark(fmt.Sprint(n), 16)}
}

func opened(t testing.TB, path string) *Log {
	l, err := Open(context.Background(), path)
	require.NoError(t, err)
	t.Cleanup(func() { l.Close() })
	return l
}

func numbers(ticks []Tick) []int {
	var all []int
	for _, t := range ticks {
		all = append(all, t.Number)
	}
	return all
}

func TestWhatIsRecordedIsReadAgain(t *testing.T) {
	path := filepath.Join(t.TempDir(), "hall.progress")
	l := opened(t, path)
	assert.Empty(t, l.Record())
	require.NoError(t, l.Begin(after(0), "3479CDFH", 1, 2))
	require.NoError(t, l.Up(after(5.5), "3479CDFH", piece(3), piece(1)))
	require.NoError(t, l.Up(after(6), "3479CDFH", piece(7)))
	require.NoError(t, l.Down(after(7), "3479CDFH", piece(1), piece(99)))
	require.NoError(t, l.Pause(after(30), "3479CDFH", 1))
	require.NoError(t, l.Begin(after(60), "3479CDFH", 1, 1))
	require.NoError(t, l.End(after(75), "3479CDFH", 1, 12, 24))
	require.NoError(t, l.Begin(after(80), "3479CDFH", 2, 3))
	want := Record{
		Up: []Tick{{piece(3), "3479CDFH", after(5.5)}, {piece(7), "3479CDFH", after(6)}},
		Stands: []Stand{
			{Layout: "3479CDFH", Number: 1, Spans: []Span{{after(0), after(30), 2}, {after(60), after(75), 1}}, Begun: after(60), Done: true, Pieces: 12, Holes: 24},
			{Layout: "3479CDFH", Number: 2, Begun: after(80), Hands: 3},
		},
	}
	assert.Equal(t, want, l.Record())
	assert.Equal(t, 75.0, want.Stands[0].Minutes())
	require.NoError(t, l.Close())
	assert.ErrorContains(t, l.Up(after(1), "X", piece(1)), "closed")

	data, err := os.ReadFile(path)
	require.NoError(t, err)
	got, err := Read(path, data)
	require.NoError(t, err)
	assert.Equal(t, want, got)
	assert.Equal(t, want, opened(t, path).Record())
	again, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(data), string(again), "opening adds nothing")
}

// A record that was handed out does not change under its reader.
func TestARecordStays(t *testing.T) {
	l := opened(t, filepath.Join(t.TempDir(), "p"))
	require.NoError(t, l.Begin(after(0), "X", 1, 1))
	require.NoError(t, l.Pause(after(1), "X", 1))
	before := l.Record()
	require.NoError(t, l.Begin(after(2), "X", 1, 1))
	require.NoError(t, l.End(after(3), "X", 1, 1, 1))
	require.NoError(t, l.Up(after(3), "X", piece(1)))
	assert.Len(t, before.Stands[0].Spans, 1)
	assert.False(t, before.Stands[0].Done)
	assert.Empty(t, before.Up)
}

func TestTicksAreMadeOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "p")
	l := opened(t, path)
	require.NoError(t, l.Up(after(0), "X", piece(1)))
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, l.Up(after(9), "X", piece(1)))
	require.NoError(t, l.Down(after(9), "X", piece(2)))
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(before), string(now))
}

func TestWhatCannotBeIsRefused(t *testing.T) {
	l := opened(t, filepath.Join(t.TempDir(), "p"))
	require.NoError(t, l.Begin(after(10), "X", 1, 1))
	for says, err := range map[string]error{
		"begins stand 1, where work goes on": l.Begin(after(11), "X", 1, 1),
		"before it began":                    l.End(after(9), "X", 1, 1, 1),
		"stand 2, which was never begun":     l.End(after(9), "X", 2, 1, 1),
		"stand 1, which was never begun":     l.Pause(after(9), "Y", 1),
		"0 hands":                            l.Begin(after(9), "X", 3, 0),
		"a stand's number":                   l.Begin(after(9), "X", 0, 1),
		"a piece's number":                   l.Up(after(9), "X", piece(1), Piece{Kind: "A", Holes: "X"}),
		"no mark of holes":                   l.Up(after(9), "X", Piece{Number: 1, Kind: "A"}),
		"no fingerprint":                     l.Up(after(9), "", piece(1)),
		"no code of a kind":                  l.Up(after(9), "X", Piece{Number: 1, Kind: "\xff", Holes: "X"}),
		"minutes out of range":               l.Correct(after(9), "X", 1, -1),
		"a year that cannot be":              l.Up(time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC), "X", piece(1)),
	} {
		assert.ErrorContains(t, err, says)
	}
	assert.Empty(t, l.Record().Up, "of several pieces none is ticked where one is wrong")
	assert.Len(t, l.Record().Stands, 1)
}

// A stand's time can be put right afterwards, and goes on from there.
func TestCorrect(t *testing.T) {
	l := opened(t, filepath.Join(t.TempDir(), "p"))
	require.NoError(t, l.Begin(after(0), "X", 1, 1))
	require.NoError(t, l.End(after(24*60), "X", 1, 4, 8))
	require.NoError(t, l.Correct(after(24*60), "X", 1, 35.5))
	assert.Equal(t, 35.5, l.Record().Stands[0].Minutes())
	assert.True(t, l.Record().Stands[0].Done)
	require.NoError(t, l.Begin(after(25*60), "X", 1, 2))
	require.NoError(t, l.End(after(25*60+5), "X", 1, 4, 8))
	assert.Equal(t, 45.5, l.Record().Stands[0].Minutes())
}

func TestNotOurFile(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{"notes": "buy pins\n", "empty": "", "newer": `{"wallshoal-progress":2}` + "\n"} {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
		_, err := Open(context.Background(), path)
		assert.Error(t, err, name)
		now, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, text, string(now))
	}
	_, err := Open(context.Background(), dir)
	assert.ErrorContains(t, err, "folder")
	if os.Symlink(filepath.Join(dir, "newer"), filepath.Join(dir, "link")) == nil {
		_, err = Open(context.Background(), filepath.Join(dir, "link"))
		assert.ErrorContains(t, err, "link")
	}
	_, err = Open(context.Background(), filepath.Join(dir, "no", "such"))
	assert.Error(t, err)
}

// Whoever else adds to the file, replaces or removes it is noticed before anything is written.
func TestChangedByOthers(t *testing.T) {
	for name, change := range map[string]func(path string) error{
		"added to": func(path string) error {
			f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
			if err == nil {
				_, err = f.WriteString("x\n")
				f.Close()
			}
			return err
		},
		"removed": os.Remove,
		"replaced": func(path string) error {
			data, err := os.ReadFile(path)
			if err == nil {
				err = os.WriteFile(path+".new", data, 0o666)
			}
			if err == nil {
				err = os.Rename(path+".new", path)
			}
			return err
		},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "p")
			l := opened(t, path)
			require.NoError(t, l.Up(after(0), "X", piece(1)))
			require.NoError(t, change(path))
			before, _ := os.ReadFile(path)
			assert.ErrorContains(t, l.Up(after(1), "X", piece(2)), "open it again")
			now, _ := os.ReadFile(path)
			assert.Equal(t, string(before), string(now))
			assert.Equal(t, []int{1}, numbers(l.Record().Up))
		})
	}
}

// Many at once: every tick is there, and the file reads without damage.
func TestAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "p")
	l := opened(t, path)
	var wait sync.WaitGroup
	for i := range 8 {
		wait.Go(func() {
			for j := range 5 {
				assert.NoError(t, l.Up(after(0), "X", piece(1+5*i+j)))
				l.Record()
			}
			assert.NoError(t, l.Down(after(1), "X", piece(1+5*i)))
		})
	}
	wait.Wait()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	r, err := Read(path, data)
	require.NoError(t, err)
	assert.Len(t, r.Up, 32)
	assert.Zero(t, r.Lost+r.Torn)
	assert.Equal(t, r, l.Record())
}

// room is a wall with pieces of two kinds on it, at places by the number of the piece.
func workOf(t *testing.T, pieces []scatter.Piece) holemap.Work {
	site, err := wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{
		{Name: "Long", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 6000, 2500)},
	}})
	require.NoError(t, err)
	outline := plane.Rectangle(plane.Point{X: -40, Y: -15}, 80, 30)
	hole := []scatter.Hole{{Bit: 2, Depth: 25, Fixing: "pin"}}
	w := holemap.Work{Site: site, Layout: scatter.Layout{Pieces: pieces}, Kinds: []scatter.Kind{
		{Name: "Herring", Code: "A", Outline: outline, Holes: hole}, {Name: "Float", Code: "B", Outline: outline, Holes: hole},
	}}
	w.Map, err = holemap.Make(site, w.Kinds, w.Layout)
	require.NoError(t, err)
	return w
}

// Pieces that another layout leaves where they were count, whatever their numbers are there.
func TestAgainstAnotherLayout(t *testing.T) {
	var pieces []scatter.Piece
	for i := range 6 {
		pieces = append(pieces, scatter.Piece{ID: i + 1, At: plane.Point{X: 300 + 500*float64(i), Y: 1200}, Heading: heading.Bearing(30 * i)})
	}
	old := workOf(t, pieces)
	l := opened(t, filepath.Join(t.TempDir(), "p"))
	require.NoError(t, l.Up(after(0), old.Map.Fingerprint, Pieces(old)[:5]...))
	s := l.Record().Against(old.Map.Fingerprint, Pieces(old))
	assert.Equal(t, Standing{Layout: old.Map.Fingerprint, Hanging: []int{1, 2, 3, 4, 5}}, s)

	pieces = slices.Clone(pieces)
	for i := range pieces {
		pieces[i].ID += 10
	}
	pieces[1].At.X += 20   // moved: its old holes are astray
	pieces[2].Kind = 1     // another kind in the same hole
	pieces[3].Heading = 91 // the same hole, turned
	now := workOf(t, pieces)
	s = l.Record().Against(now.Map.Fingerprint, Pieces(now))
	assert.Equal(t, []int{11, 15}, s.Hanging)
	require.Len(t, s.Rehang, 2)
	assert.Equal(t, []int{13, 14}, []int{s.Rehang[0].Number, s.Rehang[1].Number})
	assert.Equal(t, 3, s.Rehang[0].Was.Number)
	assert.Equal(t, []int{2}, numbers(s.Astray))
	assert.Equal(t, []string{old.Map.Fingerprint}, s.Others)

	require.NoError(t, l.Up(after(9), now.Map.Fingerprint, Pieces(now)[2]))
	require.NoError(t, l.Down(after(9), now.Map.Fingerprint, s.Astray[0].Piece))
	s = l.Record().Against(now.Map.Fingerprint, Pieces(now))
	assert.Equal(t, []int{11, 13, 15}, s.Hanging)
	assert.Empty(t, s.Astray)
}

func FuzzRead(f *testing.F) {
	var good strings.Builder
	good.WriteString(header)
	for _, l := range some(40) {
		text, err := l.text()
		require.NoError(f, err)
		good.Write(text)
	}
	f.Add([]byte(good.String()), uint64(1))
	f.Add([]byte(header+"\x00\x00\n{}\n"), uint64(2))
	f.Add([]byte(header), uint64(3))
	f.Fuzz(func(t *testing.T, data []byte, seed uint64) {
		if r, err := Read("p", data); err == nil {
			r.Against("X", []Piece{piece(1), piece(2)})
			_, _, err := r.Hours("job", "hang", "piece", seed%2 == 0)
			require.NoError(t, err)
			for _, s := range r.Stands {
				require.GreaterOrEqual(t, s.Minutes(), 0.0)
			}
		}
		// The same as the insides of lines with a right checksum, which a hostile file can have.
		var lines []byte
		for part := range strings.SplitSeq(string(data), "\n") {
			lines = append(lines, summed(strings.TrimSuffix(part, "}"))...)
		}
		_, err := Read("p", append([]byte(header), lines...))
		require.NoError(t, err)
	})
}

// some returns lines of all sorts, in an order that makes sense and sometimes does not.
func some(n int) []line {
	r := rand.New(rand.NewPCG(5, 6))
	var lines []line
	for i := range n {
		at := after(float64(3 * i))
		switch r.IntN(6) {
		case 0, 1, 2:
			lines = append(lines, ofPiece(at, up, "X", piece(1+r.IntN(n))))
		case 3:
			lines = append(lines, ofPiece(at, down, "X", piece(1+r.IntN(n))))
		case 4:
			l := lineAt(at, begin, "X")
			l.Stand, l.Hands = 1+r.IntN(3), 1+r.IntN(3)
			lines = append(lines, l)
		default:
			l := lineAt(at, end, "X")
			l.Stand, l.Pieces, l.Drilled = 1+r.IntN(3), r.IntN(9), r.IntN(9)
			lines = append(lines, l)
		}
	}
	return lines
}
