package wall

import (
	"errors"
	"fmt"
	"math"

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
	b := lay(room)
	if err := b.sound(); err != nil {
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
	for i, w := range r.Walls {
		next := i + 1
		if next == len(r.Walls) {
			if !r.closed() {
				break
			}
			next = 0
		}
		found[i].right = w.Turn != 0
		found[next].left = w.Turn != 0
	}
	return found
}

// closed reports whether the walls run once round and end within 10 mm, as carefully as a room is
// measured, of where they began.
func (r Room) closed() bool {
	var at space.Vec
	angle := 0.0
	for _, w := range r.Walls {
		at = space.Upright(at, angle).At(plane.Point{X: w.length()})
		angle -= w.Turn
	}
	return len(r.Walls) > 2 && at.Len() <= 10 && math.Abs(math.Abs(angle)-360) < 0.5
}

// frames returns where every wall stands.
func (r Room) frames() []space.Frame {
	frames := make([]space.Frame, len(r.Walls))
	at := space.Upright(space.Vec{}, 0)
	angle := 0.0
	for i, w := range r.Walls {
		frames[i] = at
		angle -= w.Turn
		at = space.Upright(at.At(plane.Point{X: w.length()}), angle)
	}
	return frames
}

// sound returns what is so wrong with the walls and what stands on them that nothing can be made
// of them.
func (b *building) sound() error {
	var faults []error
	for _, w := range b.room.Walls {
		if err := w.sound(); err != nil {
			faults = append(faults, fmt.Errorf("wall %q: %w", w.Name, err))
		}
	}
	return errors.Join(faults...)
}

func (w Wall) sound() error {
	if math.IsNaN(w.Turn) || math.IsInf(w.Turn, 0) {
		return fmt.Errorf("a turn of %v degrees leads nowhere", w.Turn)
	}
	if _, err := plane.NewRegion(plane.Polygon{Outer: w.Outline}); err != nil {
		return fmt.Errorf("outline: %w", err)
	}
	if !(w.Margin >= 0) {
		return fmt.Errorf("a margin of %v mm leaves nothing", w.Margin)
	}
	for _, o := range w.Obstructions {
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
