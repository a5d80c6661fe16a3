package plan_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/examples"
)

// One slip of the hand in a plan in feet and inches gives one fault, and no others that only come
// of it.
func TestASlipGivesOneFault(t *testing.T) {
	for _, tt := range []struct{ name, from, to, want string }{
		{"a misspelt unit", "\nunits: in ", "\nunits: inchs ", `units: "inchs" is not a unit of length; did you mean in?`},
		{"an unknown unit", "\nunits: in ", "\nunits: yards ", `units: "yards" is not a unit of length; write mm, cm, m, in or ft`},
		{"no space", "\nunits: in ", "\nunits:in ", "there is no space after the colon; write units: in"},
		{"a comma in a piece's length", "    heads: right\n", "    heads: right\n    length: 2,5\n", `pieces[0].length: "2,5" has a comma; write a point before decimals and nothing between thousands, like 1234.5`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			text := oneLength(examples.ReadingRoom)
			require.Contains(t, text, tt.from)
			_, err := plan.Read("p.yaml", []byte(strings.Replace(text, tt.from, tt.to, 1)))
			require.Error(t, err)
			assert.Regexp(t, `^p\.yaml:\d+: `, err.Error())
			_, said, _ := strings.Cut(err.Error(), ": ")
			assert.Equal(t, tt.want, said)
		})
	}
}

// oneLength returns the plan with no length on its first piece.
func oneLength(text string) string {
	before, pieces, _ := strings.Cut(text, "\npieces:")
	var kept []string
	gone := false
	for line := range strings.Lines(pieces) {
		if !gone && strings.HasPrefix(line, "    length:") {
			gone = true
			continue
		}
		kept = append(kept, line)
	}
	return before + "\npieces:" + strings.Join(kept, "")
}

func TestAnOutlineThatCrossesItself(t *testing.T) {
	for _, outline := range []string{
		"points: [[0, 0], [60, 40], [60, 0], [0, 40]]",
		`path: "M 0,0 L 60,40 L 60,0 L 0,40 Z"`,
	} {
		text, _ := change(t, []string{"points: [[0, 0], [60, 0], [30, 40]]", outline})
		_, err := plan.Read("p.yaml", []byte(text))
		assert.ErrorContains(t, err, "pieces[1].outline: the outline crosses itself; draw it once round", outline)
	}
}

func TestHowFarSomethingReachesBeyondASlope(t *testing.T) {
	const text = `title: Leaves
units: in
room:
  datum: 60
  walls:
    - name: Wall
      outline: [[0, 0], [120, 0], [120, 30], [0, 100]]
      surface: brick
      obstructions:
        - {kind: window, left: 80, bottom: 40, width: 30, height: 40}
pieces:
  - name: Leaf
    code: A
    outline: {ellipse: [4, 1]}
    holes: [{at: [0, 0], bit: 1/16, depth: 1, fixing: pin}]
    stand-off: 1
composition: {count: 5, spacing: 5}
`
	_, err := plan.Read("p.yaml", []byte(text))
	assert.ErrorContains(t, err, `reaches 3'-2 1/8" past the outline of the wall`, "(110, 80) lies 38.15 in from the slope")
}
