package caution

import (
	"fmt"
	"strconv"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// zones counts p towards every zone of its face that binds it or one of its holes, and reports
// whether any of them is forbidden.
func (g gathering) zones(p scatter.Piece, kinds []scatter.Kind) (forbidden bool) {
	outline := p.Outline(kinds)
	for _, z := range g.site.Faces[p.Face].Zones {
		holes := boundHoles(z, p, outline, kinds)
		for _, i := range holes {
			g.add(g.ofZone(z, p), z.Name, p, i)
		}
		forbidden = forbidden || len(holes) > 0 && z.Strength == wall.Forbidden
	}
	return forbidden
}

// boundHoles returns the indexes of the holes of p that z speaks of: all of them where it binds
// the piece itself.
func boundHoles(z wall.Zone, p scatter.Piece, outline plane.Ring, kinds []scatter.Kind) []int {
	var bound []int
	box, kind := z.Shape.Bounds(), kinds[p.Kind]
	whole := binds(z, kind) && box.Overlaps(outline.Bounds()) && z.Shape.Touches(outline)
	for i := range kind.Holes {
		if whole || z.Binds == wall.Holes && inside(z.Shape, box, p.HoleAt(kinds, i)) {
			bound = append(bound, i)
		}
	}
	return bound
}

// inside reports whether p lies in r, whose bounds are box.
func inside(r plane.Region, box plane.Rect, p plane.Point) bool {
	return box.Contains(p) && r.Contains(p)
}

// binds reports whether z speaks of pieces of kind k.
func binds(z wall.Zone, k scatter.Kind) bool {
	switch z.Binds {
	case wall.Pieces:
		return true
	case wall.Combustible:
		return k.Combustible
	case wall.Projecting:
		return k.StandOff > z.Limit
	}
	return false
}

func (g gathering) ofZone(z wall.Zone, p scatter.Piece) subject {
	severity := Ask
	if z.Strength == wall.Forbidden {
		severity = Stop
	}
	return g.onFace(p, severity, z.Code, z.Reason, todo(z), z.Source)
}

// todo says what to do about a zone.
func todo(z wall.Zone) string {
	forbidden := z.Strength == wall.Forbidden
	switch z.Binds {
	case wall.Holes:
		if forbidden {
			return "do not drill here: move the piece"
		}
		return "find out what lies behind before drilling here"
	case wall.Combustible:
		if forbidden {
			return "hang nothing that burns here: move the piece, or make it of something that does not burn"
		}
		return "ask the fire authority or building control before hanging anything here that burns"
	case wall.Projecting:
		limit := strconv.FormatFloat(z.Limit, 'f', -1, 64)
		if forbidden {
			return fmt.Sprintf("hang nothing here that stands out more than %s mm: move the piece, or make it flatter", limit)
		}
		return fmt.Sprintf("ask building control before hanging anything here that stands out more than %s mm", limit)
	}
	if forbidden {
		return "hang nothing here: move the piece"
	}
	return "ask whoever answers for it before hanging anything here"
}
