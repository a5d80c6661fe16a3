package sheet

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/roomview"
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
	miniatureName = 3.0  // the name under a wall
	miniatureGap  = 2.5
)

// ContactSheets draws the variants, six to a page of the client's paper: the room and the walls of
// each in small pictures, its seed and its measures. The error says why a work cannot be drawn.
func ContactSheets(c draw.Canvas, variants []Variant, about Contact, p Print) error {
	paper := clientPaper(p.Paper)
	from, err := viewpoint(variants)
	if err != nil {
		return err
	}
	const each = contactAcross * contactDown
	pages := (len(variants) + each - 1) / each
	for n := range pages {
		some := variants[n*each : min(len(variants), (n+1)*each)]
		s := contactSheet{pen: pen{c}, about: about, width: paper.Width, height: paper.Height, first: n*each + 1, all: len(variants), from: from}
		if err := s.draw(some, contactDown, fmt.Sprintf("page %d of %d", n+1, pages)); err != nil {
			return err
		}
	}
	return nil
}

// ContactStrip draws the variants on one page, as wide as the client's paper and as long as it must
// be. The error says why a work cannot be drawn.
func ContactStrip(c draw.Canvas, variants []Variant, about Contact, p Print) error {
	from, err := viewpoint(variants)
	if err != nil {
		return err
	}
	paper := clientPaper(p.Paper)
	s := contactSheet{pen: pen{c}, about: about, width: paper.Width, height: paper.Height, first: 1, all: len(variants), from: from}
	rows := (len(variants) + contactAcross - 1) / contactAcross
	row := (s.body().Height() + contactGap) / contactDown
	s.height += row * float64(rows-contactDown)
	return s.draw(variants, rows, "")
}

// viewpoint returns a picture of the room from where all variants are to be seen: the first one's.
func viewpoint(variants []Variant) (roomview.Picture, error) {
	if len(variants) == 0 {
		return roomview.Picture{}, ErrNoPieces
	}
	scene, err := roomview.New(variants[0].Work)
	if err != nil {
		return roomview.Picture{}, err
	}
	return scene.Perspective(), nil
}

// A contactSheet is one page of variants.
type contactSheet struct {
	pen
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
		out = append(out, wrapped(text, least, s.area().Width())...)
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
	v := view{work: variants[0].Work}
	v.header(s.pen, area, s.shows(len(variants)))
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
		colour := quiet
		if i == 0 {
			colour = ink
		}
		s.say(area.Min.X, y, least, line, area.Width(), style{colour: colour})
		y += contactLine
	}
	s.say(area.Max.X, area.Max.Y+4, least, joined(" · ", "pictures not to scale", number), 0, style{align: draw.Right, colour: quiet})
	return nil
}

// shows says which of the variants are on the page, from its first one on.
func (s contactSheet) shows(here int) string {
	last := s.first + here - 1
	switch {
	case here == s.all:
		return count(s.all, "variant to choose from", "variants to choose from")
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
	s.line(box.Min.X, box.Min.Y, box.Max.X, box.Min.Y, medium)
	s.say(box.Min.X, box.Min.Y+4.9, draw.Letter35, fmt.Sprintf("seed %d", v.Work.Layout.Seed), 0.6*box.Width(), style{bold: true})
	s.say(box.Max.X, box.Min.Y+4.7, least, "fingerprint "+v.Work.Map.Fingerprint, 0.38*box.Width(), style{align: draw.Right, colour: quiet})
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
		walls.Min.Y = room.Max.Y + miniatureGap
		return room, walls
	}
	room.Max.X = room.Min.X + right*shape
	walls.Min.X = room.Max.X + miniatureGap
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
		room := width / otherFonts
		s.say(x, y, least, m.Name, 0.45*room, style{colour: quiet})
		s.say(x+width, y, least, value, 0.55*room, style{bold: m.Best, align: draw.Right})
	}
}

