package template_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/orderpage"
	"wallshoal/export/stand"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// Nobody drills at a register mark: none is nearer to a cross than 12 mm, nor to another mark.
func TestRegisterMarksKeepOffCrossesAndOneAnother(t *testing.T) {
	t.Parallel()
	for name, w := range map[string]holemap.Work{"ferry": worktest.Ferry(t), "chamber": worktest.Stepping(t, 600)} {
		for _, p := range []tiling.Print{worktest.Print("A4"), {Paper: drafting.Roll(914), Overlap: 12, Margin: 6}} {
			cut := worktest.CutUp(t, w, p)
			r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
			registers := map[string][]plane.Point{}
			for _, m := range r.Marks {
				if len(m.Groups) == 2 && m.Groups[1] == "register" && m.Kind == "circle" && m.Radius > 1 {
					registers[m.Groups[0]] = append(registers[m.Groups[0]], m.Points[0])
				}
			}
			for face := range w.Site.Faces {
				tiles := cut.Tiles(face)
				for _, tile := range tiles {
					marks := registers["sheet "+tile.Name]
					for i, m := range marks {
						for _, h := range tile.Holes {
							hole := w.Map.Holes[h]
							assert.GreaterOrEqual(t, tile.ToPage(hole.At).Distance(m), 12.0-1e-9, "%s: hole %d on %s", name, hole.Number, tile.Name)
						}
						for _, other := range marks[:i] {
							assert.GreaterOrEqual(t, other.Distance(m), 12.0-1e-9, "%s: marks on %s", name, tile.Name)
						}
					}
				}
			}
		}
	}
}

// A sheet says at which of its corners the black mark stands, in its corner and at its foot alike.
func TestSheetsSayWhereTheirBlackMarkIs(t *testing.T) {
	w, p := worktest.DeepFerry(t), worktest.Print("A4")
	cut := worktest.CutUp(t, w, p)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	black, said := worktest.BlackOn(r), map[string]int{}
	words := map[string][]string{}
	for _, m := range r.Marks {
		if m.Kind == "text" && len(m.Groups) > 0 {
			words[m.Groups[0]] = append(words[m.Groups[0]], m.Text.Say)
		}
	}
	for face := range w.Site.Faces {
		tiles := cut.Tiles(face)
		for _, tile := range tiles {
			if len(tile.Holes) == 0 {
				continue
			}
			at, want := tile.ToFace(black[tile.Name][0]), "mark within the sheet"
			for corner, c := range map[string]plane.Point{
				"top left": {X: tile.Cell.Min.X, Y: tile.Cell.Max.Y}, "top right": tile.Cell.Max,
				"bottom left": tile.Cell.Min, "bottom right": {X: tile.Cell.Max.X, Y: tile.Cell.Min.Y},
			} {
				if c.Distance(at) < 0.5 {
					want = "mark at " + corner
				}
			}
			n := 0
			for _, text := range words["sheet "+tile.Name] {
				if strings.Contains(text, "mark at") || strings.Contains(text, "mark within") {
					// In a narrow corner the words run over two lines.
					assert.True(t, strings.HasPrefix(text, want) || strings.HasPrefix(want, text), "%s: %q, not %q", tile.Name, text, want)
					n++
				}
			}
			assert.GreaterOrEqual(t, n, 1, tile.Name)
			said[want]++
		}
	}
	assert.Greater(t, len(said), 2, "several corners: %v", said)
}

// The direction of a piece goes with the paper: the key says what is written on the wall before, and the
// order of work lists the holes of every piece.
func TestThePaperGivesWayToThePieces(t *testing.T) {
	w, p := worktest.Ferry(t), worktest.Print("A4")
	cut := worktest.CutUp(t, w, p)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	key := strings.Join(r.Texts(1), " ") + " " + strings.Join(r.Texts(2), " ")
	for _, words := range []string{"masking tape", "the number of the piece", "an arrow the way it heads", "lift the sheet", "stand by stand"} {
		assert.Contains(t, key, words)
	}
	stands, err := stand.Plan(w, stand.UsualReach())
	require.NoError(t, err)
	o := worktest.Recorded(t, func(c draw.Canvas) error { return orderpage.Draw(c, cut, stands) })
	assert.Contains(t, strings.Join(o.Texts(1), " "), "Put up all sheets that meet one another before any of them is drilled, row by row")
	listed := map[string][]string{}
	for _, m := range o.Marks {
		if m.Kind == "text" && len(m.Groups) == 2 {
			listed[m.Groups[1]] = append(listed[m.Groups[1]], strings.Split(m.Text.Say, ", ")...)
		}
	}
	for _, h := range w.Map.Holes {
		assert.Contains(t, listed[fmt.Sprintf("piece %d", h.Piece)], fmt.Sprint(h.Number))
	}
}

