package view

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/examples"
)

// tick ticks the next piece of the page, once the last tap counts no more.
func (p *tab) tick() {
	p.t.Helper()
	was := js[int](p, `parseInt(document.getElementById('done').textContent, 10)`)
	p.until(fmt.Sprintf(`parseInt(document.getElementById('done').textContent, 10) !== %d || (document.getElementById('up').click(), false)`, was))
}

// stored is everything that the browser keeps for the address: caches with their addresses, and storage.
func (p *tab) stored() string {
	p.t.Helper()
	p.does(`window.found = null; (async () => {
		const all = [JSON.stringify({ ...localStorage }), JSON.stringify({ ...sessionStorage }), document.cookie];
		for (const name of await caches.keys()) {
			const cache = await caches.open(name);
			for (const request of await cache.keys()) {
				const answer = await cache.match(request);
				all.push(request.url, JSON.stringify([...answer.headers]), await answer.text());
			}
		}
		window.found = all.join('\n');
	})()`)
	p.until(`window.found`)
	return js[string](p, `window.found`)
}

// The program goes away: the page is loaded again all the same, leads from stand to stand with the measurements, and keeps
// ticks. The next run has another key and another token: ticks wait until the browser is let in, and then none is lost.
func TestThePageOutlivesTheProgram(t *testing.T) {
	rarely(t)
	g := newProgram(t, small, "127.0.0.1")
	g.begin("FIRSTKEY")
	p := phone(t, 390, 844)
	p.run(chromedp.Navigate("http://" + g.host + "/install?key=FIRSTKEY"))
	p.until(`['yes', 'no'].includes(document.body.dataset.kept)`)
	require.Equal(t, "yes", js[string](p, `document.body.dataset.kept`), p.errors)
	p.until(`document.getElementById('done').textContent.startsWith('0 of')`)
	assert.True(t, js[bool](p, `document.getElementById('keep').hidden`))
	p.tick()
	eventually(t, "one hangs", func() bool { return g.hanging() == 1 })

	// Whatever listens here one day reads neither the key nor the token out of what was kept.
	kept := p.stored()
	assert.Contains(t, kept, "/page/install.js")
	assert.Contains(t, kept, "default-src 'none'", "as strict as it came")
	assert.Contains(t, kept, `name="write-token" content=""`)
	assert.NotContains(t, kept, g.server.guard.token)
	assert.NotContains(t, kept, "FIRSTKEY")
	assert.NotContains(t, kept, "?key")

	g.end()
	p.tick()
	p.until(`!document.getElementById('lost').hidden`)
	p.run(chromedp.Reload())
	p.until(`document.getElementById('done').textContent.includes('2 of') && document.getElementById('done').textContent.includes('1 still to send')`)
	p.see("install-away")
	stands := js[int](p, `document.getElementById('stands').options.length`)
	assert.Greater(t, stands, 1)
	for range stands - 1 {
		p.does(`document.getElementById('after').click()`)
		assert.Positive(t, js[int](p, `document.querySelectorAll('.hole dd').length`), "measurements without the program")
	}
	p.tick()
	p.run(chromedp.Reload())
	p.until(`document.getElementById('done').textContent.includes('3 of') && document.getElementById('done').textContent.includes('2 still to send')`)

	// Another run, which this browser is not let into yet.
	g.begin("SECONDKEY")
	p.does(`document.getElementById('retry').click()`)
	p.until(`document.getElementById('lost-why').textContent.includes('new address')`)
	p.run(chromedp.Reload())
	p.until(`document.getElementById('done').textContent.includes('2 still to send')`)
	assert.Equal(t, 1, g.hanging())
	p.run(chromedp.Navigate("http://" + g.host + "/install?key=SECONDKEY"))
	eventually(t, "three hang", func() bool { return g.hanging() == 3 })
	p.until(`!document.getElementById('done').textContent.includes('still to send')`)

	// One more with the key of before and a token of its own: the page that is open asks for it by itself.
	old := g.server.guard.token
	g.end()
	p.tick()
	g.begin("SECONDKEY")
	require.NotEqual(t, old, g.server.guard.token)
	p.does(`document.getElementById('retry').click()`)
	eventually(t, "four hang", func() bool { return g.hanging() == 4 })
	p.until(`document.getElementById('lost').hidden`)
	for _, secret := range []string{"SECONDKEY", old, g.server.guard.token} {
		assert.NotContains(t, p.stored(), secret)
	}
}

