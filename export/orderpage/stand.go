package orderpage

import (
	"fmt"
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/stand"
	"wallshoal/wall/plane"
)

// The parts of a stand on its page, mm.
const (
	standHead      = 11.0
	standWords     = 88.0 // wide at least
	standWordsMost = 118.0
	ticksBeside    = 58.0 // wide, boxes to tick beside a close-up
	standFew       = 16   // pieces of a stand that shares a page
	standAside     = 5.0  // between the words and what is beside them
	standGap       = 3.0
	standTop       = 32.0 // high at most, the small drawing
	locateBelow    = 9.0  // it, for its caption
	mostCarried    = 7    // kinds in one column
	carryRow       = 5.8  // one kind there, high
	carrySample    = 18.0 // the room for a kind's outline there, with the arrow past its head
)

// stand draws one stand: where it is, what to carry, its pieces close up, and a box to tick for each.
// The close-up stands on the page of the rest where that has room for it, else on pages of its own. A stand
// of few pieces goes onto the rest of the page, or half of one, where all of it has room there and is read
// as well.
func (o *orderBook) stand(s stand.Stand) {
	pieces := o.hungAt(s)
	l := o.layOut(s, pieces)
	f := l.form
	if !l.here && (o.y+l.room > o.area.Max.Y && o.y > o.area.Min.Y+1 || s.Number == 1) {
		o.page("")
	}
	o.Group(fmt.Sprintf("stand %d", s.Number))
	defer o.End()
	o.short = l.shares
	defer func() { o.short = false }()
	o.standHead(s)
	x := o.area.Min.X
	flow := drafting.ColumnFlow{Pen: o.Pen, Columns: []plane.Rect{{Min: plane.Point{X: x, Y: o.y}, Max: plane.Point{X: x + f.width, Y: math.Inf(1)}}}, Y: o.y - 1.5}
	for _, i := range f.words {
		flow.Item(i)
	}
	aside := x + f.width + standAside
	o.locate(s, plane.Rect{Min: plane.Point{X: aside, Y: o.y}, Max: plane.Point{X: o.area.Max.X, Y: o.y + f.small - locateBelow}})
	o.carry(s, aside, o.y+f.small)
	o.y += f.top
	switch {
	case l.beside:
		top := o.y
		o.within(0, o.area.Width()-ticksBeside-standAside, l.near.put)
		end := o.y
		o.y = top
		o.within(o.area.Width()-ticksBeside, ticksBeside, func() { o.ticks(s, s.Pieces, false) })
		o.y = math.Max(o.y, end) + standGap
	case l.near != nil:
		l.near.put()
		o.ticks(s, s.Pieces, false)
		o.y += standGap
	default:
		o.ticks(s, s.Pieces, false)
		o.y += standGap
		o.closeUps(s, pieces)
	}
}

// within draws something into a part of the page from so far from its left edge on, so wide.
func (o *orderBook) within(from, width float64, draws func()) {
	area := o.area
	o.area.Min.X, o.area.Max.X = area.Min.X+from, area.Min.X+from+width
	draws()
	o.area = area
}

// A standLayout is what a stand has on its page beside its words.
type standLayout struct {
	form   standForm
	near   *closeUp // nil where it takes pages of its own
	shares bool     // it leaves room for another stand on its page, and words are short there
	beside bool     // the boxes to tick stand beside the close-up, not below it
	here   bool     // all has room on the page that is begun
	room   float64  // high, all but a close-up on pages of its own, mm
}

// layOut finds how a stand is laid out: one of few pieces on what is left of a page, or so that another has
// room on its page, as large as that allows, and else on a page of its own.
func (o *orderBook) layOut(s stand.Stand, pieces []elevation.Hung) standLayout {
	if len(pieces) <= standFew {
		if o.y > o.area.Min.Y+1 && s.Number > 1 {
			if l, found := o.shared(s, pieces, o.area.Max.Y-o.y); found {
				l.here = true
				return l
			}
		}
		for _, part := range []float64{0.5, 0.6} {
			if l, found := o.shared(s, pieces, o.area.Height()*part); found {
				return l
			}
		}
	}
	ticks := o.tickHeight(s, s.Pieces, false)
	f := o.form(s)
	l := standLayout{form: f, room: f.room + ticks}
	if near, whole := o.closeUpIn(s, pieces, o.area.Width(), o.area.Height()-l.room-closeHead, closePiece); whole {
		l.near = near
		l.room += near.area.Height() + closeHead
	}
	return l
}

// shared lays a stand out within a height, with its boxes to tick below the close-up or beside it, whichever
// takes less. Found is false where not all of it has room, or is not read as well.
func (o *orderBook) shared(s stand.Stand, pieces []elevation.Hung, height float64) (best standLayout, found bool) {
	best.room = math.Inf(1)
	o.short = true
	defer func() { o.short = false }()
	f := o.form(s)
	for _, beside := range []bool{false, true} {
		width, below, ticks := o.area.Width(), 0.0, 0.0
		count := func() { ticks = o.tickHeight(s, s.Pieces, false) }
		if beside {
			width -= ticksBeside + standAside
			o.within(0, ticksBeside, count)
			if ticks > height-f.room || o.tickLong(s.Pieces) > ticksBeside-tickHoles-1 {
				continue
			}
		} else {
			count()
			below = ticks
		}
		near, whole := o.closeUpIn(s, pieces, width, height-f.room-below-o.closeTop(), closePiece)
		if !whole || !near.fair() {
			continue
		}
		room := f.room + math.Max(near.area.Height()+o.closeTop()+below, ticks)
		if room < best.room {
			best, found = standLayout{form: f, near: near, shares: true, beside: beside, room: room}, true
		}
	}
	return best, found
}

