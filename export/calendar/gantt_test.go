package calendar_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/calendar"
	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// herring is a work of eight operations over the turn of a year.
func herring(t testing.TB, crew int) calendar.Chart {
	t.Helper()
	c := weekdays(calendar.Special{From: calendar.On(2026, time.December, 24), To: calendar.On(2027, time.January, 1), Why: "closed"})
	c.Crew = crew
	install := calendar.On(2027, time.January, 15)
	a, err := c.Plan([]calendar.Operation{
		{Name: "paper comes", Wait: 5 * 24 * hour}, {Name: "cut and score", Minutes: 900, Crew: 1}, {Name: "fold", Minutes: 4210.5},
		{Name: "dip in varnish", Minutes: 300, Wait: 48 * hour}, {Name: "nothing"}, {Name: "pin", Minutes: 1200}, {Name: "pack", Minutes: 95, Crew: 1},
		{Name: "tape templates and drill", Minutes: 1500, Crew: 2}, {Name: "hang", Minutes: 960, Crew: 2},
	}, calendar.On(2026, time.December, 7), &install)
	require.NoError(t, err)
	return calendar.Chart{Title: "Herring at the ferry terminal", Issued: "25 Nov 2026", Calendar: c, Answer: a,
		Notes: []string{"Guessed from one job: pack."}}
}

// pages are the sizes that charts are drawn on, mm.
func pages() map[string]draw.Size {
	return map[string]draw.Size{
		"A4": {Width: 297, Height: 210}, "A4 upright": {Width: 210, Height: 297},
		"Letter": {Width: 279.4, Height: 215.9}, "Letter upright": {Width: 215.9, Height: 279.4},
	}
}

// odd returns charts at the ends of what people ask for.
func odd(t testing.TB) map[string]calendar.Chart {
	out := map[string]calendar.Chart{"two": herring(t, 2), "one": herring(t, 1), "twenty": herring(t, 20)}
	long := strings.Repeat("a long name of an operation ", 4)
	var many []calendar.Operation
	for i := range 60 {
		many = append(many, calendar.Operation{Name: fmt.Sprintf("%d %s", i, long), Minutes: 1000 * float64(i%5), Wait: i * 10, Crew: 1 + 50*(i%2)})
	}
	install := calendar.On(2027, time.March, 1)
	a, err := weekdays().Plan(many, calendar.On(2026, time.November, 28), &install)
	require.NoError(t, err)
	out["many"] = calendar.Chart{Title: strings.Repeat("Herring over the long landing stage ", 4), Calendar: weekdays(), Answer: a,
		Notes: slices.Repeat([]string{strings.Repeat("much is to be said of this ", 12)}, 5)}
	a, err = weekdays().Plan([]calendar.Operation{{Name: "鰊 x", Minutes: 1, Wait: 200 * 24 * hour}}, calendar.On(2026, time.November, 28), nil)
	require.NoError(t, err)
	out["wait"] = calendar.Chart{Title: "x", Calendar: weekdays(), Answer: a}
	day := calendar.On(2026, time.November, 30)
	a, err = weekdays().Plan([]calendar.Operation{{Name: "x", Minutes: 480}}, day, &day)
	require.NoError(t, err)
	out["one day"] = calendar.Chart{Calendar: weekdays(), Answer: a}
	return out
}

// Every line of text stays on the page, and none lies over another.
func TestTextStaysOnThePageAndNeverCollides(t *testing.T) {
	const margin = 8.0
	for name, ch := range odd(t) {
		sizes := pages()
		sizes["whole"] = calendar.Whole(ch, margin)
		for page, size := range sizes {
			r := draw.NewRecord()
			require.NoError(t, calendar.Gantt(r, ch, size, margin))
			require.NoError(t, r.Close())
			if page == "whole" {
				assert.Len(t, r.Pages, 1, name)
			}
			edge := plane.Rect{Max: plane.Point{X: size.Width, Y: size.Height}}.Grow(-margin + 0.01)
			boxes := map[int][]draw.Text{}
			for _, m := range r.Marks {
				for _, p := range m.Points {
					assert.True(t, edge.Contains(p), "%s on %s: %s at %v", name, page, m.Kind, p)
				}
				if m.Kind != "text" || strings.TrimSpace(m.Text.Say) == "" {
					continue
				}
				box := m.Text.Box(0).Bounds()
				assert.True(t, edge.Contains(box.Min) && edge.Contains(box.Max), "%s on %s: %q at %v", name, page, m.Text.Say, box)
				for _, other := range boxes[m.Page] {
					assert.False(t, box.Overlaps(other.Box(-0.05).Bounds()), "%s on %s: %q over %q", name, page, m.Text.Say, other.Say)
				}
				boxes[m.Page] = append(boxes[m.Page], m.Text)
			}
			if t.Failed() {
				return
			}
		}
	}
}

