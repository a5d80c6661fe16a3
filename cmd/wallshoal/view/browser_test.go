package view

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/examples"
)

// These tests look at the page in a real browser, as a person would, and hold it to what is on the disk
// afterwards. Without Chromium they are skipped, and under CI=true they fail; with -short they are skipped.

// A tab is a page in a browser.
type tab struct {
	*visitor
	ctx context.Context

	lock   sync.Mutex
	errors []string // that the page's console showed
}

// A shared browser is started by the first test that asks for a tab, and serves all of them: starting one takes longer than
// most tests do.
type shared struct {
	once sync.Once
	ctx  context.Context
	err  error
	stop []context.CancelFunc
}

var browser shared

// end ends the browser, if there is one.
func (s *shared) end() {
	for _, stop := range slices.Backward(s.stop) {
		stop()
	}
}

func (s *shared) start(path string) {
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.WindowSize(1280, 860), chromedp.Flag("host-resolver-rules", "MAP "+elsewhere+" 127.0.0.1"))
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	s.stop = append(s.stop, stop)
	s.ctx, stop = chromedp.NewContext(allocator)
	s.stop = append(s.stop, stop)
	s.err = chromedp.Do(s.ctx)
}

// chromium returns the browser that all tests share.
func chromium(t *testing.T) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes a while")
	}
	var path string
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("there is no Chromium")
		}
		t.Skip("there is no Chromium to look at the page with")
	}
	browser.once.Do(func() { browser.start(path) })
	require.NoError(t, browser.err)
	return browser.ctx
}

// newTab opens a tab in a profile of its own, which knows nothing of those of other tests: no cookies, caches or workers.
func newTab(t *testing.T, in context.Context, v *visitor) *tab {
	t.Helper()
	p := &tab{visitor: v}
	ctx, stop := chromedp.NewContext(in, chromedp.WithNewBrowserContext(), chromedp.WithListener(p.hear))
	t.Cleanup(stop)
	p.ctx = ctx
	t.Cleanup(func() {
		if t.Failed() && os.Getenv("CI") != "true" {
			p.shoot(filepath.Join(os.TempDir(), strings.ReplaceAll(t.Name(), "/", "-")+".png"))
		}
	})
	return p
}

// open opens the plan in a tab of a browser.
func open(t *testing.T, text, path string) *tab {
	t.Helper()
	in := chromium(t)
	p := newTab(t, in, served(t, text))
	p.run(chromedp.Navigate(p.url + "/?key=KEY"))
	if path != "/" {
		p.run(chromedp.Navigate(p.url + path))
	}
	return p
}

// hear keeps what went wrong on the page.
func (p *tab) hear(event any) {
	p.lock.Lock()
	defer p.lock.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		p.errors = append(p.errors, fmt.Sprintf("%+v", e.ExceptionDetails))
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeWarning {
			p.errors = append(p.errors, fmt.Sprintf("%s: %s", e.Type, e.Args[0].Value))
		}
	case *log.EventEntryAdded:
		// A browser notes every request that is refused, such as a value that cannot be.
		if e.Entry.Level == log.EntryLevelError && !strings.Contains(e.Entry.Text, "422") {
			p.errors = append(p.errors, e.Entry.Text+" "+e.Entry.URL)
		}
	case *page.EventJavascriptDialogOpening:
		p.errors = append(p.errors, "a dialog: "+e.Message)
	}
}

func (p *tab) run(actions ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	require.NoError(p.t, chromedp.Do(p.ctx, actions...))
}

// shoot keeps what is seen.
func (p *tab) shoot(path string) {
	if png, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot()); err == nil {
		_ = os.WriteFile(path, png, 0o644)
	}
}

// js returns what an expression comes to.
func js[T any](p *tab, expression string) T {
	p.t.Helper()
	out, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](expression))
	require.NoError(p.t, err, expression)
	return out
}

// does runs a statement.
func (p *tab) does(statement string) {
	p.t.Helper()
	p.run(chromedp.Evaluate[chromedp.Void](statement))
}

