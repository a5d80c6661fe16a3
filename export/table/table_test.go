package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

func work(t *testing.T) holemap.Work {
	t.Helper()
	w := holemap.Work{
		Site: wall.Site{
			Room: wall.Room{Datum: 1500, Walls: []wall.Wall{{Name: "Long wall"}, {Name: "=Ticket, wall"}}},
			Faces: []wall.Face{
				{Wall: 0, Name: "wall", Frame: space.Upright(space.Vec{}, 0)},
				{Wall: 1, Name: "wall", Frame: space.Upright(space.Vec{X: 4000}, -90)},
			},
		},
		Kinds: []scatter.Kind{{
			Name: "Straight herring", Code: "A",
			Outline: plane.Rectangle(plane.Point{X: -60, Y: -15}, 120, 30),
			Holes: []scatter.Hole{
				{At: plane.Point{X: 25}, Bit: 1.5, Depth: 25, Fixing: "steel pin 1.5 x 45"},
				{At: plane.Point{X: -30}, Bit: 0.75, Depth: 25.06, Fixing: `pin, "brass"`},
			},
		}},
		Layout: scatter.Layout{Seed: 7, Pieces: []scatter.Piece{
			{ID: 2, Face: 1, At: plane.Point{X: 1000.04, Y: 1400.05}, Heading: 90, Locked: true},
			{ID: 1, Face: 0, At: plane.Point{X: 500, Y: 1499.96}, Heading: 12.3},
		}},
	}
	var err error
	w.Map, err = holemap.Make(w.Site, w.Kinds, w.Layout)
	require.NoError(t, err)
	for i := range w.Map.Holes {
		w.Map.Holes[i].Cautions = nil
	}
	w.Map.Holes[0].Cautions = []string{"cable-band", "height"}
	return w
}

func TestHoles(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, WriteHoles(&b, work(t)))
	assert.Equal(t, strings.Join([]string{
		"hole,piece,kind,wall,face,x_mm,y_mm,from_datum_mm,bit_mm,depth_mm,fixing,heading_deg,caution",
		"1,1,A,Long wall,wall,505.3,1524.4,24.4,1.5,25.0,steel pin 1.5 x 45,12.30,cable-band; height",
		`2,1,A,Long wall,wall,493.6,1470.6,-29.4,0.75,25.1,"pin, ""brass""",12.30,`,
		`3,2,A,"'=Ticket, wall",wall,1025.0,1400.1,-99.9,1.5,25.0,steel pin 1.5 x 45,90.00,`,
		`4,2,A,"'=Ticket, wall",wall,970.0,1400.1,-99.9,0.75,25.1,"pin, ""brass""",90.00,`,
		"",
	}, "\n"), b.String())
}

// A front that begins above the floor is measured from the floor; an underside has no height, and is
// measured from its edge at the wall.
func TestPlacesOnSidesAreMeasuredFromTheFloorWhereTheyHaveAHeight(t *testing.T) {
	w := work(t)
	bulkhead := wall.Obstruction{
		Kind: wall.Bulkhead, Name: "bulkhead", Depth: 350, Use: wall.Sides(350),
		Shape: plane.Rectangle(plane.Point{X: 500, Y: 2400}, 3000, 300),
	}
	var err error
	w.Site, err = wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{{
		Name: "Long wall", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 4000, 2700), Obstructions: []wall.Obstruction{bulkhead},
	}}})
	require.NoError(t, err)
	front, _ := w.Site.FaceByName("Long wall", "bulkhead front")
	under, found := w.Site.FaceByName("Long wall", "bulkhead underside")
	require.True(t, found)
	w.Layout.Pieces = []scatter.Piece{
		{ID: 1, Face: front, At: plane.Point{X: 700, Y: 120}, Heading: 90},
		{ID: 2, Face: under, At: plane.Point{X: 700, Y: 120}, Heading: 90},
	}
	w.Map, err = holemap.Make(w.Site, w.Kinds, w.Layout)
	require.NoError(t, err)
	for i := range w.Map.Holes {
		w.Map.Holes[i].Cautions = nil
	}
	var b bytes.Buffer
	require.NoError(t, WriteHoles(&b, w))
	lines := strings.Split(b.String(), "\n")
	assert.Equal(t, "1,1,A,Long wall,bulkhead front,725.0,2520.0,1020.0,1.5,25.0,steel pin 1.5 x 45,90.00,", lines[1])
	assert.Equal(t, "3,2,A,Long wall,bulkhead underside,725.0,120.0,,1.5,25.0,steel pin 1.5 x 45,90.00,", lines[3])
	b.Reset()
	require.NoError(t, WritePieces(&b, w, nil))
	lines = strings.Split(b.String(), "\n")
	assert.Contains(t, lines[1], "bulkhead front,700.0,2520.0")
	assert.Contains(t, lines[2], "bulkhead underside,700.0,120.0")
}

