package orderpage_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/export/orderpage"
	"wallshoal/export/stand"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// ordered draws the order of work of w on A4 and returns it with its stands.
func ordered(t testing.TB, w holemap.Work) (*draw.Record, []stand.Stand) {
	t.Helper()
	stands, err := stand.Plan(w, stand.UsualReach())
	require.NoError(t, err)
	return worktest.Recorded(t, func(c draw.Canvas) error {
		return orderpage.Draw(c, worktest.CutUp(t, w, worktest.Print("A4")), stands)
	}), stands
}

// said returns what is written within a group, line by line; of the whole record where the group is empty.
func said(r *draw.Record, group string) string {
	var out []string
	for _, m := range r.Marks {
		if m.Kind == "text" && (group == "" || slices.Contains(m.Groups, group)) {
			out = append(out, m.Text.Say)
		}
	}
	return strings.Join(out, " ")
}

// Stands of few pieces share pages, none of them breaks over two, and pieces are drawn no shorter there than
// what is read.
func TestStandsOfFewPiecesSharePages(t *testing.T) {
	w := worktest.Stepping(t, 900)
	r, stands := ordered(t, w)
	on := map[int]map[int]bool{} // pages by stand
	shared := map[int]int{}
	for _, m := range r.Marks {
		var n int
		if len(m.Groups) == 0 {
			continue
		}
		if _, err := fmt.Sscanf(m.Groups[0], "stand %d", &n); err != nil {
			continue
		}
		if on[n] == nil {
			on[n] = map[int]bool{}
		}
		on[n][m.Page] = true
	}
	second := len(r.Pages) + 1
	for _, m := range r.Marks {
		if m.Kind == "text" && m.Text.Say == "Second round: hang" {
			second = m.Page
		}
	}
	pages, broken := map[int]bool{}, 0
	for _, s := range stands {
		require.NotEmpty(t, on[s.Number])
		n := 0
		for page := range on[s.Number] {
			if page < second {
				n++
				shared[page]++
				pages[page] = true
			}
		}
		if len(s.Pieces) <= 3 && n > 1 {
			broken++
		}
	}
	assert.Zero(t, broken, "stands of three pieces and fewer that go over to another page")
	assert.Less(t, float64(len(pages)), 0.8*float64(len(stands)))
}

// Every kind that hangs is drawn with as many rings as it has holes and an arrow that ends past its head, and
// no other.
func TestEveryKindShowsItsHead(t *testing.T) {
	w := worktest.Ferry(t)
	w.Layout.Pieces = slices.DeleteFunc(slices.Clone(w.Layout.Pieces), func(p scatter.Piece) bool { return p.Kind == 2 })
	w = worktest.Work(t, w.Site, w.Layout.Pieces)
	r, _ := ordered(t, w)
	for i, k := range w.Kinds {
		group := "kind " + k.Code
		rings, far, head := 0, math.Inf(-1), math.Inf(-1)
		first := true
		for _, m := range r.Marks {
			if !slices.Contains(m.Groups, group) {
				continue
			}
			switch m.Kind {
			case "circle":
				rings++
			case "polygon":
				b := m.Rings[0].Bounds()
				if first {
					head, first = b.Max.X, false
				}
				far = math.Max(far, b.Max.X)
			}
		}
		if i == 2 {
			assert.Zero(t, rings, "no such piece hangs")
			continue
		}
		assert.Equal(t, 2*len(k.Holes), rings, "%s: a ring and a dot for each", group)
		assert.Greater(t, far, head+1, group)
	}
	assert.Contains(t, said(r, "kind A"), "2 holes, 35 mm and 90 mm behind the head's end")
}