// eventually waits until something is so, which it may be already.
func eventually(t *testing.T, what string, is func() bool) {
	t.Helper()
	for last := time.Now().Add(30 * time.Second); !is(); time.Sleep(10 * time.Millisecond) {
		require.True(t, time.Now().Before(last), "in vain: %s", what)
	}
}

// noticed has the program look at the files until what it finds counts.
func (p *tab) noticed() {
	p.t.Helper()
	for range 2 {
		_, err := p.server.easel.Look(p.ctx)
		require.NoError(p.t, err)
	}
	p.server.tell()
}

// until waits until an expression is true.
func (p *tab) until(expression string) {
	p.t.Helper()
	eventually(p.t, expression, func() bool {
		is, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool]("Boolean("+expression+")"))
		return err == nil && is // an error where the page is just being left for another
	})
}

// eventually waits until the server is as it is to be, and the page shows it.
func (p *tab) eventually(what string, is func(state) bool) state {
	p.t.Helper()
	var st state
	eventually(p.t, what, func() bool {
		st = p.state()
		return is(st)
	})
	p.until(fmt.Sprintf(`[...document.querySelectorAll('#board img')].some(i => i.src.includes('/picture/%d/'))`, st.Revision))
	return st
}

func (p *tab) state() state {
	p.t.Helper()
	return decoded[state](p.t, p.get("/api/state").body)
}

// clean fails where the console showed anything wrong.
func (p *tab) clean() {
	p.t.Helper()
	p.lock.Lock()
	defer p.lock.Unlock()
	assert.Empty(p.t, p.errors)
}

// settled waits until the picture has stood at one place for some frames: the stage gets smaller as figures come to stand above it.
func (p *tab) settled() {
	p.t.Helper()
	p.does(`window.stood = { at: '', frames: 0 }; (function look() {
		const r = document.querySelector('svg.outlines').getBoundingClientRect(), at = [r.x, r.y, r.width, r.height].join();
		window.stood = { at, frames: at === window.stood.at ? window.stood.frames + 1 : 0 };
		if (window.stood.frames < 5) requestAnimationFrame(look) })()`)
	p.until(`window.stood.frames === 5`)
}

const pictureThere = `[...document.querySelectorAll('#board img')].some(i => i.complete && i.naturalWidth > 0)`

// face shows the face with that title.
func (p *tab) face(title string) {
	p.t.Helper()
	p.until(fmt.Sprintf(`[...document.querySelectorAll('#faces button')].some(b => b.textContent.includes(%q))`, title))
	p.does(fmt.Sprintf(`[...document.querySelectorAll('#faces button')].find(b => b.textContent.includes(%q)).click()`, title))
	p.until(`document.querySelectorAll('path[data-id]').length > 0 && ` + pictureThere)
}

// middle returns where the middle of a piece is on the screen, once it stands still there: a notice that comes or goes
// moves the picture.
func (p *tab) middle(id int) (x, y float64) {
	p.t.Helper()
	where := func() []float64 {
		return js[[]float64](p, fmt.Sprintf(`(() => { const r = document.querySelector('path[data-id="%d"]')?.getBoundingClientRect(); return r ? [r.x + r.width / 2, r.y + r.height / 2] : [] })()`, id))
	}
	at := where()
	eventually(p.t, "a piece that stands still", func() bool {
		before := at
		time.Sleep(120 * time.Millisecond)
		at = where()
		return len(at) == 2 && slices.Equal(at, before)
	})
	return at[0], at[1]
}

// drag drags the mouse.
func (p *tab) drag(x, y, dx, dy float64) {
	p.t.Helper()
	p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x, y), chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, x, y, chromedp.Button("left"), chromedp.ClickCount(1)))
	for i := 1.0; i <= 5; i++ {
		p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x+dx*i/5, y+dy*i/5, chromedp.Button("left")))
	}
	p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, x+dx, y+dy, chromedp.Button("left"), chromedp.ClickCount(1)))
}

