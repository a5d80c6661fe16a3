package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
)

// SecondSection is a second direction that some of the pieces head in.
//
//	turn:   how far it is turned from the flow, degrees clockwise; needed
//	share:  of the pieces, like 10 % or 0.1; needed
type SecondSection = heading.Second

const defaultSpread = 12 // degrees

// headings reads how the headings lie about the flow, from among the keys of the composition.
func (r *reader) headings(m yamlfile.Map) heading.Scheme {
	s := heading.Scheme{Spread: defaultSpread}
	if spread, ok := m.Get("spread").Number("a spread of headings", 0, scatter.MaxSpread); ok {
		s.Spread = spread
	}
	s.Strays, _ = m.Get("strays").Share("a share of strays", 0, 1)
	s.Apart, _ = m.Get("differ").Number("a difference between headings", 0, scatter.MaxApart)
	if second, ok := m.Get("second").Map("turn", "share"); ok {
		const fix = "give turn and share, like {turn: 150, share: 10 %}"
		s.Second.Turn, _ = second.Get("turn").Need(fix).Number("a turn from the flow", -360, 360)
		s.Second.Share, _ = second.Get("share").Need(fix).Share("a share of the pieces", 0, 1)
	}
	return s
}
