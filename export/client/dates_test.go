package client

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/calendar"
	"wallshoal/export/caution"
	"wallshoal/export/hours"
	"wallshoal/export/making"
	"wallshoal/export/makinggood"
)

// dated returns the hall with a calendar of ten hours a day on weekdays, from Monday 1 March 2027: five days
// in which paper comes, ten hours to fold, two days to dry, and a day for two to drill.
func dated(t *testing.T, install *calendar.Day, drill hours.Per) Summary {
	t.Helper()
	w := hall(t, caution.UsualLimits())
	judged := func(minutes float64) *hours.Judged {
		return &hours.Judged{Least: minutes, Likely: minutes, Most: minutes}
	}
	m, err := making.Of(making.Asked{
		Counts: making.Count(w, 4), Kinds: w.Kinds,
		Hours: &making.Hours{Likelihood: 0.8, Operations: []making.Operation{
			{Operation: hours.Operation{Name: "paper comes"}, Wait: 5 * 24 * 60},
			{Operation: hours.Operation{Name: "fold", Per: hours.Piece, Judged: judged(120)}, Wait: 2 * 24 * 60},
			{Operation: hours.Operation{Name: "drill", Per: drill, Judged: judged(120)}, Crew: 2},
		}},
		Calendar: &making.Calendar{
			Calendar: calendar.Calendar{Opens: 8 * 60, Hours: [7]int{0, 600, 600, 600, 600, 600, 0}, Crew: 1},
			From:     calendar.On(2027, time.March, 1), Install: install,
		},
	})
	require.NoError(t, err)
	require.NoError(t, m.Unscheduled)
	s, err := Of(w, makinggood.Usual())
	require.NoError(t, err)
	return s.Dated(m)
}

// Worked by hand: from Monday 1 March, 8:00, paper comes until Saturday, 8:00; five pieces are folded on
// Monday the 8th and dry until Wednesday evening; ten holes of two hours take two people on Thursday, the
// 11th. To hang by Friday the 19th, two drill on that day; folded by Wednesday 18:00 before 19th 8:00 less
// 48 h, that is on Tuesday the 16th; paper is asked for by Thursday the 11th, so all is agreed on the 10th.
func TestDatesInTheClientsWords(t *testing.T) {
	d := dated(t, new(calendar.On(2027, time.March, 19)), hours.Hole).Dates
	require.NotNil(t, d)
	assert.Equal(t, "It can hang by Fri 19 Mar 2027. Begun as planned, it hangs by the end of Thu 11 Mar 2027.", d.Verdict)
	assert.Equal(t, []Step{
		{"You say yes: all is agreed and signed", "by Mon 1 Mar 2027", "by the end of Wed 10 Mar 2027"},
		{"Ordered and made, away from your walls", "Mon 1 Mar 2027 to Wed 10 Mar 2027", "Thu 11 Mar 2027 to Thu 18 Mar 2027"},
		{"Work on your walls", "Thu 11 Mar 2027", "Fri 19 Mar 2027"},
		{"It hangs", "by the end of Thu 11 Mar 2027", "by the end of Fri 19 Mar 2027"},
	}, d.Steps)
	assert.Contains(t, d.Notes[0], "on 1 day, by up to 2 people")
	assert.Contains(t, d.Notes[0], "“drill”")
	require.Len(t, d.Bands, 2)
	require.Len(t, d.Marks, 2)
	assert.Equal(t, calendar.On(2027, time.March, 10), d.Marks[0].Day)
}

func TestDatesThatCannotBe(t *testing.T) {
	d := dated(t, new(calendar.On(2027, time.March, 9)), hours.Sheet).Dates
	assert.Contains(t, d.Verdict, "It cannot hang by Tue 9 Mar 2027.")
	assert.Contains(t, d.Verdict, "days later.")
	assert.Contains(t, strings.Join(d.Notes, " "), "a later day")
}

// Where nothing is counted by hole, sheet or wall nobody knows when the walls are worked on; and without a
// day to hang by nothing is late.
func TestDatesThatNobodyKnows(t *testing.T) {
	d := dated(t, nil, hours.Job).Dates
	require.NotNil(t, d)
	assert.Len(t, d.Bands, 1)
	assert.Len(t, d.Steps, 3)
	assert.Empty(t, d.Marks)
	assert.False(t, d.Late)
	for _, s := range d.Steps {
		assert.Empty(t, s.Latest)
	}
	s, err := Of(hall(t, caution.UsualLimits()), makinggood.Usual())
	require.NoError(t, err)
	assert.Nil(t, s.Dated(making.Making{}).Dates)
}

// What the client sees has neither hours nor money.
func TestDatesTellNeitherHoursNorMoney(t *testing.T) {
	d := dated(t, new(calendar.On(2027, time.March, 19)), hours.Hole).Dates
	said := d.Verdict + strings.Join(d.Notes, " ")
	for _, s := range d.Steps {
		said += s.What + s.Planned + s.Latest
	}
	for _, not := range []string{" h ", " min", "hour", "€", "£", "$"} {
		assert.NotContains(t, said, not)
	}
}
