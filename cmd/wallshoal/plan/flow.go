package plan

import (
	"fmt"
	"math"
	"strings"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter/flow"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// CurrentSection is one current of the flow: one of
//
//	toward:   a place, see PlaceSection
//	away:     a place
//	sweep:    one way on every face as it is looked at, in degrees clockwise from straight up
//	sweep:    {wall: its name, heading: degrees}    one way through the room: as that heading is there
//	sweep:    {plan: degrees, rise: degrees}        one way through the room: clockwise seen from above,
//	                                                0 straight at the first wall and 90 along it to the
//	                                                right; and up from level, 0 if left out
//	swirl:    a place on a wall or a face, to run round there as it is looked at
//	swirl:    {room: [x, y, z], axis: [x, y, z]}    round an axis that points at whoever looks on; up if
//	                                                left out
//	along:    {wall: its name, points: [[x, y], ...]}, {room: [[x, y, z], ...]}, or a list of these that
//	          are parts of one path
//	meander:  {size: length, seed: number}    bends of that size; another seed gives others, 1 if left out
//
// A sweep, a swirl and an along on a wall can name one of its faces as a place can, and a swirl has
// a turn, clockwise or anticlockwise; clockwise if left out. With all of them
//
//	strength:  against the other currents; 1 if left out
//
// and with toward, away, swirl and along
//
//	reach:     the distance at which it is half as strong; 500 mm for along if left out, and for the
//	           others as strong everywhere
type CurrentSection = flow.Current

// PlaceSection is a place on a wall or in the room.
//
//	{wall: its name, at: [x, y]}                from the wall's left end and the floor
//	{wall: its name, face: a face of what stands on it, at: [x, y]}
//	                                            from the bottom-left corner of that face
//	{wall: the ceiling's name, at: [x, y]}      from the bottom-left corner of the ceiling as it is drawn
//	{room: [x, y, z]}                           x along the first wall from its left end, y from it away
//	                                            from the viewer, z up
type PlaceSection = space.Vec

const (
	defaultSweep = 90  // degrees clockwise from straight up
	defaultReach = 500 // of a path, mm
	maxAxis      = 1e6 // of a direction's parts
)

var currentKeys = []string{"toward", "away", "sweep", "swirl", "along", "meander"}

// A stage is where the currents of a plan run and its pieces gather: the room, surveyed as far as it
// is asked for.
type stage struct {
	*reader
	room  wall.Room
	sites map[bool]wall.Site // with what stands on the walls, and without
}

// stage returns the room for currents to run in.
func (r *reader) stage(room wall.Room) *stage { return &stage{r, room, map[bool]wall.Site{}} }

func (s *stage) flow(v yamlfile.Value) flow.Field {
	if !v.Given() {
		return flow.Field{flow.Sweep{Angle: heading.Bearing(defaultSweep).Angle(), Strength: 1}}
	}
	items, ok := v.List(MaxCurrents, "a list of currents, each starting with a dash")
	if ok && len(items) == 0 {
		v.Fault("has no current", "list one, or remove the line for a sweep to the right")
	}
	field := make(flow.Field, 0, len(items))
	for _, item := range items {
		if c := s.current(item); c != nil {
			field = append(field, c)
		}
	}
	return field
}

func (s *stage) current(v yamlfile.Value) flow.Current {
	m, ok := v.Map(append([]string{"strength", "reach"}, currentKeys...)...)
	if !ok {
		return nil
	}
	strength := 1.0
	if given, ok := m.Get("strength").Number("a strength", minCurrent, maxCurrent); ok {
		strength = given
	}
	kind := s.kindOf(m)
	reach := s.reach(m.Get("reach"), kind)
	switch what := m.Get(kind); kind {
	case "toward":
		if at, _, ok := s.place(what); ok {
			return flow.Toward{Point: at, Reach: reach, Strength: strength}
		}
	case "away":
		if at, _, ok := s.place(what); ok {
			return flow.Away{Point: at, Reach: reach, Strength: strength}
		}
	case "sweep":
		return s.sweep(what, strength)
	case "swirl":
		if at, axis, ok := s.place(what, "turn", "axis"); ok {
			return flow.Swirl{Centre: at, Axis: axis, Reach: reach, Strength: strength}
		}
	case "along":
		if path, ok := s.path(what); ok {
			return flow.Along{Path: path, Reach: reach, Strength: strength}
		}
	case "meander":
		return s.meander(what, strength)
	}
	return nil
}

// kindOf returns the key that says which current m is, and complains unless there is one.
func (s *stage) kindOf(m yamlfile.Map) string {
	return s.only(m, currentKeys, "make it a current of its own, with a dash before it", "names no current")
}

// only returns the one of the kinds that is a key of m. It complains of further ones with the fix,
// and with the word none where there is none.
func (s *stage) only(m yamlfile.Map, kinds []string, fix, none string) string {
	first := ""
	for _, key := range m.Keys() {
		switch {
		case !contains(kinds, key):
		case first == "":
			first = key
		default:
			m.Get(key).Fault("stands beside "+first, fix)
		}
	}
	if first == "" && !s.file.Faulty(m.Field()) {
		m.Fault(none, "give one of "+strings.Join(kinds, ", "))
	}
	return first
}

func (s *stage) reach(v yamlfile.Value, kind string) float64 {
	usual := 0.0
	switch kind {
	case "along":
		usual = defaultReach
	case "sweep", "meander":
		if v.Given() {
			v.Fault("is not used with "+kind, "remove it; toward, away, swirl and along have a reach")
		}
		return 0
	}
	return s.length(v, "a reach", MinLength, MaxLength, usual)
}

// sweep reads a heading on every face, or one way through the room.
func (s *stage) sweep(v yamlfile.Value, strength float64) flow.Current {
	const noun = "a heading in degrees clockwise from straight up"
	if !v.IsMap() {
		if b, ok := v.Number(noun, 0, 360); ok {
			return flow.Sweep{Angle: angleOf(b), Strength: strength}
		}
		return nil
	}
	m, ok := v.Map("wall", "face", "heading", "plan", "rise")
	if !ok {
		return nil
	}
	if m.Get("plan").Given() || m.Get("rise").Given() && !m.Get("wall").Given() {
		beside(m, "plan", "give plan and rise, or wall and heading", "wall", "face", "heading")
		way, ok := m.Get("plan").Need("give the direction seen from above, in degrees clockwise").Number("a direction in degrees clockwise seen from above", 0, 360)
		rise, ok2 := 0.0, true
		if m.Get("rise").Given() {
			rise, ok2 = m.Get("rise").Number("a rise in degrees", -90, 90)
		}
		if !ok || !ok2 {
			return nil
		}
		level := plane.Point{X: 1}.Rotate(angleOf(way))
		slope := plane.Point{X: 1}.Rotate(rise * math.Pi / 180)
		return flow.RoomSweep{Way: space.Vec{X: level.X * slope.X, Y: level.Y * slope.X, Z: slope.Y}, Strength: strength}
	}
	const fix = "name a wall and a heading on it, like {wall: Long wall, heading: 85}, or give plan and rise in degrees"
	beside(m, "wall", "give plan and rise, or wall and heading", "rise")
	on, ok := s.surface(m, fix)
	b, ok2 := m.Get("heading").Need(fix).Number(noun, 0, 360)
	if !ok || !ok2 {
		return nil
	}
	way := plane.Point{X: 1}.Rotate(angleOf(b))
	return flow.RoomSweep{Way: on.frame.Right.Scale(way.X).Add(on.frame.Up.Scale(way.Y)), Strength: strength}
}

// angleOf returns the angle of a heading from 0 to 360.
func angleOf(bearing float64) float64 { return heading.Bearing(math.Mod(bearing, 360)).Angle() }

// beside complains of keys that do not go with the first.
func beside(m yamlfile.Map, first, fix string, keys ...string) {
	for _, key := range keys {
		if other := m.Get(key); other.Given() {
			other.Fault("stands beside "+first, fix)
		}
	}
}

// place reads a place. The axis points off the face that the place is on, and up for a place in
// the room, unless axis and turn are among the further keys and say otherwise.
func (s *stage) place(v yamlfile.Value, further ...string) (at, axis space.Vec, ok bool) {
	m, ok := v.Map(append([]string{"wall", "face", "at", "room"}, further...)...)
	if !ok {
		return at, axis, false
	}
	if given := m.Get("room"); given.Given() {
		beside(m, "room", "give wall and at, or room alone", "wall", "face", "at")
		at, ok = s.roomPoint(given)
		axis = space.Vec{Z: 1}
		if a := m.Get("axis"); a.Given() {
			var good bool
			axis, good = s.axis(a)
			ok = ok && good
		}
	} else {
		const fix = "name a wall and a place on it, like {wall: Long wall, at: [2100, 1450]}"
		beside(m, "wall", "the axis stands square to the wall; give it with room alone", "axis")
		var frame space.Frame
		at, frame, ok = s.onWall(m, fix)
		axis = frame.Out
	}
	if contains(further, "turn") {
		const clockwise, anticlockwise = "clockwise", "anticlockwise"
		if turn, given := m.Get("turn").Choice("a turn", clockwise, anticlockwise); !given || turn == clockwise {
			axis = axis.Scale(-1)
		}
	}
	return at, axis, ok
}

// onWall reads the place at on a wall or a face of it, and returns it in the room.
func (s *stage) onWall(m yamlfile.Map, fix string) (space.Vec, space.Frame, bool) {
	on, ok := s.surface(m, fix)
	at, good := s.point(m.Get("at").Need(fix), -MaxLength, MaxLength)
	good = good && s.lies(m.Get("at"), at, on)
	return on.frame.At(at), on.frame, ok && good
}

// roomPoint reads a point of the room.
func (s *stage) roomPoint(v yamlfile.Value) (space.Vec, bool) {
	at, ok := s.coordinates(v, 3, -MaxLength, MaxLength)
	if !ok {
		return space.Vec{}, false
	}
	return space.Vec{X: at[0], Y: at[1], Z: at[2]}, true
}

// axis reads a direction.
func (s *stage) axis(v yamlfile.Value) (space.Vec, bool) {
	const fix = "write three numbers, like [0, 0, 1] for one that points up"
	items, ok := v.List(MaxCorners, "three numbers, like [0, 0, 1] for one that points up")
	if !ok {
		return space.Vec{}, false
	}
	var parts [3]float64
	if len(items) != len(parts) {
		v.Fault("is not three numbers", fix)
		return space.Vec{}, false
	}
	for i, item := range items {
		n, good := item.Number("a part of a direction", -maxAxis, maxAxis)
		parts[i], ok = n, ok && good
	}
	axis := space.Vec{X: parts[0], Y: parts[1], Z: parts[2]}
	if ok && axis.Len() == 0 {
		v.Fault("points nowhere", fix)
	}
	return axis, ok && axis.Len() > 0
}

// path reads a path that is drawn on one or several faces.
func (s *stage) path(v yamlfile.Value) ([]space.Vec, bool) {
	const (
		drawing = "a path on a wall, like {wall: Long wall, points: [[400, 1200], [2400, 1500]]}"
		fix     = "draw " + drawing
	)
	parts := []yamlfile.Value{v}
	if !v.IsMap() {
		var ok bool
		if parts, ok = v.List(maxDrawn, drawing); !ok {
			return nil, false
		}
	}
	var path []space.Vec
	good := true
	for _, part := range parts {
		points, ok := s.stretch(part, fix)
		path, good = append(path, points...), good && ok
	}
	switch {
	case !good:
	case len(path) > maxDrawn:
		v.Fault(fmt.Sprintf("has %d points", len(path)), fmt.Sprintf("draw the path with at most %d", maxDrawn))
	case still(path):
		v.Fault("has no length", "give at least two points that lie apart")
	default:
		return path, true
	}
	return nil, false
}

// still reports whether a path goes nowhere.
func still(path []space.Vec) bool {
	for _, p := range path {
		if p != path[0] {
			return false
		}
	}
	return true
}

// stretch reads the part of a path that is drawn on one face or through the room.
func (s *stage) stretch(v yamlfile.Value, fix string) ([]space.Vec, bool) {
	m, ok := v.Map("wall", "face", "points", "room")
	if !ok {
		return nil, false
	}
	var path []space.Vec
	if given := m.Get("room"); given.Given() {
		beside(m, "room", "give wall and points, or room alone", "wall", "face", "points")
		items, ok := given.List(maxDrawn, "a list of points, like [[400, 0, 1200], [2400, -300, 1500]]")
		for _, item := range items {
			p, good := s.roomPoint(item)
			path, ok = append(path, p), ok && good
		}
		return path, ok
	}
	on, ok := s.surface(m, fix)
	items, ok2 := m.Get("points").Need(fix).List(maxDrawn, "a list of points, like [[400, 1200], [2400, 1500]]")
	ok = ok && ok2
	for _, item := range items {
		p, good := s.point(item, -MaxLength, MaxLength)
		ok = good && s.lies(item, p, on) && ok
		path = append(path, on.frame.At(p))
	}
	return path, ok
}

func (s *stage) meander(v yamlfile.Value, strength float64) flow.Current {
	m, ok := v.Map("size", "seed")
	if !ok {
		return nil
	}
	size := s.size(m.Get("size").Need("give the size of its bends, like {size: 900}"), "a size")
	seed := uint64(1)
	if given, ok := m.Get("seed").Seed(); ok {
		seed = given
	}
	if size == 0 {
		return nil
	}
	return flow.NewMeander(size, seed, strength)
}
