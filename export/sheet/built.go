package sheet

import (
	"math"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// The lines of what a face is built of. Studs are thinner and lighter than what is cut along, and
// joints lighter yet.
var (
	studLine  = draw.Stroke{Width: draw.Width018, Colour: soft, Dash: draw.Dashed}
	jointLine = shade(hair, faint)
)

// The least size that a unit of masonry or a tile has on paper where its joints are drawn, mm:
// smaller ones would fill the sheet.
const (
	leastUnit       = 1.5
	leastUnitOnTile = 20.0
)

// studWord returns what the sheets call the studs of the face, and whether any are known.
func (v view) studWord() (string, bool) {
	s, known := v.face.Studs()
	return joined(" ", s.Material, wordOf(v.wall)), known
}

// studWords says which studs the face has.
func (v view) studWords() string {
	s, known := v.face.Studs()
	if !known {
		return ""
	}
	word, _ := v.studWord()
	spaced := ""
	if len(s.At) == 0 {
		spaced = "every " + v.figure(s.Spacing)
	}
	return joined(", ", word+"s", v.figure(s.Width)+" wide", spaced)
}

// holeRuleWords says where holes go on the face as regards studs or joints of that name.
func holeRuleWords(rule wall.HoleRule, names string) string {
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
func (p *picture) built() {
	if p.calm {
		return
	}
	if j, known := p.face.Joints(); known && min(j.Course, j.Length)*p.k >= leastUnit {
		p.Group("joints")
		p.faceLines(p.mapping, p.face.JointLines(p.bounds), jointLine)
		p.End()
	}
	if _, known := p.face.Studs(); known {
		p.Group("studs")
		p.faceLines(p.mapping, p.face.StudLines(), studLine)
		p.End()
	}
}

// faceLines draws lines of a face.
func (p pen) faceLines(m mapping, lines [][2]plane.Point, s draw.Stroke) {
	for _, l := range lines {
		p.Line(m.at(l[0]), m.at(l[1]), s)
	}
}

// builtWords writes once, along one of the studs, what they are. Where nothing is free, the lines
// speak for themselves, and the key says more.
func (p *picture) builtWords() {
	text := p.studWords()
	if p.calm || text == "" {
		return
	}
	word, _ := p.studWord()
	for _, words := range []string{text, word + "s"} {
		for _, l := range p.face.StudLines() {
			if box, found := p.spots.beside(p.mapping.at(l[0]), p.mapping.at(l[1]), words, least); found {
				p.spots.take(box, worthText)
				p.note(besideNote(l, words, least), box, quiet)
				return
			}
		}
	}
}

// besideNote is a text that runs along a line of a face.
func besideNote(l [2]plane.Point, text string, height float64) note {
	return note{lines: []string{text}, height: height, turned: upright(l[0], l[1])}
}

// upright reports whether a line runs up rather than across.
func upright(a, b plane.Point) bool { return math.Abs(a.X-b.X) < math.Abs(a.Y-b.Y) }

// beside finds a free place for a text close along a line from a to b on the page, which runs level or
// upright.
func (s *spots) beside(a, b plane.Point, text string, height float64) (plane.Rect, bool) {
	const air = 0.3
	width, deep := besideNote([2]plane.Point{a, b}, text, height).size()
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
			c := sized(at.Add(off.Scale(side)), width, deep)
			reach := plane.Ring{a, b}.Bounds().Grow(width/2 + deep/2 + air)
			if reach.Contains(c.Min) && reach.Contains(c.Max) {
				places = append(places, c)
			}
		}
	}
	box, cost, found := s.best(places)
	return box, found && cost == 0
}

// built draws, lightly, what the face is built of behind the sheet.
func (l *leaf) built() {
	if j, known := l.face.Joints(); known && min(j.Course, j.Length) >= leastUnitOnTile {
		l.Group("joints")
		l.faceLines(l.mapping(), l.face.JointLines(l.Area), jointLine)
		l.End()
	}
	if _, known := l.face.Studs(); known {
		l.Group("studs")
		l.faceLines(l.mapping(), l.studsShown(), studLine)
		l.End()
	}
}

// studsShown returns the parts of the studs' middles that are on the sheet.
func (l *leaf) studsShown() [][2]plane.Point {
	var out [][2]plane.Point
	for _, s := range l.face.StudLines() {
		if a, b, shown := within(s[0], s[1], l.Area); shown {
			out = append(out, [2]plane.Point{a, b})
		}
	}
	return out
}

// builtWords names every stud on the sheet where there is room.
func (l *leaf) builtWords() {
	word, known := l.studWord()
	if !known {
		return
	}
	for _, s := range l.studsShown() {
		a, b := l.ToPage(s[0]), l.ToPage(s[1])
		if box, found := l.spots.beside(a, b, word, bitHeight); found {
			l.spots.take(box, worthLabel)
			l.note(besideNote(s, word, bitHeight), box, quiet)
		}
	}
}

// builtSigns explains the lines of studs and joints, where a face of the page has any.
func (k *keyPage) builtSigns() []row {
	var studs, joints []string
	for _, f := range k.faces {
		if s, known := f.face.Studs(); known {
			word, _ := f.studWord()
			studs = append(studs, joined(": ", "middle of a "+word+", "+f.length(s.Width)+" wide", holeRuleWords(s.Holes, wordOf(f.wall)+"s")))
		}
		if j, known := f.face.Joints(); known {
			joints = append(joints, joined(": ", "middle of a joint, "+f.length(j.Width)+" wide", holeRuleWords(j.Holes, "joints")))
		}
	}
	slices.Sort(studs)
	slices.Sort(joints)
	var rows []row
	line := func(s draw.Stroke) func(p pen, box plane.Rect) {
		return func(p pen, box plane.Rect) { p.line(box.Min.X, box.Centre().Y, box.Max.X, box.Centre().Y, s) }
	}
	for _, text := range slices.Compact(studs) {
		rows = append(rows, row{line(studLine), "", text, false})
	}
	for _, text := range slices.Compact(joints) {
		rows = append(rows, row{line(jointLine), "", text, false})
	}
	return rows
}

// wordOf returns what the studs of a wall or a ceiling are called.
func wordOf(w wall.Wall) string {
	if w.Ceiling {
		return "joist"
	}
	return "stud"
}
