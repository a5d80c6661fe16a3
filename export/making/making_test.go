package making

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/calendar"
	"wallshoal/export/cost"
	"wallshoal/export/decimal"
	"wallshoal/export/hours"
	"wallshoal/export/materials"
	"wallshoal/export/nesting"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

func number(t *testing.T, text string) decimal.Number {
	t.Helper()
	n, err := decimal.Parse(text)
	require.NoError(t, err)
	return n
}

func price(t *testing.T, text string) *decimal.Number { return new(number(t, text)) }

// small is a plan whose figures can be worked out by hand: 20 squares with one hole each, and 10 strips
// with two.
func small(t *testing.T) Asked {
	on := calendar.On
	return Asked{
		Counts: Counts{Placed: []int{20, 10}, Area: 12.5, Pages: 6},
		Kinds: []scatter.Kind{
			{Code: "A", Name: "Square", Outline: plane.Rectangle(plane.Point{X: -50, Y: -50}, 100, 100), Holes: make([]scatter.Hole, 1)},
			{Code: "B", Name: "Strip", Outline: plane.Rectangle(plane.Point{X: -100, Y: -10}, 200, 20), Holes: make([]scatter.Hole, 2)},
		},
		Sheets: []Sheets{
			{Stock: nesting.Stock{Name: "card", Width: 220, Height: 220, Margin: 5, Gap: 5, Turn: nesting.Quarter}, Cuts: []string{"A"}, Price: price(t, "0.35")},
		},
		Spares: materials.Spares{Share: number(t, "0.1"), Least: 1},
		Stock:  map[string]int{"B": 3},
		Materials: []materials.Material{
			{Name: "pins", Per: materials.PerHole, Amount: materials.Amount{Value: decimal.Of(1)}, Pack: materials.Amount{Value: decimal.Of(25)}, Price: price(t, "1.99")},
			{Name: "glue", Per: materials.PerPiece, Amount: materials.Amount{Value: decimal.Of(2), Base: materials.Gram}},
		},
		Hours: &Hours{Likelihood: 0.8, Operations: []Operation{
			{Operation: hours.Operation{Name: "fold", Per: hours.Piece, Judged: &hours.Judged{Least: 6, Likely: 12, Most: 18}}},
			{Operation: hours.Operation{Name: "dry"}, Wait: 24 * 60},
			{Operation: hours.Operation{Name: "drill", Per: hours.Hole, Judged: &hours.Judged{Least: 3, Likely: 3, Most: 3}}, Crew: 2},
		}},
		Calendar: &Calendar{
			Calendar: calendar.Calendar{Opens: 540, Hours: [7]int{0, 120, 120, 120, 120, 120, 0}, Crew: 1},
			From:     on(2027, time.March, 1), Install: new(on(2027, time.March, 31)),
		},
		Cost: &Cost{
			Estimate: cost.Estimate{
				Currency: cost.Currency{Before: "€", Digits: 2}, Rounding: cost.ByLine,
				Items: []cost.Item{
					{Name: "card"}, {Name: "materials"},
					{Name: "work", Price: cost.Sure(decimal.Of(30))},
					{Name: "travel", Price: cost.Sure(decimal.Of(40)), Times: cost.Sure(decimal.Of(1))},
				},
				Tax: number(t, "0.2"),
			},
			Of: []string{OfSheets, OfMaterials, OfHours, ""}, Budget: price(t, "300"),
		},
	}
}

// worked is small with the lines that are added up paid for once, as the plan reader has them.
func worked(t *testing.T) Asked {
	a := small(t)
	for i, of := range a.Cost.Of {
		if of == OfSheets || of == OfMaterials {
			a.Cost.Items[i].Times = cost.Sure(decimal.Of(1))
		}
	}
	return a
}

