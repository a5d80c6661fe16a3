package view

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/examples"
)

// small is a plan of a few pieces on two walls; its words would like to be more than text.
const small = `title: Small <script>document.title = "taken"</script>
seed: 3
room:
  datum: 1500 # the line
  walls:
    - name: One
      length: 2000
      height: 2500
      surface: brick
      turn: 90
      zones:
        - {name: warm, left: 0, bottom: 0, width: 900, height: 2500, strength: caution, binds: holes, reason: "<img src=x onerror=alert(1)>"}
    - {name: Two, length: 1500, height: 2500, surface: brick}
pieces:
  - name: Disc
    code: D
    outline: {ellipse: [60, 40]}
    holes: [{at: [0, 0], bit: 5, depth: 30, fixing: "pin </style><b>"}]
    stand-off: 5
composition:
  count: 30 # so many
  spacing: 120
options:
  - {name: few, count: 10}
`

// A visitor is a browser that has been let in.
type visitor struct {
	t      *testing.T
	server *server
	path   string // of the plan
	url    string
	cookie *http.Cookie
	client *http.Client
}

func served(t *testing.T, text string) *visitor {
	t.Helper()
	path := written(t, text)
	e, err := easel.Open(t.Context(), path, "")
	require.NoError(t, err)
	t.Cleanup(func() { _ = e.Close() })
	ts := httptest.NewUnstartedServer(nil)
	s := newServer(t.Context(), e, Options{Key: "KEY", Now: func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }}, ts.Listener.Addr().String())
	ts.Config.Handler = s.handler()
	ts.Start()
	t.Cleanup(ts.Close)
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	v := &visitor{t: t, server: s, path: path, url: ts.URL, client: client}
	r := v.do(v.request("GET", "/?key=KEY", ""))
	require.Equal(t, http.StatusSeeOther, r.status)
	v.cookie = r.cookies[0]
	return v
}

// written writes the plan into a new folder, with the files of the examples beside it, and returns its path.
func written(t testing.TB, text string) string {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, examples.Files))
	path := filepath.Join(dir, "hall.yaml")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

type reply struct {
	status  int
	body    string
	header  http.Header
	cookies []*http.Cookie
}

func (v *visitor) request(method, path, body string) *http.Request {
	v.t.Helper()
	r, err := http.NewRequestWithContext(v.t.Context(), method, v.url+path, strings.NewReader(body))
	require.NoError(v.t, err)
	if v.cookie != nil {
		r.AddCookie(v.cookie)
	}
	if method == "POST" {
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("X-Wallshoal-Token", v.server.guard.token)
	}
	return r
}

func (v *visitor) do(r *http.Request) reply {
	v.t.Helper()
	answered, err := v.client.Do(r)
	require.NoError(v.t, err)
	defer answered.Body.Close()
	body, err := io.ReadAll(answered.Body)
	require.NoError(v.t, err)
	return reply{answered.StatusCode, string(body), answered.Header, answered.Cookies()}
}

func (v *visitor) get(path string) reply { v.t.Helper(); return v.do(v.request("GET", path, "")) }
func (v *visitor) post(path, body string) reply {
	v.t.Helper()
	return v.do(v.request("POST", path, body))
}

// stateAfter posts and returns the state that is answered.
func (v *visitor) stateAfter(path, body string) state {
	v.t.Helper()
	r := v.post(path, body)
	require.Equal(v.t, http.StatusOK, r.status, r.body)
	return decoded[state](v.t, r.body)
}

func decoded[T any](t *testing.T, text string) T {
	t.Helper()
	var out T
	require.NoError(t, json.Unmarshal([]byte(text), &out))
	return out
}

func (v *visitor) plan() string {
	v.t.Helper()
	text, err := os.ReadFile(v.path)
	require.NoError(v.t, err)
	return string(text)
}

