package plan

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter/density"
	"wallshoal/scatter/flow"
	"wallshoal/wall/space"
)

// DensitySection is how dense the work is where. What it names is multiplied.
//
//	base:    in place of the count, so many pieces to an area, like 42 per m2 or 4 per sq ft: as many
//	         as come to that over all there is room on, where nothing else is said
//	gather:  a list of places where the work gathers, see GatherSection
//	bands:   a list of heights at which it is denser or thinner, see BandSection
//	fade:    a list of what it thins out towards, see FadeSection
//	clumps:  see ClumpSection
//	drift:   how many times as dense it is at the end of the flow as at its beginning; 1 if left out
//	maps:    a list of drawings that are laid over walls, see MapSection
//
// A list of one may be written without its dash.
type DensitySection = density.Scheme

// GatherSection is where the work gathers: one of
//
//	round:     a place, see PlaceSection
//	along:     a line on a wall or through the room, as a current's, see CurrentSection
//	edge:      an edge of something, see EdgeSection
//
// and with it
//
//	strength:  how many times as dense it is there as far away; below 1 it is thinner; needed
//	reach:     the distance at which half of that is left; 500 mm if left out
type GatherSection = density.Gathering

// BandSection is a band of heights, all round the room.
//
//	from:      height above the floor; from the floor or what is below it if left out
//	to:        height above the floor; up to the top if left out
//	strength:  how many times as dense it is in the band as beside it; needed
//	soft:      how far the change takes at either edge; 200 mm if left out
type BandSection = density.Band

// FadeSection is what the work thins out towards.
//
//	towards:  edges, of every face, where a wall that goes straight on into the next has none; corners,
//	          where walls meet; or left, right, top or bottom of the whole work: the ends of the first
//	          and the last wall that take pieces, the tops or the feet of all; needed
//	wall:     for those of one wall alone
//	over:     how far from there it begins; needed
//	rest:     what is left of the density there, like 20 % or 0.2; none if left out
type FadeSection = density.Fading

// ClumpSection draws the work together into tight groups with air between them.
//
//	size:      from the middle of a group to the next, about; needed
//	strength:  how many times as dense it is in a group as between groups; 6 if left out
//	seed:      another seed, other groups; 1 if left out
type ClumpSection = density.Clumps

var densityKeys = []string{"base", "gather", "bands", "fade", "clumps", "drift", "maps"}

const (
	defaultGather = 500 // reach, mm
	defaultSoft   = 200 // of a band, mm
	defaultClumps = 6   // strength
)

// density reads how dense the work is where, given how many pieces the plan counts, 0 for none, and
// the flow that it drifts along.
func (s *stage) density(m yamlfile.Map, count int, fl flow.Field) density.Scheme {
	var scheme density.Scheme
	if base := m.Get("base"); base.Given() {
		if scheme.PerSquareMetre = s.base(base, count); scheme.PerSquareMetre == 0 {
			s.file.Spoil("composition.count")
		}
	}
	var fields density.Product
	add := func(f density.Field, ok bool) {
		if ok {
			fields = append(fields, f)
		}
	}
	for _, item := range several(m.Get("gather"), "a list of places, each starting with a dash") {
		add(s.gathering(item))
	}
	for _, item := range several(m.Get("bands"), "a list of heights, each starting with a dash") {
		add(s.band(item))
	}
	for _, item := range several(m.Get("fade"), "a list, each starting with a dash") {
		add(s.fading(item))
	}
	if clumps := m.Get("clumps"); clumps.Given() {
		add(s.clumps(clumps))
	}
	if drift := m.Get("drift"); drift.Given() {
		add(s.drift(drift, fl))
	}
	for _, item := range several(m.Get("maps"), "a list of drawings, each starting with a dash") {
		add(s.overlay(item))
	}
	if len(fields) > 0 {
		scheme.Field = fields
	}
	return scheme
}

// several returns the items of a list, or the value itself where that is a single map.
func several(v yamlfile.Value, want string) []yamlfile.Value {
	if v.IsMap() {
		return []yamlfile.Value{v}
	}
	items, ok := v.List(density.MaxFields, want)
	if ok && len(items) == 0 {
		v.Fault("is an empty list", "list something, or remove the line")
	}
	return items
}

var perArea = regexp.MustCompile(`^(\d+\.?\d*|\.\d+)\s*(?:per|/)\s*(.+)$`)

// areas returns the words for an area, and how many m² it has. A foot is 0.3048 m exactly.
func areas() map[string]float64 {
	const foot2 = 0.3048 * 0.3048
	return map[string]float64{
		"m2": 1, "m²": 1, "m^2": 1, "sq m": 1, "sqm": 1, "square metre": 1, "square meter": 1,
		"ft2": foot2, "ft²": foot2, "ft^2": foot2, "sq ft": foot2, "sqft": foot2, "square foot": foot2,
	}
}

// base reads how many pieces there are to an area, and returns how many to a m²; 0 where the number
// of pieces is given.
func (s *stage) base(v yamlfile.Value, count int) float64 {
	const noun, fix = " is not a number of pieces to an area", "write a number and an area, like 42 per m2 or 4 per sq ft"
	text, ok := v.Text(maxTitle)
	if !ok {
		return 0
	}
	parts := perArea.FindStringSubmatch(strings.ToLower(text))
	if parts == nil {
		v.Fault(yamlfile.Quote(text)+noun, fix)
		return 0
	}
	area, known := areas()[strings.TrimSpace(parts[2])]
	if !known {
		v.Fault(yamlfile.Quote(parts[2])+" is not an area", fix)
		return 0
	}
	n, err := strconv.ParseFloat(parts[1], 64)
	per := n / area
	switch {
	case err != nil || !(per >= density.MinBase && per <= density.MaxBase):
		v.Fault(yamlfile.Quote(text)+noun, fmt.Sprintf("give %v to %d per m2", density.MinBase, int(density.MaxBase)))
		return 0
	case count > 0:
		v.Fault("stands beside a count", "keep one of them: the base and the walls say how many pieces there are, or the count does")
		return 0
	}
	return per
}

