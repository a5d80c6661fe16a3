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
	Past    bool    // it is the end of the wall, and one stands past that
	ToLeft  string  // which wall it meets at its left end; empty where none is joined there
	ToRight string  // likewise
}

// A Foot is what is known of the floor at a place: from the floor that was measured along the wall there,
// or from the foot of the wall.
type Foot struct {
	Height float64 // above the plan's 0, mm
	Steps  bool    // the floor rises or falls within the stride of a ladder
	Left   float64 // the farthest that it falls within near to the left of the place, as one sees the wall, mm; else 0
	Right  float64 // likewise to the right
	Out    float64 // likewise before the wall, along one that meets it near to the place
}

// stride is how far to either side of its place a ladder or a platform takes room, mm (common
// practice).
const stride = 600

// steep is the least cosine between the way a face looks and straight down for it to be overhead.
const steep = 0.5

// overhead reports whether a face looks down on whoever works at it.
func overhead(f wall.Face) bool { return f.Frame.Out.Z < -steep }

// placeOf returns where one stands to reach what is within a box on a face.
func placeOf(site wall.Site, on int, box plane.Rect) Place {
	face := site.Faces[on]
	at := face.Frame.At(box.Centre())
	if site.Room.Walls[face.Wall].Ceiling {
		return underCeiling(site, at)
	}
	own := ownWall(site, face)
	p := along(site, own, at)
	if side := face.Frame.Out.Dot(own.Frame.Right); math.Abs(side) > steep && !own.IsBack() {
		p = p.beside(side * arm)
	}
	p.Back = own.IsBack()
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
	face, off, found := site.Before(at)
	if !found {
		return Place{Wall: -1}
	}
	p := along(site, site.Faces[face], at)
	p.Off = off
	return p
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

// stair is how far out from a wall the stair that climbs along it is taken to reach, mm (common
// practice).
const stair = 1500

// footOf returns what the foot of the wall says of the floor at a place.
func footOf(site wall.Site, p Place) Foot {
	if p.Wall < 0 {
		return Foot{}
	}
	w := site.Room.Walls[p.Wall]
	x := p.x()
	foot := Foot{Height: w.FootAt(x)}
	if p.Off > stair {
		return foot
	}
	for _, by := range []float64{-stride, stride} {
		// A stride that leads past the end of the wall says nothing of the floor.
		if at := x + by; at > 0 && at < w.Outline.Bounds().Max.X && math.Abs(w.FootAt(at)-foot.Height) > step {
			foot.Steps = true
		}
	}
	foot.Left, foot.Right = falls(w, x, foot.Height, -1), falls(w, x, foot.Height, 1)
	foot.Out = fallsBefore(site.Room, p, x, foot.Height)
	if p.Back {
		foot.Left, foot.Right = foot.Right, foot.Left
	}
	return foot
}

// near is how close the edge of a stair or a stage is to a ladder when somebody who falls can go over it,
// mm (common practice).
const near = 2000

// tread is how much the floor falls at least where there is something to fall down, mm (common practice).
const tread = 150

// falls returns by how much the floor before a wall falls within near of a place with a floor so high, to
// the left where way is -1 and else to the right, mm; 0 where that is less than a tread.
func falls(w wall.Wall, x, height, way float64) float64 {
	const by = 50.0
	most := 0.0
	for off := by; off <= near; off += by {
		if at := x + float64(way*off); at > 0 && at < w.Outline.Bounds().Max.X {
			most = math.Max(most, hundredth(height-w.FootAt(at)))
		}
	}
	if most < tread {
		return 0
	}
	return most
}

// fallsBefore returns by how much the floor falls along the walls that meet that of a place within near of
// it, as far out as near; 0 where that is less than a tread. Whoever stands before a wall stands beside those.
func fallsBefore(room wall.Room, p Place, x, height float64) float64 {
	most := 0.0
	for i, w := range room.Walls {
		b := w.Outline.Bounds()
		if w.Ceiling || w.Alone != nil || i == p.Wall {
			continue
		}
		left, right := joined(room, i)
		if own := room.Walls[p.Wall]; right == own.Name && x <= near { // its right end is the place's left
			most = math.Max(most, falls(w, b.Max.X, height, -1))
		} else if left == own.Name && own.Outline.Bounds().Max.X-x <= near {
			most = math.Max(most, falls(w, 0, height, 1))
		}
	}
	return most
}

// step is the least by which the floor rises or falls over a stride for there to be steps, mm: more than
// a worn floor does, and less than a ramp or a stair (common practice).
const step = 20

// x returns how far along the wall the place is, from the left end of its front.
func (p Place) x() float64 {
	if p.Back {
		return p.Right
	}
	return p.Left
}

// doorsAt returns the names of the doors that open where a ladder or a platform stands at a place.
func doorsAt(site wall.Site, p Place) []string {
	if p.Wall < 0 || p.Off > stride {
		return nil
	}
	var doors []string
	x := p.x()
	for _, o := range site.Room.Walls[p.Wall].Obstructions {
		b := o.Shape.Bounds()
		if (o.Kind == wall.Door || o.Kind == wall.ExitDoor) && b.Min.X < x+stride && b.Max.X > x-stride {
			doors = append(doors, o.Name)
		}
	}
	return doors
}

// arm is how far before a side of what stands on a wall one stands to work at it, mm (common practice).
const arm = 400

// beside returns the place so much farther along the wall, or at its end where that is past it.
func (p Place) beside(mm float64) Place {
	long := p.Left + p.Right
	left := p.Left + mm
	p.Past = left < 0 || left > long
	p.Left = hundredth(math.Max(0, math.Min(long, left)))
	p.Right = hundredth(long - p.Left)
	return p
}

// What is in the way of whoever stands at a place, mm (common practice).
const (
	shoulders = 250.0  // to either side of the place
	toes      = 150.0  // how far a thing stands out of the wall before nobody can stand where it is
	knees     = 1000.0 // how high above the foot of the wall its underside is at most
)

// An Obstacle is what stands on the wall where one would stand.
type Obstacle struct {
	Name  string
	Fixed bool    // it is no furniture, and cannot be moved
	Depth float64 // how far it stands out of the wall, mm
}

// inTheWay returns what stands on the wall where one would stand at a place to work within a box on a face,
// other than the thing that has the face: what stands out no farther than what is worked at is in nobody's
// way.
func inTheWay(site wall.Site, on int, box plane.Rect, p Place, foot Foot) []Obstacle {
	face := site.Faces[on]
	if p.Wall < 0 || p.Back || p.Past {
		return nil
	}
	var out []Obstacle
	free := math.Max(standsOff(site, on, box), math.Max(toes, p.Off-shoulders))
	for i, o := range site.Room.Walls[p.Wall].Obstructions {
		b := o.Shape.Bounds()
		own := face.Wall == p.Wall && !face.IsWall() && face.Obstruction == i
		if !own && o.Depth > free && b.Min.Y-foot.Height < knees &&
			b.Min.X < p.Left+shoulders && b.Max.X > p.Left-shoulders {
			out = append(out, Obstacle{Name: o.Name, Fixed: o.Kind != wall.Fixture, Depth: o.Depth})
		}
	}
	return out
}

// standsOff returns how far the middle of a box on a face stands out of its wall, mm; 0 on a wall and on a
// ceiling.
func standsOff(site wall.Site, on int, box plane.Rect) float64 {
	f := site.Faces[on]
	if f.IsWall() || f.IsBack() || site.Room.Walls[f.Wall].Ceiling {
		return 0
	}
	_, off := ownWall(site, f).Frame.Local(f.Frame.At(box.Centre()))
	return hundredth(math.Max(0, off))
}

// lean returns by how much less high one reaches over what is in the way of work within a box on a face: by
// as much as that stands out farther, less what one leans anyway (common practice). What hangs on the thing
// itself is no farther away.
func lean(site wall.Site, on int, box plane.Rect, things []Obstacle) float64 {
	most := 0.0
	for _, o := range things {
		most = math.Max(most, o.Depth-standsOff(site, on, box)-toes)
	}
	return most
}

// hundredth rounds a length to 0.01 mm. Adding 0 turns a negative zero into zero.
func hundredth(mm float64) float64 { return math.Round(mm*100)/100 + 0 }
