package plan

import (
	"fmt"
	"math"
	"strings"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/scatter/flow"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// CompositionSection is what the artist asks for.
//
//	count:    pieces in all; needed, unless every kind of piece has a count
//	spacing:  least distance between the centres of two pieces, measured in the room; needed
//	gap:      least distance between the outlines of two pieces; 5 mm if left out
//	spread:   how far headings stray from the flow, in degrees; 12 if left out
//	flow:     a list of currents that are added up, see CurrentSection; a sweep to the right if left
//	          out
type CompositionSection = scatter.Composition

// CurrentSection is one current of the flow: one of
//
//	toward: {wall: its name, at: [x, y]}    to a place on a wall, from its left end and the floor
//	toward: {room: [x, y, z]}               to a place in the room: x along the first wall from its
//	                                        left end, y from it away from the viewer, z up
//	sweep:                                  one way on every wall, in degrees clockwise from straight up
//
// with
//
//	strength:  against the other currents; 1 if left out
type CurrentSection = flow.Current

const (
	defaultGap    = 5  // mm
	defaultSpread = 12 // degrees
	defaultSweep  = 90 // degrees clockwise from straight up
)

// composition reads what is asked for and checks it against the room and the kinds.
func (r *reader) composition(v yamlfile.Value, room wall.Room, kinds []scatter.Kind) scatter.Composition {
	m, ok := v.Map("count", "spacing", "gap", "spread", "flow")
	if !ok {
		return scatter.Composition{}
	}
	c := scatter.Composition{Spread: defaultSpread}
	c.Count = r.count(m.Get("count"), kinds)
	c.Spacing = r.size(m.Get("spacing").Need("give the least distance between the centres of two pieces"), "a spacing")
	c.Gap = r.length(m.Get("gap"), "a gap", 0, MaxLength, defaultGap)
	if spread, ok := m.Get("spread").Number("a spread of headings", 0, scatter.MaxSpread); ok {
		c.Spread = spread
	}
	c.Flow = r.flow(m.Get("flow"), room)
	if r.file.Faulty("pieces") {
		kinds = nil
	}
	r.judge(c.Check(kinds, r.units))
	return c
}

// count reads the number of pieces, which kinds that all have a count give as well.
func (r *reader) count(v yamlfile.Value, kinds []scatter.Kind) int {
	sum, all := 0, len(kinds) > 0
	for _, k := range kinds {
		sum += k.Count
		all = all && k.Count > 0
	}
	if !v.Given() && all {
		return sum
	}
	n, _ := v.Need("say how many pieces there are to be").Whole("a number of pieces", 1, MaxPieces)
	return n
}

func (r *reader) flow(v yamlfile.Value, room wall.Room) flow.Field {
	if !v.Given() {
		return flow.Field{flow.Sweep{Angle: heading.Bearing(defaultSweep).Angle(), Strength: 1}}
	}
	items, ok := v.List(MaxCurrents, "a list of currents, each starting with a dash")
	if ok && len(items) == 0 {
		v.Fault("has no current", "list one, or remove the line for a sweep to the right")
	}
	field := make(flow.Field, 0, len(items))
	for _, item := range items {
		if c := r.current(item, room); c != nil {
			field = append(field, c)
		}
	}
	return field
}

func (r *reader) current(v yamlfile.Value, room wall.Room) flow.Current {
	m, ok := v.Map("toward", "sweep", "strength")
	if !ok {
		return nil
	}
	strength := 1.0
	if s, ok := m.Get("strength").Number("a strength", minCurrent, maxCurrent); ok {
		strength = s
	}
	toward, sweep := m.Get("toward"), m.Get("sweep")
	switch {
	case toward.Given() && sweep.Given():
		sweep.Fault("stands beside toward", "make it a current of its own, with a dash before it")
	case toward.Given():
		if to, ok := r.toward(toward, room); ok {
			return flow.Toward{Point: to, Strength: strength}
		}
	case sweep.Given():
		if b, ok := sweep.Number("a heading in degrees clockwise from straight up", 0, 360); ok {
			return flow.Sweep{Angle: heading.Bearing(math.Mod(b, 360)).Angle(), Strength: strength}
		}
	default:
		if !r.file.Faulty(v.Field()) {
			v.Fault("names no current", "give toward or sweep")
		}
	}
	return nil
}

// toward reads the point that a current runs to and returns it in the room.
func (r *reader) toward(v yamlfile.Value, room wall.Room) (space.Vec, bool) {
	m, ok := v.Map("wall", "at", "room")
	if !ok {
		return space.Vec{}, false
	}
	if place := m.Get("room"); place.Given() {
		for _, key := range []string{"wall", "at"} {
			if other := m.Get(key); other.Given() {
				other.Fault("stands beside room", "give wall and at, or room alone")
			}
		}
		at, ok := r.coordinates(place, 3, -MaxLength, MaxLength)
		if !ok {
			return space.Vec{}, false
		}
		return space.Vec{X: at[0], Y: at[1], Z: at[2]}, true
	}
	const fix = "name a wall and a place on it, like {wall: Long wall, at: [2100, 1450]}"
	i, ok := r.wallNamed(m.Get("wall").Need(fix), room)
	at, ok2 := r.point(m.Get("at").Need(fix), -MaxLength, MaxLength)
	if !ok || !ok2 || !r.lies(m.Get("at"), at, room.Walls[i]) {
		return space.Vec{}, false
	}
	if r.file.Faulty("room") {
		return space.Vec{}, false // nobody knows yet where the walls stand
	}
	return r.inRoom(m, room, i, at)
}

// inRoom returns where in the room the point at of the wall with index i is.
func (r *reader) inRoom(m yamlfile.Map, room wall.Room, i int, at plane.Point) (space.Vec, bool) {
	bare := wall.Room{Datum: room.Datum}
	for _, w := range room.Walls { // what stands on the walls does not move them
		bare.Walls = append(bare.Walls, wall.Wall{Name: w.Name, Turn: w.Turn, Outline: w.Outline, Bare: true})
	}
	site, err := wall.Survey(bare)
	if err != nil {
		m.Fault(err.Error(), "correct the room")
		return space.Vec{}, false
	}
	face, ok := site.FaceByName(room.Walls[i].Name, wall.WallFace)
	if !ok {
		return space.Vec{}, false
	}
	return site.Faces[face].Frame.At(at), true
}

// wallNamed returns the index of the wall that v names.
func (r *reader) wallNamed(v yamlfile.Value, room wall.Room) (int, bool) {
	name, ok := v.Text(maxTitle)
	if !ok {
		return 0, false
	}
	names := make([]string, len(room.Walls))
	for i, w := range room.Walls {
		if names[i] = w.Name; wall.FoldName(w.Name) == wall.FoldName(name) {
			return i, true
		}
	}
	fix := "name one of the walls: " + strings.Join(names, ", ")
	if near := yamlfile.Nearest(name, names); near != "" {
		fix = "did you mean " + near + "?"
	}
	if len(names) > 0 && !contains(names, "") {
		v.Fault(yamlfile.Quote(name)+" is not the name of a wall", fix)
	}
	return 0, false
}

// lies complains of a point that is not on the wall.
func (r *reader) lies(v yamlfile.Value, at plane.Point, w wall.Wall) bool {
	if _, bad := wall.CheckRing(w.Outline, r.units); bad {
		return true // and complained of elsewhere
	}
	off := -plane.RegionOf(w.Outline).Distance(at)
	if off > 0.01 {
		v.Fault(fmt.Sprintf("the point lies %s off %s", r.show(off), w.Name), "measure it from the wall's left end and from the floor, or give a point in the room as room: [x, y, z]")
		return false
	}
	return true
}
