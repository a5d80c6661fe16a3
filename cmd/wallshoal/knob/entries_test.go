package knob

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"wallshoal/cmd/wallshoal/job"
)

// An entry of a list, as a plan writes it in braces.
type entry map[string]string

func (e entry) String() string {
	var parts []string
	for _, key := range slices.Sorted(maps.Keys(e)) {
		parts = append(parts, key+": "+e[key])
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// A model is a plan as its lists, of which a test knows which entry is which, however they are changed.
type model struct {
	seed  int
	lists map[string][]entry
}

func (m model) clone() model {
	c := model{m.seed, map[string][]entry{}}
	for list, all := range m.lists {
		for _, e := range all {
			c.lists[list] = append(c.lists[list], maps.Clone(e))
		}
	}
	return c
}

// text writes the plan.
func (m model) text() []byte {
	var b strings.Builder
	section := func(indent, key, list string) {
		if len(m.lists[list]) > 0 {
			fmt.Fprintf(&b, "%s%s:\n", indent, key)
		}
		for _, e := range m.lists[list] {
			fmt.Fprintf(&b, "%s  - %s\n", indent, e)
		}
	}
	b.WriteString("room:\n")
	section("  ", "walls", wallsList)
	section("", "pieces", piecesList)
	fmt.Fprintf(&b, "title: Lists\nseed: %d\n", m.seed)
	b.WriteString("composition:\n  count: 100\n  spacing: 60\n")
	section("  ", "flow", "composition.flow")
	b.WriteString("  density:\n    fade: {towards: right, over: 800}\n")
	section("    ", "gather", "composition.density.gather")
	section("    ", "bands", "composition.density.bands")
	return []byte(b.String())
}

func anyModel(rng *rand.Rand) model {
	m := model{3, map[string][]entry{}}
	for _, name := range []string{"North", "East", "South"} {
		m.lists[wallsList] = append(m.lists[wallsList], entry{"name": name, "length": "4000", "height": "2500", "surface": "brick", "use": "true"})
	}
	for i, name := range []string{"Leaf", "Twig", "Berry"} {
		m.lists[piecesList] = append(m.lists[piecesList], entry{
			"name": name, "code": string(rune('A' + i)), "outline": "{ellipse: [40, 20]}", "holes": "[{at: [0, 0], bit: 1.5, depth: 25, fixing: pin}]", "stand-off": "5", "share": "1",
		})
	}
	for range 1 + rng.IntN(3) {
		m.lists["composition.flow"] = append(m.lists["composition.flow"], entry{anyOf(rng, "toward", "away", "swirl"): anyPlace(rng), "strength": "1"})
	}
	for range rng.IntN(3) {
		m.lists["composition.density.gather"] = append(m.lists["composition.density.gather"], entry{"round": anyPlace(rng), "strength": anyOf(rng, "2", "3"), "reach": "500"})
	}
	for range rng.IntN(3) {
		from := 100 * rng.IntN(10)
		m.lists["composition.density.bands"] = append(m.lists["composition.density.bands"], entry{"from": fmt.Sprint(from), "to": fmt.Sprint(from + 400), "strength": "2"})
	}
	return m
}

func anyOf(rng *rand.Rand, of ...string) string { return of[rng.IntN(len(of))] }

func anyPlace(rng *rand.Rand) string {
	return fmt.Sprintf("{wall: %s, at: [%d, %d]}", anyOf(rng, "North", "East", "South"), 100+rng.IntN(3800), 100+rng.IntN(2300))
}

// edit changes the lists as somebody does in an editor, and reports whether it only put entries elsewhere.
func (m *model) edit(rng *rand.Rand) bool {
	if rng.IntN(2) == 0 {
		m.seed = 4
	}
	moved := true
	names := slices.Sorted(maps.Keys(m.lists))
	for range 1 + rng.IntN(4) {
		list := anyOf(rng, names...)
		all := m.lists[list]
		named := list == wallsList || list == piecesList
		i := rng.IntN(len(all))
		switch what := rng.IntN(6); {
		case what < 3:
			rng.Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
		case what < 4 && !named:
			all[i]["strength"] = fmt.Sprint(2 + rng.IntN(5))
			moved = false
		case what < 5 && !named:
			for _, key := range []string{"toward", "away", "swirl", "round"} {
				if all[i][key] != "" {
					all[i][key] = anyPlace(rng)
				}
			}
			moved = false
		case !named && len(all) > 1:
			m.lists[list] = slices.Delete(all, i, i+1)
			moved = false
		}
	}
	return moved
}

// turn turns a knob of an entry by its place in the lists of base, and writes the same into the entry of theirs with which it goes;
// false where that is gone or was changed there too.
func turn(rng *rand.Rand, base model, v Version, theirs map[string][]entry) (Setting, bool) {
	list := anyOf(rng, slices.Sorted(maps.Keys(base.lists))...)
	i := rng.IntN(len(base.lists[list]))
	key, value := "strength", fmt.Sprint(7+rng.IntN(4))
	switch list {
	case wallsList:
		key, value = "use", "false"
	case piecesList:
		key = "share"
	}
	was := base.lists[list][i]
	set := Setting{fmt.Sprintf("%s[%d].%s", list, i, key), value}
	for _, place := range []string{"toward", "away", "swirl", "round"} {
		if was[place] != "" && rng.IntN(2) == 0 {
			key = place
			x, y := 10*rng.IntN(300), 10*rng.IntN(200)
			face := rng.IntN(3)
			name := v.Job.Site.Room.Walls[v.Job.Site.Faces[face].Wall].Name
			set = Setting{fmt.Sprintf("%s[%d].%s", list, i, place), fmt.Sprintf("%d %d %d", face, x, y)}
			value = fmt.Sprintf("{wall: %s, at: [%d, %d]}", name, x, y)
		}
	}
	e := theirs[list][i]
	if e == nil || e[key] != was[key] {
		return set, false
	}
	e[key] = value
	return set, true
}

// Whatever was put elsewhere, changed or taken away in an editor, a knob that was turned here is turned of the very entry that it is of, or
// it is said that both cannot be kept. Where entries were only put elsewhere both can.
func TestMergingKnowsWhatEntryItIs(t *testing.T) {
	rooms := map[string]job.Job{}
	read := func(text []byte) (job.Job, error) { // and surveys a room once
		room, _, _ := strings.Cut(string(text), "pieces:\n")
		j, err := rooms[room].Reread("lists", text, nil)
		if err == nil {
			rooms[room] = j
		}
		return j, err
	}
	merged, refused := 0, 0
	for seed := range uint64(25) {
		rng := rand.New(rand.NewPCG(seed, 21))
		was := anyModel(rng)
		base := Version{Text: was.text()}
		var err error
		base.Job, err = read(base.Text)
		require.NoError(t, err)
		for range 4 {
			is := was.clone()
			which := map[string][]entry{} // of was, the entries of is
			for list, all := range is.lists {
				which[list] = slices.Clone(all)
			}
			moved := is.edit(rng)
			for list, all := range which {
				for i, e := range all {
					if !slices.ContainsFunc(is.lists[list], func(other entry) bool { return sameEntry(e, other) }) {
						which[list][i] = nil
					}
				}
			}
			theirs := Version{Text: is.text()}
			if theirs.Job, err = read(theirs.Text); err != nil {
				continue // a band or a place that does not go with the others
			}
			set, may := turn(rng, was, base, which)
			mine, err := base.with([]Setting{set}, read)
			require.NoError(t, err, set)
			want, err := read(is.text())
			require.NoError(t, err)
			got, err := Merge(base, mine, theirs, read)
			if err != nil {
				refused++
				require.False(t, moved && may, "%v: %v\n%s\n%s", set, err, base.Text, theirs.Text)
				continue
			}
			merged++
			j, err := read(got)
			require.NoError(t, err)
			require.True(t, may && sameAsked(want.Plan, j.Plan), "%v\n%s\n%s\n%s", set, base.Text, theirs.Text, got)
		}
	}
	assert.Greater(t, merged, 50)
	assert.Greater(t, refused, 3)
}

// sameEntry reports whether two entries are one and the same.
func sameEntry(a, b entry) bool {
	a["mark"] = "x"
	_, same := b["mark"]
	delete(a, "mark")
	return same
}

// What is taken out here takes nothing with it that was changed there.
func TestWhatIsTakenOutHere(t *testing.T) {
	const flow = "composition:\n  flow:\n    - toward: {wall: Long wall, at: [500, 1500]}\n      strength: 1   # weak\n    - swirl: {wall: Long wall, at: [2500, 1500]}\n      strength: 2\n"
	base := version(t, "composition:\n", flow)
	mine := turnedTo(t, base, Setting{"composition.flow[0].toward", ""})
	require.NotContains(t, string(mine.Text), "toward:")
	got, err := Merge(base, mine, version(t, "composition:\n", strings.Replace(flow, "strength: 2", "strength: 3", 1)), again)
	require.NoError(t, err)
	assert.Contains(t, string(got), "strength: 3")
	assert.NotContains(t, string(got), "toward:")
	for _, pair := range [][2]string{{"strength: 1", "strength: 4"}, {"# weak", "# weaker"}} {
		_, err = Merge(base, mine, version(t, "composition:\n", strings.Replace(flow, pair[0], pair[1], 1)), again)
		assert.ErrorContains(t, err, "was changed here and there", pair)
	}
}

// Where it cannot be told which entry is which, that is said.
func TestWhatCannotBeToldApart(t *testing.T) {
	bands := func(a, b string) string {
		return "composition:\n  density:\n    bands:\n      - {" + a + "}\n      - {" + b + "}\n"
	}
	const dense = "  density:            # to the right it thins out\n    fade: {towards: right, over: 800}   # slowly\n    # and nothing else\n"
	base := version(t, "composition:\n", bands("from: 100, to: 400, strength: 2", "from: 900, to: 1200, strength: 2"), dense, "")
	mine := turnedTo(t, base, Setting{"composition.density.bands[1].strength", "5"})
	_, err := Merge(base, mine, version(t, "composition:\n", bands("from: 950, to: 1200, strength: 2", "from: 150, to: 400, strength: 2"), dense, ""), again)
	assert.ErrorContains(t, err, "it cannot be told what “band 2, strength” is of there")
	got, err := Merge(base, mine, version(t, "composition:\n", bands("strength: 2, from: 900, to: 1200", "from: 100, to: 400, strength: 2"), dense, ""), again)
	require.NoError(t, err)
	assert.Contains(t, string(got), "- {strength: 5, from: 900, to: 1200}\n      - {from: 100, to: 400, strength: 2}")

	share := turnedTo(t, version(t), Setting{"pieces[1].share", "2"})
	exchanged := version(t, "code: A", "code: B", "code: B", "code: A")
	_, err = Merge(version(t), share, exchanged, again)
	assert.ErrorContains(t, err, "it cannot be told what “Twig, share” is of there")
	_, err = Merge(version(t), turnedTo(t, version(t), Setting{"seed", "8"}), exchanged, again)
	assert.NoError(t, err, "which has nothing to do with it")
	_, err = Merge(version(t), turnedTo(t, version(t), Setting{"composition.spacing", "97"}), version(t, "title: Leaves", "title: Leaves\nunits: in"), again)
	assert.ErrorContains(t, err, "other units")
}

// No two entries are taken for one, and those that say the same are found wherever they stand.
func FuzzEntries(f *testing.F) {
	f.Add("[{a: 1}, {b: 2}]", "[{b: 2}, {a: 1}]")
	f.Add("[{a: 1}, {a: 1}]", "[{a: 1}, {a: 2}]")
	f.Add("[{at: [1, 2], n: 1}, x]", "[{n: 3, at: [1, 2]}]")
	f.Fuzz(func(t *testing.T, a, b string) {
		var before, after yaml.Node
		if yaml.Unmarshal([]byte(a), &before) != nil || yaml.Unmarshal([]byte(b), &after) != nil || len(before.Content) == 0 || len(after.Content) == 0 {
			t.Skip()
		}
		from, to := before.Content[0].Content, after.Content[0].Content
		of := alikeOnly(from, to)
		require.Len(t, of, len(to))
		for k, i := range of {
			require.Less(t, i, len(from))
			if i >= 0 {
				require.NotContains(t, of[k+1:], i)
			}
		}
		count := func(all []*yaml.Node, of *yaml.Node) (n int) {
			for _, other := range all {
				if says(other, true) == says(of, true) {
					n++
				}
			}
			return n
		}
		for k, n := range to {
			if count(to, n) == 1 && count(from, n) == 1 {
				require.GreaterOrEqual(t, of[k], 0)
				require.Equal(t, says(from[of[k]], true), says(n, true))
			}
		}
	})
}
