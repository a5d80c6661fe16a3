// Package view shows an open plan in a browser on the same machine: the wall with its pieces, the knobs
// of the plan, and what comes of turning them. Everything the page needs is in the program.
//
// Nobody else is let in: the server listens on the loopback address unless it is told otherwise, knows
// its own names and no others, and takes neither a look nor a change from whoever has not been
// given the key of this run.
package view

import (
	"context"
	"errors"
	"io"
	"log"
	"net"
	"net/http"
	"time"

	"wallshoal/cmd/wallshoal/easel"
)

// Limits of the server.
const (
	maxHead   = 64 << 10         // bytes of a request's head
	maxBody   = 1 << 20          // and of its body
	slowest   = 10 * time.Second // to read a request
	idle      = 2 * time.Minute  // between two requests
	answering = 2 * time.Minute  // to write an answer that somebody reads; a pack takes a while
	glance    = 300 * time.Millisecond
	farewell  = 2 * time.Second // for requests under way when the server ends
)

// Options are how a plan is viewed.
type Options struct {
	Listen string           // address and port; the loopback address and the plan's own port if empty
	Key    string           // what lets a browser in; needed, and never twice the same
	Now    func() time.Time // what time it is; needed
	// Ready is told where the page is, once; and the plan's usual address, where that is taken.
	Ready func(url, missed string)
}

// Serve serves the plan on the easel until ctx is done. The error says why it could not.
func Serve(ctx context.Context, e *easel.Easel, o Options) error {
	path, _ := e.Paths()
	listener, missed, err := listen(ctx, o.Listen, path)
	if err != nil {
		return err
	}
	s := newServer(ctx, e, o, listener.Addr().String())
	server := &http.Server{
		Handler: s.handler(), ReadHeaderTimeout: slowest, ReadTimeout: slowest, WriteTimeout: answering,
		IdleTimeout: idle, MaxHeaderBytes: maxHead, BaseContext: func(net.Listener) context.Context { return ctx },
		ErrorLog: log.New(io.Discard, "", 0),
	}
	watching := make(chan struct{})
	go func() {
		defer close(watching)
		s.watch(ctx)
	}()
	stopped := make(chan error, 1)
	go func() {
		err := server.Serve(listener)
		if errors.Is(err, http.ErrServerClosed) {
			err = nil
		}
		stopped <- err
	}()
	if o.Ready != nil {
		o.Ready("http://"+s.guard.host+"/?key="+o.Key, missed)
	}
	select {
	case err = <-stopped:
	case <-ctx.Done():
		closing, stop := context.WithTimeout(context.WithoutCancel(ctx), farewell)
		defer stop()
		if err = server.Shutdown(closing); errors.Is(err, context.DeadlineExceeded) {
			err = server.Close()
		}
	}
	<-watching
	err = errors.Join(err, s.closeProgress())
	return err
}

// watch looks at the files now and then, and tells the pages what came of it. Two looks are never closer together than a
// glance, so that what is found twice is not half written.
func (s *server) watch(ctx context.Context) {
	for pause(ctx, glance) {
		if changed, err := s.easel.Look(ctx); err == nil && changed {
			s.tell()
		}
	}
}

// pause waits, and reports whether ctx is not done then.
func pause(ctx context.Context, d time.Duration) bool {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return false
	case <-timer.C:
		return true
	}
}
