// Package roomview draws the whole room with the work in it, as somebody sees it who stands in or
// before the room (a perspective), and from above at equal angles to its axes (an isometric
// drawing).
//
// Every piece is drawn on its plane, as far off its face as its kind stands off. What is hidden is
// hidden. Faces that look away from the eye are left out with all that stands on them, so that one
// looks into a room through its near walls.
package roomview

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Scene is a room with its work, ready to be looked at from anywhere.
type Scene struct {
	work   holemap.Work
	walls  []int   // of every wall of the room, the index of the face that is the wall itself; -1 for none
	faces  []facet // with the index of the face in the site
	fixed  []facet // what is seen on the faces: windows, doors, switches
	hung   []hung
	ground []facet
	floor  plane.Region
}

// A hung is one piece as it hangs, and the shadow it throws on its face depends on who looks.
type hung struct {
	facet
	rings  []plane.Ring // on its face
	inside bool         // so far from the edges of its face that its shadow falls on the face
	off    float64      // how far it stands out
}

// ErrNoRoom says that there is nothing to look at.
var ErrNoRoom = errors.New("the site has no face to look at")

// New makes the scene of a work. The error says which piece or face makes no sense.
func New(w holemap.Work) (Scene, error) {
	s := Scene{work: w, walls: make([]int, len(w.Site.Room.Walls))}
	for i := range s.walls {
		s.walls[i] = slices.IndexFunc(w.Site.Faces, func(f wall.Face) bool { return f.Wall == i && f.IsWall() })
	}
	for i, f := range w.Site.Faces {
		if f.Outline.Empty() {
			continue
		}
		s.faces = append(s.faces, facet{
			name: w.Site.Title(i), face: i, solid: true, rank: rankFace,
			level: levelAt(f.Frame.Origin, f.Frame.Out),
			loops: lifted(f.Frame, f.Outline.Rings(), 0),
			fill:  s.faceColour(f), edge: roomEdge,
		}.settle())
	}
	if len(s.faces) == 0 {
		return Scene{}, ErrNoRoom
	}
	s.fit()
	if err := s.hang(); err != nil {
		return Scene{}, err
	}
	return s, s.lay()
}

// faceColour returns the colour of a face: what is built is as its wall is, what was put there is
// a little darker.
func (s *Scene) faceColour(f wall.Face) draw.Colour {
	if f.Obstruction < 0 {
		return wallColour
	}
	o := s.work.Site.Room.Walls[f.Wall].Obstructions[f.Obstruction]
	switch {
	case o.Kind == wall.Fireplace && o.Depth < 0:
		return hearthColour
	case o.Depth < 0, o.Kind == wall.Chimney, o.Kind == wall.Bulkhead, o.Kind == wall.Column, o.Kind == wall.Boxing:
		return wallColour
	}
	return bodyColour
}

// hang puts up the pieces.
func (s *Scene) hang() error {
	outlines := make([]plane.Ring, len(s.work.Kinds))
	for i, k := range s.work.Kinds {
		outlines[i] = coarse(k.Outline)
	}
	index := make([]*plane.Index, len(s.work.Site.Faces))
	for _, p := range s.work.Layout.Pieces {
		switch {
		case p.Kind < 0 || p.Kind >= len(outlines):
			return fmt.Errorf("piece %d is of kind number %d, and there are %d kinds", p.ID, p.Kind, len(outlines))
		case p.Face < 0 || p.Face >= len(index) || s.work.Site.Faces[p.Face].Outline.Empty():
			return fmt.Errorf("piece %d hangs on face number %d, which is not in the room", p.ID, p.Face)
		}
		kind, face := s.work.Kinds[p.Kind], s.work.Site.Faces[p.Face]
		if index[p.Face] == nil {
			index[p.Face] = plane.NewIndex(face.Outline)
		}
		ring := outlines[p.Kind].Place(p.At, p.Heading.Angle())
		if len(ring) < 3 {
			continue
		}
		colour := draw.Colour(kind.Colour)
		s.hung = append(s.hung, hung{
			facet: facet{
				name: fmt.Sprintf("piece %d", p.ID), face: p.Face, rank: rankPiece,
				level: levelAt(face.Frame.Lift(plane.Point{}, kind.StandOff), face.Frame.Out),
				loops: lifted(face.Frame, []plane.Ring{ring}, kind.StandOff),
				fill:  colour, edge: draw.Stroke{Width: draw.Width013 / 2, Colour: mix(colour, shadeColour, 0.55)},
			}.settle(),
			rings:  []plane.Ring{ring},
			inside: index[p.Face].Clear(p.At, ring.Map(func(q plane.Point) plane.Point { return q.Sub(p.At) }).Reach()+3*kind.StandOff),
			off:    kind.StandOff,
		})
	}
	return nil
}

