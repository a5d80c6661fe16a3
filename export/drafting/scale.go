package drafting

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wallshoal/wall/measure"
)

// A Scale is how much smaller than the wall a drawing is.
type Scale struct {
	Ratio float64 // 20 for 1:20
	Note  string  // as builders say it, e.g. `1/2" = 1'-0"`; may be empty
}

// String returns the scale as ISO 5455 writes it, without the word SCALE: "1:20".
func (s Scale) String() string { return fmt.Sprintf("1:%g", s.Ratio) }

// Scales returns the scales that drawings in the unit u take, largest first. Metric ones are the
// reductions of ISO 5455, clause 5.1. Those for feet and inches are the architectural scales, with
// full and half size before them and the engineer's scales after them.
func Scales(u measure.Unit) []Scale {
	if !u.Imperial() {
		var out []Scale
		for _, r := range []float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000} {
			out = append(out, Scale{Ratio: r})
		}
		return out
	}
	return []Scale{
		{1, ""}, {2, ""},
		{4, `3" = 1'-0"`}, {8, `1-1/2" = 1'-0"`}, {12, `1" = 1'-0"`}, {16, `3/4" = 1'-0"`},
		{24, `1/2" = 1'-0"`}, {32, `3/8" = 1'-0"`}, {48, `1/4" = 1'-0"`}, {64, `3/16" = 1'-0"`},
		{96, `1/8" = 1'-0"`}, {128, `3/32" = 1'-0"`},
		{240, `1" = 20'`}, {360, `1" = 30'`}, {480, `1" = 40'`}, {600, `1" = 50'`}, {720, `1" = 60'`},
		{1200, `1" = 100'`}, {2400, `1" = 200'`}, {6000, `1" = 500'`}, {12000, `1" = 1000'`},
	}
}

// ScaleFor returns the largest scale at which something width × height mm large fits a room on
// paper, and the smallest scale there is where none does.
func ScaleFor(u measure.Unit, width, height, roomWidth, roomHeight float64) Scale {
	scales := Scales(u)
	for _, s := range scales {
		if width <= roomWidth*s.Ratio && height <= roomHeight*s.Ratio {
			return s
		}
	}
	return scales[len(scales)-1]
}

// PictureScales returns the scales for pictures that nothing is measured on, largest first: among
// metric scales also those that builders use between the standard ones, and some rounder ones
// still, so that the picture fills its page.
func PictureScales(u measure.Unit) []Scale {
	out := Scales(u)
	if u.Imperial() {
		return out
	}
	for power := 1.0; power <= 1000; power *= 10 {
		for _, r := range []float64{1.5, 2.5, 3, 4, 6, 7.5, 8} {
			if ratio := r * power; ratio == math.Trunc(ratio) {
				out = append(out, Scale{Ratio: ratio})
			}
		}
	}
	slices.SortFunc(out, func(a, b Scale) int { return cmp.Compare(a.Ratio, b.Ratio) })
	return out
}
