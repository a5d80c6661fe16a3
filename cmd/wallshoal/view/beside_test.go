package view

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/examples"
)

// fieldPath is a field as the plan nests it, like composition.flow[0].strength.
var fieldPath = regexp.MustCompile(`\b(room|pieces|composition|print|options|install)(\[\d+\])?\.[a-z]`)

// Beside a knob nothing that is wrong about it has the field of a plan in it, and only what is about another place of the plan
// says where that is. Every knob is set to what cannot be.
func TestBesideAKnobItIsSaidPlainly(t *testing.T) {
	plans := map[string]string{"ferry": examples.Ferry}
	if os.Getenv("CI") == "true" {
		plans = map[string]string{"ferry": examples.Ferry, "health": examples.HealthCentre, "reading": examples.ReadingRoom, "stair": examples.SchoolStair}
	}
	for name, text := range plans {
		t.Run(name, func(t *testing.T) {
			p := open(t, text, "/install") // which asks for no pictures of what is tried
			p.does(`import('/page/labels.js').then(async (m) => { m.learn((await (await fetch('/api/state')).json()).knobs); window.beside = m.besideKnob })`)
			p.until(`window.beside`)
			own, other := 0, 0
			for _, k := range p.state().Knobs {
				for _, value := range map[string][]string{"place": {"0 -500 99999"}, "path": {"0 -500 99999; 0 1 2"}, "switch": {"perhaps"}}[k.Type] {
					own += p.refusedPlainly(k, value, true)
				}
				if k.Number == nil {
					continue
				}
				own += p.refusedPlainly(k, "-1e9", true)
				other += p.refusedPlainly(k, "99999", false)
			}
			assert.Greater(t, own, 10)
			assert.Positive(t, other)
			p.clean()
		})
	}
}

// refusedPlainly sets a knob, and returns 1 if that is refused, once what is said of it is held to what is to be; own says that it
// is about the knob itself.
func (p *tab) refusedPlainly(k knobState, value string, own bool) int {
	p.t.Helper()
	r := p.post("/api/knobs", fmt.Sprintf(`{"set":[{"knob":%q,"value":%q}]}`, k.ID, value))
	if r.status == 200 {
		if decoded[state](p.t, r.body).Undo {
			p.stateAfter("/api/undo", "{}")
		}
		return 0
	}
	faults := decoded[trouble](p.t, r.body).Faults
	require.NotEmpty(p.t, faults)
	count := 0
	for _, f := range faults {
		of, err := json.Marshal(k)
		require.NoError(p.t, err)
		wrong, err := json.Marshal(f)
		require.NoError(p.t, err)
		said := js[string](p, fmt.Sprintf(`window.beside(%s, %s)`, wrong, of))
		assert.NotRegexp(p.t, fieldPath, said)
		if own || f.Field == k.ID {
			assert.NotContains(p.t, said, "hall.yaml", "%s: %s", k.ID, said)
			count = 1
			continue
		}
		assert.Contains(p.t, said, fmt.Sprintf("hall.yaml, line %d)", f.Line), "%s: %s", k.ID, said)
		count = 1
	}
	return count
}

// A knob that is pushed too far names other knobs as they are called on the page, and where in the file the place is that
// it is about.
func TestARefusalNamesThePlace(t *testing.T) {
	p := open(t, strings.Replace(small, "count: 30", "count: 60", 1), "/")
	p.until(pictureThere)
	p.slide("spacing", 400)
	fault := row("spacing") + `.querySelector('.fault')`
	p.until(`!` + fault + `.hidden`)
	said := js[string](p, fault+`.textContent`)
	assert.Regexp(t, `^60 pieces do not fit: about \d+ do.*; ask for fewer, lower “spacing”, or free more of the walls \(“[a-z ]+”, hall\.yaml, line 21\)\. `, said)
	p.both(func(width int64) {
		if width < 400 {
			p.does(`document.getElementById('sheet-toggle').click(); ` + row("spacing") + `.scrollIntoView()`)
		}
		p.look(fmt.Sprintf("beside-%d", width))
	})
	p.write("spread", "many")
	p.until(`!` + row("spread") + `.querySelector('.fault').hidden`)
	assert.True(t, strings.HasPrefix(js[string](p, row("spread")+`.querySelector('.fault').textContent`), `"many" is not a spread of headings; give a number from 0 to 120. `))
	p.clean()
}
