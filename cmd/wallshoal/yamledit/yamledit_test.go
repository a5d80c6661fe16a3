package yamledit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/yamledit"
)

func path(t testing.TB, field string) []yamledit.Step {
	steps, err := yamledit.Path(field)
	require.NoError(t, err)
	return steps
}

func TestChanges(t *testing.T) {
	type m = yamledit.Map
	type l = yamledit.List
	for _, c := range []struct {
		name, field   string
		value         any // nil to remove
		before, after string
	}{
		{"a number", "count", 441, "count: 440\n", "count: 441\n"},
		{"a number that is so", "count", 440.0, "count: 440.0\n", "count: 440.0\n"},
		{"zeros before a number", "count", 17, "count: 017\n", "count: 017\n"},
		{"no exponent", "gap", 0.00001, "gap: 1\n", "gap: 0.00001\n"},
		{"a word that is so", "part", true, "part: yes\n", "part: yes\n"},
		{"true to false", "part", false, "part: on # why\n", "part: false # why\n"},
		{"comment keeps its column", "count", 1000, "count: 440   # so many\n", "count: 1000  # so many\n"},
		{"comment keeps its column when shorter", "count", 7, "count: 440   # so many\n", "count: 7     # so many\n"},
		{"comment moves where there is no room", "count", 1000000, "count: 440   # so many\n", "count: 1000000 # so many\n"},
		{"comment one space behind", "count", 7, "count: 440 # so many\n", "count: 7 # so many\n"},
		{"comments lined up", "a", 7, "a: 440 # one\nb: 320 # two\n", "a: 7   # one\nb: 320 # two\n"},
		{"comment after a tab", "a", 7, "a: 440 \t # one\n", "a: 7 \t # one\n"},
		{"comment after braces", "a.b", 1234, "a: {b: 1, c: 2}   # x\n", "a: {b: 1234, c: 2} # x\n"},
		{"wide letters before", "a.b", 5, "a: {n: Größe ≈ 3, b: 400}  # ä\n", "a: {n: Größe ≈ 3, b: 5}    # ä\n"},
		{"a length", "a", "7'-6 1/2\"", "a: 180mm\n", "a: 7'-6 1/2\"\n"},
		{"double quotation marks", "a", `7'-6"`, `a: "2 m"` + "\n", `a: "7'-6\""` + "\n"},
		{"single quotation marks", "a", `7'-6"`, "a: '2 m'\n", `a: '7''-6"'` + "\n"},
		{"needs quotation marks", "a", "x: y", "a: b\n", "a: \"x: y\"\n"},
		{"needs them for a comment", "a", "x #y", "a: b\n", "a: \"x #y\"\n"},
		{"needs them in braces", "a.b", "x, y", "a: {b: c}\n", "a: {b: \"x, y\"}\n"},
		{"needs none outside", "a", "x, y", "a: b\n", "a: x, y\n"},
		{"nothing at all", "a", "", "a: b\n", "a: \"\"\n"},
		{"reads as nothing", "a", "null", "a: b\n", "a: \"null\"\n"},
		{"two lines", "a", "x\ny", "a: b\n", `a: "x\ny"` + "\n"},
		{"over two lines", "a", "z", "a: x\n  y\nb: 1\n", "a: z\nb: 1\n"},
		{"over two lines, the same", "a", "x y", "a: x\n  y\nb: 1\n", "a: x\n  y\nb: 1\n"},
		{"quoted over two lines", "a", "z", "a: \"x\n  y\" # c\nb: 1\n", "a: \"z\" # c\nb: 1\n"},
		{"empty", "count", 90, "count:\nx: 1\n", "count: 90\nx: 1\n"},
		{"empty with a comment", "count", 90, "count:      # how many\nx: 1\n", "count: 90   # how many\nx: 1\n"},
		{"empty in braces", "a.b", 90, "a: {b: , c: 1}\n", "a: {b: 90 , c: 1}\n"},
		{"without a colon in braces", "a.b", 90, "a: {b, c: 1}\n", "a: {b: 90, c: 1}\n"},
		{"empty item", "a[1]", 90, "a:\n  - 1\n  -\n  - 3\n", "a:\n  - 1\n  - 90\n  - 3\n"},
		{"a point", "a[0].at[1]", 12.5, "a:\n- {at: [1, 2]}\n", "a:\n- {at: [1, 12.5]}\n"},
		{"a list for a list", "at", l{1, "2 m"}, "at: [ 5,\n  6 ]   # place\n", "at: [1, 2 m]   # place\n"},
		{"a map for a single value", "mix", m{{"families", 5}}, "mix: scattered  # or so\n", "mix: {families: 5} # or so\n"},
		{"a single value for lines", "sizes", "80 %", "sizes:   # two\n  - 1\n  - 2\n\n# next\nb: 1\n", "sizes: 80 % # two\n\n# next\nb: 1\n"},
		{"a map for an item", "a[0]", m{{"c", 1}}, "a:\n  - b: 1\n    c: 2\n  - 3\n", "a:\n  - {c: 1}\n  - 3\n"},
		{"CRLF", "b", "x", "a: 1\r\nb: 2 # c\r\nc: 3\r\n", "a: 1\r\nb: x # c\r\nc: 3\r\n"},
		{"byte order mark", "a", 3, "\ufeffa: 1", "\ufeffa: 3"},
		{"after a multi-line text", "b", 3, "a: |\n  x # no comment\n\n   y\n# yes\nb: 1 # c\n", "a: |\n  x # no comment\n\n   y\n# yes\nb: 3 # c\n"},

		{"add", "b.d", 5, "b:\n  c: 1  # one\n\n# next\ne: 1\n", "b:\n  c: 1  # one\n  d: 5\n\n# next\ne: 1\n"},
		{"add at the top", "z", "x", "a: 1\n# end\n", "a: 1\nz: x\n# end\n"},
		{"add without a last line end", "z", 1, "a: 1", "a: 1\nz: 1"},
		{"add with CRLF", "z", 1, "a: 1\r\nb: 2", "a: 1\r\nb: 2\r\nz: 1"},
		{"add in braces", "a.c", "x, y", "a: {b: 1}   # c\n", "a: {b: 1, c: \"x, y\"} # c\n"},
		{"add in braces over lines", "a.c", 2, "a: {\n  b: 1, # one\n}\n", "a: {\n  b: 1, c: 2, # one\n}\n"},
		{"add in empty braces", "a.c", 2, "a: {}\n", "a: {c: 2}\n"},
		{"add behind a dash", "a[0].c", 2, "a:\n  - b: 1\n  - b: 2\n", "a:\n  - b: 1\n    c: 2\n  - b: 2\n"},
		{"add an absent section", "composition.density.base", "12 per m2", "composition:\n    count: 1\nprint: {}\n",
			"composition:\n    count: 1\n    density:\n        base: 12 per m2\nprint: {}\n"},
		{"add a whole section", "install.reach.width", 1100, "a: 1\n", "a: 1\ninstall:\n  reach:\n    width: 1100\n"},
		{"add under an empty key", "b.c", 1, "b:   # later\n  # all of it\nd: 1\n", "b:   # later\n  c: 1\n  # all of it\nd: 1\n"},
		{"add under what says it is nothing", "b.c", 1, "b: ~\n", "b: {c: 1}\n"},
		{"add in braces, in depth", "b.c.d", 1, "b: {x: y}\n", "b: {x: y, c: {d: 1}}\n"},
		{"add an item", "a[2]", m{{"sweep", 80}, {"at", l{1, 2}}}, "a:\n- 1\n- b: 1\n  c: 2\nd: 1\n", "a:\n- 1\n- b: 1\n  c: 2\n- {sweep: 80, at: [1, 2]}\nd: 1\n"},
		{"add an item in brackets", "a[1]", 2, "a: [1]\n", "a: [1, 2]\n"},
		{"add a list", "a[0]", 2, "b: 1\n", "b: 1\na: [2]\n"},
		{"add a list of maps", "a[0].c", 2, "b: 1\n", "b: 1\na: [{c: 2}]\n"},
		{"add a key that needs quotation marks", "x", m{{"a: b", 1}, {"c", 2}}, "b: 1\n", "b: 1\nx: {\"a: b\": 1, c: 2}\n"},
		{"add after a multi-line text", "b", 1, "a: |\n  x\n\n  y\n", "a: |\n  x\n\n  y\nb: 1\n"},

		{"remove", "b", nil, "a: 1\nb: 2 # two\n# three\nc: 3\n", "a: 1\n# three\nc: 3\n"},
		{"remove lines", "b", nil, "a: 1\nb:\n  # in it\n  x: 1\n  y: [1,\n   2]\n\nc: 3\n", "a: 1\n\nc: 3\n"},
		{"remove the last", "b", nil, "a: 1\r\nb: 2", "a: 1"},
		{"remove the first behind a dash", "a[0].b", nil, "a:\n  - b: 1 # x\n    c: 2\n", "a:\n  - c: 2\n"},
		{"remove an item", "a[0]", nil, "a:\n  - b: 1\n    c: 2\n  - 3\n", "a:\n  - 3\n"},
		{"remove the only key", "a.b", nil, "a:   # c\n  b: 1\nd: 1\n", "a: {} # c\nd: 1\n"},
		{"remove the only item", "a[0]", nil, "a:\n- b: 1\nd: 1\n", "a: []\nd: 1\n"},
		{"remove the first in braces", "a.b", nil, "a: {b: 1, c: 2}   # x\n", "a: {c: 2}         # x\n"},
		{"remove the last in braces", "a.c", nil, "a: {b: 1, c: 2}\n", "a: {b: 1}\n"},
		{"remove the only one in braces", "a.b", nil, "a: {b: 1}\n", "a: {}\n"},
		{"remove one of three", "a[1]", nil, "a: [1, [2], 3]\n", "a: [1, 3]\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			change := yamledit.Change{Path: path(t, c.field), Value: c.value, Remove: c.value == nil}
			got, err := yamledit.Apply([]byte(c.before), []yamledit.Change{change})
			require.NoError(t, err)
			assert.Equal(t, c.after, string(got))
		})
	}
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		name, field string
		value       any
		text, says  string
	}{
		{"an alias", "b", 1, "a: &x 1\nb: *x\n", "b: *x repeats another part of the file"},
		{"an anchor", "a", 1, "a: &x 2\nb: *x\n", "a: &x names it"},
		{"under an anchor", "a.c", 1, "a: &x {c: 2}\nb: *x\n", "a: &x names it"},
		{"a merge", "b.c", 1, "a: &x {c: 2}\nb:\n  <<: *x\n", "b: takes in another part"},
		{"a tag", "a", 1, "a: !!str 2\n", "a: has a type tag"},
		{"a block scalar", "a", "x", "a: |\n  y\n", "a: is a text on lines of its own"},
		{"twice", "a", 1, "a: 2\na: 3\n", "a: is given twice, first in line 1"},
		{"no map", "a.b", 1, "a: 2\n", `a.b: lies in what is no map of keys but the single value "2"`},
		{"no list", "a[0]", 1, "a: {b: 1}\n", "a[0]: lies in what is no list but a map of keys"},
		{"beyond a list", "a[3]", 1, "a: [1, 2]\n", "a[3]: is not there: the list has 2 items"},
		{"comments lost", "a", 1, "a:\n  # c\n  b: 1\n", "a: has comments within it"},
		{"comments lost in brackets", "a", 1, "a: [1, # c\n  2]\n", "a: has comments within it"},
		{"remove what is not there", "b", nil, "a: 1\n", "b: is not there"},
		{"remove all", "a", nil, "a: 1\n", "a: is all that the file holds"},
		{"not a number", "a", nan(), "a: 1\n", "a: is to be NaN"},
		{"a hidden character", "a", "x\u200e\u202e", "a: 1\n", "a: is to hold a hidden character (U+202E)"},
		{"another type", "a", struct{}{}, "a: 1\n", "a: is to be a struct {}"},
		{"two documents", "a", 1, "a: 1\n---\nb: 1\n", "the file: holds a second document"},
		{"a list", "a", 1, "- 1\n", "the file: holds no keys and values"},
		{"nothing", "a", 1, "# x\n", "the file: holds no keys and values"},
		{"no YAML", "a", 1, "a: [1\n", "the file: cannot be read"},
		{"no text", "a", 1, "a: \xff\n", "the file: has a hidden character or no text in line 1"},
		{"a pair without braces", "a[0].c", 1, "a: [b: 1]\n", "a[0].c: lies in a pair within brackets"},
		{"keeps its last blank lines", "b", 1, "a: |+\n  x\n\n", "b: cannot be changed without harm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			change := yamledit.Change{Path: path(t, c.field), Value: c.value, Remove: c.value == nil}
			got, err := yamledit.Apply([]byte(c.text), []yamledit.Change{change})
			assert.Nil(t, got)
			assert.ErrorContains(t, err, c.says)
		})
	}
}

