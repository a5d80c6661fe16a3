package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
)

const defaultSpread = 12 // degrees

// headings reads how the headings lie about the flow.
func (r *reader) headings(m yamlfile.Map) heading.Scheme {
	s := heading.Scheme{Spread: defaultSpread}
	if spread, ok := m.Get("spread").Number("a spread of headings", 0, scatter.MaxSpread); ok {
		s.Spread = spread
	}
	return s
}
