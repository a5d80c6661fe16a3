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

	"wallshoal/examples"
)

// What is wrong is said of the piece in the hand, with the numbers of the others, though these were hung later: beside
// it, in the panel, aloud, and once it is dropped. Three troubles are told beside it, and how many more there are.
func TestTroubleIsSaidOfThePieceInTheHand(t *testing.T) {
	rarely(t)
	p := open(t, small, "/")
	change := `{"do":"place","id":4,"face":0,"at":[1500,1900],"heading":0}`
	for i, at := range [][2]int{{690, 1200}, {600, 1290}, {510, 1200}, {600, 1110}} {
		change += fmt.Sprintf(`,{"do":"place","id":%d,"face":0,"at":[%d,%d],"heading":0}`, 20+i, at[0], at[1])
	}
	p.begun(change)
	x, y := p.middle(4)
	tx, ty := p.sight(point{600, 1200})
	p.hold(x, y, tx-x, ty-y)
	p.until(`document.querySelector('.told .clash .worse')`)
	const trouble = `^(⚠ )?has its centre \d+ mm from that of piece \d+, and the spacing is to be 120 mm`
	lines := js[[]string](p, `[...document.querySelectorAll('.told .clash li')].map(l => l.textContent)`)
	require.Len(t, lines, 4)
	for _, line := range lines[:3] {
		assert.Regexp(t, trouble, line)
	}
	assert.Regexp(t, `^and [1-9] more$`, lines[3])
	p.apart(tx, ty)
	p.until(`document.getElementById('told-aloud').textContent.includes('has its centre')`)
	assert.Regexp(t, trouble, js[string](p, `document.getElementById('told-aloud').textContent`))
	const panel = `[...document.querySelectorAll('#picked-flaws li')].map(l => l.textContent)`
	for _, line := range js[[]string](p, panel) {
		assert.Regexp(t, trouble, line)
	}
	p.release(tx, ty)
	p.eventually("dropped", func(st state) bool { return at(st, 4).At[0] < 700 })
	p.until(`document.querySelectorAll('.ghost path').length === 0 && document.querySelectorAll('#picked-flaws li').length >= 4`)
	for _, line := range js[[]string](p, panel) {
		assert.Regexp(t, trouble, line)
	}
	for _, id := range []int{4, 20, 21, 22, 23} {
		assert.NotRegexp(t, fmt.Sprintf(`that of piece %d,`, id), js[string](p, fmt.Sprintf(`document.querySelector('path[data-id="%d"]').getAttribute('aria-label')`, id)))
	}
	p.clean()
}

// namesSeen are the names of places that are seen, and namesOver those of them that lie over a word of the picture, as the
// browser sets it, over another name, or over a handle.
const (
	namesSeen = `[...document.querySelectorAll('.pin .name')].filter(n => getComputedStyle(n).visibility === 'visible').map(n => n.textContent)`
	namesOver = `(async () => {
		const img = document.querySelector('#board img'), at = img.getBoundingClientRect(), box = document.createElement('div');
		box.innerHTML = (await (await fetch(img.src)).text()).replace(/<style>.*?<.style>/g, '');
		const svg = box.querySelector('svg');
		for (const [name, v] of Object.entries({ width: at.width, height: at.height })) svg.setAttribute(name, v);
		Object.assign(box.style, { position: 'fixed', left: at.x + 'px', top: at.y + 'px' });
		document.body.append(box);
		const names = [...document.querySelectorAll('.pin .name')].filter(n => getComputedStyle(n).visibility === 'visible');
		const others = [...svg.querySelectorAll('text'), ...names, ...document.querySelectorAll('.pin .dot')].map(el => [el, el.getBoundingClientRect()]);
		const over = names.flatMap(n => { const r = n.getBoundingClientRect(); return others.filter(([el, o]) => el !== n && r.left < o.right && o.left < r.right && r.top < o.bottom && o.top < r.bottom).map(([el]) => n.textContent + ' over ' + el.textContent) });
		box.remove();
		window.over = over;
	})()`
)

