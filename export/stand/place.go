package stand

import (
	"math"

	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Place is where one stands, under or before the middle of the stand's holes: so far along a wall,
// as one sees it who faces it, and under a ceiling so far out from it.
type Place struct {
	Wall    int     // index into the walls of the room; -1 where a ceiling has none to measure from
	Back    bool    // behind the wall, which stands alone
	Left    float64 // from the wall's left end, mm
	Right   float64 // from its right end, mm
	Off     float64 // under a ceiling, out from the wall, mm; else 0
	ToLeft  string  // which wall it meets at its left end; empty where none is joined there
	ToRight string  // likewise
}

// A Foot is what is known of the floor at a place from the foot of the wall there.
type Foot struct {
	Height float64 // of the wall's foot above the plan's floor, mm
	Steps  bool    // the foot rises or falls within the stride of a ladder
}

// stride is how far to either side of its place a ladder or a platform takes room, mm (common
// practice).
const stride = 600

// steep is the least cosine between the way a face looks and straight down for it to be overhead.
const steep = 0.5

// overhead reports whether a face looks down on whoever works at it.
func overhead(f wall.Face) bool { return f.Frame.Out.Z < -steep }

// placeOf returns where one stands for s.
func placeOf(site wall.Site, s Stand) Place {
	face := site.Faces[s.Face]
	at := face.Frame.At(s.Bounds.Centre())
	if site.Room.Walls[face.Wall].Ceiling {
		return underCeiling(site, at)
	}
	on := ownWall(site, face)
	p := along(site, on, at)
	p.Back = on.IsBack()
	if p.Back {
		p.ToLeft, p.ToRight = "", ""
	}
	return p
}

// ownWall returns the face from whose left end places before f are measured: its wall, or f itself
// where that is the back of one.
func ownWall(site wall.Site, f wall.Face) wall.Face {
	if f.IsBack() {
		return f
	}
	for _, w := range site.Faces {
		if w.Wall == f.Wall && w.IsWall() {
			return w
		}
	}
	return f
}

// along returns how far along the wall a place in the room is, to 0.01 mm.
func along(site wall.Site, on wall.Face, at space.Vec) Place {
	q, _ := on.Frame.Local(at)
	b := on.Whole.Bounds()
	p := Place{Wall: on.Wall, Left: hundredth(q.X - b.Min.X), Right: hundredth(b.Max.X - q.X)}
	p.ToLeft, p.ToRight = joined(site.Room, on.Wall)
	return p
}

// underCeiling returns the place measured from the nearest wall that the place lies before.
func underCeiling(site wall.Site, at space.Vec) Place {
	best, found := Place{Wall: -1}, false
	for _, f := range site.Faces {
		if !f.IsWall() || site.Room.Walls[f.Wall].Ceiling {
			continue
		}
		b := f.Whole.Bounds()
		q, off := f.Frame.Local(at)
		if off = hundredth(off); off < 0 || q.X < b.Min.X || q.X > b.Max.X || found && off >= best.Off {
			continue
		}
		best, found = along(site, f, at), true
		best.Off = off
	}
	return best
}

// joined returns the names of the walls that a wall meets at its left and its right end. A room that
// has a ceiling is closed, so that its last wall meets its first.
func joined(room wall.Room, i int) (left, right string) {
	var row []int
	closed := false
	at := -1
	for j, w := range room.Walls {
		switch {
		case w.Ceiling:
			closed = true
		case w.Alone == nil:
			if j == i {
				at = len(row)
			}
			row = append(row, j)
		}
	}
	if at < 0 {
		return "", ""
	}
	if at > 0 || closed && len(row) > 1 {
		left = room.Walls[row[(at+len(row)-1)%len(row)]].Name
	}
	if at < len(row)-1 || closed && len(row) > 1 {
		right = room.Walls[row[(at+1)%len(row)]].Name
	}
	return left, right
}

// underfoot returns the doors that open at the place of a stand that takes a ladder or a platform, and
// what the foot of the wall says of the floor there.
func underfoot(site wall.Site, s Stand) (doors []string, foot Foot) {
	if s.Place.Wall < 0 || s.Place.Off > stride {
		return nil, Foot{}
	}
	w := site.Room.Walls[s.Place.Wall]
	x := s.Place.Left
	if s.Place.Back {
		x = s.Place.Right
	}
	foot.Height = footAt(w.Outline, x)
	for _, by := range []float64{-stride, stride} {
		// A stride that leads past the end of the wall says nothing of the floor.
		if at := x + by; at > 0 && at < w.Outline.Bounds().Max.X {
			foot.Steps = foot.Steps || math.Abs(footAt(w.Outline, at)-foot.Height) > 10
		}
	}
	if s.Access == Floor {
		return nil, foot
	}
	for _, o := range w.Obstructions {
		b := o.Shape.Bounds()
		if (o.Kind == wall.Door || o.Kind == wall.ExitDoor) && b.Min.X < x+stride && b.Max.X > x-stride {
			doors = append(doors, o.Name)
		}
	}
	return doors, foot
}

// What is in the way of whoever stands at a place, mm (common practice).
const (
	shoulders = 250.0  // to either side of the place
	toes      = 150.0  // how far a thing stands out of the wall before nobody can stand where it is
	knees     = 1000.0 // how high above the foot of the wall its underside is at most
)

// inTheWay returns the names of the things that stand on the wall where one would stand for s, other
// than the one that s hangs on.
func inTheWay(site wall.Site, s Stand) []string {
	face := site.Faces[s.Face]
	if s.Place.Wall < 0 || s.Place.Back {
		return nil
	}
	w := site.Room.Walls[s.Place.Wall]
	foot := footAt(w.Outline, s.Place.Left)
	var out []string
	for i, o := range w.Obstructions {
		b := o.Shape.Bounds()
		own := face.Wall == s.Place.Wall && !face.IsWall() && face.Obstruction == i
		if !own && o.Depth > math.Max(toes, s.Place.Off-shoulders) && b.Min.Y-foot < knees &&
			b.Min.X < s.Place.Left+shoulders && b.Max.X > s.Place.Left-shoulders {
			out = append(out, o.Name)
		}
	}
	return out
}

// footAt returns the height of the foot of an outline at x, to 0.01 mm; 0 where x is beside it.
func footAt(outline plane.Ring, x float64) float64 {
	low := math.Inf(1)
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if math.Min(a.X, b.X) > x || math.Max(a.X, b.X) < x {
			continue
		}
		y := math.Min(a.Y, b.Y)
		if a.X != b.X {
			y = a.Y + float64((b.Y-a.Y)*(x-a.X))/(b.X-a.X)
		}
		low = math.Min(low, y)
	}
	if math.IsInf(low, 1) {
		return 0
	}
	return hundredth(low)
}

// hundredth rounds a length to 0.01 mm. Adding 0 turns a negative zero into zero.
func hundredth(mm float64) float64 { return math.Round(mm*100)/100 + 0 }
