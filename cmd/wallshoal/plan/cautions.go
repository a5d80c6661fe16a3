package plan

import (
	"fmt"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/caution"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// CautionsSection has the figures of the usual cautions, where those that are usual do not hold. A
// figure that is left out is the usual one; none can be 0. What is high is said by InstallSection.
//
//	cable-edge:         how far from tops and corners of walls cables are taken to run; 150 mm
//	cable-width:        how wide the band from a switch or socket is at least; as wide as that is
//	cable-depth:        deepest hole, other than in board; 50 mm
//	far-side:           a wall no thicker has the bands of what is on its other side; 100 mm
//	far-cover:          least wall between the end of a hole and the other side; 25 mm
//	board-cover:        how thick the board of a plasterboard wall is; 1/2 in
//	stud-cover:         how far behind the face of a stud cables lie at least; 1-1/4 in. The deepest hole
//	                    in plasterboard is both together
//	fire-rule:          slope, step or 150mm, see wall.FireRule; slope
//	heat:               how near to flues, radiators and lamps what burns is flagged; 150 mm
//	visible:            likewise to signs, alarms, call points and extinguishers; 300 mm
//	detector:           likewise to detectors; 300 mm
//	sprinkler:          likewise to sprinklers; 18 in
//	panel-width:        of the working space before an electrical panel; 30 in
//	panel-top:          its height above the floor; 78 in
//	route-from:         from which height what stands out is in people's way; 685 mm
//	route-to:           up to which; 2030 mm
//	route-out:          how far pieces may stand out between the two; 100 mm
//	combustible-share:  of a wall, covered by pieces that burn; 10 %
//	low:                up to which height above the floor children, feet and brooms get at pieces; 900 mm
//	low-out:            how far pieces may stand out below that; 10 mm
//	sharp-to:           up to which height above the floor pieces may not be sharp; 2030 mm
//	ladder-rule:        how a leaning ladder stands: up, 1 out for every 4 up; along, 1 out for every 4
//	                    along it; or 75deg; up
//	anchor-edge:        from an anchor in masonry to an edge; by its depth and bit
//	anchor-spacing:     between two anchors in masonry; likewise
//	anchor-from:        the narrowest hole whose fixing is taken for an anchor; 4 mm
//	ratings:            a list, see RatingSection
//	acknowledged:       a list, see AcknowledgedSection
type CautionsSection = caution.Limits

// RatingSection is what one fixing holds by its packet.
//
//	fixing:  as the holes of pieces name it; needed
//	holds:   grams; needed
//	factor:  of safety, by which that is divided; 4 if left out
type RatingSection = caution.Rating

// AcknowledgedSection is somebody's decision about a caution, which is shown with it.
//
//	caution:  its code, as check and scope.md have it; needed
//	wall:     the wall that it is about; all if left out
//	reason:   needed
//	by:       the role of who decided, like building manager; needed
type AcknowledgedSection = caution.Acknowledgement

const (
	maxAcknowledged = 200
	maxRatings      = 100
	maxRole         = 60
)

// AcknowledgedField returns the name of an acknowledgement, given its index.
func AcknowledgedField(i int) string { return fmt.Sprintf("cautions.acknowledged[%d]", i) }

// cautions reads the figures of the cautions.
func (r *reader) cautions(v yamlfile.Value) (caution.Limits, wall.Rules) {
	limits, rules := caution.UsualLimits(), wall.Rules{Units: r.units}
	limits.Units = r.units
	m, ok := v.Map("cable-edge", "cable-width", "cable-depth", "far-side", "far-cover", "board-cover", "stud-cover", "fire-rule", "heat",
		"visible", "detector", "sprinkler", "panel-width", "panel-top", "route-from", "route-to", "route-out", "low", "low-out", "sharp-to",
		"ladder-rule", "combustible-share", "anchor-edge", "anchor-spacing", "anchor-from", "ratings", "acknowledged")
	if !ok {
		return limits, rules
	}
	for _, f := range []struct {
		key    string
		figure *float64
	}{
		{"cable-edge", &rules.CableEdge},
		{"cable-width", &rules.CableWidth},
		{"far-side", &rules.FarSide},
		{"heat", &rules.Heat},
		{"visible", &rules.Visible},
		{"detector", &rules.Detector},
		{"sprinkler", &rules.Sprinkler},
		{"panel-width", &rules.PanelWidth},
		{"panel-top", &rules.PanelTop},
		{"route-from", &rules.RouteFrom},
		{"route-to", &rules.RouteTo},
		{"route-out", &rules.RouteOut},
		{"cable-depth", &limits.CableDepth},
		{"far-cover", &limits.FarCover},
		{"board-cover", &limits.BoardCover},
		{"stud-cover", &limits.StudCover},
		{"low", &limits.Low},
		{"low-out", &limits.LowOut},
		{"sharp-to", &limits.SharpTo},
		{"anchor-edge", &limits.AnchorEdge},
		{"anchor-spacing", &limits.AnchorSpacing},
		{"anchor-from", &limits.AnchorFrom},
	} {
		*f.figure = r.length(m.Get(f.key), "a distance", MinLength, wall.MaxDepth, *f.figure)
	}
	usual := wall.UsualRules()
	from, to := rules.RouteFrom, rules.RouteTo
	if from == 0 {
		from = usual.RouteFrom
	}
	if to == 0 {
		to = usual.RouteTo
	}
	if key := m.Get("route-to"); from >= to && !r.file.Faulty(key.Field()) {
		r.file.Fault(key.Field(), "a route up to "+r.show(to)+" ends below where it begins, at "+r.show(from), "give a greater height, or a lesser one as route-from")
	}
	if share, ok := m.Get("combustible-share").Share("a share of a wall", 0, 1); ok {
		limits.CombustibleShare = share
	}
	other := map[string]string{"150 mm": string(wall.FireMetric), "150": string(wall.FireMetric)}
	if fire, ok := m.Get("fire-rule").ChoiceMeant("a rule for fireplaces", other, texts(wall.FireRules())...); ok {
		rules.Fire = wall.FireRule(fire)
	}
	if ladder, ok := m.Get("ladder-rule").ChoiceMeant("a rule for ladders", ladderWords(), texts(caution.LadderRules())...); ok {
		limits.LadderRule = caution.LadderRule(ladder)
	}
	return limits, rules
}

// ladderWords returns other words for the rules for ladders, and which of ours they mean.
func ladderWords() map[string]string {
	return map[string]string{
		"1 in 4": string(caution.LadderUp), "1:4": string(caution.LadderUp), "quarter": string(caution.LadderAlong),
		"75": string(caution.LadderAngle), "75°": string(caution.LadderAngle), "75 degrees": string(caution.LadderAngle),
	}
}

// decided reads what fixings hold and which cautions are acknowledged, of pieces and walls that are
// known.
func (r *reader) decided(v yamlfile.Value, room wall.Room, kinds []scatter.Kind, limits *caution.Limits) {
	if !v.IsMap() {
		return
	}
	m, _ := v.Map()
	items, _ := m.Get("ratings").List(maxRatings, "a list of fixings, each starting with a dash")
	for _, item := range items {
		if rating, ok := r.rating(item, kinds); ok {
			limits.Ratings = append(limits.Ratings, rating)
		}
	}
	items, _ = m.Get("acknowledged").List(maxAcknowledged, "a list of cautions, each starting with a dash")
	for _, item := range items {
		if a, ok := r.acknowledged(item, room); ok {
			limits.Acknowledged = append(limits.Acknowledged, a)
		}
	}
}

func (r *reader) rating(v yamlfile.Value, kinds []scatter.Kind) (caution.Rating, bool) {
	m, ok := v.Map("fixing", "holds", "factor")
	if !ok {
		return caution.Rating{}, false
	}
	c := caution.Rating{Factor: caution.UsualFactor}
	fixing := m.Get("fixing").Need("name it as the holes do")
	if c.Fixing, ok = fixing.Text(maxFixing); ok {
		r.fixingOf(fixing, c.Fixing, kinds)
	}
	if factor, ok := m.Get("factor").Number("a factor of safety", 1, 100); ok {
		c.Factor = factor
	}
	c.Holds, ok = m.Get("holds").Need("give what its packet says that it holds, in grams").Number("a load in grams", 1, 1e7)
	return c, ok
}

func (r *reader) acknowledged(v yamlfile.Value, room wall.Room) (caution.Acknowledgement, bool) {
	m, ok := v.Map("caution", "wall", "reason", "by")
	if !ok {
		return caution.Acknowledgement{}, false
	}
	var a caution.Acknowledgement
	a.Code, ok = m.Get("caution").Need("give the code of a caution, as check shows it").Choice("a caution", caution.Codes()...)
	a.Reason, _ = m.Get("reason").Need("say why the work may go on").Text(wall.MaxReason)
	a.By, _ = m.Get("by").Need("give the role of who decided, like building manager").Text(maxRole)
	if name := m.Get("wall"); name.Given() {
		var names bool
		a.Wall, names = r.wallOf(name, room)
		ok = ok && names
	}
	return a, ok
}

// wallOf reads the name of a wall or of the ceiling.
func (r *reader) wallOf(v yamlfile.Value, room wall.Room) (string, bool) {
	name, ok := v.Text(maxTitle)
	if !ok {
		return "", false
	}
	var names []string
	for _, w := range room.Walls {
		names = append(names, w.Name)
	}
	if room.Ceiling != nil {
		names = append(names, room.Ceiling.Name)
	}
	for _, n := range names {
		if wall.FoldName(n) == wall.FoldName(name) {
			return n, true
		}
	}
	if !r.file.Faulty("room") {
		v.Fault(yamlfile.Quote(name)+" is not the name of a wall", oneOf(name, "walls", names))
	}
	return "", false
}
