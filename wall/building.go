package wall

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A building is the room while its faces are being found: what is solid, what is let in, and every
// side that may make a face.
type building struct {
	room     Room
	frames   []space.Frame // of the walls
	ends     []ends
	surfaces [][]float64 // by wall and obstruction: how far off the wall is what the obstruction is on, mm
	solids   []body      // what stands out
	recesses []body
	air      *body // of a closed room, without what stands in it
	over     *body // what is above the ceiling
	drafts   []draft
	ruled    map[wallSide][]Zone // what the rules find for the front and for the back of each wall
}

// A wallSide is one of the two of a wall.
type wallSide struct {
	wall int
	back bool
}

// A draft is a face in the making.
type draft struct {
	cut
	wall, obstruction int // obstruction is -1 for the wall itself
	name              string
	used              bool
	limit             plane.Region // what the walls leave of the side
	outline           plane.Region // what can be seen of it
}

// lay sets up what there is in the room: the walls in order and the ceiling last.
func lay(room Room) (*building, error) {
	b := &building{room: room, frames: room.frames(), ruled: map[wallSide][]Zone{}}
	b.air = b.airBetween()
	if room.Ceiling != nil {
		if problem, found := b.addCeiling(); found {
			return nil, problem
		}
	}
	b.ends = b.room.ends()
	for i := range b.room.Walls {
		b.layWall(i)
	}
	return b, nil
}

// layWall sets up the wall with that index.
func (b *building) layWall(i int) {
	w := b.room.Walls[i]
	b.surfaces = append(b.surfaces, w.surfaces())
	b.drafts = append(b.drafts, draft{
		cut: cut{frame: b.frames[i], ring: w.Outline}, wall: i, obstruction: -1, name: WallFace, used: !w.Bare,
	})
	names := faceNames{strings.ToLower(WallFace): true, strings.ToLower(BackFace): true}
	for j, o := range w.Obstructions {
		if o.flat() || o.hidden() {
			continue
		}
		low, high := b.reach(i, j)
		solid := newBody(b.frames[i], o.Shape, low, high)
		solid.wall, solid.obstruction, solid.clearance = i, j, o.Clearance
		if o.Depth > 0 {
			b.solids = append(b.solids, solid)
		} else {
			b.recesses = append(b.recesses, solid)
		}
		words := Side.words
		if w.Ceiling {
			words = Side.overhead
		}
		for _, c := range o.cuts(b.frames[i], low, high) {
			b.drafts = append(b.drafts, draft{
				cut: c, wall: i, obstruction: j, name: names.add(o.Name + " " + words(c.side, o.Depth)), used: o.uses(c.side),
			})
		}
	}
	if w.Alone != nil {
		b.layBack(i)
	}
}

// layBack sets up what is behind the front of a wall that stands alone.
func (b *building) layBack(i int) {
	w, thick := b.room.Walls[i], b.room.Walls[i].Alone.Thickness
	if thick >= MinLength {
		solid := newBody(b.frames[i], w.Outline, -thick, 0)
		solid.wall = i
		b.solids = append(b.solids, solid)
	}
	if !w.Alone.Back {
		return
	}
	f := b.frames[i]
	back := space.Frame{
		Origin: f.Lift(plane.Point{X: w.length()}, -thick),
		Right:  unsigned(f.Right.Scale(-1)), Up: f.Up, Out: unsigned(f.Out.Scale(-1)),
	}
	mirrored := w.Outline.Map(func(p plane.Point) plane.Point { return plane.Point{X: w.length() - p.X, Y: p.Y} })
	b.drafts = append(b.drafts, draft{
		cut: cut{Back, back, mirrored.CounterClockwise()}, wall: i, obstruction: -1, name: BackFace, used: !w.Bare,
	})
}

// faceNames are the names that the faces of a wall have already.
type faceNames map[string]bool

// add returns the name, with a number after it where another face has it.
func (n faceNames) add(name string) string {
	free := name
	for i := 2; n[strings.ToLower(free)]; i++ {
		free = fmt.Sprintf("%s %d", name, i)
	}
	n[strings.ToLower(free)] = true
	return free
}

