package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/calendar"
	"wallshoal/export/hours"
	"wallshoal/export/number"
)

// A madeScope is what scope.json says of the making.
type madeScope struct {
	countedScope
	Sheets []struct {
		Wall   string
		Sheets int
	}
	Making struct {
		Hours *struct {
			Expected   float64 `json:"expected_min"`
			Operations []struct {
				Name     string
				Expected float64 `json:"expected_min"`
			}
		}
		Days *struct {
			Done    string
			LastYes string `json:"last_yes"`
		}
		Cost *struct {
			Currency struct{ Before, After string }
			Total    struct{ Low, Likely, High string }
		}
	}
	Options []struct {
		Name      string
		AsPlanned bool `json:"as_planned"`
		Pieces    int
		Holes     int
		Hours     *struct {
			Expected float64 `json:"expected_min"`
		}
		Cost *struct{ Low, Likely, High string }
		Days *struct{ Done string }
	}
}

// dateWords returns a date of scope.json as pages have it.
func dateWords(t *testing.T, date string) string {
	t.Helper()
	day, err := time.Parse(time.DateOnly, date)
	require.NoError(t, err)
	return calendar.DayOf(day).Words()
}

// figuresAgree holds what the files of a pack say of pieces, holes, sheets, hours, money and days to
// scope.json.
func figuresAgree(t *testing.T, dir string) {
	data, err := os.ReadFile(filepath.Join(dir, "scope.json"))
	require.NoError(t, err)
	var s madeScope
	require.NoError(t, json.Unmarshal(data, &s))

	// Text as one reads it, with each run of spaces as one: pages break lines where they have to.
	text := map[string]string{}
	for _, name := range []string{"scope.md", "client.html"} {
		page, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		text[name] = strings.ReplaceAll(string(page), `\`, "")
	}
	for _, name := range []string{"scope.pdf", "client.pdf", "order.pdf", "gantt.pdf", "hole-map.pdf"} {
		if _, err := os.Stat(filepath.Join(dir, name)); err == nil {
			text[name] = output(t, "pdftotext", "-layout", filepath.Join(dir, name), "-")
		}
	}
	for name := range text {
		text[name] = strings.Join(strings.Fields(text[name]), " ")
	}
	on := func(figure string, names ...string) {
		t.Helper()
		figure = strings.Join(strings.Fields(figure), " ")
		for _, name := range names {
			assert.True(t, strings.Contains(text[name], figure), "%q is not in %s", figure, name)
		}
	}

	on(counted(s.Holes, "hole"), "scope.md", "client.pdf", "client.html")
	on("All "+number.Whole(s.Pieces)+" "+number.Whole(s.Holes), "scope.pdf", "order.pdf")
	on(counted(s.Pieces, "piece"), "scope.md", "client.pdf", "client.html")

	// Sheets of every wall are pages of the map, and the table sums them.
	total := 0
	for _, p := range s.Sheets {
		total += p.Sheets
	}
	if len(s.Sheets) > 1 {
		on("| **All** | | "+number.Whole(total)+" |", "scope.md")
		sheets := map[string]bool{}
		for _, m := range regexp.MustCompile(`\b\d+-[A-Z]+\d+\b`).FindAllString(text["hole-map.pdf"], -1) {
			sheets[m] = true
		}
		assert.GreaterOrEqual(t, len(sheets), total, "names of sheets in the hole map")
	}

	var hoursSaid, costSaid string
	money := func(sum string) string {
		c := s.Making.Cost.Currency
		return c.Before + number.Group(sum) + c.After
	}
	if h := s.Making.Hours; h != nil {
		hoursSaid = hours.Clock(h.Expected)
		on(hoursSaid, "scope.md", "scope.pdf")
		sum := 0.0
		for _, o := range h.Operations {
			sum += o.Expected
		}
		assert.InDelta(t, h.Expected, sum, 0.1*float64(len(h.Operations)), "minutes of all operations")
	}
	if c := s.Making.Cost; c != nil {
		costSaid = money(c.Total.Likely)
		for _, sum := range []string{c.Total.Low, c.Total.Likely, c.Total.High} {
			on(money(sum), "scope.md", "scope.pdf")
		}
	}
	if d := s.Making.Days; d != nil {
		on(dateWords(t, d.Done), "scope.md", "scope.pdf", "gantt.pdf", "client.pdf", "client.html")
		on(dateWords(t, d.LastYes), "scope.md", "scope.pdf", "gantt.pdf", "client.pdf", "client.html")
		days := rows(t, filepath.Join(dir, "days.csv"))
		assert.Equal(t, d.Done, days[len(days)-1]["date"], "the last day of days.csv")
		worked := 0.0
		for _, day := range days {
			var h float64
			_, err := fmt.Sscan(day["hours"], &h)
			require.NoError(t, err)
			worked += h
		}
		assert.InDelta(t, s.Making.Hours.Expected/60, worked, 0.05*float64(len(days)), "hours of days.csv")
	}
	for _, o := range s.Options {
		pages := []string{"scope.md", "scope.pdf", "client.pdf", "client.html"}
		on(hours.Clock(o.Hours.Expected), "scope.md", "scope.pdf") // what the maker works is no matter of the client
		on(money(o.Cost.Likely), pages...)
		on(dateWords(t, o.Days.Done), pages...)
		if o.AsPlanned {
			assert.Equal(t, []int{s.Pieces, s.Holes}, []int{o.Pieces, o.Holes}, o.Name)
			assert.Equal(t, hoursSaid, hours.Clock(o.Hours.Expected), o.Name)
			assert.Equal(t, costSaid, money(o.Cost.Likely), o.Name)
			assert.Equal(t, s.Making.Days.Done, o.Days.Done, o.Name)
		}
	}
}
