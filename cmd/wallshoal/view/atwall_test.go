package view

import (
	"fmt"
	"net/http"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/progress"
	"wallshoal/examples"
)

// Every caution that the sheets put at a hole is said at the wall too: its severity as the scope explains it, what it is and
// what to do in whole sentences, the gravest first, and the code by which the sheets have it.
func TestCautionsInWords(t *testing.T) {
	for name, text := range map[string]string{"ferry": examples.Ferry, "health centre": examples.HealthCentre} {
		v := served(t, text)
		st := decoded[standsState](t, v.get("/api/stands").body)
		codes := map[int][]string{}
		shown, _ := v.server.easel.Now()
		for _, h := range shown.Work.Map.Holes {
			codes[h.Number] = h.Cautions
		}
		for i, w := range st.Warnings {
			assert.Equal(t, i, slices.Index(st.Warnings, w), "%s: each once", name)
			assert.Regexp(t, `^[A-Z].*\.$`, w.What, name)
			assert.Regexp(t, `^[A-Z].*\.$`, w.Todo, name)
			assert.Contains(t, strings.ToLower(w.Heading), w.Severity+": ", name)
			if strings.Contains(w.Code, "-") { // and not a word of the language
				assert.NotContains(t, w.What+w.Todo, w.Code, name)
			}
		}
		met := 0
		for _, s := range st.Stands {
			assert.NotEmpty(t, s.Wall, "%s, stand %d: cables can lie in every wall", name, s.Number)
			for _, p := range s.Pieces {
				for _, h := range p.Holes {
					var said []string
					rank := 0
					for _, i := range h.Cautions {
						w := st.Warnings[i]
						said = append(said, w.Code)
						now := slices.Index([]string{"stop", "ask", "note"}, w.Severity)
						assert.GreaterOrEqual(t, now, rank, "%s, hole %d: the gravest first", name, h.Number)
						rank = now
					}
					slices.Sort(said)
					assert.Equal(t, codes[h.Number], slices.Compact(said), "%s, hole %d", name, h.Number)
					met += len(said)
				}
			}
		}
		assert.Positive(t, met, name)
	}
}

// A tick that comes late is of the time at which it was done, and one of another layout than the one shown is refused, so that
// the page keeps it: it would tick another piece.
func TestTicksThatComeLate(t *testing.T) {
	v := served(t, small)
	st := decoded[standsState](t, v.get("/api/stands").body)
	id, stand := st.Stands[0].Pieces[0].ID, st.Stands[0].Number
	assert.Equal(t, http.StatusConflict, v.post("/api/progress", fmt.Sprintf(`{"do":"up","pieces":[%d],"layout":"OTHER"}`, id)).status)
	assert.Zero(t, decoded[standsState](t, v.get("/api/stands").body).Hanging)
	for _, body := range []string{
		fmt.Sprintf(`{"do":"up","pieces":[%d],"layout":%q,"ago":90}`, id, st.Fingerprint),
		fmt.Sprintf(`{"do":"begin","stand":%d,"layout":%q,"ago":3600}`, stand, st.Fingerprint),
		fmt.Sprintf(`{"do":"end","stand":%d,"layout":%q,"ago":1800}`, stand, st.Fingerprint),
	} {
		r := v.post("/api/progress", body)
		require.Equal(t, http.StatusOK, r.status, r.body)
	}
	log, err := v.server.installing(t.Context())
	require.NoError(t, err)
	record := log.Record()
	now := v.server.o.Now()
	assert.Equal(t, now.Add(-90*time.Second), record.Up[0].At)
	assert.InDelta(t, 30, record.Stands[0].Minutes(), 1e-9)
	// Somebody forgot to end the stand: what it took counts in place of what was timed.
	r := v.post("/api/progress", fmt.Sprintf(`{"do":"correct","stand":%d,"minutes":12.5}`, stand))
	require.Equal(t, http.StatusOK, r.status, r.body)
	assert.InDelta(t, 12.5, decoded[standsState](t, r.body).Stands[0].Minutes, 1e-9)
	for _, minutes := range []string{"0", "-1", "10001"} {
		r := v.post("/api/progress", fmt.Sprintf(`{"do":"correct","stand":%d,"minutes":%s}`, stand, minutes))
		assert.Equal(t, http.StatusUnprocessableEntity, r.status, r.body)
	}
	for ago, want := range map[float64]time.Duration{-5: 0, 0: 0, 60: time.Minute, 1e300: latest} {
		assert.Equal(t, want, late(ago), ago)
	}
}