// All that is wrong with several changes is told at once, and none of them is made.
func TestAllFaultsAtOnce(t *testing.T) {
	text := []byte("a: 1\nb: [1]\n")
	got, err := yamledit.Apply(text, []yamledit.Change{
		{Path: path(t, "a.x"), Value: 1}, {Path: path(t, "a"), Value: 2}, {Path: path(t, "b[4]"), Value: 2}, {},
	})
	assert.Nil(t, got)
	assert.ErrorContains(t, err, "a.x: ")
	assert.ErrorContains(t, err, "b[4]: ")
	assert.ErrorContains(t, err, "the file: is asked to change as a whole")
	assert.Equal(t, "a: 1\nb: [1]\n", string(text))
}

// Changes are made one after another.
func TestChangesInTurn(t *testing.T) {
	got, err := yamledit.Apply([]byte("a: [1, 2]\n"), []yamledit.Change{
		{Path: path(t, "a[0]"), Remove: true}, {Path: path(t, "a[0]"), Value: 5}, {Path: path(t, "b.c"), Value: 1}, {Path: path(t, "b.d"), Value: 2},
	})
	require.NoError(t, err)
	assert.Equal(t, "a: [5]\nb:\n  c: 1\n  d: 2\n", string(got))
}

func TestPath(t *testing.T) {
	steps, err := yamledit.Path("room.walls[0].in hand[12][3]")
	require.NoError(t, err)
	assert.Equal(t, []yamledit.Step{yamledit.Key("room"), yamledit.Key("walls"), yamledit.Index(0),
		yamledit.Key("in hand"), yamledit.Index(12), yamledit.Index(3)}, steps)
	assert.Equal(t, "room.walls[0].in hand[12][3]", yamledit.Field(steps))
	for _, bad := range []string{"", ".", "a.", "[0]", "a[", "a[]", "a[x]", "a[1]b", "a[-1]", "a]", "a[1", "a..b"} {
		_, err := yamledit.Path(bad)
		assert.Error(t, err, bad)
	}
}

// A value that is replaced whole goes with the comments on and between its lines; those beside its key, above and
// below stay. Without that it is refused.
func TestReplacedWhole(t *testing.T) {
	const text = "a:   # key\n  b: 1 # one\n  # between\n  c: [2, # two\n    3] # three\n# below\nd: 4\n"
	path := []yamledit.Step{yamledit.Key("a")}
	_, err := yamledit.Apply([]byte(text), []yamledit.Change{{Path: path, Value: yamledit.Map{{Key: "e", Value: "5"}}}})
	require.ErrorContains(t, err, "has comments within it, which would be lost")
	got, err := yamledit.Apply([]byte(text), []yamledit.Change{{Path: path, Value: yamledit.Map{{Key: "e", Value: "5"}}, Whole: true}})
	require.NoError(t, err)
	assert.Equal(t, "a: {e: 5} # key\n# below\nd: 4\n", string(got))
	got, err = yamledit.Apply([]byte(text), []yamledit.Change{{Path: []yamledit.Step{yamledit.Key("a"), yamledit.Key("c")}, Value: "5", Whole: true}})
	require.NoError(t, err)
	assert.Equal(t, "a:   # key\n  b: 1 # one\n  # between\n  c: 5 # three\n# below\nd: 4\n", string(got))
}
