package view

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"

	"wallshoal/examples"
)

// both calls f at the width of a desk and at that of a telephone.
func (p *tab) both(f func(width int64)) {
	p.t.Helper()
	for _, width := range []int64{390, 1280} {
		p.run(chromedp.EmulateViewport(width, 844))
		f(width)
	}
}

// Where hands were at the work a knob lays the rest anew, and the page says so over the picture and beside the knob: on the
// way there, on the way back, which ends at another picture, and no more once undo has brought back exactly what was.
func TestWhatIsLaidAnewIsSaid(t *testing.T) {
	p := open(t, small, "/")
	p.until(pictureThere)
	p.write("seed", "4")
	p.eventually("seed 4", func(st state) bool { return st.Seed == 4 })
	news := row("seed") + `.querySelector('.anew')`
	assert.True(t, js[bool](p, news+`.hidden`), "no hand was at it")

	p.stateAfter("/api/pieces", `{"changes":[{"do":"place","id":4,"face":0,"at":[1400,1500],"heading":0},{"do":"place","id":9,"face":0,"at":[1000,1500],"heading":0},{"do":"place","id":12,"face":1,"at":[700,1500],"heading":0}]}`)
	byHand := p.eventually("moved", func(st state) bool { return !st.Laid })
	p.until(`document.querySelectorAll('.locks:not(.sign) g').length === 2`)
	const words = "The rest was laid anew round the 3 pieces you set by hand. Turning back would lay it anew again; Undo brings back exactly what was."
	said := fmt.Sprintf(`document.getElementById('say').className === 'note' && document.getElementById('say').textContent === %q`, words)
	p.slide("seed", 5, 6)
	p.until(said)
	assert.Equal(t, words, js[string](p, news+`.textContent`))
	assert.True(t, js[bool](p, news+`.checkVisibility()`))
	p.both(func(width int64) {
		if width < 400 {
			p.does(`document.getElementById('sheet-toggle').click(); ` + row("seed") + `.scrollIntoView()`)
		}
		p.look(fmt.Sprintf("anew-%d", width))
	})
	p.does(`document.getElementById('say').className = 'gone'`)
	p.write("seed", "4")
	back := p.eventually("seed 4 again", func(st state) bool { return st.Seed == 4 })
	assert.NotEqual(t, byHand.Pieces, back.Pieces, "which is what has to be said")
	p.until(said)
	p.does(row("paper") + `.querySelector('select').value = 'A3'; ` + row("paper") + `.querySelector('select').dispatchEvent(new Event('change'))`) // the pieces stay
	p.eventually("A3", func(st state) bool { return st.Revision > back.Revision })
	assert.Equal(t, words, js[string](p, news+`.textContent`), "it is as true as before")
	for range 3 {
		p.does(`document.getElementById('undo').click()`)
	}
	undone := p.eventually("as by hand", func(st state) bool { return !st.Laid })
	assert.Equal(t, byHand.Pieces, undone.Pieces)
	p.until(news + `.hidden`)

	// What was taken away comes back, with nothing locked.
	for range 2 {
		p.does(`document.getElementById('undo').click()`)
	}
	p.eventually("as at first", func(st state) bool { return !st.Undo })
	p.stateAfter("/api/pieces", `{"changes":[{"do":"delete","id":4}]}`)
	p.until(`document.querySelectorAll('path[data-id="4"]').length === 0`)
	p.write("seed", "4")
	p.until(`document.getElementById('say').textContent.startsWith('All was laid anew, without what you did by hand.')`)
	p.clean()
}

