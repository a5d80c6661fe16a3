package drafting

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/wall/measure"
)

// A Paper is a sheet of paper by name, upright: Width ≤ Height, in mm; or a roll of the given width,
// off which sheets are cut as long as they need to be, up to Height.
type Paper struct {
	Name          string
	Width, Height float64
	Roll          bool
}

// Papers returns the sheets that pages can be made for. A0 to A4 are those of ISO 216. Letter and
// Tabloid are 8.5 × 11 in and 11 × 17 in, sheets A and B of ANSI/ASME Y14.1; Legal, 8.5 × 14 in, and
// the ARCH sheets are common practice in North America.
func Papers() []Paper {
	in := func(name string, width, height float64) Paper {
		return Paper{Name: name, Width: Round2(width * Inch), Height: Round2(height * Inch)}
	}
	return []Paper{
		{Name: "A4", Width: 210, Height: 297},
		{Name: "A3", Width: 297, Height: 420},
		{Name: "A2", Width: 420, Height: 594},
		{Name: "A1", Width: 594, Height: 841},
		{Name: "A0", Width: 841, Height: 1189},
		in("Letter", 8.5, 11), in("Legal", 8.5, 14), in("Tabloid", 11, 17),
		in("ARCH A", 9, 12), in("ARCH B", 12, 18), in("ARCH C", 18, 24), in("ARCH D", 24, 36),
		in("ARCH E", 36, 48), in("ARCH E1", 30, 42),
	}
}

// Inch is one inch in mm.
const Inch = 25.4

// LongestSheet is the longest that a sheet off a roll can be, mm: the longest side of a page that PDF
// readers take, 14,400 units of 1/72 in (Adobe PDF Reference 1.7, Appendix C). What is longer is split,
// for whatever enlarges such a unit is not heeded by every reader.
const LongestSheet = 14400 * Inch / 72

// Roll returns a roll of paper of the given width, mm. Usual rolls are 24, 36 and 42 in wide.
func Roll(width float64) Paper {
	name := fmt.Sprintf("%g mm roll", Round2(width))
	if inches := width / Inch; math.Abs(inches-math.Round(inches)) < 1e-6 {
		name = fmt.Sprintf("%.0f in roll", inches)
	}
	return Paper{Name: name, Width: width, Height: LongestSheet, Roll: true}
}

// PaperByName returns the paper with the given name, in capitals or not, and whether there is one.
// A roll is named by its width, in mm where there is no unit: "roll 914", "36 in roll".
func PaperByName(name string) (Paper, bool) {
	plain := func(s string) string { return strings.ToLower(strings.ReplaceAll(strings.TrimSpace(s), " ", "")) }
	papers := Papers()
	if i := slices.IndexFunc(papers, func(p Paper) bool { return plain(p.Name) == plain(name) }); i >= 0 {
		return papers[i], true
	}
	word := strings.ToLower(strings.TrimSpace(name))
	width, is := strings.CutPrefix(word, "roll")
	if !is {
		width, is = strings.CutSuffix(word, "roll")
	}
	mm, err := measure.Parse(strings.TrimSpace(width), measure.Millimetre)
	if !is || err != nil || !(mm > 0 && mm <= LongestSheet) {
		return Paper{}, false
	}
	return Roll(mm), true
}

// PaperNames returns the name of every paper, in the order of Papers.
func PaperNames() []string {
	var names []string
	for _, p := range Papers() {
		names = append(names, p.Name)
	}
	return names
}

// inches reports whether p is one of the sheets that are measured in inches.
func (p Paper) inches() bool {
	parts := p.Width / Inch * 2
	return math.Abs(parts-math.Round(parts)) < 1e-6
}

// Handy returns the sheet that is read beside the work where the map itself is printed on p: p, or A3
// or Tabloid where that is larger.
func (p Paper) Handy() Paper {
	name := "A3"
	if p.inches() {
		name = "Tabloid"
	}
	most, _ := PaperByName(name)
	if p.Roll || p.Height > most.Height+1 {
		return most
	}
	return p
}

// Round2 returns v rounded to two decimals.
func Round2(v float64) float64 { return math.Round(v*100) / 100 }
