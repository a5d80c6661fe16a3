package view

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/examples"
)

// A program is one that can be ended and started anew at the same address, as on a machine that is carried about.
type program struct {
	t      *testing.T
	path   string // of the plan
	host   string // as browsers call it
	listen string
	server *server
	web    *http.Server
	easel  *easel.Easel
}

// program returns a program at an address whose host is called name.
func newProgram(t *testing.T, text, name string) *program {
	t.Helper()
	free, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	_, port, err := net.SplitHostPort(free.Addr().String())
	require.NoError(t, err)
	require.NoError(t, free.Close())
	g := &program{t: t, path: written(t, text), host: net.JoinHostPort(name, port), listen: net.JoinHostPort("127.0.0.1", port)}
	t.Cleanup(g.end)
	return g
}

// begin starts a run with a key.
func (g *program) begin(key string) {
	g.t.Helper()
	e, err := easel.Open(g.t.Context(), g.path, "")
	require.NoError(g.t, err)
	var config net.ListenConfig
	at, err := config.Listen(g.t.Context(), "tcp", g.listen)
	require.NoError(g.t, err)
	ctx, stop := context.WithCancel(context.Background())
	g.easel, g.server = e, newServer(ctx, e, Options{Key: key, Now: time.Now}, g.host)
	g.web = &http.Server{Handler: g.server.handler(), ReadHeaderTimeout: time.Minute}
	g.web.RegisterOnShutdown(stop)
	go func(web *http.Server) { _ = web.Serve(at) }(g.web)
}

// end ends the run that is, if any.
func (g *program) end() {
	if g.web == nil {
		return
	}
	_ = g.web.Close()
	_ = g.server.closeProgress()
	_ = g.easel.Close()
	g.web = nil
}

func (g *program) hanging() int {
	g.t.Helper()
	log, err := g.server.installing(g.t.Context())
	require.NoError(g.t, err)
	shown, _ := g.easel.Now()
	st, err := g.server.standing(shown, log.Record())
	require.NoError(g.t, err)
	return st.Hanging
}

// phone opens a tab of the size of a telephone.
func phone(t *testing.T, width, height int64) *tab {
	t.Helper()
	p := newTab(t, chromium(t), &visitor{t: t})
	p.run(chromedp.EmulateViewport(width, height, chromedp.EmulateMobile))
	return p
}

// elsewhere is the name of a host that the browser of the tests finds on this machine, and does not trust as it does this machine.
const elsewhere = "wall.test"

// sizes are those of telephones, upright and on their side, and of a desk at four times its size.
var sizes = [][2]int64{{390, 844}, {360, 640}, {320, 568}, {844, 390}, {640, 360}, {320, 256}}

// some returns every size under CI=true, and otherwise the first, the third and the last.
func some(sizes [][2]int64) [][2]int64 {
	if os.Getenv("CI") == "true" {
		return sizes
	}
	return [][2]int64{sizes[0], sizes[2], sizes[len(sizes)-1]}
}

// see keeps a picture of what is seen in the folder that WALLSHOAL_SEEN names, for somebody to look at.
func (p *tab) see(name string) {
	if dir := os.Getenv("WALLSHOAL_SEEN"); dir != "" {
		p.shoot(filepath.Join(dir, name+".png"))
	}
}

// At every stand, wherever one has scrolled to, the tick and its undoing lie under the thumb, large and covered by
// nothing (WCAG 2.2, 2.5.5: 44 by 44 pixels), and with the page at its top the first measurement is seen.
func TestTheTickIsUnderTheThumb(t *testing.T) {
	p := open(t, examples.Ferry, "/install")
	for _, size := range some(sizes) {
		p.run(chromedp.EmulateViewport(size[0], size[1], chromedp.EmulateMobile), chromedp.Reload())
		p.until(`document.querySelectorAll('#pieces input').length > 0`)
		p.see(fmt.Sprintf("install-%dx%d", size[0], size[1]))
		wrong := js[[]string](p, `(() => {
			const wrong = [], stands = document.getElementById('stands');
			for (const option of [...stands.options].map((o) => o.value)) {
				stands.value = option;
				stands.dispatchEvent(new Event('change'));
				for (const top of [0, 250, document.documentElement.scrollHeight]) {
					scrollTo(0, top);
					for (const id of ['up', 'undo']) {
						const b = document.getElementById(id), r = b.getBoundingClientRect();
						const there = r.width >= 44 && r.height >= 44 && r.left >= 0 && r.top >= 0 && r.right <= innerWidth && r.bottom <= innerHeight;
						if (!there || document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2).closest('button') !== b) wrong.push(id + ' at stand ' + option + ', scrolled to ' + top);
					}
				}
				scrollTo(0, 0);
				const dd = document.querySelector('.hole dd').getBoundingClientRect();
				if (innerHeight > 300 && !document.querySelector('.warned.stop') && dd.bottom > innerHeight) wrong.push('measurement of stand ' + option);
			}
			return wrong })()`)
		assert.Empty(t, wrong, size)
		assert.LessOrEqual(t, js[int64](p, `document.documentElement.scrollWidth`), size[0])
		small := js[[]string](p, `[...document.querySelectorAll('button, a, select, input:not([type=checkbox]), summary, label:has(input[type=checkbox])')].filter((b) => b.checkVisibility())
			.filter((b) => { const r = b.getBoundingClientRect(); return r.width < 44 || r.height < 44 }).map((b) => b.id || b.textContent)`)
		assert.Empty(t, small, "%v: WCAG 2.2, 2.5.5: targets of 44 by 44 pixels", size)
	}
	p.clean()
}