// knob returns the way to the field of the knob with that label.
func (p *tab) knob(label string) string {
	p.t.Helper()
	id := js[string](p, fmt.Sprintf(`(() => { const l = [...document.querySelectorAll('.knob label')].find(l => l.textContent === %q);
		l.closest('details').open = true; return l.htmlFor })()`, label))
	return "#" + id
}

// write writes a value into the field of a knob, and leaves it.
func (p *tab) write(label, value string) {
	p.t.Helper()
	at := p.knob(label)
	p.does(fmt.Sprintf(`(() => { const field = document.querySelector(%q); field.focus(); field.select() })()`, at))
	p.run(chromedp.KeyEvent(value + kb.Enter))
}

// Open the demonstration, turn a knob, move the place where it gathers, lock, save: nothing on the
// console, and on the disk what was seen.
func TestInABrowser(t *testing.T) {
	p := open(t, examples.Ferry, "/")
	p.until(pictureThere)
	assert.Equal(t, "Herring at the ferry terminal", js[string](p, `document.getElementById('title').textContent`))
	p.until(`document.getElementById('figures').textContent.includes('776')`)

	p.write("pieces", "430")
	p.eventually("430 pieces", func(st state) bool { return st.PieceCount == 430 })
	p.until(`document.getElementById('figures').textContent.includes('430')`)
	p.write("pieces", "99999")
	p.until(`[...document.querySelectorAll('.knob .fault')].some(f => !f.hidden && f.textContent.length > 10)`)
	assert.Equal(t, 430, p.state().PieceCount, "no room for so many, and nothing changed")
	p.write("pieces", "430")

	p.face("Ticket wall")
	before := p.state()
	face := before.Pieces[0].Face
	for _, f := range before.Faces {
		if f.Title == "Ticket wall" {
			face = f.Index
		}
	}
	var three []pieceHung
	for _, piece := range before.Pieces {
		if piece.Face == face && len(three) < 3 {
			three = append(three, piece)
		}
	}
	// Drag one, and undo that.
	x, y := p.middle(three[0].ID)
	p.drag(x, y, 12, 9)
	moved := p.eventually("a piece that was dragged", func(st state) bool { return st.Undo && len(st.Pieces) == 430 && at(st, three[0].ID).Locked })
	now := at(moved, three[0].ID)
	scale := (now.At[0] - three[0].At[0]) / 12
	assert.Positive(t, scale)
	assert.InDelta(t, three[0].At[1]-9*scale, now.At[1], 2*scale, "as far down as right, by the same scale")
	p.run(chromedp.KeyEvent("z", chromedp.KeyModifiers(kb.ModifierCtrl)))
	p.eventually("the piece back at its place", func(st state) bool { return at(st, three[0].ID) == three[0] })

	// Lock three by the keyboard.
	for _, piece := range three {
		x, y = p.middle(piece.ID)
		p.run(chromedp.MouseClickXY(x, y), chromedp.KeyEvent("l"))
		p.eventually("a lock", func(st state) bool { return at(st, piece.ID).Locked })
		p.run(chromedp.KeyEvent(kb.Escape)) // pick nothing: the handle to turn it by may lie over the next one
	}
	// Move the place that they gather round: what is locked stays.
	p.does(`document.querySelector('#marks button[aria-label*="towards"], #stage button[aria-label*="towards"]').focus()`)
	p.run(chromedp.KeyEvent(kb.ArrowLeft, chromedp.KeyModifiers(kb.ModifierShift)))
	after := p.eventually("another layout", func(st state) bool { return st.Fingerprint != before.Fingerprint && st.Revision > moved.Revision+1 })
	for _, piece := range three {
		piece.Locked = true
		assert.Equal(t, piece, at(after, piece.ID))
	}
	// Save.
	p.until(`!document.getElementById('save').disabled`)
	p.run(chromedp.KeyEvent("s", chromedp.KeyModifiers(kb.ModifierCtrl)))
	saved := p.eventually("saved", func(st state) bool { return st.Saved })
	plan := p.plan()
	assert.Contains(t, plan, "count: 430\n")
	assert.Contains(t, plan, "# the nearer the ticket window, the closer they swim", "comments stay")
	assert.Equal(t, strings.Count(examples.Ferry, "\n"), strings.Count(plan, "\n"))
	layout, err := os.ReadFile(easel.LayoutBeside(p.path))
	require.NoError(t, err)
	assert.Equal(t, 3, strings.Count(string(layout), "locked: true}"))

	// Somebody edits the file: the page shows it by itself.
	require.NoError(t, os.WriteFile(p.path, []byte(strings.Replace(plan, "count: 430", "count: 421", 1)), 0o644))
	p.noticed()
	p.eventually("421 pieces", func(st state) bool { return st.PieceCount == 421 })
	p.until(`document.getElementById('figures').textContent.includes('421')`)
	// And makes a mistake: its line, and the last good picture.
	require.NoError(t, os.WriteFile(p.path, []byte(strings.Replace(plan, "count: 430", "count: many", 1)), 0o644))
	p.noticed()
	p.until(`!document.getElementById('faults').hidden && document.getElementById('faults').textContent.includes('many')`)
	assert.True(t, js[bool](p, pictureThere))
	assert.Equal(t, 421, p.state().PieceCount)
	assert.NotEqual(t, saved.Revision, 0)
	p.clean()
}

