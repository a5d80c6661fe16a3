package view

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"

	"wallshoal/examples"
)

// switched is a plan with two things on its first wall: a switch with room beside it, and one among things that take all of it.
var switched = strings.Replace(strings.Replace(small, "      zones:\n", `      obstructions:
        - {kind: switch, name: light switch, left: 1000, bottom: 1200, width: 80, height: 80}
        - {kind: window, name: left light, left: 100, bottom: 300, width: 400, height: 700}
        - {kind: window, name: right light, left: 600, bottom: 300, width: 400, height: 700}
        - {kind: window, name: fanlight, left: 100, bottom: 1050, width: 900, height: 120}
        - {kind: panel, name: sill heater, left: 100, bottom: 100, width: 900, height: 150}
        - {kind: socket, name: socket in the mullion, left: 510, bottom: 600, width: 80, height: 80}
      zones:
`, 1), "count: 30", "count: 12", 1)

// nameOf returns an expression for the name of a thing on the wall.
func nameOf(name string) string {
	return fmt.Sprintf(`document.querySelector('.thing[aria-label=%q] .name')`, name)
}

func seen(name string) string {
	return fmt.Sprintf(`getComputedStyle(%s).visibility === 'visible'`, nameOf(name))
}

// thingsOver are the names of things that lie over a piece, a word of the picture, another thing, a handle or another name.
const thingsOver = `(() => {
	const names = [...document.querySelectorAll('.thing .name')].filter(n => getComputedStyle(n).visibility === 'visible');
	const others = [...names, ...document.querySelectorAll('path[data-id], .pin .dot'), ...[...document.querySelectorAll('.thing')]];
	return names.flatMap(n => { const r = n.getBoundingClientRect(); return others.filter(o => o !== n && o !== n.parentElement)
		.filter(el => { const o = el.getBoundingClientRect(); return r.left < o.right && o.left < r.right && r.top < o.bottom && o.top < r.bottom }).map(o => n.textContent + ' over ' + (o.dataset.id || o.ariaLabel || o.textContent)) });
})()`

// What the picture does not name is named beside itself where there is room, over nothing else; where there is none the name comes
// when it is pointed at, tapped or reached by keys. All have a name for whoever does not see them.
func TestSmallThingsHaveNames(t *testing.T) {
	p := open(t, switched, "/")
	p.both(func(width int64) {
		p.run(chromedp.Reload())
		p.face("One")
		p.until(`document.querySelectorAll('.thing').length === 6 && document.querySelector('.thing.told-of')`)
		p.settled()
		assert.Equal(t, []string{"img"}, js[[]string](p, `[...new Set([...document.querySelectorAll('.thing')].map(e => e.role))]`))
		written := js[[]string](p, `[...document.querySelectorAll('.thing.told-of')].map(e => e.ariaLabel)`)
		assert.Contains(t, written, "left light", "which is large enough for the picture to name it")
		assert.Equal(t, width > 400, slices.Contains(written, "light switch"), "on a telephone the letters of the picture beside it are too small")
		assert.Empty(t, js[[]string](p, `[...document.querySelectorAll('.thing.told-of[tabindex]')].map(e => e.ariaLabel)`))
		assert.Empty(t, js[[]string](p, thingsOver), width)
		p.look(fmt.Sprintf("things-%d", width))
		const narrow = "socket in the mullion"
		assert.False(t, js[bool](p, seen(narrow)), "there is no room for it")
		at := js[[]float64](p, `(() => { const r = `+nameOf(narrow)+`.parentElement.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2] })()`)
		p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, at[0], at[1]))
		p.until(seen(narrow))
		assert.True(t, js[bool](p, `(() => { const n = `+nameOf(narrow)+`.getBoundingClientRect(), s = document.getElementById('stage').getBoundingClientRect(); return n.left >= s.left && n.right <= s.right && n.top >= s.top && n.bottom <= s.bottom })()`))
		p.look(fmt.Sprintf("thing-pointed-at-%d", width))
		p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, 5, 5))
		p.until(`!(` + seen(narrow) + `)`)
		p.run(chromedp.MouseClickXY(at[0], at[1])) // as a tap does
		p.until(`document.activeElement === ` + nameOf(narrow) + `.parentElement`)
		p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, 5, 5))
		p.until(seen(narrow))
		p.run(chromedp.KeyEvent(kb.Tab))
		p.until(`!(` + seen(narrow) + `)`)
	})
	p.clean()
}

// From near there is room beside what has none from afar, and Tab brings what it leads to into sight.
func TestNamesOfThingsComeFromNear(t *testing.T) {
	p := open(t, examples.Ferry, "/")
	p.face("Long wall")
	p.until(`document.querySelector('.thing.told-of')`)
	assert.False(t, js[bool](p, seen("lamp switch")), "pieces are all round it")
	for range 9 {
		p.run(chromedp.KeyEvent("+"))
	}
	p.does(nameOf("lamp switch") + `.parentElement.focus()`)
	p.until(`document.querySelector('.thing.named[aria-label="lamp switch"]') && ` + seen("lamp switch"))
	p.settled()
	assert.Empty(t, js[[]string](p, thingsOver))
	var at point
	for _, f := range p.state().Faces {
		for _, on := range f.Things {
			if on.Name == "lamp switch" && f.Title == "Long wall" {
				at = point{(on.Outline[0][0] + on.Outline[2][0]) / 2, (on.Outline[0][1] + on.Outline[2][1]) / 2}
			}
		}
	}
	x, y := p.sight(at)
	r := js[[]float64](p, `(() => { const r = `+nameOf("lamp switch")+`.parentElement.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2] })()`)
	assert.InDeltaSlice(t, []float64{x, y}, r, 1, "where it is in the picture")
	p.look("things-near")
	p.clean()
}

// Whichever wall of the examples is shown, in either look, no name of a thing that the page writes lies over anything else.
func TestNamesOfThingsCoverNothing(t *testing.T) {
	rarely(t)
	for name, text := range examplesWithThings {
		p := open(t, text, "/")
		p.both(func(width int64) {
			p.run(chromedp.Reload())
			p.until(pictureThere)
			for i := range js[int](p, `document.querySelectorAll('#faces button').length`) {
				p.does(fmt.Sprintf(`document.querySelectorAll('#faces button')[%d].click()`, i))
				for _, look := range []string{"holes", "client"} {
					p.does(fmt.Sprintf(`document.querySelector('input[name=look][value=%s]').click()`, look))
					p.until(pictureThere + ` && document.querySelector('#board img').src.includes('` + look + `')`)
					p.does(`window.paused = false; setTimeout(() => { window.paused = true }, 450)`) // longer than its words are waited for
					p.until(`window.paused`)
					assert.Empty(t, js[[]string](p, thingsOver), "%s, %d, %s", name, i, look)
				}
			}
		})
		p.clean()
	}
}

var examplesWithThings = map[string]string{"ferry": examples.Ferry, "stair": examples.SchoolStair}
