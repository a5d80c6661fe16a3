package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/examples"
)

// wallshoal runs a command line that must work, and returns what it wrote.
func wallshoal(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	status := run(args, strings.NewReader(""), &out, &errs)
	require.Equal(t, done, status, "wallshoal %s: %s", strings.Join(args, " "), errs.String())
	return out.String()
}

// tool returns an outside program's path. Without the program the test is skipped, or fails where
// everything has to be tested.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil && os.Getenv("CI") == "true" {
		t.Fatalf("%s is needed and not installed", name)
	} else if err != nil {
		t.Skipf("%s is not installed", name)
	}
	return path
}

// output runs an outside program, which must end well and complain of nothing.
func output(t *testing.T, name string, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	c := exec.Command(tool(t, name), args...)
	c.Stdout, c.Stderr = &out, &errs
	require.NoError(t, c.Run(), "%s: %s", name, errs.String())
	complaints := strings.ReplaceAll(errs.String(), "warning: ICC support is not available\n", "") // of how it was built
	require.Empty(t, complaints, name)
	return out.String()
}

// contents returns every file under dir by its name.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		all[name] = string(data)
		return err
	}))
	return all
}

// rows returns the rows of a CSV file by column.
func rows(t *testing.T, path string) []map[string]string {
	t.Helper()
	file, err := os.Open(path)
	require.NoError(t, err)
	defer file.Close()
	all, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, row := range all[1:] {
		r := map[string]string{}
		for i, name := range all[0] {
			r[name] = row[i]
		}
		out = append(out, r)
	}
	return out
}

// TestTheReadmesCommands runs, in order, every command line of the program that the README shows
// in a block of its own.
func TestTheReadmesCommands(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	ran := 0
	shell := false
	for line := range strings.Lines(string(readme)) {
		if mark, fenced := strings.CutPrefix(line, "```"); fenced {
			shell = strings.TrimSpace(mark) == "sh"
			continue
		}
		line, _, _ = strings.Cut(line, "#")
		line = strings.Replace(strings.TrimSpace(line), "go run ./cmd/wallshoal", "wallshoal", 1)
		if args, ours := strings.CutPrefix(line, "wallshoal "); shell && ours {
			if args := words(args); args[0] == "view" {
				viewed(t, append(args, "--no-browser")...)
			} else {
				wallshoal(t, args...)
			}
			ran++
		}
	}
	assert.GreaterOrEqual(t, ran, 4)
	assert.FileExists(t, filepath.Join(demoDir, demoPack, "hole-map.pdf"))
}

// viewed runs a command that lasts until it is told to end, tells it so as soon as it has said where it
// is, and returns what it said.
func viewed(t *testing.T, args ...string) string {
	t.Helper()
	ctx, stop := context.WithTimeout(t.Context(), time.Minute)
	defer stop()
	out := untilSaid{what: "http://", then: stop}
	var errs bytes.Buffer
	require.Equal(t, done, runUntil(ctx, args, nil, &out, &errs), errs.String())
	assert.Contains(t, out.said.String(), "http://127.0.0.1:")
	return out.said.String()
}

// An untilSaid keeps what is written to it, and does something once that has been said.
type untilSaid struct {
	said strings.Builder
	what string
	then func()
}

func (w *untilSaid) Write(p []byte) (int, error) {
	w.said.Write(p)
	if strings.Contains(w.said.String(), w.what) {
		w.then()
	}
	return len(p), nil
}

// TestTheDemoIsTheSameEachTime writes it twice in one place and once in another.
func TestTheDemoIsTheSameEachTime(t *testing.T) {
	t.Chdir(t.TempDir())
	said := wallshoal(t, "demo")
	assert.Contains(t, said, "440 pieces")
	assert.Contains(t, said, filepath.Join(demoDir, demoPack, "client.pdf"))
	first := contents(t, demoDir)
	assert.Equal(t, examples.Ferry, first[demoPlan])
	jobs, err := examples.Files.ReadFile(demoLog)
	require.NoError(t, err)
	assert.Equal(t, string(jobs), first[demoLog])

	assert.Equal(t, said, wallshoal(t, "demo"), "over the first")
	assert.Equal(t, first, contents(t, demoDir))

	if os.Getenv("CI") != "true" {
		return
	}
	wallshoal(t, "demo", "elsewhere")
	assert.Equal(t, first, contents(t, "elsewhere"), "in another folder")

	wallshoal(t, "pack", filepath.Join(demoDir, demoPlan), "-o", "packed")
	assert.Equal(t, contents(t, filepath.Join(demoDir, demoPack)), contents(t, "packed"), "pack writes what demo does")
}