// miniatures draws the walls that carry pieces into an area, all at one scale, as large as fits.
func (s contactSheet) miniatures(w holemap.Work, area plane.Rect) error {
	walls, err := miniatures(s.pen, w, (*development).carries)
	if err != nil {
		return err
	}
	if len(walls) == 0 {
		return ErrNoPieces
	}
	ratio := ratioFor(walls, area.Width(), area.Height())
	corners, took := inRows(walls, area.Width(), ratio)
	shift := area.Min.Add(plane.Point{X: (area.Width() - took.X) / 2, Y: (area.Height() - took.Y) / 2})
	for i, p := range walls {
		p.miniature(corners[i].Add(shift), ratio)
	}
	return nil
}

// miniatures returns pictures of the walls that are to be shown, so small that they show nothing but the
// wall, what stands on it and what hangs there.
func miniatures(p pen, w holemap.Work, shown func(*development) bool) ([]*picture, error) {
	var walls []*picture
	for _, i := range Elevations(w.Site) {
		d, err := develop(p, w, i, true)
		if err != nil {
			return nil, err
		}
		if !shown(d) {
			continue
		}
		for _, p := range append([]*picture{d.main}, d.main.fronts...) {
			p.tiny = true
		}
		walls = append(walls, d.main)
	}
	return walls, nil
}

// ratioFor returns the scale, 1:ratio, at which pictures in rows fit into an area.
func ratioFor(walls []*picture, width, height float64) float64 {
	ratio := 1.0
	_, took := inRows(walls, width, ratio)
	for (took.X > width || took.Y > height) && ratio < 1e6 {
		ratio *= 1.01
		_, took = inRows(walls, width, ratio)
	}
	return ratio
}

// inRows puts pictures at a scale of 1:ratio in rows of at most the given width, and returns their
// top-left corners from that of all, and the width and height that they take.
func inRows(pictures []*picture, width, ratio float64) (corners []plane.Point, took plane.Point) {
	var at plane.Point
	deep := 0.0
	for _, p := range pictures {
		wide, high := p.bounds.Width()/ratio, p.bounds.Height()/ratio+miniatureName
		if at.X > 0 && at.X+wide > width {
			at, deep = plane.Point{Y: at.Y + deep + miniatureGap/2}, 0
		}
		corners = append(corners, at)
		deep = math.Max(deep, high)
		took = plane.Point{X: math.Max(took.X, at.X+wide), Y: math.Max(took.Y, at.Y+high)}
		at.X += wide + miniatureGap
	}
	return corners, took
}

// miniature draws the picture at a scale of 1:ratio with the top-left corner of the wall at the given
// point, and its name below where there is room for it.
func (p *picture) miniature(corner plane.Point, ratio float64) {
	p.mapping = mapping{k: 1 / ratio, origin: plane.Point{X: corner.X - p.bounds.Min.X/ratio, Y: corner.Y + p.bounds.Max.Y/ratio}}
	p.settle(newSpots(p.mapping.box(p.bounds)))
	p.Group("wall " + p.name())
	defer p.End()
	p.Polygon(p.mapping.rings(p.view.rings), draw.Paint{Fill: draw.Solid(draw.White), Stroke: medium})
	p.standing()
	p.hang()
	for _, f := range p.fronts {
		at, _ := p.face.Frame.Local(f.face.Frame.Origin)
		f.mapping = mapping{origin: p.mapping.at(at), k: p.k}
		f.settle(p.spots)
		f.hang()
	}
	b := p.mapping.box(p.bounds)
	if wide(p.wall.Name, least, false)*otherFonts < b.Width()+miniatureGap {
		p.say(b.Min.X, b.Max.Y+miniatureName-0.4, least, p.wall.Name, 0, style{colour: quiet})
	}
}

// coarser returns a ring on the page without the corners that no eye tells from those before them.
func coarser(ring plane.Ring) plane.Ring {
	const told = 0.15 // mm
	out := plane.Ring{ring[0]}
	for _, q := range ring[1:] {
		if q.Distance(out[len(out)-1]) >= told {
			out = append(out, q)
		}
	}
	if len(out) < 3 {
		return ring
	}
	return out
}
