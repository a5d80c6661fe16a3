package caution

import (
	"cmp"
	"slices"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/measure"
)

// Limits are the figures above which a rule speaks. They differ from place to place.
type Limits struct {
	CombustibleShare float64           // of what can be seen of a wall, covered by pieces that burn
	Reach            float64           // height above the floor that is worked at without a ladder, mm
	BoardDepth       float64           // deepest hole in a plasterboard wall, mm
	CableDepth       float64           // deepest hole in any other wall, mm
	AnchorEdge       float64           // from a hole in masonry to an edge, mm; 0 for what its depth and bit come to
	AnchorSpacing    float64           // between two holes in masonry, mm; likewise
	Keep             scatter.Distances // that the plan asks for between pieces; none where only overlaps matter

	Ratings      []Rating          // of fixings, as somebody read them off their packets
	Acknowledged []Acknowledgement // cautions that somebody has decided about

	Units measure.Unit // that the cautions state lengths in; mm and m where it is empty
}

// A Rating is what a fixing holds by its packet. The program has none of its own.
type Rating struct {
	Fixing string
	Holds  float64 // grams, in the surface that it goes into
	Factor float64 // of safety: one fixing carries Holds / Factor at most
}

// UsualFactor is the factor of safety where none is given. Packets often state the load at which a
// fixing fails; a quarter of that or less is common practice.
const UsualFactor = 4

// An Acknowledgement is somebody's decision about a caution. It hides nothing: the caution is shown with
// it.
type Acknowledgement struct {
	Code   string // of the caution
	Wall   string // its name; empty for every wall
	Reason string
	By     string // the role of who decided
}

// UsualLimits returns a combustible share of 10 % (IBC 2021 §806.2), a reach of 2.0 m (common
// practice), 1-3/4 in for holes in board: 1/2 in of board and the 1-1/4 in by which NEC 300.4 keeps
// cables behind the face of a stud, and 50 mm for holes elsewhere: cables that lie deeper need keep
// to no band (BS 7671:2018 regulation 522.6.202(i), as quoted in trade guides).
func UsualLimits() Limits {
	return Limits{CombustibleShare: 0.10, Reach: 2000, BoardDepth: 44.45, CableDepth: 50}
}

// of returns the first acknowledgement of a caution; nil where nobody decided about it.
func (l Limits) of(code, wall string) *Acknowledgement {
	for _, a := range l.Acknowledged {
		if a.Code == code && (a.Wall == "" || a.Wall == wall) {
			return &a
		}
	}
	return nil
}

// MarkedCode is the code of zones that the plan itself names.
const MarkedCode = "marked"

// Codes returns the codes of all cautions, in alphabetical order.
func Codes() []string {
	codes := append(wall.ZoneCodes(),
		"anchor-edge", "anchor-spacing", "board-only", codeCombustible, "comes-through", "crowded", "deep-hole",
		"deep-in-board", "fixing-load", "height", "hidden-services", "in-joint", "in-stud", "in-tile", MarkedCode,
		"mineral-dust", "not-free", "off-face", "off-structure", "old-finishes", "on-obstruction", "overhead",
		CodeOverlap, "weight")
	slices.SortFunc(codes, cmp.Compare[string])
	return codes
}
