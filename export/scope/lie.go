package scope

import (
	"fmt"
	"math"
	"strings"

	"wallshoal/export/holemap"
	"wallshoal/export/number"
	"wallshoal/scatter"
	"wallshoal/scatter/mixing"
)

// Lie is how the pieces lie, with what was asked of them beside it. Angles are degrees to 0.01,
// lengths mm to 0.01, and ratios and shares to 0.0001; a figure that cannot be had is nil.
type Lie struct {
	Asked       Asked    `json:"asked"`
	MeanNearest *float64 `json:"mean_nearest_mm"` // from a centre to the nearest, on average
	Deviation   *float64 `json:"deviation_deg"`   // from the flow, on average
	Spread      *float64 `json:"spread_deg"`      // circular standard deviation of those that go with the flow
	Strays      *float64 `json:"strays"`          // share of the pieces that head anywhere
	Second      *float64 `json:"second"`          // share of those that go with the second direction
	Differing   *float64 `json:"differing"`       // share of those that differ from their nearest as asked
	Alike       *float64 `json:"alike"`           // mean cosine between the headings of neighbours
	AlikeChance *float64 `json:"alike_by_chance"` // of any two pieces
	Neighbours  int      `json:"neighbours"`      // pairs
	Equals      int      `json:"equals"`          // of them of one kind
	EqualChance *float64 `json:"equals_by_chance"`
	Company     *float64 `json:"company"`    // pieces in the group of equals that a piece belongs to, on average
	Drift       *float64 `json:"drift"`      // rank correlation of kinds and their places along the flow
	Astray      *float64 `json:"astray"`     // share of the pieces that would have to lie elsewhere for the density asked
	Dispersion  *float64 `json:"dispersion"` // of the counts about the density asked; 1 for chance
}

// Seated is a piece that stands otherwise than it was thrown, for the sake of its holes.
type Seated struct {
	Piece int    `json:"piece"`
	Text  string `json:"text"` // by how much, and why
}

// seated returns which pieces of the work were moved or turned for their holes.
func seated(work holemap.Work) []Seated {
	now := map[int]scatter.Piece{}
	for _, p := range work.Layout.Pieces {
		now[p.ID] = p
	}
	moved := []Seated{}
	for _, s := range work.Layout.Seated {
		moved = append(moved, Seated{s.ID, s.Tell(work.Site, work.Kinds, now[s.ID], work.Units)})
	}
	return moved
}

// Asked is what the plan asks of how the pieces lie.
type Asked struct {
	Pieces  int     `json:"pieces"`
	Spacing float64 `json:"spacing_mm"`
	Spread  float64 `json:"spread_deg"`
	Strays  float64 `json:"strays"`
	Second  float64 `json:"second"`     // share of the pieces
	Turn    float64 `json:"second_deg"` // of the second direction from the flow, clockwise
	Differ  float64 `json:"differ_deg"`
	Mixing  string  `json:"mixing"` // scattered, drifting or families
	Family  int     `json:"family"` // pieces in one, with families
	Even    bool    `json:"even"`   // the density is the same everywhere
}

// Appraised returns s with how the pieces lie, as they were appraised, beside what the composition
// asks.
func (s Scope) Appraised(comp scatter.Composition, found scatter.Appraisal) Scope {
	h := comp.Headings
	l := &Lie{
		Asked: Asked{
			Pieces: found.Asked, Spacing: comp.Spacing, Spread: h.Spread, Strays: h.Strays,
			Second: h.Second.Share, Turn: h.Second.Turn, Differ: h.Apart,
			Mixing: string(wayOf(comp.Mixing)), Family: comp.Mixing.Size, Even: comp.Density.Field == nil,
		},
		Neighbours: found.Mixture.Pairs, Equals: found.Mixture.Equal.Pairs,
	}
	if found.Evenness.MeanNearest > 0 {
		l.MeanNearest = known(found.Evenness.MeanNearest, 100)
	}
	if found.Pieces > 0 {
		l.Deviation, l.Spread = known(found.Headings.Deviation, 100), known(found.Headings.Along, 100)
		l.Strays, l.Second = known(found.Headings.Strays, 10_000), known(found.Headings.Second, 10_000)
		l.Company = known(found.Mixture.Company, 10_000)
	}
	if l.Neighbours > 0 {
		l.Alike, l.AlikeChance = known(found.Headings.Alike, 10_000), known(found.Headings.Chance, 10_000)
		l.EqualChance = known(found.Mixture.Equal.Mean, 100)
		l.Drift = known(found.Mixture.Drift, 10_000)
		if h.Apart > 0 {
			l.Differing = known(found.Headings.Apart, 10_000)
		}
	}
	if found.Density.Patches > 1 {
		l.Astray, l.Dispersion = known(found.Density.Displaced, 10_000), known(found.Density.Dispersion, 10_000)
	}
	s.Lie = l
	return s
}

