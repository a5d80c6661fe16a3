package main

import (
	"bytes"
	"encoding/json"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/examples"
	"wallshoal/export/scope"
)

// scopeOf returns the scope of a plan for programs.
func scopeOf(t *testing.T, plan string, flags ...string) scope.Scope {
	t.Helper()
	path := written(t, plan)
	var out, errs bytes.Buffer
	require.Equal(t, done, run(append([]string{"scope", path, "--json"}, flags...), strings.NewReader(""), &out, &errs), errs.String())
	s, err := scope.Read("scope.json", out.Bytes())
	require.NoError(t, err)
	return s
}

// rewritten returns the plan with the options cut out and further changes, each from and to.
func rewritten(t *testing.T, plan string, changes ...string) string {
	t.Helper()
	at, end := strings.Index(plan, "\noptions:"), strings.Index(plan, "\nprint:")
	require.True(t, 0 < at && at < end)
	plan = plan[:at] + plan[end:]
	for i := 0; i < len(changes); i += 2 {
		require.Contains(t, plan, changes[i])
		plan = strings.ReplaceAll(plan, changes[i], changes[i+1])
	}
	return plan
}

// An option has the figures that the plan has where it is written as the option would have it.
func TestAnOptionIsAPlanOfItsOwn(t *testing.T) {
	rarely(t)
	all := scopeOf(t, examples.Ferry)
	require.Len(t, all.Options, 3)
	for i, plan := range []string{
		rewritten(t, examples.Ferry, "\n  count: 440", "\n  count: 240", "\n          use: all", "\n          #"),
		rewritten(t, examples.Ferry),
		rewritten(t, examples.Ferry, "\n  count: 440", "\n  count: 560", "\n  spacing: 96", "\n  spacing: 88", "\n    count: 24", "\n    count: 40"),
	} {
		alone := scopeOf(t, plan)
		o := all.Options[i]
		assert.Equal(t, alone.Fingerprint, o.Fingerprint, o.Name)
		assert.Equal(t, alone.Pieces, o.Pieces, o.Name)
		assert.Equal(t, alone.Holes, o.Holes, o.Name)
		assert.Equal(t, alone.Making.Cost.Total, o.Cost.Money, o.Name)
		assert.Equal(t, alone.Making.Days, o.Days, o.Name)
		assert.Equal(t, scope.Span{Expected: alone.Making.Hours.Expected, Low: alone.Making.Hours.Low, High: alone.Making.Hours.High}, *o.Hours, o.Name)
		holes := map[string]int{}
		for _, f := range alone.Faces {
			holes[f.Wall] += f.Holes
		}
		for _, w := range o.Walls {
			assert.Equal(t, holes[w.Wall], w.Holes, o.Name)
		}
	}
	middle := scopeOf(t, rewritten(t, examples.Ferry))
	all.Options = nil
	assert.Equal(t, middle, all, "options change nothing in the plan itself")
}

// The figures of the options are the same wherever they are shown, and those of the plan as it is written
// are the figures of the work.
func TestFiguresOfOptionsAgreeEverywhere(t *testing.T) {
	rarely(t)
	dir := demonstrated(t)
	read := func(name string) string {
		data, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		return string(data)
	}
	s, err := scope.Read("scope.json", []byte(read("scope.json")))
	require.NoError(t, err)
	table := s.OptionTable()
	require.Len(t, table.Heads, 4)
	assert.Equal(t, []int{s.Pieces, s.Holes}, []int{s.Options[1].Pieces, s.Options[1].Holes})
	assert.Equal(t, s.Fingerprint, s.Options[1].Fingerprint)

	squeezed := func(text string) string { return strings.Join(strings.Fields(text), " ") }
	page := squeezed(html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(strings.ReplaceAll(read("client.html"), "</t", " </t"), "")))
	shown := map[string]string{"scope.md": squeezed(strings.ReplaceAll(read("scope.md"), " | ", " ")), "client.html": page}
	if _, err := exec.LookPath("pdftotext"); err == nil {
		for _, name := range []string{"client.pdf", "scope.pdf"} {
			text, err := exec.Command("pdftotext", "-layout", filepath.Join(dir, name), "-").Output()
			require.NoError(t, err)
			shown[name] = squeezed(string(text))
		}
	} else if os.Getenv("CI") == "true" {
		t.Error("pdftotext is not installed")
	}
	for name, text := range shown {
		rows := table.Rows
		if strings.HasPrefix(name, "client") {
			rows = s.ClientOptionTable().Rows
			for _, ours := range []string{"Work, ", "Budget of", "Last day to begin", "to spare"} {
				assert.NotContains(t, text, ours, "%s: what is the maker's own", name)
			}
		}
		for _, row := range rows {
			assert.Contains(t, text, squeezed(strings.Join(row, " ")), name)
		}
	}
	for i, o := range s.Options {
		assert.Contains(t, read("scope.md"), "]("+o.Picture+")")
		assert.Contains(t, read(o.Picture), "<svg", i)
	}
}

