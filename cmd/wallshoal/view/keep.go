package view

import (
	"bytes"
	"net/http"
)

// keptPage serves the page of the hanging for a browser to keep, which shows it while the program is away. It
// has no token: whatever comes to listen at this address one day can read what a browser kept for it. Once the
// program answers, and the guard lets the page in, it asks for the token of that run.
func (s *server) keptPage(w http.ResponseWriter, r *http.Request) {
	text, err := pages.ReadFile("page/install.html")
	if err != nil {
		refuse(w, http.StatusNotFound, "there is nothing here", "")
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(bytes.ReplaceAll(text, []byte(tokenMark), nil))
}

// worker serves what keeps that page in a browser, and lets it answer for nothing else of this address.
func worker(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Service-Worker-Allowed", "/install")
	http.ServeFileFS(w, r, pages, "page/worker.js")
}
