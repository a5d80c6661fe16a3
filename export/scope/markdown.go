package scope

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
	"wallshoal/wall/measure"
)

// WriteMarkdown writes what s says, with what the work knows besides, as a page for a person, and
// returns the first error. What the client's wall gets comes first.
func WriteMarkdown(w io.Writer, work holemap.Work, s Scope) error {
	p := &page{units: work.Units}
	p.head(work, s)
	p.short(s)
	p.wall(work, s)
	p.parts(s)
	p.sheets(s)
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

// table writes rows under their heads. The first so many columns are text and lean left, the
// others are figures and lean right.
func (p *page) table(text int, heads []string, rows [][]string) {
	lean := make([]string, len(heads))
	for i := range lean {
		lean[i] = "---"
		if i >= text {
			lean[i] = "---:"
		}
	}
	for _, row := range slices.Concat([][]string{heads, lean}, rows) {
		p.line("| %s |", strings.Join(row, " | "))
	}
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
	p.line("**%s** for %s on %s.", many(s.Holes, "hole"), many(s.Pieces, "piece"), many(len(s.Faces), "face"))
	if s.Holes > 0 {
		p.line("Together they open %s of the surface.", p.mouths(opened(work.Map.Holes)))
	}
	p.line("")
	rows := make([][]string, len(s.Faces))
	for i, f := range s.Faces {
		share := "not known"
		if f.Coverage != nil {
			share = fmt.Sprintf("%.1f %%", 100**f.Coverage)
		}
		rows[i] = []string{plain(f.Wall), plain(f.Face), strconv.Itoa(f.Holes), strconv.Itoa(f.Pieces),
			p.area(f.Area), p.area(f.Free), p.area(f.Covered), share}
	}
	p.table(2, []string{"Wall", "Face", "Holes", "Pieces", "Area", "Free for pieces", "Covered", "Share covered"}, rows)
	if s.Holes > 0 {
		p.line("\nWhat is drilled:\n")
		p.drilling(work.Map.Holes)
	}
}

// opened returns the area of the mouths of all holes, in cm².
func opened(holes []holemap.Hole) float64 {
	var sum float64
	for _, h := range holes {
		sum += math.Pi / 4 * h.Bit * h.Bit
	}
	return sum / 100
}

// A drill is one way of drilling.
type drill struct {
	bit, depth float64
	fixing     string
}

func (p *page) drilling(holes []holemap.Hole) {
	count := map[drill]int{}
	var ways []drill
	for _, h := range holes {
		d := drill{h.Bit, h.Depth, h.Fixing}
		if count[d]++; count[d] == 1 {
			ways = append(ways, d)
		}
	}
	slices.SortFunc(ways, func(a, b drill) int {
		return cmp.Or(cmp.Compare(a.bit, b.bit), cmp.Compare(a.depth, b.depth), cmp.Compare(a.fixing, b.fixing))
	})
	rows := make([][]string, len(ways))
	for i, d := range ways {
		rows[i] = []string{named(d.fixing), measure.Precise(d.bit, p.units), measure.Precise(d.depth, p.units), strconv.Itoa(count[d])}
	}
	p.table(1, []string{"Fixing", "Bit", "Depth", "Holes"}, rows)
}

func (p *page) parts(s Scope) {
	p.heading("Pieces")
	rows := make([][]string, len(s.Kinds))
	for i, k := range s.Kinds {
		rows[i] = []string{plain(k.Code), plain(k.Name), strconv.Itoa(k.Pieces), strconv.Itoa(k.Holes)}
	}
	p.table(2, []string{"Code", "Kind", "Pieces", "Holes"}, rows)
	p.where(s)

	p.heading("Fixings")
	p.line("One for every hole; no spares are counted.\n")
	rows = make([][]string, len(s.Fixings))
	for i, f := range s.Fixings {
		rows[i] = []string{named(f.Name), strconv.Itoa(f.Count)}
	}
	p.table(1, []string{"Fixing", "Count"}, rows)
}

// where lists how many pieces of each kind hang on each face, where there are several of both.
func (p *page) where(s Scope) {
	if len(s.Kinds) < 2 || len(s.Faces) < 2 {
		return
	}
	heads := []string{"Wall", "Face"}
	for _, k := range s.Kinds {
		heads = append(heads, plain(k.Code))
	}
	rows := make([][]string, len(s.Faces))
	for i, f := range s.Faces {
		rows[i] = []string{plain(f.Wall), plain(f.Face)}
		for _, h := range f.Hung {
			rows[i] = append(rows[i], strconv.Itoa(h.Pieces))
		}
	}
	p.line("\nWhere they hang:\n")
	p.table(2, heads, rows)
}

func (p *page) cautions(s Scope) {
	p.heading("Cautions")
	if len(s.Cautions) == 0 {
		p.line("None was raised. That is no clearance: local codes and licensed trades decide.")
		return
	}
	p.line("They are what the plan itself gives reason for. %s", strings.Replace(caution.Standing, "This", "Each", 1))
	for _, part := range []struct{ severity, title string }{
		{caution.Stop, "Stop: not to be hung as it is"},
		{caution.Ask, "Ask: to be found out before the first hole"},
		{caution.Note, "Note: to be kept in mind at work"},
	} {
		groups := alike(s.Cautions, part.severity)
		if len(groups) == 0 {
			continue
		}
		p.line("\n### %s\n", part.title)
		for _, group := range groups {
			p.line("- **%s**, %s. %s Source: %s.", plain(group[0].Code), plain(places(group)),
				plain(strings.TrimSuffix(group[0].Text, " "+caution.Standing)), plain(strings.TrimSuffix(group[0].Source, ".")))
		}
	}
}

// alike returns the cautions of one severity, those that say the same of several faces together.
func alike(all []Caution, severity string) [][]Caution {
	var groups [][]Caution
	for _, c := range all {
		if c.Severity != severity {
			continue
		}
		at := slices.IndexFunc(groups, func(g []Caution) bool {
			return g[0].Code == c.Code && g[0].Text == c.Text && g[0].Source == c.Source
		})
		if at < 0 {
			groups = append(groups, []Caution{c})
			continue
		}
		groups[at] = append(groups[at], c)
	}
	return groups
}

func places(group []Caution) string {
	words := make([]string, len(group))
	for i, c := range group {
		where := c.Wall
		if c.Face != "" && c.Face != "wall" {
			where += ", " + c.Face
		}
		words[i] = fmt.Sprintf("%s (%s of %s)", where, many(c.Holes, "hole"), many(c.Pieces, "piece"))
	}
	return strings.Join(words, "; ")
}

func (p *page) spread(s Scope) {
	p.heading("How the pieces lie")
	if s.Spacing.Closest == nil {
		p.line("- The distance between pieces is not known: there are fewer than two.")
	} else {
		p.line("- The closest two centres are %s apart.", measure.Precise(*s.Spacing.Closest, p.units))
	}
	if s.Spacing.ClarkEvans != nil && s.Spacing.RelativeRadius != nil {
		p.line("- The Clark-Evans index is %.2f: below 1 for clusters, 1 for chance, 2 for a square grid and 2.15 at most.", *s.Spacing.ClarkEvans)
		p.line("- The closest two are %.0f %% as far apart as the tightest even packing would let all of them be.", 100**s.Spacing.RelativeRadius)
	}
	switch {
	case s.Heading.Resultant == nil:
		p.line("- There is no heading: there are no pieces.")
	case s.Heading.Mean == nil:
		p.line("- The headings cancel one another out, so there is no mean heading.")
	default:
		p.line("- The mean heading is %.1f° clockwise from straight up, each piece as seen square-on to its own face. Their agreement is %.2f, where 0 is every which way and 1 is all alike.", *s.Heading.Mean, *s.Heading.Resultant)
	}
}

func (p *page) limits(s Scope) {
	p.heading("What this does not know")
	p.line("- The wall is as the plan measures it. Check lengths, heights and what lies behind the surface before the first hole.")
	if slices.ContainsFunc(s.Cautions, func(c Caution) bool { return c.Code == caution.CodeOverlap }) {
		p.line("- What is covered is the sum of the outlines of the pieces. Some of them overlap here, and what they share is counted for each of them.")
	} else {
		p.line("- What is covered is the sum of the outlines of the pieces. Where pieces overlap, what they share is counted twice.")
	}
	p.line("- A wall with no caution was not found safe: only what the plan names was looked at.")
	p.line("- Whether a fixing holds in this surface, and what it may carry, is for its packet and a trial hole to say.")
	if s.Making == nil {
		p.line("- Hours, prices and dates are not counted here.")
	}
}

// area returns m² as the plan's units have it.
func (p *page) area(m2 float64) string {
	if p.units.Imperial() {
		return fmt.Sprintf("%s (%.2f m²)", Area(m2, p.units), m2)
	}
	return Area(m2, p.units)
}

// Area returns m² as people who measure in the unit say them: in square metres or square feet.
func Area(m2 float64, units measure.Unit) string {
	if units.Imperial() {
		const squareFoot = 0.3048 * 0.3048
		return fmt.Sprintf("%.1f sq ft", m2/squareFoot)
	}
	return fmt.Sprintf("%.2f m²", m2)
}

// mouths returns a small area, given in cm².
func (p *page) mouths(cm2 float64) string {
	if p.units.Imperial() {
		return fmt.Sprintf("%.2f sq in", cm2/(2.54*2.54))
	}
	return fmt.Sprintf("%.1f cm²", cm2)
}

func many(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func named(fixing string) string { return cmp.Or(plain(fixing), "not named") }

// plain returns text on one line, such that Markdown shows it as it is.
func plain(text string) string {
	var b strings.Builder
	for _, r := range strings.Join(strings.Fields(strings.ToValidUTF8(text, "\uFFFD")), " ") {
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
