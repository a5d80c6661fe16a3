package view

import (
	"bytes"
	"context"
	"crypto/rand"
	"embed"
	"fmt"
	"html"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/cmd/wallshoal/press"
	"wallshoal/cmd/wallshoal/progress"
	"wallshoal/export/folder"
	"wallshoal/scatter"
)

//go:embed page
var pages embed.FS

// kept is how many revisions have pictures; the page asks for the state again where it comes too late.
const kept = 12

// A server shows one plan.
type server struct {
	easel  *easel.Easel
	guard  guard
	run    string // the name of this run, for a page to know that it is of another
	o      Options
	crier  crier
	ending <-chan struct{}

	lock   sync.Mutex
	drawn  map[int]*drawn // by revision
	newest []int          // revisions in the order in which they were first seen

	packing sync.Mutex // one pack at a time

	hanging     sync.Mutex // guards what follows
	progressLog *progress.Log
}

func newServer(ctx context.Context, e *easel.Easel, o Options, address string) *server {
	return &server{
		easel: e, o: o, run: rand.Text(), guard: newGuard(address, o.Key, rand.Text()), ending: ctx.Done(), drawn: map[int]*drawn{},
	}
}

// handler answers requests, once the guard has let them in.
func (s *server) handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.page("index.html"))
	mux.HandleFunc("GET /install", s.page("install.html"))
	mux.HandleFunc("GET /install/kept", s.keptPage)
	mux.HandleFunc("GET /page/worker.js", worker)
	mux.Handle("GET /page/", http.FileServerFS(pages))
	mux.HandleFunc("GET /api/state", s.state)
	mux.HandleFunc("GET /api/figures", s.figures)
	mux.HandleFunc("GET /api/events", s.events)
	mux.HandleFunc("GET /picture/{revision}/room.svg", s.roomPicture)
	mux.HandleFunc("GET /picture/{revision}/face/{face}", s.facePicture)
	mux.HandleFunc("GET /picture/{revision}/face/{face}/{layer}", s.layerPicture)
	mux.HandleFunc("POST /api/knobs", s.turn)
	mux.HandleFunc("POST /api/pieces", s.hand)
	mux.HandleFunc("POST /api/try", s.try)
	mux.HandleFunc("POST /api/undo", s.walk(-1))
	mux.HandleFunc("POST /api/redo", s.walk(+1))
	mux.HandleFunc("POST /api/mend", s.mend)
	mux.HandleFunc("POST /api/save", s.save)
	mux.HandleFunc("GET /api/difference", s.difference)
	mux.HandleFunc("POST /api/outside", s.settle)
	mux.HandleFunc("POST /api/pack", s.pack)
	mux.HandleFunc("GET /export/{file}", s.export)
	mux.HandleFunc("GET /api/compare", s.compare)
	mux.HandleFunc("POST /api/adopt", s.adopt)
	mux.HandleFunc("GET /api/stands", s.stands)
	mux.HandleFunc("POST /api/progress", s.progress)
	mux.HandleFunc("POST /api/hours", s.log)
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		refuse(w, http.StatusNotFound, "there is nothing here", "")
	})
	return s.guard.over(mux)
}

// tokenMark stands in a page where the token goes.
const tokenMark = "{{write-token}}"

