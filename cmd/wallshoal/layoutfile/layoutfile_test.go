package layoutfile_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/layoutfile"
	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/examples"
	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// work returns a work on three walls, the last of which takes no pieces, without pieces.
func work(t testing.TB) holemap.Work {
	t.Helper()
	room := wall.Room{Datum: 1500}
	for _, name := range []string{"Long wall", "Mur d'entrée, haut", "No"} {
		room.Walls = append(room.Walls, wall.Wall{
			Name: name, Turn: 90, Surface: wall.Brick, Outline: plane.Rectangle(plane.Point{}, 6000, 2700), Bare: name == "No",
		})
	}
	site, err := wall.Survey(room)
	require.NoError(t, err)
	return holemap.Work{
		Title: "Herring: \"one\" # two", Site: site, Map: holemap.Map{Fingerprint: "3f9a"},
		Kinds: []scatter.Kind{{Code: "A"}, {Code: "N"}, {Code: "7"}, {Code: "Β1"}},
	}
}

// scattered returns a layout of n pieces on the first two walls.
func scattered(n int, rng *rand.Rand) scatter.Layout {
	l := scatter.Layout{Seed: rng.Uint64()}
	for i := range n {
		l.Pieces = append(l.Pieces, scatter.Piece{
			ID: i + 1, Kind: rng.IntN(4), Face: rng.IntN(2), Locked: rng.IntN(3) == 0,
			At:      plane.Point{X: rng.Float64() * 6000, Y: rng.Float64() * 2700}.Snap(100),
			Heading: heading.FromAngle(rng.Float64() * 7),
		})
	}
	return l
}

func TestForm(t *testing.T) {
	w := work(t)
	w.Layout = scatter.Layout{Seed: 7, Pieces: []scatter.Piece{
		{ID: 1, Kind: 0, Face: 0, At: plane.Point{X: 123.45, Y: 1500.2}, Heading: 92.35},
		{ID: 12, Kind: 1, Face: 1, At: plane.Point{X: 40, Y: 0.5}, Heading: 0, Locked: true},
	}}
	var out bytes.Buffer
	require.NoError(t, layoutfile.Write(&out, w))
	_, body, _ := strings.Cut(out.String(), "\n\n")
	assert.Equal(t, `seed: 7
pieces:
- {id: 1, kind: A, wall: Long wall, face: wall, at: [123.45, 1500.2], heading: 92.35}
- {id: 12, kind: "N", wall: "Mur d'entrée, haut", face: wall, at: [40, 0.5], heading: 0, locked: true}
`, body)
	for _, line := range strings.Split(strings.TrimSpace(strings.TrimSuffix(out.String(), body)), "\n") {
		assert.True(t, strings.HasPrefix(line, "#"), line)
	}
	assert.Contains(t, out.String(), "3f9a")
}

// What is written reads back to the last bit, whether it has the form in which it is written or
// somebody's editor has laid it out anew.
func TestRoundTrip(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	w := work(t)
	for _, n := range []int{0, 1, 2, 500} {
		w.Layout = scattered(n, rng)
		var out bytes.Buffer
		require.NoError(t, layoutfile.Write(&out, w))
		for name, text := range map[string]string{
			"as written":      out.String(),
			"spaced out":      strings.NewReplacer("{", "{ ", ", kind", ",   kind", "}", " }   # a note").Replace(out.String()),
			"Windows":         strings.ReplaceAll(out.String(), "\n", "\r\n"),
			"one key a line":  strings.NewReplacer("{", "\n  ", ", kind", "\n  kind", ", wall", "\n  wall", ", face", "\n  face", ", at", "\n  at", ", heading", "\n  heading", ", locked", "\n  locked", "}", "").Replace(out.String()),
			"pieces indented": strings.ReplaceAll(out.String(), "\n- ", "\n    - "),
		} {
			got, _, err := layoutfile.Read("l.yaml", []byte(text), w.Site, w.Kinds)
			require.NoError(t, err, name)
			require.Equal(t, w.Layout, got, name)
		}
	}
}