// A standForm is how a stand is laid out but for its close-up and its boxes to tick, mm.
type standForm struct {
	words []drafting.Item
	width float64 // of the words
	small float64 // high, the small drawing
	top   float64 // high, the words and what is beside them
	room  float64 // high, all but the boxes to tick
}

// form lays out a stand, in few words where it shares a page, but for its close-up and its boxes to tick: its words in the column with which they and what is beside them
// take the least height.
func (o *orderBook) form(s stand.Stand) standForm {
	best := standForm{top: math.Inf(1)}
	words := o.words(s)
	for width := standWords; width <= standWordsMost; width += 6 {
		text := 0.0
		for _, i := range words {
			text += float64(len(drafting.Wrapped(i.Text, drafting.TextHeight, width-drafting.TextWidth(i.Lead, drafting.TextHeight, true)-1.6)))*drafting.TextPitch + 0.9
		}
		small := o.locateHeight(s, o.area.Width()-width-standAside)
		if top := math.Max(small+o.carryHeight(s), text) + 3; top < best.top-1 {
			best = standForm{words: words, width: width, small: small, top: top}
		}
	}
	best.room = standHead + best.top + standGap
	return best
}

// fair reports whether pieces are drawn long enough, on average, for a page that stands share.
func (c *closeUp) fair() bool {
	long := 0.0
	for _, h := range c.pieces {
		long += elevation.LengthAlong(h.Kind.Outline) * c.K / float64(len(c.pieces))
	}
	return long >= closeFair
}

// standHead writes the number of a stand, its face and its counts.
func (o *orderBook) standHead(s stand.Stand) {
	x := o.area.Min.X
	o.Segment(x, o.y, o.area.Max.X, o.y, drafting.Bold)
	o.Say(x, o.y+8, draw.Letter50, fmt.Sprintf("Stand %d", s.Number), 0, drafting.Style{Bold: true})
	left := x + drafting.TextWidth(fmt.Sprintf("Stand %d", s.Number), draw.Letter50, true) + 5
	tally := fmt.Sprintf("%s, %s", drafting.Count(len(s.Pieces), "piece", "pieces"), drafting.Count(s.Holes, "hole", "holes"))
	o.Say(o.area.Max.X, o.y+8, draw.Letter25, tally, 0, drafting.Style{Align: draw.Right})
	o.Say(left, o.y+8, draw.Letter35, o.views[s.Face].Name(), o.area.Max.X-left-drafting.TextWidth(tally, draw.Letter25, false)-4, drafting.Style{})
	o.y += standHead
}

// carryAcross returns in how many columns the kinds of a stand are listed.
func (o *orderBook) carryAcross(s stand.Stand) int {
	if len(s.Carry) > mostCarried || o.short && len(s.Carry) > 2 {
		return 2
	}
	return 1
}

// carryHeight returns how much room the list of the kinds of a stand takes, mm.
func (o *orderBook) carryHeight(s stand.Stand) float64 {
	return carryRow*math.Ceil(float64(len(s.Carry))/float64(o.carryAcross(s))) + 6
}

// carry lists the kinds of a stand with how many pieces of each it takes.
func (o *orderBook) carry(s stand.Stand, x, y float64) {
	o.Say(x, y+3, draw.Letter25, "Carry", 0, drafting.Style{Bold: true})
	y += 5
	across := o.carryAcross(s)
	column := math.Min((o.area.Max.X-x+elevation.LegendGap)/float64(across), elevation.LegendMost)
	rows := (len(s.Carry) + across - 1) / across
	for i, c := range s.Carry {
		at := plane.Point{X: x + column*float64(i/rows), Y: y + carryRow*float64(i%rows)}
		row := plane.Rect{Min: at, Max: at.Add(plane.Point{X: column - elevation.LegendGap, Y: carryRow})}
		o.carryKind(s, c, row)
	}
}

// carryKind writes one kind with its head and its holes, and how many pieces of it a stand takes.
func (o *orderBook) carryKind(s stand.Stand, c stand.Carry, row plane.Rect) {
	k := o.work.Kinds[c.Kind]
	sample := row
	sample.Max.X = row.Min.X + carrySample
	o.views[s.Face].HeadedSample(o.Pen, k, sample.Grow(-0.4))
	y, x, number := row.Centre().Y+draw.Letter25/2, sample.Max.X+1, fmt.Sprint(c.Pieces)
	o.Say(x, y, draw.Letter25, k.Code, 6, drafting.Style{Bold: true})
	o.Say(row.Max.X, y, draw.Letter25, number, 0, drafting.Style{Bold: true, Align: draw.Right})
	if o.short && o.carryAcross(s) > 1 {
		return // its name is on the first pages
	}
	room := (row.Max.X - x - 9 - drafting.TextWidth(number, draw.Letter25, true)*elevation.OtherFonts) / elevation.OtherFonts
	o.Say(x+7, y, draw.Letter25, elevation.Brief(k, room), room, drafting.Style{})
}