// Of A 20 and two spares are 22 to make, four on a sheet of 220 mm: six sheets, 2.10. Of B 10 and one
// spare, less three in hand, are 8. Holes are 20 + 20 = 40, two packs of pins: 3.98. Folding 30 pieces
// takes 30 × 12 = 360 minutes and drilling 40 holes 120: eight hours, 240.00. With travel that is 286.08,
// and 343.30 with tax of 57.22 (57.216).
func TestFiguresAgree(t *testing.T) {
	m, err := Of(worked(t))
	require.NoError(t, err)
	assert.Equal(t, []int{22, 8}, []int{m.Pieces[0].Make, m.Pieces[1].Make})
	assert.Equal(t, 6, m.Nests[0].Total())
	assert.Equal(t, 2, m.Bill[0].Packs)
	assert.Equal(t, "60 g", m.Bill[1].Gross.String())
	assert.Equal(t, 480.0, m.Work.Expected)
	for i, want := range []string{"2.10", "3.98", "240.00", "40.00"} {
		assert.Equal(t, want, m.Costs.Sum.Lines[i].Likely.Text(2), m.Costs.Estimate.Items[i].Name)
	}
	assert.Equal(t, "343.30", m.Costs.Sum.Total.Likely.Text(2))
	assert.Equal(t, "43.30", m.Costs.Over.Text(2), "over the budget of 300")
	require.Len(t, m.Missing, 1)
	assert.Contains(t, m.Missing[0], "glue", "which has no price")

	// Two hours a day: Monday to Wednesday to fold; it dries until Thursday, 11:00, when two drill for an hour
	// but the day has ended, so on Friday.
	assert.Equal(t, "2027-03-05", m.Days.Expected.Schedule.Last().String())
	assert.True(t, m.Days.Expected.Fits)
	assert.GreaterOrEqual(t, m.Days.AtMost.Schedule.Last(), m.Days.Expected.Schedule.Last())
	var minutes float64
	for _, s := range m.Days.Expected.Schedule.Shifts {
		minutes += float64(s.Minutes())
	}
	assert.Equal(t, m.Work.Expected, minutes, "what is laid out is what is paid for")
}

func TestWhatThePlanDoesNotSayIsNotThere(t *testing.T) {
	a := worked(t)
	m, err := Of(Asked{Counts: a.Counts, Kinds: a.Kinds})
	require.NoError(t, err)
	assert.Equal(t, 20, m.Pieces[0].Make)
	assert.Empty(t, m.Nests)
	assert.Empty(t, m.Bill)
	assert.Nil(t, m.Work)
	assert.Nil(t, m.Days)
	assert.Nil(t, m.Costs)
	assert.Empty(t, m.Notes)
	assert.Empty(t, m.Missing)
}

// With 25 of A and 12 of B in hand nothing is to be made: folding, drying, sheets and glue are nought, and 40
// holes are drilled as before: 120 minutes, 60.00. With pins and travel that is 103.98, and 124.78 with tax of
// 20.80 (20.796). Two drill for an hour on the first day.
func TestHungAgainElsewhere(t *testing.T) {
	a := worked(t)
	a.Stock = map[string]int{"A": 25, "B": 12}
	a.Calendar.Install = new(a.Calendar.From)
	m, err := Of(a)
	require.NoError(t, err)
	assert.Equal(t, []int{0, 0}, []int{m.Pieces[0].Make, m.Pieces[1].Make})
	assert.Zero(t, m.Nests[0].Total())
	assert.Equal(t, "0", m.Bill[1].Gross.Value.String())
	assert.Equal(t, 120.0, m.Work.Expected)
	assert.Equal(t, "124.78", m.Costs.Sum.Total.Likely.Text(2))
	require.NotNil(t, m.Days)
	assert.Equal(t, a.Calendar.From, m.Days.Expected.Schedule.Last())
	assert.True(t, m.Days.Expected.Fits, "nothing dries")
	assert.Empty(t, m.Missing)

	// Spares that are missing are folded, and dry: 22 and 11, less 21 and 11, is one.
	a.Stock = map[string]int{"A": 21, "B": 11}
	m, err = Of(a)
	require.NoError(t, err)
	assert.Equal(t, 132.0, m.Work.Expected)
	require.NotNil(t, m.Days)
	assert.False(t, m.Days.Expected.Fits)
	assert.Contains(t, strings.Join(m.Notes, "\n"), "Taken to be for hanging: drill.")

	a.Hours.Operations = a.Hours.Operations[:2]
	a.Stock = map[string]int{"A": 25, "B": 12}
	m, err = Of(a)
	require.NoError(t, err)
	assert.Nil(t, m.Days)
	assert.NoError(t, m.Unscheduled)
	assert.Contains(t, m.Notes, "There is nothing to do, so there are no days.")
}

