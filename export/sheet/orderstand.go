package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/export/stand"
	"wallshoal/scatter"
	"wallshoal/wall/plane"
)

// The parts of a stand on its page, mm.
const (
	standHead   = 13.0
	standWords  = 82.0 // wide
	standGap    = 6.0
	standTop    = 52.0 // high, the drawing
	carryAcross = 3
	tickAcross  = 3
	tickRow     = 5.6
)

// stand draws one stand: where it is, what to carry, and its pieces to tick.
func (o *orderBook) stand(s stand.Stand) {
	words := o.words(s)
	text := 0.0
	for _, i := range words {
		text += float64(len(wrapped(i.text, textHeight, standWords-wide(i.lead, textHeight, true)-1.6)))*textPitch + 0.9
	}
	top := math.Max(standTop, text)
	carry := legendRow*math.Ceil(float64(len(s.Carry))/carryAcross) + 6
	ticks := tickRow*math.Ceil(float64(len(s.Pieces))/tickAcross) + 5
	room := standHead + top + carry + ticks + standGap
	if o.y+room > o.area.Max.Y && o.y > o.area.Min.Y+1 || s.Number == 1 {
		o.page("")
	}
	x := o.area.Min.X
	o.Group(fmt.Sprintf("stand %d", s.Number))
	defer o.End()
	o.line(x, o.y, o.area.Max.X, o.y, bold)
	o.say(x, o.y+8, draw.Letter50, fmt.Sprintf("Stand %d", s.Number), 0, style{bold: true})
	left := x + wide(fmt.Sprintf("Stand %d", s.Number), draw.Letter50, true) + 5
	tally := fmt.Sprintf("%s, %s", count(len(s.Pieces), "piece", "pieces"), count(s.Holes, "hole", "holes"))
	o.say(o.area.Max.X, o.y+8, draw.Letter25, tally, 0, style{align: draw.Right})
	o.say(left, o.y+8, draw.Letter35, o.views[s.Face].name(), o.area.Max.X-left-wide(tally, draw.Letter25, false)-4, style{})
	o.y += standHead

	flow := columnFlow{pen: o.pen, columns: []plane.Rect{{Min: plane.Point{X: x, Y: o.y}, Max: plane.Point{X: x + standWords, Y: math.Inf(1)}}}, y: o.y - 1.5}
	for _, i := range words {
		flow.item(i)
	}
	o.locate(s, plane.Rect{Min: plane.Point{X: x + standWords + 6, Y: o.y}, Max: plane.Point{X: o.area.Max.X, Y: o.y + standTop - 6}})
	o.y += top

	o.say(x, o.y+3, draw.Letter25, "Carry", 0, style{bold: true})
	o.y += 5
	column := o.area.Width() / carryAcross
	v := o.views[s.Face]
	for i, c := range s.Carry {
		at := plane.Point{X: x + column*float64(i%carryAcross), Y: o.y + legendRow*float64(i/carryAcross)}
		row := plane.Rect{Min: at, Max: at.Add(plane.Point{X: column - legendGap, Y: legendRow})}
		v.legendRow(o.pen, carried(o.work.Kinds[c.Kind], c.Pieces), row)
	}
	o.y += carry - 5
	o.ticks(s)
	o.y += standGap
}

// carried returns the tally of so many pieces of a kind.
func carried(k scatter.Kind, pieces int) tally {
	return tally{kind: k, pieces: pieces, holes: pieces * len(k.Holes)}
}

// words says what is to be known of a stand before one goes there.
func (o *orderBook) words(s stand.Stand) []item {
	v := o.views[s.Face]
	out := []item{
		{"Where", o.where(s)},
		{"Stand on", standOn(s)},
		{"Heights", heights(v.length(s.Low), v.length(s.High), v.zeroShort())},
	}
	if len(s.Over) > 0 {
		names := strings.Join(s.Over, ", ")
		out = append(out, item{"Over the " + names + ":", "it stands where you would. Work over it from something that spans it, or have it moved; never stand on it"})
	}
	if s.Overhead {
		out = append(out, item{"Overhead", "you drill upwards: goggles, and a dust cup on the bit; rest often"})
	}
	for _, d := range s.Doors {
		out = append(out, item{"Door", d + " opens here: lock it, or have it kept"})
	}
	if s.Foot.Height > 50 {
		out = append(out, item{"Floor", fmt.Sprintf("the wall's foot is %s above %s here: above the foot the holes are at %s", v.length(s.Foot.Height), v.zeroShort(), span(v.length(s.Low-s.Foot.Height), v.length(s.High-s.Foot.Height)))})
	}
	if s.Foot.Steps {
		out = append(out, item{"Steps", "the floor rises here: nothing stands across the steps but what is made for stairs"})
	}
	for _, b := range s.Bits {
		out = append(out, item{"Bit", fmt.Sprintf("%s, %s deep: %s", v.drill(b.Diameter), v.length(b.Depth), count(b.Holes, "hole", "holes"))})
	}
	for _, f := range s.Fixings {
		out = append(out, item{"Fixing", fmt.Sprintf("%d × %s", f.Count, f.Name)})
	}
	return append(out, item{"Sheets", o.sheetsOf(s)})
}

