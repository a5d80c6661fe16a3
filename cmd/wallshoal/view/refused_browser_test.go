package view

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"

	"wallshoal/examples"
	"wallshoal/wall/measure"
)

// row returns an expression for the knob with that label.
func row(label string) string {
	return fmt.Sprintf(`[...document.querySelectorAll('.knob')].find(k => k.querySelector('label').textContent === %q)`, label)
}

// slide puts the slider of a knob at values one after the other, as a hand that drags it.
func (p *tab) slide(label string, values ...float64) {
	p.t.Helper()
	p.knob(label)
	for _, v := range values {
		p.does(fmt.Sprintf(`(() => { const r = %s.querySelector('input[type=range]'); r.value = %g; r.dispatchEvent(new Event('input', {bubbles: true})) })()`, row(label), v))
		p.until(`!document.querySelector('.knob[aria-busy]')`)
	}
	p.does(row(label) + `.querySelector('input[type=range]').dispatchEvent(new Event('change', {bubbles: true}))`)
}

// A slider that is pushed too far stays where it was pushed, says why it is refused and what the picture has, and
// nothing else is said of another value. Esc, an undo or a value that can be ends that, and only then.
func TestASliderPushedTooFar(t *testing.T) {
	rarely(t)
	p := open(t, strings.Replace(small, "count: 30", "count: 60", 1), "/")
	p.until(pictureThere)
	box := func() string { return js[string](p, row("spacing")+`.querySelector('input[type=text]').value`) }
	thumb := func() string { return js[string](p, row("spacing")+`.querySelector('input[type=range]').value`) }
	fault := row("spacing") + `.querySelector('.fault')`
	refused := func() {
		t.Helper()
		p.slide("spacing", 110, 130, 400)
		p.until(`!` + fault + `.hidden`)
		for range 2 { // whatever is heard meanwhile
			assert.Equal(t, "400", box())
			assert.Equal(t, "400", thumb())
			assert.Contains(t, js[string](p, fault+`.textContent`), "do not fit: about")
			assert.Contains(t, js[string](p, fault+`.textContent`), "The picture still shows 130 mm. Keep 130 mm")
			assert.True(t, js[bool](p, row("spacing")+`.querySelector('.remark').hidden`), "which is said of 130")
			assert.Equal(t, "true", js[string](p, row("spacing")+`.querySelector('input[type=text]').getAttribute('aria-invalid')`))
			asked := js[float64](p, `performance.now()`)
			p.server.tell()
			p.until(fmt.Sprintf(`performance.getEntriesByType('resource').some(e => e.name.endsWith('/api/state') && e.startTime > %g && e.responseEnd > 0)`, asked))
		}
		assert.Contains(t, p.state().Knobs[spacing(p.state())].Value, "130")
	}
	refused()
	p.look("refused-desk")
	p.run(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile))
	p.does(`document.getElementById('sheet-toggle').click(); ` + row("spacing") + `.scrollIntoView()`)
	p.until(`document.documentElement.scrollWidth <= 390`)
	p.look("refused-phone")
	p.run(chromedp.EmulateViewport(1280, 860))
	p.does(row("spacing") + `.querySelector('input[type=text]').focus()`)
	p.run(chromedp.KeyEvent(kb.Escape))
	p.until(fault + `.hidden`)
	assert.Equal(t, "130", box())
	assert.Equal(t, "130", thumb())

	p.slide("spacing", 120)
	refused()
	p.does(fault + `.querySelector('button').click()`)
	assert.Equal(t, "130", box())

	p.slide("spacing", 120)
	refused()
	p.write("spacing", "125")
	p.eventually("125", func(st state) bool { return st.Knobs[spacing(st)].Value == "125" })
	p.until(fault + `.hidden`)
	assert.Equal(t, "125", box())

	refused()
	p.does(`document.getElementById('undo').click()`)
	p.until(fault + `.hidden && ` + row("spacing") + `.querySelector('input[type=text]').value !== '400'`)
	p.clean()
}

func spacing(st state) int {
	for i, k := range st.Knobs {
		if k.ID == "composition.spacing" {
			return i
		}
	}
	return -1
}

// Header, button and words agree about what is saved: what was refused is nothing to save.
func TestWhatThereIsToSave(t *testing.T) {
	p := open(t, small, "/")
	p.until(pictureThere)
	agree := func(saved bool) {
		t.Helper()
		p.until(fmt.Sprintf(`document.getElementById('save').disabled === %v && (document.getElementById('saved').textContent === 'saved') === %v`, saved, saved))
	}
	save := func(says string) {
		t.Helper()
		p.run(chromedp.KeyEvent("s", chromedp.KeyModifiers(kb.ModifierCtrl)))
		p.until(fmt.Sprintf(`document.getElementById('say').textContent.includes(%q)`, says))
	}
	agree(true)
	save("Nothing to save")
	at := p.knob("pieces")
	p.does(fmt.Sprintf(`(() => { const f = document.querySelector(%q); f.focus(); f.select() })()`, at))
	p.run(chromedp.KeyEvent("5000"))
	agree(false)
	p.run(chromedp.KeyEvent(kb.Enter))
	p.until(`!` + row("pieces") + `.querySelector('.fault').hidden`)
	agree(true)
	save("What was refused is not in it")
	assert.Equal(t, small, p.plan())
	p.write("pieces", "28")
	agree(false)
	save("Saved hall.yaml.")
	agree(true)
	assert.Contains(t, p.plan(), "count: 28")
	// What is typed and typed back is nothing either.
	p.does(fmt.Sprintf(`(() => { const f = document.querySelector(%q); f.focus(); f.select() })()`, at))
	p.run(chromedp.KeyEvent("2"))
	agree(false)
	p.run(chromedp.KeyEvent("8"), chromedp.KeyEvent(kb.Tab))
	agree(true)
	p.clean()
}

