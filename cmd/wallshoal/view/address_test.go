package view

import (
	"context"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/easel"
)

// A plan has the same ports however it is named, all of them dynamic (RFC 6335, section 6: 49152 to 65535), and another plan
// has others.
func TestPortsOfAPlan(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "hall.yaml")
	require.NoError(t, os.WriteFile(path, []byte(small), 0o644))
	ports := ownPorts(path)
	require.Len(t, ports, tries)
	t.Chdir(dir)
	assert.Equal(t, ports, ownPorts("hall.yaml"))
	assert.Equal(t, ports, ownPorts("./hall.yaml"))
	if err := os.Symlink("hall.yaml", "same.yaml"); err == nil {
		assert.Equal(t, ports, ownPorts("same.yaml"))
	}
	seen := map[int]bool{}
	for i := range 500 {
		for _, port := range ownPorts(filepath.Join(dir, strconv.Itoa(i), "hall.yaml")) {
			require.GreaterOrEqual(t, port, 49152)
			require.LessOrEqual(t, port, 65535)
			seen[port] = true
		}
	}
	assert.Greater(t, len(seen), 1500, "2000 draws of 16384 ports are nearly all different")
}

// At its usual port, or where that is taken at the next of its own, and it says which it missed; where none of them can be
// had, at any.
func TestListeningAtAPlansOwnAddress(t *testing.T) {
	path := filepath.Join(t.TempDir(), "hall.yaml")
	hear := func(address string) (net.Listener, string) {
		at, missed, err := listen(t.Context(), address, path)
		require.NoError(t, err)
		t.Cleanup(func() { _ = at.Close() })
		return at, missed
	}
	ports := ownPorts(path)
	usual := "127.0.0.1:" + strconv.Itoa(ports[0])
	first, missed := hear("")
	assert.Empty(t, missed)
	assert.Equal(t, usual, first.Addr().String())
	var had []int
	for range tries + 1 {
		at, missed := hear("")
		assert.Equal(t, usual, missed)
		assert.NotEqual(t, usual, at.Addr().String())
		had = append(had, at.Addr().(*net.TCPAddr).Port)
	}
	assert.Equal(t, ports[1:], had[:tries-1], "in their order")
	require.NoError(t, first.Close())
	again, missed := hear("")
	assert.Empty(t, missed)
	assert.Equal(t, usual, again.Addr().String())
	_, missed = hear("127.0.0.1:0")
	assert.Empty(t, missed, "whoever names an address has that")
	_, _, err := listen(t.Context(), usual, path)
	assert.ErrorContains(t, err, usual)
}

// started serves a plan as the program does without an address, and returns where that is and what ends it.
func started(t *testing.T, path, key string) (address string, end func()) {
	t.Helper()
	e, err := easel.Open(t.Context(), path, "")
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	at := make(chan string, 1)
	ended := make(chan error, 1)
	go func() {
		ended <- Serve(ctx, e, Options{Key: key, Now: time.Now, Ready: func(url, _ string) { at <- url }})
	}()
	end = func() {
		if stop == nil {
			return
		}
		stop()
		stop = nil
		assert.NoError(t, <-ended)
		_ = e.Close()
	}
	t.Cleanup(end)
	select {
	case address = <-at:
	case err := <-ended:
		require.NoError(t, err)
	}
	return address, end
}

// hung counts what the file of the progress says is up.
func hung(t *testing.T, path string) int {
	t.Helper()
	e, err := easel.Open(t.Context(), path, "")
	require.NoError(t, err)
	defer func() { _ = e.Close() }()
	s := newServer(t.Context(), e, Options{Key: "LOOK", Now: time.Now}, "127.0.0.1:1")
	log, err := s.installing(t.Context())
	require.NoError(t, err)
	shown, _ := e.Now()
	st, err := s.standing(shown, log.Record())
	require.NoError(t, err)
	require.NoError(t, s.closeProgress())
	return st.Hanging
}

// The program ends, somebody goes on ticking, and it is started anew on the same plan with nothing said of where: the
// address that it prints has all ticks, from the page of the plan alone, and the pages that were left open go on by themselves.
func TestTicksOutliveAStartWithoutAnAddress(t *testing.T) {
	rarely(t)
	path := filepath.Join(t.TempDir(), "hall.yaml")
	require.NoError(t, os.WriteFile(path, []byte(small), 0o644))
	address, end := started(t, path, "FIRSTKEY")
	base, _, _ := strings.Cut(address, "/?")
	p := phone(t, 390, 844)
	p.run(chromedp.Navigate(address), chromedp.Navigate(base+"/install"))
	p.until(`document.querySelectorAll('#pieces input').length > 0 && document.body.dataset.kept === 'yes'`)
	p.tick()
	p.until(`document.getElementById('done').textContent.startsWith('1 of') && !document.getElementById('done').textContent.includes('still to send')`)
	end()
	for range 3 {
		p.tick()
	}
	p.run(chromedp.Reload())
	p.until(`document.getElementById('done').textContent.includes('4 of') && document.getElementById('done').textContent.includes('3 still to send')`)

	address, end = started(t, path, "SECONDKEY")
	require.True(t, strings.HasPrefix(address, base+"/"), "%s is not at %s", address, base)
	p.run(chromedp.Navigate(address))
	p.until(`localStorage.getItem('wallshoal outbox') === '[]'`)
	p.until(`document.getElementById('say').textContent.includes('3 ticks that waited in this browser are sent')`)
	p.see("waiting-sent")
	end()
	assert.Equal(t, 4, hung(t, path))

	// The page of the plan stays open, knows nothing of the next run, and says what to do.
	p.does(`window.before = true`)
	address, end = started(t, path, "THIRDKEY")
	p.until(`!document.getElementById('lost').hidden && document.getElementById('lost-why').textContent.includes('open the new address')`)
	// Another tab has what waits, too: it is let in with it.
	other := &tab{visitor: &visitor{t: t}}
	ctx, stop := chromedp.NewContext(p.ctx, chromedp.WithListener(other.hear))
	t.Cleanup(stop)
	other.ctx = ctx
	other.run(chromedp.Navigate(address))
	other.until(`document.querySelectorAll('.knob').length > 0`)
	p.until(`window.before === undefined && document.querySelectorAll('.knob').length > 0 && document.getElementById('lost').hidden`)

	// A page of the hanging that is left open sends what it has by itself, once that browser is let in.
	p.run(chromedp.Navigate(base + "/install"))
	p.until(`document.getElementById('done').textContent.startsWith('4 of')`)
	end()
	p.tick()
	p.until(`document.getElementById('done').textContent.includes('1 still to send')`)
	address, end = started(t, path, "FOURTHKEY")
	p.until(`document.getElementById('lost-why').textContent.includes('open the new address')`)
	other.run(chromedp.Navigate(address))
	p.until(`!document.getElementById('done').textContent.includes('still to send') && document.getElementById('lost').hidden`)
	end()
	assert.Equal(t, 5, hung(t, path))
}
