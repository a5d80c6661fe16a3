package webpage_test

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"wallshoal/export/calendar"
	"wallshoal/export/client"
	"wallshoal/export/hours"
	"wallshoal/export/making"
	"wallshoal/export/makinggood"
	"wallshoal/export/optionpage"
	"wallshoal/export/webpage"
)

// The page has every step of the dates in a table, with a strip of days; a work without dates has neither.
func TestDatesOnThePage(t *testing.T) {
	w := hall(t)
	m, err := making.Of(making.Asked{
		Counts: making.Count(w, 4), Kinds: w.Kinds,
		Hours: &making.Hours{Likelihood: 0.8, Operations: []making.Operation{
			{Operation: hours.Operation{Name: "fold", Per: hours.Piece, Judged: &hours.Judged{Least: 5, Likely: 6, Most: 7}}},
			{Operation: hours.Operation{Name: "drill", Per: hours.Hole, Judged: &hours.Judged{Least: 1, Likely: 2, Most: 3}}},
		}},
		Calendar: &making.Calendar{
			Calendar: calendar.Calendar{Opens: 540, Hours: [7]int{0, 300, 300, 300, 300, 300, 0}, Crew: 1},
			From:     calendar.On(2026, time.November, 30), Install: new(calendar.On(2027, time.February, 26)),
		},
	})
	require.NoError(t, err)
	s, err := client.Of(w, makinggood.Usual())
	require.NoError(t, err)
	s = s.Dated(m)
	require.NotNil(t, s.Dates)
	var out bytes.Buffer
	require.NoError(t, webpage.Write(&out, w, s, nil, optionpage.SideBySide{}))
	page, err := html.Parse(&out)
	require.NoError(t, err)
	cells, strips := map[string]int{}, 0
	each(page, func(n *html.Node) {
		switch {
		case n.Type == html.ElementNode && (n.Data == "td" || n.Data == "th"):
			cells[words(n)]++
		case n.Type == html.ElementNode && n.Data == "svg" && strings.Contains(attribute(n, "aria-label"), "days"):
			strips++
		}
	})
	for _, step := range s.Dates.Steps {
		for _, says := range []string{step.What, step.Planned, step.Latest} {
			assert.NotZero(t, cells[says], says)
		}
	}
	assert.Equal(t, 1, strips)
	assert.NotContains(t, string(written(t, w)), "What happens when")
}
