package view

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/examples"
)

// look keeps what is seen where WALLSHOAL_SHOTS says, for somebody to look at.
func (p *tab) look(name string) {
	if dir := os.Getenv("WALLSHOAL_SHOTS"); dir != "" {
		p.shoot(filepath.Join(dir, name+".png"))
	}
}

// compared waits until a side of the comparison shows something, and returns what it says of it.
func (p *tab) compared(side, what string) string {
	p.t.Helper()
	at := "#compare-" + side
	p.until(fmt.Sprintf(`document.querySelector('%[1]s select').value === %[2]q && !document.querySelector('%[1]s [role=status]').textContent.startsWith('composing') && document.querySelectorAll('%[1]s dd').length > 0`, at, what))
	return js[string](p, fmt.Sprintf(`document.querySelector('%s [role=status]').textContent`, at))
}

// choose chooses what a side shows.
func (p *tab) choose(side, what string) string {
	p.t.Helper()
	p.does(fmt.Sprintf(`(() => { const s = document.querySelector('#compare-%s select'); s.value = %q; s.dispatchEvent(new Event('change')); s.blur() })()`, side, what))
	return p.compared(side, what)
}

// An option is looked at and taken: it is the plan then, the page says what becomes of the others, and one undo brings
// all back.
func TestTakingAnOption(t *testing.T) {
	p := open(t, examples.Ferry, "/")
	p.until(pictureThere)
	p.run(chromedp.KeyEvent("c"))
	p.compared("right", "seed 8")
	note := p.choose("right", "option light")
	assert.Contains(t, note, "Taking it writes into the plan what the option \"light\" says")
	assert.Contains(t, note, "\"middle\" would change nothing either, and goes")
	p.look("compare-desk")
	p.run(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile))
	p.until(`document.documentElement.scrollWidth <= 390`)
	p.look("compare-phone")
	p.run(chromedp.EmulateViewport(1280, 860))
	note = p.choose("left", "option middle")
	assert.Contains(t, note, "cannot be taken: middle changes nothing: it is the plan as it is written")
	assert.True(t, js[bool](p, `document.querySelector('#compare-left .main').disabled`))
	p.does(`document.querySelector('#compare-right .main').click()`)
	taken := p.eventually("light", func(st state) bool { return st.PieceCount == 240 })
	assert.Equal(t, []string{"light", "full"}, taken.Options)
	assert.True(t, taken.Undo)
	p.until(`!document.getElementById('compare').open && document.getElementById('say').textContent.includes('light is the plan now')`)
	p.run(chromedp.KeyEvent("z", chromedp.KeyModifiers(kb.ModifierCtrl)))
	back := p.eventually("as it was", func(st state) bool { return st.PieceCount == 440 && !st.Undo && st.Saved })
	assert.Equal(t, []string{"light", "middle", "full"}, back.Options)
	p.clean()
}

// Arrows pass over what the other side shows and over the seed of the work, and say where there is no more.
func TestSteppingShowsNothingTwice(t *testing.T) {
	p := open(t, small+"  - {name: more, count: 34}\n  - {name: wide, spacing: 130}\n", "/") // of seed 3
	p.until(pictureThere)
	p.run(chromedp.KeyEvent("c"))
	p.compared("right", "seed 4")
	left := func() { p.run(chromedp.KeyEvent(kb.ArrowLeft)) }
	right := func() { p.run(chromedp.KeyEvent(kb.ArrowRight)) }
	left()
	p.compared("right", "seed 2")
	p.run(chromedp.KeyEvent(kb.ArrowLeft, chromedp.KeyModifiers(kb.ModifierShift)))
	p.compared("left", "seed 1")
	assert.True(t, js[bool](p, `document.querySelector('#compare-left option[value="seed 2"]').disabled`))
	left()
	p.compared("right", "seed 0")
	left()
	p.until(`document.querySelector('#compare-right [role=status]').textContent.includes('no lower seed')`)
	right()
	p.compared("right", "seed 2")
	p.choose("left", "option more")
	p.choose("right", "option few")
	right()
	p.compared("right", "option wide")
	right()
	p.until(`document.querySelector('#compare-right [role=status]').textContent.includes('no option after this one')`)
	left()
	p.compared("right", "option few")
	p.clean()
}

// Nothing that was compared is taken once the plan is another.
func TestWhatWasComparedBefore(t *testing.T) {
	v := served(t, small)
	other := decoded[compared](t, v.get("/api/compare?option=few").body)
	assert.Empty(t, other.Refused)
	assert.Contains(t, other.Note, "One Undo brings all back.")
	assert.Equal(t, 10, other.Figures.Pieces)
	v.stateAfter("/api/knobs", `{"set":[{"knob":"composition.spacing","value":"119"}]}`)
	r := v.post("/api/adopt", fmt.Sprintf(`{"revision":%d}`, other.Revision))
	require.Equal(t, 422, r.status)
	assert.Equal(t, "the plan was changed since", decoded[trouble](t, r.body).Error)
}
