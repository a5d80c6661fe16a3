package view

import (
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is shown of a change outside: what was changed on either side, and whether both can be kept.
func TestWhatWasChangedOutside(t *testing.T) {
	v := served(t, small)
	ask := func() difference {
		r := v.get("/api/difference")
		require.Equal(t, http.StatusOK, r.status, r.body)
		return decoded[difference](t, r.body)
	}
	assert.Empty(t, ask().File)
	v.stateAfter("/api/knobs", `{"set":[{"knob":"seed","value":"8"}]}`)
	theirs := strings.Replace(small, "spacing: 120", "spacing: 118", 1)
	require.NoError(t, os.WriteFile(v.path, []byte(theirs), 0o644))
	assert.Equal(t, difference{
		File: "hall.yaml", How: "changed", Faults: []fault{}, Both: true,
		Here: changes{Knobs: []string{"seed: 3 → 8"}}, There: changes{Knobs: []string{"spacing: 120 mm → 118 mm"}},
	}, ask())
	st := v.stateAfter("/api/outside", `{"take":"both"}`)
	assert.Equal(t, uint64(8), st.Seed)
	assert.Equal(t, theirs, v.plan(), "not saved")
	v.stateAfter("/api/save", `{}`)
	assert.Equal(t, strings.Replace(theirs, "seed: 3", "seed: 8", 1), v.plan())

	v.stateAfter("/api/knobs", `{"set":[{"knob":"seed","value":"9"}]}`)
	require.NoError(t, os.WriteFile(v.path, []byte(theirs), 0o644)) // with another seed than was saved
	d := ask()
	assert.False(t, d.Both)
	assert.Equal(t, "“seed” was changed here and there", d.Why)
	assert.Equal(t, http.StatusUnprocessableEntity, v.post("/api/outside", `{"take":"both"}`).status)
	assert.Equal(t, http.StatusBadRequest, v.post("/api/outside", `{"take":"mine"}`).status)
}

// dialog returns what the dialog says, and which of its buttons are there.
func (p *tab) dialog() (says string, buttons []string) {
	p.t.Helper()
	p.until(`document.getElementById('outside').open`)
	return js[string](p, `document.getElementById('outside').innerText`),
		js[[]string](p, `[...document.querySelectorAll('#outside button')].filter((b) => b.checkVisibility()).map((b) => b.textContent)`)
}

// helped fails where the small print of the dialog speaks of a button that is not there, or is silent of one that is.
func (p *tab) helped(buttons []string) {
	p.t.Helper()
	help := js[string](p, `document.getElementById('outside-help').textContent`)
	for _, b := range []string{"Keep both", "Take theirs", "Save mine over it", "Save mine again", "Keep mine", "Decide later"} {
		there := false
		for _, is := range buttons {
			there = there || is == b
		}
		assert.Equal(p.t, there, strings.Contains(help, b), "%s: %s", b, help)
	}
}

// A knob is turned here while another line is changed in an editor: the dialog lists both, Keep both undoes neither, and one
// step of undo brings back what was.
func TestKeepingBothInABrowser(t *testing.T) {
	p := watched(t, small)
	p.write("pieces", "25")
	p.eventually("25 pieces", func(st state) bool { return st.PieceCount == 25 })
	theirs := strings.NewReplacer("spacing: 120", "spacing: 118", "# the line", "# the line of the sill").Replace(small)
	require.NoError(t, os.WriteFile(p.path, []byte(theirs), 0o644))
	p.does(`document.getElementById('save').click()`)
	says, buttons := p.dialog()
	for _, line := range []string{"pieces: 30 → 25", "spacing: 120 mm → 118 mm", "1 other line"} {
		assert.Contains(t, says, line)
	}
	assert.Equal(t, []string{"Keep both", "Take theirs", "Save mine over it", "Decide later"}, buttons)
	p.helped(buttons)
	p.see("outside-both")
	p.does(`document.getElementById('outside-both').click()`)
	p.until(`!document.getElementById('outside').open && document.getElementById('outside-note').hidden`)
	st := p.eventually("both", func(st state) bool { return st.PieceCount == 25 && st.Outside == "" })
	assert.False(t, st.Saved)
	p.does(`document.getElementById('save').click()`)
	p.until(`document.getElementById('saved').textContent === 'saved'`)
	assert.Equal(t, strings.Replace(theirs, "count: 30", "count: 25", 1), p.plan())
	p.does(`document.getElementById('undo').click()`)
	p.until(`document.getElementById('saved').textContent !== 'saved'`)
	shown, _ := p.server.easel.Now()
	assert.Equal(t, strings.Replace(small, "count: 30", "count: 25", 1), string(shown.Text))
}

// While the file has a fault, Save says so with its line, and offers nothing that cannot be shown.
func TestSavingOverAFault(t *testing.T) {
	rarely(t)
	p := watched(t, small)
	p.write("pieces", "25")
	p.eventually("25 pieces", func(st state) bool { return st.PieceCount == 25 })
	broken := strings.Replace(small, "spacing: 120", "spacing: wide", 1)
	require.NoError(t, os.WriteFile(p.path, []byte(broken), 0o644))
	p.does(`document.getElementById('save').click()`)
	says, buttons := p.dialog()
	assert.Contains(t, says, "hall.yaml, line 22")
	assert.Contains(t, says, `"wide" is not a length`)
	assert.Equal(t, []string{"Save mine over it", "Decide later"}, buttons)
	p.helped(buttons)
	p.see("outside-fault")
	// It is mended there while the dialog is open.
	require.NoError(t, os.WriteFile(p.path, []byte(strings.Replace(small, "count: 30", "count: 28", 1)), 0o644))
	p.until(`document.getElementById('outside').innerText.includes('“pieces” was changed here and there')`)
	_, buttons = p.dialog()
	assert.Equal(t, []string{"Take theirs", "Save mine over it", "Decide later"}, buttons)
	p.helped(buttons)
	p.see("outside-conflict")
	require.NoError(t, os.Remove(p.path))
	p.until(`document.getElementById('outside').innerText.includes('is gone from the folder')`)
	_, buttons = p.dialog()
	assert.Equal(t, []string{"Save mine again", "Decide later"}, buttons)
	p.helped(buttons)
	p.does(`document.getElementById('outside-over').click()`)
	p.until(`document.getElementById('saved').textContent === 'saved'`)
	assert.Contains(t, p.plan(), "count: 25")
}

// watched opens the plan in a tab, with its file looked at as the program does.
func watched(t *testing.T, text string) *tab {
	t.Helper()
	p := open(t, text, "/")
	go p.server.watch(t.Context())
	p.until(`document.querySelectorAll('.knob').length > 0`)
	return p
}
