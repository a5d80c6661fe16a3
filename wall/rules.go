package wall

import (
	"errors"
	"slices"

	"wallshoal/wall/measure"
)

// Rules are the figures of the rules that make zones, in mm. One that is 0 is what is usual: codes
// and customs differ from place to place, and whoever answers for the wall knows which hold there.
type Rules struct {
	CableEdge  float64 // how far below the top of a wall and beside a corner cables are taken to run
	CableWidth float64 // how wide the band from a switch or socket is at least; 0 for as wide as that is
	FarSide    float64 // a wall no thicker than this has the bands of what is on its other side too

	Fire FireRule // what holds beside the opening of a fireplace; empty for FireSlope
	Heat float64  // how near to a flue, a radiator or a lamp what burns is flagged

	Visible    float64 // how near to signs, alarms and extinguishers pieces are flagged
	Detector   float64 // and to detectors
	Sprinkler  float64 // and to sprinklers
	PanelWidth float64 // of the working space before an electrical panel
	PanelTop   float64 // its height above the floor

	RouteFrom float64 // height above the floor from which what stands out beside a way is in it
	RouteTo   float64 // and the height up to which it is
	RouteOut  float64 // how far pieces may stand out between the two

	Units measure.Unit // that reasons give lengths in; mm where it is empty
}

// UsualRules returns the usual figures. Where each comes from is beside it.
func UsualRules() Rules {
	return Rules{
		CableEdge: 150, // BS 7671:2018 regulation 522.6.202(i), as quoted in trade guides
		FarSide:   100, // the same, as a trade guide has it
		Fire:      FireSlope,
		Heat:      150,   // common practice
		Visible:   300,   // common practice; codes ask for plain view without a distance
		Detector:  300,   // common practice
		Sprinkler: 457.2, // 18 in, IFC 2018 §315.3.1 for storage

		PanelWidth: 762,    // 30 in, IFC 2018 §604.3
		PanelTop:   1981.2, // 78 in, the same
		RouteFrom:  685,    // 27 in, ADA Standards 2010 §307.2; IBC 2018 §1003.3.3 has 685 mm
		RouteTo:    2030,   // 80 in, likewise
		RouteOut:   100,    // 4 in, likewise
	}
}

// OrUsual returns r with what is usual in place of every figure that is 0.
func (r Rules) OrUsual() Rules {
	usual := UsualRules()
	figures := usual.figures()
	for i, f := range r.figures() {
		if *f == 0 {
			*f = *figures[i]
		}
	}
	if r.Fire == "" {
		r.Fire = usual.Fire
	}
	return r
}

// figures returns where the figures of r are, always in one order.
func (r *Rules) figures() []*float64 {
	return []*float64{
		&r.CableEdge, &r.CableWidth, &r.FarSide, &r.Heat, &r.Visible, &r.Detector, &r.Sprinkler,
		&r.PanelWidth, &r.PanelTop, &r.RouteFrom, &r.RouteTo, &r.RouteOut,
	}
}

// sound returns what is so wrong with the rules that no zones can be made by them.
func (r Rules) sound() error {
	for _, f := range r.figures() {
		if !finite(*f) || *f < 0 || *f > MaxLength {
			return errors.New("a figure of a rule is no length")
		}
	}
	if r.Fire != "" && !slices.Contains(FireRules(), r.Fire) {
		return errors.New("there is no such rule for fireplaces")
	}
	return nil
}

// show returns a length as reasons give it.
func (r Rules) show(mm float64) string { return measure.Format(mm, r.Units) }

// ZoneCodes returns the codes of all rules that make zones, in alphabetical order.
func ZoneCodes() []string {
	return []string{
		"cable-band", "cable-run", "detector-air", FarSideCode, "fire-opening", "fire-slope", "fire-step", "headroom",
		"heat", "hole-edge", "keep-visible", "panel-space", "pipe-run", "route-projection", "sprinkler-space",
	}
}
