package calendar

import (
	"encoding/csv"
	"io"
	"strconv"

	"wallshoal/export/table"
)

// WriteDays writes the work day by day as CSV, one row a shift in order of time: which operation on which
// day, from when to when, by how many people, and the hours of all hands with two decimals. It returns the
// first error of w.
func WriteDays(w io.Writer, s Schedule) error {
	rows := [][]string{{"date", "weekday", "operation", "from", "to", "people", "hours"}}
	for _, h := range s.Shifts {
		rows = append(rows, []string{
			h.Day.String(), h.Day.Weekday().String(), table.Safe(s.Operations[h.Operation].Name), clock(h.From), clock(h.To),
			strconv.Itoa(h.Crew), strconv.FormatFloat(float64(h.Minutes())/60, 'f', 2, 64),
		})
	}
	return csv.NewWriter(w).WriteAll(rows)
}