// reach returns from where to where, in mm off its wall, an obstruction with a depth reaches. What
// stands out is always measured from the wall; what is let in, from the surface that it is let
// into.
func (b *building) reach(wall, obstruction int) (low, high float64) {
	o := b.room.Walls[wall].Obstructions[obstruction]
	if o.Depth > 0 {
		return 0, o.Depth
	}
	high = b.surfaces[wall][obstruction]
	return math.Max(high+o.Depth, b.behind(wall)), high
}

// behind returns where the back of a wall is, in mm off its front: as far away as may be where
// nobody knows.
func (b *building) behind(wall int) float64 {
	if s := b.room.Walls[wall].Alone; s != nil && s.Thickness >= MinLength {
		return -s.Thickness
	}
	return math.Inf(-1)
}

// surfaces returns how far off the wall, in mm, lies the surface that each obstruction is on: the
// front of the foremost thing that it stands wholly before, or the back of a recess that it lies
// wholly in; 0 where it is on the wall itself.
func (w Wall) surfaces() []float64 {
	z := make([]float64, len(w.Obstructions))
	regions := make([]plane.Region, len(w.Obstructions))
	for i, o := range w.Obstructions {
		if !o.flat() && !o.hidden() {
			regions[i] = plane.RegionOf(o.Shape)
		}
	}
	on := func(i int, depths func(o Obstruction) bool, found func(j int)) {
		for j, o := range w.Obstructions {
			if j != i && !regions[j].Empty() && depths(o) && regions[j].Holds(w.Obstructions[i].Shape) {
				found(j)
			}
		}
	}
	for i := range w.Obstructions {
		on(i, func(o Obstruction) bool { return o.Depth > 0 }, func(j int) { z[i] = math.Max(z[i], w.Obstructions[j].Depth) })
	}
	fronts := slices.Clone(z) // what recesses are let into
	for i, own := range w.Obstructions {
		if !own.flat() {
			continue
		}
		deepest := math.Inf(1)
		on(i, func(o Obstruction) bool { return o.Depth < 0 }, func(j int) {
			if fronts[j] >= fronts[i] {
				deepest = math.Min(deepest, fronts[j]+w.Obstructions[j].Depth)
			}
		})
		if !math.IsInf(deepest, 1) {
			z[i] = deepest
		}
	}
	return z
}

// airBetween returns the air between the walls of a closed room, however high; nil for any other.
func (b *building) airBetween() *body {
	if !b.room.closed() {
		return nil
	}
	row := b.room.joined()
	ring := make(plane.Ring, len(row))
	for n, i := range row {
		ring[n] = plane.Point{X: b.frames[i].Origin.X, Y: b.frames[i].Origin.Y}
	}
	ring = ring.CounterClockwise()
	if _, _, crosses := ring.Crossing(); crosses {
		return nil
	}
	level := space.Frame{Right: space.Vec{X: 1}, Up: space.Vec{Y: 1}, Out: space.Vec{Z: 1}}
	air := newBody(level, ring, -MaxLength, 2*MaxLength)
	return &air
}

// see finds what can be seen of every side.
func (b *building) see() error {
	for i := range b.drafts {
		d := &b.drafts[i]
		var err error
		if d.limit, err = b.limit(*d); err == nil {
			d.outline, err = b.uncovered(*d)
		}
		if err != nil {
			return fmt.Errorf("wall %q: %s: %w", b.room.Walls[d.wall].Name, d.name, err)
		}
	}
	return b.shareOut()
}

