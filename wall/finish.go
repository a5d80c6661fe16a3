package wall

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// finish makes a face of what was found of it. The face of an obstruction begins at the bottom-left
// corner of what can be seen of it.
func (b *building) finish(d draft) (Face, error) {
	f := Face{
		Wall: d.wall, Obstruction: d.obstruction, Side: d.side, Name: d.name,
		Frame: d.frame, Outline: d.outline, Whole: d.limit, Used: d.used,
		built: b.room.Walls[d.wall].structure(d),
	}
	if d.obstruction >= 0 {
		start := d.outline.Bounds().Min
		var err error
		if d, err = d.startingAt(start); err != nil {
			return f, err
		}
		f.Frame, f.Outline, f.Whole = d.frame, d.outline, d.outline
		if !f.Used {
			return f, nil
		}
	}
	var err error
	if f.Zones, err = b.zones(d); err != nil {
		return f, err
	}
	if f.Used {
		f.open, f.free, err = b.free(d, f.Zones)
	}
	return f, err
}

// startingAt returns d with its origin moved to the place start.
func (d draft) startingAt(start plane.Point) (draft, error) {
	shift := func(p plane.Point) plane.Point { return p.Sub(start) }
	d.frame.Origin = d.frame.At(start)
	d.ring = d.ring.Map(shift)
	var err error
	if d.limit, err = d.limit.Map(shift); err == nil {
		d.outline, err = d.outline.Map(shift)
	}
	return d, err
}

// rule returns the zones of the front or the back of a wall, in the wall's coordinates. They are
// found once for all that stands on it.
func (b *building) rule(of wallSide) ([]Zone, error) {
	if found, known := b.ruled[of]; known {
		return found, nil
	}
	w := b.room.Walls[of.wall]
	outline, err := plane.NewRegion(plane.Polygon{Outer: w.Outline})
	if err != nil {
		return nil, err
	}
	rules, marked := wallRules(), w.Marked
	switch {
	case w.Ceiling:
		rules = ceilingRules()
	case of.back:
		rules, marked = backRules(), nil
	}
	found, err := scene{w, outline, b.ends[of.wall], b.frames[of.wall], b.room.Rules.OrUsual()}.zones(marked, rules)
	if err == nil {
		b.ruled[of] = found
	}
	return found, err
}

// zones returns the zones of the face, clipped to what can be seen of it.
func (b *building) zones(d draft) ([]Zone, error) {
	ruled, err := b.rule(wallSide{d.wall, d.name == BackFace && d.obstruction < 0})
	if err != nil {
		return nil, err
	}
	edges, err := b.edges(d)
	if err != nil {
		return nil, err
	}
	var clipped []Zone
	for i, z := range slices.Concat(placed(ruled, b.frames[d.wall], d.frame), headroom(d, b.floor(d), b.room.Rules.OrUsual()), edges) {
		shape := z.Shape
		if i < len(ruled) && (d.obstruction >= 0 || d.side == Back) {
			shape, err = carried(shape, b.frames[d.wall], d)
		}
		if err == nil {
			shape, err = d.outline.Intersection(shape)
		}
		if err != nil {
			return nil, fmt.Errorf("zone %s of %s: %w", z.Code, z.Name, err)
		}
		if z.Shape = shape; !shape.Empty() {
			clipped = append(clipped, z)
		}
	}
	return clipped, nil
}

// floor returns the height of the floor, mm, under the middle of a side. Under a ceiling it is at 0.
func (b *building) floor(d draft) float64 {
	w := b.room.Walls[d.wall]
	if w.Ceiling {
		return 0
	}
	at, _ := b.frames[d.wall].Local(d.frame.At(d.outline.Bounds().Centre()))
	return w.FootAt(at.X)
}

// headroom finds the faces that look down from so little above the height of a person's head that
// what hangs from them may reach into it.
func headroom(d draft, floor float64, r Rules) []Zone {
	const near = 300 // mm
	height := d.frame.Origin.Z - floor
	if d.frame.Out.Z > -1+level || height < r.RouteTo || height > r.RouteTo+near {
		return nil
	}
	return []Zone{{
		Code: "headroom", Name: "walking height", Strength: Caution, Binds: Projecting,
		Limit: height - r.RouteTo, Shape: d.outline,
		Reason: "over a way that people walk, nothing hangs lower than " + r.show(r.RouteTo) + " above the floor" + lookUp,
		Source: "ADA Standards 2010 §307.4",
	}}
}

