package scope

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/number"
)

// A Severity is a degree of cautions, with the heading they stand under.
type Severity struct{ Name, Heading string }

// Decided stands in place of a degree for the cautions of any degree that somebody has decided about.
const Decided = "acknowledged"

// Severities returns them, the gravest first, and then Decided.
func Severities() []Severity {
	return []Severity{
		{caution.Stop, "Stop: not to be hung as it is"},
		{caution.Ask, "Ask: to be found out before the first hole"},
		{caution.Note, "Note: to be kept in mind at work"},
		{Decided, "Acknowledged: somebody has decided, and they hold all the same"},
	}
}

// Alike is cautions that say the same of several faces.
type Alike struct {
	Code   string
	Degree string // the severity
	Where  string // every face, with its holes and pieces
	Text   string // without what holds of every caution
	Source string
	Open   bool // nobody has decided about one of them yet
}

// Alike returns the cautions of one severity that nobody has decided about, or those of any that somebody
// has where it is Decided. Those that say the same are together.
func (s Scope) Alike(severity string) []Alike {
	var out []Alike
	for _, group := range alike(s.Cautions, severity) {
		c := group[0]
		out = append(out, Alike{
			Code: c.Code, Degree: c.Severity, Where: places(group), Text: strings.TrimSuffix(c.Text, " "+caution.Standing), Source: strings.TrimSuffix(c.Source, "."),
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
	p.found(s)
	if words := s.UnmetWords(); len(words) > 0 {
		p.line("\n### %s\n", UnmetHeading)
		for _, w := range words {
			p.line("- %s.", plain(w))
		}
	}
	if t := s.BurnTable(p.units); len(t.Rows) > 0 {
		p.line("\n### %s\n\n%s\n", BurnHeading, BurnWords)
		p.table(t)
	}
}

// found lists the cautions that were found.
func (p *page) found(s Scope) {
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
			degree := ""
			if part.Name == Decided {
				degree = " (" + a.Degree + ")"
			}
			p.line("- **%s**%s, %s. %s Source: %s.", plain(a.Code), degree, plain(a.Where), plain(a.Text), plain(a.Source))
		}
	}
}

// UnmetHeading stands over what UnmetWords says.
const UnmetHeading = "Acknowledged, and not found"

// UnmetWords says of each acknowledgement of a caution that is not there that it is so.
func (s Scope) UnmetWords() []string {
	var out []string
	for _, u := range s.Unmet {
		out = append(out, caution.Acknowledgement{Code: u.Code, Wall: u.Wall, Reason: u.Reason, By: u.By}.Missing())
	}
	return out
}

// NoCautions is said where none was raised.
const NoCautions = "None was raised. That is no clearance: local codes and licensed trades decide."

// alike returns the cautions that stand under one heading, those that say the same of several faces
// together.
func alike(all []Caution, severity string) [][]Caution {
	var groups [][]Caution
	for _, c := range all {
		under := c.Severity
		if c.Acknowledged != nil {
			under = Decided
		}
		if under != severity {
			continue
		}
		at := slices.IndexFunc(groups, func(g []Caution) bool {
			return g[0].Code == c.Code && g[0].Severity == c.Severity && g[0].Text == c.Text && g[0].Source == c.Source
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
		words[i] = fmt.Sprintf("%s (%s of %s)", where, number.Of(c.Holes, "hole"), number.Of(c.Pieces, "piece"))
	}
	return strings.Join(words, "; ")
}
