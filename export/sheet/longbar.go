package sheet

import (
	"fmt"
	"math"

	"wallshoal/export/draw"
)

// longBars returns the lengths that a check bar along the long side of a sheet shows, mm, the shortest
// first: none on a sheet that short bars do for.
func longBars(side float64) []float64 {
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
func (l *leaf) longBar() {
	const (
		off  = 3.0 // of the bar from the frame, mm
		step = 100.0
	)
	f := l.Frame
	lengths := longBars(math.Max(f.Width(), f.Height()))
	if len(lengths) == 0 {
		return
	}
	far := lengths[len(lengths)-1]
	along := f.Width() >= f.Height()
	l.Group("long check bar")
	defer l.End()
	if along {
		l.line(f.Min.X, f.Max.Y+off, f.Min.X+far, f.Max.Y+off, thin)
	} else {
		l.line(f.Max.X+off, f.Max.Y, f.Max.X+off, f.Max.Y-far, thin)
	}
	for i := range int(far/step) + 1 {
		at, long := float64(i)*step, barTick
		if i%10 == 0 {
			long = barEnd
		}
		if along {
			l.line(f.Min.X+at, f.Max.Y+off, f.Min.X+at, f.Max.Y+off-long, thin)
		} else {
			l.line(f.Max.X+off, f.Max.Y-at, f.Max.X+off-long, f.Max.Y-at, thin)
		}
	}
	for _, length := range lengths {
		text := l.longWords(length)
		width := wide(text, draw.Letter25, false)
		if along {
			aside := wide(l.work.Map.Fingerprint, draw.Letter35, true) + 3
			x := math.Min(f.Min.X+length, l.reached().Max.X-aside-1)
			l.say(x, f.Max.Y+off+draw.Letter25+0.6, draw.Letter25, text, 0, style{align: draw.Right})
			continue
		}
		l.say(f.Max.X+off+draw.Letter25+1, f.Max.Y-length+width+0.5, draw.Letter25, text, 0, style{turn: math.Pi / 2})
	}
}

// longWords says how long a bar is from its start, and how far it may be out.
func (l *leaf) longWords(mm float64) string {
	if l.work.Units.Imperial() {
		return fmt.Sprintf("%.0f mm = %.2f in, may be out 1 mm", mm, mm/inch)
	}
	return fmt.Sprintf("%.0f mm, may be out 1 mm", mm)
}

// checkWords says how the check bars are used.
func (k *keyPage) checkWords() string {
	most := "half a millimetre"
	if k.first().work.Units.Imperial() {
		most = `1/64"`
	}
	text := "Hold a rule against the check bars of a sheet, both ways: 100 mm and 4 in. Where they are out by more than " + most + ", the sheets are not to be used."
	for _, f := range k.faces {
		for _, t := range f.tiles {
			if len(t.Holes) > 0 && len(longBars(math.Max(t.Frame.Width(), t.Frame.Height()))) > 0 {
				return text + " On a sheet longer than 1 m hold a tape along the long bar too, with the paper flat: 1000 mm, and 2000 and 4000 mm where it shows them, may be out by 1 mm and no more. Paper takes up damp and stretches: on such sheets measure every plumb line. Where one is out by more, cut the sheet through beside a plumb line, clear of crosses and of their figures, and hang each length by itself, by its plumb line and the level line. Two people hang a sheet longer than 1.5 m."
			}
		}
	}
	return text
}
