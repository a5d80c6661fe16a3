package orderpage

import (
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/drafting"
	"wallshoal/export/holemap"
	"wallshoal/export/stand"
	"wallshoal/export/template"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// met lists the cautions that holes of a stand meet, with the holes that are to be settled before they are
// drilled. What holds for every hole of a height, or overhead, is said where it says what to stand on.
func (o *orderBook) met(s stand.Stand) []drafting.Item {
	in := map[int]bool{}
	for _, id := range s.Pieces {
		in[id] = true
	}
	numbers := func(c caution.Caution) []int {
		var out []int
		for _, h := range o.views[s.Face].Holes {
			if in[h.Piece] && o.speaksOf(c, h) {
				out = append(out, h.Number)
			}
		}
		return out
	}
	f := o.work.Site.Faces[s.Face]
	on := o.work.Site.Room.Walls[f.Wall].Name
	var out []drafting.Item
	said := map[string]bool{"height": true, "overhead": true, "platform": true}
	for _, c := range o.work.Map.Cautions {
		if said[c.Code] || c.Wall != on || c.Face != f.Name {
			continue
		}
		if n := numbers(c); len(n) > 0 && !said[c.Code+opening(c)] {
			said[c.Code+opening(c)] = true
			lead := "! " + c.Code
			if c.Severity == caution.Note {
				lead = c.Code
			}
			which := "holes " + template.HoleNumbers(n)
			if len(n) == s.Holes {
				which = "all holes"
			}
			out = append(out, drafting.Item{Lead: lead, Text: opening(c) + " (" + which + ")"})
		}
	}
	return out
}

// speaksOf reports whether a caution of a hole's face speaks of the hole.
func (o *orderBook) speaksOf(c caution.Caution, h holemap.Hole) bool {
	return speaksOf(o.work, o.pieces[h.Piece].Piece, c, h)
}

// Cautions returns the cautions that speak of one hole of a work, the gravest first and each code and sentence
// once. Those of its whole wall are not among them.
func Cautions(w holemap.Work, h holemap.Hole) []caution.Caution {
	i := slices.IndexFunc(w.Layout.Pieces, func(p scatter.Piece) bool { return p.ID == h.Piece })
	f := w.Site.Faces[h.Face]
	var out []caution.Caution
	for _, c := range w.Map.Cautions {
		if i < 0 || c.Wall != w.Site.Room.Walls[f.Wall].Name || c.Face != f.Name || !speaksOf(w, w.Layout.Pieces[i], c, h) {
			continue
		}
		if !slices.ContainsFunc(out, func(d caution.Caution) bool { return d.Code == c.Code && d.What == c.What }) {
			out = append(out, c)
		}
	}
	return out
}

// speaksOf reports whether a caution of the face of a piece speaks of its hole. Where zones have a code and say
// why, it is by those that it lies in, since several cautions can have the code.
func speaksOf(w holemap.Work, p scatter.Piece, c caution.Caution, h holemap.Hole) bool {
	if !slices.Contains(h.Cautions, c.Code) {
		return false
	}
	outline, kind := p.Outline(w.Kinds), w.Kinds[p.Kind]
	zoned, others := false, false
	for _, z := range w.Site.Faces[h.Face].Zones {
		if z.Code != c.Code || !z.Reaches(kind.Load(), outline) && !(z.Binds == wall.Holes && z.Shape.Contains(h.At)) {
			continue
		}
		reason, _, _ := strings.Cut(z.Reason, "; ")
		if strings.Contains(strings.ToLower(c.Text), strings.ToLower(reason)) {
			zoned = true
		} else {
			others = true
		}
	}
	return zoned || !others
}

// opening returns the beginning of what a caution says: what it is, after who decided about it where
// somebody has.
func opening(c caution.Caution) string {
	n := 1
	if c.Acknowledged != nil {
		n = 2
	}
	parts := strings.SplitAfterN(c.Text, ". ", n+1)
	return strings.TrimSuffix(strings.TrimSpace(strings.Join(parts[:min(n, len(parts))], "")), ".")
}
