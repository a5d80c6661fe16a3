package scope

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
	"wallshoal/export/number"
	"wallshoal/wall/measure"
)

// WriteMarkdown writes what s says, with what the work knows besides, as a page for a person, and
// returns the first error. What the client's wall gets comes first.
func WriteMarkdown(w io.Writer, work holemap.Work, s Scope) error {
	p := &page{units: work.Units}
	p.head(work, s)
	p.short(work, s)
	p.options(s)
	p.wall(work, s)
	p.parts(s)
	p.sheets(s)
	p.stands(s)
	p.making(s)
	p.cautions(s)
	p.spread(s)
	p.asked(s)
	p.seated(s)
	p.limits(s)
	_, err := w.Write(p.Bytes())
	return err
}

// A page is Markdown in the making.
type page struct {
	bytes.Buffer
	units measure.Unit
}

func (p *page) line(format string, args ...any) { fmt.Fprintf(p, format+"\n", args...) }

func (p *page) heading(text string) { p.line("\n## %s\n", text) }

// table writes a table.
func (p *page) table(t Table) {
	lean := make([]string, len(t.Heads))
	for i := range lean {
		lean[i] = "---"
		if i >= t.Text {
			lean[i] = "---:"
		}
	}
	p.row(t.Heads, false)
	p.line("| %s |", strings.Join(lean, " | "))
	for i, row := range t.Rows {
		p.row(row, t.Sum && i == len(t.Rows)-1)
	}
}

// row writes one row, that of a sum with a bold name.
func (p *page) row(cells []string, sum bool) {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = plain(c)
	}
	if sum {
		out[0] = "**" + out[0] + "**"
	}
	p.line("| %s |", strings.Join(out, " | "))
}

func (p *page) head(work holemap.Work, s Scope) {
	p.line("# %s", cmp.Or(plain(s.Title), "A work without a title"))
	p.line("")
	for _, fact := range []struct{ name, value string }{
		{"For", work.For}, {"Place", work.Place}, {"By", work.By},
	} {
		if fact.value != "" {
			p.line("- %s: %s", fact.name, plain(fact.value))
		}
	}
	if !work.Date.IsZero() {
		p.line("- Date: %s", work.Date.Format("2006-01-02"))
	}
	p.line("- Layout: fingerprint **%s**, seed %d. A sheet with another fingerprint shows other holes.", s.Fingerprint, s.Seed)
}

func (p *page) wall(work holemap.Work, s Scope) {
	p.heading("What the wall gets")
	p.line("**%s** for %s on %s.", number.Of(s.Holes, "hole"), number.Of(s.Pieces, "piece"), number.Of(len(s.Faces), "face"))
	if s.Holes > 0 {
		p.line("Together they open %s of the surface.", Opened(work))
	}
	p.line("")
	p.table(s.WallTable(p.units))
	if s.Holes > 0 {
		p.line("\nWhat is drilled:\n")
		p.table(DrillTable(work))
	}
}

// Opened returns the area of the mouths of all holes as people say it.
func Opened(work holemap.Work) string {
	var cm2 float64
	for _, h := range work.Map.Holes {
		cm2 += math.Pi / 4 * h.Bit * h.Bit / 100
	}
	if work.Units.Imperial() {
		return fmt.Sprintf("%.2f sq in", cm2/(2.54*2.54))
	}
	return fmt.Sprintf("%.1f cm²", cm2)
}

func (p *page) parts(s Scope) {
	p.heading("Pieces")
	p.table(s.KindTable())
	if where := s.WhereTable(); len(where.Rows) > 0 {
		p.line("\nWhere they hang:\n")
		p.table(where)
	}
	p.heading("Fixings")
	p.line("One for every hole; no spares are counted.\n")
	p.table(s.FixingTable())
}

func (p *page) spread(s Scope) {
	p.heading("How the pieces lie")
	for _, says := range s.Spread(p.units) {
		p.line("- %s", says)
	}
}

// Spread says how the pieces lie, a sentence or two a paragraph.
func (s Scope) Spread(units measure.Unit) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if s.Spacing.Closest == nil {
		say("The distance between pieces is not known: there are fewer than two.")
	} else {
		say("The closest two centres are %s apart.", measure.Precise(*s.Spacing.Closest, units))
	}
	if s.Spacing.ClarkEvans != nil && s.Spacing.RelativeRadius != nil {
		say("The Clark-Evans index is %.2f: below 1 for clusters, 1 for chance, 2 for a square grid and 2.15 at most.", *s.Spacing.ClarkEvans)
		say("The closest two are %.0f %% as far apart as the tightest even packing would let all of them be.", 100**s.Spacing.RelativeRadius)
	}
	switch {
	case s.Heading.Resultant == nil:
		say("There is no heading: there are no pieces.")
	case s.Heading.Mean == nil:
		say("The headings cancel one another out, so there is no mean heading.")
	default:
		say("The mean heading is %.1f° clockwise from straight up, each piece as seen square-on to its own face. Their agreement is %.2f, where 0 is every which way and 1 is all alike.", *s.Heading.Mean, *s.Heading.Resultant)
	}
	return out
}

func (p *page) limits(s Scope) {
	p.heading("What this does not know")
	for _, says := range s.Limits() {
		p.line("- %s", says)
	}
}

// Limits says what a scope does not know.
func (s Scope) Limits() []string {
	covered := "What is covered is the sum of the outlines of the pieces. Where pieces overlap, what they share is counted twice."
	if slices.ContainsFunc(s.Cautions, func(c Caution) bool { return c.Code == caution.CodeOverlap }) {
		covered = "What is covered is the sum of the outlines of the pieces. Some of them overlap here, and what they share is counted for each of them."
	}
	out := []string{
		"The wall is as the plan measures it. Check lengths, heights and what lies behind the surface before the first hole.",
		covered,
		"A wall with no caution was not found safe: only what the plan names was looked at.",
		"Whether a fixing holds in this surface, and what it may carry, is for its packet and a trial hole to say.",
	}
	if s.Making == nil {
		out = append(out, "Hours, prices and dates are not counted here.")
	}
	return out
}

// Area returns m² as people who measure in the unit say them: in square metres or square feet.
func Area(m2 float64, units measure.Unit) string {
	if units.Imperial() {
		const squareFoot = 0.3048 * 0.3048
		return number.Group(fmt.Sprintf("%.1f", m2/squareFoot)) + " sq ft"
	}
	return number.Group(fmt.Sprintf("%.2f", m2)) + " m²"
}

func named(fixing string) string { return cmp.Or(fixing, "not named") }

// plain returns text on one line, such that Markdown shows it as it is. The spaces within numbers stay.
func plain(text string) string {
	parts := strings.FieldsFunc(strings.ToValidUTF8(text, "\uFFFD"), func(r rune) bool { return unicode.IsSpace(r) && string(r) != number.Space })
	var b strings.Builder
	for _, r := range strings.Join(parts, " ") {
		switch {
		case unicode.IsControl(r):
			continue
		case strings.ContainsRune("\\`*_[]<>|~&#$!", r):
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}
