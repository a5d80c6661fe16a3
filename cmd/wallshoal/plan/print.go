package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/drafting"
	"wallshoal/export/tiling"
	"wallshoal/wall/measure"
)

// PrintSection is how the hole map is to be printed.
//
//	paper:        A4 to A0, Letter, Legal, Tabloid, ARCH A to E1, or {roll: width}; A4 if left out, Letter
//	              where the units are in or ft
//	orientation:  portrait, landscape or auto, whichever takes each face fewer sheets; auto if left out
//	overlap:      how much neighbouring sheets share; 10 mm if left out
//	margin:       what the printer cannot reach at each edge; 6 mm if left out
type PrintSection = tiling.Print

const (
	defaultOverlap     = 10     // mm
	defaultPrintMargin = 6      // mm
	maxRoll            = 5000.0 // mm
)

func (r *reader) print(v yamlfile.Value) tiling.Print {
	p := tiling.Print{Paper: UsualPaper(r.units), Auto: true, Overlap: defaultOverlap, Margin: defaultPrintMargin}
	m, ok := v.Map("paper", "orientation", "overlap", "margin")
	if !ok {
		return p
	}
	p.Paper = r.paper(m.Get("paper"), p.Paper)
	if way, ok := m.Get("orientation").Choice("an orientation", "portrait", "landscape", "auto"); ok {
		p.Landscape, p.Auto = way == "landscape", way == "auto"
	}
	p.Margin = r.length(m.Get("margin"), "a margin of a sheet", 0, MaxLength, defaultPrintMargin)
	p.Overlap = r.length(m.Get("overlap"), "an overlap", 0, MaxLength, defaultOverlap)
	r.judge(p.Problems())
	return p
}

// paper reads the name of a paper, or the width of a roll.
func (r *reader) paper(v yamlfile.Value, usual drafting.Paper) drafting.Paper {
	if !v.IsMap() {
		if name, ok := v.Choice("a paper", drafting.PaperNames()...); ok {
			return paperNamed(name)
		}
		return usual
	}
	m, ok := v.Map("roll")
	if !ok {
		return usual
	}
	width := r.length(m.Get("roll").Need("write how wide the roll is, such as 914 mm or 36 in"), "the width of a roll", 100, maxRoll, 0)
	if width == 0 {
		return usual
	}
	return drafting.Roll(width)
}

func (r *reader) show(mm float64) string { return measure.Precise(mm, r.units) }

func paperNamed(name string) drafting.Paper {
	p, _ := drafting.PaperByName(name)
	return p
}
