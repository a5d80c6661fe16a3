// Package contactpage draws variants of one work side by side, to choose from.
package contactpage

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/roompage"
	"wallshoal/export/roomview"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// A Variant is one of several layouts of a plan to choose from.
type Variant struct {
	Work     holemap.Work
	Measures []Measure // the same of every variant
}

// A Measure is one measure of a variant in words.
type Measure struct {
	Name, Value string
	Best        bool // no other variant does better
}

// A Contact is what a contact sheet says besides its variants.
type Contact struct {
	Take  string   // how to take a variant
	Notes []string // what the measures mean, a line each
}

// The parts of a contact sheet, mm.
const (
	contactRim    = 12.0
	contactHead   = 17.0 // title and what is shown
	contactGap    = 5.0  // between two variants
	contactLine   = 3.4  // from one line of small letters to the next
	contactAcross = 2    // variants in a row
	contactDown   = 3    // rows on a page
	contactName   = 6.5  // the seed over a variant
	contactWalls  = 0.36 // of a variant's pictures, at least, for the walls beside the room
)

// Sheets draws the variants, six to a page of the client's paper: the room and the walls of
// each in small pictures, its seed and its measures. The error says why a work cannot be drawn.
func Sheets(c draw.Canvas, variants []Variant, about Contact, p tiling.Print) error {
	paper := drafting.ReadingPaper(p.Paper)
	from, err := viewpoint(variants)
	if err != nil {
		return err
	}
	const each = contactAcross * contactDown
	pages := (len(variants) + each - 1) / each
	for n := range pages {
		some := variants[n*each : min(len(variants), (n+1)*each)]
		s := contactSheet{Pen: drafting.Pen{Canvas: c}, about: about, width: paper.Width, height: paper.Height, first: n*each + 1, all: len(variants), from: from}
		if err := s.draw(some, contactDown, fmt.Sprintf("page %d of %d", n+1, pages)); err != nil {
			return err
		}
	}
	return nil
}

// Strip draws the variants on one page, as wide as the client's paper and as long as it must
// be. The error says why a work cannot be drawn.
func Strip(c draw.Canvas, variants []Variant, about Contact, p tiling.Print) error {
	from, err := viewpoint(variants)
	if err != nil {
		return err
	}
	paper := drafting.ReadingPaper(p.Paper)
	s := contactSheet{Pen: drafting.Pen{Canvas: c}, about: about, width: paper.Width, height: paper.Height, first: 1, all: len(variants), from: from}
	rows := (len(variants) + contactAcross - 1) / contactAcross
	row := (s.body().Height() + contactGap) / contactDown
	s.height += row * float64(rows-contactDown)
	return s.draw(variants, rows, "")
}

// viewpoint returns a picture of the room from where all variants are to be seen: the first one's.
func viewpoint(variants []Variant) (roomview.Picture, error) {
	if len(variants) == 0 {
		return roomview.Picture{}, elevation.ErrNoPieces
	}
	scene, err := roomview.New(variants[0].Work)
	if err != nil {
		return roomview.Picture{}, err
	}
	return scene.Perspective(), nil
}

// A contactSheet is one page of variants.
type contactSheet struct {
	drafting.Pen
	about         Contact
	width, height float64
	first, all    int // number of the first variant on the page, and of all
	from          roomview.Picture
}

func (s contactSheet) area() plane.Rect {
	return plane.Rect{Max: plane.Point{X: s.width, Y: s.height}}.Grow(-contactRim)
}

// foot returns how high the notes under the variants are.
func (s contactSheet) foot() float64 {
	return 2 + contactLine*float64(len(s.footLines()))
}

// footLines returns what stands under the variants.
func (s contactSheet) footLines() []string {
	var out []string
	for _, text := range slices.Concat([]string{s.about.Take}, s.about.Notes, []string{"●: no other does better"}) {
		out = append(out, drafting.Wrapped(text, drafting.Least, s.area().Width())...)
	}
	return out
}

// body returns what is left for the variants.
func (s contactSheet) body() plane.Rect {
	b := s.area()
	b.Min.Y += contactHead
	b.Max.Y -= s.foot() + 3
	return b
}

// draw draws the page with room for so many rows of variants.
func (s contactSheet) draw(variants []Variant, rows int, number string) error {
	s.Page(s.width, s.height)
	area, body := s.area(), s.body()
	v := elevation.View{Work: variants[0].Work}
	roompage.Header(v, s.Pen, area, s.shows(len(variants)))
	width := (body.Width() - contactGap*(contactAcross-1)) / contactAcross
	height := (body.Height() - contactGap*float64(rows-1)) / float64(rows)
	for i, variant := range variants {
		corner := body.Min.Add(plane.Point{
			X: float64(i%contactAcross) * (width + contactGap),
			Y: float64(i/contactAcross) * (height + contactGap),
		})
		if err := s.variant(variant, plane.Rect{Min: corner, Max: corner.Add(plane.Point{X: width, Y: height})}); err != nil {
			return err
		}
	}
	y := area.Max.Y - s.foot() + contactLine
	for i, line := range s.footLines() {
		colour := drafting.Quiet
		if i == 0 {
			colour = drafting.Ink
		}
		s.Say(area.Min.X, y, drafting.Least, line, area.Width(), drafting.Style{Colour: colour})
		y += contactLine
	}
	s.Say(area.Max.X, area.Max.Y+4, drafting.Least, drafting.Joined(" · ", "pictures not to scale", number), 0, drafting.Style{Align: draw.Right, Colour: drafting.Quiet})
	return nil
}