// Beside what the plan says stands what is usual, in words, before it is taken.
func TestTheUsualIsSaid(t *testing.T) {
	p := open(t, strings.Replace(small, "spacing: 120", "spacing: 120\n  gap: 9\n  part: true\n  flow: [{toward: {wall: One, at: [1000, 1200]}, strength: 2}]", 1), "/")
	p.until(pictureThere)
	usual := func(label string) string {
		return fmt.Sprintf(`(() => { const u = %s.querySelector('.usual'); return u.hidden ? '' : u.textContent })()`, row(label))
	}
	for label, says := range map[string]string{"gap": "back to the usual: 5 mm", "goes round things": "back to the usual: off", "current, strength": "back to the usual: 1", "datum": "", "spread": "", "current: towards": "take it away", "seed": "begin again at 1"} {
		if label == "datum" {
			says = "back to the usual: 1500 mm"
		}
		p.knob(label)
		assert.Equal(t, says, js[string](p, usual(label)), label)
	}
	assert.NotContains(t, js[string](p, `document.getElementById('knobs').innerHTML`), "true</")
	p.look("usual-desk")
	p.does(row("gap") + `.querySelector('.usual').click()`)
	p.eventually("the usual gap", func(st state) bool { return st.Undo })
	p.until(usual("gap") + ` === ''`)
	p.clean()
}

// The page writes lengths as the sheets and the remarks do, in inches too.
func TestOneNotationOfLengths(t *testing.T) {
	p := open(t, examples.ReadingRoom, "/")
	p.until(pictureThere)
	p.does(`import('/page/units.js').then(u => { window.lengths = u.length })`)
	p.until(`window.lengths`)
	for _, unit := range measure.Units() {
		for _, mm := range []float64{0, -0.3, 1, 3.175, 25.4, 96, 134.9375, 304.8, 311.15, 1450, 3365.25, -700.2} {
			said := js[string](p, fmt.Sprintf(`window.lengths(%g, %q)`, mm, unit))
			assert.Equal(t, measure.Format(mm, unit), said, "%g mm in %s", mm, unit)
		}
	}
	values := js[[]string](p, `[...document.querySelectorAll('.knob.length')].map(k => k.querySelector('input[type=text]').value)`)
	assert.Contains(t, values, `5 1/2"`)
	p.slide("spacing", 5.125)
	p.eventually("5 1/8", func(st state) bool { return st.Knobs[spacing(st)].Value == "5.125" })
	assert.Equal(t, `5 1/8"`, js[string](p, row("spacing")+`.querySelector('input[type=text]').value`))
	p.look("inches-desk")
	p.clean()
}

// What shows only as an overlay is shown once it is turned, and where no overlay can be, the page says where.
func TestADatumThatIsTurnedIsSeen(t *testing.T) {
	rarely(t)
	p := open(t, small, "/")
	p.until(pictureThere)
	p.does(`[...document.querySelectorAll('#faces button')].find(b => b.textContent.includes('The room')).click()`)
	p.until(`document.body.classList.contains('room')`)
	p.write("datum", "1400")
	p.until(`document.getElementById('say').textContent.includes('choose a wall')`)
	p.face("One")
	p.until(`[...document.querySelectorAll('#board img')].some(i => i.src.includes('/datum.svg'))`)
	assert.True(t, js[bool](p, `document.querySelector('#layers input[name=datum]').checked`))
	p.write("overlap of sheets", "12")
	p.until(`[...document.querySelectorAll('#board img')].some(i => i.src.includes('/tiles.svg'))`)
	p.look("datum-desk")
	p.clean()
}

// Figures come while somebody drags and does not stop, however quickly one work follows the other.
func TestFiguresComeDuringADrag(t *testing.T) {
	rarely(t)
	p := open(t, small, "/")
	p.until(pictureThere)
	p.until(`document.getElementById('figures').textContent.includes('sheets with holes') && /\d+ A4 and \d+ key pages/.test(document.getElementById('figures').textContent)`)
	p.knob("spread")
	p.does(`window.begun = performance.now(); (function drag(i) {
		const r = ` + row("spread") + `.querySelector('input[type=range]');
		r.value = 10 + i % 40;
		r.dispatchEvent(new Event('input', {bubbles: true}));
		if (window.held === undefined) setTimeout(() => drag(i + 1), 20);
		else r.dispatchEvent(new Event('change', {bubbles: true}));
	})(0)`)
	came := func(of string) string {
		return `performance.getEntriesByType('resource').filter(e => e.name.includes('/api/` + of + `') && e.startTime > window.begun && e.responseEnd > 0).length`
	}
	p.until(came("figures") + ` >= 3`)
	turned := js[int](p, came("knobs"))
	p.does(`window.held = false`)
	p.until(`!document.getElementById('figures').classList.contains('stale')`)
	assert.Greater(t, turned, 3, "it was dragged all the while")
	p.clean()
}
