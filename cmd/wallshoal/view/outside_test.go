package view

import (
	"fmt"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/easel"
)

// What is shown of a change outside: what was changed on either side, and whether both can be kept.
func TestWhatWasChangedOutside(t *testing.T) {
	v := served(t, small)
	ask := func() difference {
		r := v.get("/api/difference")
		require.Equal(t, http.StatusOK, r.status, r.body)
		return decoded[difference](t, r.body)
	}
	assert.Empty(t, ask().Files)
	v.stateAfter("/api/knobs", `{"set":[{"knob":"seed","value":"8"}]}`)
	theirs := strings.Replace(small, "spacing: 120", "spacing: 118", 1)
	require.NoError(t, os.WriteFile(v.path, []byte(theirs), 0o644))
	d := ask()
	assert.NotEmpty(t, d.Seen)
	assert.Equal(t, difference{
		Files: []string{"hall.yaml"}, How: "changed", Faults: []fault{}, Both: true,
		Here: changes{Knobs: []string{"seed: 3 → 8"}, Pieces: []int{}}, There: changes{Knobs: []string{"spacing: 120 mm → 118 mm"}, Pieces: []int{}},
		Lost: []string{"seed: 3", "spacing: 118"}, Seen: d.Seen,
	}, d)
	st := v.stateAfter("/api/outside", `{"take":"both"}`)
	assert.Equal(t, uint64(8), st.Seed)
	assert.Equal(t, theirs, v.plan(), "not saved")
	v.stateAfter("/api/save", `{}`)
	assert.Equal(t, strings.Replace(theirs, "seed: 3", "seed: 8", 1), v.plan())

	v.stateAfter("/api/knobs", `{"set":[{"knob":"seed","value":"9"}]}`)
	require.NoError(t, os.WriteFile(v.path, []byte(theirs), 0o644)) // with another seed than was saved
	d = ask()
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
	// That step never had the other's lines: saving it asks, and names them.
	p.until(`!document.getElementById('outside-note').hidden`)
	p.does(`document.getElementById('save').click()`)
	says, buttons = p.dialog()
	for _, line := range []string{"spacing: 118", "datum: 1500 # the line of the sill"} {
		assert.Contains(t, says, line)
	}
	p.helped(buttons)
	p.see("outside-undone")
	assert.Contains(t, p.plan(), "the sill")
	p.does(`document.getElementById('outside-over').click()`)
	p.until(`document.getElementById('saved').textContent === 'saved'`)
	assert.NotContains(t, p.plan(), "the sill")
}

// Pieces are placed here while another program writes the layout: the dialog names those that lie otherwise, and either layout can be
// taken.
func TestALayoutChangedOutsideInABrowser(t *testing.T) {
	p := watched(t, small)
	p.stateAfter("/api/pieces", `{"changes":[{"do":"place","id":4,"face":0,"at":[1400,1500],"heading":0}]}`)
	p.stateAfter("/api/save", `{}`)
	path := easel.LayoutBeside(p.path)
	saved, err := os.ReadFile(path)
	require.NoError(t, err)
	p.stateAfter("/api/pieces", `{"changes":[{"do":"place","id":5,"face":0,"at":[1200,1200],"heading":0}]}`)
	theirs := strings.Replace(string(saved), "[1400, 1500]", "[1400, 1520]", 1)
	require.NoError(t, os.WriteFile(path, []byte(theirs), 0o644))
	p.until(`!document.getElementById('outside-note').hidden && document.getElementById('outside-why').textContent.includes('hall.layout.yaml')`)
	p.does(`document.getElementById('save').click()`)
	says, buttons := p.dialog()
	assert.Contains(t, says, "The layout hall.layout.yaml was changed by another program")
	assert.Contains(t, says, "piece 4, which lies otherwise")
	assert.Contains(t, says, "piece 5, which lies otherwise")
	assert.Equal(t, []string{"Take theirs", "Save mine over it", "Decide later"}, buttons)
	p.helped(buttons)
	p.see("outside-layout")
	p.does(`document.getElementById('outside-theirs').click()`)
	p.eventually("theirs", func(st state) bool { return at(st, 4).At == point{1400, 1520} && st.Outside == "" && st.Saved })
	p.does(`document.getElementById('undo').click()`)
	p.eventually("mine", func(st state) bool { return at(st, 5).At == point{1200, 1200} && st.Outside == "changed" })
	p.does(`document.getElementById('save').click()`)
	p.dialog()
	p.does(`document.getElementById('outside-over').click()`)
	p.eventually("saved", func(st state) bool { return st.Saved })
	require.NoError(t, os.Remove(path))
	p.until(`document.getElementById('outside-why').textContent.includes('hall.layout.yaml is gone')`)
	p.does(`document.getElementById('save').click()`)
	_, buttons = p.dialog()
	assert.Equal(t, []string{"Save mine again", "Decide later"}, buttons)
	p.does(`document.getElementById('outside-over').click()`)
	p.until(`!document.getElementById('outside').open && document.getElementById('outside-note').hidden`)
	assert.FileExists(t, path)
}

// An editor that writes a file in two steps makes no fault to be seen.
func TestNoFaultWhileAnEditorWrites(t *testing.T) {
	p := watched(t, small)
	p.does(`window.blinked = 0; new MutationObserver(() => { if (!document.getElementById('faults').hidden) window.blinked++ }).observe(document.getElementById('faults'), {attributes: true, childList: true, subtree: true})`)
	for i := range 4 {
		whole := strings.Replace(small, "count: 30", fmt.Sprintf("count: %d", 20+i), 1)
		require.NoError(t, os.WriteFile(p.path, []byte(whole[:len(whole)/2]), 0o644))
		time.Sleep(time.Duration(i+1) * 50 * time.Millisecond)
		require.NoError(t, os.WriteFile(p.path, []byte(whole), 0o644))
		p.eventually("whole", func(st state) bool { return st.PieceCount == 20+i })
	}
	assert.Zero(t, js[int](p, `window.blinked`))
	p.clean()
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