func TestAKnob(t *testing.T) {
	v := served(t, small)
	st := v.stateAfter("/api/knobs", `{"gesture":"","set":[{"knob":"composition.count","value":"25"}]}`)
	assert.Equal(t, 25, st.PieceCount)
	assert.Len(t, st.Pieces, 25)
	assert.False(t, st.Saved)
	assert.True(t, st.Undo)
	assert.Equal(t, small, v.plan(), "nothing is written before it is saved")

	for value, field := range map[string]string{"none": "composition.count", "9999": "composition.count", "0": "composition.count"} {
		r := v.post("/api/knobs", fmt.Sprintf(`{"set":[{"knob":"composition.count","value":%q}]}`, value))
		require.Equal(t, http.StatusUnprocessableEntity, r.status, r.body)
		bad := decoded[trouble](t, r.body)
		require.NotEmpty(t, bad.Faults)
		assert.Equal(t, field, bad.Faults[0].Field)
		assert.NotEmpty(t, bad.Faults[0].Wrong)
		assert.Equal(t, st.Revision, decoded[state](t, v.get("/api/state").body).Revision, "nothing changed")
	}
	assert.Equal(t, http.StatusUnprocessableEntity, v.post("/api/knobs", `{"set":[{"knob":"title","value":"x"}]}`).status)

	st = v.stateAfter("/api/save", `{}`)
	assert.True(t, st.Saved)
	assert.Equal(t, strings.Replace(small, "count: 30 # so many", "count: 25 # so many", 1), v.plan())
	st = v.stateAfter("/api/undo", "{}")
	assert.Equal(t, 30, st.PieceCount)
	assert.False(t, st.Saved)
}

func TestPiecesByHand(t *testing.T) {
	v := served(t, small)
	st := v.stateAfter("/api/pieces", `{"gesture":"g","rest":"stay","changes":[{"do":"place","id":4,"face":1,"at":[700,1300],"heading":45}]}`)
	for _, p := range st.Pieces {
		if p.ID == 4 {
			assert.Equal(t, pieceHung{ID: 4, Kind: 0, Face: 1, At: point{700, 1300}, Heading: 45, Locked: true}, p)
		}
	}
	r := v.post("/api/try", `{"changes":[{"id":5,"face":1,"at":[705,1300],"heading":0}]}`)
	require.Equal(t, http.StatusOK, r.status)
	assert.Contains(t, r.body, `"other":4`)
	r = v.post("/api/try", `{"changes":[{"id":0,"face":1,"at":[703,1300]}]}`)
	require.Equal(t, http.StatusOK, r.status, r.body)
	assert.Contains(t, r.body, "wrong")
	for _, body := range []string{
		`{"changes":[{"do":"place","id":99}]}`, `{"changes":[{"do":"place","id":1,"face":7}]}`, `{"changes":[{"do":"burn","id":1}]}`,
		`{"changes":[{"do":"place","id":1,"at":[1e300,0]}]}`,
	} {
		assert.Equal(t, http.StatusUnprocessableEntity, v.post("/api/pieces", body).status, body)
	}
	assert.Equal(t, http.StatusBadRequest, v.post("/api/pieces", `{"rest":"fly","changes":[]}`).status)
	v.stateAfter("/api/save", `{}`)
	layout, err := os.ReadFile(easel.LayoutBeside(v.path))
	require.NoError(t, err)
	assert.Contains(t, string(layout), "at: [700, 1300], heading: 45, locked: true")
}

func TestAChangeOutside(t *testing.T) {
	v := served(t, small)
	v.stateAfter("/api/knobs", `{"set":[{"knob":"seed","value":"8"}]}`)
	theirs := strings.Replace(small, "spacing: 120", "spacing: 118", 1)
	require.NoError(t, os.WriteFile(v.path, []byte(theirs), 0o644))
	r := v.post("/api/save", `{}`)
	require.Equal(t, http.StatusConflict, r.status)
	assert.True(t, decoded[trouble](t, r.body).Outside)
	assert.Equal(t, theirs, v.plan())
	st := v.stateAfter("/api/outside", `{"take":"theirs"}`)
	assert.Equal(t, uint64(3), st.Seed)
	st = v.stateAfter("/api/undo", "{}")
	assert.Equal(t, uint64(8), st.Seed)
	r = v.post("/api/save", "{}")
	require.Equal(t, http.StatusConflict, r.status, "that step has nothing of theirs")
	seen := decoded[difference](t, v.get("/api/difference").body).Seen
	require.Equal(t, http.StatusConflict, v.post("/api/save", `{"over":"another"}`).status)
	v.stateAfter("/api/save", `{"over":"`+seen+`"}`)
	assert.Contains(t, v.plan(), "seed: 8")
}

