package elevation

import (
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// The lines of what a face is built of. Studs are thinner and lighter than what is cut along, and
// joints lighter yet.
var (
	StudLine  = draw.Stroke{Width: draw.Width018, Colour: drafting.Soft, Dash: draw.Dashed}
	JointLine = drafting.Shade(drafting.Hair, drafting.Faint)
)

// The least size that a unit of masonry or a tile has on paper where its joints are drawn, mm:
// smaller ones would fill the sheet.
const (
	leastUnit       = 1.5
	LeastUnitOnTile = 20.0
)

// StudWord returns what the sheets call the studs of the face, and whether any are known.
func (v View) StudWord() (string, bool) {
	s, known := v.Face.Studs()
	return drafting.Joined(" ", s.Material, WordOf(v.Wall)), known
}

// studWords says which studs the face has.
func (v View) studWords() string {
	s, known := v.Face.Studs()
	if !known {
		return ""
	}
	word, _ := v.StudWord()
	spaced := ""
	if len(s.At) == 0 {
		spaced = "every " + v.figure(s.Spacing)
	}
	return drafting.Joined(", ", word+"s", v.figure(s.Width)+" wide", spaced)
}

// HoleRuleWords says where holes go on the face as regards studs or joints of that name.
func HoleRuleWords(rule wall.HoleRule, names string) string {
	switch rule {
	case wall.HolesOn:
		return "holes in " + names + " only"
	case wall.HolesOff:
		return "no holes in " + names
	}
	return ""
}

// built draws what the face is built of, where the picture is for somebody who measures: the middles
// of the studs, and the joints where they are not too close.
func (p *Picture) built() {
	if p.calm {
		return
	}
	if j, known := p.Face.Joints(); known && min(j.Course, j.Length)*p.K >= leastUnit {
		p.Group("joints")
		FaceLines(p.Pen, p.Mapping, p.Face.JointLines(p.Bounds), JointLine)
		p.End()
	}
	if _, known := p.Face.Studs(); known {
		p.Group("studs")
		FaceLines(p.Pen, p.Mapping, p.Face.StudLines(), StudLine)
		p.End()
	}
}

// FaceLines draws lines of a face.
func FaceLines(p drafting.Pen, m drafting.Mapping, lines [][2]plane.Point, s draw.Stroke) {
	for _, l := range lines {
		p.Line(m.At(l[0]), m.At(l[1]), s)
	}
}

// builtWords writes once, along one of the studs, what they are. Where nothing is free, the lines
// speak for themselves, and the key says more.
func (p *Picture) builtWords() {
	text := p.studWords()
	if p.calm || text == "" {
		return
	}
	word, _ := p.StudWord()
	for _, words := range []string{text, word + "s"} {
		for _, l := range p.Face.StudLines() {
			if box, found := Beside(p.Spots, p.Mapping.At(l[0]), p.Mapping.At(l[1]), words, drafting.Least); found {
				p.Spots.Take(box, WorthText)
				p.Note(BesideNote(l, words, drafting.Least), box, drafting.Quiet)
				return
			}
		}
	}
}

// BesideNote is a text that runs along a line of a face.
func BesideNote(l [2]plane.Point, text string, height float64) drafting.Note {
	return drafting.Note{Lines: []string{text}, Height: height, Turned: upright(l[0], l[1])}
}

// upright reports whether a line runs up rather than across.
func upright(a, b plane.Point) bool { return math.Abs(a.X-b.X) < math.Abs(a.Y-b.Y) }

// Beside finds a free place for a text close along a line from a to b on the page, which runs level or
// upright.
func Beside(s *drafting.Spots, a, b plane.Point, text string, height float64) (plane.Rect, bool) {
	const air = 0.3
	width, deep := BesideNote([2]plane.Point{a, b}, text, height).Size()
	off, room := plane.Point{X: width/2 + air}, a.Distance(b)-deep
	if !upright(a, b) {
		off, room = plane.Point{Y: deep/2 + air}, a.Distance(b)-width
	}
	if room < 0 {
		return plane.Rect{}, false
	}
	var places []plane.Rect
	for _, t := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88} {
		at := a.Lerp(b, t)
		for _, side := range []float64{-1, 1} {
			c := drafting.BoxAt(at.Add(off.Scale(side)), width, deep)
			reach := plane.Ring{a, b}.Bounds().Grow(width/2 + deep/2 + air)
			if reach.Contains(c.Min) && reach.Contains(c.Max) {
				places = append(places, c)
			}
		}
	}
	box, cost, found := s.Best(places)
	return box, found && cost == 0
}

// WordOf returns what the studs of a wall or a ceiling are called.
func WordOf(w wall.Wall) string {
	if w.Ceiling {
		return "joist"
	}
	return "stud"
}
