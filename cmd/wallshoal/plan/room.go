package plan

import (
	"fmt"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// RoomSection is the plan's room.
//
//	datum:   height above the floor of the level line that holes are set out from; 1500 mm if left out
//	margin:  pieces keep this far from the edges of every wall; 50 mm if left out
//	holes:   with edge, how far holes keep from the edges of every wall's faces and from openings; 0
//	         if left out
//	walls:   a list, left to right as seen from inside the room, see WallSection; needed
//	ceiling: see CeilingSection; none if left out
type RoomSection = wall.Room

// WallSection is one wall of a room.
//
//	name:          as the sheets show it; each wall has its own; needed
//	length:        along the foot, and
//	height:        above the floor, for a wall that is a rectangle; or
//	outline:       a list of its corners, [x, y] from its left end and the floor
//	floor:         where the floor is not level: how high it is above or below the wall's zero at several
//	               places, [distance from the left end, height], from left to right; level if left out
//	surface:       plasterboard, plaster (on lath), brick, block, concrete, timber, tile, stone or glass; needed
//	thickness:     of the wall, from side to side; nothing is said of its other side by depth if left out
//	behind:        what lies on its other side: room, outside, wet room, plant room or unknown; not said if
//	               left out
//	far-side:      a list of what is known to be on its other side, see FarSideSection
//	turn:          to the next wall, in degrees: 90 an inside corner, -90 an outside corner, 0 straight
//	               on; 90 if left out
//	use:           false for a wall that takes no pieces and only holds its place in the room
//	margin:        in place of the room's
//	studs:         what is known of the studs behind it, see StudsSection
//	joints:        what is known of its joints, see JointsSection
//	holes:         in place of the room's
//	obstructions:  a list, see ObstructionSection
//	zones:         a list, see ZoneSection
//	photo:         a photo of it that its pieces are drawn over, see PhotoSection; none if left out
//	stands:        alone for a wall that is joined to no other, with a StandSection's keys beside it;
//	               joined, to the wall before it, if left out
type WallSection = wall.Wall

// StandSection is where a wall stands that is joined to no other: a screen, a panel of a fence.
//
//	at:         where its left end stands in plan, [x, y]: x along the first wall from its left end, y
//	            from that wall away from whoever looks at it, so below 0 in the room
//	angle:      with at, which way it runs: 0 as the first wall, 90 as one after an inside corner, in
//	            degrees; 0 if left out
//	gap:        in place of at, how far after the end of the wall before it, which turns as that wall
//	            says; 0 if left out
//	thickness:  0 if left out; nothing is behind it but the room
//	back:       true for a screen that carries pieces behind as well; false if left out
type StandSection = wall.Stand

// CeilingSection is the ceiling over a room that its walls close. It lies on their tops, and is
// seen facing the first wall with the head back: x runs the way that wall does, y away from it.
//
//	name:          as the sheets show it; Ceiling if left out
//	surface:       as a wall's; needed
//	thickness:     of what is over the room, and
//	behind:        what lies over it, as a wall's
//	far-side:      as a wall's
//	use:           false for a ceiling that takes no pieces
//	margin:        in place of the room's
//	studs:         the joists over it, see StudsSection
//	joints:        what is known of its joints, see JointsSection
//	holes:         in place of the room's
//	obstructions:  a list, see ObstructionSection; a beam's depth is how far it hangs down
//	zones:         a list, see ZoneSection
type CeilingSection = wall.Wall

const (
	defaultDatum  = 1500 // mm
	defaultMargin = 50   // mm
	defaultTurn   = 90   // degrees
	ceilingName   = "Ceiling"
)

// room reads the room and checks it.
func (r *reader) room(v yamlfile.Value) wall.Room {
	m, ok := v.Map("datum", "margin", "holes", "walls", "ceiling")
	if !ok {
		return wall.Room{}
	}
	room := wall.Room{Datum: r.length(m.Get("datum"), "the height of a datum", -MaxLength, MaxLength, defaultDatum)}
	usual := wall.Wall{
		Margin:   r.length(m.Get("margin"), "a margin", 0, MaxLength, defaultMargin),
		HoleEdge: r.holeEdge(m.Get("holes"), 0),
	}
	items, ok := m.Get("walls").Need("list at least one wall").List(MaxWalls, "a list of walls, each starting with a dash")
	for _, item := range items {
		room.Walls = append(room.Walls, r.wall(item, len(room.Walls), usual))
	}
	if v := m.Get("ceiling"); v.Given() {
		ceiling := r.ceiling(v, usual)
		room.Ceiling = &ceiling
	}
	if ok {
		r.judge(room.Check(r.units))
	}
	return room
}

// length reads a length from low to high mm, and takes the fallback where there is none.
func (r *reader) length(v yamlfile.Value, noun string, low, high, fallback float64) float64 {
	if mm, ok := v.Length(noun, r.units, low, high); ok {
		return mm
	}
	return fallback
}

// size reads a length above 0 of something that is measured; 0 where there is none or a wrong one.
func (r *reader) size(v yamlfile.Value, noun string) float64 {
	return r.length(v, noun, MinLength, MaxLength, 0)
}

// wall reads the wall with the given index, which is as usual says where it says nothing of its own.
func (r *reader) wall(v yamlfile.Value, index int, usual wall.Wall) wall.Wall {
	m, ok := v.Map(append([]string{"name", "length", "height", "outline", "floor", "surface", "turn", "use", "margin", "studs", "joints", "holes", "obstructions", "zones", "photo", "stands", "behind", "far-side"}, standKeys...)...)
	if !ok {
		r.file.Spoil(v.Field())
		return wall.Wall{}
	}
	w := wall.Wall{Turn: defaultTurn}
	w.Name, _ = m.Get("name").Need("give each wall a name").Text(maxTitle)
	w.Outline = r.wallOutline(m)
	if floor := m.Get("floor"); floor.Given() {
		w.Floor = r.points(floor, wall.MaxFloor, -MaxLength, MaxLength)
	}
	if turn, ok := m.Get("turn").Number("a turn between walls", -179.99, 179.99); ok {
		w.Turn = turn
	}
	w.Alone = r.stand(m)
	sound := w.Outline
	if _, bad := wall.CheckRing(sound, r.units); bad {
		sound = nil
	}
	r.surfaceOf(&w, m, usual, sound)
	if w.Alone == nil || r.file.Faulty(m.Get("stands").Field()) {
		r.beyond(&w, m, sound)
	} else {
		for _, key := range []string{"behind", "far-side"} {
			if v := m.Get(key); v.Given() {
				v.Fault("is only used with a wall that is joined", "remove it: behind a wall that stands alone lies the room itself")
			}
		}
	}
	r.photo(m.Get("photo"), index, sound)
	return w
}

// ceiling reads a ceiling, which is as usual says where it says nothing of its own.
func (r *reader) ceiling(v yamlfile.Value, usual wall.Wall) wall.Wall {
	m, ok := v.Map("name", "surface", "use", "margin", "studs", "joints", "holes", "obstructions", "zones", "thickness", "behind", "far-side")
	if !ok {
		r.file.Spoil(v.Field())
		return wall.Wall{}
	}
	w := wall.Wall{Name: ceilingName}
	if name, ok := m.Get("name").Text(maxTitle); ok {
		w.Name = name
	}
	r.surfaceOf(&w, m, usual, nil)
	r.beyond(&w, m, nil)
	return w
}

// surfaceOf reads what a wall and a ceiling have alike: what it is made of, whether it takes pieces
// and what is on it.
func (r *reader) surfaceOf(w *wall.Wall, m yamlfile.Map, usual wall.Wall, sound plane.Ring) {
	surface, _ := m.Get("surface").Need("write one of "+joined(wall.Surfaces())).ChoiceMeant("a surface", surfaceWords(), texts(wall.Surfaces())...)
	w.Surface = wall.Surface(surface)
	w.Margin = r.length(m.Get("margin"), "a margin", 0, MaxLength, usual.Margin)
	w.Studs, w.Joints = r.studs(m.Get("studs")), r.joints(m.Get("joints"), w.Surface)
	w.HoleEdge = r.holeEdge(m.Get("holes"), usual.HoleEdge)
	if use, ok := m.Get("use").Bool(); ok {
		w.Bare = !use
	}
	items, _ := m.Get("obstructions").List(MaxObstructions, "a list of obstructions, each starting with a dash")
	for _, item := range items {
		w.Obstructions = append(w.Obstructions, r.obstruction(item, sound))
	}
	items, _ = m.Get("zones").List(MaxZones, "a list of zones, each starting with a dash")
	for _, item := range items {
		w.Marked = append(w.Marked, r.zone(item, sound))
	}
}

// standKeys go with stands: alone.
var standKeys = []string{"at", "angle", "gap", "thickness", "back"}

// stand reads how a wall stands that stands alone; nil for one that is joined.
func (r *reader) stand(m yamlfile.Map) *wall.Stand {
	how, _ := m.Get("stands").Choice("a way to stand", "joined", "alone")
	if how != "alone" {
		for _, key := range standKeys {
			if v := m.Get(key); key != "thickness" && v.Given() && !r.file.Faulty(m.Get("stands").Field()) {
				v.Fault("is only used with stands: alone", "write stands: alone, or remove it")
			}
		}
		return nil
	}
	var s wall.Stand
	if at := m.Get("at"); at.Given() {
		if p, ok := r.point(at, -MaxLength, MaxLength); ok {
			s.At = &p
		}
		if gap := m.Get("gap"); gap.Given() {
			gap.Fault("stands beside at", "keep one of them")
		}
	} else if angle := m.Get("angle"); angle.Given() {
		angle.Fault("is only used with at", "give the turn of the wall before it, or say where the wall stands with at")
	}
	if angle, ok := m.Get("angle").Number("an angle", -360, 360); ok {
		s.Angle = angle
	}
	s.Gap = r.length(m.Get("gap"), "a gap", 0, MaxLength, 0)
	s.Thickness = r.length(m.Get("thickness"), "a thickness", 0, wall.MaxDepth, 0)
	s.Back, _ = m.Get("back").Bool()
	return &s
}

// wallOutline reads a wall's length and height, or its outline.
func (r *reader) wallOutline(m yamlfile.Map) plane.Ring {
	given := m.Get("outline")
	if given.Given() {
		for _, key := range []string{"length", "height"} {
			if v := m.Get(key); v.Given() {
				v.Fault("stands beside an outline, which says it already", "remove it, or remove the outline")
			}
		}
		return r.corners(given, -MaxLength, MaxLength).CounterClockwise()
	}
	const fix = "give length and height, or an outline of corners"
	length := r.size(m.Get("length").Need(fix), "a length")
	height := r.size(m.Get("height").Need(fix), "a height")
	if length == 0 || height == 0 {
		r.file.Spoil(given.Field())
		return nil
	}
	return plane.Rectangle(plane.Point{}, length, height)
}

// corners reads the corners of an outline: a list of pairs, or a map that holds one as points.
func (r *reader) corners(v yamlfile.Value, low, high float64) plane.Ring {
	list := v
	if v.IsMap() {
		m, ok := v.Map("points")
		if !ok {
			return nil
		}
		list = m.Get("points").Need("list the corners, like [[0, 0], [2400, 0], [2400, 1800]]")
	}
	return r.points(list, MaxCorners, low, high)
}

// points reads a list of points, and returns none unless all are good.
func (r *reader) points(v yamlfile.Value, max int, low, high float64) plane.Ring {
	items, _ := v.List(max, "a list of points, like [[0, 0], [2400, 0], [2400, 1800]]")
	ring := make(plane.Ring, 0, len(items))
	for _, item := range items {
		if p, ok := r.point(item, low, high); ok {
			ring = append(ring, p)
		}
	}
	if len(ring) < len(items) || len(ring) == 0 {
		r.file.Spoil(v.Field())
		return nil
	}
	return ring
}

// point reads a pair of coordinates from low to high mm.
func (r *reader) point(v yamlfile.Value, low, high float64) (plane.Point, bool) {
	at, ok := r.coordinates(v, 2, low, high)
	if !ok {
		return plane.Point{}, false
	}
	return plane.Point{X: at[0], Y: at[1]}, true
}

func (r *reader) coordinates(v yamlfile.Value, n int, low, high float64) ([]float64, bool) {
	example := "like [400, 1200]"
	if n == 3 {
		example = "like [400, 1200, 1500]"
	}
	items, ok := v.List(MaxCorners, fmt.Sprintf("%d lengths, %s", n, example))
	if !ok {
		return nil, false
	}
	if len(items) != n {
		fix := fmt.Sprintf("write %d, %s", n, example)
		if len(items) > n {
			fix += ", with a point before decimals, like 52.5"
		}
		v.Fault(fmt.Sprintf("has %d lengths", len(items)), fix)
		return nil, false
	}
	at := make([]float64, n)
	for i, item := range items {
		mm, good := item.Length("a coordinate", r.units, low, high)
		at[i], ok = mm, ok && good
	}
	return at, ok
}