func TestPieces(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, WritePieces(&b, work(t), map[int]int{1: 3}))
	assert.Equal(t, strings.Join([]string{
		"piece,kind,name,wall,face,x_mm,y_mm,heading_deg,locked,stand",
		"1,A,Straight herring,Long wall,wall,500.0,1500.0,12.30,false,3",
		`2,A,Straight herring,"'=Ticket, wall",wall,1000.0,1400.1,90.00,true,`,
		"",
	}, "\n"), b.String())
}

func TestNumbersStayNumbers(t *testing.T) {
	tests := []struct {
		value float64
		want  string
	}{
		{0, "0.0"}, {math.Copysign(0, -1), "0.0"}, {-0.04, "0.0"}, {-0.05, "0.0"}, {-0.06, "-0.1"}, {0.05, "0.1"},
		{1.25, "1.3"}, {-29.4, "-29.4"}, {1e6, "1000000.0"}, {12345678.9, "12345678.9"},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, length(tt.value), "%v", tt.value)
	}
	for mm, want := range map[float64]string{1.5: "1.5", 6: "6.0", 0.75: "0.75", 4.7625: "4.76", 1.999: "2.0"} {
		assert.Equal(t, want, bit(mm))
	}

	var b bytes.Buffer
	require.NoError(t, WriteHoles(&b, work(t)))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	for _, row := range rows[1:] {
		for _, column := range []int{0, 1, 5, 6, 7, 8, 9, 11} {
			_, err := strconv.ParseFloat(row[column], 64)
			assert.NoError(t, err, rows[0][column])
		}
	}
}

func TestAMeasureThatIsNoNumberIsRefused(t *testing.T) {
	w := work(t)
	w.Map.Holes[2].Depth = math.NaN()
	assert.ErrorContains(t, WriteHoles(&bytes.Buffer{}, w), "hole 3")
	w.Layout.Pieces[0].At.Y = math.Inf(1)
	assert.ErrorContains(t, WritePieces(&bytes.Buffer{}, w, nil), "piece 2")
}

type broken struct{}

var errBroken = errors.New("broken")

func (broken) Write([]byte) (int, error) { return 0, errBroken }

func TestAFailingWriterIsReported(t *testing.T) {
	assert.ErrorIs(t, WriteHoles(broken{}, work(t)), errBroken)
	assert.ErrorIs(t, WritePieces(broken{}, work(t), nil), errBroken)
}

func TestWhatASpreadsheetWouldRun(t *testing.T) {
	tests := []struct{ text, want string }{
		{"Long wall", "Long wall"},
		{"", ""},
		{"a=b", "a=b"},
		{"3-ply", "3-ply"},
		{"'70s wall", "'70s wall"},
		{"=1+1", "'=1+1"},
		{"+1", "'+1"},
		{"-1", "'-1"},
		{"@sum", "'@sum"},
		{"  =1", "'  =1"},
		{"\t=1", "' =1"},
		{"\r\n=1", "'  =1"},
		{"\ttab", " tab"},
		{"\u00a0=1", "'\u00a0=1"},
		{"\u3000=1", "'\u3000=1"},
		{"\ufeff=1", "'\ufeff=1"},
		{"\u200b=1", "'\u200b=1"},
		{"\ue000=1", "'\ue000=1"},
		{"＝1", "'＝1"},
		{"＋1", "'＋1"},
		{"－1", "'－1"},
		{"＠a", "'＠a"},
		{"'=1", "''=1"},
		{"two\nlines", "two lines"},
		{"\xff=1", "\ufffd=1"},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, Safe(tt.text), "%q", tt.text)
	}
}

func FuzzSafe(f *testing.F) {
	for _, text := range []string{"", "=1", "'", "''=1", " \t+1", "\r\n", "a\rb", `"=1"`, "＝", "−2", "\xff", "\u200b@", ",;|", "\u0000=1", "\u0085-"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var b bytes.Buffer
		require.NoError(t, write(&b, [][]string{{"first", Safe(text), "last"}}))
		rows, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err)
		require.Len(t, rows, 1)
		require.Len(t, rows[0], 3)
		cell := rows[0][1]

		seen := strings.TrimLeftFunc(cell, func(r rune) bool { return unicode.IsSpace(r) || !unicode.IsGraphic(r) })
		for _, sign := range []string{"=", "+", "-", "@", "＝", "＋", "－", "＠"} {
			assert.False(t, strings.HasPrefix(seen, sign), "%q", cell)
		}
		assert.False(t, strings.ContainsFunc(cell, unicode.IsControl), "%q", cell)
		want := strings.Map(spaced, strings.ToValidUTF8(text, "\uFFFD"))
		assert.Equal(t, want, Restore(cell), "what was written can be had back")
	})
}