// A layout that was really laid reads back too.
func TestRoundTripOfAnExample(t *testing.T) {
	p, err := plan.Read("p.yaml", []byte(examples.ReadingRoom))
	require.NoError(t, err)
	w := holemap.Work{Title: p.Title, Kinds: p.Kinds}
	w.Site, err = wall.Survey(p.Room)
	require.NoError(t, err)
	w.Layout, err = scatter.Lay(t.Context(), w.Site, p.Kinds, p.Composition, p.Seed, nil)
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, layoutfile.Write(&out, w))
	got, _, err := layoutfile.Read("l.yaml", out.Bytes(), w.Site, w.Kinds)
	require.NoError(t, err)
	assert.Equal(t, w.Layout, got)
}

func FuzzRoundTrip(f *testing.F) {
	f.Add(uint64(1), 0.0, 0.0, 0.0, true)
	f.Add(uint64(math.MaxUint64), 5999.999999999999, 0.1, 359.99, false)
	f.Add(uint64(2), math.Copysign(0, -1), 5e-324, 92.35, false)
	f.Add(uint64(3), 0.1+0.2, 1.0/3, 1e-9, true)
	w := work(f)
	f.Fuzz(func(t *testing.T, seed uint64, x, y, degrees float64, locked bool) {
		if !(x >= 0 && x <= 6000 && y >= 0 && y <= 2700 && degrees >= 0 && degrees < 360) {
			t.Skip("off the wall")
		}
		w := w
		w.Layout = scatter.Layout{Seed: seed, Pieces: []scatter.Piece{{ID: 3, At: plane.Point{X: x, Y: y}, Heading: heading.Bearing(degrees), Locked: locked}}}
		var out bytes.Buffer
		require.NoError(t, layoutfile.Write(&out, w))
		got, _, err := layoutfile.Read("l.yaml", out.Bytes(), w.Site, w.Kinds)
		require.NoError(t, err)
		require.Equal(t, w.Layout.Seed, got.Seed)
		p := got.Pieces[0]
		assert.Equal(t, [3]uint64{math.Float64bits(x), math.Float64bits(y), math.Float64bits(degrees)},
			[3]uint64{math.Float64bits(p.At.X), math.Float64bits(p.At.Y), math.Float64bits(float64(p.Heading))})
		assert.Equal(t, w.Layout.Pieces[0].Locked, p.Locked)
	})
}

// Whatever is in the file, it is read or complained of; and a space before the end of every piece,
// which keeps the file from being read the quick way, changes nothing.
func FuzzRead(f *testing.F) {
	w := work(f)
	w.Layout = scattered(3, rand.New(rand.NewPCG(3, 4)))
	var out bytes.Buffer
	require.NoError(f, layoutfile.Write(&out, w))
	f.Add(out.String())
	f.Add("seed: 1\npieces: []\n")
	f.Add("seed: 1\npieces:\n- {id: 1, kind: A, wall: Long wall, face: wall, at: [1, 2], heading: 3}\n- {id: 1, kind: A}\n")
	f.Add("seed: 1\npieces:\n- {id: 01, kind: \"A\", wall: Long wall, face: \"wall\", at: [-0, 2.], heading: 360, locked: true}\n")
	f.Fuzz(func(t *testing.T, text string) {
		got, lines, err := layoutfile.Read("l.yaml", []byte(text), w.Site, w.Kinds)
		slow, slowLines, slowErr := layoutfile.Read("l.yaml", []byte(strings.ReplaceAll(text, "}", " }")), w.Site, w.Kinds)
		var faults yamlfile.Faults
		if err != nil {
			require.True(t, errors.As(err, &faults))
			return
		}
		if slowErr == nil {
			assert.Equal(t, slow, got)
			assert.Equal(t, slowLines, lines)
		} else {
			assert.Contains(t, text, `"`, "%v", slowErr) // the brace stood in quotation marks
		}
	})
}

