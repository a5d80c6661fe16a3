package sheet

import (
	"fmt"
	"math"

	"wallshoal/export/draw"
	"wallshoal/export/stand"
	"wallshoal/scatter"
	"wallshoal/wall/plane"
)

// The parts of a stand on its page, mm.
const (
	standHead   = 13.0
	standWords  = 88.0 // wide
	standAside  = 5.0  // between the words and what is beside them
	standGap    = 6.0
	standTop    = 32.0 // high at most, the small drawing
	locateBelow = 9.0  // it, for its caption
	mostCarried = 7    // kinds in one column
)

// stand draws one stand: where it is, what to carry, its pieces close up, and a box to tick for each.
// The close-up stands on the page of the rest where that has room for it, else on pages of its own.
func (o *orderBook) stand(s stand.Stand) {
	words := o.words(s)
	text := 0.0
	for _, i := range words {
		text += float64(len(wrapped(i.text, textHeight, standWords-wide(i.lead, textHeight, true)-1.6)))*textPitch + 0.9
	}
	small := o.locateHeight(s, o.area.Width()-standWords-standAside)
	top := math.Max(small+carryHeight(s), text) + 3
	ticks := o.tickHeight(s, s.Pieces, false)
	room := standHead + top + ticks + standGap
	pieces := o.hungAt(s)
	near, whole := o.closeUpIn(s, pieces, o.area.Width(), o.area.Height()-room-closeHead, closePiece)
	if whole {
		room += near.area.Height() + closeHead
	}
	if o.y+room > o.area.Max.Y && o.y > o.area.Min.Y+1 || s.Number == 1 {
		o.page("")
	}
	o.Group(fmt.Sprintf("stand %d", s.Number))
	defer o.End()
	o.standHead(s)
	x := o.area.Min.X
	flow := columnFlow{pen: o.pen, columns: []plane.Rect{{Min: plane.Point{X: x, Y: o.y}, Max: plane.Point{X: x + standWords, Y: math.Inf(1)}}}, y: o.y - 1.5}
	for _, i := range words {
		flow.item(i)
	}
	aside := x + standWords + standAside
	o.locate(s, plane.Rect{Min: plane.Point{X: aside, Y: o.y}, Max: plane.Point{X: o.area.Max.X, Y: o.y + small - locateBelow}})
	o.carry(s, aside, o.y+small)
	o.y += top
	if whole {
		near.put()
	}
	o.ticks(s, s.Pieces, false)
	o.y += standGap
	if !whole {
		o.closeUps(s, pieces)
	}
}

// standHead writes the number of a stand, its face and its counts.
func (o *orderBook) standHead(s stand.Stand) {
	x := o.area.Min.X
	o.line(x, o.y, o.area.Max.X, o.y, bold)
	o.say(x, o.y+8, draw.Letter50, fmt.Sprintf("Stand %d", s.Number), 0, style{bold: true})
	left := x + wide(fmt.Sprintf("Stand %d", s.Number), draw.Letter50, true) + 5
	tally := fmt.Sprintf("%s, %s", count(len(s.Pieces), "piece", "pieces"), count(s.Holes, "hole", "holes"))
	o.say(o.area.Max.X, o.y+8, draw.Letter25, tally, 0, style{align: draw.Right})
	o.say(left, o.y+8, draw.Letter35, o.views[s.Face].name(), o.area.Max.X-left-wide(tally, draw.Letter25, false)-4, style{})
	o.y += standHead
}

// carryAcross returns in how many columns the kinds of a stand are listed.
func carryAcross(s stand.Stand) int {
	if len(s.Carry) > mostCarried {
		return 2
	}
	return 1
}

// carryHeight returns how much room the list of the kinds of a stand takes, mm.
func carryHeight(s stand.Stand) float64 {
	return legendRow*math.Ceil(float64(len(s.Carry))/float64(carryAcross(s))) + 6
}

// carry lists the kinds of a stand with how many pieces of each it takes.
func (o *orderBook) carry(s stand.Stand, x, y float64) {
	o.say(x, y+3, draw.Letter25, "Carry", 0, style{bold: true})
	y += 5
	across := carryAcross(s)
	column := math.Min((o.area.Max.X-x+legendGap)/float64(across), legendMost)
	rows := (len(s.Carry) + across - 1) / across
	for i, c := range s.Carry {
		at := plane.Point{X: x + column*float64(i/rows), Y: y + legendRow*float64(i%rows)}
		row := plane.Rect{Min: at, Max: at.Add(plane.Point{X: column - legendGap, Y: legendRow})}
		o.views[s.Face].legendRow(o.pen, carried(o.work.Kinds[c.Kind], c.Pieces), row)
	}
}

// carried returns the tally of so many pieces of a kind.
func carried(k scatter.Kind, pieces int) tally {
	return tally{kind: k, pieces: pieces, holes: pieces * len(k.Holes)}
}
