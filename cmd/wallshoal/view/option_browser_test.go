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
	assert.Equal(t, []string{"light", "middle", "full"}, taken.Options)
	assert.True(t, taken.Undo)
	p.until(`!document.getElementById('compare').open && document.getElementById('say').textContent.includes('light is the plan now')`)
	p.run(chromedp.KeyEvent("z", chromedp.KeyModifiers(kb.ModifierCtrl)))
	back := p.eventually("as it was", func(st state) bool { return st.PieceCount == 440 && !st.Undo && st.Saved })
	assert.Equal(t, []string{"light", "middle", "full"}, back.Options)
	p.clean()
}

// Arrows pass over what the other side shows and over the seed of the work, and say where there is no more.
func TestSteppingShowsNothingTwice(t *testing.T) {
	rarely(t)
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

// Beside a knob stands what it does not do, and how many hang where hands were at it; it goes with its reason.
func TestRemarksBesideKnobs(t *testing.T) {
	p := open(t, small, "/")
	p.until(pictureThere)
	remark := func(label string) string {
		return fmt.Sprintf(`(() => { const k = [...document.querySelectorAll('.knob')].find(k => k.querySelector('label').textContent === %q), r = k.querySelector('.remark'); k.closest('details').open = true; return r.hidden ? '' : r.textContent })()`, label)
	}
	p.until(remark("spacing") + `.includes('apart anyway')`)
	p.until(remark("gap") + `.includes('300 mm or more')`)
	p.until(remark("mix of kinds") + ` === 'there is only one kind: nothing to mix'`)
	p.look("remarks-desk")
	p.run(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile))
	p.does(`document.getElementById('sheet-toggle').click(); document.querySelector('.knob.length').scrollIntoView()`)
	p.until(`document.documentElement.scrollWidth <= 390`)
	p.look("remarks-phone")
	p.run(chromedp.EmulateViewport(1280, 860))
	p.stateAfter("/api/pieces", `{"rest":"stay","changes":[{"do":"delete","id":4},{"do":"delete","id":5}]}`)
	p.until(remark("pieces") + ` === 'the plan asks for 30, and 28 are on the walls'`)
	p.until(remark("spacing") + ` === ''`)
	p.write("spacing", "100")
	p.eventually("laid anew", func(st state) bool { return st.PieceCount == 30 })
	p.until(remark("pieces") + ` === ''`)
	p.clean()
}

// Each knob of the paper and of the datum draws other sheets by one of its values at least.
func TestKnobsOfThePaperDrawOtherSheets(t *testing.T) {
	plans := map[string]string{"small": small}
	if os.Getenv("CI") == "true" {
		plans = map[string]string{"small": small, "stair": examples.SchoolStair}
	}
	for name, text := range plans {
		t.Run(name, func(t *testing.T) {
			v := served(t, text)
			sheets := func() string {
				r := v.get("/export/hole-map.pdf")
				require.Equal(t, 200, r.status, r.body)
				return r.body
			}
			before := sheets()
			for _, k := range decoded[state](t, v.get("/api/state").body).Knobs {
				values := k.Choices
				switch {
				case k.Group != "paper" && k.ID != "room.datum":
					continue
				case k.Number != nil:
					values = []string{fmt.Sprint(*k.Number + 4*k.Step), fmt.Sprint(*k.Number - 4*k.Step)}
				}
				other := false
				for _, value := range values {
					if r := v.post("/api/knobs", fmt.Sprintf(`{"set":[{"knob":%q,"value":%q}]}`, k.ID, value)); r.status == 200 && decoded[state](t, r.body).Undo {
						other = other || sheets() != before
						v.stateAfter("/api/undo", "{}")
					}
				}
				assert.True(t, other, k.ID)
			}
		})
	}
}