// The names of places are seen where they lie over no word, no other name and no handle; where there is no room they come
// when they are asked for, and they keep to the stage.
func TestNamesOfPlacesAreSeenWhereThereIsRoom(t *testing.T) {
	rarely(t)
	p := open(t, examples.Ferry, "/")
	p.face("Ticket wall")
	p.until(`document.querySelectorAll('.pin').length === 2`)
	over := func() []string {
		p.does(`window.over = null`)
		p.does(namesOver)
		p.until(`window.over`)
		return js[[]string](p, `window.over`)
	}
	p.until(namesSeen + `.length === 2`)
	assert.Empty(t, over())
	p.see("names")
	for range 9 {
		p.run(chromedp.KeyEvent("+"))
	}
	p.until(namesSeen + `.length === 0`) // the name of the window is all round them
	p.see("names-near")
	x, y := p.pin("gathering")
	p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x, y))
	p.until(namesSeen + `.join() === 'gathering'`)
	p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, 5, 5))
	p.until(namesSeen + `.length === 0`)
	p.does(`document.querySelector('.pin').focus()`)
	p.run(chromedp.KeyEvent(kb.Tab))
	p.until(namesSeen + `.length === 1`)
	p.run(chromedp.KeyEvent("0"), chromedp.KeyEvent("h"))
	p.until(`document.querySelector('#board img').src.endsWith('look=holes')`)
	p.until(namesSeen + `.length === 2`) // codes and numbers are not seen from so far
	p.run(chromedp.KeyEvent("h"))
	p.until(`document.querySelector('#board img').src.endsWith('look=client')`)
	for range 12 {
		p.run(chromedp.KeyEvent(kb.ArrowRight, chromedp.KeyModifiers(kb.ModifierShift)))
	}
	p.until(`(() => { const s = document.getElementById('stage').getBoundingClientRect(); return [...document.querySelectorAll('.pin .name')].every(n => n.getBoundingClientRect().right <= s.right) })()`)
	p.eventually("the place by the end of the wall", func(st state) bool { return st.Undo })
	assert.Empty(t, over())
	p.see("names-end")
	p.clean()
}

// The strip of faces is scrolled to the face that is shown: by a place of a knob, by keys, and after a reload.
func TestTheStripShowsTheFaceThatIsShown(t *testing.T) {
	rarely(t)
	p := open(t, examples.Ferry, "/")
	p.until(pictureThere)
	const inStrip = `(() => { const s = document.getElementById('faces').getBoundingClientRect(), b = document.querySelector('#faces [aria-pressed=true]')?.getBoundingClientRect();
		return b && b.left >= s.left && b.right <= s.right })()`
	const strip = `document.getElementById('faces').scrollLeft`
	require.Zero(t, js[int](p, strip))
	p.does(`(() => { const b = [...document.querySelectorAll('.knob')].find(k => k.textContent.startsWith('gathering')); b.closest('details').open = true; b.querySelector('button:not(.usual)').click() })()`)
	p.until(`document.querySelector('#faces [aria-pressed=true]').textContent.includes('Ticket wall')`)
	assert.True(t, js[bool](p, inStrip))
	assert.NotZero(t, js[int](p, strip), "it was out of sight")
	p.run(chromedp.Reload())
	p.until(`document.querySelector('#faces [aria-pressed=true]')?.textContent.includes('Ticket wall')`)
	assert.True(t, js[bool](p, inStrip))
	p.does(`document.getElementById('stage').focus()`)
	for range js[int](p, `document.querySelectorAll('#faces button').length`) {
		p.run(chromedp.KeyEvent(kb.PageDown))
		assert.True(t, js[bool](p, inStrip))
		assert.NotContains(t, js[string](p, `document.querySelector('#faces [aria-pressed=true]').textContent`), "room")
	}
	p.clean()
}