// limit returns what of a side is not in the walls, the floor or the ceiling.
func (b *building) limit(d draft) (plane.Region, error) {
	whole := plane.RegionOf(d.ring)
	if d.obstruction < 0 {
		return plane.NewRegion(plane.Polygon{Outer: d.ring})
	}
	w := b.room.Walls[d.wall]
	if w.Obstructions[d.obstruction].Depth < 0 {
		held, err := b.held(d, whole)
		if err != nil || held.Empty() {
			return held, err
		}
		return b.open(d, held)
	}
	if d.side != Front {
		over, err := b.overWall(d)
		if err == nil {
			whole, err = whole.Intersection(over)
		}
		if err != nil || whole.Empty() {
			return whole, err
		}
	}
	if b.over != nil {
		above, err := b.over.slice(d.frame, before)
		if err == nil {
			whole, err = whole.Difference(above)
		}
		if err != nil {
			return plane.Region{}, err
		}
	}
	if b.air != nil && w.Alone == nil {
		inside, err := b.air.slice(d.frame, before)
		if err != nil {
			return plane.Region{}, err
		}
		return whole.Intersection(inside)
	}
	return b.beforeNeighbours(d, whole)
}

// held returns what of a side of a recess has something behind it. Nothing may be there where the
// recess goes right through, or along the edges of what it is let into; and at the foot of a wall a
// sill is the floor.
func (b *building) held(d draft, whole plane.Region) (plane.Region, error) {
	low, high := b.reach(d.wall, d.obstruction)
	if d.side == Back && low <= b.behind(d.wall)+flush {
		return plane.Region{}, nil
	}
	wall := b.room.Walls[d.wall].Outline
	if d.side != Sill { // beside and above a wall there are others
		box := wall.Bounds().Grow(1)
		wall = plane.Rectangle(box.Min, box.Width(), box.Height())
	}
	within := []body{newBody(b.frames[d.wall], wall, math.Min(low, 0)-1, 0)}
	if high > flush {
		for _, s := range b.solids {
			if s.box.touches(d.box()) {
				within = append(within, s)
			}
		}
	}
	var behindIt []plane.Region
	for _, s := range within {
		met, err := s.slice(d.frame, behind)
		if err != nil {
			return plane.Region{}, err
		}
		behindIt = append(behindIt, met)
	}
	all, err := plane.Union(behindIt...)
	if err != nil {
		return plane.Region{}, err
	}
	return whole.Intersection(all)
}

// open returns the whole of a side of a recess, or nothing where something that stands before the
// recess closes all of its mouth.
func (b *building) open(d draft, whole plane.Region) (plane.Region, error) {
	o := b.room.Walls[d.wall].Obstructions[d.obstruction]
	mouth := b.frames[d.wall]
	mouth.Origin = mouth.Lift(plane.Point{}, b.surfaces[d.wall][d.obstruction])
	var closed []plane.Region
	for _, s := range b.solids {
		if s.wall != d.wall {
			continue
		}
		met, err := s.slice(mouth, before)
		if err != nil {
			return plane.Region{}, err
		}
		closed = append(closed, met)
	}
	left, err := plane.RegionOf(o.Shape).Difference(closed...)
	if err != nil || left.Empty() {
		return plane.Region{}, err
	}
	return whole, nil
}

// overWall returns where the side of something looks out over the wall that it stands on. At a
// foot it looks into the floor, at the top of a wall into the ceiling, unless the wall stands alone.
// Beyond the two ends of the wall it is for others to say what it looks into.
func (b *building) overWall(d draft) (plane.Region, error) {
	w := b.room.Walls[d.wall]
	box := w.Outline.Bounds()
	rings := []plane.Ring{
		w.Outline,
		plane.Rectangle(plane.Point{X: box.Min.X - 1, Y: box.Min.Y}, 1, box.Height()),
		plane.Rectangle(plane.Point{X: box.Max.X, Y: box.Min.Y}, 1, box.Height()),
	}
	if w.Alone != nil { // nothing is over it but the sky
		rings = []plane.Ring{plane.Rectangle(plane.Point{X: box.Min.X - 1, Y: box.Min.Y}, box.Width()+2, box.Height()+1)}
	}
	var over []plane.Region
	for _, ring := range rings {
		met, err := newBody(b.frames[d.wall], ring, -1, MaxDepth+1).slice(d.frame, before)
		if err != nil {
			return plane.Region{}, err
		}
		over = append(over, met)
	}
	return plane.Union(over...)
}

