package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/examples"
	"wallshoal/export/caution"
	"wallshoal/scatter"
)

// TestALaidLayoutIsAsThePlanAsks inspects every example as it is laid with several seeds.
func TestALaidLayoutIsAsThePlanAsks(t *testing.T) {
	seeds := uint64(4)
	if testing.Short() {
		seeds = 1
	}
	for name, text := range map[string]string{
		"starter": starter, "ferry": examples.Ferry, "reading room": examples.ReadingRoom, "stair": examples.SchoolStair, "health centre": examples.HealthCentre,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			j, err := job.ReadBeside(name, []byte(text), examples.Files)
			require.NoError(t, err)
			for seed := range seeds {
				layout, err := j.LayFrom(t.Context(), scatter.Start{}, seed, nil)
				require.NoError(t, err)
				found, err := scatter.Inspect(j.Site, j.Plan.Kinds, j.Plan.Composition, layout, j.Plan.Units)
				require.NoError(t, err)
				assert.Empty(t, found, "seed %d", seed)
				w, err := j.Work(layout)
				require.NoError(t, err)
				for _, c := range w.Map.Cautions {
					assert.NotContains(t, []string{caution.CodeOverlap, "crowded", "off-face", "on-obstruction", "not-free"}, c.Code, "seed %d", seed)
				}
			}
		})
	}
}

// A nudged is a plan and a pack of it, whose layout a test changes.
type nudged struct {
	t         *testing.T
	plan, dir string
}

func (n nudged) layout() string { return filepath.Join(n.dir, "layout.yaml") }

// move moves the piece with that number to another place of its face, and returns its line.
func (n nudged) move(id int, x, y float64) int {
	n.t.Helper()
	data, err := os.ReadFile(n.layout())
	require.NoError(n.t, err)
	lines := strings.Split(string(data), "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, fmt.Sprintf("- {id: %d,", id)) {
			lines[i] = regexp.MustCompile(`at: \[[^]]*\]`).ReplaceAllString(line, fmt.Sprintf("at: [%v, %v]", x, y))
			require.NoError(n.t, os.WriteFile(n.layout(), []byte(strings.Join(lines, "\n")), 0o666))
			return i + 1
		}
	}
	require.Fail(n.t, "no such piece")
	return 0
}

// pack packs the changed layout over the pack that it is in.
func (n nudged) pack() (status int, errs string) {
	var out, said bytes.Buffer
	status = run([]string{"pack", n.plan, "-o", n.dir, "--layout", n.layout()}, nil, &out, &said)
	return status, said.String()
}

// onWall returns the numbers of two pieces that hang on the wall of that name itself.
func (n nudged) onWall(name string) (first, second int) {
	n.t.Helper()
	var found []int
	for _, p := range where(where(rows(n.t, filepath.Join(n.dir, "pieces.csv")), "wall", name), "face", "wall") {
		id, err := strconv.Atoi(p["piece"])
		require.NoError(n.t, err)
		found = append(found, id)
	}
	require.Greater(n.t, len(found), 4)
	return found[0], found[4]
}

func nudging(t *testing.T, plan string) nudged {
	dir := packed(t, plan, "--paper", "Tabloid")
	return nudged{t, filepath.Join(filepath.Dir(dir), "plan.yaml"), dir}
}

// withoutOptions returns a plan without its options, which take as long to lay as the work itself.
func withoutOptions(t *testing.T, plan string) string {
	t.Helper()
	before, options, found := strings.Cut(plan, "\noptions:")
	require.True(t, found)
	_, after, found := strings.Cut(options, "\n\n")
	require.True(t, found)
	return before + "\n" + after
}

func TestAPieceOnAWindowIsRefused(t *testing.T) {
	n := nudging(t, withoutOptions(t, examples.Ferry))
	one, two := n.onWall("Long wall")
	first, second := n.move(one, 5050, 1500), n.move(two, 2120, 300)
	before := contents(t, n.dir)
	status, said := n.pack()
	assert.Equal(t, atFault, status)
	file := regexp.QuoteMeta(n.layout())
	assert.Regexp(t, fmt.Sprintf(`%s:%d: piece %d: its hole( \d)? lies on the quay window; move or turn the piece\n`, file, first, one), said)
	assert.Regexp(t, fmt.Sprintf(`%s:%d: piece %d: its hole( \d)? lies on the cleaner's socket; `, file, second, two), said)
	assert.Regexp(t, `wallshoal: \d faults in `, said)
	assert.Equal(t, before, contents(t, n.dir), "nothing was written")
}

func TestAHoleInACableIsRefused(t *testing.T) {
	const cable = "        - kind: cable\n          name: feed to the lamp\n          path: [[1000, 2300], [1000, 1400]]\n          width: 20\n"
	n := nudging(t, strings.Replace(withoutOptions(t, examples.Ferry), "        - kind: fixture\n          name: bench\n", cable+"        - kind: fixture\n          name: bench\n", 1))
	id, _ := n.onWall("Long wall")
	line := n.move(id, 1000, 2000)
	status, said := n.pack()
	assert.Equal(t, atFault, status)
	assert.Regexp(t, fmt.Sprintf(`:%d: piece %d: its hole( \d)? lies where the plan allows none: feed to the lamp `, line, id), said)
}

// Pieces that overlap are drawn, but said to.
func TestPiecesThatOverlapAreSaidTo(t *testing.T) {
	n := nudging(t, starter)
	first, second := n.onWall("Hall wall")
	at := where(rows(t, filepath.Join(n.dir, "pieces.csv")), "piece", strconv.Itoa(first))[0]
	line := n.move(second, figure(t, at["x_mm"])+5, figure(t, at["y_mm"]))

	status, said := n.pack()
	require.Equal(t, done, status, said)
	assert.Contains(t, said, fmt.Sprintf("%s:%d: piece %d: overlaps piece %d (line ", n.layout(), line, second, first))
	assert.Contains(t, said, "pieces are drawn where it has them")
	page, err := os.ReadFile(filepath.Join(n.dir, "scope.md"))
	require.NoError(t, err)
	for text, want := range map[string]bool{
		fmt.Sprintf("Pieces overlap: %d and %d", first, second): true,
		"Some of them overlap here":                             true,
		"Pieces do not overlap":                                 false,
	} {
		assert.Equal(t, want, strings.Contains(string(page), text), text)
	}

	status, again := n.pack()
	assert.Equal(t, done, status, "the pack is its own again: %s", again)
	assert.Equal(t, said, again)
}

func TestAMissingPieceIsNoted(t *testing.T) {
	n := nudging(t, starter)
	data, err := os.ReadFile(n.layout())
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(n.layout(), regexp.MustCompile(`(?m)^- \{id: 7,.*\n`).ReplaceAll(data, nil), 0o666))
	status, said := n.pack()
	assert.Equal(t, done, status)
	assert.Contains(t, said, "wallshoal: "+n.layout()+": there are 89 pieces, and the plan asks for 90\n")
}
