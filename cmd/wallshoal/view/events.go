package view

import (
	"fmt"
	"net/http"
	"sync"
	"time"
)

// Limits of those who listen for events.
const (
	mostListening = 64
	heartbeat     = 20 * time.Second // so that a connection that is gone is found out
	patience      = 5 * time.Second  // for one to take what is written to it
)

// A crier tells whoever listens that there is something new. One that does not listen in time hears the
// last thing only: nobody waits for it.
type crier struct {
	lock      sync.Mutex
	listening map[chan string]bool
}

// listen returns a channel of events, or false where too many listen already.
func (c *crier) listen() (chan string, bool) {
	c.lock.Lock()
	defer c.lock.Unlock()
	if len(c.listening) >= mostListening {
		return nil, false
	}
	if c.listening == nil {
		c.listening = map[chan string]bool{}
	}
	ch := make(chan string, 1)
	c.listening[ch] = true
	return ch, true
}

func (c *crier) leave(ch chan string) {
	c.lock.Lock()
	defer c.lock.Unlock()
	delete(c.listening, ch)
}

// cry tells everybody. An event that somebody has not heard yet gives way to this one.
func (c *crier) cry(event string) {
	c.lock.Lock()
	defer c.lock.Unlock()
	for ch := range c.listening {
		select {
		case <-ch:
		default:
		}
		ch <- event
	}
}

// events tells a page of every change until it goes.
func (s *server) events(w http.ResponseWriter, r *http.Request) {
	ch, ok := s.crier.listen()
	if !ok {
		refuse(w, http.StatusServiceUnavailable, "too many pages are open", "close some")
		return
	}
	defer s.crier.leave(ch)
	control := http.NewResponseController(w)
	w.Header().Set("Content-Type", "text/event-stream")
	write := func(text string) bool {
		if control.SetWriteDeadline(time.Now().Add(patience)) != nil {
			return false
		}
		_, err := fmt.Fprint(w, text)
		return err == nil && control.Flush() == nil
	}
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	ok = write(": here\n\n")
	for ok {
		select {
		case <-r.Context().Done():
			return
		case <-s.ending:
			return
		case <-beat.C:
			ok = write(": still here\n\n")
		case event := <-ch:
			ok = write(event)
		}
	}
}
