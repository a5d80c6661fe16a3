// Package sheet draws the pages: elevations, the hole map's key pages and full-size tiles, and
// what the client sees.
package sheet

import (
	"slices"
	"strings"
)

// A Paper is a sheet of paper by name, upright: Width ≤ Height, in mm.
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers returns the sheets that pages can be made for. A3 and A4 are those of ISO 216; Letter and
// Tabloid are 8.5 × 11 in and 11 × 17 in, sheets A and B of ANSI/ASME Y14.1.
func Papers() []Paper {
	return []Paper{
		{"A4", 210, 297},
		{"A3", 297, 420},
		{"Letter", 8.5 * inch, 11 * inch},
		{"Tabloid", 11 * inch, 17 * inch},
	}
}

// inch is one inch in mm.
const inch = 25.4

// PaperByName returns the paper with the given name, in capitals or not, and whether there is one.
func PaperByName(name string) (Paper, bool) {
	papers := Papers()
	i := slices.IndexFunc(papers, func(p Paper) bool { return strings.EqualFold(p.Name, strings.TrimSpace(name)) })
	if i < 0 {
		return Paper{}, false
	}
	return papers[i], true
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
func (p Paper) inches() bool { return p.Name == "Letter" || p.Name == "Tabloid" }
