package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"

	"golang.org/x/term"
)

const (
	quiet   = time.Second            // work shorter than this shows nothing
	refresh = 100 * time.Millisecond // between two lines of progress
)

// A meter shows on a terminal how far long work has come, on one line that it writes over and
// takes away again. Where its output is no terminal it shows nothing.
type meter struct {
	out  io.Writer // nil for none
	now  func() time.Time
	lock sync.Mutex

	label       string
	begun, last time.Time
	shown       bool
}

func newMeter(out io.Writer) *meter {
	m := &meter{now: time.Now}
	if f, ok := out.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		m.out = out
	}
	return m
}

// Begin starts a piece of work. Whatever was shown goes.
func (m *meter) Begin(label string) {
	m.Clear()
	m.label, m.begun = label, m.now()
}

// Step shows that so much of the work is done; a total of 0 stands for one that nobody knows yet.
func (m *meter) Step(done, total int) {
	if m.out == nil {
		return
	}
	m.lock.Lock()
	defer m.lock.Unlock()
	now := m.now()
	if now.Sub(m.begun) < quiet || now.Sub(m.last) < refresh {
		return
	}
	m.last, m.shown = now, true
	fmt.Fprintf(m.out, "\r\x1b[K%s: %d", m.label, done)
	if total > 0 {
		fmt.Fprintf(m.out, " of %d", total)
	}
}

// Clear takes the line away.
func (m *meter) Clear() {
	m.lock.Lock()
	defer m.lock.Unlock()
	if m.shown {
		fmt.Fprint(m.out, "\r\x1b[K")
		m.shown = false
	}
}
