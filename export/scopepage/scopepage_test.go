package scopepage_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/calendar"
	"wallshoal/export/caution"
	"wallshoal/export/cost"
	"wallshoal/export/decimal"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/hours"
	"wallshoal/export/making"
	"wallshoal/export/materials"
	"wallshoal/export/nesting"
	"wallshoal/export/scope"
	"wallshoal/export/scopepage"
	"wallshoal/export/stand"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

var (
	a4     = draw.Size{Width: 210, Height: 297}
	letter = draw.Size{Width: 215.9, Height: 279.4}
)

// work returns a work of so many walls and kinds, with one piece of each kind on each wall.
func work(t *testing.T, walls, kinds int, units measure.Unit) holemap.Work {
	t.Helper()
	w := holemap.Work{
		Title: "Swifts | in the stair *well*", For: "The school board", Place: "Stair", By: "The studio",
		Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Units: units,
	}
	for i := range walls {
		w.Site.Room.Walls = append(w.Site.Room.Walls, wall.Wall{Name: fmt.Sprintf("Wall %d beside the lift", i+1), Surface: wall.Plaster})
		w.Site.Faces = append(w.Site.Faces, wall.Face{
			Wall: i, Name: "wall", Frame: space.Upright(space.Vec{X: 9000 * float64(i)}, 0),
			Outline: plane.RegionOf(plane.Rectangle(plane.Point{}, 8000, 2500)), Used: true,
		})
		for k := range kinds {
			w.Layout.Pieces = append(w.Layout.Pieces, scatter.Piece{
				ID: i*kinds + k + 1, Kind: k, Face: i, At: plane.Point{X: 200 + 140*float64(k), Y: 1200}, Heading: heading.Bearing(7 * k % 360),
			})
		}
	}
	for k := range kinds {
		w.Kinds = append(w.Kinds, scatter.Kind{
			Name: fmt.Sprintf("Swift %d, half fold, 80 %%", k+1), Code: string(rune('A'+k%26)) + strings.Repeat("x", k/26),
			Outline:     plane.Ring{{X: -50, Y: -8 - float64(k)}, {X: 50}, {X: -50, Y: 20}},
			Holes:       []scatter.Hole{{Bit: 1.5 + float64(k%3), Depth: 25, Fixing: fmt.Sprintf("pin %d", k%3)}},
			Combustible: k%2 == 0,
		})
	}
	limits := caution.UsualLimits()
	limits.Acknowledged = []caution.Acknowledgement{
		{Code: "old-finishes", Wall: "Wall 1 beside the lift", Reason: "surveyed in May", By: "building manager"},
		{Code: "heat", Reason: "the stove is gone", By: "caretaker"},
	}
	var err error
	w.Map, err = holemap.MakeWithin(w.Site, w.Kinds, w.Layout, limits)
	require.NoError(t, err)
	return w
}

