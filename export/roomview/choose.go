package roomview

import (
	"math"
	"slices"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// How the eye of a perspective is placed.
const (
	eyeHeight = 1600.0 // above the floor, mm
	sideways  = 0.52   // the most that the picture spreads to either side, for 1 ahead: 27.5°
	upDown    = 0.50   // and up and down
	closest   = 900.0  // the least distance to anything in the picture, mm
	bearings  = 72     // ways that are tried to look at the room
	asked     = 150    // places that are asked how well they are seen, and faces
)

// A witness is a place that ought to be seen, and the way it looks.
type witness struct {
	at     space.Vec
	out    space.Vec
	face   int
	weight float64
}

// witnesses returns places spread evenly over the faces that may carry pieces, and the middles of a number of
// faces, which count for little beside them. Where pieces hang does not matter: the room stands still while
// the work in it changes.
func (s Scene) witnesses() []witness {
	out := s.spread()
	share := math.Max(1, 0.15*float64(len(out))) / float64(min(asked, len(s.faces)))
	for i := 0; i < len(s.faces); i += step(len(s.faces)) {
		f := s.faces[i]
		out = append(out, witness{f.centre, f.level.normal, f.face, share})
	}
	return out
}

// carries returns what tells whether a face may carry pieces: those that the plan uses do, or all where it
// uses none.
func (s Scene) carries() func(facet) bool {
	used := func(f facet) bool { return s.work.Site.Faces[f.face].Used }
	if slices.ContainsFunc(s.faces, used) {
		return used
	}
	return func(facet) bool { return true }
}

// spread returns about as many places as are asked, on a square grid over every face that may carry pieces.
func (s Scene) spread() []witness {
	area, carry := 0.0, s.carries()
	for _, f := range s.faces {
		if carry(f) {
			area += s.work.Site.Faces[f.face].Outline.Area()
		}
	}
	grid := math.Sqrt(area / asked)
	var out []witness
	for _, f := range s.faces {
		if !carry(f) {
			continue
		}
		face := s.work.Site.Faces[f.face]
		b, before := face.Outline.Bounds(), len(out)
		across, up := math.Max(1, math.Round(b.Width()/grid)), math.Max(1, math.Round(b.Height()/grid))
		for i := 0.5; i < across; i++ {
			for j := 0.5; j < up; j++ {
				at := plane.Point{X: b.Min.X + b.Width()*i/across, Y: b.Min.Y + b.Height()*j/up}
				if face.Outline.Contains(at) {
					out = append(out, witness{face.Frame.At(at), f.level.normal, f.face, 1})
				}
			}
		}
		if len(out) == before {
			out = append(out, witness{f.centre, f.level.normal, f.face, 1})
		}
	}
	return out
}

// step returns how far apart those are that are asked out of n.
func step(n int) int { return max(1, (n+asked-1)/asked) }

// worth returns how well the witnesses are seen. What is seen slantwise is still seen; a
// wall that is looked at straight shows nothing of the room, so that counts for less than looking
// at it from a little aside.
func (s Scene) worth(c Camera, asked []witness) float64 {
	const straight = 0.84
	shown := s.shown(c)
	sum := 0.0
	for _, w := range asked {
		slant := w.out.Dot(c.to(w.at))
		if !shown[w.face] || slant <= 0 || s.blocked(c, w, shown) {
			continue
		}
		sum += w.weight * math.Cbrt(math.Min(slant, 2*straight-slant))
	}
	return math.Round(sum*1e6) / 1e6
}

// shown returns, for every face of the site, whether the camera shows it: it looks towards the
// eye, and so does the wall on which it stands.
func (s Scene) shown(c Camera) []bool {
	shown := make([]bool, len(s.work.Site.Faces))
	for _, f := range s.faces {
		shown[f.face] = c.sees(f.level) && s.wallShown(c, f.face)
	}
	return shown
}

// wallShown reports whether the wall on which a face stands looks towards the eye. A face that
// stands on no wall, as the back of one does not, always counts as shown.
func (s Scene) wallShown(c Camera, face int) bool {
	f := s.work.Site.Faces[face]
	on, found := s.wallFace(f.Wall)
	if !found || f.Obstruction < 0 {
		return true
	}
	at := s.work.Site.Faces[on].Frame
	return c.sees(levelAt(at.Origin, at.Out))
}

// blocked reports whether a face stands between the eye and the witness.
func (s Scene) blocked(c Camera, w witness, shown []bool) bool {
	way := c.to(w.at)
	far := math.Inf(1)
	if c.eye[3] != 0 {
		far = c.place().Sub(w.at).Len()
	}
	for _, f := range s.faces {
		if !shown[f.face] || f.face == w.face {
			continue
		}
		rise := f.level.normal.Dot(way)
		if rise <= 1e-9 {
			continue
		}
		t := -f.level.above(w.at) / rise
		if t <= 1 || t >= far {
			continue
		}
		face := s.work.Site.Faces[f.face]
		if p, _ := face.Frame.Local(w.at.Add(way.Scale(t))); face.Outline.Contains(p) {
			return true
		}
	}
	return false
}

// perspective returns the perspective in which the faces that may carry pieces are seen best.
func (s Scene) perspective() Camera {
	asked := s.witnesses()
	var best Camera
	most := -1.0
	for i := range bearings {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / bearings)
		c := s.stand(space.Vec{X: cos, Y: sin})
		if worth := s.worth(c, asked); worth > most {
			best, most = c, worth
		}
	}
	return best
}

