package sheet

import (
	"fmt"
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
)

// LongBars returns the lengths that a check bar along the long side of a sheet shows, mm, the shortest
// first: none on a sheet that short bars do for.
func LongBars(side float64) []float64 {
	var out []float64
	for _, length := range []float64{1000, 2000, 4000} {
		if length+1 <= side {
			out = append(out, length)
		}
	}
	return out
}

// longBar draws beside the frame of a long sheet a bar with a tick every 100 mm, and says at each length
// that it is to be checked at how long it is.
func (l *Leaf) longBar() {
	const (
		off  = 3.0 // of the bar from the frame, mm
		step = 100.0
	)
	f := l.Frame
	lengths := LongBars(math.Max(f.Width(), f.Height()))
	if len(lengths) == 0 {
		return
	}
	far := lengths[len(lengths)-1]
	along := f.Width() >= f.Height()
	l.Group("long check bar")
	defer l.End()
	if along {
		l.Segment(f.Min.X, f.Max.Y+off, f.Min.X+far, f.Max.Y+off, drafting.Thin)
	} else {
		l.Segment(f.Max.X+off, f.Max.Y, f.Max.X+off, f.Max.Y-far, drafting.Thin)
	}
	for i := range int(far/step) + 1 {
		at, long := float64(i)*step, drafting.BarTick
		if i%10 == 0 {
			long = drafting.BarEnd
		}
		if along {
			l.Segment(f.Min.X+at, f.Max.Y+off, f.Min.X+at, f.Max.Y+off-long, drafting.Thin)
		} else {
			l.Segment(f.Max.X+off, f.Max.Y-at, f.Max.X+off-long, f.Max.Y-at, drafting.Thin)
		}
	}
	for _, length := range lengths {
		text := l.longWords(length)
		width := drafting.TextWidth(text, draw.Letter25, false)
		if along {
			aside := drafting.TextWidth(l.Work.Map.Fingerprint, draw.Letter35, true) + 3
			x := math.Min(f.Min.X+length, l.reached().Max.X-aside-1)
			l.Say(x, f.Max.Y+off+draw.Letter25+0.6, draw.Letter25, text, 0, drafting.Style{Align: draw.Right})
			continue
		}
		l.Say(f.Max.X+off+draw.Letter25+1, f.Max.Y-length+width+0.5, draw.Letter25, text, 0, drafting.Style{Turn: math.Pi / 2})
	}
}

// longWords says how long a bar is from its start, and how far it may be out.
func (l *Leaf) longWords(mm float64) string {
	if l.Work.Units.Imperial() {
		return fmt.Sprintf("%.0f mm = %.2f in, may be out 1 mm", mm, mm/drafting.Inch)
	}
	return fmt.Sprintf("%.0f mm, may be out 1 mm", mm)
}