// made returns what making a work takes, with every section, and so many operations and materials.
func made(t *testing.T, w holemap.Work, several int) (scope.Scope, making.Making) {
	t.Helper()
	number := func(text string) decimal.Number {
		n, err := decimal.Parse(text)
		require.NoError(t, err)
		return n
	}
	asked := making.Asked{Counts: making.Count(w, 31), Kinds: w.Kinds}
	var codes []string
	for _, k := range w.Kinds {
		codes = append(codes, k.Code)
	}
	asked.Spares = materials.Spares{Share: number("0.1"), Least: 1}
	asked.Sheets = []making.Sheets{{Stock: nesting.Stock{Name: "card", Width: 400, Height: 300, Margin: 5, Gap: 3, Turn: nesting.Half}, Cuts: codes, Price: new(number("2.40"))}}
	asked.Hours = &making.Hours{Likelihood: 0.8}
	for i := range several {
		asked.Materials = append(asked.Materials, materials.Material{
			Name: fmt.Sprintf("pins of sort %d", i), Per: materials.PerHole, Amount: materials.Amount{Value: decimal.Of(i + 1)},
			Pack: materials.Amount{Value: decimal.Of(100)}, Price: new(number("6.80")),
		})
		asked.Hours.Operations = append(asked.Hours.Operations, making.Operation{Operation: hours.Operation{
			Name: fmt.Sprintf("operation %d", i), Per: hours.Piece, Judged: &hours.Judged{Least: 1, Likely: float64(2 + i%3), Most: 7},
		}, Wait: 300 * (i % 2)})
	}
	asked.Materials = append(asked.Materials,
		materials.Material{Name: "grey", Per: materials.PerJob, Amount: materials.Amount{Value: decimal.Of(90), Base: materials.Millilitre}},
		materials.Material{Name: "white", Pack: materials.Amount{Value: decimal.Of(50), Base: materials.Millilitre}, Price: new(number("9.50"))},
		materials.Material{Name: "black", Pack: materials.Amount{Value: decimal.Of(50), Base: materials.Millilitre}, Price: new(number("9.50"))})
	asked.Recipes = []materials.Recipe{{Name: "grey", Parts: []materials.Part{{Name: "white", Parts: decimal.Of(2)}, {Name: "black", Parts: decimal.Of(1)}}, Step: materials.Amount{Value: decimal.Of(1)}}}
	asked.Calendar = &making.Calendar{
		Calendar: calendar.Calendar{Opens: 540, Hours: [7]int{0, 360, 360, 360, 360, 360, 0}, Crew: 2},
		From:     calendar.On(2026, time.November, 30), Install: new(calendar.On(2027, time.February, 26)),
	}
	asked.Cost = &making.Cost{
		Estimate: cost.Estimate{
			Currency: cost.Currency{Before: "€ ", Digits: 2}, Rounding: cost.ByLine, Contingency: number("0.08"), Tax: number("0.24"),
			Items: []cost.Item{
				{Name: "card", Times: cost.Sure(decimal.Of(1))}, {Name: "materials", Times: cost.Sure(decimal.Of(1))},
				{Name: "work", Price: cost.Sure(number("38"))},
				{Name: "design", Price: cost.Range{Low: number("450"), Likely: number("600"), High: number("800")}, Times: cost.Sure(decimal.Of(1))},
			},
			Stages: []cost.Stage{{Name: "on order", Share: number("0.4")}, {Name: "hung", Share: number("0.6")}},
		},
		Of: []string{making.OfSheets, making.OfMaterials, making.OfHours, ""}, Budget: new(number("500")),
	}
	m, err := making.Of(asked)
	require.NoError(t, err)
	s, err := scope.Of(w)
	require.NoError(t, err)
	s = s.Appraised(scatter.Composition{Spacing: 95}, scatter.Appraisal{Asked: len(w.Layout.Pieces), Pieces: len(w.Layout.Pieces)})
	s = s.Cut([]scope.Sheets{{Wall: "Wall 1 beside the lift", Face: "wall", Paper: "A4", Sheets: 17, Saved: 4, Near: 2, Round: 1}, {Wall: "Wall 2 beside the lift", Face: "wall", Paper: "A4", Sheets: 14, Saved: 3}})
	stands, err := stand.Plan(w, stand.UsualReach())
	require.NoError(t, err)
	return s.Installed(w, stands).Made(m), m
}

func drawn(t *testing.T, w holemap.Work, s scope.Scope, m making.Making, page draw.Size, inserts ...scopepage.Insert) *draw.Record {
	t.Helper()
	r := draw.NewRecord()
	require.NoError(t, scopepage.Draw(r, w, s, m, page, inserts...))
	require.NoError(t, r.Close())
	return r
}

