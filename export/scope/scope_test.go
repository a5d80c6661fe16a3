package scope

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// work returns two pieces on one wall, one on another, and a wall that carries nothing.
func work(t *testing.T) holemap.Work {
	t.Helper()
	metres := func(w, h float64) plane.Region {
		return plane.RegionOf(plane.Rectangle(plane.Point{}, 1000*w, 1000*h))
	}
	w := holemap.Work{
		Title: "Pebbles | for *nobody*",
		By:    "The studio",
		Date:  time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
		Units: measure.Millimetre,
		Site: wall.Site{
			Room: wall.Room{Datum: 1500, Walls: []wall.Wall{
				{Name: "Long wall", Surface: wall.Plaster}, {Name: "Short wall", Surface: wall.Timber}, {Name: "Bare wall"},
			}},
			Faces: []wall.Face{
				{Wall: 0, Name: "wall", Frame: space.Upright(space.Vec{}, 0), Outline: metres(4, 2.5), Used: true},
				{Wall: 1, Name: "wall", Frame: space.Upright(space.Vec{X: 4000}, -90), Outline: metres(2, 2.5), Used: true},
				{Wall: 2, Name: "wall", Frame: space.Upright(space.Vec{X: 4000, Y: -2000}, -180), Outline: metres(4, 2.5)},
			},
		},
		Kinds: []scatter.Kind{
			{Name: "Flat", Code: "F", Outline: plane.Rectangle(plane.Point{X: -100, Y: -50}, 200, 100), Holes: []scatter.Hole{
				{At: plane.Point{X: 50}, Bit: 6, Depth: 30, Fixing: "screw"},
				{At: plane.Point{X: -50}, Bit: 1.5, Depth: 25, Fixing: "pin"},
			}},
			{Name: "Round", Code: "R", Outline: plane.Rectangle(plane.Point{X: -50, Y: -50}, 100, 100), Holes: []scatter.Hole{
				{Bit: 1.5, Depth: 25, Fixing: "pin"},
			}},
			{Name: "None", Code: "N", Outline: plane.Rectangle(plane.Point{X: -50, Y: -50}, 100, 100), Holes: []scatter.Hole{{Bit: 2}}},
		},
		Layout: scatter.Layout{Seed: math.MaxUint64, Pieces: []scatter.Piece{
			{ID: 1, Kind: 0, Face: 0, At: plane.Point{X: 1000, Y: 1000}, Heading: 90},
			{ID: 2, Kind: 1, Face: 0, At: plane.Point{X: 3800, Y: 1500}, Heading: 350},
			{ID: 3, Kind: 1, Face: 1, At: plane.Point{X: 150, Y: 1500}, Heading: 10},
		}},
	}
	return mapped(t, w)
}

func mapped(t *testing.T, w holemap.Work) holemap.Work {
	t.Helper()
	var err error
	w.Map, err = holemap.Make(w.Site, w.Kinds, w.Layout)
	require.NoError(t, err)
	return w
}

func TestCounts(t *testing.T) {
	s, err := Of(work(t))
	require.NoError(t, err)
	assert.Equal(t, 3, s.Pieces)
	assert.Equal(t, 4, s.Holes)
	assert.Equal(t, []Kind{{"F", "Flat", 1, 2}, {"R", "Round", 2, 2}, {"N", "None", 0, 0}}, s.Kinds)
	assert.Equal(t, []Fixing{{"pin", 3}, {"screw", 1}}, s.Fixings)
	require.Len(t, s.Faces, 2, "a wall that carries nothing is not counted")
	long := s.Faces[0]
	assert.Equal(t, []any{"Long wall", "wall", 2, 3}, []any{long.Wall, long.Face, long.Pieces, long.Holes})
	assert.Equal(t, 10.0, long.Area)
	assert.Equal(t, 0.03, long.Covered, "0.2 × 0.1 and 0.1 × 0.1 m")
	assert.Equal(t, 0.003, *long.Coverage)
	assert.Equal(t, 0.01, s.Faces[1].Covered)
}

func TestTheClosestTwoMayLieAcrossACorner(t *testing.T) {
	s, err := Of(work(t))
	require.NoError(t, err)
	// 200 mm before an inside corner and 150 mm behind it: √(200² + 150²).
	assert.Equal(t, 250.0, *s.Spacing.Closest)
}