// coarse returns the ring without the corners that no picture of a whole room shows.
func coarse(r plane.Ring) plane.Ring {
	b := r.Bounds()
	return r.Simplify(math.Max(b.Width(), b.Height()) / 250)
}

// fit puts onto the faces what is flat and fixed to the walls, and what can be seen at the front of
// what stands out or at the back of a recess.
func (s *Scene) fit() {
	for i, w := range s.work.Site.Room.Walls {
		front, found := s.wallFace(i)
		if !found {
			continue
		}
		order := make([]int, len(w.Obstructions))
		for j := range order {
			order[j] = j
		}
		slices.SortStableFunc(order, func(a, b int) int {
			return cmp.Compare(w.Obstructions[b].Shape.Area(), w.Obstructions[a].Shape.Area())
		})
		for _, j := range order {
			o := w.Obstructions[j]
			own, has := s.ownFace(i, j)
			switch {
			case (o.Kind == wall.Cable || o.Kind == wall.Pipe) && o.Depth <= 0: // in the wall
			case has:
				s.glaze(o, own, s.work.Site.Faces[own].Outline)
				if o.Round {
					s.round(o, front, own)
				}
			default:
				s.fix(o, s.bearer(o, i, front), front)
			}
		}
		if w.Alone != nil && w.Alone.Thickness >= wall.MinLength {
			s.rim(w, front)
		}
	}
}

// wallFace returns the index of the face that is the wall itself.
func (s *Scene) wallFace(i int) (int, bool) { return s.walls[i], s.walls[i] >= 0 }

// ownFace returns the index of the face that is the front of an obstruction, or its back where it
// is a recess.
func (s *Scene) ownFace(i, obstruction int) (int, bool) {
	at := slices.IndexFunc(s.work.Site.Faces, func(f wall.Face) bool {
		return f.Wall == i && f.Obstruction == obstruction && (f.Side == wall.Front || f.Side == wall.Back)
	})
	return at, at >= 0
}

// bearer returns the face of the wall that o is seen on: the foremost that has room for all of it
// and looks the way the wall does, or else the wall.
func (s *Scene) bearer(o wall.Obstruction, i, front int) int {
	best, most := front, math.Inf(-1)
	frame := s.work.Site.Faces[front].Frame
	for j, f := range s.work.Site.Faces {
		if f.Wall != i || f.Frame.Out.Dot(frame.Out) < 1-1e-9 {
			continue
		}
		_, off := frame.Local(f.Frame.Origin)
		if off > most && f.Outline.Holds(o.Shape.Map(moved(frame, f.Frame))) {
			best, most = j, off
		}
	}
	return best
}

// moved returns what carries points of one frame to those of another straight before it.
func moved(from, to space.Frame) func(plane.Point) plane.Point {
	return func(p plane.Point) plane.Point {
		q, _ := to.Local(from.At(p))
		return q
	}
}

// on returns the facet of something flat that lies on a face.
func (s *Scene) on(face int, r plane.Region, rank int, fill draw.Colour) facet {
	f := s.work.Site.Faces[face]
	return facet{
		name: s.work.Site.Title(face), face: face, rank: rank,
		level: levelAt(f.Frame.Origin, f.Frame.Out),
		loops: lifted(f.Frame, r.Rings(), 0),
		fill:  fill, edge: fittingEdge,
	}.settle()
}

