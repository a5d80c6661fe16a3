package view

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// warnedOfMuch is a plan whose pieces are warned of for much in the zone at the left end of its first wall.
var warnedOfMuch = strings.NewReplacer("stand-off: 5", "stand-off: 25\n    edges: sharp", "bit: 5, depth: 30", "bit: 8, depth: 60").Replace(small)

// begun shows the wall One after a piece has been placed there.
func (p *tab) begun(change string) {
	p.t.Helper()
	p.run(chromedp.Navigate("about:blank")) // it hears of nothing meanwhile
	p.stateAfter("/api/pieces", `{"changes":[`+change+`]}`)
	p.run(chromedp.Navigate(p.url + "/"))
	p.face("One")
	p.until(`document.querySelector('.locks g')`)
	p.until(`document.getElementById('figures').textContent.includes('cautions')`)
	p.settled()
}

// hold presses the mouse and drags it without letting go.
func (p *tab) hold(x, y, dx, dy float64) {
	p.t.Helper()
	p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x, y), chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, x, y, chromedp.Button("left"), chromedp.ClickCount(1)))
	p.pull(x+dx/2, y+dy/2)
	p.pull(x+dx, y+dy)
}

func (p *tab) pull(x, y float64) {
	p.t.Helper()
	p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x, y, chromedp.Button("left")))
}

func (p *tab) release(x, y float64) {
	p.t.Helper()
	p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, x, y, chromedp.Button("left"), chromedp.ClickCount(1)))
}

// sight returns where a place of the face that is shown is on the screen.
func (p *tab) sight(at point) (x, y float64) {
	p.t.Helper()
	a, b := p.onWall(0, 0).At, p.onWall(100, 100).At
	return (at[0] - a[0]) / (b[0] - a[0]) * 100, (at[1] - a[1]) / (b[1] - a[1]) * 100
}

// apart fails where the words beside the ghost come to rest over it, or outside the stage. On a telephone they may lie over the
// tools above it, and are over no piece near the ghost nor under the thumb at (x, y).
func (p *tab) apart(x, y float64) {
	p.t.Helper()
	p.until(fmt.Sprintf(`(() => {
		const r = e => (e.getBoundingClientRect ? e : document.querySelector(e)).getBoundingClientRect(), w = r('.told'), g = r('.ghost > path'), s = r('#stage');
		const clear = (b, rim = 0) => w.right <= b.left - rim || b.right + rim <= w.left || w.bottom <= b.top - rim || b.bottom + rim <= w.top;
		const near = [...document.querySelectorAll('path[data-id]')].map(e => r(e)).filter(b => Math.hypot((b.left + b.right - g.left - g.right) / 2, (b.top + b.bottom - g.top - g.bottom) / 2) < 40);
		const narrow = innerWidth < 500, thumb = { left: %[1]f - 40, top: %[2]f - 20, right: %[1]f + 40, bottom: s.bottom };
		return clear(g) && w.left >= s.left && w.right <= s.right && w.top >= (narrow ? 0 : s.top) && w.bottom <= s.bottom && (!narrow || near.every(b => clear(b)) && clear(thumb)) })()`, x, y))
}

const (
	toldLines = `[...document.querySelectorAll('.told ul:not(.clash) li')].map(l => l.textContent)`
	panelList = `[...document.querySelectorAll('#picked-cautions > li:not(.rid) summary')].map(l => l.textContent)`
)

// While a piece is dragged, words beside it say which cautions it comes to, the worst first and three at most, and the
// panel says all; what is said before the drop is said after it.
func TestCautionsWhileDragging(t *testing.T) {
	for _, wide := range []int64{1280, 390} {
		t.Run(fmt.Sprint(wide), func(t *testing.T) {
			p := open(t, warnedOfMuch, "/")
			p.run(chromedp.EmulateViewport(wide, 844))
			p.begun(`{"do":"place","id":4,"face":0,"at":[1400,2150],"heading":0}`)
			x, y := p.middle(4)
			tx, ty := p.sight(point{60, 900}) // with room for the words above it on a telephone, whose figures take three lines
			p.hold(x, y, tx-x, ty-y)
			p.until(panelList + `.some(l => l.includes('near an edge'))`) // which is so at the end of the way alone
			p.until(`document.querySelectorAll('.told li.more').length === 1`)
			lines := js[[]string](p, toldLines)
			require.Len(t, lines, 4)
			for _, line := range lines[:3] {
				assert.True(t, strings.HasPrefix(line, "care "), "the worst first: %s", line)
			}
			assert.Contains(t, strings.Join(lines, "\n"), "marked in the plan: warmnew")
			all := js[[]string](p, panelList)
			assert.Equal(t, fmt.Sprintf("and %d more", len(all)-3), lines[3])
			for _, code := range []string{"cable-band", "anchor-edge", "deep-hole", "sharp-piece"} {
				assert.NotContains(t, strings.Join(append(all, lines...), "\n"), code, "words, not codes")
			}
			assert.Regexp(t, "no longer .*drilled from a ladder", js[string](p, `document.querySelector('.told .rid').textContent`))
			assert.Contains(t, js[string](p, `document.querySelector('.told .kept').textContent`), "stays locked")
			p.apart(tx, ty)
			p.look(fmt.Sprintf("told-%d", wide))
			p.until(`document.getElementById('told-aloud').textContent.includes('marked in the plan: warm, new')`)
			p.does(`window.spoken = 0; new MutationObserver(() => { window.spoken++ }).observe(document.getElementById('told-aloud'), {childList: true, characterData: true, subtree: true})`)
			for i := range 6 {
				p.pull(tx+1, ty+float64(i))
			}
			p.release(tx+1, ty+5)
			p.eventually("dropped", func(st state) bool { return at(st, 4).At[0] < 200 })
			p.until(`document.getElementById('told-aloud') && document.querySelectorAll('.ghost path').length === 0 && !document.querySelector('#picked-cautions.stale') && !document.querySelector('#picked-cautions .fresh')`)
			var old []string
			for _, line := range all {
				old = append(old, strings.TrimSuffix(line, "new"))
			}
			assert.Equal(t, old, js[[]string](p, panelList), "as before the drop, and new no more")
			p.does(`window.paused = false; setTimeout(() => { window.paused = true }, 450)`) // longer than the pause before something is read out
			p.until(`window.paused`)
			assert.Zero(t, js[int](p, `window.spoken`), "read out once and not at every pixel")
			p.does(`document.querySelector('#picked-cautions summary').click()`)
			assert.Contains(t, js[string](p, `document.querySelector('#picked-cautions details[open] p').textContent`), "not clearance")
			p.clean()
		})
	}
}