func at(st state, id int) pieceHung {
	for _, p := range st.Pieces {
		if p.ID == id {
			return p
		}
	}
	return pieceHung{}
}

// At the width of a telephone nothing lies beside the screen, on either page, and targets can be hit.
func TestOnATelephone(t *testing.T) {
	for _, path := range []string{"/", "/install"} {
		t.Run(path, func(t *testing.T) {
			p := open(t, examples.Ferry, path)
			p.run(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile), chromedp.Reload())
			p.until(`document.readyState === 'complete' && document.body.innerText.length > 200`)
			p.until(`document.documentElement.scrollWidth <= 390`)
			small := js[[]string](p, `[...document.querySelectorAll('button, select, input[type=text]')].filter(b => b.checkVisibility() && !b.closest('[aria-hidden=true]') && !b.classList.contains('skip'))
				.filter(b => { const r = b.getBoundingClientRect(); return r.height > 0 && r.height < 24 }).map(b => b.id || b.textContent || b.className)`)
			assert.Empty(t, small, "WCAG 2.2, 2.5.8: targets of 24 by 24 pixels at least")
			p.clean()
		})
	}
}

// Words of a plan stay words, and nothing of them runs.
func TestAStrangersPlanRunsNothing(t *testing.T) {
	for path, words := range map[string]string{"/": "<script>", "/install": "</style>"} {
		p := open(t, small, path)
		p.until(fmt.Sprintf(`document.body.textContent.includes(%q)`, words))
		assert.NotEqual(t, "taken", js[string](p, `document.title`))
		assert.Zero(t, js[int](p, `document.querySelectorAll('img[src="x"], body script:not([src])').length`))
		p.clean()
	}
}

// Everything can be reached by the keyboard alone: a piece is picked, moved and turned, and put back.
func TestByTheKeyboardAlone(t *testing.T) {
	p := open(t, small, "/")
	p.until(pictureThere)
	p.face("One")
	on := func(what string) { p.until(`document.activeElement && document.activeElement.matches('` + what + `')`) }
	reached := false
	for range 60 {
		p.run(chromedp.KeyEvent(kb.Tab))
		if reached = js[bool](p, `document.activeElement.matches('path[data-id]')`); reached {
			break
		}
	}
	require.True(t, reached, "a piece")
	on("path[data-id]")
	id := js[int](p, `Number(document.activeElement.dataset.id)`)
	was := at(p.state(), id)
	p.run(chromedp.KeyEvent(kb.Enter), chromedp.KeyEvent("]"))
	p.eventually("turned by one degree", func(st state) bool {
		return int(at(st, id).Heading*100+0.5) == (int(was.Heading*100+0.5)+100)%36000
	})
	p.run(chromedp.KeyEvent(kb.ArrowRight))
	p.eventually("moved to the right", func(st state) bool { return at(st, id).At[0] > was.At[0] })
	p.run(chromedp.KeyEvent(kb.Delete))
	p.eventually("taken away", func(st state) bool { return at(st, id).ID == 0 })
	for range 3 {
		p.run(chromedp.KeyEvent("z", chromedp.KeyModifiers(kb.ModifierCtrl)))
	}
	p.eventually("all as it was", func(st state) bool { return at(st, id) == was && !st.Undo })
	p.run(chromedp.KeyEvent("?"))
	p.until(`document.getElementById('keys').open`)
	p.run(chromedp.KeyEvent(kb.Escape))
	p.until(`!document.getElementById('keys').open`)
	p.clean()
}

