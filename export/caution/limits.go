package caution

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/measure"
)

// Limits are the figures above which a rule speaks. They differ from place to place.
type Limits struct {
	CombustibleShare float64           // of what can be seen of a wall, covered by pieces that burn
	Reach            float64           // height above the floor that is worked at without a ladder, mm
	Ladder           float64           // and that from a step ladder, mm
	LadderRule       LadderRule        // how a leaning ladder stands; empty for LadderUp
	BoardCover       float64           // how thick the board of a plasterboard wall is, mm
	StudCover        float64           // how far behind the face of a stud cables lie at least, mm
	CableDepth       float64           // deepest hole in any other wall, mm
	FarCover         float64           // least wall between the end of a hole and the other side, mm
	AnchorEdge       float64           // from an anchor in masonry to an edge, mm; 0 for what its depth and bit come to
	AnchorSpacing    float64           // between two anchors in masonry, mm; likewise
	AnchorFrom       float64           // a fixing in a hole no narrower is taken for an anchor where the plan does not say how it holds, mm
	Low              float64           // height above the floor up to which children, feet and brooms get at pieces, mm
	LowOut           float64           // how far pieces may stand out below that, mm
	SharpTo          float64           // height above the floor up to which pieces may not be sharp, mm
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

// UsualLimits returns the usual limits. Where each comes from is beside it.
func UsualLimits() Limits {
	return Limits{
		CombustibleShare: 0.10, // IBC 2021 §806.2
		Reach:            2000, // common practice
		Ladder:           3000, // common practice
		LadderRule:       LadderUp,
		BoardCover:       12.7,  // 1/2 in, common practice
		StudCover:        31.75, // 1-1/4 in, NEC 300.4(A)(1) and (D)
		CableDepth:       50,    // deeper cables keep to no band: BS 7671:2018 regulation 522.6.202(i), as quoted in trade guides
		FarCover:         25,    // common practice
		AnchorFrom:       4,     // common practice: the thinnest plugs are about so wide
		Low:              900,   // common practice
		LowOut:           10,    // common practice
		SharpTo:          2030,  // common practice: as high as people walk
	}
}

// BoardDepth returns how deep a hole in a plasterboard wall is at most, in mm.
func (l Limits) BoardDepth() float64 { return l.BoardCover + l.StudCover }

// of returns the first acknowledgement of a caution; nil where nobody decided about it.
func (l Limits) of(c Caution) *Acknowledgement {
	for _, a := range l.Acknowledged {
		if a.meets(c) {
			return &a
		}
	}
	return nil
}

// unmet returns the acknowledgements of cautions that are not among those found.
func (l Limits) unmet(found []Caution) []Acknowledgement {
	var out []Acknowledgement
	for _, a := range l.Acknowledged {
		if !slices.ContainsFunc(found, a.meets) {
			out = append(out, a)
		}
	}
	return out
}

// meets reports whether the caution is one that a speaks of.
func (a Acknowledgement) meets(c Caution) bool {
	return a.Code == c.Code && (a.Wall == "" || a.Wall == c.Wall)
}

// Missing says that there is no caution that a speaks of.
func (a Acknowledgement) Missing() string {
	on := ""
	if a.Wall != "" {
		on = " on " + a.Wall
	}
	return fmt.Sprintf("%s is acknowledged%s by the %s, and there is no such caution in this layout: %s", a.Code, on, a.By, strings.TrimRight(a.Reason, ". "))
}

// MarkedCode is the code of zones that the plan itself names.
const MarkedCode = "marked"

// Codes returns the codes of all cautions, in alphabetical order.
func Codes() []string {
	codes := append(wall.ZoneCodes(),
		"anchor-edge", "anchor-spacing", "behind", "board-only", codeCombustible, "comes-through", "crowded", "deep-hole",
		"deep-in-board", "fixing-load", "glass", "height", "hidden-services", "in-joint", "in-stud", "in-tile", "low-piece",
		MarkedCode, "mineral-dust", "not-free", "off-face", "off-structure", "old-finishes", "on-obstruction", "overhead",
		CodeOverlap, "platform", "sharp-piece", "weight")
	slices.SortFunc(codes, cmp.Compare[string])
	return codes
}
