package calendar

import (
	"math"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A Band is one row of a strip of days.
type Band struct {
	Name  string
	Spans []Span // in order of time
}

// A Span is a run of days, both ends part of it, in which something is worked on or waited for.
type Span struct {
	From, To Day
	Wait     bool
}

// A Mark is a line across a strip, at the beginning of a day or at its end.
type Mark struct {
	Day    Day
	End    bool
	Dashed bool
	Says   string
}

// Bands returns a band for each operation that takes time, in order. Days of work that follow one another
// are one span.
func (s Schedule) Bands() []Band {
	var out []Band
	for i, o := range s.Operations {
		b := Band{Name: o.Name}
		for _, h := range s.Shifts {
			if h.Operation != i {
				continue
			}
			if n := len(b.Spans); n > 0 && b.Spans[n-1].To >= h.Day-1 {
				b.Spans[n-1].To = h.Day
				continue
			}
			b.Spans = append(b.Spans, Span{From: h.Day, To: h.Day})
		}
		for _, w := range s.Waits {
			if w.Operation == i {
				b.Spans = append(b.Spans, Span{From: w.From.Day(), To: (w.To - 1).Day(), Wait: true})
			}
		}
		if len(b.Spans) > 0 {
			out = append(out, b)
		}
	}
	return out
}

// Measures of a strip, mm.
const (
	stripRow   = 5.2
	stripHead  = 5.6 // months, and the Mondays where there is room
	stripMark  = 3.6 // the name of one mark
	stripNames = 0.26
)

// StripHeight returns how tall a strip is, in mm.
func StripHeight(bands []Band, marks []Mark) float64 {
	return stripHead + float64(len(marks))*stripMark + float64(len(bands))*stripRow + 1
}

// Strip draws bands over one line of days, as wide as the area and as tall as StripHeight says, from the
// area's top: work is dark, waits are hatched, so that it reads without colour. It draws nothing where
// there are no bands. No page begins.
func Strip(c draw.Canvas, area plane.Rect, bands []Band, marks []Mark) {
	if len(bands) == 0 {
		return
	}
	s := strip{gantt: gantt{Canvas: c}, left: area.Min.X + stripNames*area.Width(), right: area.Max.X}
	s.first, s.last = bands[0].Spans[0].From, bands[0].Spans[0].To
	for _, b := range bands {
		for _, p := range b.Spans {
			s.first, s.last = min(s.first, p.From), max(s.last, p.To)
		}
	}
	for _, m := range marks {
		s.first, s.last = min(s.first, m.Day), max(s.last, m.Day)
	}
	s.first, s.last = s.first.monday(), s.last.monday()+6
	top := area.Min.Y + float64(len(marks))*stripMark
	bottom := top + stripHead + float64(len(bands))*stripRow
	c.Group("strip of days")
	s.scale(top, bottom)
	for i, b := range bands {
		y := top + stripHead + float64(i)*stripRow
		s.line(area.Min.X, y, s.right, y, hair)
		s.say(area.Min.X, y+stripRow-1.7, 2.2, b.Name, s.left-area.Min.X-2, draw.Text{})
		for _, p := range b.Spans { // a wait may begin on the last day of work, which is drawn over it
			if p.Wait {
				s.wait(s.x(p.From), s.x(p.To+1), y-3.7)
			}
		}
		for _, p := range b.Spans {
			if !p.Wait {
				s.box(s.x(p.From), y+1.1, s.x(p.To+1), y+stripRow-1.1, work)
			}
		}
	}
	s.line(area.Min.X, bottom, s.right, bottom, thin)
	s.marks(area.Min.Y, bottom, marks)
	c.End()
}

// A strip draws one.
type strip struct {
	gantt
	left, right float64
	first, last Day
}

// x returns where a day begins.
func (s strip) x(d Day) float64 {
	return s.left + float64(float64(d-s.first)/float64(s.last+1-s.first)*(s.right-s.left))
}

// scale draws the months, and the Mondays where there is room.
func (s strip) scale(top, bottom float64) {
	day := s.x(s.first+1) - s.x(s.first)
	for d := s.first; d <= s.last; {
		t := d.Time()
		next := min(DayOf(t.AddDate(0, 1, 1-t.Day())), s.last+1)
		s.month(t, (s.x(d)+s.x(next))/2, top+2.1, s.x(next)-s.x(d)-1)
		if d > s.first && (day*30 > 4 || t.Month() == 1) {
			s.line(s.x(d), top, s.x(d), bottom, hair)
		}
		d = next
	}
	every := Day(7)
	for float64(every)*day < 6 {
		every *= 2
	}
	for d := s.first; d <= s.last && every <= 28; d += every {
		s.line(s.x(d), top+2.8, s.x(d), bottom, draw.Stroke{Width: draw.Width013, Colour: draw.Grey(205)})
		if date := (draw.Text{Say: d.Time().Format("2"), Height: draw.Letter18}); s.x(d)+0.5+date.Width() <= s.right {
			s.say(s.x(d)+0.5, top+stripHead-0.7, date.Height, date.Say, 0, draw.Text{Colour: quiet})
		}
	}
	s.line(s.left, top+2.8, s.right, top+2.8, hair)
}

// marks draws the lines across, each name on a line of its own, and breaks a line where a name stands and
// where the months do.
func (s strip) marks(top, bottom float64, marks []Mark) {
	months := top + stripMark*float64(len(marks))
	var names []draw.Text
	for i, m := range marks {
		x, stroke := s.x(m.Day), toHang
		if m.End {
			x = s.x(m.Day + 1)
		}
		if m.Dashed {
			stroke = toBegin
		}
		y := top + stripMark*float64(i+1) - 1
		s.line(x, y-1.8, x, months-0.6, stroke)
		s.line(x, months+2.8, x, bottom, stroke)
		t := draw.Text{At: plane.Point{X: x + 1.2, Y: y}, Say: m.Says, Height: draw.Letter18}.Fit(s.right-s.left, draw.Letter18)
		if w := t.Width(); t.At.X+w > s.right {
			t.At.X, t.Align = math.Max(x-1.2, s.left+w), draw.Right
		}
		names = append(names, t)
	}
	for _, t := range names {
		s.Polygon([]plane.Ring{t.Box(0.4)}, draw.Paint{Fill: draw.Solid(draw.White)})
		s.Text(t)
	}
}