// carried returns where on the side d a zone of its wall holds. What holds of a place on the wall
// holds of everything straight before it and straight behind it. That is never too little: a place
// on a front, round a corner on a return, or in a recess is at least as far from whatever the zone
// is drawn round as its foot on the wall is.
func carried(zone plane.Region, wall space.Frame, d draft) (plane.Region, error) {
	if math.Abs(d.frame.Out.Dot(wall.Out)) > 1-level {
		return zone.Map(func(p plane.Point) plane.Point {
			q, _ := d.frame.Local(wall.At(p))
			return q
		})
	}
	foot := make(plane.Ring, len(d.ring))
	for i, p := range d.ring {
		foot[i], _ = wall.Local(d.frame.At(p))
	}
	a, c := ends2(foot)
	along := c.Sub(a)
	across := along.Rotate(math.Pi / 2).Scale(2 * flush / along.Len())
	line := plane.RegionOf(plane.Ring{a.Sub(across), c.Sub(across), c.Add(across), a.Add(across)})
	met, err := zone.Intersection(line)
	if err != nil {
		return plane.Region{}, err
	}
	_, low := wall.Local(d.frame.At(d.ring[0]))
	high := low
	for _, p := range d.ring {
		_, z := wall.Local(d.frame.At(p))
		low, high = math.Min(low, z), math.Max(high, z)
	}
	var strips []plane.Region
	for _, part := range met.Polygons() {
		p, q := spread(part.Outer, a, along)
		strip := make(plane.Ring, 4)
		for i, at := range [4]space.Vec{wall.Lift(p, low), wall.Lift(q, low), wall.Lift(q, high), wall.Lift(p, high)} {
			strip[i], _ = d.frame.Local(at)
		}
		strips = append(strips, plane.RegionOf(strip))
	}
	return plane.Union(strips...)
}

// ends2 returns the two corners of r that lie farthest apart.
func ends2(r plane.Ring) (a, b plane.Point) {
	for i, p := range r {
		for _, q := range r[i+1:] {
			if p.Distance(q) > a.Distance(b) {
				a, b = p, q
			}
		}
	}
	return a, b
}

// spread returns the first and the last place on the line from a along which r touches.
func spread(r plane.Ring, a, along plane.Point) (first, last plane.Point) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range r {
		t := p.Sub(a).Dot(along) / along.Dot(along)
		low, high = math.Min(low, t), math.Max(high, t)
	}
	return a.Add(along.Scale(low)), a.Add(along.Scale(high))
}

// free returns the open and the free region of the face.
func (b *building) free(d draft, zones []Zone) (open, free plane.Region, err error) {
	inner, err := d.limit.Grow(-b.margin(d))
	if err != nil {
		return open, free, fmt.Errorf("margin: %w", err)
	}
	var away, over []plane.Region
	err = b.meet(d, func(by body, met plane.Region) error {
		kept, err := met.Grow(by.clearance)
		away = append(away, kept)
		if b.goesOn(by) {
			over = append(over, kept)
		}
		return err
	})
	if err != nil {
		return open, free, err
	}
	if open, err = inner.Difference(over...); err != nil {
		return open, free, err
	}
	flat, err := b.flatOn(d, func(o Obstruction) (float64, bool) { return o.Clearance, true })
	if err != nil {
		return open, free, err
	}
	away = append(away, flat...)
	for _, z := range zones {
		if z.Strength == Forbidden && z.Binds == Pieces {
			away = append(away, z.Shape)
		}
	}
	if free, err = inner.Difference(away...); err == nil && d.obstruction >= 0 {
		free, err = free.Intersection(d.outline)
	}
	return open, free, err
}

// goesOn reports whether the work goes on over the body: whether some side of the obstruction that it
// is carries pieces, or the wall that stands alone.
func (b *building) goesOn(by body) bool {
	w := b.room.Walls[by.wall]
	if by.obstruction < 0 {
		return !w.Bare
	}
	return len(w.Obstructions[by.obstruction].Use) > 0
}

// slim is the share of the narrower way across a side that its margins take at most, unless the
// plan gives one: a return of 150 mm has margins of 19 mm, and room for pieces.
const slim = 8

// margin returns how far pieces keep from the edges of the side: what the plan says of the
// obstruction, or what it says of the wall but no more than an eighth of the narrower way across.
func (b *building) margin(d draft) float64 {
	w := b.room.Walls[d.wall]
	if d.obstruction < 0 {
		return w.Margin
	}
	if m := w.Obstructions[d.obstruction].Margin; m != nil {
		return *m
	}
	box := d.limit.Bounds()
	return math.Min(w.Margin, math.Min(box.Width(), box.Height())/slim)
}

// through reports whether o is taken to go right through a wall that stands alone.
func (o Obstruction) through() bool {
	switch o.Kind {
	case Window, Door, ExitDoor, Hatch:
		return true
	}
	return false
}

// flatOn returns what the flat things on the side keep clear: as far round each as keeps says, where
// it says that one counts.
func (b *building) flatOn(d draft, keeps func(Obstruction) (mm float64, counts bool)) ([]plane.Region, error) {
	wall := b.frames[d.wall]
	same := d.frame.Out.Dot(wall.Out)
	if math.Abs(same) < 1-level {
		return nil, nil
	}
	_, z := wall.Local(d.frame.Origin)
	var kept []plane.Region
	for i, o := range b.room.Walls[d.wall].Obstructions {
		on := math.Abs(b.surfaces[d.wall][i]-z) <= flush
		if same < 0 {
			on = o.through()
		}
		if !o.flat() || o.hidden() || !on {
			continue
		}
		mm, counts := keeps(o)
		if !counts {
			continue
		}
		region, err := o.grown(mm)
		if err == nil {
			region, err = region.Map(func(p plane.Point) plane.Point {
				q, _ := d.frame.Local(wall.At(p))
				return q
			})
		}
		if err != nil {
			return nil, err
		}
		kept = append(kept, region)
	}
	return kept, nil
}