// span words two lengths, or one where they are alike.
func span(low, high string) string {
	if low == high {
		return high
	}
	return low + " to " + high
}

// standOn says what one stands on at a stand.
func standOn(s stand.Stand) string {
	switch {
	case s.Access == stand.Floor && s.Foot.Steps:
		return "the floor, which is a stair here: both feet on one step, or a platform made for stairs"
	case s.Access == stand.Floor:
		return "the floor; no ladder is needed"
	case s.Foot.Steps:
		return "a platform made for stairs, with guard rails, put up by people trained for it; two people"
	case s.Access == stand.Platform:
		return platformWords
	case s.Overhead:
		return "a platform for the height: stand below on it, and not on a ladder's top"
	}
	return "a step ladder, with somebody at its foot"
}

// heights says how high the holes of a stand are above what heights are measured from.
func heights(low, high, zero string) string {
	if low == high {
		return "holes at " + high + " above " + zero
	}
	return fmt.Sprintf("holes from %s to %s above %s", low, high, zero)
}

// ticks lists the pieces of a stand, each with a box to tick.
func (o *orderBook) ticks(s stand.Stand) {
	o.tickHead(s)
	width := o.area.Width() / tickAcross
	left := slices.Clone(s.Pieces)
	for len(left) > 0 {
		rows := int((o.area.Max.Y - o.y) / tickRow)
		if rows < 1 {
			o.End()
			o.page(fmt.Sprintf("Stand %d, continued", s.Number))
			o.Group(fmt.Sprintf("stand %d", s.Number))
			o.tickHead(s)
			continue
		}
		rows = min(rows, (len(left)+tickAcross-1)/tickAcross)
		n := min(len(left), rows*tickAcross)
		for i, id := range left[:n] {
			o.tickPiece(s, o.pieces[id], o.area.Min.X+width*float64(i/rows), o.y+tickRow*float64(i%rows+1)-1.5)
		}
		o.y += tickRow * float64(rows)
		left = left[n:]
	}
}

func (o *orderBook) tickHead(s stand.Stand) {
	o.say(o.area.Min.X, o.y+2.5, least, "Tick each piece: its number, kind, heading (degrees clockwise, "+o.views[s.Face].twelve()+") and the numbers of its holes", o.area.Width(), style{colour: quiet})
	o.y += 4
}

func (o *orderBook) tickPiece(s stand.Stand, h hung, x, y float64) {
	o.Group(fmt.Sprintf("piece %d", h.ID))
	o.tick(x, y)
	o.say(x+5, y, draw.Letter25, fmt.Sprint(h.ID), 9, style{bold: true})
	o.say(x+15, y, draw.Letter25, h.kind.Code, 5, style{})
	sin, cos := math.Sincos(h.Heading.Angle())
	way := plane.Point{X: cos, Y: -sin}
	middle := plane.Point{X: x + 23, Y: y - draw.Letter25/2}
	o.Line(middle.Sub(way.Scale(2)), middle.Add(way.Scale(1)), medium)
	o.arrow(middle.Add(way.Scale(2)), way, 1.8, ink)
	o.say(x+32.5, y, least, fmt.Sprintf("%.0f°", math.Mod(math.Round(float64(h.Heading)), 360)), 0, style{align: draw.Right})
	after := ""
	for _, w := range s.Waits {
		if w.Piece == h.ID {
			after = fmt.Sprintf("after %d", w.Stand)
		}
	}
	room := o.area.Width()/tickAcross - 36
	if after != "" {
		o.say(x+34+room, y, least, after, 0, style{align: draw.Right})
		room -= wide(after, least, false) + 1.5
	}
	o.say(x+34, y, least, holeNumbers(o.holes[h.ID]), room, style{bold: true})
	o.End()
}

