package view

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is wrong is said of the piece in the hand, with the numbers of the others, though these were hung later: beside
// it, in the panel, aloud, and once it is dropped. Three troubles are told beside it, and how many more there are.
func TestTroubleIsSaidOfThePieceInTheHand(t *testing.T) {
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
	p.apart()
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