// An exit sign over an exit door keeps its own holes: those named at the stands are as many as the caution of
// each counts.
func TestEveryCautionNamesItsOwnHoles(t *testing.T) {
	s := worktest.Site(wall.Wall{
		Name: "Landing", Outline: plane.Rectangle(plane.Point{}, 5000, 2800), Surface: wall.Plaster,
		Obstructions: []wall.Obstruction{worktest.Box(wall.ExitDoor, "way out", 1500, 0, 900, 2050), worktest.Box(wall.ExitSign, "sign", 1750, 2200, 400, 150)},
	})
	w := worktest.Work(t, s, worktest.Strew(s, 0, 130))
	r, stands := ordered(t, w)
	numbers := regexp.MustCompile(`\((all holes|holes? [0-9–, ]+)\)`)
	seen := 0
	for _, c := range w.Map.Cautions {
		what, _, _ := strings.Cut(c.Text, ".")
		if c.Code != "keep-visible" {
			continue
		}
		seen++
		holes := 0
		for _, st := range stands {
			_, after, found := strings.Cut(said(r, fmt.Sprintf("stand %d", st.Number)), what)
			if !found {
				continue
			}
			found2 := numbers.FindStringSubmatch(after)
			require.NotNil(t, found2, after)
			if found2[1] == "all holes" {
				holes += st.Holes
				continue
			}
			for _, run := range strings.Split(strings.TrimPrefix(strings.TrimPrefix(found2[1], "holes "), "hole "), ", ") {
				from, to, isRun := strings.Cut(run, "–")
				a, err := strconv.Atoi(from)
				require.NoError(t, err)
				b := a
				if isRun {
					b, err = strconv.Atoi(to)
					require.NoError(t, err)
				}
				holes += b - a + 1
			}
		}
		assert.Equal(t, c.Holes, holes, c.Text)
	}
	assert.Equal(t, 2, seen)
}

// Whatever hangs later says why: a sheet that another stand drills later, or a piece of one.
func TestWhatHangsLaterSaysWhy(t *testing.T) {
	w := worktest.Ferry(t)
	stands, err := stand.Plan(w, stand.UsualReach())
	require.NoError(t, err)
	stands = worktest.CutUp(t, w, worktest.Print("A4")).Rounds(stands)
	r, _ := ordered(t, w)
	why := regexp.MustCompile(`would (?:cover .* which stays? up until|lie over what) stand (\d+)`)
	later := 0
	for _, s := range stands {
		later += len(s.Later)
		text := said(r, fmt.Sprintf("stand %d", s.Number))
		found := why.FindStringSubmatch(text)
		if len(s.Later) == 0 {
			assert.Nil(t, found)
			continue
		}
		require.NotNil(t, found, text)
		n, err := strconv.Atoi(found[1])
		require.NoError(t, err)
		assert.Greater(t, n, s.Number)
	}
	require.Positive(t, later)
	assert.Contains(t, said(r, ""), fmt.Sprintf("Second round: %d of %d pieces", later, len(w.Layout.Pieces)))
}

// The times of the list add up to its sum as they are shown, and stands without times have no word of them.
func TestTheTimesOfTheListAddUp(t *testing.T) {
	w := worktest.Ferry(t)
	r, stands := ordered(t, w)
	assert.NotContains(t, said(r, ""), "Time")
	sum := 0
	for i := range stands {
		minutes := 10.4 + float64(i%7)*9.3
		stands[i].Times = []stand.Time{{Operation: "drill", Minutes: minutes}}
		sum += int(minutes + 0.5)
	}
	r = worktest.Recorded(t, func(c draw.Canvas) error {
		return orderpage.Draw(c, worktest.CutUp(t, w, worktest.Print("A4")), stands)
	})
	all := said(r, "")
	assert.Contains(t, all, "Time, about")
	assert.Contains(t, all, fmt.Sprintf("All %d %d %s", len(w.Layout.Pieces), len(w.Map.Holes), hours.Clock(float64(sum))))
	assert.Contains(t, all, "add setting up, moving, and putting up and taking down paper")
}

// Who made the pieces is asked by name, a rule of the United States is an example where lengths are metric,
// and no line of a place is cut.
func TestTheFirstPageSaysWhomToAskAndWhoseRules(t *testing.T) {
	w := worktest.Ferry(t)
	r, _ := ordered(t, w)
	assert.Contains(t, said(r, ""), "ask The paper studio before the first one")
	assert.Contains(t, said(r, ""), "for example 29 CFR 1926.1053(b)(13)")
	w.Units, w.By = measure.Foot, ""
	r, _ = ordered(t, w)
	assert.Contains(t, said(r, ""), "ask whoever made the pieces before the first one")
	assert.NotContains(t, said(r, ""), "for example 29 CFR")
}

// Under a ceiling every row of the list says from which wall its place counts, and how far out from it, and
// no place of the second round is cut off.
func TestPlacesUnderACeilingNameTheirWall(t *testing.T) {
	w := worktest.Stepping(t, 420)
	r, stands := ordered(t, w)
	all, under := said(r, ""), 0
	for _, s := range stands {
		if s.Place.Off > 0 {
			under++
			assert.Contains(t, all, fmt.Sprintf("Ceiling, %s platform", w.Site.Room.Walls[s.Place.Wall].Name))
			assert.Contains(t, all, fmt.Sprintf("%s, %s", measure.Format(s.Place.Left, w.Units), measure.Format(s.Place.Off, w.Units)))
		}
	}
	require.Positive(t, under)
	for _, m := range r.Marks {
		if m.Kind == "text" && strings.Contains(m.Text.Say, "from the left end") {
			assert.NotContains(t, m.Text.Say, "…")
		}
	}
}

