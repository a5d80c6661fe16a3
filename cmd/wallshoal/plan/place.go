package plan

import (
	"strings"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter/outline"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// ObstructionSection is something on a wall that pieces keep clear of. Where it is, is said in one
// of these ways, measured from the wall's left end and from the floor:
//
//	left, bottom, width, height    an upright rectangle by its bottom-left corner
//	centre, width, height          an upright rectangle by its centre, [x, y]
//	centre, diameter               a round thing
//	points                         a list of its corners, [x, y]
//	path, width                    a cable or pipe along a list of points, [x, y]
//
// And about it:
//
//	kind:       what it is; needed; see wall.ObstructionKinds
//	name:       as the sheets show it; its kind if left out
//	depth:      how far it stands out of the wall, always measured from the wall's own plane, whatever
//	            else stands there; below 0 for a recess, measured from the surface it is let into; 0
//	            if left out
//	clearance:  how far pieces keep from it; what is usual for its kind if left out
//	use:        which of its own sides carry pieces: all, or a list of front, left, right, top and
//	            underside; of a recess, back, left, right, head and sill; none if left out
//	margin:     pieces keep this far from the edges of those sides; the wall's if left out, or an
//	            eighth of the side's narrower way across where that is less
type ObstructionSection = wall.Obstruction

// ZoneSection is a part of a wall where something may not go, for a reason that the planner knows.
// Its place is said as an obstruction's is. It does not have to end at the wall's edges.
//
//	name:      as the sheets show it; needed
//	strength:  forbidden, or caution to flag what goes there; forbidden if left out
//	binds:     pieces, holes, combustible (pieces that burn) or projecting (pieces that stand out
//	           more than limit); pieces if left out
//	limit:     with projecting, the stand-off above which a piece is bound; 0 if left out
//	reason:    in plain words; needed
type ZoneSection = wall.Zone

var placeKeys = []string{"left", "bottom", "width", "height", "centre", "diameter", "points", "path"}

func (r *reader) obstruction(v yamlfile.Value, on plane.Ring) wall.Obstruction {
	m, ok := v.Map(append([]string{"kind", "name", "depth", "clearance", "use", "margin"}, placeKeys...)...)
	if !ok {
		r.file.Spoil(v.Field())
		return wall.Obstruction{}
	}
	var o wall.Obstruction
	o.Depth = r.length(m.Get("depth"), "a depth", -wall.MaxDepth, wall.MaxDepth, 0)
	r.thing(&o, m, on)
	o.Use = r.use(m.Get("use"))
	if margin, ok := m.Get("margin").Length("a margin", r.units, 0, MaxLength); ok {
		o.Margin = &margin
	}
	return o
}

// thing reads what something on a wall is and where.
func (r *reader) thing(o *wall.Obstruction, m yamlfile.Map, on plane.Ring) {
	kind, ok := m.Get("kind").Need("say what it is: "+joined(wall.ObstructionKinds())).Choice("a kind of obstruction", texts(wall.ObstructionKinds())...)
	if !ok {
		r.file.Spoil(m.Get("name").Field())
	}
	o.Kind, o.Name = wall.ObstructionKind(kind), kind
	if name, ok := m.Get("name").Text(wall.MaxName); ok {
		o.Name = name
	}
	o.Clearance = r.length(m.Get("clearance"), "a clearance", 0, MaxLength, wall.Rule(o.Kind).Clearance)
	o.Shape, o.Round = r.place(m, "obstruction", on)
}

// use reads which sides of something carry pieces.
func (r *reader) use(v yamlfile.Value) []wall.Side {
	if !v.IsList() {
		word, ok := v.Choice("a side", texts(wall.SideNames())...)
		if !ok {
			return nil
		}
		return []wall.Side{wall.Side(word)}
	}
	items, _ := v.List(len(wall.SideNames()), "all, or a list of sides, like [front, left]")
	var sides []wall.Side
	for _, item := range items {
		if word, ok := item.Choice("a side", texts(wall.SideNames())...); ok {
			sides = append(sides, wall.Side(word))
		}
	}
	return sides
}

// markedCode is the code of zones that the plan itself names.
const markedCode = "marked"

func (r *reader) zone(v yamlfile.Value, on plane.Ring) wall.Zone {
	m, ok := v.Map(append([]string{"name", "strength", "binds", "limit", "reason"}, placeKeys...)...)
	if !ok {
		r.file.Spoil(v.Field())
		return wall.Zone{}
	}
	z := wall.Zone{Code: markedCode, Strength: wall.Forbidden, Binds: wall.Pieces, Source: "the plan"}
	z.Name, _ = m.Get("name").Need("give the zone a name").Text(wall.MaxName)
	if s, ok := m.Get("strength").Choice("a strength", string(wall.Forbidden), string(wall.Caution)); ok {
		z.Strength = wall.Strength(s)
	}
	bindings := []wall.Binding{wall.Pieces, wall.Holes, wall.Combustible, wall.Projecting}
	if b, ok := m.Get("binds").Choice("something a zone can bind", texts(bindings)...); ok {
		z.Binds = wall.Binding(b)
	}
	limit := m.Get("limit")
	if limit.Given() && z.Binds != wall.Projecting {
		limit.Fault("is only used with binds: projecting", "remove it")
	}
	z.Limit = r.length(limit, "a limit", 0, wall.MaxDepth, 0)
	z.Reason, _ = m.Get("reason").Need("say in plain words why").Text(wall.MaxReason)
	ring, _ := r.place(m, "zone", on)
	if _, _, crosses := ring.Crossing(); crosses {
		m.Fault("its sides cross or touch", "give the corners in order round the zone, each of them once")
	}
	z.Shape = plane.RegionOf(ring)
	return z
}

// ways to say where something is: the key that shows it, and the keys that go with it.
var ways = []struct {
	key  string
	with string
}{
	{"path", "width"},
	{"points", ""},
	{"diameter", "centre"},
	{"centre", "width height"},
	{"", "left bottom width height"},
}

// place reads where a thing is on a wall with the outline on, which is nil where that is not known.
// It returns nothing, and marks the
// thing as spoilt, where that cannot be made out.
func (r *reader) place(m yamlfile.Map, noun string, on plane.Ring) (ring plane.Ring, round bool) {
	for _, way := range ways {
		if way.key != "" && !m.Get(way.key).Given() {
			continue
		}
		with := strings.Fields(way.key + " " + way.with)
		if !alone(m, with) {
			break
		}
		ring = r.shape(m, way.key, noun, on)
		round = way.key == "diameter"
		break
	}
	if ring == nil {
		r.file.Spoil(m.Field())
	}
	return ring.CounterClockwise(), round
}

// alone complains of keys of place that do not go with the others, and reports whether there are
// none.
func alone(m yamlfile.Map, with []string) bool {
	good := true
	for _, key := range placeKeys {
		v := m.Get(key)
		if !v.Given() || contains(with, key) {
			continue
		}
		v.Fault("does not go with "+with[0], "say where it is in one way: left, bottom, width and height; centre, width and height; centre and diameter; points; or path and width")
		good = false
	}
	return good
}

// shape reads a place that is said in the way of the given key.
func (r *reader) shape(m yamlfile.Map, key, noun string, on plane.Ring) plane.Ring {
	get := func(key string) yamlfile.Value { return m.Get(key).Need("give the " + key + " of the " + noun) }
	where := func(key string) (float64, bool) {
		return get(key).Length("a place", r.units, -MaxLength, MaxLength)
	}
	switch key {
	case "points":
		return r.points(m.Get(key), MaxCorners, -MaxLength, MaxLength)
	case "path":
		return r.along(m.Get(key), r.size(get("width"), "a width"), on)
	case "diameter":
		d := r.size(m.Get(key), "a diameter")
		centre, ok := r.point(get("centre"), -MaxLength, MaxLength)
		if d == 0 || !ok {
			return nil
		}
		ring := outline.Ellipse{Width: d, Height: d}.Ring(outline.Tolerance, MaxCorners/2)
		return ring.Map(func(p plane.Point) plane.Point { return p.Add(centre) })
	}
	w, h := r.size(get("width"), "a width"), r.size(get("height"), "a height")
	var corner plane.Point
	var ok, ok2 bool
	if key == "centre" {
		corner, ok = r.point(m.Get(key), -MaxLength, MaxLength)
		corner, ok2 = corner.Sub(plane.Point{X: w / 2, Y: h / 2}), true
	} else {
		corner.X, ok = where("left")
		corner.Y, ok2 = where("bottom")
	}
	if w == 0 || h == 0 || !ok || !ok2 {
		return nil
	}
	return plane.Rectangle(corner, w, h)
}

// along reads the path of a cable or pipe and returns the band of the given width along it, as far
// as it lies on the wall.
func (r *reader) along(v yamlfile.Value, width float64, on plane.Ring) plane.Ring {
	path := r.points(v, maxPath, -MaxLength, MaxLength)
	if width == 0 || path == nil {
		return nil
	}
	if len(path) < 2 {
		v.Fault("has one point", "give at least two")
		return nil
	}
	band, err := bandAlong(path, width)
	if err == nil && on != nil && onIt(path, on) {
		band, err = band.Intersection(plane.RegionOf(on))
	}
	if err != nil || band.Empty() {
		v.Fault("has no length", "give points that lie apart")
		return nil
	}
	return largest(band)
}

// bandAlong returns everything within half of width beside the path; the ends are cut square.
func bandAlong(path plane.Ring, width float64) (plane.Region, error) {
	var parts []plane.Region
	for i, a := range path[:len(path)-1] {
		b := path[i+1]
		if a == b {
			continue
		}
		side := b.Sub(a).Scale(width / 2 / a.Distance(b))
		side = plane.Point{X: -side.Y, Y: side.X}
		parts = append(parts, plane.RegionOf(plane.Ring{a.Sub(side), b.Sub(side), b.Add(side), a.Add(side)}))
		if i > 0 {
			parts = append(parts, plane.RegionOf(plane.Ellipse(a, width/2, width/2, 24)))
		}
	}
	return plane.Union(parts...)
}

// onIt reports whether every point of the path lies on the wall or on its edge.
func onIt(path, on plane.Ring) bool {
	region := plane.RegionOf(on)
	for _, p := range path {
		if region.Distance(p) < -0.01 {
			return false
		}
	}
	return true
}

// largest returns the outer boundary of the largest part of r.
func largest(r plane.Region) plane.Ring {
	var ring plane.Ring
	for _, p := range r.Polygons() {
		if ring == nil || p.Outer.Area() > ring.Area() {
			ring = p.Outer
		}
	}
	return ring
}

func contains(list []string, word string) bool {
	for _, w := range list {
		if w == word {
			return true
		}
	}
	return false
}

// texts returns the words of a choice.
func texts[T ~string](choices []T) []string {
	out := make([]string, len(choices))
	for i, c := range choices {
		out[i] = string(c)
	}
	return out
}

func joined[T ~string](choices []T) string { return strings.Join(texts(choices), ", ") }
