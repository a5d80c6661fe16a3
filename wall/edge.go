package wall

import "wallshoal/wall/plane"

// edges finds where holes are too near to an edge of the side, or to an opening in it: masonry and
// tile break out there. What stands on the side is no edge, because the side goes on behind it.
func (b *building) edges(d draft) ([]Zone, error) {
	keep := b.room.Walls[d.wall].HoleEdge
	if !(keep > 0) {
		return nil, nil
	}
	inner, err := d.limit.Grow(-keep)
	if err != nil {
		return nil, err
	}
	rim, err := d.limit.Difference(inner)
	if err != nil {
		return nil, err
	}
	near, err := b.flatOn(d, func(o Obstruction) (float64, bool) { return keep, o.Opening() })
	if err != nil {
		return nil, err
	}
	err = b.meet(d, func(by body, met plane.Region) error {
		if by.obstruction < 0 || b.room.Walls[by.wall].Obstructions[by.obstruction].Depth > 0 {
			return nil
		}
		grown, err := met.Grow(keep)
		near = append(near, grown)
		return err
	})
	if err != nil {
		return nil, err
	}
	shape, err := plane.Union(append(near, rim)...)
	return []Zone{{
		Code: "hole-edge", Name: "edges and openings", Strength: Forbidden, Binds: Holes, Shape: shape,
		Reason: "a hole so near to an edge can break it out",
		Source: "the plan; common practice: the packet of the fixing says how far it has to be from an edge",
	}}, err
}

// Opening reports whether o is open behind, though it is drawn flat.
func (o Obstruction) Opening() bool {
	switch o.Kind {
	case Fireplace, Niche, Vent:
		return true
	}
	return o.through()
}