// What a layout that is read says is the plan as it is written; the other options are as without it.
func TestOptionsBesideALayoutThatIsRead(t *testing.T) {
	rarely(t)
	path := written(t, examples.Ferry)
	dir := filepath.Dir(path)
	wallshoal(t, "lay", path, "-o", filepath.Join(dir, "layout.yaml"))
	layout, err := os.ReadFile(filepath.Join(dir, "layout.yaml"))
	require.NoError(t, err)
	before := scopeOf(t, examples.Ferry)
	moved := filepath.Join(t.TempDir(), "layout.yaml")
	first := regexp.MustCompile(`heading: [\d.]+`)
	at := first.FindIndex(layout)
	require.NotNil(t, at)
	require.NoError(t, os.WriteFile(moved, []byte(string(layout[:at[0]])+"heading: 77, locked: true"+string(layout[at[1]:])), 0o666))
	s := scopeOf(t, examples.Ferry, "--layout", moved)
	assert.NotEqual(t, before.Fingerprint, s.Fingerprint)
	assert.Equal(t, s.Fingerprint, s.Options[1].Fingerprint)
	assert.Equal(t, before.Options[0], s.Options[0])
	assert.Equal(t, before.Options[2], s.Options[2])
}

// Where no option is the plan as it is written, that comes first.
func TestThePlanStandsBesideItsOptions(t *testing.T) {
	s := scopeOf(t, strings.Replace(examples.Ferry, "  - name: middle ", "  - count: 300\n    name: middle ", 1))
	require.Len(t, s.Options, 4)
	assert.Equal(t, "as planned", s.Options[0].Title())
	assert.Equal(t, s.Fingerprint, s.Options[0].Fingerprint)
	assert.Equal(t, 300, s.Options[2].Pieces)
}

// All that do not fit are told at once, at the lines of the options, before anything is written.
func TestOptionsThatDoNotFit(t *testing.T) {
	plan := strings.Replace(examples.Ferry, "\n    count: 560", "\n    count: 2600", 1)
	plan = strings.Replace(plan, "\n    count: 240", "\n    count: 241\n    gap: 260", 1)
	line := func(text string) int { return 1 + strings.Count(plan[:strings.Index(plan, text)], "\n") }
	path := written(t, plan)
	dir := filepath.Dir(path)
	before := contents(t, dir)
	for _, args := range [][]string{{"check", path}, {"scope", path, "-o", filepath.Join(dir, "scope")}, {"pack", path, "-o", filepath.Join(dir, "pack")}} {
		var out, errs bytes.Buffer
		assert.Equal(t, atFault, run(args, strings.NewReader(""), &out, &errs), args[0])
		said := strings.Split(strings.TrimSpace(errs.String()), "\n")
		require.Len(t, said, 3, errs.String())
		assert.Contains(t, said[0], path+":"+strconv.Itoa(line("count: 241"))+": options[0].count: 241 pieces do not fit: about ", args[0])
		assert.Contains(t, said[1], path+":"+strconv.Itoa(line("count: 2600"))+": options[2].count: 2600 pieces do not fit: about ", args[0])
		assert.Contains(t, said[1], "ask for fewer, lower spacing, or ")
		assert.Contains(t, said[2], "2 faults in ")
	}
	assert.Equal(t, before, contents(t, dir))
	for _, args := range [][]string{{"lay", path}, {"scope", path, "--fit", "budget=4200"}} {
		var out, errs bytes.Buffer
		assert.Equal(t, done, run(args, strings.NewReader(""), &out, &errs), "%s has nothing to do with options: %s", args[0], errs.String())
	}
	var out, errs bytes.Buffer
	require.Equal(t, done, run([]string{"check", written(t, examples.Ferry), "--json"}, nil, &out, &errs))
	var v struct {
		Options []struct {
			Name          string
			Pieces, Holes int
		}
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &v))
	require.Len(t, v.Options, 3)
	assert.Equal(t, 560, v.Options[2].Pieces)
	assert.Greater(t, v.Options[2].Holes, v.Options[1].Holes)
}
