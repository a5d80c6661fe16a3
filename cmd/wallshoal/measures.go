package main

import (
	"fmt"
	"math"

	"wallshoal/export/sheet"
	"wallshoal/scatter"
)

// A gauge is one measure by which variants are held side by side.
type gauge struct {
	name string
	note string // what it means, and what is good
	has  func(scatter.Appraisal, scatter.Composition) bool
	show func(scatter.Appraisal) string
	// miss is how far the measure is from what is wanted: the least is best.
	miss func(scatter.Appraisal, scatter.Composition) float64
}

// gauges are the measures, in the order in which they are shown.
var gauges = []gauge{
	{
		name: "evenness",
		note: "distance to the nearest piece against that by chance: 1 is chance, 2.15 the most there can be",
		has:  func(a scatter.Appraisal, _ scatter.Composition) bool { return a.Evenness.ClarkEvans > 0 },
		show: func(a scatter.Appraisal) string { return fmt.Sprintf("%.2f", a.Evenness.ClarkEvans) },
		miss: func(a scatter.Appraisal, _ scatter.Composition) float64 { return -a.Evenness.ClarkEvans },
	},
	{
		name: "astray",
		note: "pieces that would have to lie elsewhere for every part of the walls to have as many as the density asks for; the fewer the truer",
		has:  func(a scatter.Appraisal, _ scatter.Composition) bool { return a.Density.Patches > 1 },
		show: func(a scatter.Appraisal) string { return fmt.Sprintf("%.1f %%", 100*a.Density.Displaced) },
		miss: func(a scatter.Appraisal, _ scatter.Composition) float64 { return a.Density.Displaced },
	},
	{
		name: "spread",
		note: "how far headings stray from the flow; best is nearest to what the plan asks",
		has:  func(a scatter.Appraisal, _ scatter.Composition) bool { return a.Pieces > 1 },
		show: func(a scatter.Appraisal) string { return fmt.Sprintf("%.1f°", a.Direction.Spread) },
		miss: func(a scatter.Appraisal, c scatter.Composition) float64 {
			return math.Abs(a.Direction.Spread - c.Headings.Spread)
		},
	},
}

// compare gives every variant its measures in words, and marks the best of each.
func compare(laid []variant, comp scatter.Composition) {
	for _, g := range gauges {
		if !g.has(laid[0].found, comp) {
			continue
		}
		least := math.Inf(1)
		for _, v := range laid {
			least = math.Min(least, g.miss(v.found, comp))
		}
		best := map[string]bool{}
		for _, v := range laid {
			if g.miss(v.found, comp) == least {
				best[g.show(v.found)] = true // with those that look the same
			}
		}
		for i, v := range laid {
			value := g.show(v.found)
			laid[i].measures = append(laid[i].measures, sheet.Measure{Name: g.name, Value: value, Best: best[value]})
		}
	}
}

// notesOn returns what the measures mean, one by one.
func notesOn(measures []sheet.Measure) []string {
	var notes []string
	for _, m := range measures {
		for _, g := range gauges {
			if g.name == m.Name {
				notes = append(notes, g.name+": "+g.note)
			}
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
	Name  string `json:"name"`
	Value string `json:"value"`
	Best  bool   `json:"best"`
}

// compared returns the variants as programs read them.
func compared(plan, dir string, laid []variant) comparison {
	out := comparison{Plan: plan, Folder: dir, Variants: []variantJSON{}}
	for _, v := range laid {
		j := variantJSON{Seed: v.seed(), Fingerprint: v.work.Map.Fingerprint, Layout: v.layoutName(), Measures: []measureJSON{}}
		for _, m := range v.measures {
			j.Measures = append(j.Measures, measureJSON(m))
		}
		out.Variants = append(out.Variants, j)
	}
	return out
}
