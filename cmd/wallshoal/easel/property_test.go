package easel

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/knob"
)

// few is small with few pieces, for many steps.
var few = strings.ReplaceAll(small, "count: 30", "count: 6")

// An editor is another program that writes notes into a plan, which no knob touches, and locked pieces into a layout, which nobody
// here moves.
type editor struct {
	t      *testing.T
	rng    *rand.Rand
	path   string
	layout string
	notes  int
	placed int
}

func (w *editor) held(path string) string {
	text, err := os.ReadFile(path)
	if !os.IsNotExist(err) {
		require.NoError(w.t, err)
	}
	return string(text)
}

// write writes a file in place, or puts another in its place as editors do.
func (w *editor) write(path, text string) {
	if w.rng.IntN(2) == 0 {
		require.NoError(w.t, os.WriteFile(path, []byte(text), 0o644))
		return
	}
	require.NoError(w.t, os.WriteFile(path+".new", []byte(text), 0o644))
	require.NoError(w.t, os.Rename(path+".new", path))
}

// edit does something to the files.
func (w *editor) edit() {
	text := w.held(w.path)
	if text == "" || w.rng.IntN(8) == 0 {
		text = few // without all notes: what another program takes away it may
	}
	lines := strings.Split(strings.TrimPrefix(text, "title: [\n"), "\n")
	switch what := w.rng.IntN(12); {
	case what < 5:
		w.notes++
		lines = slices.Insert(lines, w.rng.IntN(len(lines)), fmt.Sprintf("# note %d", w.notes))
	case what < 7:
		old := []string{"spacing: ", "seed: ", "datum: "}[w.rng.IntN(3)]
		for i := range lines {
			if at := strings.Index(lines[i], old); at >= 0 {
				lines[i] = lines[i][:at] + old + strconv.Itoa([]int{100, 110, 120, 1400}[w.rng.IntN(4)])
			}
		}
	case what < 8:
		lines = slices.Insert(lines, 0, "title: [") // half written, or a slip
	case what < 9:
		require.NoError(w.t, os.RemoveAll([]string{w.path, w.layout}[w.rng.IntN(2)]))
		return
	default:
		w.lay()
		return
	}
	w.write(w.path, strings.Join(lines, "\n"))
}

// lay writes a layout with a piece of its own.
func (w *editor) lay() {
	out := "seed: 3\npieces:\n"
	if before := slices.Sorted(maps.Keys(foreign(w.held(w.layout)))); len(before) > 0 && w.rng.IntN(2) == 0 {
		out += before[0] + "\n"
	}
	w.placed++
	out += fmt.Sprintf("- {id: %d, kind: D, wall: Two, face: wall, at: [%d, %d], heading: 0, locked: true}\n",
		1000+w.placed, 200+150*(w.placed%7), 300+150*(w.placed%13))
	w.write(w.layout, out)
}

var written = regexp.MustCompile(`(?m)^# note \d+$|^- \{id: 1\d\d\d,.*$`)

// foreign returns the lines of a file that only another program writes.
func foreign(text string) map[string]bool {
	all := map[string]bool{}
	for _, line := range written.FindAllString(text, -1) {
		all[line] = true
	}
	return all
}

// Whatever somebody does here, one after another, no line that another program wrote is gone from the disk, unless it was named to somebody
// who then said that it may be.
func TestNoLineIsLostUnasked(t *testing.T) {
	did := map[string]int{}
	for seed := range uint64(8) {
		e, path := openedWith(t, few)
		rng := rand.New(rand.NewPCG(seed, 11))
		w := &editor{t: t, rng: rng, path: path, layout: LayoutBeside(path)}
		var log []string
		for range 100 {
			if rng.IntN(3) == 0 {
				w.edit()
				log = append(log, "edit")
			}
			before := [2]map[string]bool{foreign(w.held(path)), foreign(w.held(w.layout))}
			what, named := chance(t, e, rng, w)
			did[what]++
			log = append(log, what)
			for i, text := range []string{w.held(path), w.held(w.layout)} {
				after := foreign(text)
				for line := range before[i] {
					if !after[line] && !named(line) {
						require.Fail(t, "lost unasked", "seed %d: %s by %s, after %v\n%s", seed, line, what, log, text)
					}
				}
			}
			// What is said to be saved is saved, or was taken from the file and only changed there since.
			if _, status := e.Now(); what == "save" && status.Outside == Same && status.Saved {
				shown, _ := e.Now()
				require.Equal(t, w.held(path), string(shown.Text))
			}
		}
	}
	for _, what := range []string{"knob", "hand", "undo", "redo", "look", "save", "save over", "save refused", "theirs", "both", "not both"} {
		assert.Positive(t, did[what], what)
	}
	t.Log(did)
}

// chance does something here, and returns what, and which lines somebody was asked about and gave up.
func chance(t *testing.T, e *Easel, rng *rand.Rand, w *editor) (string, func(line string) bool) {
	none := func(string) bool { return false }
	ctx := t.Context()
	switch rng.IntN(9) {
	case 0:
		set := []knob.Setting{{Knob: "composition.spacing", Value: strconv.Itoa(100 + rng.IntN(30))}}
		if rng.IntN(2) == 0 {
			set = []knob.Setting{{Knob: "seed", Value: strconv.Itoa(rng.IntN(5))}}
		}
		_ = e.Change(ctx, []string{"", "drag"}[rng.IntN(2)], turnedTo(set[0].Knob, set[0].Value)) // with faults nothing changes
		return "knob", none
	case 1:
		_ = e.Hand(ctx, "", []Move{placed(1+rng.IntN(6), 0, 300+10*float64(rng.IntN(100)), 1000, 10)}, false)
		return "hand", none
	case 2, 3:
		require.NoError(t, e.Walk(-1, false))
		return "undo", none
	case 4:
		require.NoError(t, e.Walk(+1, false))
		return "redo", none
	case 5:
		for range 1 + rng.IntN(2) {
			_, err := e.Look(ctx)
			require.NoError(t, err)
		}
		return "look", none
	case 6, 7:
		err := e.Save(ctx, "")
		if err == nil {
			return "save", none
		}
		require.ErrorIs(t, err, ErrOutside)
		if rng.IntN(2) == 0 {
			return "save refused", none
		}
	default:
		if rng.IntN(2) == 0 {
			_ = e.TakeTheirs(ctx) // one that is gone cannot be
			return "theirs", none
		}
		if e.KeepBoth(ctx) != nil {
			return "not both", none
		}
		return "both", none
	}
	d, err := e.Difference(ctx)
	require.NoError(t, err)
	require.NotEmpty(t, d.Files)
	if rng.IntN(4) == 0 {
		before := w.held(w.path) + w.held(w.layout)
		w.edit()
		if before != w.held(w.path)+w.held(w.layout) {
			there := foreign(w.held(w.path) + "\n" + w.held(w.layout))
			if err := e.Save(ctx, d.Seen); err != nil {
				require.ErrorIs(t, err, ErrOutside)
			}
			return "save of another", func(line string) bool { return !there[line] } // but what the editor took away
		}
	}
	require.NoError(t, e.Save(ctx, d.Seen))
	return "save over", func(line string) bool {
		if strings.HasPrefix(line, "#") {
			return slices.Contains(d.Lost, line)
		}
		id, err := strconv.Atoi(line[len("- {id: "):strings.Index(line, ",")])
		require.NoError(t, err)
		// Where a file has faults, or the plan is gone, it is not said piece by piece.
		return slices.Contains(d.There.Pieces, id) || d.Outside != Changed && slices.Contains(d.Files, "hall.layout.yaml")
	}
}
