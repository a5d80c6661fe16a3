package sheet

import (
	"fmt"
	"math"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// neighbours names the sheets whose strips this one covers, and says what to do at its edges.
func (l *leaf) neighbours() {
	f := l.Frame
	left := neighbourRoom(l.Left)
	var upright []plane.Rect
	for _, y := range outwards(f.Centre().Y, f.Height()/4, 6) {
		upright = append(upright, sized(plane.Point{X: f.Min.X - stripLeft/2, Y: y}, draw.Letter25, left))
	}
	if box, _, found := l.paper.best(upright); found && l.Left.Name != "" {
		l.paper.take(box, worthLabel)
		l.neighbour(l.Left, box.Centre(), plane.Point{X: -1})
	}
	for _, n := range l.Above {
		from, to := l.across(n)
		room := neighbourRoom(n)
		var level []plane.Rect
		for _, x := range outwards((from+to)/2, (to-from)/4, 6) {
			level = append(level, sized(plane.Point{X: x, Y: f.Min.Y - stripTop/2}, room, draw.Letter25))
		}
		if box, cost, found := l.paper.best(level); found && to-from > room && cost < worthLabel {
			l.paper.take(box, worthLabel)
			l.neighbour(n, box.Centre(), plane.Point{Y: -1})
			continue
		}
		at := plane.Point{X: (from + to) / 2, Y: f.Min.Y}
		if box, found := l.beside(at, room, draw.Letter25+0.8, l.paper, l.spots); found && n.Printed {
			l.tie(box, at)
			knockout(l, box)
			l.neighbour(n, box.Centre(), plane.Point{Y: -1})
		}
	}
	l.cutWords()
}

// cutWords says beside the cut edges what they are, clear of the marks that the cut goes round.
func (l *leaf) cutWords() {
	const words, step = "cut along this line", 4.0
	f, long := l.Frame, wide(words, bitHeight, false)
	var level, upright []plane.Rect
	for far := registerReach + 2; far < f.Width()-long; far += step {
		level = append(level, sized(plane.Point{X: f.Min.X + far + long/2, Y: f.Min.Y - 1 - bitHeight/2}, long, bitHeight+0.4))
	}
	for far := registerReach + 2; far < f.Height()-long; far += step {
		upright = append(upright, sized(plane.Point{X: f.Min.X - 1 - bitHeight/2, Y: f.Min.Y + far + long/2}, bitHeight+0.4, long))
	}
	if box, cost, found := l.paper.best(level); found && cost == 0 {
		l.paper.take(box, worthLabel)
		l.say(box.Min.X, box.Max.Y-0.2, bitHeight, words, 0, style{colour: quiet})
	}
	if box, cost, found := l.paper.best(upright); found && cost == 0 {
		l.paper.take(box, worthLabel)
		l.say(box.Max.X-0.2, box.Max.Y, bitHeight, words, 0, style{colour: quiet, turn: math.Pi / 2})
	}
}

// The arrow that says which way is up, mm.
const (
	upArrow = 13.0 // how long it is, with the gap below it
	upWord  = draw.Letter35

	barsTall = 126.0 // how far up the upright check bars reach, with their names and the gap over those
)

// upLevel reports whether the word below the arrow has room beside the frame as it is read.
func (l *leaf) upLevel() bool { return wide(l.upWords(), upWord, true) < stripRight-2.5 }

// side draws the strip to the right: upright check bars and which way is up.
func (l *leaf) side() {
	f := l.Frame
	for i, b := range bars() {
		x := f.Max.X + 6.6 + 3.9*float64(i)
		l.Group("check bar upright " + b.name)
		l.uprightBar(b, x, l.body.Max.Y)
		l.End()
		l.say(x, l.body.Max.Y-b.length-1.5, draw.Letter25, b.name, 0, style{turn: math.Pi / 2})
	}
	x := f.Max.X + stripRight/2 + 2
	top := f.Min.Y + 1
	l.arrow(plane.Point{X: x, Y: top}, plane.Point{Y: -1}, 5, ink)
	l.line(x, top+4, x, top+12, bold)
	if l.upLevel() {
		l.say(x, top+upArrow+upWord, upWord, l.upWords(), 0, style{align: draw.Centre, bold: true})
		return
	}
	long := wide(l.upWords(), upWord, true)
	if top+upArrow+long > l.body.Max.Y-barsTall {
		l.upWordAside(top)
		return
	}
	l.say(x+upWord/2, top+upArrow+long, upWord, l.upWords(), 0, style{bold: true, turn: math.Pi / 2})
}

// foot draws the strip below: the sheet's name, what it belongs to, where its marked point lies,
// and the level check bars.
func (l *leaf) foot() {
	full := l.reached()
	top := l.body.Max.Y + 4
	l.say(full.Min.X, top+11, draw.Letter10, l.Name, 38, style{bold: true})
	l.say(full.Min.X, top+16, draw.Letter25, fmt.Sprintf("sheet %d of %d · %s", l.number, l.all, l.itself), 38, style{})
	l.say(full.Min.X, top+20.5, draw.Letter25, "SCALE 1:1", 38, style{bold: true})

	left, right := full.Min.X+41, full.Max.X
	print := wide(l.work.Map.Fingerprint, draw.Letter35, true)
	l.say(right, top+4.5, draw.Letter35, l.work.Map.Fingerprint, 0, style{bold: true, align: draw.Right})
	l.heads(left, top+4.5, right-left-print-4)
	l.place(left, top+9.6, right-left)

	for i, b := range bars() {
		y := top + 14.5 + 5.5*float64(i)
		l.Group("check bar level " + b.name)
		l.levelBar(b, left, y)
		l.End()
		name, x := b.name, left+b.length+2
		aside, heavy := l.asides(i)
		if aside == "" && l.print.Measured.known() {
			name += " on that printer"
		}
		if room := right - x - wide(name, draw.Letter25, false) - 3; aside != "" && room > 0 {
			l.say(right, y, draw.Letter25, aside, room, style{bold: heavy, align: draw.Right})
		}
		l.say(x, y, draw.Letter25, name, right-x, style{})
	}
}

// asides returns what is said beside a level check bar, and whether in heavy letters: what the sheet is to
// older ones beside the first, and beside the other what a mirrored sheet has no room for above.
func (l *leaf) asides(bar int) (text string, heavy bool) {
	switch {
	case bar == 0:
		return l.notice, true
	case !l.print.Mirror:
		return "", false
	case l.print.Measured.known():
		return fmt.Sprintf("printer %g × %g", round2(l.print.Measured.Across), round2(l.print.Measured.Up)), true
	}
	return l.name(), false
}

// heads writes what the sheet belongs to: the face and the work, or what is not as usual with the sheet.
func (l *leaf) heads(x, y, room float64) {
	if l.print.Mirror {
		l.say(x, y, draw.Letter35, mirrorWords, room, style{bold: true})
		return
	}
	name := draw.Text{Say: l.name(), Height: draw.Letter35, Bold: true}.Fit(room*0.6, least)
	name.At = plane.Point{X: x, Y: y}
	l.Text(name)
	after := name.Width() + 3
	title := l.work.Title
	if l.print.Measured.known() {
		title = l.print.Measured.words()
	}
	if room-after > 10 {
		l.say(x+after, y, draw.Letter25, title, room-after, style{bold: l.print.Measured.known()})
	}
}

// place says where the measured register mark stands on the wall.
func (l *leaf) place(x, y, width float64) {
	l.blackMark(plane.Point{X: x + 1.4, Y: y - 1.2})
	along, up, level := l.placeWords()
	words := joined(" · ", along, up, level, l.fromRight())
	for _, shorter := range []string{joined(" · ", along, up, level), joined(" · ", along, up)} {
		if l.told && wide(words, draw.Letter25, false) > width-4 {
			words = shorter // the corner of the sheet says all of it
		}
	}
	l.say(x+4, y, draw.Letter25, words, width-4, style{})
}

// above words a height relative to a point.
func (v view) above(mm float64) string {
	if mm < 0 {
		return v.length(-mm) + " below it"
	}
	return v.length(mm) + " above it"
}
