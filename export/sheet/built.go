package sheet

import (
	"wallshoal/export/drafting"
	"wallshoal/export/elevation"
	"wallshoal/wall/plane"
)

// built draws, lightly, what the face is built of behind the sheet.
func (l *Leaf) built() {
	if j, known := l.View.Face.Joints(); known && min(j.Course, j.Length) >= elevation.LeastUnitOnTile {
		l.Group("joints")
		elevation.FaceLines(l.Pen, l.Mapping(), l.View.Face.JointLines(l.Area), elevation.JointLine)
		l.End()
	}
	if _, known := l.View.Face.Studs(); known {
		l.Group("studs")
		elevation.FaceLines(l.Pen, l.Mapping(), l.studsShown(), elevation.StudLine)
		l.End()
	}
}

// builtWords names every stud on the sheet where there is room.
func (l *Leaf) builtWords() {
	word, known := l.StudWord()
	if !known {
		return
	}
	for _, s := range l.studsShown() {
		a, b := l.ToPage(s[0]), l.ToPage(s[1])
		if box, found := elevation.Beside(l.spots, a, b, word, elevation.BitHeight); found {
			l.spots.Take(box, worthLabel)
			l.Note(elevation.BesideNote(s, word, elevation.BitHeight), box, drafting.Quiet)
		}
	}
}

// studsShown returns the parts of the studs' middles that are on the sheet.
func (l *Leaf) studsShown() [][2]plane.Point {
	var out [][2]plane.Point
	for _, s := range l.View.Face.StudLines() {
		if a, b, shown := drafting.Within(s[0], s[1], l.Area); shown {
			out = append(out, [2]plane.Point{a, b})
		}
	}
	return out
}