func TestFaults(t *testing.T) {
	const good = "- {id: 1, kind: A, wall: Long wall, face: wall, at: [100, 200], heading: 90}"
	change := func(old, replacement string) string {
		return "seed: 1\npieces:\n" + good + "\n" + strings.Replace(strings.Replace(good, "id: 1", "id: 2", 1), old, replacement, 1)
	}
	tests := []struct{ file, want string }{
		{change("id: 2", "id: 1"), "4: pieces[1].id: 1 is also the number of pieces[0]; give each piece a number of its own"},
		{change("id: 2", "id: 0"), `4: pieces[1].id: "0" is not a piece's number; give a whole number from 1 to 2000000`},
		{change("id: 2, ", ""), "4: pieces[1].id: is missing; give the piece a number of its own"},
		{change("kind: A", "kind: Q"), `4: pieces[1].kind: "Q" is not the code of a kind; write one of A, N, 7, Β1`},
		{change("Long wall", "Long wal"), `4: pieces[1].wall: "Long wal" is not the name of a wall; did you mean Long wall?`},
		{change("face: wall", "face: ceiling"), `4: pieces[1].face: "ceiling" is not a face of that wall; write one of wall`},
		{change("Long wall", "No"), `4: pieces[1].face: "No, wall" takes no pieces; hang the piece elsewhere, or let the plan use that wall`},
		{change("100", "-100"), "4: pieces[1].at: its centre lies 100.00 mm off the face; move it onto the face"},
		{change("100", "nan"), `4: pieces[1].at[0]: "nan" is not a place in mm; give a number from -1000000 to 1000000`},
		{change("[100, 200]", "[100]"), "4: pieces[1].at: has 1 numbers; give two, like [1200, 1450.5]"},
		{change("90", "-90"), "4: pieces[1].heading: -90 is not a heading; give a number from 0 to 360"},
		{change("heading", "headnig"), "4: pieces[1].headnig: is not a known key; did you mean heading?"},
		{change("}", ", locked: perhaps}"), `4: pieces[1].locked: "perhaps" is neither true nor false; write true or false`},
		{"pieces:\n" + good, "1: seed: is missing; give the seed that the layout was made with"},
		{"seed: -1\npieces:\n" + good, `1: seed: "-1" is not a seed; give a whole number from 0 to 18446744073709551615`},
		{"seed: 1\n", "1: pieces: is missing; list the pieces"},
		{"seed: 1\nseed: 2\npieces:\n" + good, "2: seed: is given twice, first in line 1; keep one of them"},
		{"seed: 1\npieces:\n- &a " + good[2:] + "\n- *a", "3: pieces[0]: &a names a part of the file to repeat it; remove it, and put text that starts with & in quotation marks\nl.yaml:4: pieces[1]: *a repeats another part of the file; write it out here"},
	}
	w := work(t)
	for _, tt := range tests {
		_, _, err := layoutfile.Read("l.yaml", []byte(tt.file), w.Site, w.Kinds)
		assert.EqualError(t, err, "l.yaml:"+tt.want)
	}
}

func TestOrder(t *testing.T) {
	w := work(t)
	file := "seed: 1\npieces:\n" +
		"- {id: 9, kind: A, wall: Long wall, face: wall, at: [1, 2], heading: 3}\n" +
		"- {id: 4, kind: A, wall: Long wall, face: wall, at: [1, 2], heading: 360}\n"
	got, lines, err := layoutfile.Read("l.yaml", []byte(file), w.Site, w.Kinds)
	require.NoError(t, err)
	assert.Equal(t, []int{4, 9}, []int{got.Pieces[0].ID, got.Pieces[1].ID})
	assert.Equal(t, heading.Bearing(0), got.Pieces[0].Heading)
	assert.Equal(t, layoutfile.Lines{9: 3, 4: 4}, lines)
}

