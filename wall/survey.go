package wall

import (
	"errors"
	"fmt"
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// Survey places the walls of a room in plan, one after the other by their turns, and finds the
// zones and the free region of every face. Each wall makes one face.
//
// It takes a room in which Check finds nothing wrong. For any other it returns an error, or faces
// that make as little sense as the room does.
func Survey(room Room) (Site, error) {
	site := Site{Room: room}
	var faults []error
	at := space.Upright(space.Vec{}, 0)
	angle := 0.0
	ends := room.ends()
	for i, w := range room.Walls {
		f, err := w.face(i, at, ends[i])
		if err != nil {
			faults = append(faults, fmt.Errorf("wall %q: %w", w.Name, err))
		}
		site.Faces = append(site.Faces, f)
		angle -= w.Turn
		at = space.Upright(at.At(plane.Point{X: w.length()}), angle)
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

// face returns the face that is the wall itself, the wall with that index in its room.
func (w Wall) face(index int, frame space.Frame, corners ends) (Face, error) {
	f := Face{Wall: index, Name: WallFace, Frame: frame, Used: !w.Bare}
	if math.IsNaN(w.Turn) || math.IsInf(w.Turn, 0) {
		return f, fmt.Errorf("a turn of %v degrees leads nowhere", w.Turn)
	}
	var err error
	if f.Outline, err = plane.NewRegion(plane.Polygon{Outer: w.Outline}); err != nil {
		return f, fmt.Errorf("outline: %w", err)
	}
	if f.Zones, err = w.zones(f.Outline, corners); err != nil {
		return f, err
	}
	if f.Used {
		f.free, err = w.free(f)
	}
	return f, err
}

// free returns the free region of the face f of the wall.
func (w Wall) free(f Face) (plane.Region, error) {
	if !(w.Margin >= 0) {
		return plane.Region{}, fmt.Errorf("a margin of %v mm leaves nothing", w.Margin)
	}
	inner, err := f.Outline.Grow(-w.Margin)
	if err != nil {
		return plane.Region{}, fmt.Errorf("margin: %w", err)
	}
	var away []plane.Region
	for _, o := range w.Obstructions {
		if o.hidden() {
			continue
		}
		kept, err := o.grown(o.Clearance)
		if err != nil {
			return plane.Region{}, err
		}
		away = append(away, kept)
	}
	for _, z := range f.Zones {
		if z.Strength == Forbidden && z.Binds == Pieces {
			away = append(away, z.Shape)
		}
	}
	return inner.Difference(away...)
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
