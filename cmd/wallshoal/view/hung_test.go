package view

import (
	"fmt"
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is ticked at the wall is marked on the page, stays where it is when a knob is turned, and is taken down for nothing unasked.
func TestWhatHangsStaysInABrowser(t *testing.T) {
	p := open(t, small, "/")
	p.face("One")
	require.Equal(t, http.StatusOK, p.post("/api/progress", `{"do":"up","pieces":[4]}`).status)
	p.until(`document.querySelectorAll('.hung circle').length === 2`) // one of them in the legend
	p.until(`document.getElementById('hanging').textContent.includes('1 piece hangs: it stays where it is; the rest is laid anew round it')`)
	assert.Contains(t, js[string](p, `document.querySelector('.pieces path[data-id="4"]').getAttribute('aria-label')`), ", hangs")
	before := at(p.state(), 4)
	p.stateAfter("/api/knobs", `{"set":[{"knob":"seed","value":"99"}]}`)
	assert.Equal(t, before.At, at(p.state(), 4).At)
	assert.Equal(t, 1, decoded[standsState](t, p.get("/api/stands").body).Hanging)
	p.settled()
	x, y := p.middle(4)
	p.run(chromedp.MouseClickXY(x, y))
	p.until(`document.getElementById('picked-what').textContent.includes('hangs')`)
	p.run(chromedp.KeyEvent(kb.Delete))
	p.until(`document.getElementById('down').open && document.getElementById('down-what').textContent === 'Piece 4 hangs: this means take it down, fill 1 hole.'`)
	p.does(`document.querySelector('#down button[value=""]').click()`)
	assert.NotZero(t, at(p.state(), 4).ID)
	p.run(chromedp.KeyEvent(kb.Delete))
	p.until(`document.getElementById('down').open`)
	p.does(`document.querySelector('#down button[value=down]').click()`)
	p.until(`document.getElementById('findings-list').textContent.includes('4 hangs by an earlier layout: take down, fill 1 hole')`)
	p.see("hung")
}

// The install page names what hangs by an earlier layout, and its holes stay counted once it is down.
func TestWhatWasMovedIsNamed(t *testing.T) {
	v := served(t, small)
	require.Equal(t, http.StatusOK, v.post("/api/progress", `{"do":"up","pieces":[4,5]}`).status)
	move := `{"changes":[{"do":"place","id":4,"face":0,"at":[1400,1500],"heading":0}]%s}`
	r := v.post("/api/pieces", fmt.Sprintf(move, ""))
	assert.Equal(t, http.StatusConflict, r.status)
	assert.Contains(t, string(r.body), `"hangs":true`)
	require.Equal(t, http.StatusOK, v.post("/api/pieces", fmt.Sprintf(move, `,"down":true`)).status)
	st := decoded[standsState](t, v.get("/api/stands").body)
	assert.Equal(t, "4 hangs by an earlier layout: take down, fill 1 hole, drill 1 new", st.Moved)
	require.Len(t, st.Astray, 1)
	require.Equal(t, http.StatusOK, v.post("/api/progress", fmt.Sprintf(`{"do":"left","marks":[%q]}`, st.Astray[0].Holes)).status)
	st = decoded[standsState](t, v.get("/api/stands").body)
	assert.Empty(t, st.Moved)
	assert.Equal(t, "4 is down from where an earlier layout had it: 1 hole to fill", st.Left)
	// A corrected measure: what hangs stays, and the page says so.
	data, err := os.ReadFile(v.path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(v.path, []byte(strings.Replace(string(data), "seed:", "# measured again\nseed:", 1)), 0o644))
	require.Equal(t, http.StatusOK, v.post("/api/mend", `{}`).status)
}