// The arrow of a ceiling's sheets points to the wall that lies that way: the one across from the wall
// that the drawing has below it. Keys and orders of work say the same.
func TestACeilingSaysToWhichWallItsArrowPoints(t *testing.T) {
	w, p := worktest.Stepping(t, 600), worktest.Print("A3")
	cut := worktest.CutUp(t, w, p)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	all := ""
	arrows := 0
	for _, m := range r.Marks {
		if m.Kind == "text" {
			all += " " + m.Text.Say
			if m.Text.Say == "TO: DOOR WALL" {
				arrows++
			}
		}
	}
	assert.Positive(t, arrows)
	assert.NotContains(t, all, "AHEAD")
	assert.Contains(t, all, "above Door wall, below Hearth wall")
	stands, err := stand.Plan(w, stand.UsualReach())
	require.NoError(t, err)
	o := worktest.Recorded(t, func(c draw.Canvas) error { return orderpage.Draw(c, cut, stands) })
	text := ""
	for _, m := range o.Marks {
		if m.Kind == "text" {
			text += " " + m.Text.Say
		}
	}
	assert.Contains(t, text, "0° is to Door wall")
	assert.NotContains(t, text, "step ladder, overhead")
	over := 0
	for _, s := range stands {
		if s.Overhead && s.Access == stand.Platform {
			assert.Contains(t, text, "stand below on it, and not on a ladder's top")
			over++
		}
	}
	assert.Positive(t, over)
}

// A short bar says nothing of a sheet that is metres long: such sheets bear a bar along their long side,
// and the key says how far it may be out.
func TestLongSheetsHaveALongCheckBar(t *testing.T) {
	w, p := worktest.Ferry(t), tiling.Print{Paper: drafting.Roll(914), Overlap: 12, Margin: 6}
	cut := worktest.CutUp(t, w, p)
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })
	longest, words, key := map[string]float64{}, map[string]int{}, ""
	for _, m := range r.Marks {
		switch {
		case len(m.Groups) == 0 && m.Kind == "text":
			key += " " + m.Text.Say
		case len(m.Groups) == 2 && m.Groups[1] == "long check bar" && m.Kind == "line":
			longest[m.Groups[0]] = max(longest[m.Groups[0]], m.Points[0].Distance(m.Points[1]))
		case len(m.Groups) == 2 && m.Groups[1] == "long check bar":
			words[m.Groups[0]]++
		}
	}
	long := 0
	for face := range w.Site.Faces {
		tiles := cut.Tiles(face)
		for _, tile := range tiles {
			side, name := max(tile.Frame.Width(), tile.Frame.Height()), "sheet "+tile.Name
			switch {
			case len(tile.Holes) == 0 || side < 1001:
				assert.Zero(t, longest[name])
			default:
				assert.Greater(t, longest[name], side/2-1, name)
				assert.Contains(t, []float64{1000, 2000, 4000}, longest[name])
				assert.Positive(t, words[name])
				long++
			}
		}
	}
	assert.Positive(t, long)
	assert.Contains(t, key, "may be out by 1 mm and no more")
	assert.Contains(t, key, "measure every plumb line")
}