func TestHeadingsAreAveragedRoundTheCircle(t *testing.T) {
	w := work(t)
	w.Layout.Pieces = w.Layout.Pieces[1:]
	s, err := Of(mapped(t, w))
	require.NoError(t, err)
	assert.Equal(t, 0.0, *s.Heading.Mean, "of 350° and 10°")
	assert.False(t, math.Signbit(*s.Heading.Mean))
	assert.Equal(t, 0.9848, *s.Heading.Resultant, "cos 10°")
}

func TestWhatCannotBeKnownIsNull(t *testing.T) {
	w := work(t)
	w.Layout.Pieces = nil
	none, err := Of(mapped(t, w))
	require.NoError(t, err)
	assert.Equal(t, Spacing{}, none.Spacing)
	assert.Equal(t, Heading{}, none.Heading)

	w = work(t)
	w.Layout.Pieces[0].Heading, w.Layout.Pieces[1].Heading = 0, 180
	w.Layout.Pieces = w.Layout.Pieces[:2]
	w.Site.Faces[0].Outline = plane.Region{}
	cancel, err := Of(mapped(t, w))
	require.NoError(t, err)
	assert.Nil(t, cancel.Heading.Mean)
	assert.Equal(t, 0.0, *cancel.Heading.Resultant)
	assert.Nil(t, cancel.Faces[0].Coverage, "of a face without area")
	assert.Nil(t, cancel.Spacing.ClarkEvans)

	for _, s := range []Scope{none, cancel} {
		var b bytes.Buffer
		require.NoError(t, WriteJSON(&b, s))
		assert.True(t, json.Valid(b.Bytes()))
		assert.Contains(t, b.String(), `"mean_deg": null`)
		b.Reset()
		require.NoError(t, WriteMarkdown(&b, w, s))
		assert.NotContains(t, b.String(), "NaN")
		assert.NotContains(t, b.String(), "Inf")
		assert.NotContains(t, b.String(), "nil")
	}
}

// keys returns every key of a JSON value in the order in which it is written.
func keys(t *testing.T, content []byte) []string {
	t.Helper()
	var found []string
	for _, m := range regexp.MustCompile(`"([a-z0-9_]+)":`).FindAllStringSubmatch(string(content), -1) {
		if !slices.Contains(found, m[1]) {
			found = append(found, m[1])
		}
	}
	return found
}

func TestTheKeysOfTheJSON(t *testing.T) {
	w := work(t)
	s, err := Of(w)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, WriteJSON(&b, s))
	assert.Equal(t, []string{
		"title", "fingerprint", "seed", "pieces", "holes", "drilled",
		"faces", "wall", "face", "area_m2", "free_m2", "covered_m2", "coverage", "hung", "code",
		"kinds", "name", "fixings", "count",
		"cautions", "severity", "text", "source", "acknowledged", "unmet", "burns", "share", "limit", "kept",
		"spacing", "closest_mm", "relative_radius", "clark_evans",
		"heading", "mean_deg", "resultant", "lie", "seated",
	}, keys(t, b.Bytes()))

	var back Scope
	require.NoError(t, json.Unmarshal(b.Bytes(), &back))
	assert.Equal(t, s, back, "the seed and every figure come back to the last bit")
	assert.Contains(t, b.String(), `"seed": 18446744073709551615`)

	empty, err := Of(holemap.Work{})
	require.NoError(t, err)
	b.Reset()
	require.NoError(t, WriteJSON(&b, empty))
	for _, list := range []string{"faces", "kinds", "fixings", "cautions", "unmet", "burns", "seated"} {
		assert.Contains(t, b.String(), `"`+list+`": []`, "an empty list is a list")
	}
}

func TestAMapOfAnotherLayoutIsRefused(t *testing.T) {
	tests := []struct {
		name   string
		change func(w *holemap.Work)
		want   string
	}{
		{"a hole is missing", func(w *holemap.Work) { w.Map.Holes = w.Map.Holes[1:] }, "piece 1 has 1 holes there and asks for 2"},
		{"a piece is gone", func(w *holemap.Work) { w.Layout.Pieces = w.Layout.Pieces[1:] }, "holes of 1 pieces that are not in this one"},
		{"a kind is gone", func(w *holemap.Work) { w.Kinds = w.Kinds[:1] }, "piece 2 is of a kind that is not there"},
		{"a face is gone", func(w *holemap.Work) { w.Site.Faces = w.Site.Faces[:1] }, "piece 3 is on a face that is not there"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := work(t)
			tt.change(&w)
			_, err := Of(w)
			assert.ErrorContains(t, err, tt.want)
		})
	}
}