func TestDemoLeavesAChangedPlanAlone(t *testing.T) {
	dir := t.TempDir()
	plan := filepath.Join(dir, demoPlan)
	require.NoError(t, os.WriteFile(plan, []byte("title: mine\n"), 0o666))
	var out, errs bytes.Buffer
	assert.Equal(t, atFault, run([]string{"demo", dir}, nil, &out, &errs))
	assert.Contains(t, errs.String(), "has been changed, and is left as it is")
	assert.Equal(t, map[string]string{demoPlan: "title: mine\n"}, contents(t, dir))

	dir = t.TempDir()
	log := filepath.Join(dir, demoLog)
	require.NoError(t, os.WriteFile(log, []byte("job,operation,units,minutes\n"), 0o666))
	errs.Reset()
	assert.Equal(t, atFault, run([]string{"demo", dir}, nil, &out, &errs))
	assert.Contains(t, errs.String(), demoLog+`" has been changed, and is left as it is`)
	assert.Equal(t, map[string]string{demoLog: "job,operation,units,minutes\n"}, contents(t, dir))
}

// A counted scope is the part of scope.json that is compared here.
type countedScope struct {
	Title, Fingerprint string
	Pieces, Holes      int
	Seed               uint64
	Faces              []struct {
		Wall          string
		Pieces, Holes int
	}
	Kinds []struct {
		Code          string
		Pieces, Holes int
	}
	Fixings []struct{ Count int }
}

func readScope(t *testing.T, dir string) (s countedScope) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, "scope.json"))
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, &s))
	return s
}

// TestPacks packs every example and holds its files to one another and to other programs.
func TestPacks(t *testing.T) {
	for _, row := range []struct {
		name, plan, paper string
		long              bool // only where there is time: CI=true
	}{
		{"starter", starter, "A4", false},
		{"starter", starter, "Letter", true},
		{"ferry", examples.Ferry, "A3", true},
		{"reading room", examples.ReadingRoom, "Tabloid", true},
		{"stair", examples.SchoolStair, "A4", true},
		{"lobby", examples.HealthCentre, "A3", true},
	} {
		t.Run(row.name+" on "+row.paper, func(t *testing.T) {
			if row.long && os.Getenv("CI") != "true" {
				t.Skip("takes some seconds; CI=true runs it")
			}
			t.Parallel()
			dir := packed(t, row.plan, "--paper", row.paper)
			t.Run("counts agree", func(t *testing.T) { countsAgree(t, dir) })
			t.Run("scopes agree", func(t *testing.T) { scopesAgree(t, dir) })
			t.Run("figures agree", func(t *testing.T) { figuresAgree(t, dir) })
			t.Run("layout reads back", func(t *testing.T) { layoutReadsBack(t, dir, row.paper) })
			t.Run("every hole is shown", func(t *testing.T) { everyHoleIsShown(t, dir) })
			t.Run("every cross is where its hole is", func(t *testing.T) { everyCrossIsWhereItsHoleIs(t, dir) })
			t.Run("other programs accept it", func(t *testing.T) { accepted(t, dir) })
		})
	}
}

// countsAgree compares what the files of a pack say of the same things.
func countsAgree(t *testing.T, dir string) {
	s := readScope(t, dir)
	holes, pieces := rows(t, filepath.Join(dir, "holes.csv")), rows(t, filepath.Join(dir, "pieces.csv"))
	assert.Len(t, holes, s.Holes, "rows of holes.csv")
	assert.Len(t, pieces, s.Pieces, "rows of pieces.csv")

	var onFaces, inFaces, ofKinds, inKinds, fixed int
	for _, f := range s.Faces {
		onFaces, inFaces = onFaces+f.Pieces, inFaces+f.Holes
	}
	for _, k := range s.Kinds {
		ofKinds, inKinds = ofKinds+k.Pieces, inKinds+k.Holes
		assert.Len(t, where(pieces, "kind", k.Code), k.Pieces, "kind %s", k.Code)
		assert.Len(t, where(holes, "kind", k.Code), k.Holes, "kind %s", k.Code)
	}
	for _, f := range s.Fixings {
		fixed += f.Count
	}
	assert.Equal(t, []int{s.Pieces, s.Pieces}, []int{onFaces, ofKinds}, "pieces by face and by kind")
	assert.Equal(t, []int{s.Holes, s.Holes, s.Holes}, []int{inFaces, inKinds, fixed}, "holes by face, kind and fixing")
}

// layoutReadsBack packs the layout that a pack holds, which must give the same pack.
func layoutReadsBack(t *testing.T, dir, paper string) {
	above := filepath.Dir(dir)
	wallshoal(t, "pack", filepath.Join(above, "plan.yaml"), "-o", filepath.Join(above, "again"),
		"--layout", filepath.Join(dir, "layout.yaml"), "--paper", paper)
	want, got := contents(t, dir), contents(t, filepath.Join(above, "again"))
	for name := range want {
		assert.True(t, want[name] == got[name], "%s is another", name)
	}
	assert.Len(t, got, len(want))
}

