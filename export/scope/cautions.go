package scope

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/caution"
)

// A Severity is a degree of cautions, with the heading they stand under.
type Severity struct{ Name, Heading string }

// Severities returns them, the gravest first.
func Severities() []Severity {
	return []Severity{
		{caution.Stop, "Stop: not to be hung as it is"},
		{caution.Ask, "Ask: to be found out before the first hole"},
		{caution.Note, "Note: to be kept in mind at work"},
	}
}

// Alike is cautions that say the same of several faces.
type Alike struct {
	Code   string
	Where  string // every face, with its holes and pieces
	Text   string // without what holds of every caution
	Source string
	Open   bool // nobody has decided about one of them yet
}

// Alike returns the cautions of one severity, those that say the same together.
func (s Scope) Alike(severity string) []Alike {
	var out []Alike
	for _, group := range alike(s.Cautions, severity) {
		c := group[0]
		out = append(out, Alike{
			Code: c.Code, Where: places(group), Text: strings.TrimSuffix(c.Text, " "+caution.Standing), Source: strings.TrimSuffix(c.Source, "."),
			Open: slices.ContainsFunc(group, func(c Caution) bool { return c.Acknowledged == nil }),
		})
	}
	return out
}

// Standing says how all cautions stand, and where they come from.
func Standing() string {
	return "They are what the plan itself gives reason for. " + strings.Replace(caution.Standing, "This", "Each", 1)
}

func (p *page) cautions(s Scope) {
	p.heading("Cautions")
	if len(s.Cautions) == 0 {
		p.line("%s", NoCautions)
		return
	}
	p.line("%s", Standing())
	for _, part := range Severities() {
		groups := s.Alike(part.Name)
		if len(groups) == 0 {
			continue
		}
		p.line("\n### %s\n", part.Heading)
		for _, a := range groups {
			p.line("- **%s**, %s. %s Source: %s.", plain(a.Code), plain(a.Where), plain(a.Text), plain(a.Source))
		}
	}
}

// NoCautions is said where none was raised.
const NoCautions = "None was raised. That is no clearance: local codes and licensed trades decide."

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
