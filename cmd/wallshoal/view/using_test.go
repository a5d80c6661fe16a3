package view

import (
	"fmt"
	"math"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/examples"
)

// pin returns where the middle of the handle of a place is on the screen.
func (p *tab) pin(name string) (x, y float64) {
	p.t.Helper()
	at := js[[]float64](p, fmt.Sprintf(`(() => { const r = [...document.querySelectorAll('.pin')].find(b => b.textContent === %q).getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2] })()`, name))
	return at[0], at[1]
}

// Handles of one spot are apart, each moves its own place and none leaves its face.
func TestHandlesOfOneSpot(t *testing.T) {
	rarely(t)
	p := open(t, examples.Ferry, "/")
	p.until(pictureThere)
	p.face("Ticket wall")
	p.until(`document.querySelectorAll('.pin').length === 2`)
	p.until(`document.getElementById('figures').textContent.includes('cautions')`)
	p.settled()
	place := func(st state, label string) spot {
		for _, k := range st.Knobs {
			if k.Label == label && len(k.Places) > 0 {
				return k.Places[0]
			}
		}
		return spot{}
	}
	before := p.state()
	require.Equal(t, place(before, "gathering"), place(before, "current 1: towards"), "of one spot")
	_, y := p.pin("gathering")
	_, other := p.pin("current 1: towards")
	assert.Greater(t, max(y-other, other-y), 24.0, "WCAG 2.2, 2.5.8: targets of 24 pixels")
	// Where the hand lets go of it, there it stays, and there its place is: on another spot too.
	leave := func(dx, dy float64) {
		x, y := p.pin("gathering")
		p.drag(x, y, dx, dy)
		want, beside := p.onWall(x+dx, y+dy).At, p.onWall(x+dx+2, y+dy).At
		st := p.eventually("the place where it was left", func(st state) bool {
			at := place(st, "gathering").At
			return math.Hypot(at[0]-want[0], at[1]-want[1]) < beside[0]-want[0]
		})
		p.until(fmt.Sprintf(`(() => { const r = [...document.querySelectorAll('.pin')].find(b => b.textContent === 'gathering').getBoundingClientRect();
			return Math.hypot(r.x + r.width / 2 - %g, r.y + r.height / 2 - %g) < 2 })()`, x+dx, y+dy))
		assert.Equal(t, place(before, "current 1: towards"), place(st, "current 1: towards"))
	}
	leave(-150, -60)
	ox, oy := p.pin("current 1: towards")
	assert.InDelta(t, place(before, "current 1: towards").At[0], p.onWall(ox, oy).At[0], 20, "alone, it lies on its spot")
	x, y := p.pin("gathering")
	leave(ox-x+4, oy-y)
	x, y = p.pin("gathering")
	ox, oy = p.pin("current 1: towards")
	assert.Greater(t, math.Hypot(x-ox, y-oy), 24.0, "and the other one makes room")
	p.drag(x, y, 900, 0)
	p.eventually("the place at the end of the wall", func(st state) bool { return place(st, "gathering").At[0] > 4100 })
	p.clean()
}

// onWall returns the place of the face that is shown under a place of the screen.
func (p *tab) onWall(x, y float64) spot {
	p.t.Helper()
	at := js[[]float64](p, fmt.Sprintf(`(() => { const svg = document.querySelector('svg.outlines'), r = svg.getBoundingClientRect(), v = svg.viewBox.baseVal;
		return [(%g - r.x) / r.width * v.width, v.height - (%g - r.y) / r.height * v.height] })()`, x, y))
	title := js[string](p, `document.querySelector('#faces [aria-pressed=true]').textContent`)
	for _, f := range p.state().Faces {
		if f.Title == title {
			return spot{f.Index, point{at[0] + f.Frame[0], at[1] + f.Frame[1]}}
		}
	}
	p.t.Fatal("no face is shown")
	return spot{}
}

