package view

import (
	"crypto/subtle"
	"fmt"
	"html"
	"mime"
	"net"
	"net/http"
	"net/url"
	"slices"
	"strings"
)

// policy is what the page may do: what comes from this server, and nothing written into the page
// itself.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// picturePolicy is what a picture may do that is looked at by itself: show its own styles.
const picturePolicy = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'"

// A guard lets those in who have the key of this run.
type guard struct {
	host  string   // with its port, as the address shows it
	hosts []string // all names of this server, with the port
	key   string   // lets a browser in, and then is its cookie
	token string   // comes with every change; only the page knows it
}

// newGuard returns the guard of a server at an address.
func newGuard(address, key, token string) guard {
	name, port, err := net.SplitHostPort(address)
	if err != nil {
		return guard{host: address, hosts: []string{address}, key: key, token: token}
	}
	g := guard{host: address, key: key, token: token}
	ip := net.ParseIP(name)
	switch {
	case ip.IsLoopback():
		for _, h := range []string{name, "127.0.0.1", "localhost", "::1"} {
			g.hosts = append(g.hosts, net.JoinHostPort(h, port))
		}
	case ip.IsUnspecified(): // whoever asked for that is reached under any address of the machine
		g.hosts = addresses(port)
		g.host = g.hosts[0]
	default:
		g.hosts = []string{address}
	}
	return g
}

// addresses returns every address of the machine with a port, one that others reach first.
func addresses(port string) []string {
	var near, far []string
	found, _ := net.InterfaceAddrs() // without any there is still the loopback address
	for _, a := range found {
		ip, _, err := net.ParseCIDR(a.String())
		switch {
		case err != nil:
		case ip.IsLoopback():
			near = append(near, net.JoinHostPort(ip.String(), port))
		case ip.To4() != nil:
			far = append(far, net.JoinHostPort(ip.String(), port))
		}
	}
	return append(append(far, near...), net.JoinHostPort("localhost", port), net.JoinHostPort("127.0.0.1", port))
}

// cookie is what the key of this server is kept under. Cookies know no ports, names do.
func (g guard) cookie() string {
	_, port, _ := net.SplitHostPort(g.host)
	return "wallshoal-" + port
}

func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// over returns a handler that lets through to next who may.
func (g guard) over(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		switch {
		case !slices.Contains(g.hosts, r.Host):
			deny(w, r, http.StatusMisdirectedRequest, "this is no name of this server", "open the address that wallshoal view printed")
		case !g.fromHere(r):
			deny(w, r, http.StatusForbidden, "the request comes from another page", "open the address that wallshoal view printed")
		case r.Method != http.MethodGet && r.Method != http.MethodHead && r.Method != http.MethodPost:
			refuse(w, http.StatusMethodNotAllowed, "nothing is done that way", "")
		case r.Method == http.MethodGet && slices.Contains(doors(), r.URL.Path) && r.URL.Query().Has("key"):
			g.admit(w, r)
		case !g.known(r):
			deny(w, r, http.StatusUnauthorized, "the key is missing, or that of another run", "open the address that wallshoal view printed")
		case r.Method == http.MethodPost && !same(r.Header.Get("X-Wallshoal-Token"), g.token):
			refuse(w, http.StatusForbidden, "the page is that of another run", "load it again")
		case r.Method == http.MethodPost && !isJSON(r):
			refuse(w, http.StatusUnsupportedMediaType, "the request is not JSON", "")
		default:
			r.Body = http.MaxBytesReader(w, r.Body, maxBody)
			next.ServeHTTP(w, r)
		}
	})
}

// fromHere reports whether a request comes from a page of this server, or from no page at all.
func (g guard) fromHere(r *http.Request) bool {
	if origin := r.Header.Get("Origin"); origin != "" {
		u, err := url.Parse(origin)
		return err == nil && u.Scheme == "http" && u.Host == r.Host
	}
	site := r.Header.Get("Sec-Fetch-Site")
	// An address that somebody opens by a link elsewhere is a look at the page, and changes nothing.
	opened := r.Method == http.MethodGet && r.Header.Get("Sec-Fetch-Mode") == "navigate"
	return site == "" || site == "same-origin" || site == "none" || opened
}

// admit gives the cookie to whoever has the key, and leads to the page without it.
func (g guard) admit(w http.ResponseWriter, r *http.Request) {
	if !same(r.URL.Query().Get("key"), g.key) {
		deny(w, r, http.StatusUnauthorized, "the key is that of another run", "open the address that wallshoal view printed")
		return
	}
	http.SetCookie(w, &http.Cookie{Name: g.cookie(), Value: g.key, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
	http.Redirect(w, r, r.URL.Path, http.StatusSeeOther)
}

// doors returns the pages that the key can be given to.
func doors() []string { return []string{"/", "/install"} }

// deny refuses whoever is not let in: a person with a page to read, and a program as refuse does.
func deny(w http.ResponseWriter, r *http.Request, status int, wrong, fix string) {
	if !strings.Contains(r.Header.Get("Accept"), "text/html") {
		refuse(w, status, wrong, fix)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = fmt.Fprintf(w, "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\"><title>wallshoal</title><h1>%s</h1><p>%s</p></html>\n",
		html.EscapeString(wrong), html.EscapeString(fix))
}

func (g guard) known(r *http.Request) bool {
	c, err := r.Cookie(g.cookie())
	return err == nil && same(c.Value, g.key)
}

func isJSON(r *http.Request) bool {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	return err == nil && strings.EqualFold(kind, "application/json")
}