func TestWriteErrors(t *testing.T) {
	w := work(t)
	w.Layout.Pieces = []scatter.Piece{{ID: 5, At: plane.Point{X: math.NaN()}}}
	assert.EqualError(t, layoutfile.Write(io.Discard, w), "piece 5 has no place")
	w.Layout = scattered(1000, rand.New(rand.NewPCG(5, 6)))
	assert.ErrorIs(t, layoutfile.Write(full{}, w), io.ErrShortWrite)
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

// Twenty thousand pieces are written and read well within a second each.
func TestSpeed(t *testing.T) {
	w := work(t)
	w.Layout = scattered(20_000, rand.New(rand.NewPCG(7, 8)))
	var out bytes.Buffer
	write := leastTime(func() {
		out.Reset()
		require.NoError(t, layoutfile.Write(&out, w))
	})
	var got scatter.Layout
	read := leastTime(func() {
		var err error
		got, _, err = layoutfile.Read("l.yaml", out.Bytes(), w.Site, w.Kinds)
		require.NoError(t, err)
	})
	assert.Equal(t, w.Layout, got)
	t.Log(fmt.Sprint("written in ", write, ", read in ", read))
	assert.Less(t, write, time.Second)
	assert.Less(t, read, time.Second)
}

// leastTime returns the least time that f takes in three runs, since a busy machine may halt any
// one of them.
func leastTime(f func()) time.Duration {
	least := time.Duration(math.MaxInt64)
	for range 3 {
		start := time.Now()
		f()
		least = min(least, time.Since(start))
	}
	return least
}

func BenchmarkRead(b *testing.B) {
	w := work(b)
	w.Layout = scattered(20_000, rand.New(rand.NewPCG(7, 8)))
	var out bytes.Buffer
	require.NoError(b, layoutfile.Write(&out, w))
	edited := strings.Replace(out.String(), "{id: 1,", "{ id: 1,", 1)
	for name, text := range map[string]string{"as written": out.String(), "edited": edited} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				_, _, err := layoutfile.Read("l.yaml", []byte(text), w.Site, w.Kinds)
				require.NoError(b, err)
			}
		})
	}
}

// A layout of the plan as it was before is read as far as the plan has walls and kinds for it still.
func TestReadOlder(t *testing.T) {
	w := work(t)
	const text = `seed: 7
pieces:
- {id: 1, kind: A, wall: Long wall, face: wall, at: [6400, 1450.5], heading: 70}
- {id: 2, kind: A, wall: "No", face: wall, at: [500, 700], heading: 10}
- {id: 3, kind: A, wall: Gone, face: wall, at: [500, 700], heading: 10}
- {id: 4, kind: Z, wall: Long wall, face: wall, at: [500, 700], heading: 10}
- {id: 5, kind: A, wall: Long wall, face: front, at: [500, 700], heading: 10}
- {id: 6, kind: "N", wall: LONG wall, face: wall, at: [500, 700], heading: 10}
`
	_, _, err := layoutfile.Read("l", []byte(text), w.Site, w.Kinds)
	require.Error(t, err)
	layout, gone, err := layoutfile.ReadOlder("l", []byte(text), w.Site, w.Kinds)
	require.NoError(t, err)
	assert.Equal(t, []int{3, 4, 5}, gone)
	var ids []int
	for _, p := range layout.Pieces {
		ids = append(ids, p.ID)
	}
	assert.Equal(t, []int{1, 2, 6}, ids)
	assert.Equal(t, plane.Point{X: 6400, Y: 1450.5}, layout.Pieces[0].At)
	for _, wrong := range []string{"{id: 2, kind: Z}", "{id: 1, kind: Z, wall: Long wall, face: wall, at: [1, 1], heading: 10}", "3"} {
		_, _, err = layoutfile.ReadOlder("l", []byte(text+"- "+wrong+"\n"), w.Site, w.Kinds)
		assert.Error(t, err, wrong)
	}
}