func TestPicturesAndFigures(t *testing.T) {
	v := served(t, examples.Ferry)
	st := decoded[state](t, v.get("/api/state").body)
	f := decoded[figures](t, v.get(fmt.Sprintf("/api/figures?revision=%d", st.Revision)).body)
	assert.Equal(t, st.PieceCount, f.Pieces)
	assert.Equal(t, st.HoleCount, f.Holes)
	pieces := 0
	for _, w := range f.Walls {
		pieces += w.Pieces
	}
	assert.Equal(t, f.Pieces, pieces)
	assert.Positive(t, f.Sheets)
	assert.NotEmpty(t, f.Hours)
	assert.NotEmpty(t, f.Cost)
	assert.NotEmpty(t, f.Last)
	assert.NotNil(t, f.InTime)
	assert.NotEmpty(t, f.List)
	for _, face := range st.Faces {
		if !face.Used {
			continue
		}
		for _, layer := range []string{".svg", ".svg?look=holes", "/zones.svg", "/datum.svg", "/tiles.svg", "/seams.svg", "/stands.svg", "/density.svg", "/flow.svg"} {
			r := v.get(fmt.Sprintf("/picture/%d/face/%d%s", st.Revision, face.Index, layer))
			require.Equal(t, http.StatusOK, r.status, "%s%s: %s", face.Title, layer, r.body)
			w, h := face.Frame[2]-face.Frame[0], face.Frame[3]-face.Frame[1]
			assert.Regexp(t, fmt.Sprintf(`viewBox="0 0 %.0f[.0-9]* %.0f[.0-9]*"`, float64(int(w)), float64(int(h))), r.body[:min(600, len(r.body))], "%s%s", face.Title, layer)
		}
	}
	assert.Equal(t, http.StatusBadRequest, v.get("/picture/1/room.svg?look=wild").status)
	assert.Equal(t, http.StatusNotFound, v.get("/picture/1/face/0/wild.svg").status)
	assert.Equal(t, http.StatusGone, v.get("/picture/999/room.svg").status)
	// The next run has the same address and begins its revisions anew: a browser that kept a picture would show another work.
	assert.Equal(t, "no-store", v.get("/picture/1/room.svg").header.Get("Cache-Control"))
	assert.Equal(t, http.StatusGone, v.get("/api/figures?revision=999").status)
}

// What is exported is the pack of what is shown, byte for byte what pack writes of a saved plan.
func TestExport(t *testing.T) {
	v := served(t, strings.Replace(small, "name: Two, length: 1500, height: 2500, surface: brick",
		"name: Two, length: 1500, height: 2500, surface: brick, zones: [{name: pipe, left: 600, bottom: 0, width: 100, height: 400, strength: forbidden, binds: holes, reason: water}]", 1))
	r := v.get("/export/hole-map.pdf")
	require.Equal(t, http.StatusOK, r.status)
	assert.Equal(t, "application/pdf", r.header.Get("Content-Type"))
	assert.Contains(t, r.header.Get("Content-Disposition"), "attachment")
	assert.True(t, strings.HasPrefix(r.body, "%PDF"))

	r = v.post("/api/pack", "{}")
	require.Equal(t, http.StatusOK, r.status, r.body)
	written, err := os.ReadFile(filepath.Join(filepath.Dir(v.path), "hall", "hole-map.pdf"))
	require.NoError(t, err)
	assert.Equal(t, v.get("/export/hole-map.pdf").body, string(written))
	for _, name := range []string{"client.pdf", "client.html", "scope.md", "layout.yaml", "room.svg", "holes.csv"} {
		assert.Equal(t, http.StatusOK, v.get("/export/"+name).status, name)
	}
	assert.Equal(t, http.StatusOK, v.post("/api/pack", "{}").status, "again, over its own")
	assert.Contains(t, v.get("/export/scope.md").body, "Options side by side")

	// Where a hole falls where none may be there is nothing to drill by, but a layout to put that right in.
	v.stateAfter("/api/pieces", `{"changes":[{"do":"place","id":4,"face":1,"at":[650,200]}]}`)
	r = v.get("/export/hole-map.pdf")
	require.Equal(t, http.StatusConflict, r.status)
	refused := decoded[trouble](t, r.body)
	assert.True(t, refused.Holes)
	assert.Equal(t, "piece 4", refused.Faults[0].Field)
	assert.Equal(t, http.StatusConflict, v.post("/api/pack", "{}").status)
	assert.Equal(t, http.StatusOK, v.get("/export/layout.yaml").status)
}