// On a telephone the words keep off what is dragged, off what hangs round it and off the thumb, wherever on the wall that is.
func TestWordsKeepOutOfTheThumbsWay(t *testing.T) {
	p := open(t, strings.Replace(warnedOfMuch, "count: 30", "count: 60", 1), "/")
	p.run(chromedp.EmulateViewport(390, 844))
	p.begun(`{"do":"place","id":4,"face":0,"at":[1400,1500],"heading":0}`)
	x, y := p.middle(4)
	p.hold(x, y, 5, 5)
	for i, to := range []point{{300, 2300}, {300, 1250}, {300, 200}, {100, 2200}, {700, 2420}, {850, 1700}} {
		tx, ty := p.sight(to)
		p.pull(tx, ty)
		p.until(`!document.querySelector('.told').hidden && document.querySelector('.told').textContent.includes('warm')`)
		p.look(fmt.Sprintf("thumb-%d", i))
		p.apart(tx, ty)
	}
	tx, ty := p.sight(point{850, 1700})
	p.run(chromedp.KeyEvent(kb.Escape))
	p.release(tx, ty)
	p.clean()
}

// Keys say the same as the mouse, and so does the turn of a piece.
func TestCautionsByKeys(t *testing.T) {
	rarely(t)
	p := open(t, warnedOfMuch, "/")
	p.begun(`{"do":"place","id":4,"face":0,"at":[903,1700],"heading":0}`)
	x, y := p.middle(4)
	p.run(chromedp.MouseClickXY(x, y))
	p.until(`document.querySelectorAll('#picked-cautions li').length > 0`)
	// The ghost stands for as long as keys come, and what was beside it is kept here.
	p.does(`window.seen = ''; const told = document.querySelector('.told'); new MutationObserver(() => { if (!told.hidden) window.seen += told.textContent }).observe(told, {childList: true, attributes: true, subtree: true})`)
	p.run(chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowLeft))
	p.until(`window.seen.includes('marked in the plan: warmnew')`)
	p.eventually("moved", func(st state) bool { return at(st, 4).At[0] == 899 })
	p.until(`document.querySelectorAll('.ghost path').length === 0 && [...document.querySelectorAll('#picked-cautions summary')].some(s => s.textContent.includes('warm') && !s.textContent.includes('new'))`)
	p.does(`window.seen = ''`)
	p.run(chromedp.KeyEvent("]"))
	p.until(`window.seen.includes('marked in the plan: warm') && !window.seen.includes('warmnew')`)
	p.clean()
}

// A lock holds a piece from the flow and never from the hand, and every way of changing it says so.
func TestWhatALockHolds(t *testing.T) {
	rarely(t)
	p := open(t, small, "/")
	p.begun(`{"do":"place","id":4,"face":0,"at":[1400,1500],"heading":0}`)
	x, y := p.middle(4)
	p.hold(x, y, 20, 0)
	p.until(`document.querySelector('.told .kept')?.textContent.includes('stays locked where you put it') && document.querySelector('.ghost .locks')`)
	p.apart(x+20, y)
	p.release(x+20, y)
	p.eventually("moved, and locked still", func(st state) bool { return at(st, 4).At[0] > 1400 && at(st, 4).Locked })
	p.until(`document.querySelectorAll('.ghost path').length === 0 && document.getElementById('picked-lock').textContent.startsWith('Locked')`)
	p.run(chromedp.KeyEvent("l"))
	p.eventually("unlocked", func(st state) bool { return !at(st, 4).Locked })
	p.until(`document.getElementById('picked-lock').textContent.includes('is locked by that')`)
	p.run(chromedp.KeyEvent("l"))
	p.eventually("locked", func(st state) bool { return at(st, 4).Locked })
	p.until(`document.getElementById('picked-lock').textContent.startsWith('Locked')`)
	p.run(chromedp.KeyEvent(kb.Delete))
	p.until(`document.getElementById('say').textContent.includes('Piece 4 was locked, and is taken away')`)
	p.run(chromedp.KeyEvent("z", chromedp.KeyModifiers(kb.ModifierCtrl)))
	p.eventually("back, and locked", func(st state) bool { return at(st, 4).Locked })
	p.run(chromedp.KeyEvent("?"))
	p.until(`document.getElementById('keys-list').textContent.includes('a hand can still move it')`)
	p.clean()
}