func TestTheOrderPiecesAreWrittenInChangesNothing(t *testing.T) {
	w := work(t)
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range 60 {
		w.Layout.Pieces = append(w.Layout.Pieces, scatter.Piece{
			ID: 10 + i, Kind: rng.IntN(2), Face: rng.IntN(2), Heading: heading.Bearing(rng.IntN(360)),
			At: plane.Point{X: 2000 * rng.Float64(), Y: 2500 * rng.Float64()}.Snap(100),
		})
	}
	want, err := Of(mapped(t, w))
	require.NoError(t, err)
	rng.Shuffle(len(w.Layout.Pieces), func(i, j int) {
		w.Layout.Pieces[i], w.Layout.Pieces[j] = w.Layout.Pieces[j], w.Layout.Pieces[i]
	})
	got, err := Of(mapped(t, w))
	require.NoError(t, err)
	assert.Equal(t, want, got)
}

func TestThePageForAPerson(t *testing.T) {
	w := work(t)
	s, err := Of(w)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, WriteMarkdown(&b, w, s))
	page := b.String()

	assert.True(t, strings.HasPrefix(page, "# Pebbles \\| for \\*nobody\\*\n"))
	assert.Contains(t, page, "- By: The studio\n- Date: 2026-11-25\n")
	assert.NotContains(t, page, "- For:", "what the plan does not say is left out")
	assert.Contains(t, page, "fingerprint **"+s.Fingerprint+"**")
	assert.Contains(t, page, "**4 holes** for 3 pieces on 2 faces.")
	assert.Contains(t, page, "| Long wall | wall | 3 | 2 | 10.00 m² |")
	assert.Contains(t, page, "| pin | 1.5 mm | 25 mm | 3 |\n| screw | 6 mm | 30 mm | 1 |")
	assert.Contains(t, page, "closest two centres are 250 mm apart")
	assert.Contains(t, page, "counted twice")
	assert.Equal(t, 1, strings.Count(page, "is a usual caution, not clearance"), "said once for all of them")
	for _, c := range s.Cautions {
		assert.Contains(t, page, plain(strings.TrimSuffix(c.Text, " "+caution.Standing)))
		assert.Contains(t, page, plain(strings.TrimSuffix(c.Source, ".")))
	}
	assert.Contains(t, page, "**old-finishes**, Long wall (3 holes of 2 pieces); Short wall (1 hole of 1 piece). Old paint",
		"what is said of two walls is said once")
	assert.Less(t, strings.Index(page, "What the wall gets"), strings.Index(page, "## Pieces"), "holes come first")

	w.Units = measure.Foot
	b.Reset()
	require.NoError(t, WriteMarkdown(&b, w, s))
	assert.Contains(t, b.String(), "| 107.6 sq ft |", "10 m² are 107.639 sq ft")
	assert.Contains(t, b.String(), "| pin | 0.059\" | 63/64\" | 3 |\n| screw | 0.236\" | 1 3/16\" | 1 |")
	assert.Contains(t, b.String(), "closest two centres are 9 13/16\" apart", "250 mm")
	assert.NotContains(t, b.String(), " mm")
	assert.NotContains(t, b.String(), "m²")
}

type broken struct{}

var errBroken = errors.New("broken")

func (broken) Write([]byte) (int, error) { return 0, errBroken }

func TestAFailingWriterIsReported(t *testing.T) {
	w := work(t)
	s, err := Of(w)
	require.NoError(t, err)
	assert.ErrorIs(t, WriteJSON(broken{}, s), errBroken)
	assert.ErrorIs(t, WriteMarkdown(broken{}, w, s), errBroken)
}

// unescaped finds the bars that part the cells of a table.
var unescaped = regexp.MustCompile(`(^|[^\\])\|`)

func FuzzMarkdown(f *testing.F) {
	for _, text := range []string{"", "a|b", "*a*", "\n# title", "<b>", "a\\", "\\|", "&amp;", "`", "\xff", "\u2028|", "1. a", "- a"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p := &page{}
		p.table(Table{Text: 1, Heads: []string{"One", "Two"}, Rows: [][]string{{text, "2"}}})
		lines := strings.Split(strings.TrimSuffix(p.String(), "\n"), "\n")
		require.Len(t, lines, 3)
		cells := strings.ReplaceAll(lines[2], `\\`, "")
		assert.Len(t, unescaped.FindAllString(cells, -1), 3, "%q", lines[2])
		for _, sign := range []string{"<", "*", "`", "_", "["} {
			bare := strings.ReplaceAll(cells, `\`+sign, "")
			assert.NotContains(t, bare, sign)
		}
	})
}
