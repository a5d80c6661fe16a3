package easel

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/wall/plane"
)

// anyStep returns a step made of another by chance: a piece or a word of the text changed, all laid anew, or odd figures.
func anyStep(rng *rand.Rand, from step) step {
	s := step{text: slices.Clone(from.text), layout: from.layout, byHand: rng.IntN(2) == 0, laid: rng.IntN(2) == 0}
	s.layout.Pieces = slices.Clone(from.layout.Pieces)
	piece := func(id int) scatter.Piece {
		p := scatter.Piece{ID: id, Kind: rng.IntN(5), Face: rng.IntN(9), Locked: rng.IntN(9) == 0}
		p.At = plane.Point{X: hundredth(6000 * rng.Float64()), Y: hundredth(3000*rng.Float64() - 100)}
		if rng.IntN(50) == 0 {
			p.At.X = []float64{math.Copysign(0, -1), 1e300, 1.0 / 3, math.SmallestNonzeroFloat64}[rng.IntN(4)]
		}
		return p
	}
	switch what := rng.IntN(5); {
	case what == 0 || len(s.layout.Pieces) == 0:
		s.layout.Pieces = make([]scatter.Piece, rng.IntN(60))
		for i := range s.layout.Pieces {
			s.layout.Pieces[i] = piece(i + 1)
		}
		s.layout.Seed = rng.Uint64()
		s.layout.Seated = []scatter.Seat{{ID: 3, Thrown: piece(0)}}
	case what == 1:
		at := rng.IntN(len(s.text) + 1)
		s.text = slices.Insert(s.text, at, []byte(fmt.Sprint(rng.IntN(1000)))...)
	case what == 2:
		i := rng.IntN(len(s.layout.Pieces))
		s.layout.Pieces = slices.Delete(s.layout.Pieces, i, i+1)
		s.layout.Seated = nil
	default:
		i := rng.IntN(len(s.layout.Pieces))
		s.layout.Pieces[i] = piece(s.layout.Pieces[i].ID)
	}
	return s
}

// Whatever way one goes through a history, every step of it is what was put there, to the last bit.
func TestAHistoryForgetsNothing(t *testing.T) {
	for seed := range uint64(20) {
		rng := rand.New(rand.NewPCG(seed, 5))
		var h history
		first := step{text: []byte(strings.Repeat("a: b # c\n", 20)), layout: scatter.Layout{Pieces: []scatter.Piece{}}}
		all, at := []step{first}, 0
		h.put(0, first)
		for range 200 {
			if rng.IntN(4) == 0 {
				at = rng.IntN(len(all))
			} else {
				s := anyStep(rng, all[at])
				at++
				all = append(all[:at:at], s)
				h.put(at, s)
			}
			require.Equal(t, len(all), h.len())
			got := h.step(at)
			require.Equal(t, all[at], got)
			for i, p := range all[at].layout.Pieces {
				require.Equal(t, math.Float64bits(p.At.X), math.Float64bits(got.layout.Pieces[i].At.X), "and zeros keep their sign")
			}
		}
		for i := range all {
			require.Equal(t, all[i], h.step(i))
		}
	}
}

// A walk over an easel, back and forth, by knobs and by hand, shows at each step what was shown there before.
func TestAWalkBackAndForth(t *testing.T) {
	type state struct {
		text   string
		layout scatter.Layout
		laid   bool
	}
	rng := rand.New(rand.NewPCG(8, 1))
	e, _ := opened(t)
	now := func() state {
		shown, _ := e.Now()
		return state{string(shown.Text), shown.Work.Layout, shown.Laid}
	}
	all, at := []state{now()}, 0
	for i := range 120 {
		switch rng.IntN(5) {
		case 0:
			shown, _ := e.Now()
			text := bytes.ReplaceAll(shown.Text, []byte("count: 30"), []byte("count: 30 "))
			text = append(text, fmt.Sprintf("# %d\n", i)...)
			require.NoError(t, e.Change(t.Context(), "", func(*Shown) ([]byte, error) { return text, nil }))
		case 1, 2:
			p := pieces(e)[rng.IntN(len(pieces(e)))]
			require.NoError(t, e.Hand(t.Context(), "", []Move{placed(p.ID, rng.IntN(2), 1400*rng.Float64(), 2000*rng.Float64(), 359*rng.Float64())}, rng.IntN(3) == 0))
		case 3:
			require.NoError(t, e.Walk(-1, false))
			at = max(at-1, 0)
			require.Equal(t, all[at], now())
			continue
		default:
			require.NoError(t, e.Walk(+1, false))
			at = min(at+1, len(all)-1)
			require.Equal(t, all[at], now())
			continue
		}
		at++
		all = append(all[:at:at], now())
	}
	for at > 0 {
		require.NoError(t, e.Walk(-1, false))
		at--
		require.Equal(t, all[at], now())
	}
	for at < len(all)-1 {
		require.NoError(t, e.Walk(+1, false))
		at++
		require.Equal(t, all[at], now())
	}
}

// A thousand moves of one piece among two thousand take no more than a hundredth of what as many whole layouts would.
func TestAHistoryIsSmall(t *testing.T) {
	h, whole := longHistory(1000, false)
	assert.Less(t, h.size(), whole/30)
	h, whole = longHistory(200, true)
	assert.Less(t, h.size(), whole/3, "all laid anew at every step")
}

// longHistory returns a history of so many steps of 2,000 pieces, of which one moves at each step or all, and how
// many bytes they are as they are shown.
func longHistory(steps int, anew bool) (h history, whole int) {
	rng := rand.New(rand.NewPCG(1, 2))
	s := step{text: bytes.Repeat([]byte("key: value # comment\n"), 500)}
	for i := range 2000 {
		s.layout.Pieces = append(s.layout.Pieces, scatter.Piece{ID: i + 1, Kind: i % 6})
	}
	h.put(0, s)
	for n := range steps {
		s.layout.Pieces = slices.Clone(s.layout.Pieces)
		for i := range s.layout.Pieces {
			if anew || i == n%2000 {
				p := &s.layout.Pieces[i]
				p.At = plane.Point{X: hundredth(6000 * rng.Float64()), Y: hundredth(2500 * rng.Float64())}
			}
		}
		h.put(n+1, s)
		whole += 56*len(s.layout.Pieces) + len(s.text)
	}
	return h, whole
}

// BenchmarkHistory puts a thousand steps of 2,000 pieces, and says how much of the heap they take.
func BenchmarkHistory(b *testing.B) {
	for _, anew := range []bool{false, true} {
		b.Run(fmt.Sprintf("anew=%v", anew), func(b *testing.B) {
			for b.Loop() {
				var before, after runtime.MemStats
				runtime.GC()
				runtime.ReadMemStats(&before)
				h, whole := longHistory(1000, anew)
				runtime.GC()
				runtime.ReadMemStats(&after)
				b.ReportMetric(float64(after.HeapAlloc-before.HeapAlloc)/1e6, "MB/history")
				b.ReportMetric(float64(whole)/1e6, "MB/shown")
				runtime.KeepAlive(h)
			}
		})
	}
}

// BenchmarkUndo goes back and forth among 2,000 pieces.
func BenchmarkUndo(b *testing.B) {
	h, _ := longHistory(31, true)
	for b.Loop() {
		h.step(31)
	}
}

// size returns how many bytes the steps take.
func (h *history) size() int {
	n := 0
	for _, k := range h.kept {
		n += len(k.middle) + len(k.gesture)
	}
	return n
}
