package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/scatter/mixing"
)

// MixSection is how kinds lie among one another: one of
//
//	scattered          equals are seldom neighbours
//	drifting           one kind gives way to the next along the flow
//	{families: n}      small groups of about n equals
type MixSection = mixing.Scheme

// mixing reads how kinds lie among one another.
func (r *reader) mixing(v yamlfile.Value) mixing.Scheme {
	usual := mixing.Scheme{Way: mixing.Scattered}
	if v.IsMap() {
		m, _ := v.Map(string(mixing.Families))
		size, ok := m.Get(string(mixing.Families)).Whole("a number of pieces in a family", 2, scatter.MaxFamily)
		if !ok && !r.file.Faulty(v.Field()) {
			v.Fault("names no way", "give the number of pieces in a family, like {families: 5}")
		}
		if !ok {
			return usual
		}
		return mixing.Scheme{Way: mixing.Families, Size: size}
	}
	way, ok := v.Choice("a way to mix", texts([]mixing.Way{mixing.Scattered, mixing.Drifting, mixing.Families})...)
	if !ok {
		return usual
	}
	if mixing.Way(way) == mixing.Families {
		v.Fault("says no size of families", "write mix: {families: 5}, or another number of pieces")
	}
	return mixing.Scheme{Way: mixing.Way(way)}
}
