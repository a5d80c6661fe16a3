package view

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/export/draw"
	"wallshoal/export/screen"
	"wallshoal/export/stand"
	"wallshoal/export/tiling"
)

// A drawn is a revision with what was drawn and counted of it so far.
type drawn struct {
	shown *easel.Shown
	cut   func() (tiling.Cut, error) // into the sheets of the hole map, by the first who asks

	lock     sync.Mutex
	pictures map[string]*picture

	counting sync.Mutex
	figures  *figures

	ordering sync.Mutex
	ordered  *standsState // with nothing done yet
}

// A picture is drawn once, by the first who asks.
type picture struct {
	once sync.Once
	svg  []byte
	err  error
}

// keep keeps a revision for its pictures to be asked for, and lets go of the oldest.
func (s *server) keep(shown *easel.Shown) *drawn {
	s.lock.Lock()
	defer s.lock.Unlock()
	if d := s.drawn[shown.Revision]; d != nil {
		return d
	}
	d := &drawn{shown: shown, pictures: map[string]*picture{}}
	d.cut = sync.OnceValues(func() (tiling.Cut, error) { return tiling.CutOf(shown.Work, shown.Job.Plan.Print) })
	s.drawn[shown.Revision] = d
	s.newest = append(s.newest, shown.Revision)
	if len(s.newest) > kept {
		delete(s.drawn, s.newest[0])
		s.newest = slices.Delete(s.newest, 0, 1)
	}
	return d
}

// revision returns the revision that a request is about, and answers where there is none.
func (s *server) revision(w http.ResponseWriter, text string) (*drawn, bool) {
	n, ok := whole(text)
	if !ok {
		refuse(w, http.StatusBadRequest, fmt.Sprintf("%q is no revision", text), "")
		return nil, false
	}
	if shown, _ := s.easel.Now(); shown.Revision == n {
		return s.keep(shown), true
	}
	s.lock.Lock()
	d := s.drawn[n]
	s.lock.Unlock()
	if d == nil {
		refuse(w, http.StatusGone, fmt.Sprintf("revision %d is gone", n), "ask for the state again")
	}
	return d, d != nil
}

// send sends a picture of a revision, drawing it where nobody has asked for it yet.
func (s *server) send(w http.ResponseWriter, d *drawn, name string, draws func(draw.Canvas) error) {
	d.lock.Lock()
	p := d.pictures[name]
	if p == nil {
		p = &picture{}
		d.pictures[name] = p
	}
	d.lock.Unlock()
	p.once.Do(func() {
		var text bytes.Buffer
		c := draw.NewScreenSVG(&text, draw.About{Title: d.shown.Work.Title, Author: d.shown.Work.By, Subject: name})
		if p.err = draws(c); p.err == nil {
			p.err = c.Close()
		}
		p.svg = text.Bytes()
	})
	if p.err != nil {
		fail(w, p.err)
		return
	}
	h := w.Header()
	h.Set("Content-Security-Policy", picturePolicy)
	h.Set("Content-Type", "image/svg+xml")
	_, _ = w.Write(p.svg)
}

// look returns the look that a request asks for, and answers where there is none such.
func look(w http.ResponseWriter, r *http.Request) (screen.Look, bool) {
	as := screen.Look(r.URL.Query().Get("look"))
	if as == "" {
		as = screen.LookClient
	}
	if !slices.Contains(screen.Looks(), as) {
		refuse(w, http.StatusBadRequest, fmt.Sprintf("%q is no look", string(as)), "ask for client or holes")
		return "", false
	}
	return as, true
}

func (s *server) roomPicture(w http.ResponseWriter, r *http.Request) {
	as, ok := look(w, r)
	if !ok {
		return
	}
	if d, ok := s.revision(w, r.PathValue("revision")); ok {
		s.send(w, d, fmt.Sprint("room ", as), func(c draw.Canvas) error { return screen.Room(c, d.shown.Work, as) })
	}
}

// faceOf returns the revision and the face that a request is about, and answers where there is none.
func (s *server) faceOf(w http.ResponseWriter, r *http.Request, name string) (*drawn, int, bool) {
	d, ok := s.revision(w, r.PathValue("revision"))
	if !ok {
		return nil, 0, false
	}
	face, ok := whole(name)
	if !ok || face >= len(d.shown.Work.Site.Faces) {
		refuse(w, http.StatusNotFound, "there is no such face", "")
		return nil, 0, false
	}
	return d, face, true
}

func (s *server) facePicture(w http.ResponseWriter, r *http.Request) {
	as, ok := look(w, r)
	if !ok {
		return
	}
	name, ok := strings.CutSuffix(r.PathValue("face"), ".svg")
	if !ok {
		name = ""
	}
	if d, face, ok := s.faceOf(w, r, name); ok {
		s.send(w, d, fmt.Sprint("face ", face, as), func(c draw.Canvas) error { return screen.Face(c, d.shown.Work, face, as) })
	}
}

func (s *server) layerPicture(w http.ResponseWriter, r *http.Request) {
	name, _ := strings.CutSuffix(r.PathValue("layer"), ".svg")
	layer := screen.Layer(name)
	if !slices.Contains(screen.Layers(), layer) {
		refuse(w, http.StatusNotFound, "there is no such layer", "")
		return
	}
	d, face, ok := s.faceOf(w, r, r.PathValue("face"))
	if !ok {
		return
	}
	drawing := context.WithoutCancel(r.Context()) // others may wait for the same picture
	s.send(w, d, fmt.Sprint("face ", face, name), func(c draw.Canvas) error {
		j := d.shown.Job
		with := screen.With{Composition: j.Plan.Composition}
		var err error
		switch layer {
		case screen.LayerStands:
			with.Stands, err = stand.Plan(d.shown.Work, j.Plan.Install.Reach)
		case screen.LayerTiles, screen.LayerSeams:
			with.Cut, err = d.cut()
		}
		if err != nil {
			return err
		}
		return screen.DrawLayer(drawing, c, d.shown.Work, face, layer, with)
	})
}
