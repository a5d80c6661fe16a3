package caution

import (
	"fmt"
	"math"
	"strings"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// zones counts p towards every zone of its face that binds it or one of its holes, and reports
// whether any of them is forbidden.
func (g gathering) zones(p scatter.Piece, kinds []scatter.Kind) (forbidden bool) {
	outline := p.Outline(kinds)
	for _, z := range g.site.Faces[p.Face].Zones {
		holes := boundHoles(z, p, outline, kinds)
		if len(holes) == 0 {
			continue
		}
		of := g.ofZone(z, p)
		for _, i := range holes {
			g.add(of, g.named(z, p, outline), p, i)
		}
		g.tally(of).from[z.Name+": "+z.Reason] = true
		forbidden = forbidden || z.Strength == wall.Forbidden
	}
	return forbidden
}

// named returns what a zone belongs to; with a slope, also by how much the piece is out.
func (g gathering) named(z wall.Zone, p scatter.Piece, outline plane.Ring) string {
	if z.Slope == 0 {
		return z.Name
	}
	units := g.limits.Units
	return fmt.Sprintf("%s, piece %d (%s off it, so at most %s out)", z.Name, p.ID, atLeast(z.Off(outline), units), atLeast(z.Allowed(outline), units))
}

// atLeast shows a length as a rule can tell it, rounded to the safe side: down to a tenth of a
// millimetre, or a sixteenth of an inch.
func atLeast(mm float64, u measure.Unit) string {
	const slip = 1e-6 // of what was reckoned, in steps
	if u.Imperial() {
		const sixteenth = 25.4 / 16
		return measure.Format(math.Floor(mm/sixteenth+slip)*sixteenth, u)
	}
	return measure.Precise(math.Floor(mm*10+slip)/10, u)
}

// boundHoles returns the indexes of the holes of p that z speaks of: all of them where it binds
// the piece itself.
func boundHoles(z wall.Zone, p scatter.Piece, outline plane.Ring, kinds []scatter.Kind) []int {
	var bound []int
	box, kind := z.Shape.Bounds(), kinds[p.Kind]
	whole := z.Reaches(kind.Load(), outline)
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

func (g gathering) ofZone(z wall.Zone, p scatter.Piece) subject {
	severity := Ask
	if z.Strength == wall.Forbidden {
		severity = Stop
	}
	// On a drawing the reason stands by itself; here Standing says the same of every caution.
	reason := strings.TrimSuffix(z.Reason, "; "+whoDecides)
	return g.onFace(p, severity, z.Code, reason, todo(z, g.limits), z.Source)
}

// todo says what to do about a zone.
func todo(z wall.Zone, limits Limits) string {
	forbidden := z.Strength == wall.Forbidden
	switch {
	case z.Code == wall.FarSideCode:
		return "see how it is fixed, and keep off it, or use a shorter fixing and a stop on the bit"
	case z.Binds == wall.Holes && forbidden:
		return "do not drill here: move the piece"
	case z.Binds == wall.Holes:
		return "find out what lies behind: have the circuits isolated and proved dead, and sweep with a detector before drilling here"
	case forbidden:
		return "hang nothing here" + which(z, limits) + ": move the piece"
	case z.Binds == wall.Pieces:
		return "ask whoever answers for it before hanging anything here"
	}
	return "ask the fire authority or building control before hanging anything here" + which(z, limits)
}

// which says what pieces z speaks of; nothing where it speaks of all.
func which(z wall.Zone, limits Limits) string {
	deep := "stands out more than " + limits.show(z.Limit)
	switch {
	case z.Binds == wall.Combustible && z.Slope > 0:
		return " that burns and stands out more than its distance allows"
	case z.Binds == wall.Combustible && z.Limit > 0:
		return " that burns and " + deep
	case z.Binds == wall.Combustible:
		return " that burns"
	case z.Binds == wall.Projecting:
		return " that " + deep
	}
	return ""
}
