package sheet

import (
	"fmt"
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// neighbours names the sheets whose strips this one covers, and says what to do at its edges.
func (l *Leaf) neighbours() {
	f := l.Frame
	left := neighbourRoom(l.Left)
	var upright []plane.Rect
	for _, y := range Outwards(f.Centre().Y, f.Height()/4, 6) {
		upright = append(upright, drafting.BoxAt(plane.Point{X: f.Min.X - tiling.StripLeft/2, Y: y}, draw.Letter25, left))
	}
	if box, _, found := l.paper.Best(upright); found && l.Left.Name != "" {
		l.paper.Take(box, worthLabel)
		neighbour(l.Pen, l.Left, box.Centre(), plane.Point{X: -1})
	}
	for _, n := range l.Above {
		from, to := l.across(n)
		room := neighbourRoom(n)
		var level []plane.Rect
		for _, x := range Outwards((from+to)/2, (to-from)/4, 6) {
			level = append(level, drafting.BoxAt(plane.Point{X: x, Y: f.Min.Y - tiling.StripTop/2}, room, draw.Letter25))
		}
		if box, cost, found := l.paper.Best(level); found && to-from > room && cost < worthLabel {
			l.paper.Take(box, worthLabel)
			neighbour(l.Pen, n, box.Centre(), plane.Point{Y: -1})
			continue
		}
		at := plane.Point{X: (from + to) / 2, Y: f.Min.Y}
		if box, found := l.beside(at, room, draw.Letter25+0.8, l.paper, l.spots); found && n.Printed {
			l.tie(box, at)
			drafting.Knockout(l, box)
			neighbour(l.Pen, n, box.Centre(), plane.Point{Y: -1})
		}
	}
	l.cutWords()
}

// cutWords says beside the cut edges what they are, clear of the marks that the cut goes round.
func (l *Leaf) cutWords() {
	const words, step = "cut along this line", 4.0
	f, long := l.Frame, drafting.TextWidth(words, elevation.BitHeight, false)
	var level, upright []plane.Rect
	for far := drafting.RegisterReach + 2; far < f.Width()-long; far += step {
		level = append(level, drafting.BoxAt(plane.Point{X: f.Min.X + far + long/2, Y: f.Min.Y - 1 - elevation.BitHeight/2}, long, elevation.BitHeight+0.4))
	}
	for far := drafting.RegisterReach + 2; far < f.Height()-long; far += step {
		upright = append(upright, drafting.BoxAt(plane.Point{X: f.Min.X - 1 - elevation.BitHeight/2, Y: f.Min.Y + far + long/2}, elevation.BitHeight+0.4, long))
	}
	if box, cost, found := l.paper.Best(level); found && cost == 0 {
		l.paper.Take(box, worthLabel)
		l.Say(box.Min.X, box.Max.Y-0.2, elevation.BitHeight, words, 0, drafting.Style{Colour: drafting.Quiet})
	}
	if box, cost, found := l.paper.Best(upright); found && cost == 0 {
		l.paper.Take(box, worthLabel)
		l.Say(box.Max.X-0.2, box.Max.Y, elevation.BitHeight, words, 0, drafting.Style{Colour: drafting.Quiet, Turn: math.Pi / 2})
	}
}

// The arrow that says which way is up, mm.
const (
	upArrow = 13.0 // how long it is, with the gap below it
	upWord  = draw.Letter35

	barsTall = 126.0 // how far up the upright check bars reach, with their names and the gap over those
)

// upLevel reports whether the word below the arrow has room beside the frame as it is read.
func (l *Leaf) upLevel() bool {
	return drafting.TextWidth(l.UpWords(), upWord, true) < tiling.StripRight-2.5
}

// side draws the strip to the right: upright check bars and which way is up.
func (l *Leaf) side() {
	f := l.Frame
	for i, b := range drafting.Bars() {
		x := f.Max.X + 6.6 + 3.9*float64(i)
		l.Group("check bar upright " + b.Name)
		l.UprightBar(b, x, l.Body.Max.Y)
		l.End()
		l.Say(x, l.Body.Max.Y-b.Length-1.5, draw.Letter25, b.Name, 0, drafting.Style{Turn: math.Pi / 2})
	}
	x := f.Max.X + tiling.StripRight/2 + 2
	top := f.Min.Y + 1
	l.Arrow(plane.Point{X: x, Y: top}, plane.Point{Y: -1}, 5, drafting.Ink)
	l.Segment(x, top+4, x, top+12, drafting.Bold)
	if l.upLevel() {
		l.Say(x, top+upArrow+upWord, upWord, l.UpWords(), 0, drafting.Style{Align: draw.Centre, Bold: true})
		return
	}
	long := drafting.TextWidth(l.UpWords(), upWord, true)
	if top+upArrow+long > l.Body.Max.Y-barsTall {
		l.upWordAside(top)
		return
	}
	l.Say(x+upWord/2, top+upArrow+long, upWord, l.UpWords(), 0, drafting.Style{Bold: true, Turn: math.Pi / 2})
}

// foot draws the strip below: the sheet's name, what it belongs to, where its marked point lies,
// and the level check bars.
func (l *Leaf) foot() {
	full := l.reached()
	top := l.Body.Max.Y + 4
	l.Say(full.Min.X, top+11, draw.Letter10, l.Tile.Name, 38, drafting.Style{Bold: true})
	l.Say(full.Min.X, top+16, draw.Letter25, fmt.Sprintf("sheet %d of %d · %s", l.Number, l.All, l.Itself), 38, drafting.Style{})
	l.Say(full.Min.X, top+20.5, draw.Letter25, "SCALE 1:1", 38, drafting.Style{Bold: true})

	left, right := full.Min.X+41, full.Max.X
	print := drafting.TextWidth(l.Work.Map.Fingerprint, draw.Letter35, true)
	l.Say(right, top+4.5, draw.Letter35, l.Work.Map.Fingerprint, 0, drafting.Style{Bold: true, Align: draw.Right})
	l.heads(left, top+4.5, right-left-print-4)
	l.place(left, top+9.6, right-left)

	for i, b := range drafting.Bars() {
		y := top + 14.5 + 5.5*float64(i)
		l.Group("check bar level " + b.Name)
		l.LevelBar(b, left, y)
		l.End()
		name, x := b.Name, left+b.Length+2
		aside, heavy := l.asides(i)
		if aside == "" && l.Print.Measured.Known() {
			name += " on that printer"
		}
		if room := right - x - drafting.TextWidth(name, draw.Letter25, false) - 3; aside != "" && room > 0 {
			l.Say(right, y, draw.Letter25, aside, room, drafting.Style{Bold: heavy, Align: draw.Right})
		}
		l.Say(x, y, draw.Letter25, name, right-x, drafting.Style{})
	}
}

// asides returns what is said beside a level check bar, and whether in heavy letters: what the sheet is to
// older ones beside the first, and beside the other what a mirrored sheet has no room for above.
func (l *Leaf) asides(bar int) (text string, heavy bool) {
	switch {
	case bar == 0:
		return l.Notice, true
	case !l.Print.Mirror:
		return "", false
	case l.Print.Measured.Known():
		return fmt.Sprintf("printer %g × %g", drafting.Round2(l.Print.Measured.Across), drafting.Round2(l.Print.Measured.Up)), true
	}
	return l.View.Name(), false
}

// heads writes what the sheet belongs to: the face and the work, or what is not as usual with the sheet.
func (l *Leaf) heads(x, y, room float64) {
	if l.Print.Mirror {
		l.Say(x, y, draw.Letter35, drafting.MirrorWords, room, drafting.Style{Bold: true})
		return
	}
	name := draw.Text{Say: l.View.Name(), Height: draw.Letter35, Bold: true}.Fit(room*0.6, drafting.Least)
	name.At = plane.Point{X: x, Y: y}
	l.Text(name)
	after := name.Width() + 3
	title := l.Work.Title
	if l.Print.Measured.Known() {
		title = l.Print.Measured.Words()
	}
	if room-after > 10 {
		l.Say(x+after, y, draw.Letter25, title, room-after, drafting.Style{Bold: l.Print.Measured.Known()})
	}
}

// place says where the measured register mark stands on the wall.
func (l *Leaf) place(x, y, width float64) {
	l.blackMark(plane.Point{X: x + 1.4, Y: y - 1.2})
	along, up, level := l.placeWords()
	words := drafting.Joined(" · ", along, up, level, l.fromRight())
	for _, shorter := range []string{drafting.Joined(" · ", along, up, level), drafting.Joined(" · ", along, up)} {
		if l.told && drafting.TextWidth(words, draw.Letter25, false) > width-4 {
			words = shorter // the corner of the sheet says all of it
		}
	}
	l.Say(x+4, y, draw.Letter25, words, width-4, drafting.Style{})
}

// above words a height relative to a point.
func above(v elevation.View, mm float64) string {
	if mm < 0 {
		return v.Length(-mm) + " below it"
	}
	return v.Length(mm) + " above it"
}