// stand returns the camera that looks along the level step towards from so far off that everything
// it shows fits. Verticals stay vertical, as the picture stands upright.
func (s Scene) stand(towards space.Vec) Camera {
	along := Camera{eye: [4]float64{-towards.X, -towards.Y, 0, 0}}
	shown := s.shown(along)
	var c Camera
	for range 4 {
		c = s.standBack(towards, shown)
		more := false
		for i, seen := range s.shown(c) {
			if seen && !shown[i] {
				shown[i], more = true, true
			}
		}
		if !more {
			break
		}
	}
	return c
}

// standBack returns the camera nearest to the shown faces that has all their corners within its
// spread: each corner allows it to be no nearer than some line on either side.
func (s Scene) standBack(towards space.Vec, shown []bool) Camera {
	right := towards.Cross(space.Vec{Z: 1})
	left, rightmost, back := math.Inf(-1), math.Inf(-1), math.Inf(-1)
	for _, f := range s.faces {
		if !shown[f.face] {
			continue
		}
		for _, l := range f.loops {
			for _, p := range l {
				ahead, aside := p.at.Dot(towards), p.at.Dot(right)
				rightmost = math.Max(rightmost, aside/sideways-ahead)
				left = math.Max(left, -aside/sideways-ahead)
				back = math.Max(back, math.Max(closest, math.Abs(p.at.Z-eyeHeight)/upDown)-ahead)
			}
		}
	}
	if math.IsInf(back, -1) { // nothing looks this way
		return Perspective(space.Vec{Z: eyeHeight}, towards)
	}
	off := math.Max(back, (left+rightmost)/2)
	aside := sideways * (rightmost - left) / 2
	eye := towards.Scale(-off).Add(right.Scale(aside))
	eye = space.Vec{X: math.Round(eye.X), Y: math.Round(eye.Y), Z: eyeHeight}
	return Perspective(eye, towards)
}

// isometric returns the isometric drawing from the quarter from which those faces are seen best.
func (s Scene) isometric() Camera {
	asked := s.witnesses()
	var best Camera
	most := -1.0
	for _, quarter := range []int{2, 3, 1, 0} {
		c := Isometric(quarter)
		if worth := s.worth(c, asked); worth > most {
			best, most = c, worth
		}
	}
	return best
}