// Every shift has its bar once, in the row of its operation, with its hours over it, and the bars of an
// operation stand in order.
func TestEveryShiftHasItsBar(t *testing.T) {
	for name, ch := range odd(t) {
		for page, size := range pages() {
			r := draw.NewRecord()
			require.NoError(t, calendar.Gantt(r, ch, size, 8))
			bars := map[string]int{}
			right := map[string]float64{}
			for _, m := range r.Marks {
				if m.Kind != "polygon" || m.Paint.Fill.Colour != draw.Grey(60) || m.Groups[0] == "legend" {
					continue
				}
				key := fmt.Sprint(m.Page, m.Groups[0])
				b := m.Rings[0].Bounds()
				assert.GreaterOrEqual(t, b.Min.X, right[key], "%s on %s", name, page)
				right[key] = b.Max.X - 0.31
				bars[m.Groups[0]]++
			}
			want := map[string]int{}
			for _, s := range ch.Answer.Schedule.Shifts {
				clean, _ := draw.Clean(ch.Answer.Schedule.Operations[s.Operation].Name)
				want[clean]++
			}
			assert.Equal(t, want, bars, "%s on %s", name, page)
		}
	}
}

// The hours over the bars of a day are those of its shifts, and the sheet says the answer.
func TestWhatAChartSays(t *testing.T) {
	ch := herring(t, 1)
	r := draw.NewRecord()
	require.NoError(t, calendar.Gantt(r, ch, calendar.Whole(ch, 8), 8))
	texts := r.Texts(1)
	for _, want := range []string{
		"Herring at the ferry terminal", "25 Nov 2026 · Days of work · sheet 1/1", "December 2026", "January 2027", "week 53", "week 1",
		"70.2 h of work, one person", "5 h of work, one person · then wait 48 h", "then wait 5 days",
		"last day to begin: Fri 4 Dec 2026", "hangs by the end of Fri 15 Jan 2027", "Guessed from one job: pack.", "to wait, by day and night",
	} {
		assert.Contains(t, texts, want)
	}
	assert.NotContains(t, texts, "nothing", "what takes no time has no row")
	assert.Contains(t, strings.Join(texts[2:5], " "), "that cannot be done. It ends 3 days later")
}

func TestPagesThatAreTooSmall(t *testing.T) {
	for _, c := range []struct {
		size   draw.Size
		margin float64
	}{{draw.Size{Width: 100, Height: 200}, 8}, {draw.Size{Width: 297, Height: 100}, 8}, {draw.Size{Width: 297, Height: 210}, 100}} {
		assert.Error(t, calendar.Gantt(draw.NewRecord(), herring(t, 1), c.size, c.margin))
	}
}

// The same chart gives the same bytes, as SVG and as PDF.
func TestSameBytes(t *testing.T) {
	once := func() string {
		var b bytes.Buffer
		ch := herring(t, 2)
		s := draw.NewSVG(&b, draw.About{Title: ch.Title})
		require.NoError(t, calendar.Gantt(s, ch, calendar.Whole(ch, 8), 8))
		require.NoError(t, s.Close())
		p := draw.NewPDF(draw.About{Title: ch.Title}, time.Time{})
		require.NoError(t, calendar.Gantt(p, ch, pages()["A4"], 8))
		_, err := p.WriteTo(&b)
		require.NoError(t, err)
		return b.String()
	}
	assert.Equal(t, once(), once())
}

// No calendar or schedule breaks a chart.
func TestChartsByChance(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 15 {
		c, ops, from := drawn(r)
		install := from + calendar.Day(r.IntN(80))
		a, err := c.Plan(ops, from, &install)
		require.NoError(t, err)
		ch := calendar.Chart{Title: "x", Calendar: c, Answer: a}
		for _, size := range []draw.Size{{Width: 297, Height: 210}, calendar.Whole(ch, 6)} {
			rec := draw.NewRecord()
			require.NoError(t, calendar.Gantt(rec, ch, size, 6))
			require.NoError(t, rec.Close())
		}
	}
}
