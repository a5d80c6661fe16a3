package yamledit_test

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"wallshoal/cmd/wallshoal/yamledit"
)

func nan() float64 { return math.NaN() }

// plans returns every plan that we hand out, whole or in part, by name.
func plans(t testing.TB) map[string]string {
	texts := map[string]string{}
	files, err := filepath.Glob("../../../examples/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range append(files, "../starter.yaml") {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		texts[filepath.Base(file)] = string(data)
	}
	readme, err := os.ReadFile("../../../README.md")
	require.NoError(t, err)
	blocks := regexp.MustCompile("(?s)```yaml\n(.*?)```").FindAllStringSubmatch(string(readme), -1)
	require.NotEmpty(t, blocks)
	for _, b := range blocks {
		first, _, _ := strings.Cut(b[1], "\n")
		texts["README "+strings.TrimSpace(first)] = b[1]
	}
	return texts
}

// variants returns the ways in which a text can be saved.
func variants(text string) map[string]string {
	return map[string]string{
		"LF":            text,
		"CRLF":          strings.ReplaceAll(text, "\n", "\r\n"),
		"marked":        "\ufeff" + text,
		"no end":        strings.TrimRight(text, "\n"),
		"CRLF, no end":  strings.ReplaceAll(strings.TrimRight(text, "\n"), "\n", "\r\n"),
		"many line end": text + "\n\n",
	}
}

// A found value is one of a text with the way to it.
type found struct {
	path []yamledit.Step
	node *yaml.Node
}

// values returns all values below the top of a text, in order.
func values(t testing.TB, text string) []found {
	var doc yaml.Node
	require.NoError(t, yaml.Unmarshal([]byte(strings.TrimPrefix(text, "\ufeff")), &doc))
	var all []found
	var walk func(n *yaml.Node, path []yamledit.Step)
	walk = func(n *yaml.Node, path []yamledit.Step) {
		if len(path) > 0 {
			all = append(all, found{path, n})
		}
		for i, c := range n.Content {
			own := append([]yamledit.Step(nil), path...)
			switch {
			case n.Kind == yaml.SequenceNode:
				walk(c, append(own, yamledit.Index(i)))
			case i%2 == 1:
				walk(c, append(own, yamledit.Key(n.Content[i-1].Value)))
			}
		}
	}
	walk(doc.Content[0], nil)
	return all
}

// decoded returns a text as nested maps and lists of texts, read with nothing of the package tested.
func decoded(t testing.TB, text string) any {
	var doc yaml.Node
	require.NoError(t, yaml.Unmarshal([]byte(strings.TrimPrefix(text, "\ufeff")), &doc), text)
	var plain func(n *yaml.Node) any
	plain = func(n *yaml.Node) any {
		switch n.Kind {
		case yaml.MappingNode:
			m := map[string]any{}
			for i := 0; i < len(n.Content); i += 2 {
				m[n.Content[i].Value] = plain(n.Content[i+1])
			}
			return m
		case yaml.SequenceNode:
			l := []any{}
			for _, c := range n.Content {
				l = append(l, plain(c))
			}
			return l
		}
		return n.Value
	}
	return plain(doc.Content[0])
}

// with returns what decoded returned with the value at a path put in place, or removed where it is nil.
func with(v any, path []yamledit.Step, value any) any {
	if len(path) == 0 {
		return value
	}
	switch v := v.(type) {
	case map[string]any:
		if changed := with(v[path[0].Key], path[1:], value); changed == nil {
			delete(v, path[0].Key)
		} else {
			v[path[0].Key] = changed
		}
		return v
	case []any:
		i := path[0].Index
		if changed := with(v[i], path[1:], value); changed == nil {
			return append(v[:i:i], v[i+1:]...)
		} else {
			v[i] = changed
		}
		return v
	}
	return v
}

func apply(t testing.TB, text string, changes ...yamledit.Change) string {
	got, err := yamledit.Apply([]byte(text), changes)
	require.NoError(t, err)
	return string(got)
}

// everywhere runs a check on every plan in every way to save it, with its values: all of them of the
// plan as it is, and one in twenty-three of it saved otherwise.
func everywhere(t *testing.T, check func(t *testing.T, text string, all []found)) {
	for name, plan := range plans(t) {
		for how, text := range variants(plan) {
			all := values(t, text)
			if how != "LF" {
				var some []found
				for i := len(name) % 23; i < len(all); i += 23 {
					some = append(some, all[i])
				}
				all = some
			}
			t.Run(name+", "+how, func(t *testing.T) { check(t, text, all) })
		}
	}
}

// Every value set to what it is leaves the text as it is; one set to another leaves all lines but its own,
// and set back the text as it was, for the other is as long. Unless CI=true, one in three is.
func TestEverySingleValueInTurn(t *testing.T) {
	everywhere(t, func(t *testing.T, text string, all []found) {
		var asIs []yamledit.Change
		tree := decoded(t, text)
		for i, v := range all {
			if v.node.Kind != yaml.ScalarNode {
				continue
			}
			asIs = append(asIs, yamledit.Change{Path: v.path, Value: v.node.Value})
			if i%3 > 0 && os.Getenv("CI") != "true" {
				continue
			}
			field := yamledit.Field(v.path)
			other := strings.Repeat("8", len([]rune(v.node.Value)))
			if v.node.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 || other == v.node.Value || other == "" {
				continue
			}
			changed := apply(t, text, yamledit.Change{Path: v.path, Value: other})
			if i%4 == 0 {
				with(tree, v.path, other)
				require.Equal(t, tree, decoded(t, changed), field)
				with(tree, v.path, v.node.Value)
			}
			before, after := strings.Split(text, "\n"), strings.Split(changed, "\n")
			if len(before) != len(after) {
				continue // it ran over several lines
			}
			for i := range before {
				if i != v.node.Line-1 && before[i] != after[i] {
					require.Equal(t, before[i], after[i], field)
				}
			}
			if i%10 == 0 {
				require.Equal(t, text, apply(t, changed, yamledit.Change{Path: v.path, Value: v.node.Value}), field)
			}
		}
		require.Equal(t, text, apply(t, text, asIs...))
	})
}

