package calendar_test

import (
	"bytes"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/calendar"
)

func TestWriteDays(t *testing.T) {
	ops := []calendar.Operation{{Name: "=fold, glue", Minutes: 9 * hour, Wait: 20 * hour}, {Name: "hang", Minutes: 100, Crew: 2}}
	s, err := weekdays().Forward(ops, calendar.On(2026, time.November, 26))
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, calendar.WriteDays(&b, s))
	assert.Equal(t, `date,weekday,operation,from,to,people,hours
2026-11-26,Thursday,"'=fold, glue",09:00,17:00,1,8.00
2026-11-27,Friday,"'=fold, glue",09:00,10:00,1,1.00
2026-11-30,Monday,hang,09:00,09:50,2,1.67
`, b.String())
	assert.ErrorContains(t, calendar.WriteDays(broken{}, s), "disk full")
}

// Nearly ten years of work with as many special days as a calendar holds.
func BenchmarkPlan(b *testing.B) {
	c := weekdays()
	from := calendar.On(2026, time.November, 25)
	for i := range calendar.MaxSpecial {
		d := from + calendar.Day(3*i)
		c.Special = append(c.Special, calendar.Special{From: d, To: d})
	}
	var ops []calendar.Operation
	for range 100 {
		ops = append(ops, calendar.Operation{Name: "x", Minutes: 7000, Wait: 600})
	}
	install := from + 3600
	for b.Loop() {
		_, err := c.Plan(ops, from, &install)
		require.NoError(b, err)
	}
}
