package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// FarSideSection is something that is known to be on the other side of a wall. Its place is said as an
// obstruction's is, from the left end and the floor of the wall that is drilled.
//
//	kind:       what it is; needed; see wall.ObstructionKinds
//	name:       as the sheets show it; its kind if left out
//	clearance:  how near to it holes are flagged; what is usual for its kind if left out
type FarSideSection = wall.Obstruction

// beyond reads what lies behind a wall or over a ceiling.
func (r *reader) beyond(w *wall.Wall, m yamlfile.Map, on plane.Ring) {
	w.Thickness = r.length(m.Get("thickness"), "a thickness", MinLength, wall.MaxDepth, 0)
	if behind, ok := m.Get("behind").ChoiceMeant("something that lies behind a wall", behindWords(), texts(wall.Behinds())...); ok {
		w.Behind = wall.Behind(behind)
	}
	items, _ := m.Get("far-side").List(MaxObstructions, "a list of things, each starting with a dash")
	for _, item := range items {
		w.FarSide = append(w.FarSide, r.far(item, on))
	}
}

func (r *reader) far(v yamlfile.Value, on plane.Ring) wall.Obstruction {
	m, ok := v.Map(append([]string{"kind", "name", "clearance"}, placeKeys...)...)
	if !ok {
		r.file.Spoil(v.Field())
		return wall.Obstruction{}
	}
	var o wall.Obstruction
	r.thing(&o, m, on)
	return o
}

// behindWords returns other words for what lies behind a wall, and which of ours they mean.
func behindWords() map[string]string {
	return map[string]string{
		"bathroom": string(wall.BehindWet), "shower": string(wall.BehindWet), "toilet": string(wall.BehindWet), "kitchen": string(wall.BehindWet),
		"weather": string(wall.BehindOutside), "street": string(wall.BehindOutside), "plant": string(wall.BehindPlant),
		"corridor": string(wall.BehindRoom), "office": string(wall.BehindRoom), "stair": string(wall.BehindRoom),
		"not known": string(wall.BehindUnknown), "nobody knows": string(wall.BehindUnknown), "?": string(wall.BehindUnknown),
	}
}
