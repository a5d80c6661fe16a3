package main

import (
	"fmt"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/tiling"
	"wallshoal/wall/measure"
)

const measuredUsage = "correct for a printer on which check bars measured so, `ACROSSxUP`: 99.4x100.2 of the 100 mm bars, 3.98inx4.01in of the 4 in bars"

// A measuredFlag is what the check bars of a printer measured, or nothing.
type measuredFlag struct{ measured drafting.Measured }

// Set implements pflag.Value.
func (f *measuredFlag) Set(text string) error {
	const fix = "give what the 100 mm bars measured across and up, as 99.4x100.2, or the 4 in bars, as 3.98inx4.01in"
	across, up, two := strings.Cut(strings.ReplaceAll(strings.ToLower(text), "×", "x"), "x")
	if !two {
		return fmt.Errorf("%q is not two lengths; %s", text, fix)
	}
	var out [2]float64
	for i, word := range []string{across, up} {
		mm, err := measure.Parse(strings.TrimSpace(word), measure.Millimetre)
		if err != nil {
			return fmt.Errorf("%q is not a length; %s", word, fix)
		}
		if strings.Contains(word, "in") || strings.ContainsAny(word, `"″`) {
			mm *= 100 / 101.6 // of the bar of 4 in
		}
		out[i] = mm
	}
	f.measured = drafting.Measured{Across: out[0], Up: out[1]}
	if wrong, fix := f.measured.Wrong(); wrong != "" {
		return fmt.Errorf("%s; %s", wrong, fix)
	}
	return nil
}

// String implements pflag.Value.
func (f *measuredFlag) String() string {
	if f.measured == (drafting.Measured{}) {
		return ""
	}
	return fmt.Sprintf("%gx%g", f.measured.Across, f.measured.Up)
}

// Type implements pflag.Value.
func (f *measuredFlag) Type() string { return "ACROSSxUP" }

// over returns how a plan asks to be printed, on the printer measured.
func (f measuredFlag) over(p tiling.Print) tiling.Print {
	p.Measured = f.measured
	return p
}