// The wall with the most pieces is shown first, and seen in the strip; after a reload the one that was chosen is, and the
// room where that was.
func TestTheMainWallIsShownFirst(t *testing.T) {
	// The narrow walls before it, in the strip, take more than its width.
	var narrow strings.Builder
	for i := range 9 {
		fmt.Fprintf(&narrow, "    - {name: Pier %d, length: 300, height: 2500, surface: brick, turn: 0}\n", i+1)
	}
	p := open(t, strings.Replace(small, "    - name: One\n", narrow.String()+"    - name: One\n", 1), "/")
	const shown = `document.querySelector('#faces [aria-pressed=true]')?.textContent`
	const inStrip = `(() => { const s = document.getElementById('faces').getBoundingClientRect(), b = document.querySelector('#faces [aria-pressed=true]').getBoundingClientRect();
		return b.left >= s.left && b.right <= s.right && document.getElementById('faces').scrollLeft > 0 })()`
	for _, width := range []int64{1280, 390} {
		p.run(chromedp.EmulateViewport(width, 844))
		p.does(`sessionStorage.clear()`)
		p.run(chromedp.Reload())
		p.until(shown + ` === 'One' && ` + pictureThere)
		assert.True(t, js[bool](p, inStrip), width)
		assert.Equal(t, 1, js[int](p, `performance.getEntriesByType('resource').filter(e => e.name.includes('/picture/') && e.initiatorType === 'img').length`), "none is painted in vain")
		p.look(fmt.Sprintf("first-%d", width))
		for _, other := range []string{"Two", "The room"} {
			p.does(fmt.Sprintf(`[...document.querySelectorAll('#faces button')].find(b => b.textContent === %q).click()`, other))
			p.until(shown + fmt.Sprintf(` === %q`, other))
			p.run(chromedp.Reload())
			p.until(shown + fmt.Sprintf(` === %q && `, other) + pictureThere)
		}
	}
	p.clean()
}

// A seed of 64 bits is the same on the page to its last digit: beside its knob, among those to compare, on paper, and once it
// is stepped from.
func TestALargeSeedIsExact(t *testing.T) {
	const seed, next = "9007199254740993", "9007199254740994" // 2^53 + 1, which a float64 does not have
	p := open(t, strings.Replace(examples.Ferry, "seed: 7", "seed: "+seed, 1), "/")
	p.until(pictureThere)
	assert.Contains(t, p.get("/api/state").body, `"seed":"`+seed+`"`)
	assert.Equal(t, seed, js[string](p, row("seed")+`.querySelector('input[type=text]').value`))
	p.both(func(width int64) {
		if width < 400 {
			p.does(`document.getElementById('sheet-toggle').click()`)
		}
		assert.True(t, js[bool](p, `(() => { const f = `+row("seed")+`.querySelector('input[type=text]'); f.scrollIntoView(); return f.checkVisibility() && f.scrollWidth <= f.clientWidth })()`), "all of its digits are seen")
		p.look(fmt.Sprintf("seed-knob-%d", width))
	})
	assert.True(t, js[bool](p, row("seed")+`.querySelector('input[type=range]').disabled`), "no slider goes by such steps")
	p.does(`dispatchEvent(new Event('beforeprint'))`)
	assert.Contains(t, js[string](p, `document.getElementById('print-face').textContent`), "Seed "+seed+",")
	p.run(chromedp.KeyEvent("c"))
	p.compared("right", "seed "+next)
	assert.Contains(t, js[string](p, `document.querySelector('#compare-left select').selectedOptions[0].textContent`), seed)
	p.both(func(width int64) { p.look(fmt.Sprintf("seed-%d", width)) })
	p.run(chromedp.KeyEvent(kb.ArrowRight))
	p.compared("right", "seed 9007199254740995")
	p.does(`document.querySelector('#compare-right .main').click()`)
	p.eventually("taken", func(st state) bool { return st.Seed == 9007199254740995 })
	p.write("seed", "18446744073709551615")
	p.eventually("the largest", func(st state) bool { return st.Seed == 1<<64-1 })
	p.until(`!document.querySelector('.knob[aria-busy]')`)
	p.run(chromedp.KeyEvent(kb.Escape))
	p.does(`document.getElementById('open-compare').click()`)
	p.compared("right", "seed 18446744073709551614")
	p.clean()
}