// What was refused is forgotten once the plan is another, and the control shows what is.
func TestAFaultGoesWithItsCause(t *testing.T) {
	p := open(t, small, "/")
	p.until(pictureThere)
	label := js[string](p, `[...document.querySelectorAll('.knob.whole label')].map(l => l.textContent).find(l => l === 'pieces')`)
	field := p.knob(label)
	was := js[string](p, fmt.Sprintf(`document.querySelector(%q).value`, field))
	p.write("seed", "5")
	p.until(`!document.getElementById('undo').disabled`)
	p.write(label, "99999")
	p.until(`document.querySelectorAll('.knob .fault:not([hidden])').length === 1`)
	p.does(`document.getElementById('undo').click()`)
	p.until(`document.querySelectorAll('.knob .fault:not([hidden]), .knob [aria-invalid=true]').length === 0`)
	assert.Equal(t, was, js[string](p, fmt.Sprintf(`document.querySelector(%q).value`, field)))
	p.clean()
}

// A click beside a thin piece picks it, a key shows where it will add one, and a reload shows the same face.
func TestPickingAndAdding(t *testing.T) {
	p := open(t, small, "/")
	p.until(pictureThere)
	p.face("One")
	box := js[[]float64](p, `(() => { const e = document.querySelector('path[data-id]'), r = e.getBoundingClientRect(); return [Number(e.dataset.id), r.x + r.width / 2, r.y] })()`)
	p.run(chromedp.MouseClickXY(box[1], box[2]-4))
	p.until(fmt.Sprintf(`document.querySelector('path[data-id="%d"]').getAttribute('aria-pressed') === 'true'`, int(box[0])))
	p.run(chromedp.KeyEvent(kb.Escape), chromedp.KeyEvent("a"))
	p.until(`document.querySelectorAll('.ghost path').length === 1`)
	p.run(chromedp.KeyEvent(kb.Escape), chromedp.Reload())
	p.until(`document.querySelector('#faces [aria-pressed=true]')?.textContent.includes('One')`)
	p.clean()
}

// On a telephone the note of a tick lies over nothing that can be tapped, and the last tick can be undone after a reload.
func TestTickingOnATelephone(t *testing.T) {
	p := open(t, small, "/install")
	p.run(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile), chromedp.Reload())
	p.until(`document.querySelectorAll('input[type=checkbox]').length > 0`)
	p.does(`document.getElementById('up').click()`)
	p.until(`document.getElementById('say').textContent.includes('is up')`)
	assert.Empty(t, js[[]string](p, `(() => { const n = document.getElementById('say').getBoundingClientRect();
		return [...document.querySelectorAll('button, a, select, input')].filter(b => { const r = b.getBoundingClientRect();
			return r.width > 0 && r.left < n.right && n.left < r.right && r.top < n.bottom && n.top < r.bottom }).map(b => b.id || b.textContent) })()`))
	hanging := func() int { return decoded[standsState](t, p.get("/api/stands").body).Hanging }
	eventually(t, "one hangs", func() bool { return hanging() == 1 })
	p.run(chromedp.Reload())
	p.until(`!document.getElementById('undo').disabled`)
	p.does(`document.getElementById('undo').click()`)
	eventually(t, "none hangs", func() bool { return hanging() == 0 })
	p.clean()
}

// A turn by key is in what is saved right after it, and stays when the piece is let go at once.
func TestWhatIsBeingTurnedIsSaved(t *testing.T) {
	p := open(t, small, "/")
	p.face("Two")
	id := js[int](p, `Number(document.querySelector('path[data-id]').dataset.id)`)
	x, y := p.middle(id)
	was := at(p.state(), id).Heading
	p.run(chromedp.MouseClickXY(x, y), chromedp.KeyEvent("]"), chromedp.KeyEvent("s", chromedp.KeyModifiers(kb.ModifierCtrl)))
	st := p.eventually("turned and saved", func(st state) bool { return st.Saved && at(st, id).Heading != was })
	assert.InDelta(t, math.Mod(was+1, 360), at(st, id).Heading, 0.02)
	p.run(chromedp.KeyEvent("]"), chromedp.KeyEvent(kb.Escape))
	p.eventually("turned again", func(st state) bool { return math.Abs(at(st, id).Heading-math.Mod(was+2, 360)) < 0.02 })
	p.clean()
}