func TestCompareAndAdopt(t *testing.T) {
	v := served(t, small)
	r := v.get("/api/compare?seed=9")
	require.Equal(t, http.StatusOK, r.status, r.body)
	var other struct {
		Revision int
		State    state
		Figures  figures
	}
	require.NoError(t, json.Unmarshal([]byte(r.body), &other))
	assert.Equal(t, uint64(9), other.State.Seed)
	assert.Equal(t, uint64(3), decoded[state](t, v.get("/api/state").body).Seed)
	assert.Equal(t, http.StatusOK, v.get(fmt.Sprintf("/picture/%d/room.svg", other.Revision)).status)
	st := v.stateAfter("/api/adopt", fmt.Sprintf(`{"revision":%d}`, other.Revision))
	assert.Equal(t, uint64(9), st.Seed)
	assert.Equal(t, other.State.Pieces, st.Pieces)
	st = v.stateAfter("/api/undo", "{}")
	assert.Equal(t, uint64(3), st.Seed)

	r = v.get("/api/compare?option=few")
	require.Equal(t, http.StatusOK, r.status, r.body)
	assert.Contains(t, r.body, `"pieceCount":10`)
	assert.Equal(t, http.StatusUnprocessableEntity, v.get("/api/compare?option=none").status)
	assert.Equal(t, http.StatusUnprocessableEntity, v.get("/api/compare?seed=-1").status)
	assert.Equal(t, http.StatusGone, v.post("/api/adopt", `{"revision":999}`).status)
}

func TestInstalling(t *testing.T) {
	v := served(t, small)
	st := decoded[standsState](t, v.get("/api/stands").body)
	require.NotEmpty(t, st.Stands)
	assert.NoFileExists(t, v.server.progressPath(), "a look makes no file")
	first := st.Stands[0]
	id := first.Pieces[0].ID
	after := func(body string) standsState {
		t.Helper()
		r := v.post("/api/progress", body)
		require.Equal(t, http.StatusOK, r.status, r.body)
		return decoded[standsState](t, r.body)
	}
	after(fmt.Sprintf(`{"do":"begin","stand":%d}`, first.Number))
	st = after(fmt.Sprintf(`{"do":"up","pieces":[%d]}`, id))
	assert.Equal(t, 1, st.Hanging)
	assert.True(t, st.Stands[0].Pieces[0].Up)
	assert.NotEmpty(t, st.Stands[0].Begun)

	// A server that begins again, as after a power failure, has it all.
	again, err := easel.Open(t.Context(), v.path, "")
	require.NoError(t, err)
	t.Cleanup(func() { _ = again.Close() })
	s := newServer(t.Context(), again, v.server.o, "127.0.0.1:1")
	log, err := s.installing(t.Context())
	require.NoError(t, err)
	shown, _ := again.Now()
	kept, err := s.standing(shown, log.Record())
	require.NoError(t, err)
	assert.Equal(t, st, kept)
	require.NoError(t, log.Close())

	st = after(fmt.Sprintf(`{"do":"down","pieces":[%d]}`, id))
	assert.Zero(t, st.Hanging)
	st = after(fmt.Sprintf(`{"do":"end","stand":%d}`, first.Number))
	assert.True(t, st.Stands[0].Done)
	for _, body := range []string{`{"do":"up","pieces":[999]}`, `{"do":"begin","stand":999}`, `{"do":"dance"}`} {
		assert.Equal(t, http.StatusUnprocessableEntity, v.post("/api/progress", body).status, body)
	}
	assert.Equal(t, http.StatusOK, v.post("/api/hours", "{}").status)
}