// Where the foot of a wall is not everywhere at 0, every height says which floor it is above.
func TestHeightsOnAStairSayWhichFloor(t *testing.T) {
	stair := worktest.Site(wall.Wall{
		Name: "Stair wall", Surface: wall.Brick,
		Outline: plane.Ring{{}, {X: 1000}, {X: 3000, Y: 1500}, {X: 4000, Y: 1500}, {X: 4000, Y: 4000}, {X: 1500, Y: 4000}, {Y: 2600}},
	})
	w, p := worktest.Work(t, stair, []scatter.Piece{
		{At: plane.Point{X: 600, Y: 1500}, Heading: 90}, {At: plane.Point{X: 2200, Y: 2500}, Heading: 90}, {At: plane.Point{X: 3500, Y: 3400}, Heading: 90},
	}), worktest.Print("A4")
	stands, err := stand.Plan(w, stand.UsualReach())
	require.NoError(t, err)
	cut := worktest.CutUp(t, w, p)
	for name, r := range map[string]*draw.Record{
		"map":   worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) }),
		"order": worktest.Recorded(t, func(c draw.Canvas) error { return orderpage.Draw(c, cut, stands) }),
	} {
		all := ""
		for _, m := range r.Marks {
			if m.Kind != "text" {
				continue
			}
			all += " " + m.Text.Say
		}
		assert.Positive(t, strings.Count(all, "above the floor at the wall's left end"), name)
		assert.NotContains(t, all, "step ladder across")
		assert.NotContains(t, strings.NewReplacer("above the floor at", "", "above the floor where you stand", "", "above the floor Bit", "").Replace(all), " mm above the floor", name)
	}
	for _, s := range stands {
		if s.Access == stand.StairPlatform {
			r := worktest.Recorded(t, func(c draw.Canvas) error { return orderpage.Draw(c, cut, stands) })
			on := ""
			for _, m := range r.Marks {
				if m.Kind == "text" && len(m.Groups) == 1 && m.Groups[0] == fmt.Sprintf("stand %d", s.Number) {
					on += " " + m.Text.Say
				}
			}
			assert.Contains(t, on, "a platform made for stairs")
			assert.NotContains(t, on, "ladder")
		}
	}
}

// A ceiling has no datum, no plumb lines and no floor: its key speaks of none. What is counted on the
// whole wall says so.
func TestStepsThatDoNotApplyAreLeftOut(t *testing.T) {
	w, p := worktest.Stepping(t, 600), worktest.Print("A3")
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, w, p)) })
	pages := map[int]string{}
	for _, m := range r.Marks {
		if m.Kind == "text" {
			pages[m.Page] += " " + m.Text.Say
		}
	}
	ceilings, counts := 0, 0
	for _, text := range pages {
		if strings.Contains(text, "Key to the hole map: Ceiling") && strings.Contains(text, "How to hang it") {
			steps := text[strings.Index(text, "How to hang it"):strings.Index(text, "Sheets")]
			for _, words := range []string{"datum", "plumb, ", "the floor"} {
				assert.NotContains(t, steps, words)
			}
			ceilings++
		}
		if strings.Contains(text, "on the whole wall)") {
			counts++
		}
	}
	assert.Positive(t, ceilings)
	assert.Positive(t, counts)
}

// What a sheet says in its corner whitens no outline of a piece more than its letters take.
func TestTheCornerOfASheetLeavesOutlinesStanding(t *testing.T) {
	w, p := worktest.DeepFerry(t), worktest.Print("A4")
	r := worktest.Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, worktest.CutUp(t, w, p)) })
	rings := map[string][]plane.Ring{}
	boxes, over := 0, 0
	for _, m := range r.Marks {
		switch {
		case len(m.Groups) < 2 || m.Kind != "polygon":
		case strings.HasPrefix(m.Groups[1], "piece "):
			rings[m.Groups[0]] = append(rings[m.Groups[0]], m.Rings...)
		case m.Groups[1] == "name of the sheet" && m.Paint.Fill == draw.Solid(draw.White):
			boxes++
			for _, ring := range rings[m.Groups[0]] {
				if plane.RegionOf(ring).Touches(m.Rings[0]) {
					over++
					assert.Less(t, m.Rings[0].Bounds().Height(), 4.5, "%s: more than a line is whitened", m.Groups[0])
				}
			}
		}
	}
	assert.Positive(t, boxes)
	assert.Less(t, over, boxes/4, "most corners stand beside the pieces")
}

// Figures stay with their words: where a sheet is too narrow for whole lines, they are read upwards, and hardly
// a sheet has to break them or to leave them to its foot.
func TestTheCornerOfASheetSaysItsPlaceInWholeLines(t *testing.T) {
	t.Parallel()
	sheets, short := 0, []string{}
	for name, j := range worktest.Jointed(t) {
		said := map[string][]string{}
		for _, m := range j.Hung.Marks {
			if m.Kind == "text" && len(m.Groups) == 2 && m.Groups[1] == "name of the sheet" {
				said[m.Groups[0]] = append(said[m.Groups[0]], m.Text.Say)
			}
		}
		for on, lines := range said {
			sheets++
			rest := strings.Join(lines[1:], "\n")
			if !strings.Contains(rest, "mark ") || strings.Contains(rest, " from\n") || strings.Contains(rest, " the\n") || strings.Contains(rest, "left\nend") {
				short = append(short, name+", "+on+": "+strings.Join(lines, " / "))
			}
		}
	}
	assert.Greater(t, sheets, 300)
	assert.LessOrEqual(t, len(short), sheets/80, strings.Join(short, "\n"))
}