// beforeNeighbours returns what of a side is not inside the walls next to its own, in a room that
// is not closed. Nobody knows how thick those are: they are taken to be as thick as the side is
// off its wall, which is as far as it can reach into them at an inside corner.
func (b *building) beforeNeighbours(d draft, whole plane.Region) (plane.Region, error) {
	thick := b.room.Walls[d.wall].Obstructions[d.obstruction].Depth
	var away []plane.Region
	for _, next := range b.neighbours(d.wall) {
		met, err := newBody(b.frames[next], b.room.Walls[next].Outline, -thick-1, 0).slice(d.frame, before)
		if err != nil {
			return plane.Region{}, err
		}
		away = append(away, met)
	}
	return whole.Difference(away...)
}

// neighbours returns the walls that stand before and after the wall with that index.
func (b *building) neighbours(wall int) []int {
	var found []int
	b.room.corners(func(one, next int) {
		switch wall {
		case one:
			found = append(found, next)
		case next:
			found = append(found, one)
		}
	})
	return found
}

// uncovered returns what of the side is covered by nothing that stands before it, and has
// something behind it.
func (b *building) uncovered(d draft) (plane.Region, error) {
	if d.limit.Empty() {
		return d.limit, nil
	}
	var away []plane.Region
	err := b.meet(d, func(_ body, met plane.Region) error { away = append(away, met); return nil })
	if err != nil {
		return plane.Region{}, err
	}
	return d.limit.Difference(away...)
}

// meet calls found with everything that takes some of the side d away, and with what it takes:
// what stands before the side or in which it lies, and what is let into it.
func (b *building) meet(d draft, found func(body, plane.Region) error) error {
	reach := d.box()
	for _, s := range b.solids {
		if s.owns(d) || !s.box.touches(reach) {
			continue
		}
		met, err := s.slice(d.frame, before)
		for _, r := range b.recesses {
			if err == nil && !met.Empty() && r.wall == s.wall && r.high > s.high-flush && r.box.touches(reach) {
				var gone plane.Region
				if gone, err = r.slice(d.frame, before); err == nil {
					met, err = met.Difference(gone)
				}
			}
		}
		if err == nil && !met.Empty() {
			err = found(s, met)
		}
		if err != nil {
			return err
		}
	}
	for _, r := range b.recesses {
		if r.owns(d) || !r.box.touches(reach) || !b.cutsInto(r, d) {
			continue
		}
		met, err := r.slice(d.frame, behind)
		if err == nil && !met.Empty() {
			err = found(r, met)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (s body) owns(d draft) bool { return s.wall == d.wall && s.obstruction == d.obstruction }

// cutsInto reports whether the recess r takes away of whatever has the side d: of walls and of
// other recesses always, of what stands on its own wall where that reaches no farther out than the
// surface that r is let into.
func (b *building) cutsInto(r body, d draft) bool {
	if d.obstruction < 0 {
		return true
	}
	depth := b.room.Walls[d.wall].Obstructions[d.obstruction].Depth
	return depth < 0 || (r.wall == d.wall && depth < r.high+flush)
}

func (d draft) box() box {
	var corners []space.Vec
	for _, p := range d.ring {
		corners = append(corners, d.frame.At(p))
	}
	return boxRound(corners)
}

// shareOut gives each place that lies on two sides to one of them: to the one that carries no
// pieces, or else to the first.
func (b *building) shareOut() error {
	var order []int
	for i, d := range b.drafts {
		if !d.outline.Empty() {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(rank(b.drafts[i]), rank(b.drafts[j])) })
	for n, i := range order {
		d := &b.drafts[i]
		reach := d.box()
		for _, j := range order[:n] {
			first := b.drafts[j]
			if !reach.touches(first.box()) || d.frame.Out.Dot(first.frame.Out) < 1-level {
				continue
			}
			if _, off := d.frame.Local(first.frame.Origin); math.Abs(off) > flush {
				continue
			}
			taken, err := first.outline.Map(func(p plane.Point) plane.Point {
				q, _ := d.frame.Local(first.frame.At(p))
				return q
			})
			if err == nil {
				d.outline, err = d.outline.Difference(taken)
			}
			if err != nil {
				return err
			}
		}
	}
	return nil
}

func rank(d draft) int {
	if d.used {
		return 1
	}
	return 0
}
