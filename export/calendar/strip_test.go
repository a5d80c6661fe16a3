package calendar_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/calendar"
	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// The days of work of an operation are in its spans, each once, and so are the days of its wait.
func TestBandsHoldTheSchedule(t *testing.T) {
	for name, ch := range odd(t) {
		s := ch.Answer.Schedule
		bands := s.Bands()
		n := 0
		for i, o := range s.Operations {
			worked := map[calendar.Day]bool{}
			for _, h := range s.Shifts {
				if h.Operation == i {
					worked[h.Day] = true
				}
			}
			waits := 0
			for _, w := range s.Waits {
				if w.Operation == i {
					waits++
				}
			}
			if len(worked)+waits == 0 {
				continue
			}
			require.Less(t, n, len(bands), name)
			assert.Equal(t, o.Name, bands[n].Name, name)
			for _, p := range bands[n].Spans {
				assert.LessOrEqual(t, p.From, p.To, name)
				if p.Wait {
					waits--
					continue
				}
				for d := p.From; d <= p.To; d++ {
					assert.True(t, worked[d], "%s: %s", name, d)
					delete(worked, d)
				}
			}
			assert.Empty(t, worked, name)
			assert.Zero(t, waits, name)
			n++
		}
		assert.Len(t, bands, n, name)
	}
}

// Whatever its span, a strip keeps to its area and its words keep apart.
func TestAStripKeepsToItsArea(t *testing.T) {
	area := plane.Rect{Min: plane.Point{X: 20, Y: 30}, Max: plane.Point{X: 190, Y: 280}}
	for name, ch := range odd(t) {
		bands := ch.Answer.Schedule.Bands()
		var marks []calendar.Mark
		if ch.Answer.Install != nil {
			marks = []calendar.Mark{
				{Day: ch.Answer.LastYes, End: true, Dashed: true, Says: "all must be agreed by the end of " + ch.Answer.LastYes.Words()},
				{Day: *ch.Answer.Install, End: true, Says: "hangs by the end of " + ch.Answer.Install.Words()},
			}
		}
		r := draw.NewRecord()
		r.Page(210, 2000)
		calendar.Strip(r, area, bands, marks)
		require.NoError(t, r.Close())
		bottom := area.Min.Y + calendar.StripHeight(bands, marks)
		var boxes []plane.Rect
		inside := func(b plane.Rect, what string) {
			assert.True(t, b.Min.X >= area.Min.X-0.5 && b.Max.X <= area.Max.X+0.5 && b.Min.Y >= area.Min.Y-0.5 && b.Max.Y <= bottom, "%s: %s at %v leaves the area", name, what, b)
		}
		for _, k := range r.Marks {
			switch k.Kind {
			case "text":
				box := k.Text.Box(0).Bounds()
				inside(box, k.Text.Say)
				for _, o := range boxes {
					apart := box.Min.X >= o.Max.X-0.01 || o.Min.X >= box.Max.X-0.01 || box.Min.Y >= o.Max.Y-0.01 || o.Min.Y >= box.Max.Y-0.01
					assert.True(t, apart, "%s: %q meets another", name, k.Text.Say)
				}
				boxes = append(boxes, box)
			case "line":
				inside(plane.Ring(k.Points).Bounds(), "a line")
			}
		}
	}
}

// A day stands where its share of the span has it: three weeks from Monday on are 21 columns.
func TestAStripIsTrueToItsDays(t *testing.T) {
	from := calendar.On(2027, time.March, 1)
	r := draw.NewRecord()
	r.Page(300, 100)
	calendar.Strip(r, plane.Rect{Max: plane.Point{X: 284, Y: 90}}, []calendar.Band{{Name: "fold", Spans: []calendar.Span{{From: from + 7, To: from + 8}}}},
		[]calendar.Mark{{Day: from, Says: "begun"}, {Day: from + 20, End: true, Says: "ended"}})
	require.NoError(t, r.Close())
	left := 0.26 * 284
	day := (284 - left) / 21
	var bars []plane.Rect
	for _, k := range r.Marks {
		if k.Kind == "polygon" && k.Paint.Fill.On && k.Paint.Fill.Colour == draw.Grey(60) {
			bars = append(bars, k.Rings[0].Bounds())
		}
	}
	require.Len(t, bars, 1)
	assert.InDelta(t, left+7*day, bars[0].Min.X, 1e-9)
	assert.InDelta(t, left+9*day, bars[0].Max.X, 1e-9)
	calendar.Strip(r, plane.Rect{}, nil, nil)
}
