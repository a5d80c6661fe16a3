// Package screen draws faces and the room for a screen: as they will look, as they are drilled, and what can be laid
// over either.
package screen

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A Look is what a picture for a screen is for.
type Look string

// The looks of a picture.
const (
	LookClient Look = "client" // as it will look
	LookHoles  Look = "holes"  // what is drilled where: outlines, codes, headings, crosses with their numbers
)

// Looks returns all of them.
func Looks() []Look { return []Look{LookClient, LookHoles} }

// A picture for a screen is a drawing on paper made as large as the wall. The paper is so long, mm, that its
// lines and letters read on a screen and, held close, on a telephone.
const (
	screenLong = 200.0
	screenRim  = 5.0 // round the face
)

// A screen is one face on a page on which a unit is 1 mm of the wall.
type screen struct {
	*elevation.Picture
	page  draw.Canvas
	frame plane.Rect // of the page, on the face
	paper plane.Rect // the page as it is drawn, mm of the paper
}

// Frame returns what of a face a picture for the screen shows, in the face's coordinates, mm: its
// bounds, in whole millimetres, and a rim. It is empty where the site has no such face. The place
// (x, y) of the face lies at (x - Min.X, Max.Y - y) on the page.
func Frame(w holemap.Work, face int) plane.Rect {
	b := screenBounds(w, face)
	if b == (plane.Rect{}) {
		return b
	}
	b = b.Grow(math.Ceil(screenRim * screenRatio(b)))
	return plane.Rect{
		Min: plane.Point{X: math.Floor(b.Min.X), Y: math.Floor(b.Min.Y)},
		Max: plane.Point{X: math.Ceil(b.Max.X), Y: math.Ceil(b.Max.Y)},
	}
}

// screenBounds returns the bounds of what is drawn of a face, which are empty where there is no such face.
func screenBounds(w holemap.Work, face int) plane.Rect {
	if face < 0 || face >= len(w.Site.Faces) {
		return plane.Rect{}
	}
	f := w.Site.Faces[face]
	if (f.IsWall() || f.Name == "") && !f.Whole.Empty() {
		return f.Whole.Bounds()
	}
	if f.Outline.Empty() {
		return plane.Rect{}
	}
	return f.Outline.Bounds()
}

// screenRatio returns how many times as large as on its paper a face is that has those bounds.
func screenRatio(bounds plane.Rect) float64 {
	return math.Max(bounds.Width(), bounds.Height()) / screenLong
}

// newScreen begins the page of a face.
func newScreen(c draw.Canvas, w holemap.Work, face int) (*screen, error) {
	frame, ratio := Frame(w, face), screenRatio(screenBounds(w, face))
	d, err := elevation.Develop(drafting.Pen{Canvas: drafting.Enlarged{Canvas: c, By: ratio}}, w, face, true)
	if err != nil {
		return nil, err
	}
	s := &screen{Picture: d.Main, page: c, frame: frame}
	s.Mapping = drafting.Mapping{K: 1 / ratio, Origin: plane.Point{X: -frame.Min.X / ratio, Y: frame.Max.Y / ratio}}
	s.paper = s.Mapping.Box(frame)
	s.Settle(drafting.NewSpots(s.paper.Grow(-0.5)))
	for _, f := range s.Fronts {
		at, _ := s.Face.Frame.Local(f.Face.Frame.Origin)
		f.Mapping = drafting.Mapping{Origin: s.Mapping.At(at), K: s.K}
		f.Settle(s.Spots)
	}
	c.Page(frame.Width(), frame.Height())
	return s, nil
}

// Face draws a face of a work with what stands on it and the pieces that hang there, a millimetre of
// the wall for each unit of the page, which is what Frame says. The error says why the face cannot
// be drawn.
func Face(c draw.Canvas, w holemap.Work, face int, as Look) error {
	if !slices.Contains(Looks(), as) {
		return fmt.Errorf("%q is no look of a picture", as)
	}
	s, err := newScreen(c, w, face)
	if err != nil {
		return err
	}
	if as == LookHoles {
		s.holesOf()
		return nil
	}
	s.asItWillLook()
	return nil
}

// Letters are seen once they are so many pixels high, and in any case where a unit of the page is so many pixels.
const (
	letterLeast = 6.0
	nearMost    = 2.0
)

// legible calls f, and has the marks that it draws seen once letters of that size, mm of the paper, can be read.
func (s *screen) legible(size float64, f func()) {
	z, ok := s.page.(draw.Zoomed)
	if ok {
		z.Near(s.frame.Width() * math.Min(nearMost, letterLeast*s.K/size))
		defer z.EndNear()
	}
	f()
}

// bare draws the face and what stands on it, as the pages do, with what on draws of the face between.
func (s *screen) bare(on func()) {
	s.Floor()
	s.Polygon(s.Mapping.Rings(s.View.Rings), draw.Paint{Fill: draw.Solid(draw.White)})
	if s.Covered() {
		s.Polygon(s.Mapping.Rings(s.View.Rings), draw.Paint{Fill: draw.Solid(draw.Grey(242))})
		s.Polygon(s.Mapping.Rings(s.Face.Outline.Rings()), draw.Paint{Fill: draw.Solid(draw.White), Stroke: drafting.Thin})
	}
	on()
	s.Polygon(s.Mapping.Rings(s.View.Rings), draw.Paint{Stroke: drafting.Bold})
	s.Standing()
}

// thingNames names what stands on the face: in it where there is room, else beside it where nothing is
// covered.
func (s *screen) thingNames() {
	for n, i := range s.Order {
		var nearer []wall.Obstruction
		for _, j := range s.Order[n+1:] {
			nearer = append(nearer, s.Things[j])
		}
		if o := s.Things[i]; !s.nameLarge(o, nearer) && !s.ObstructionName(o, nearer) {
			s.nameClear(o)
		}
	}
	s.WallNames(s.Pen, s.Mapping, s.Spots, false)
}

// nameLarge writes the name of a thing into it in letters that read on a telephone, and reports whether
// there was room.
func (s *screen) nameLarge(o wall.Obstruction, nearer []wall.Obstruction) bool {
	area := s.Mapping.Box(o.Shape.Bounds())
	n := oneLine(o.Name, draw.Letter35)
	return n.Long()+3 < area.Width() && s.NameWithin(n, area, o, nearer)
}

// nameClear writes the name of a thing next to it, on the face, where that covers nothing.
func (s *screen) nameClear(o wall.Obstruction) {
	n := drafting.Note{Lines: []string{o.Name}, Height: drafting.Least}
	width, height := n.Size()
	onFace := func(q plane.Point) bool { return s.Outline.Contains(s.Back(q)) }
	for _, c := range s.PlacesBeside(o, width, height) {
		free := s.Spots.Within.Contains(c.Min) && s.Spots.Within.Contains(c.Max) && s.Spots.Cost(c) == 0
		if free && drafting.CornersWithin(c, onFace) && !s.CrossesAnEdge(c, o) {
			s.Spots.Take(c, elevation.WorthText)
			s.Note(n, c, drafting.Quiet)
			return
		}
	}
}
