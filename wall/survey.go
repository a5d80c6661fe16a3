package wall

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// Survey places the walls of a room in plan, one after the other by their turns, finds what can be
// seen of every wall and of every side of what stands on it or is let into it, and the zones and
// the free regions of them. The faces of a wall follow one another: the wall itself, then the
// sides of its obstructions in the plan's order, as Sides lists them. A side of which nothing can
// be seen makes no face; a wall always does.
//
// It takes a room in which Check finds nothing wrong. For any other it returns an error, or faces
// that make as little sense as the room does.
func Survey(room Room) (Site, error) {
	if err := room.sound(); err != nil {
		return Site{}, err
	}
	b, err := lay(room)
	if err != nil {
		return Site{}, err
	}
	if err := b.see(); err != nil {
		return Site{}, err
	}
	site := Site{Room: b.room}
	var faults []error
	for _, d := range b.drafts {
		if d.outline.Empty() && d.obstruction >= 0 {
			continue
		}
		f, err := b.finish(d)
		if err != nil {
			faults = append(faults, fmt.Errorf("wall %q: %w", b.room.Walls[d.wall].Name, err))
		}
		site.Faces = append(site.Faces, f)
	}
	if err := errors.Join(faults...); err != nil {
		return Site{}, err
	}
	return site, nil
}

// length returns how far the wall runs in plan, in mm.
func (w Wall) length() float64 { return w.Outline.Bounds().Max.X }

// ends are the ends of a wall at which another wall meets it in a corner.
type ends struct{ left, right bool }

// ends returns which ends of every wall are corners. The last wall meets the first where the walls
// come back to where they began.
func (r Room) ends() []ends {
	found := make([]ends, len(r.Walls))
	r.corners(func(wall, next int) {
		found[wall].right = r.Walls[wall].Turn != 0
		found[next].left = r.Walls[wall].Turn != 0
	})
	return found
}

// corners calls meet for every two joined walls of which one follows the other.
func (r Room) corners(meet func(wall, next int)) {
	row := r.joined()
	for n, i := range row {
		switch {
		case n+1 < len(row):
			meet(i, row[n+1])
		case r.closed():
			meet(i, row[0])
		}
	}
}

// joined returns the walls that do not stand alone.
func (r Room) joined() []int {
	var row []int
	for i, w := range r.Walls {
		if w.Alone == nil && !w.Ceiling {
			row = append(row, i)
		}
	}
	return row
}

// roughly is how far apart places that ought to be one may be, as carefully as a room is measured,
// in mm.
const roughly = 10

// closed reports whether the joined walls run once round and end roughly where they began.
func (r Room) closed() bool {
	row := r.joined()
	var at space.Vec
	angle := 0.0
	for _, i := range row {
		at = space.Upright(at, angle).At(plane.Point{X: r.Walls[i].length()})
		angle -= r.Walls[i].Turn
	}
	return len(row) > 2 && at.Len() <= roughly && math.Abs(math.Abs(angle)-360) < 0.5
}

// A pose is a place in plan and a direction there, in degrees counter-clockwise from above.
type pose struct {
	at    space.Vec
	angle float64
}

// frames returns where every wall stands.
func (r Room) frames() []space.Frame {
	frames := make([]space.Frame, len(r.Walls))
	var row, last pose
	for i, w := range r.Walls {
		start := row
		switch {
		case w.Alone == nil:
		case w.Alone.At != nil:
			start = pose{space.Vec{X: w.Alone.At.X, Y: w.Alone.At.Y}, -w.Alone.Angle}
		default:
			start = pose{space.Upright(last.at, last.angle).At(plane.Point{X: w.Alone.Gap}), last.angle}
		}
		frames[i] = space.Upright(start.at, start.angle)
		last = pose{frames[i].At(plane.Point{X: w.length()}), start.angle - w.Turn}
		if w.Alone == nil {
			row = last
		}
	}
	return frames
}

// sound returns what is so wrong with the walls and what stands on them that nothing can be made
// of them.
func (r Room) sound() error {
	var faults []error
	for _, w := range r.Walls {
		_, err := plane.NewRegion(plane.Polygon{Outer: w.Outline})
		if err != nil {
			err = fmt.Errorf("outline: %w", err)
		} else {
			err = w.sound()
		}
		if err != nil {
			faults = append(faults, fmt.Errorf("wall %q: %w", w.Name, err))
		}
	}
	if err := r.Rules.sound(); err != nil {
		faults = append(faults, err)
	}
	if r.Ceiling != nil {
		if err := r.Ceiling.sound(); err != nil {
			faults = append(faults, fmt.Errorf("ceiling: %w", err))
		}
	}
	return errors.Join(faults...)
}

func (w Wall) sound() error {
	if math.IsNaN(w.Turn) || math.IsInf(w.Turn, 0) {
		return fmt.Errorf("a turn of %v degrees leads nowhere", w.Turn)
	}
	if s := w.Alone; s != nil && (!finite(s.Angle, s.Gap) || !(0 <= s.Thickness && s.Thickness <= MaxDepth) || (s.At != nil && !s.At.Finite())) {
		return errors.New("it stands alone at no place")
	}
	if !(w.Margin >= 0) {
		return fmt.Errorf("a margin of %v mm leaves nothing", w.Margin)
	}
	for _, o := range slices.Concat(w.Obstructions, w.FarSide) {
		if _, err := o.grown(o.Clearance); err != nil {
			return err
		}
		if math.IsNaN(o.Depth) || math.Abs(o.Depth) > MaxDepth {
			return fmt.Errorf("%s: a depth of %v mm is none", o.Name, o.Depth)
		}
		if o.Margin != nil && !(*o.Margin >= 0) {
			return fmt.Errorf("%s: a margin of %v mm leaves nothing", o.Name, *o.Margin)
		}
	}
	return nil
}

// grown returns the area within d mm of the obstruction.
func (o Obstruction) grown(d float64) (plane.Region, error) {
	if !(d >= 0) {
		return plane.Region{}, fmt.Errorf("%s: a clearance of %v mm is none", o.Name, d)
	}
	shape, err := plane.NewRegion(plane.Polygon{Outer: o.Shape})
	if err == nil {
		shape, err = shape.Grow(d)
	}
	if err != nil {
		return plane.Region{}, fmt.Errorf("%s: %w", o.Name, err)
	}
	return shape, nil
}

func finite(figures ...float64) bool {
	for _, x := range figures {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