// A tick that cannot be kept just now is another answer than one of a piece that there is not: the page asks again.
func TestATickThatCannotBeKept(t *testing.T) {
	v := served(t, small)
	assert.Equal(t, http.StatusUnprocessableEntity, v.post("/api/progress", `{"do":"up","pieces":[999]}`).status)
	id := decoded[standsState](t, v.get("/api/stands").body).Stands[0].Pieces[0].ID
	up := fmt.Sprintf(`{"do":"up","pieces":[%d]}`, id)
	require.Equal(t, http.StatusOK, v.post("/api/progress", up).status)
	require.NoError(t, os.Remove(v.server.progressPath())) // somebody tidies up
	r := v.post("/api/progress", strings.Replace(up, "up", "down", 1))
	assert.Equal(t, http.StatusServiceUnavailable, r.status, r.body)

	v = served(t, small)
	require.NoError(t, os.Mkdir(v.server.progressPath(), 0o755))
	_, err := progress.Open(t.Context(), v.server.progressPath())
	require.Error(t, err)
	assert.Equal(t, http.StatusServiceUnavailable, v.post("/api/progress", up).status)
}

// A page says the name of a knob as it shows it, with the field of the plan in brackets.
func TestFieldsAreSaidAsKnobs(t *testing.T) {
	rarely(t)
	p := open(t, small, "/")
	p.until(pictureThere)
	p.does(`import('/page/labels.js').then((m) => { m.learn([{ id: 'seed', label: 'seed' }, { id: 'composition.spacing', label: 'spacing' }, { id: 'composition.flow[1].strength', label: 'current 2, strength' },
			{ id: 'composition.mix', label: 'mixed' }, { id: 'composition.mix.families', label: 'families of' }]); window.said = m.labelled })`)
	p.until(`window.said`)
	for text, want := range map[string]string{
		"make composition.spacing smaller":                     "make “spacing” (composition.spacing) smaller",
		"composition.spacing.":                                 "“spacing” (composition.spacing).",
		"composition.spacings, my.composition.spacing":         "composition.spacings, my.composition.spacing",
		"composition.flow[1].strength and composition.flow[1]": "“current 2, strength” (composition.flow[1].strength) and composition.flow[1]",
		"composition.mix.families":                             "“families of” (composition.mix.families)",
		"another seed":                                         "another seed",
		"":                                                     "",
	} {
		assert.Equal(t, want, js[string](p, fmt.Sprintf(`window.said(%q)`, text)))
	}
	p.run(chromedp.Reload())
	p.until(pictureThere)
	p.write("spacing", "900")
	p.until(`[...document.querySelectorAll('.knob .fault')].some((f) => !f.hidden && f.textContent)`)
	said := js[string](p, `[...document.querySelectorAll('.knob .fault')].find((f) => !f.hidden).textContent`)
	assert.Contains(t, said, "(“pieces”, hall.yaml, line ")
	p.clean()
}

// What forbids a hole stands above the measurements of its piece, all else below them, each once; what is of some of its holes
// says of which.
func TestWhatForbidsAHoleComesFirst(t *testing.T) {
	p := open(t, small, "/install")
	p.run(chromedp.EmulateViewport(360, 640, chromedp.EmulateMobile))
	p.until(`document.querySelectorAll('#pieces input').length > 0`)
	p.does(`import('/page/hole.js').then((m) => {
		const w = (severity, what) => ({ severity, heading: severity + ': what that means', code: 'code-' + what, what: what + ' is so.', todo: 'Do something about it.', decided: severity === 'ask' ? 'owner: it was traced.' : '' });
		const hole = (number, cautions) => ({ number, left: 'the left end', foot: 'the floor', fromLeft: '1234 mm', fromDatum: '-200 mm', up: '1300 mm', aboveFloor: '1300 mm', bit: '5 mm', depth: '30 mm', fixing: 'pin', cautions });
		const holes = document.createElement('div');
		holes.id = 'tried';
		document.getElementById('holes').before(holes);
		holes.replaceChildren(...m.setOut([hole(7, [2, 1, 0]), hole(8, [2])], [w('note', 'Dust'), w('stop', 'A pipe'), w('ask', 'A cable')]));
		window.set = true })`)
	p.until(`window.set`)
	p.see("install-stop")
	assert.Equal(t, []string{"warned stop", "hole", "hole", "warned ask", "warned note"}, js[[]string](p, `[...document.getElementById('tried').children].map((e) => e.className)`))
	assert.Equal(t, []string{"Hole 7: A pipe is so.", "A cable is so.", "Hole 7: Dust is so."}, js[[]string](p, `[...document.querySelectorAll('#tried .warned b')].map((b) => b.textContent)`))
	assert.Contains(t, js[string](p, `document.querySelector('#tried .warned.ask').textContent`), "Acknowledged by the owner: it was traced.")
	p.clean()
}