func wayOf(s mixing.Scheme) mixing.Way {
	if s.Way == "" {
		return mixing.Scattered
	}
	return s.Way
}

// asked lists what was asked of how the pieces lie, and what came out, and what the words mean.
func (p *page) asked(s Scope) {
	l := s.Lie
	if l == nil {
		return
	}
	p.line("\nWhat the plan asks, and what came out:\n")
	p.table(s.AskedTable(p.units))
	p.line("")
	for _, note := range l.Notes() {
		p.line("- *%s* %s", note.Term, note.Text)
	}
}

// SeatedWords says why pieces were moved.
const SeatedWords = "These stand otherwise than they were thrown, so that every hole can be drilled where it falls."

// seated lists the pieces that were moved or turned for their holes.
func (p *page) seated(s Scope) {
	if len(s.Seated) == 0 {
		return
	}
	p.heading("Moved for their holes")
	p.line("%s\n", SeatedWords)
	for _, g := range s.Seated {
		p.line("- %s", plain(g.Text))
	}
}

// headings adds what was asked of headings.
func (l *Lie) headings(add func(what, asked, found string)) {
	if l.Deviation == nil {
		return
	}
	add("Spread of the headings about the flow", degrees(l.Asked.Spread), degrees(*l.Spread))
	if l.Asked.Strays > 0 || *l.Strays > 0 {
		add("Strays, which head anywhere", share(l.Asked.Strays), share(*l.Strays))
	}
	if l.Asked.Second > 0 {
		way := " clockwise"
		if l.Asked.Turn < 0 {
			way = " anticlockwise"
		}
		add("Heading the second way, "+degrees(math.Abs(l.Asked.Turn))+way+" of the flow", share(l.Asked.Second), share(*l.Second))
	}
	if l.Differing != nil {
		add("Heading "+degrees(l.Asked.Differ)+" or more off each of their nearest", "where the spread has such", share(*l.Differing))
	}
	if l.Alike != nil {
		add("How alike neighbours head", "", fmt.Sprintf("%.2f; any two %.2f", *l.Alike, *l.AlikeChance))
	}
}

// mixing adds what was asked of how kinds lie among one another.
func (l *Lie) mixing(add func(what, asked, found string)) {
	if l.EqualChance == nil || *l.EqualChance == float64(l.Neighbours) {
		return // all are of one kind
	}
	switch mixing.Way(l.Asked.Mixing) {
	case mixing.Drifting:
		add("Drift of one kind into the next", "from 0 to 1", fmt.Sprintf("%.2f", *l.Drift))
	case mixing.Families:
		add("Pieces in a group of equals", number.Whole(l.Asked.Family), fmt.Sprintf("%.1f", *l.Company))
	}
	asked := "as few as goes"
	if l.Asked.Mixing != string(mixing.Scattered) {
		asked = ""
	}
	add("Neighbours of one kind", asked, fmt.Sprintf("%d of %s; by chance %.0f", l.Equals, number.Of(l.Neighbours, "pair"), *l.EqualChance))
}

// A Meaning says what a word of a table means: a sentence that the word begins.
type Meaning struct{ Term, Text string }

// Notes says what the words of the table mean, those that stand in it.
func (l *Lie) Notes() []Meaning {
	var notes []Meaning
	if l.Astray != nil {
		wants := "as many as the density asks for"
		if l.Asked.Even {
			wants = "its share of an even spread"
		}
		notes = append(notes, Meaning{"Astray", fmt.Sprintf("are the pieces that would have to lie elsewhere for every part of the walls to have %s, in parts of some eight pieces. "+
			"Pearson's χ² for each degree of freedom, which is 1 for pieces strewn by chance and less for truer ones, comes to %.2f.", wants, *l.Dispersion)})
	}
	if l.Spread != nil {
		notes = append(notes, Meaning{"Spread", "is the circular standard deviation of the headings: two thirds of the pieces, about, head less than that off the flow."})
	}
	if l.Strays != nil && l.Asked.Strays > 0 {
		notes = append(notes, Meaning{"Strays", "came out as headings tell them: the number dealt is exact, but a few that go with the flow are far enough off it to pass for strays, and a few strays happen to go with it."})
	}
	if l.Alike != nil {
		notes = append(notes, Meaning{"Alike", "is 1 where neighbours head the same way, 0 where they are at odds, and below 0 where they are opposed."})
	}
	if l.EqualChance != nil && mixing.Way(l.Asked.Mixing) == mixing.Drifting {
		notes = append(notes, Meaning{"Drift", "is 0 where kinds are mixed, and near 1 where one gives way to the next all along the flow."})
	}
	return notes
}

// share returns a share in per cent.
func share(v float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", 100*v), ".0") + " %"
}

// degrees returns an angle.
func degrees(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") + "°" }
