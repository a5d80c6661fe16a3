package main

import (
	"fmt"
	"math"

	"wallshoal/export/contactpage"
	"wallshoal/scatter"
	"wallshoal/scatter/mixing"
)

// A gauge is one measure by which variants are held side by side.
type gauge struct {
	name string
	note string // what it means, and what is good
	of   func(scatter.Appraisal) float64
	show string  // the format of the figure
	want float64 // the best is nearest to this; infinite for the most there can be
}

// gauges returns the measures for variants of a composition, in the order in which they are shown.
func gauges(c scatter.Composition) []gauge {
	all := []gauge{{
		name: "evenness", show: "%.2f", want: math.Inf(1),
		note: "how far off the nearest piece is, against pieces strewn by chance: 1 is chance, 2.15 the most there can be; most is best",
		of:   func(a scatter.Appraisal) float64 { return a.Evenness.ClarkEvans },
	}, {
		name: "astray", show: "%.1f %%", want: 0,
		note: "pieces that would have to lie elsewhere for every part of the walls to have as many as " + densityAsked(c) + "; least is best",
		of:   func(a scatter.Appraisal) float64 { return 100 * a.Density.Displaced },
	}, {
		name: "spread", show: "%.1f°", want: c.Headings.Spread,
		note: fmt.Sprintf("how far headings stray from the flow; the plan asks for %g°, and nearest to that is best", c.Headings.Spread),
		of:   func(a scatter.Appraisal) float64 { return a.Headings.Along },
	}}
	if c.Headings.Apart > 0 {
		all = append(all, gauge{
			name: "differing", show: "%.0f %%", want: 100,
			note: fmt.Sprintf("pieces that head %g° or more off each of their nearest; most is best", c.Headings.Apart),
			of:   func(a scatter.Appraisal) float64 { return 100 * a.Headings.Apart },
		})
	}
	return append(all, mixingGauge(c.Mixing))
}

// densityAsked says in a few words what density the composition asks for.
func densityAsked(c scatter.Composition) string {
	if c.Density.Field == nil {
		return "its share"
	}
	return "the density asks for"
}

// mixingGauge returns the measure of how kinds lie among one another, by what is wanted of them.
func mixingGauge(s mixing.Scheme) gauge {
	switch s.Way {
	case mixing.Drifting:
		return gauge{
			name: "drift", show: "%.2f", want: math.Inf(1),
			note: "how much one kind gives way to the next along the flow: 0 is not at all, 1 throughout; most is best",
			of:   func(a scatter.Appraisal) float64 { return a.Mixture.Drift },
		}
	case mixing.Families:
		return gauge{
			name: "family", show: "%.1f", want: float64(s.Size),
			note: fmt.Sprintf("pieces in the group of equals that a piece belongs to; the plan asks for %d, and nearest to that is best", s.Size),
			of:   func(a scatter.Appraisal) float64 { return a.Mixture.Company },
		}
	}
	return gauge{
		name: "equals", show: "%.0f %%", want: 0,
		note: "pairs of neighbours that are of one kind; least is best",
		of: func(a scatter.Appraisal) float64 {
			return 100 * float64(a.Mixture.Equal.Pairs) / float64(max(1, a.Mixture.Pairs))
		},
	}
}

// miss returns how far a figure is from the best.
func (g gauge) miss(figure float64) float64 {
	if math.IsInf(g.want, 1) {
		return -figure
	}
	return math.Abs(figure - g.want)
}

// known reports whether the layout has enough pieces, and kinds, for the measure to say anything.
func (g gauge) known(a scatter.Appraisal) bool {
	switch g.name {
	case "astray":
		return a.Density.Patches > 1
	case "drift", "family", "equals":
		return a.Mixture.Kinds > 1 && a.Mixture.Pairs > 0
	}
	return a.Pieces > 1
}

// compare gives every variant its measures in words, marks the best of each with those that look the
// same, unless all do, and returns what the measures mean.
func compare(laid []variant, comp scatter.Composition) (notes []string) {
	for _, g := range gauges(comp) {
		if !g.known(laid[0].found) {
			continue
		}
		notes = append(notes, g.name+": "+g.note)
		least, best, differ := math.Inf(1), "", false
		figures, values := make([]float64, len(laid)), make([]string, len(laid))
		for i, v := range laid {
			figures[i] = math.Round(g.of(v.found)*1e6) / 1e6 // the same on every machine
			values[i] = fmt.Sprintf(g.show, figures[i])
			differ = differ || values[i] != values[0]
			if miss := g.miss(figures[i]); miss < least {
				least, best = miss, values[i]
			}
		}
		for i, value := range values {
			laid[i].measures = append(laid[i].measures, contactpage.Measure{Name: g.name, Value: value, Best: differ && value == best})
			laid[i].figures = append(laid[i].figures, figures[i])
		}
	}
	return notes
}

// A comparison is what lay --variants says in JSON.
type comparison struct {
	Plan     string        `json:"plan"`
	Folder   string        `json:"folder"`
	Variants []variantJSON `json:"variants"`
}

type variantJSON struct {
	Seed        uint64        `json:"seed"`
	Fingerprint string        `json:"fingerprint"`
	Layout      string        `json:"layout"` // the name of its file
	Measures    []measureJSON `json:"measures"`
}

type measureJSON struct {
	Name   string  `json:"name"`
	Figure float64 `json:"figure"` // to 0.001
	Value  string  `json:"value"`  // the figure as it is shown
	Best   bool    `json:"best"`
}

// compared returns the variants as programs read them.
func compared(plan, dir string, laid []variant) comparison {
	out := comparison{Plan: plan, Folder: dir, Variants: []variantJSON{}}
	for _, v := range laid {
		j := variantJSON{Seed: v.seed(), Fingerprint: v.work.Map.Fingerprint, Layout: v.layoutName(), Measures: []measureJSON{}}
		for i, m := range v.measures {
			j.Measures = append(j.Measures, measureJSON{m.Name, math.Round(v.figures[i]*1000) / 1000, m.Value, m.Best})
		}
		out.Variants = append(out.Variants, j)
	}
	return out
}
