package view

import (
	"slices"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
	"wallshoal/export/scope"
)

// A warning is a caution as it is read at the wall.
type warning struct {
	Severity string `json:"severity"` // stop, ask or note, as the sheets print it
	Heading  string `json:"heading"`  // what the severity means, as the scope says it
	Code     string `json:"code"`
	What     string `json:"what"`
	Todo     string `json:"todo"`
	Decided  string `json:"decided"` // who decided about it, and why; empty where nobody has
}

// warn returns the indexes of cautions among the warnings, to which it adds what is new.
func (s *standsState) warn(found []caution.Caution) []int {
	indexes := []int{}
	for _, c := range found {
		w := warning{Severity: c.Severity, Code: c.Code, What: c.What, Todo: c.Todo}
		if a := c.Acknowledged; a != nil {
			w.Decided = a.By + ": " + a.Reason
		}
		for _, s := range scope.Severities() {
			if s.Name == c.Severity {
				w.Heading = s.Heading
			}
		}
		i := slices.Index(s.Warnings, w)
		if i < 0 {
			i = len(s.Warnings)
			s.Warnings = append(s.Warnings, w)
		}
		if !slices.Contains(indexes, i) {
			indexes = append(indexes, i)
		}
	}
	return indexes
}

// ofWall returns the cautions that hold for the whole wall of a face.
func ofWall(work holemap.Work, face int) []caution.Caution {
	name := work.Site.Room.Walls[work.Site.Faces[face].Wall].Name
	return slices.DeleteFunc(slices.Clone(work.Map.Cautions), func(c caution.Caution) bool { return c.Wall != name || c.Face != "" })
}
