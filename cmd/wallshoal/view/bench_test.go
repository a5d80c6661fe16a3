package view

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/examples"
)

// asking opens the demonstration with about so many pieces, and returns what asks its server and the
// state at the beginning.
func asking(b *testing.B, n int) (ask func(method, path, body string) string, begun state) {
	b.Helper()
	text := strings.Replace(examples.Ferry, "count: 440", fmt.Sprintf("count: %d", n), 1)
	if n > 440 {
		text = strings.NewReplacer("spacing: 96", "spacing: 40", "gap: 8", "gap: 1", "length: 120", "length: 40", "length: 112", "length: 40",
			"length: 67", "length: 24", "length: 130", "length: 44", "length: 105", "length: 40").Replace(text)
	}
	path := written(b, text)
	e, err := easel.Open(b.Context(), path, "")
	require.NoError(b, err)
	b.Cleanup(func() { _ = e.Close() })
	s := newServer(b.Context(), e, Options{Key: "KEY", Now: time.Now}, "127.0.0.1:1")
	h := s.handler()
	ask = func(method, path, body string) string {
		r := httptest.NewRequestWithContext(b.Context(), method, path, strings.NewReader(body))
		r.Host = "127.0.0.1:1"
		r.AddCookie(&http.Cookie{Name: s.guard.cookie(), Value: "KEY"})
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("X-Wallshoal-Token", s.guard.token)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		require.Equal(b, http.StatusOK, w.Code, w.Body.String())
		return w.Body.String()
	}
	require.NoError(b, json.Unmarshal([]byte(ask("GET", "/api/state", "")), &begun))
	return ask, begun
}

// BenchmarkTurn is from a knob to the picture of the face that it changes.
func BenchmarkTurn(b *testing.B) {
	for _, n := range []int{300, 2000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			ask, _ := asking(b, n)
			for i := 0; b.Loop(); i++ {
				var st state
				said := ask("POST", "/api/knobs", fmt.Sprintf(`{"gesture":"drag","set":[{"knob":"composition.spread","value":"%d"}]}`, 15+i%2))
				require.NoError(b, json.Unmarshal([]byte(said), &st))
				ask("GET", fmt.Sprintf("/picture/%d/face/0.svg", st.Revision), "")
			}
		})
	}
}

// BenchmarkTry is what is asked of the server for every step of a piece that is dragged.
func BenchmarkTry(b *testing.B) {
	for _, n := range []int{300, 2000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			ask, st := asking(b, n)
			p := st.Pieces[len(st.Pieces)/2]
			for i := 0; b.Loop(); i++ {
				ask("POST", "/api/try", fmt.Sprintf(`{"changes":[{"id":%d,"face":%d,"at":[%g,%g],"heading":%g}]}`, p.ID, p.Face, p.At[0]+float64(i%200), p.At[1], p.Heading))
			}
		})
	}
}