// fix puts onto a face what can be seen there of a flat thing.
func (s *Scene) fix(o wall.Obstruction, face, front int) {
	f := s.work.Site.Faces[face]
	shape := plane.RegionOf(o.Shape.Map(moved(s.work.Site.Faces[front].Frame, f.Frame)))
	seen, err := shape.Intersection(f.Outline)
	if err != nil || seen.Area() < shape.Area()/100 {
		return // behind something
	}
	s.fixed = append(s.fixed, s.on(face, seen, rankFitting, fittingColour(o.Kind)))
	s.glaze(o, face, seen)
}

// glaze draws the frame and the pane of a window, or of a door the frame and the leaf.
func (s *Scene) glaze(o wall.Obstruction, face int, seen plane.Region) {
	wide, colour := 0.0, draw.Colour{}
	switch o.Kind {
	case wall.Window:
		wide, colour = 55, glassColour
	case wall.Door, wall.ExitDoor, wall.Hatch:
		wide, colour = 70, mix(doorColour, frameColour, 0.35)
	default:
		return
	}
	if o.Depth != 0 {
		s.fixed = append(s.fixed, s.on(face, seen, rankFitting, fittingColour(o.Kind)))
	}
	if inner, err := seen.Grow(-wide); err == nil && !inner.Empty() {
		s.fixed = append(s.fixed, s.on(face, inner, rankPane, colour))
	}
}

// rim closes the edge of a wall that stands alone, between its front and its back.
func (s *Scene) rim(w wall.Wall, front int) {
	f := s.work.Site.Faces[front].Frame
	for i, a := range w.Outline {
		b := w.Outline[(i+1)%len(w.Outline)]
		s.ground = append(s.ground, s.strip(f, front, a, b, 0, -w.Alone.Thickness, 1))
	}
}

// strip returns the facet square to a face along the line from a to b, between two distances off
// the face. It looks to the right of that line, or to the left where look is below 0.
func (s *Scene) strip(f space.Frame, face int, a, b plane.Point, from, to, look float64) facet {
	out := plane.Point{X: b.Y - a.Y, Y: a.X - b.X}
	normal := f.Right.Scale(out.X).Add(f.Up.Scale(out.Y)).Scale(look / out.Len())
	return facet{
		name: s.work.Site.Title(face), face: -1, rank: rankFitting,
		level: levelAt(f.Lift(a, from), normal),
		loops: []loop{{{at: f.Lift(a, from)}, {at: f.Lift(b, from)}, {at: f.Lift(b, to)}, {at: f.Lift(a, to)}}},
		fill:  wallColour, edge: roomEdge,
	}.settle()
}

// round adds the curved side of a round thing, or of a round recess, as a ring of flat strips, and
// a disc under it that closes what the strips leave of the wall.
func (s *Scene) round(o wall.Obstruction, front, own int) {
	const strips = 24
	frame := s.work.Site.Faces[front].Frame
	_, top := frame.Local(s.work.Site.Faces[own].Frame.Origin)
	foot := top - o.Depth
	ring := o.Shape
	for len(ring) >= 2*strips {
		half := make(plane.Ring, 0, len(ring)/2+1)
		for i := 0; i < len(ring); i += 2 {
			half = append(half, ring[i])
		}
		ring = half
	}
	if o.Depth < 0 { // behind the edge of the hole in the wall, so that nothing shows between
		c := o.Shape.Bounds().Centre()
		ring = ring.Map(func(p plane.Point) plane.Point { return c.Add(p.Sub(c).Scale(1.01)) })
	}
	for i, a := range ring {
		side := s.strip(frame, own, a, ring[(i+1)%len(ring)], foot, top, math.Copysign(1, o.Depth))
		side.face, side.fill, side.edge = own, s.faceColour(s.work.Site.Faces[own]), draw.Stroke{}
		s.fixed = append(s.fixed, side)
	}
	if o.Depth > 0 {
		base := facet{
			name: s.work.Site.Title(own), face: own, rank: rankFitting,
			level: levelAt(frame.Lift(plane.Point{}, foot), frame.Out),
			loops: lifted(frame, []plane.Ring{o.Shape}, foot),
			fill:  mix(bodyColour, shadeColour, 0.2), edge: fittingEdge,
		}
		s.fixed = append(s.fixed, base.settle())
	}
}