// From the picture of a wall the first Tab leads to a piece, where the keys for pieces do what they are for.
func TestTheFirstTabLeadsToAPiece(t *testing.T) {
	rarely(t)
	p := open(t, small, "/")
	p.until(pictureThere)
	p.does(`[...document.querySelectorAll("#faces button")].find(b => b.textContent.includes("The room")).click()`)
	p.does(`document.getElementById('stage').focus()`)
	p.run(chromedp.KeyEvent(kb.PageDown))
	p.until(`document.querySelectorAll('path[data-id]').length > 0 && document.querySelector('#faces [aria-pressed=true]').textContent.includes('One')`)
	p.run(chromedp.KeyEvent(kb.Tab))
	id := js[int](p, `Number(document.activeElement.dataset.id || 0)`)
	require.NotZero(t, id, "%s", js[string](p, `document.activeElement.outerHTML.slice(0, 200)`))
	before := at(p.state(), id)
	p.run(chromedp.KeyEvent("l"))
	p.eventually("locked", func(st state) bool { return at(st, id).Locked })
	p.run(chromedp.KeyEvent("]"))
	p.eventually("turned", func(st state) bool { return at(st, id).Heading != before.Heading })
	p.clean()
}

// On the smallest telephone the picture has half the screen at least, the figures are one line until all are asked for, and
// a note is small.
func TestThePictureHasHalfOfASmallTelephone(t *testing.T) {
	rarely(t)
	p := open(t, examples.Ferry, "/")
	p.run(chromedp.EmulateViewport(320, 640, chromedp.EmulateMobile), chromedp.Navigate("about:blank")) // it hears of nothing meanwhile
	st := p.state()
	p.stateAfter("/api/pieces", fmt.Sprintf(`{"changes":[{"do":"lock","id":%d}]}`, st.Pieces[0].ID))
	p.run(chromedp.Navigate(p.url + "/"))
	p.until(`document.querySelectorAll('#figures > div').length > 4 && !document.querySelector('#figures.stale') && ` + pictureThere)
	const top = `document.querySelector('main').getBoundingClientRect().top`
	assert.Less(t, js[float64](p, top), 210.0)
	const shownFigures = `[...document.querySelectorAll('#figures > div')].filter(d => d.checkVisibility()).length`
	few := js[int](p, shownFigures)
	p.see("small-telephone")
	p.does(`document.getElementById('figures-all').click()`)
	all := js[int](p, shownFigures)
	assert.Equal(t, all, js[int](p, `document.querySelectorAll('#figures > div').length`))
	assert.Less(t, few, all)
	assert.Equal(t, "true", js[string](p, `document.getElementById('figures-all').getAttribute('aria-expanded')`))
	assert.LessOrEqual(t, js[int](p, `document.documentElement.scrollWidth`), 320)
	p.see("small-telephone-all")
	p.does(`document.getElementById('figures-all').click()`)
	p.until(`!document.getElementById('save').disabled`)
	p.does(`document.getElementById('save').click()`)
	p.until(`document.getElementById('say').textContent.startsWith('Saved')`)
	p.see("small-telephone-saved")
	assert.Less(t, js[float64](p, `document.getElementById('say').getBoundingClientRect().height`), 45.0)
	p.until(`document.getElementById('say').className === 'gone'`)
	p.clean()
}

// Of a wall that takes no pieces it is said so, when it is shown and when somebody wants to add one.
func TestAWallWithoutPiecesSaysSo(t *testing.T) {
	rarely(t)
	p := open(t, strings.Replace(small, "{name: Two,", "{name: Two, use: false,", 1), "/")
	p.until(pictureThere)
	p.does(`[...document.querySelectorAll('#faces button')].find(b => b.textContent.includes('Two')).click()`)
	const said = `!document.getElementById('say').classList.contains('gone') && document.getElementById('say').textContent === 'Two takes no pieces: the plan leaves it out.'`
	p.until(said)
	p.until(`document.getElementById('say').className === 'gone'`)
	p.run(chromedp.KeyEvent("a"))
	p.until(said)
	assert.Equal(t, "pick", js[string](p, `document.getElementById('stage').dataset.tool`))
	p.face("One")
	p.run(chromedp.KeyEvent("a"))
	p.until(`document.getElementById('stage').dataset.tool === 'add'`)
	p.clean()
}