// On a stair the order of work and the cautions count heights from two floors, and both say so; a ladder at
// the head of it is warned of the open edge, and the platform is told how often it is needed.
func TestAStairIsSpokenOf(t *testing.T) {
	s := worktest.Site(wall.Wall{
		Name: "Stair", Surface: wall.Plaster,
		Outline: plane.Ring{{}, {X: 600}, {X: 3000, Y: 1500}, {X: 6000, Y: 1500}, {X: 6000, Y: 4200}, {Y: 4200}},
	})
	var pieces []scatter.Piece
	for x := 300.0; x < 5900; x += 400 {
		high := math.Min(math.Max(0, x-600)*1500/2400, 1500)
		pieces = append(pieces, scatter.Piece{At: plane.Point{X: x, Y: high + 1200}, Kind: 1}, scatter.Piece{At: plane.Point{X: x, Y: high + 2350}, Kind: 1})
	}
	w := worktest.Work(t, s, pieces)
	r, stands := ordered(t, w)
	all := said(r, "")
	assert.Contains(t, all, "Platform made for stairs, two people:")
	assert.Contains(t, all, "put up their paper")
	assert.Contains(t, all, "over steps the two differ")
	assert.Contains(t, all, "count from the floor right")
	warned := 0
	for _, st := range stands {
		open := strings.Contains(said(r, fmt.Sprintf("stand %d", st.Number)), "! Open stair")
		assert.Equal(t, st.Access == stand.Ladder && st.Foot.Left+st.Foot.Right > 0, open)
		if open {
			warned++
		}
	}
	assert.Positive(t, warned)
	flat := worktest.Ferry(t)
	r, _ = ordered(t, flat)
	assert.NotContains(t, said(r, ""), "over steps the two differ")
}

// What cannot be moved out of the way takes a platform that spans it, which the first page asks for; who can
// reach over it from the floor is not sent for one.
func TestWhatIsInTheWayIsAskedForFirst(t *testing.T) {
	deep := func(o wall.Obstruction, mm float64) wall.Obstruction { o.Depth = mm; return o }
	s := worktest.Site(wall.Wall{
		Name: "Long", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 6000, 2700),
		Obstructions: []wall.Obstruction{deep(worktest.Box(wall.Chimney, "breast", 500, 0, 1500, 1000), 320), deep(worktest.Box(wall.Fixture, "bench", 3500, 0, 1500, 450), 520)},
	})
	at := func(x, y float64) scatter.Piece { return scatter.Piece{At: plane.Point{X: x, Y: y}, Kind: 1} }
	r, stands := ordered(t, worktest.Work(t, s, []scatter.Piece{at(1200, 2300), at(1200, 1300), at(4200, 1300)}))
	require.Len(t, stands, 3)
	all := said(r, "")
	assert.Contains(t, all, "In the way, breast: 320 mm out from the wall before stand 1: bring what spans that")
	assert.Contains(t, all, "In the way, bench: 520 mm out from the wall before stand")
	for _, st := range stands {
		text := said(r, fmt.Sprintf("stand %d", st.Number))
		switch st.Pieces[0] {
		case 1:
			assert.Contains(t, text, "one that spans breast")
		case 2:
			assert.Contains(t, text, "no ladder is needed")
			assert.Contains(t, text, "reached over")
		case 3:
			assert.NotContains(t, text, "no ladder is needed")
			assert.Contains(t, text, "with bench out of the way")
		}
	}
}

// A ladder takes a hand to hold on to: what is drilled from one says so, on the first page and at each stand, and
// no door at one is named twice over.
func TestAStandOnALadderKeepsAHandForIt(t *testing.T) {
	w := worktest.Ferry(t)
	r, stands := ordered(t, w)
	ladders, doors := 0, 0
	for _, s := range stands {
		words := said(r, fmt.Sprintf("stand %d", s.Number))
		if s.Access == stand.Ladder {
			ladders++
			assert.Contains(t, words, "where the drill takes both", "stand %d", s.Number)
		} else {
			assert.NotContains(t, words, "One hand", "stand %d", s.Number)
		}
		for _, d := range s.Doors {
			doors++
			assert.Contains(t, words, "Opens here "+d, "stand %d", s.Number)
		}
	}
	assert.Positive(t, ladders)
	assert.Positive(t, doors)
	assert.Contains(t, said(r, ""), "Keep three points of contact")
}
