package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/sheet"
	"wallshoal/wall/measure"
)

// PrintSection is how the hole map is to be printed.
//
//	paper:        A4, A3, Letter or Tabloid; A4 if left out, Letter where the units are in or ft
//	orientation:  portrait, landscape or auto, whichever takes each face fewer sheets; auto if left out
//	overlap:      how much neighbouring sheets share; 10 mm if left out
//	margin:       what the printer cannot reach at each edge; 6 mm if left out
type PrintSection = sheet.Print

const (
	defaultOverlap     = 10 // mm
	defaultPrintMargin = 6  // mm
)

func (r *reader) print(v yamlfile.Value) sheet.Print {
	p := sheet.Print{Paper: paperNamed("A4"), Auto: true, Overlap: defaultOverlap, Margin: defaultPrintMargin}
	if r.units.Imperial() {
		p.Paper = paperNamed("Letter")
	}
	m, ok := v.Map("paper", "orientation", "overlap", "margin")
	if !ok {
		return p
	}
	if name, ok := m.Get("paper").Choice("a paper", sheet.PaperNames()...); ok {
		p.Paper = paperNamed(name)
	}
	if way, ok := m.Get("orientation").Choice("an orientation", "portrait", "landscape", "auto"); ok {
		p.Landscape, p.Auto = way == "landscape", way == "auto"
	}
	p.Margin = r.length(m.Get("margin"), "a margin of a sheet", 0, MaxLength, defaultPrintMargin)
	p.Overlap = r.length(m.Get("overlap"), "an overlap", 0, MaxLength, defaultOverlap)
	r.judge(p.Problems())
	return p
}

func (r *reader) show(mm float64) string { return measure.Precise(mm, r.units) }

func paperNamed(name string) sheet.Paper {
	p, _ := sheet.PaperByName(name)
	return p
}