// plain takes away what Markdown needs and people do not see.
func plain(cell string) string {
	cell = strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(cell), "**"), "**")
	return strings.ReplaceAll(cell, `\`, "")
}

// Every cell of every table of scope.md stands in the drawing: figures as they are and as often, and words
// in whatever lines they take.
func TestEveryFigureOfThePage(t *testing.T) {
	for name, w := range map[string]holemap.Work{
		"metric": work(t, 2, 5, measure.Millimetre), "one wall": work(t, 1, 1, measure.Millimetre),
		"inches": work(t, 3, 12, measure.Inch), "many": work(t, 4, 52, measure.Foot),
	} {
		s, m := made(t, w, len(w.Kinds))
		var page bytes.Buffer
		require.NoError(t, scope.WriteMarkdown(&page, w, s))
		r := drawn(t, w, s, m, a4)
		count := map[string]int{}
		var all []string
		for n := range r.Pages {
			for _, says := range r.Texts(n + 1) {
				count[says]++
				all = append(all, says)
			}
		}
		running := strings.Join(strings.Fields(strings.Join(all, " ")), " ")
		wanted, rows := map[string]int{}, 0
		var lean []string
		for line := range strings.Lines(page.String()) {
			if !strings.HasPrefix(line, "|") {
				lean = nil
				continue
			}
			cells := strings.Split(strings.ReplaceAll(strings.Trim(strings.TrimSpace(line), "|"), `\|`, "\x00"), "|")
			if strings.Contains(line, "| --- |") || strings.HasPrefix(line, "| ---") {
				lean = cells
				continue
			}
			if lean == nil {
				continue
			}
			rows++
			for i, c := range cells {
				c = plain(strings.ReplaceAll(c, "\x00", "|"))
				if c != "" && strings.HasSuffix(strings.TrimSpace(lean[i]), ":") {
					wanted[c]++
				}
				assert.Contains(t, running, strings.Join(strings.Fields(c), " "), "%s: %s", name, line)
			}
		}
		assert.Greater(t, rows, 20, name)
		for figure, n := range wanted {
			assert.GreaterOrEqual(t, count[figure], n, "%s: %q", name, figure)
		}
	}
}

// Text keeps to the page and clear of other text, whatever the tables hold.
func TestTextKeepsApart(t *testing.T) {
	for name, size := range map[string]draw.Size{"A4": a4, "Letter": letter} {
		for _, w := range []holemap.Work{work(t, 1, 1, measure.Millimetre), work(t, 3, 12, measure.Inch), work(t, 5, 40, measure.Foot)} {
			s, m := made(t, w, 1+len(w.Kinds)/2)
			r := drawn(t, w, s, m, size)
			boxes := map[int][]draw.Mark{}
			for _, k := range r.Marks {
				if k.Kind == "text" && k.Text.Say != "" {
					boxes[k.Page] = append(boxes[k.Page], k)
				}
			}
			for page, marks := range boxes {
				for i, k := range marks {
					box := k.Text.Box(0).Bounds()
					assert.True(t, box.Min.X >= 17.9 && box.Max.X <= size.Width-17.9 && box.Min.Y > 10 && box.Max.Y < size.Height-9, "%s, page %d: %q leaves the page", name, page, k.Text.Say)
					for _, o := range marks[:i] {
						other := o.Text.Box(0).Bounds()
						apart := box.Min.X >= other.Max.X-0.01 || other.Min.X >= box.Max.X-0.01 || box.Min.Y >= other.Max.Y-0.01 || other.Min.Y >= box.Max.Y-0.01
						assert.True(t, apart, "%s, page %d: %q and %q", name, page, k.Text.Say, o.Text.Say)
					}
				}
			}
		}
	}
}

// A table that takes several pages has its headings on each, and its sum never stands alone.
func TestLongTables(t *testing.T) {
	w := work(t, 1, 52, measure.Millimetre)
	s, m := made(t, w, 60)
	r := drawn(t, w, s, m, a4)
	kinds := map[int]int{} // rows of the table of what is to be made, by page
	for n := range r.Pages {
		says := r.Texts(n + 1)
		for i, text := range says {
			if strings.HasPrefix(text, "operation ") && !strings.Contains(text, ":") && i+2 < len(says) && strings.HasSuffix(says[i+1], "pieces") {
				kinds[n+1]++
			}
		}
		if kinds[n+1] > 0 {
			assert.Contains(t, says, "Expected", "page %d", n+1)
			assert.GreaterOrEqual(t, kinds[n+1], 3, "page %d", n+1)
		}
		for i, text := range says {
			if text == "Together" {
				assert.GreaterOrEqual(t, kinds[n+1], 2, "rows with the sum")
				assert.NotZero(t, i)
			}
		}
	}
	assert.Greater(t, len(kinds), 1, "it takes several pages")
}

func TestPagesAreCounted(t *testing.T) {
	w := work(t, 2, 5, measure.Millimetre)
	s, m := made(t, w, 3)
	r := drawn(t, w, s, m, letter)
	for n := range r.Pages {
		assert.Contains(t, r.Texts(n+1), fmt.Sprintf("page %d of %d", n+1, len(r.Pages)))
	}
	assert.ErrorContains(t, scopepage.Draw(draw.NewRecord(), w, s, m, draw.Size{Width: 148, Height: 210}), "at least 180 × 240 mm")
}

func TestWhatIsAcknowledgedIsShown(t *testing.T) {
	w := work(t, 2, 2, measure.Millimetre)
	s, m := made(t, w, 2)
	r := drawn(t, w, s, m, a4)
	var all []string
	for n := range r.Pages {
		all = append(all, r.Texts(n+1)...)
	}
	running := strings.Join(all, " ")
	decided := strings.Index(running, "Acknowledged: somebody has decided")
	require.Positive(t, decided)
	assert.Contains(t, running[decided:], "Acknowledged by the building manager: surveyed in May. Old paint")
	assert.Contains(t, running[decided:], "heat is acknowledged by the caretaker, and there is no such caution in this layout: the stove is gone.")
	assert.Contains(t, running[decided:], scope.BurnWords)
}

// What the plan does not say is not drawn, and what it lacks is named.
func TestABareScope(t *testing.T) {
	w := work(t, 1, 2, measure.Millimetre)
	s, err := scope.Of(w)
	require.NoError(t, err)
	says := strings.Join(drawn(t, w, s, making.Making{}, a4).Texts(1), "\n")
	for _, none := range []string{"Hours\n", "Cost\n", "Days\n", "Materials\n", "To make"} {
		assert.NotContains(t, says, none)
	}
	m, err := making.Of(making.Asked{Counts: making.Count(w, 2), Kinds: w.Kinds})
	require.NoError(t, err)
	r := drawn(t, w, s.Made(m), m, a4)
	all := strings.Join(append(r.Texts(1), r.Texts(2)...), "\n")
	assert.Contains(t, all, "Add hours: for how long it takes.")
}

func TestAnInsertHasThePlaceItAsksFor(t *testing.T) {
	w := work(t, 1, 2, measure.Millimetre)
	s, m := made(t, w, 2)
	var areas []plane.Rect
	r := drawn(t, w, s, m, a4, scopepage.Insert{Heading: "Side by side", Height: 150, Draw: func(c draw.Canvas, area plane.Rect) {
		areas = append(areas, area)
		c.Text(draw.Text{At: area.Min, Say: "inserted", Height: 3})
	}})
	require.NotEmpty(t, areas)
	assert.InDelta(t, 150, areas[0].Height(), 1e-9)
	assert.Less(t, areas[0].Max.Y, 280.0)
	width, most := scopepage.Room(a4)
	assert.InDelta(t, areas[0].Width(), width, 1e-9)
	assert.Less(t, 150.0, most)
	for n := range r.Pages {
		says := r.Texts(n + 1)
		for i, text := range says {
			if text == "inserted" {
				assert.Equal(t, "Side by side", says[i-1])
				return
			}
		}
	}
	t.Fatal("it is not there")
}

// No section's name stands alone at the foot of a page.
func TestSectionsBeginWithTheirTables(t *testing.T) {
	found := 0
	for kinds := 1; kinds <= 26; kinds += 2 {
		w := work(t, 2, kinds, measure.Millimetre)
		s, m := made(t, w, kinds)
		r := drawn(t, w, s, m, letter)
		for n := range r.Pages {
			says := r.Texts(n + 1)
			for name, head := range map[string]string{
				"What the wall gets": "Wall", "The hole map": "Wall", "Where one stands": "Stand", "Materials": "Material", "Hours": "Work",
			} {
				if at := slices.Index(says, name); at >= 0 {
					found++
					assert.True(t, slices.Contains(says[at:], head), "%d kinds: %s, page %d", kinds, name, n+1)
				}
			}
		}
	}
	assert.Greater(t, found, 26)
}
