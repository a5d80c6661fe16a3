package easel

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/examples"
	"wallshoal/export/caution"
	"wallshoal/wall/plane"
)

// openedExamples opens every plan of the examples.
func openedExamples(t *testing.T) map[string]*Easel {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, examples.Files))
	all := map[string]*Easel{}
	names, err := filepath.Glob(filepath.Join(dir, "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for _, path := range names {
		e, err := Open(t.Context(), path, "")
		require.NoError(t, err)
		t.Cleanup(func() { _ = e.Close() })
		all[filepath.Base(path)] = e
	}
	return all
}

// Judge says what a move would collide with, and moves nothing.
func TestJudge(t *testing.T) {
	e, _ := opened(t)
	on := pieces(e)[1]
	said, err := e.Judge([]Move{placed(1, on.Face, on.At.X+5, on.At.Y, 0)})
	require.NoError(t, err)
	require.NotEmpty(t, said.Flaws)
	for _, f := range said.Flaws {
		assert.Equal(t, 1, f.Piece, "it is said of the piece that is moved: %s", f.Wrong)
		assert.NotContains(t, f.Wrong, "piece 1,")
	}
	said, err = e.Judge([]Move{placed(1, 0, -50, 700, 0)})
	require.NoError(t, err)
	assert.NotEmpty(t, said.Flaws, "beyond the end of the wall")
	same := pieces(e)[0]
	said, err = e.Judge([]Move{placed(1, same.Face, same.At.X, same.At.Y, float64(same.Heading))})
	require.NoError(t, err)
	assert.Empty(t, said.Flaws, "where it lies")
	_, status := e.Now()
	assert.False(t, status.Undo)
	_, err = e.Judge([]Move{placed(99, 0, 500, 700, 0)})
	assert.Error(t, err)
}

// Pieces that are moved together are in each other's way only where they end up so.
func TestPiecesMovedTogetherAreJudgedTogether(t *testing.T) {
	e, _ := opened(t)
	a, b := pieces(e)[0], pieces(e)[1]
	said, err := e.Judge([]Move{
		placed(a.ID, b.Face, b.At.X, b.At.Y, float64(b.Heading)), placed(b.ID, a.Face, a.At.X, a.At.Y, float64(a.Heading)),
	})
	require.NoError(t, err)
	for _, f := range said.Flaws {
		assert.NotEqual(t, [2]int{a.ID, b.ID}, [2]int{min(f.Piece, f.Other), max(f.Piece, f.Other)}, f.Wrong)
	}
	said, err = e.Judge([]Move{placed(a.ID, 0, 900, 1200, 0), placed(b.ID, 0, 905, 1200, 0)})
	require.NoError(t, err)
	assert.True(t, slices.ContainsFunc(said.Cautions, func(s Said) bool { return s.Piece == b.ID && s.New && s.Code == caution.CodeOverlap }))
}

// What is said before a piece is let go is what is said after; and what it is rid of by that is gone.
func TestWhatIsSaidWhileDraggingIsSaidAfterTheDrop(t *testing.T) {
	became, gone := 0, 0
	for name, e := range openedExamples(t) {
		t.Run(name, func(t *testing.T) {
			all := pieces(e)
			for i := 3; i < len(all); i += len(all)/3 + 1 {
				p := all[i]
				for _, by := range []plane.Point{{X: 370, Y: 210}, {X: -240, Y: -640}} {
					m := placed(p.ID, p.Face, p.At.X+by.X, p.At.Y+by.Y, float64(int(p.Heading)+20)/2)
					still, err := e.Judge([]Move{{Do: Place, ID: p.ID}})
					require.NoError(t, err)
					while, err := e.Judge([]Move{m})
					require.NoError(t, err)
					if err := e.Hand(t.Context(), "", []Move{m}, false); err != nil {
						require.ErrorContains(t, err, "no wall at that place")
						require.NotEmpty(t, while.Flaws)
						continue
					}
					after, err := e.Judge([]Move{{Do: Place, ID: p.ID}})
					require.NoError(t, err)
					assert.Equal(t, while.Flaws, after.Flaws)
					assert.Empty(t, after.Rid)
					for _, s := range while.Cautions {
						if s.New {
							became++
						}
					}
					gone += len(while.Rid)
					assert.Equal(t, told(while.Cautions), told(after.Cautions))
					for _, s := range after.Cautions {
						assert.False(t, s.New)
					}
					for _, s := range while.Rid {
						assert.Contains(t, codes(still.Cautions), s.Code)
						assert.NotContains(t, codes(after.Cautions), s.Code)
					}
					// And the hole map says it of the holes.
					shown, _ := e.Now()
					for _, h := range shown.Work.Map.Holes {
						if h.Piece == p.ID {
							assert.Subset(t, codes(after.Cautions), h.Cautions)
						}
					}
					require.NoError(t, e.Walk(-1, false))
				}
			}
		})
	}
	assert.Positive(t, became)
	assert.Positive(t, gone)
}

func told(said []Said) []string {
	var all []string
	for _, s := range said {
		all = append(all, s.Severity+" "+s.Heading+" "+s.Text)
	}
	return all
}

func codes(said []Said) []string {
	var all []string
	for _, s := range said {
		all = append(all, s.Code)
	}
	return all
}

// Of every piece of the examples, one by one the same is said as of all.
func TestTheExamplesPieceByPiece(t *testing.T) {
	for name, e := range openedExamples(t) {
		shown, _ := e.Now()
		j, layout := shown.Job, shown.Work.Layout
		report := caution.Find(j.Site, j.Plan.Kinds, layout, j.Limits())
		said := 0
		for _, p := range layout.Pieces {
			ofHole := make([][]string, len(j.Plan.Kinds[p.Kind].Holes))
			for _, c := range caution.Of(j.Site, j.Plan.Kinds, layout, j.Limits(), p.ID) {
				if c.Face == "" {
					continue
				}
				said++
				for _, i := range c.At {
					ofHole[i] = append(ofHole[i], c.Code)
				}
			}
			for i, codes := range ofHole {
				slices.Sort(codes)
				require.Equal(t, report.OfHole(p.ID, i), slices.Compact(codes), "%s: hole %d of piece %d", name, i, p.ID)
			}
		}
		assert.Positive(t, said)
	}
}

// So many at once are judged for collisions, and for cautions only the first.
func TestMany(t *testing.T) {
	e, _ := opened(t)
	var moves []Move
	for _, p := range pieces(e) {
		moves = append(moves, placed(p.ID, p.Face, p.At.X+1, p.At.Y, float64(p.Heading)))
	}
	moves = append(moves, Move{Do: Add, Face: new(1), At: &plane.Point{X: 200, Y: 300}})
	said, err := e.Judge(moves)
	require.NoError(t, err)
	assert.Equal(t, len(moves)-MostWarned, said.Past)
	for _, s := range said.Cautions {
		assert.LessOrEqual(t, s.Piece, MostWarned)
	}
}
