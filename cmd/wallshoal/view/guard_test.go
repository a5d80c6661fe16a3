package view

import (
	"bytes"
	"io/fs"
	"net"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

func TestOnlyWithTheKey(t *testing.T) {
	v := served(t, small)
	in := v.cookie
	assert.True(t, in.HttpOnly)
	assert.Equal(t, http.SameSiteStrictMode, in.SameSite)
	for _, cookie := range []*http.Cookie{nil, {Name: in.Name, Value: "KEZ"}, {Name: in.Name, Value: ""}, {Name: "other", Value: "KEY"}} {
		v.cookie = cookie
		for _, path := range []string{"/", "/install", "/page/index.html", "/api/state", "/picture/1/room.svg", "/export/scope.md", "/api/events", "/nothing"} {
			assert.Equal(t, http.StatusUnauthorized, v.get(path).status, path)
		}
		assert.Equal(t, http.StatusUnauthorized, v.post("/api/undo", "{}").status)
	}
	v.cookie = nil
	r := v.get("/?key=KEZ")
	assert.Equal(t, http.StatusUnauthorized, r.status)
	assert.Empty(t, r.cookies)
	v.cookie = in
	assert.Equal(t, http.StatusOK, v.get("/api/state").status)
}

// A name that another server gives this one's address to, as in DNS rebinding, is not ours.
func TestOnlyUnderItsOwnNames(t *testing.T) {
	v := served(t, small)
	_, port, err := net.SplitHostPort(strings.TrimPrefix(v.url, "http://"))
	require.NoError(t, err)
	for host, want := range map[string]int{
		"127.0.0.1:" + port: http.StatusOK, "localhost:" + port: http.StatusOK, "[::1]:" + port: http.StatusOK,
		"wall.example:" + port: http.StatusMisdirectedRequest, "127.0.0.1": http.StatusMisdirectedRequest,
		"127.0.0.1.wall.example:" + port: http.StatusMisdirectedRequest, "localhost:1": http.StatusMisdirectedRequest,
	} {
		r := v.request("GET", "/api/state", "")
		r.Host = host
		assert.Equal(t, want, v.do(r).status, host)
	}
}

func TestOnlyFromItsOwnPage(t *testing.T) {
	v := served(t, small)
	before := v.plan()
	for _, tt := range []struct {
		method, name, value string
		want                int
	}{
		{"POST", "Origin", v.url, http.StatusOK},
		{"POST", "Origin", "http://wall.example", http.StatusForbidden},
		{"POST", "Origin", "null", http.StatusForbidden},
		{"POST", "Origin", strings.Replace(v.url, "http:", "https:", 1), http.StatusForbidden},
		{"POST", "Sec-Fetch-Site", "same-origin", http.StatusOK},
		{"POST", "Sec-Fetch-Site", "cross-site", http.StatusForbidden},
		{"GET", "Sec-Fetch-Site", "same-site", http.StatusForbidden},
		{"GET", "Origin", "http://wall.example", http.StatusForbidden},
	} {
		path := "/api/state"
		if tt.method == "POST" {
			path = "/api/redo"
		}
		r := v.request(tt.method, path, "{}")
		r.Header.Set(tt.name, tt.value)
		assert.Equal(t, tt.want, v.do(r).status, tt)
	}
	assert.Equal(t, before, v.plan())
}

// Every change needs the token of this run, which only the page has.
func TestEveryChangeNeedsTheToken(t *testing.T) {
	v := served(t, small)
	page := v.get("/")
	require.Equal(t, http.StatusOK, page.status)
	assert.Contains(t, page.body, v.server.guard.token)
	assert.NotContains(t, page.body, tokenMark)
	for _, path := range []string{"knobs", "pieces", "try", "undo", "redo", "save", "outside", "pack", "adopt", "progress", "hours"} {
		for _, token := range []string{"", "KEY", v.server.guard.token + "x"} {
			r := v.request("POST", "/api/"+path, "{}")
			r.Header.Set("X-Wallshoal-Token", token)
			assert.Equal(t, http.StatusForbidden, v.do(r).status, path)
		}
		assert.Contains(t, []int{http.StatusMethodNotAllowed, http.StatusNotFound}, v.get("/api/"+path).status, "%s is no look", path)
		r := v.request("POST", "/api/"+path, "{}")
		r.Header.Set("Content-Type", "text/plain")
		assert.Equal(t, http.StatusUnsupportedMediaType, v.do(r).status, path)
	}
	r := v.request("DELETE", "/api/state", "")
	assert.Equal(t, http.StatusMethodNotAllowed, v.do(r).status)
}

func TestBodiesAreLimited(t *testing.T) {
	v := served(t, small)
	large := `{"gesture":"` + strings.Repeat("x", maxBody) + `"}`
	assert.Equal(t, http.StatusRequestEntityTooLarge, v.post("/api/knobs", large).status)
	for _, body := range []string{"", "[]", `{"gesture":1}`, `{"surprise":1}`, `{} {}`, `{"set":[`, "\x00"} {
		assert.Equal(t, http.StatusBadRequest, v.post("/api/knobs", body).status, body)
	}
	many := `{"set":[` + strings.TrimSuffix(strings.Repeat(`{"knob":"seed","value":"1"},`, mostSet+1), ",") + `]}`
	assert.Equal(t, http.StatusBadRequest, v.post("/api/knobs", many).status)
	assert.Equal(t, http.StatusBadRequest, v.post("/api/undo", "").status)
}

// The page runs what comes with it and nothing that is written into it.
func TestStrictPolicy(t *testing.T) {
	v := served(t, small)
	for _, path := range []string{"/", "/install", "/api/state", "/nothing", "/page/"} {
		h := v.get(path).header
		p := h.Get("Content-Security-Policy")
		assert.Contains(t, p, "default-src 'none'", path)
		assert.Contains(t, p, "script-src 'self';", path)
		assert.Contains(t, p, "frame-ancestors 'none'", path)
		assert.NotContains(t, p, "unsafe", path)
		assert.Equal(t, "nosniff", h.Get("X-Content-Type-Options"), path)
		assert.Equal(t, "no-referrer", h.Get("Referrer-Policy"), path)
	}
	picture := v.get("/picture/1/room.svg").header.Get("Content-Security-Policy")
	assert.NotContains(t, picture, "script-src")
	assert.Contains(t, picture, "default-src 'none'")
}

// No page has a script, a style or a handler of events in its own text, and none fetches from elsewhere.
func TestPagesAreOnlyMarkup(t *testing.T) {
	found := 0
	require.NoError(t, fs.WalkDir(pages, "page", func(path string, d fs.DirEntry, err error) error {
		require.NoError(t, err)
		if d.IsDir() {
			return nil
		}
		text, err := pages.ReadFile(path)
		require.NoError(t, err)
		for _, elsewhere := range []string{"https:", "//cdn", "eval(", "innerHTML", "outerHTML", "insertAdjacentHTML", "document.write"} {
			assert.NotContains(t, string(text), elsewhere, path)
		}
		if filepath.Ext(path) != ".html" {
			return nil
		}
		found++
		doc, err := html.Parse(bytes.NewReader(text))
		require.NoError(t, err)
		for n := range doc.Descendants() {
			if n.Type != html.ElementNode {
				continue
			}
			assert.NotEqual(t, "style", n.Data, path)
			if n.Data == "script" {
				assert.Nil(t, n.FirstChild, "%s has a script in it", path)
			}
			for _, a := range n.Attr {
				assert.False(t, strings.HasPrefix(a.Key, "on") || a.Key == "style", "%s: %s of %s", path, a.Key, n.Data)
			}
		}
		return nil
	}))
	assert.Equal(t, 2, found)
}

// Names out of a plan are text wherever they are shown.
func TestNamesAreText(t *testing.T) {
	v := served(t, small)
	for _, path := range []string{"/picture/1/room.svg", "/picture/1/face/0.svg", "/picture/1/face/0.svg?look=holes", "/picture/1/face/0/zones.svg"} {
		r := v.get(path)
		require.Equal(t, http.StatusOK, r.status, r.body)
		assert.Equal(t, "image/svg+xml", r.header.Get("Content-Type"))
		for _, bad := range []string{"<script", "<img", "<b>", "onerror=alert(1)>"} {
			assert.NotContains(t, r.body, bad, path)
		}
	}
	st := decoded[state](t, v.get("/api/state").body)
	assert.Contains(t, st.Title, "<script>", "as text, in JSON")
	assert.Equal(t, "application/json", v.get("/api/state").header.Get("Content-Type"))
}

func TestPathsStayInside(t *testing.T) {
	v := served(t, small)
	for _, path := range []string{
		"/page/../view.go", "/page/%2e%2e/view.go", "/page/..%2f..%2fview.go", "/export/..%2fhall.yaml", "/export/hall.yaml", "/export/%2fetc%2fpasswd",
		"/picture/1/face/..%2f0.svg", "/picture/1/face/-1.svg", "/picture/1/face/99.svg", "/picture/x/room.svg", "/picture/1/face/0/..svg",
	} {
		r := v.get(path)
		assert.GreaterOrEqual(t, r.status, 300, path)
		assert.NotContains(t, r.body, "package view", path)
		assert.NotContains(t, r.body, "so many", path)
	}
}

func TestNamesOfAServer(t *testing.T) {
	assert.Contains(t, newGuard("[::1]:80", "", "").hosts, "[::1]:80")
	assert.Equal(t, []string{"192.0.2.7:80"}, newGuard("192.0.2.7:80", "", "").hosts)
	all := newGuard("[::]:8040", "", "")
	assert.NotEqual(t, "[::]:8040", all.host)
	assert.Contains(t, all.hosts, "localhost:8040")
}