// shows says which of the variants are on the page, from its first one on.
func (s contactSheet) shows(here int) string {
	last := s.first + here - 1
	switch {
	case here == s.all:
		return drafting.Count(s.all, "variant to choose from", "variants to choose from")
	case here == 1:
		return fmt.Sprintf("Variant %d of %d", last, s.all)
	case here == 2:
		return fmt.Sprintf("Variants %d and %d of %d", s.first, last, s.all)
	}
	return fmt.Sprintf("Variants %d to %d of %d", s.first, last, s.all)
}

// variant draws one variant into its box: its seed, the room, the walls, and its measures.
func (s contactSheet) variant(v Variant, box plane.Rect) error {
	s.Group(fmt.Sprintf("variant, seed %d", v.Work.Layout.Seed))
	defer s.End()
	s.Segment(box.Min.X, box.Min.Y, box.Max.X, box.Min.Y, drafting.Medium)
	s.Say(box.Min.X, box.Min.Y+4.9, draw.Letter35, fmt.Sprintf("seed %d", v.Work.Layout.Seed), 0.6*box.Width(), drafting.Style{Bold: true})
	s.Say(box.Max.X, box.Min.Y+4.7, drafting.Least, "fingerprint "+v.Work.Map.Fingerprint, 0.38*box.Width(), drafting.Style{Align: draw.Right, Colour: drafting.Quiet})
	words := float64((len(v.Measures) + 1) / 2)
	pictures := box
	pictures.Min.Y += contactName
	pictures.Max.Y -= 1 + words*contactLine
	s.measures(v.Measures, plane.Rect{Min: plane.Point{X: box.Min.X, Y: pictures.Max.Y}, Max: box.Max})
	scene, err := roomview.New(v.Work)
	if err != nil {
		return err
	}
	room, walls := beside(pictures, s.from.Shape())
	scene.Like(s.from).Draw(s.Canvas, room)
	return s.miniatures(v.Work, walls)
}

// beside divides an area between the room, which is shape times as wide as high, and its walls: below
// it or to its right, whichever lets the room be larger.
func beside(area plane.Rect, shape float64) (room, walls plane.Rect) {
	below := math.Min((1-contactWalls)*area.Height(), area.Width()/shape)
	right := math.Min((1-contactWalls)*area.Width()/shape, area.Height())
	room, walls = area, area
	if below >= right {
		room.Max.Y = room.Min.Y + below
		walls.Min.Y = room.Max.Y + elevation.MiniatureGap
		return room, walls
	}
	room.Max.X = room.Min.X + right*shape
	walls.Min.X = room.Max.X + elevation.MiniatureGap
	return room, walls
}

// measures writes what is measured, in two columns; the best of each in bold letters, with a mark.
func (s contactSheet) measures(all []Measure, area plane.Rect) {
	rows := (len(all) + 1) / 2
	width := (area.Width() - contactGap) / 2
	for i, m := range all {
		x := area.Min.X + float64(i/rows)*(width+contactGap)
		y := area.Max.Y - contactLine*float64(rows-1-i%rows) - 0.6
		value := m.Value
		if m.Best {
			value += " ●"
		}
		room := width / elevation.OtherFonts
		s.Say(x, y, drafting.Least, m.Name, 0.45*room, drafting.Style{Colour: drafting.Quiet})
		s.Say(x+width, y, drafting.Least, value, 0.55*room, drafting.Style{Bold: m.Best, Align: draw.Right})
	}
}

// miniatures draws the walls that carry pieces into an area, all at one scale, as large as fits.
func (s contactSheet) miniatures(w holemap.Work, area plane.Rect) error {
	walls, err := elevation.Miniatures(s.Pen, w, (*elevation.Development).Carries)
	if err != nil {
		return err
	}
	if len(walls) == 0 {
		return elevation.ErrNoPieces
	}
	ratio := elevation.RatioFor(walls, area.Width(), area.Height())
	corners, took := elevation.InRows(walls, area.Width(), ratio)
	shift := area.Min.Add(plane.Point{X: (area.Width() - took.X) / 2, Y: (area.Height() - took.Y) / 2})
	for i, p := range walls {
		p.Miniature(corners[i].Add(shift), ratio)
	}
	return nil
}