// page serves a page with the token that changes need.
func (s *server) page(name string) http.HandlerFunc {
	text, err := pages.ReadFile("page/" + name)
	return func(w http.ResponseWriter, r *http.Request) {
		if err != nil {
			refuse(w, http.StatusNotFound, "there is nothing here", "")
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = w.Write(bytes.ReplaceAll(text, []byte(tokenMark), []byte(html.EscapeString(s.guard.token))))
	}
}

// state answers with what is shown now.
func (s *server) state(w http.ResponseWriter, r *http.Request) {
	shown, status := s.easel.Now()
	s.keep(shown)
	answer(w, http.StatusOK, s.stateOf(shown, status))
}

// done answers with what is shown after a change, or with what went wrong.
func (s *server) done(w http.ResponseWriter, r *http.Request, err error) {
	if err != nil {
		fail(w, err)
		return
	}
	s.tell()
	s.state(w, r)
}

// tell tells the pages what stands now.
func (s *server) tell() {
	_, status := s.easel.Now()
	s.crier.cry(fmt.Sprintf("event: state\ndata: {\"revision\":%d}\n\n", status.Revision))
}

// whole reads a whole number of an address.
func whole(text string) (int, bool) {
	n, err := strconv.Atoi(text)
	return n, err == nil && n >= 0
}

// pack writes the pack beside the plan.
func (s *server) pack(w http.ResponseWriter, r *http.Request) {
	if !read(w, r, &struct{}{}) {
		return
	}
	s.packing.Lock()
	defer s.packing.Unlock()
	shown, _ := s.easel.Now()
	p, ok := s.pressed(w, r, shown, true)
	if !ok {
		return
	}
	planFile, _ := s.easel.Paths()
	name := strings.TrimSuffix(filepath.Base(planFile), filepath.Ext(planFile))
	dir := filepath.Join(s.easel.Folder(), name)
	if info, err := os.Lstat(dir); err == nil && !info.IsDir() { // a plan without an extension
		dir += "-pack"
	}
	list := p.Files(r.Context())
	if err := folder.Write(r.Context(), dir, list); err != nil {
		fail(w, err)
		return
	}
	files := make([]string, len(list))
	for i, f := range list {
		files[i] = f.Name
	}
	answer(w, http.StatusOK, map[string]any{"folder": filepath.Base(dir), "files": files, "warnings": append([]string{}, p.Warnings...)})
}

func (s *server) press(ctx context.Context, d *drawn) (*press.Press, error) {
	cut, err := d.cut()
	if err != nil {
		return nil, err
	}
	return press.New(ctx, d.shown.Job, cut, s.o.Now(), press.Silent{})
}

// pressed returns what the files of a pack are drawn from, with the options of the plan beside it, and answers where
// they cannot be drawn: because of holes, too, where something is drilled by them.
func (s *server) pressed(w http.ResponseWriter, r *http.Request, shown *easel.Shown, drilled bool) (*press.Press, bool) {
	if drilled && refuseHoles(w, shown) {
		return nil, false
	}
	p, err := s.press(r.Context(), s.keep(shown))
	if err == nil {
		err = p.Beside(r.Context(), shown.Job, s.o.Now())
	}
	if err != nil {
		fail(w, err)
	}
	return p, err == nil
}

// layoutName is the file of a pack in which pieces can be put right by hand.
const layoutName = "layout.yaml"

// refuseHoles refuses to draw what is drilled by where a hole falls where none may be, as pack does.
func refuseHoles(w http.ResponseWriter, shown *easel.Shown) bool {
	var faults []fault
	for _, f := range shown.Flaws {
		if f.Flaw == scatter.BadHole {
			faults = append(faults, fault{Field: fmt.Sprintf("piece %d", f.Piece), Wrong: f.Wrong, Fix: f.Fix})
		}
	}
	if len(faults) > 0 {
		answer(w, http.StatusConflict, trouble{
			Error: "holes fall where none may be drilled, and no template is drawn of that", Fix: "move or turn the pieces, or take them away",
			Faults: faults, Holes: true,
		})
	}
	return len(faults) > 0
}

// export sends one file of the pack of what is shown.
func (s *server) export(w http.ResponseWriter, r *http.Request) {
	shown, _ := s.easel.Now()
	name := r.PathValue("file")
	p, ok := s.pressed(w, r, shown, name != layoutName)
	if !ok {
		return
	}
	for _, f := range p.Files(r.Context()) {
		if f.Name != name {
			continue
		}
		var text bytes.Buffer
		if err := f.Write(&text); err != nil {
			fail(w, err)
			return
		}
		h := w.Header()
		h.Set("Content-Type", kindOf(name))
		h.Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", folder.Slug(shown.Work.Title)+"-"+name))
		_, _ = w.Write(text.Bytes())
		return
	}
	refuse(w, http.StatusNotFound, fmt.Sprintf("%q is no file of this pack", name), "")
}

// kindOf returns the media type of a file of a pack.
func kindOf(name string) string {
	switch filepath.Ext(name) {
	case ".pdf":
		return "application/pdf"
	case ".svg":
		return "image/svg+xml"
	case ".csv":
		return "text/csv; charset=utf-8"
	case ".json":
		return "application/json"
	case ".ics":
		return "text/calendar; charset=utf-8"
	case ".html":
		return "text/html; charset=utf-8"
	}
	return "text/plain; charset=utf-8"
}