// strengthOf reads how many times as dense the work is somewhere.
func strengthOf(v yamlfile.Value) (float64, bool) {
	return v.Number("a strength", density.MinStrength, density.MaxStrength)
}

// gathering reads where the work gathers.
func (s *stage) gathering(v yamlfile.Value) (density.Field, bool) {
	kinds := []string{"round", "along", "edge"}
	m, ok := v.Map(append([]string{"reach", "strength"}, kinds...)...)
	if !ok {
		return nil, false
	}
	g := density.Gathering{Reach: s.length(m.Get("reach"), "a reach", MinLength, MaxLength, defaultGather)}
	g.Strength, ok = strengthOf(m.Get("strength").Need("say how many times as dense it is there, like 4"))
	kind := s.only(m, kinds, "make it an item of its own, with a dash before it", "says nowhere")
	if kind == "" {
		return nil, false
	}
	good := false
	switch what := m.Get(kind); kind {
	case "round":
		var at space.Vec
		at, _, good = s.place(what)
		g.Round = density.Place(at)
	case "along":
		var path []space.Vec
		path, good = s.path(what)
		g.Round = density.Line(path)
	case "edge":
		g.Round, good = s.edge(what)
	}
	return g, ok && good
}

// band reads a band of heights.
func (s *stage) band(v yamlfile.Value) (density.Field, bool) {
	m, ok := v.Map("from", "to", "strength", "soft")
	if !ok {
		return nil, false
	}
	from, to := m.Get("from"), m.Get("to")
	b := density.Band{
		From: s.length(from, "a height", -MaxLength, MaxLength, math.Inf(-1)),
		To:   s.length(to, "a height", -MaxLength, MaxLength, math.Inf(1)),
		Soft: s.length(m.Get("soft"), "a length", 0, MaxLength, defaultSoft),
	}
	b.Strength, ok = strengthOf(m.Get("strength").Need("say how many times as dense it is in the band, like 2"))
	switch {
	case !from.Given() && !to.Given():
		m.Fault("says no height", "give from, to or both, above the floor")
		return nil, false
	case b.From >= b.To:
		to.Fault(s.show(b.To)+" is not above "+s.show(b.From), "give from the lower height and to the higher")
		return nil, false
	}
	return b, ok
}

// clumps reads groups.
func (s *stage) clumps(v yamlfile.Value) (density.Field, bool) {
	m, ok := v.Map("size", "strength", "seed")
	if !ok {
		return nil, false
	}
	size := s.size(m.Get("size").Need("say how far it is from a group to the next, like {size: 700}"), "a size")
	strength, seed := float64(defaultClumps), uint64(1)
	if given, ok := strengthOf(m.Get("strength")); ok {
		strength = given
	}
	if given, ok := m.Get("seed").Seed(); ok {
		seed = given
	}
	areas, ok := s.areas(v)
	if !ok || size == 0 {
		return nil, false
	}
	if n := density.Groups(areas, size); n > density.MaxGroups {
		m.Get("size").Fault(fmt.Sprintf("%s makes more groups than there can be, %d", s.show(size), density.MaxGroups),
			"give at least "+s.show(math.Ceil(size*math.Sqrt(n/density.MaxGroups))))
		return nil, false
	}
	return density.NewClumps(areas, size, strength, seed), true
}

// drift reads a density that changes along the flow.
func (s *stage) drift(v yamlfile.Value, fl flow.Field) (density.Field, bool) {
	factor, ok := strengthOf(v)
	if !ok || !s.leads(v, fl) {
		return nil, false
	}
	areas, ok := s.areas(v)
	if !ok {
		return nil, false
	}
	return density.NewDrift(fl, areas, factor), true
}

// leads reports whether the flow that v follows leads somewhere, and complains where it does not.
// Where the flow or the room has faults nobody knows.
func (s *stage) leads(v yamlfile.Value, fl flow.Field) bool {
	if fl.Leads() {
		return true
	}
	if s.file.Faulty("composition.flow") || s.file.Faulty("room") {
		return false
	}
	v.Fault("follows the flow, and the flow leads nowhere: it has no current toward or away from a place, along a path, or that sweeps through the room",
		"give it one, like sweep: {wall: "+s.someWall()+", heading: 90}, or remove the line")
	return false
}

// someWall returns the name of a wall for an example.
func (s *stage) someWall() string {
	if len(s.room.Walls) > 0 && s.room.Walls[0].Name != "" {
		return s.room.Walls[0].Name
	}
	return "Long wall"
}

// areas returns the faces that take pieces; without a word nothing where the room has faults.
func (s *stage) areas(v yamlfile.Value) ([]density.Area, bool) {
	if s.file.Faulty("room") {
		return nil, false
	}
	site, err := s.site(true)
	if err != nil {
		v.Fault(err.Error(), "correct the room")
		return nil, false
	}
	var out []density.Area
	for _, f := range site.Faces {
		if f.Used {
			out = append(out, density.Area{Frame: f.Frame, Region: f.Outline})
		}
	}
	return out, true
}
