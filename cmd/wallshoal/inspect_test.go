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
		"starter": starter, "ferry": examples.Ferry, "reading room": examples.ReadingRoom, "stair": examples.SchoolStair,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			j, err := ready(name, []byte(text))
			require.NoError(t, err)
			for seed := range seeds {
				layout, err := j.lay(t.Context(), seed, newMeter(&bytes.Buffer{}))
				require.NoError(t, err)
				found, err := scatter.Inspect(j.site, j.plan.Kinds, j.plan.Composition, layout, j.plan.Units)
				require.NoError(t, err)
				assert.Empty(t, found, "seed %d", seed)
				w, err := j.work(layout)
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

func nudging(t *testing.T, plan string) nudged {
	dir := packed(t, plan, "--paper", "Tabloid")
	return nudged{t, filepath.Join(filepath.Dir(dir), "plan.yaml"), dir}
}

func TestAPieceOnAWindowIsRefused(t *testing.T) {
	n := nudging(t, examples.Ferry)
	first, second := n.move(3, 5050, 1500), n.move(40, 2120, 300)
	before := contents(t, n.dir)
	status, said := n.pack()
	assert.Equal(t, atFault, status)
	assert.Contains(t, said, fmt.Sprintf("%s:%d: piece 3: its hole 1 lies on the quay window; move or turn the piece\n", n.layout(), first))
	assert.Regexp(t, fmt.Sprintf(`%s:%d: piece 40: its hole \d lies on the cleaner's socket; `, regexp.QuoteMeta(n.layout()), second), said)
	assert.Regexp(t, `wallshoal: \d faults in `, said)
	assert.Equal(t, before, contents(t, n.dir), "nothing was written")
}

func TestAHoleInACableIsRefused(t *testing.T) {
	const cable = "        - kind: cable\n          name: feed to the lamp\n          path: [[1000, 2300], [1000, 1400]]\n          width: 20\n"
	n := nudging(t, strings.Replace(examples.Ferry, "        - kind: fixture\n          name: bench\n", cable+"        - kind: fixture\n          name: bench\n", 1))
	line := n.move(3, 1000, 2000)
	status, said := n.pack()
	assert.Equal(t, atFault, status)
	assert.Regexp(t, fmt.Sprintf(`:%d: piece 3: its hole( \d)? lies where the plan allows none: feed to the lamp `, line), said)
}

// Pieces that overlap are drawn, but said to.
func TestPiecesThatOverlapAreSaidTo(t *testing.T) {
	n := nudging(t, examples.Ferry)
	at := rows(t, filepath.Join(n.dir, "pieces.csv"))[4]
	x, err := strconv.ParseFloat(at["x_mm"], 64)
	require.NoError(t, err)
	y, err := strconv.ParseFloat(at["y_mm"], 64)
	require.NoError(t, err)
	line := n.move(200, x+5, y) // on the same wall or another
	data, err := os.ReadFile(n.layout())
	require.NoError(t, err)
	changed := regexp.MustCompile(`(?m)^(- \{id: 200, kind: \w+, wall: )[^,]*`).ReplaceAllString(string(data), "${1}"+at["wall"])
	require.NoError(t, os.WriteFile(n.layout(), []byte(changed), 0o666))

	status, said := n.pack()
	assert.Equal(t, done, status, said)
	assert.Contains(t, said, fmt.Sprintf("%s:%d: piece 200: overlaps piece %s (line ", n.layout(), line, at["piece"]))
	assert.Contains(t, said, "pieces are drawn where it has them")
	page, err := os.ReadFile(filepath.Join(n.dir, "scope.md"))
	require.NoError(t, err)
	assert.Contains(t, string(page), "Pieces overlap: "+at["piece"]+" and 200")
	assert.Contains(t, string(page), "Some of them overlap here")
	assert.NotContains(t, string(page), "Pieces do not overlap")

	status, again := n.pack()
	assert.Equal(t, done, status, "the pack is its own again: %s", again)
	assert.Equal(t, said[strings.Index(said, "piece 200"):], again[strings.Index(again, "piece 200"):])
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