// What has gone up is still up when the page is loaded again.
func TestInstallingInABrowser(t *testing.T) {
	p := open(t, small, "/install")
	p.until(`document.querySelectorAll('input[type=checkbox]').length > 0`)
	p.does(`document.querySelector('input[type=checkbox]').click()`)
	hanging := func() int { return decoded[standsState](t, p.get("/api/stands").body).Hanging }
	eventually(t, "one hangs", func() bool { return hanging() == 1 })
	p.run(chromedp.Reload())
	p.until(`document.querySelectorAll('input[type=checkbox]:checked').length === 1`)
	assert.True(t, js[bool](p, `document.getElementById('correct').hidden`), "there is no time to correct yet")
	p.does(`document.getElementById('begin').click()`)
	p.until(`!document.getElementById('end').hidden`)
	p.does(`document.getElementById('end').click()`)
	p.until(`!document.getElementById('correct').hidden`)
	p.does(`document.getElementById('took').value = '42'`)
	p.does(`document.querySelector('#correct button').click()`)
	p.until(`document.getElementById('minutes').textContent.includes('42 min')`)
	p.clean()
}

// The page that is sent to the client opens by itself, without the program and without a network, shows
// all of its pictures, fits a telephone, and prints on pages.
func TestTheClientsPageInABrowser(t *testing.T) {
	p := open(t, examples.Ferry, "/")
	file := filepath.Join(t.TempDir(), "client.html")
	require.NoError(t, os.WriteFile(file, []byte(p.get("/export/client.html").body), 0o600))
	p.run(chromedp.Navigate("file://" + file))
	p.until(`document.readyState === 'complete'`)
	assert.Contains(t, js[string](p, `document.title`), "Herring at the ferry terminal")
	assert.Zero(t, js[int](p, `[...document.images].filter(i => !i.complete || i.naturalWidth === 0).length`))
	assert.Positive(t, js[int](p, `document.querySelectorAll('svg').length + document.images.length`))
	assert.Zero(t, js[int](p, `performance.getEntriesByType('resource').filter(e => !e.name.startsWith('data:')).length`), "it fetches nothing")
	printed, err := chromedp.Run(p.ctx, chromedp.PrintToPDF())
	require.NoError(t, err)
	assert.Greater(t, bytes.Count(printed, []byte("/Type /Page\n"))+bytes.Count(printed, []byte("/Type /Page ")), 3)
	p.run(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile))
	p.until(`document.documentElement.scrollWidth <= 390`)
	p.clean()
}

var update = flag.Bool("update", false, "take the README's picture of the page anew")

// TestTheReadmesScreenshot takes the picture of the page that the README shows, where -update asks for it.
// What letters look like is each machine's own, so nothing is compared.
func TestTheReadmesScreenshot(t *testing.T) {
	if !*update {
		t.Skip("-update takes it")
	}
	p := open(t, examples.Ferry, "/")
	p.run(chromedp.EmulateViewport(1280, 800))
	p.face("Long wall")
	p.does(`[...document.querySelectorAll('#layers label')].find(l => /flow/.test(l.textContent)).click()`)
	p.until(`document.getElementById('figures').textContent.includes('776')`)
	p.until(`[...document.querySelectorAll('#board img')].filter(i => i.complete && i.naturalWidth > 0).length > 1`)
	require.NoError(t, chromedp.Do(p.ctx, chromedp.Sleep(time.Second)))
	p.shoot("../../../examples/view.png")
}