// A key added to any map and removed again leaves the text as it was, and so does an item of any list.
func TestAddedAndRemovedAgain(t *testing.T) {
	everywhere(t, func(t *testing.T, text string, all []found) {
		all = append(all, found{node: &yaml.Node{Kind: yaml.MappingNode, Content: make([]*yaml.Node, 2)}})
		every := 4
		if os.Getenv("CI") == "true" {
			every = 2
		}
		for i, v := range all {
			if v.node.Kind == yaml.ScalarNode || len(v.node.Content) == 0 || i%every > 0 {
				continue
			}
			step := yamledit.Key("added")
			if v.node.Kind == yaml.SequenceNode {
				step = yamledit.Index(len(v.node.Content))
			}
			at := append(append([]yamledit.Step(nil), v.path...), step)
			added := apply(t, text, yamledit.Change{Path: at, Value: "new one"})
			require.Contains(t, added, "new one", yamledit.Field(at))
			require.Equal(t, text, withoutShift(text, apply(t, added, yamledit.Change{Path: at, Remove: true})), yamledit.Field(at))
		}
	})
}

// withoutShift returns got with the blanks of want where the two differ in how many blanks stand before a
// comment in a line only: a comment that had to give way does not come back by itself.
func withoutShift(want, got string) string {
	lines, now := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range now {
		if i < len(lines) && strings.Join(strings.Fields(lines[i]), " ") == strings.Join(strings.Fields(now[i]), " ") && strings.Contains(now[i], "#") {
			now[i] = lines[i]
		}
	}
	return strings.Join(now, "\n")
}

// Every value can be removed, or there is a reason why not, and nothing else changes.
func TestEveryValueRemoved(t *testing.T) {
	refused, removed := 0, 0
	everywhere(t, func(t *testing.T, text string, all []found) {
		for i, v := range all {
			if i%11 > 0 {
				continue
			}
			got, err := yamledit.Apply([]byte(text), []yamledit.Change{{Path: v.path, Remove: true}})
			if err != nil {
				refused++
				continue
			}
			removed++
			require.Equal(t, with(decoded(t, text), v.path, nil), decoded(t, string(got)), yamledit.Field(v.path))
		}
	})
	assert.Less(t, 20*refused, removed)
}

func FuzzApply(f *testing.F) {
	for _, text := range plans(f) {
		f.Add(text, "composition.count", "441")
	}
	f.Add("a: |+\n x\n\nb: [a: {b}, ? c]\n? d\n: e\n", "b[0].a.b", "x: #")
	f.Add("a: &x !!str \"\\\"\"\nb: 'it''s'\r\n<<: *x", "b", "\n\t")
	f.Add("\ufeffa:\r  - - 1\r    - x\r     y\r", "a[0][1]", "ü")
	f.Fuzz(func(t *testing.T, text, field, value string) {
		steps, err := yamledit.Path(field)
		if err != nil || len(text) > 1<<14 {
			return
		}
		for _, change := range []yamledit.Change{
			{Path: steps, Value: value}, {Path: steps, Value: yamledit.List{value, yamledit.Map{{Key: "k", Value: value}}}}, {Path: steps, Remove: true},
		} {
			got, err := yamledit.Apply([]byte(text), []yamledit.Change{change})
			if err != nil {
				continue
			}
			var doc yaml.Node
			require.NoError(t, yaml.Unmarshal(got, &doc))
			if again, err := yamledit.Apply(got, []yamledit.Change{change}); !change.Remove {
				require.NoError(t, err)
				require.Equal(t, string(got), string(again), "made twice is made once")
			}
			unharmed(t, text, string(got), change)
		}
	})
}

// unharmed checks that nothing before the line of a changed value differs, and that no more than is asked reads
// differently.
func unharmed(t *testing.T, text, got string, change yamledit.Change) {
	for _, v := range values(t, text) {
		if yamledit.Field(v.path) != yamledit.Field(change.Path) {
			continue
		}
		var value any
		if list, ok := change.Value.(yamledit.List); ok {
			value = []any{list[0], map[string]any{"k": list[0]}}
		} else if !change.Remove {
			value = change.Value
		}
		require.Equal(t, with(decoded(t, text), v.path, value), decoded(t, got))
		before, after := strings.SplitAfter(text, "\n"), strings.SplitAfter(got, "\n")
		for i := range min(strings.Count(text[:max(0, lineStart(text, v.node.Line))], "\n"), len(after)) - 2 {
			require.Equal(t, before[i], after[i])
		}
	}
}

// lineStart returns where a line of a text begins, counted from 1 as YAML does.
func lineStart(text string, line int) int {
	for i := range text {
		if line == 1 {
			return i
		}
		if text[i] == '\n' || text[i] == '\r' && !strings.HasPrefix(text[i+1:], "\n") {
			line--
		}
	}
	return len(text)
}