func TestMissingFiguresAreAskedFor(t *testing.T) {
	a := worked(t)
	a.Sheets[0].Price = nil
	a.Hours.Operations[0].Judged = nil
	m, err := Of(a)
	require.NoError(t, err)
	require.Len(t, m.Missing, 3)
	assert.Contains(t, m.Missing[0], "fold")
	assert.Contains(t, m.Missing[1], "card")
	assert.Equal(t, 120.0, m.Work.Expected, "nothing is invented")
}

func TestDaysThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(c *Calendar)
		want  string
	}{
		"past":     {func(c *Calendar) { c.Install, c.Today = new(c.From-1), true }, "2027-02-28 is before today, 2027-03-01"},
		"holidays": {func(c *Calendar) { c.Special = []calendar.Special{{From: c.From, To: c.From + calendar.MaxDays + 9}} }, ""},
	} {
		a := worked(t)
		c.spoil(a.Calendar)
		m, err := Of(a)
		require.NoError(t, err, "the rest can be said")
		assert.Nil(t, m.Days, name)
		var p wall.Problem
		require.ErrorAs(t, m.Unscheduled, &p, name)
		assert.Contains(t, p.Wrong, c.want)
		assert.NotEmpty(t, p.Fix, name)
		assert.NotNil(t, m.Costs, name)
	}
}

// The work itself costs 343.30, and is done on a day that has room for little more.
func TestFit(t *testing.T) {
	m, err := Of(worked(t))
	require.NoError(t, err)
	f, err := m.Fit(Wanted{Most: 100, Budget: price(t, "343.30")})
	require.NoError(t, err)
	assert.Equal(t, 30, f.Pieces, "what it costs is enough for it")
	assert.Equal(t, []cost.Bind{cost.Budget}, f.Binds)
	assert.Equal(t, "343.30", f.Cost.Likely.Text(2))

	f, err = m.Fit(Wanted{Most: 100, By: new(m.Days.Expected.Schedule.Last())})
	require.NoError(t, err)
	assert.GreaterOrEqual(t, f.Pieces, 30)
	assert.Equal(t, []cost.Bind{cost.Date}, f.Binds)

	f, err = m.Fit(Wanted{Most: 40, Budget: price(t, "100000"), By: m.Calendar.Install})
	require.NoError(t, err)
	assert.Equal(t, []cost.Bind{cost.Room}, f.Binds)
	assert.Equal(t, 40, f.Pieces)

	lazy := *m.Calendar
	lazy.Hours = [7]int{1: 1} // a minute a week
	lazy.Special = []calendar.Special{{From: lazy.From + 30, To: lazy.From + 3000}}
	a := m.Asked
	a.Calendar = &lazy
	idle, err := Of(a)
	require.NoError(t, err)
	f, err = idle.Fit(Wanted{Most: 100, Budget: price(t, "343.30")})
	require.NoError(t, err, "money can be told without days")
	assert.Equal(t, 30, f.Pieces)
	assert.Equal(t, Never(lazy.From), f.Finish)

	_, err = m.Fit(Wanted{Most: 40, Budget: price(t, "47.99")})
	assert.ErrorContains(t, err, "what is to be paid before there is a piece", "travel and its tax are 48")
	_, err = m.Fit(Wanted{Most: 40, By: new(m.Calendar.From - 1)})
	assert.ErrorContains(t, err, "before work begins")
	m.Cost, m.Asked.Hours = nil, nil
	_, err = m.Fit(Wanted{Most: 40, Budget: price(t, "1")})
	assert.ErrorContains(t, err, "cost")
	_, err = m.Fit(Wanted{Most: 40, By: m.Calendar.Install})
	assert.ErrorContains(t, err, "calendar")
}

func TestNeitherCostNorDaysFallAsPiecesAreAdded(t *testing.T) {
	m, err := Of(worked(t))
	require.NoError(t, err)
	order := dealt(m.Placed, 120)
	placed := make([]int, 2)
	before, last, err := m.at(placed)
	require.NoError(t, err)
	for n, k := range order {
		placed[k]++
		now, day, err := m.at(placed)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, now.Likely.Cmp(before.Likely), 0, "%d pieces", n+1)
		assert.GreaterOrEqual(t, day, last, "%d pieces", n+1)
		if n+1 == 30 {
			assert.Equal(t, m.Placed, placed, "the work itself")
			assert.Equal(t, m.Costs.Sum.Total, now)
		}
		before, last = now, day
	}
}