// Where the address cannot be trusted nothing of the page can be kept: it says so before that matters, and as long as it is
// open all stands can be walked and ticked.
func TestWhereNothingCanBeKept(t *testing.T) {
	rarely(t)
	g := newProgram(t, examples.Ferry, elsewhere)
	g.begin("KEY")
	p := phone(t, 360, 640)
	p.run(chromedp.Navigate("http://" + g.host + "/install?key=KEY"))
	p.until(`document.body.dataset.kept === 'no' && !document.getElementById('keep').hidden`)
	assert.False(t, js[bool](p, `isSecureContext`))
	p.until(`document.querySelectorAll('#pieces input').length > 0`)
	p.see("install-keep-open")
	p.does(`document.getElementById('keep-read').click()`)
	p.until(`document.getElementById('keep').hidden`)

	g.end()
	stands := js[int](p, `document.getElementById('stands').options.length`)
	for i := range stands {
		if i%12 == 0 {
			p.tick()
		}
		assert.Positive(t, js[int](p, `document.querySelectorAll('#pieces input').length`))
		p.does(`document.getElementById('after').click()`)
	}
	ticked := (stands + 11) / 12
	p.until(fmt.Sprintf(`document.getElementById('done').textContent.includes('%d still to send')`, ticked))
	p.until(`!document.getElementById('lost').hidden && document.getElementById('lost').innerText.includes('Do not close this page')`)
	p.see("install-lost")
	g.begin("KEY")
	p.does(`document.getElementById('retry').click()`)
	eventually(t, "all ticked hang", func() bool { return g.hanging() == ticked })
}

// Two tabs share what waits, and a tick of another layout waits for that.
func TestTicksOfAnotherLayoutWait(t *testing.T) {
	p := open(t, small, "/install")
	p.until(`document.querySelectorAll('#pieces input').length > 0`)
	p.does(`localStorage.setItem('wallshoal outbox', JSON.stringify([{ id: 'a', at: Date.now(), fingerprint: 'OTHER', deed: { do: 'up', pieces: [7] } }]))`)
	p.run(chromedp.Reload())
	p.until(`document.getElementById('other').innerText.includes('pieces 7') && !document.getElementById('forget').hidden`)
	hanging := func() int { return decoded[standsState](t, p.get("/api/stands").body).Hanging }
	p.tick()
	eventually(t, "one hangs", func() bool { return hanging() == 1 })
	assert.Contains(t, js[string](p, `localStorage.getItem('wallshoal outbox')`), "OTHER", "still there")
	p.does(`document.getElementById('forget').click()`)
	p.until(`document.getElementById('other').hidden && localStorage.getItem('wallshoal outbox') === '[]'`)
	p.clean()
}

// A second tap within the bounce of a glove ticks nothing that nobody has seen.
func TestABounceTicksOnce(t *testing.T) {
	p := open(t, small, "/install")
	p.until(`document.querySelectorAll('#pieces input').length > 1`)
	p.does(`document.getElementById('up').click(); document.getElementById('up').click()`)
	p.until(`document.querySelectorAll('#pieces input:checked').length === 1`)
	p.tick()
	p.until(`document.querySelectorAll('#pieces input:checked').length === 2`)
	p.clean()
}

// The page that a browser keeps has no token, and what keeps it answers for that page alone. Both are for whoever was let in.
func TestWhatIsKept(t *testing.T) {
	v := served(t, small)
	r := v.get("/install/kept")
	require.Equal(t, http.StatusOK, r.status)
	assert.NotContains(t, r.body, v.server.guard.token)
	assert.NotContains(t, r.body, tokenMark)
	assert.Contains(t, r.body, `name="write-token" content=""`)
	assert.Contains(t, r.header.Get("Content-Security-Policy"), "worker-src 'self';")
	r = v.get("/page/worker.js")
	require.Equal(t, http.StatusOK, r.status)
	assert.Equal(t, "/install", r.header.Get("Service-Worker-Allowed"))
	assert.Contains(t, r.header.Get("Content-Type"), "javascript")
	v.cookie = nil
	for _, path := range []string{"/install/kept", "/page/worker.js", "/install/kept?key=KEY"} {
		assert.Equal(t, http.StatusUnauthorized, v.get(path).status, path)
	}
}

// The worker keeps exactly what the page is made of.
func TestTheWorkerKeepsAllOfThePage(t *testing.T) {
	needed := []string{"/page/icon.svg", "/page/base.css", "/page/install.css"}
	for begin := []string{"install.js"}; len(begin) > 0; begin = begin[1:] {
		if slices.Contains(needed, "/page/"+begin[0]) {
			continue
		}
		needed = append(needed, "/page/"+begin[0])
		for _, m := range imported.FindAllSubmatch(pageFile(t, begin[0]), -1) {
			begin = append(begin, strings.TrimPrefix(string(m[1])+string(m[2]), "./"))
		}
	}
	_, list, _ := strings.Cut(string(pageFile(t, "worker.js")), "const FILES = [")
	list, _, _ = strings.Cut(list, "]")
	var kept []string
	for _, quoted := range strings.Split(list, ",") {
		if name := strings.Trim(strings.TrimSpace(quoted), "'"); name != "" {
			kept = append(kept, name)
		}
	}
	assert.ElementsMatch(t, needed, kept)
}