// Twenty at once, each changing and looking, and one that listens and never reads.
func TestManyAtOnce(t *testing.T) {
	v := served(t, small)
	deaf, err := net.Dial("tcp", strings.TrimPrefix(v.url, "http://"))
	require.NoError(t, err)
	defer deaf.Close()
	_, err = fmt.Fprintf(deaf, "GET /api/events HTTP/1.1\r\nHost: %s\r\nCookie: %s=%s\r\n\r\n", strings.TrimPrefix(v.url, "http://"), v.cookie.Name, v.cookie.Value)
	require.NoError(t, err)
	var all sync.WaitGroup
	for i := range 20 {
		all.Go(func() {
			for n := range 5 {
				r := v.request("POST", "/api/knobs", fmt.Sprintf(`{"set":[{"knob":"seed","value":"%d"}]}`, 100*i+n))
				answered, err := v.client.Do(r)
				if !assert.NoError(t, err) {
					return
				}
				assert.Equal(t, http.StatusOK, answered.StatusCode)
				answered.Body.Close()
			}
		})
	}
	all.Wait()
	assert.Equal(t, http.StatusOK, v.get("/api/state").status)
}

// Whoever does not hear an event in time hears the last.
func TestTheCrierWaitsForNobody(t *testing.T) {
	var c crier
	ch, ok := c.listen()
	require.True(t, ok)
	for i := range 1000 {
		c.cry(fmt.Sprint(i))
	}
	assert.Equal(t, "999", <-ch)
	c.leave(ch)
	c.cry("more")
	assert.Empty(t, ch)
	for range mostListening {
		_, ok := c.listen()
		require.True(t, ok)
	}
	_, ok = c.listen()
	assert.False(t, ok)
}

// Serve tells where it is, is not heard beyond this machine, and ends when it is told to, with pages open.
func TestServe(t *testing.T) {
	path := filepath.Join(t.TempDir(), "hall.yaml")
	require.NoError(t, os.WriteFile(path, []byte(small), 0o644))
	e, err := easel.Open(t.Context(), path, "")
	require.NoError(t, err)
	t.Cleanup(func() { _ = e.Close() })
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	at := make(chan string, 1)
	ended := make(chan error, 1)
	go func() {
		ended <- Serve(ctx, e, Options{Key: "KEY", Now: time.Now, Ready: func(url, _ string) { at <- url }})
	}()
	address := <-at
	require.True(t, strings.HasPrefix(address, "http://127.0.0.1:"), address)
	base, _, _ := strings.Cut(address, "/?")
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	answered, err := client.Get(address)
	require.NoError(t, err)
	answered.Body.Close()
	listen, err := http.NewRequestWithContext(t.Context(), "GET", base+"/api/events", nil)
	require.NoError(t, err)
	listen.AddCookie(answered.Cookies()[0])
	events, err := client.Do(listen)
	require.NoError(t, err)
	defer events.Body.Close()

	require.NoError(t, os.WriteFile(path, []byte(strings.Replace(small, "count: 30", "count: 20", 1)), 0o644))
	heard := make([]byte, 400)
	said := ""
	for !strings.Contains(said, "event: state") {
		n, err := events.Body.Read(heard)
		require.NoError(t, err)
		said += string(heard[:n])
	}
	shown, _ := e.Now()
	assert.Len(t, shown.Work.Layout.Pieces, 20, "an edit of the file shows by itself")

	stop()
	select {
	case err := <-ended:
		assert.NoError(t, err)
	case <-time.After(10 * time.Second):
		t.Fatal("it does not end")
	}
	_, err = http.Get(base)
	assert.Error(t, err, "nobody is there any more")
}

// On a wall a hole is set out from the datum and above the floor; on a ceiling there is neither.
func TestHowAHoleIsSetOut(t *testing.T) {
	v := served(t, examples.HealthCentre)
	seen := map[bool]int{}
	for _, s := range decoded[standsState](t, v.get("/api/stands").body).Stands {
		overhead := strings.HasPrefix(s.Title, "Ceiling")
		for _, p := range s.Pieces {
			for _, h := range p.Holes {
				seen[overhead]++
				assert.Equal(t, overhead, h.FromDatum == "", s.Title)
				assert.Equal(t, overhead, h.Floor == "", s.Title)
				assert.NotEmpty(t, h.FromLeft)
				assert.NotEmpty(t, h.Up)
			}
		}
	}
	assert.Positive(t, seen[true])
	assert.Positive(t, seen[false])
}