// shownOn returns the face that a stand is drawn on: its wall where that lies the same way, or its own.
func (o *orderBook) shownOn(s stand.Stand) int {
	f := o.work.Site.Faces[s.Face]
	for i, w := range o.work.Site.Faces {
		if w.Wall == f.Wall && w.IsWall() && w.Frame.Out.Dot(f.Frame.Out) > level {
			return i
		}
	}
	return s.Face
}

// mostShown is how many pieces a small drawing shows beside those of the stand.
const mostShown = 2000

// locate draws the face small, with the pieces of the stand dark and its window marked.
func (o *orderBook) locate(s stand.Stand, area plane.Rect) {
	v := o.views[o.shownOn(s)]
	free := newSpots(area.Grow(8))
	if v.wall.Ceiling {
		area = area.Grow(-least - 1.5) // for the names of the walls round it
	}
	k := math.Min(area.Width()/v.bounds.Width(), area.Height()/v.bounds.Height())
	m := mapping{k: k, origin: plane.Point{
		X: area.Min.X + (area.Width()-v.bounds.Width()*k)/2 - v.bounds.Min.X*k, Y: area.Min.Y + v.bounds.Height()*k + v.bounds.Min.Y*k,
	}}
	on := func(p plane.Point) plane.Point {
		q, _ := v.face.Frame.Local(o.work.Site.Faces[s.Face].Frame.At(p))
		return m.at(q)
	}
	o.Polygon(m.rings(v.rings), draw.Paint{Fill: draw.Solid(draw.White), Stroke: medium})
	for _, t := range v.things {
		o.Polygon([]plane.Ring{m.ring(t.Shape)}, draw.Paint{Fill: draw.Solid(draw.Grey(235)), Stroke: shade(hair, soft)})
	}
	if len(v.pieces) <= mostShown {
		for _, h := range v.pieces {
			o.Polygon([]plane.Ring{m.ring(h.ring)}, draw.Paint{Stroke: draw.Stroke{Width: draw.Width013 / 2, Colour: soft}})
		}
	}
	window := corners(s.Bounds).Map(on).Bounds()
	for _, id := range s.Pieces {
		ring := o.pieces[id].Outline(o.work.Kinds).Map(on)
		window = window.Union(ring.Bounds())
		o.Polygon([]plane.Ring{ring}, draw.Paint{Fill: draw.Solid(draw.Grey(60))})
	}
	o.box(window.Grow(0.6), draw.Paint{Stroke: draw.Stroke{Width: draw.Width035, Colour: ink}})
	caption := v.shown()
	if v.isWall() && !v.wall.Ceiling && !s.Place.Back {
		foot := m.at(plane.Point{X: v.bounds.Min.X + s.Place.Left, Y: v.bounds.Min.Y})
		o.arrow(plane.Point{X: foot.X, Y: foot.Y + 0.6}, plane.Point{Y: -1}, 3, ink)
		caption += "; the arrow is where you stand"
	}
	v.wallNames(o.pen, m, free, true)
	o.pieceNumbers(s, on, free)
	o.say(area.Centre().X, m.at(v.bounds.Min).Y+6.5, least, caption, area.Width(), style{align: draw.Centre, colour: quiet})
}

// pieceNumbers writes the numbers of the pieces of a stand into the small drawing beside them, where
// that covers neither them nor one another.
func (o *orderBook) pieceNumbers(s stand.Stand, on func(plane.Point) plane.Point, free *spots) {
	boxes := make([]plane.Rect, len(s.Pieces))
	for i, id := range s.Pieces {
		boxes[i] = o.pieces[id].Outline(o.work.Kinds).Map(on).Bounds()
		free.take(boxes[i], worthLabel)
	}
	for i, id := range s.Pieces {
		text := fmt.Sprint(id)
		width, height := wide(text, least, true)+0.5, least+0.5
		c := boxes[i].Centre()
		var places []plane.Rect
		for _, way := range []plane.Point{{Y: -1}, {Y: 1}, {X: 1}, {X: -1}} {
			off := plane.Point{X: way.X * (boxes[i].Width() + width + 0.2) / 2, Y: way.Y * (boxes[i].Height() + height + 0.2) / 2}
			places = append(places, sized(c.Add(off), width, height))
		}
		if box, cost, found := free.best(places); found && cost == 0 {
			free.take(box, worthLabel)
			knockout(o.pen, box)
			o.say(box.Centre().X, box.Max.Y-0.25, least, text, 0, style{bold: true, align: draw.Centre})
		}
	}
}