// everyHoleIsShown looks for the number of every hole, and for the fingerprint on every sheet, in
// the text that poppler reads out of the PDFs.
func everyHoleIsShown(t *testing.T, dir string) {
	s := readScope(t, dir)
	pages := strings.Split(output(t, "pdftotext", filepath.Join(dir, "hole-map.pdf"), "-"), "\f")
	seen := map[string]bool{}
	number := regexp.MustCompile(`\d+`)
	for i, page := range pages[:len(pages)-1] {
		assert.Contains(t, page, s.Fingerprint, "sheet %d", i+1)
		for _, n := range number.FindAllString(page, -1) {
			seen[n] = true
		}
	}
	for n := 1; n <= s.Holes; n++ {
		assert.True(t, seen[fmt.Sprint(n)], "hole %d is on no sheet", n)
	}
	client := output(t, "pdftotext", filepath.Join(dir, "client.pdf"), "-")
	assert.Contains(t, client, s.Fingerprint)
	walls := map[string][2]int{}
	for _, f := range s.Faces {
		sum := walls[f.Wall]
		walls[f.Wall] = [2]int{sum[0] + f.Pieces, sum[1] + f.Holes}
	}
	for name, sum := range walls {
		assert.Contains(t, client, fmt.Sprintf("%d pieces, %d holes", sum[0], sum[1]), name)
	}
	assert.Contains(t, client, fmt.Sprintf("Up to %d holes", s.Holes))
	page, err := os.ReadFile(filepath.Join(dir, "client.html"))
	require.NoError(t, err)
	assert.Contains(t, string(page), fmt.Sprintf("Up to %d holes", s.Holes))
	for name, sum := range walls {
		if sum[0] > 0 {
			assert.Contains(t, string(page), fmt.Sprintf("%s, %s", counted(sum[0], "piece"), counted(sum[1], "hole")), name)
		}
	}
}

// accepted checks each drawing of a pack with a program that is not ours.
func accepted(t *testing.T, dir string) {
	for _, pdf := range []string{"client.pdf", "hole-map.pdf"} {
		path := filepath.Join(dir, pdf)
		assert.Contains(t, output(t, "qpdf", "--check", path), "No syntax or stream encoding errors found", pdf)
		for _, line := range strings.Split(strings.TrimSpace(output(t, "pdffonts", path)), "\n")[2:] {
			columns := strings.Fields(line) // … encoding, embedded, subset, unicode, object, generation
			assert.Equal(t, "yes", columns[len(columns)-5], "%s embeds its fonts: %s", pdf, line)
		}
	}
	drawings, err := filepath.Glob(filepath.Join(dir, "*.svg"))
	require.NoError(t, err)
	require.Contains(t, drawings, filepath.Join(dir, "room.svg"))
	output(t, "xmllint", append([]string{"--noout"}, drawings...)...)
}

// packed writes the plan into a new folder and packs it there.
func packed(t *testing.T, plan string, flags ...string) string {
	t.Helper()
	path := written(t, plan)
	dir := filepath.Join(filepath.Dir(path), "pack")
	wallshoal(t, append([]string{"pack", path, "-o", dir}, flags...)...)
	return dir
}

// written writes the plan into a new folder, with the files of the examples beside it, and returns its
// path.
func written(t testing.TB, plan string) string {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, examples.Files))
	path := filepath.Join(dir, "plan.yaml")
	require.NoError(t, os.WriteFile(path, []byte(plan), 0o666))
	return path
}

// where returns the rows that have the value in a column.
func where(rows []map[string]string, column, value string) (found []map[string]string) {
	for _, r := range rows {
		if r[column] == value {
			found = append(found, r)
		}
	}
	return found
}

// TestAnInterruptLeavesTheOldPackWhole cancels a second pack before it can finish.
func TestAnInterruptLeavesTheOldPackWhole(t *testing.T) {
	dir := packed(t, starter)
	before := contents(t, filepath.Dir(dir))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out, errs bytes.Buffer
	args := []string{"pack", filepath.Join(filepath.Dir(dir), "plan.yaml"), "-o", dir, "--seed", "2"}
	assert.Equal(t, atFault, runUntil(ctx, args, nil, &out, &errs))
	assert.Equal(t, "wallshoal: interrupted; nothing was changed\n", errs.String())
	assert.Equal(t, before, contents(t, filepath.Dir(dir)), "nothing changed and nothing was left behind")
}
