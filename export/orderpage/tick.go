package orderpage

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/stand"
	"wallshoal/export/template"
	"wallshoal/wall/plane"
)

// The rows of boxes to tick, mm: what each begins at, or ends at where it is a figure.
const (
	tickRow     = 6.0
	tickHang    = 5.0
	tickAsk     = 10.0
	tickNumber  = 19.0
	tickCode    = 20.5
	tickArrow   = 28.0
	tickDegrees = 39.5
	tickHoles   = 41.0
	tickText    = 3.0 // letters: read from a ladder
	tickLeast   = 2.5
	tickSmall   = 2.2
)

// tickAcross returns in how many columns the pieces can be listed so that the numbers of their holes have
// room.
func (o *orderBook) tickAcross(pieces []int) int {
	long := o.tickLong(pieces)
	for across := 3; across > 1; across-- {
		if o.area.Width()/float64(across)-tickHoles-1 >= long {
			return across
		}
	}
	return 1
}

// tickLong returns how much room the numbers of the holes of a piece take at most, mm.
func (o *orderBook) tickLong(pieces []int) float64 {
	long := 0.0
	for _, id := range pieces {
		long = math.Max(long, drafting.TextWidth(template.HoleNumbers(o.holes[id]), tickLeast, true))
	}
	return long
}

// tickHeight returns how much room the boxes of pieces take, mm.
func (o *orderBook) tickHeight(s stand.Stand, pieces []int, second bool) float64 {
	head := tickSmall*1.6*float64(len(o.tickWords(s, pieces, second))) + 1
	return tickRow*math.Ceil(float64(len(pieces))/float64(o.tickAcross(pieces))) + head
}

// ticks lists pieces of a stand with boxes to tick: one when it is drilled and one when it hangs, and in
// the second round only that.
func (o *orderBook) ticks(s stand.Stand, pieces []int, second bool) {
	o.tickHead(s, pieces, second)
	across := o.tickAcross(pieces)
	width := o.area.Width() / float64(across)
	left := slices.Clone(pieces)
	for len(left) > 0 {
		rows := int((o.area.Max.Y - o.y) / tickRow)
		if rows < 1 {
			o.End()
			o.page(fmt.Sprintf("Stand %d, continued", s.Number))
			o.Group(fmt.Sprintf("stand %d", s.Number))
			o.tickHead(s, pieces, second)
			continue
		}
		rows = min(rows, (len(left)+across-1)/across)
		n := min(len(left), rows*across)
		for i, id := range left[:n] {
			o.tickPiece(s, o.pieces[id], o.area.Min.X+width*float64(i/rows), o.y+tickRow*float64(i%rows+1)-1.5, width, second)
		}
		o.y += tickRow * float64(rows)
		left = left[n:]
	}
}

// tickWords says what the boxes and the figures beside them are.
func (o *orderBook) tickWords(s stand.Stand, pieces []int, second bool) []string {
	if second {
		return nil
	}
	if o.short {
		return drafting.Wrapped("Drilled, hung"+o.turned(s), tickSmall, o.area.Width())
	}
	text := "Tick when drilled, and when hung"
	if len(s.Later) > 0 {
		text += " (2: hangs in the second round)"
	}
	text += ": number of the piece, kind, heading in degrees clockwise (" + o.views[s.Face].Twelve() + "), numbers of its holes."
	if slices.ContainsFunc(pieces, func(id int) bool { return o.asking[id] }) {
		text += " !: neither drill nor hang it before what is asked above is answered."
	}
	return drafting.Wrapped(text, tickSmall, o.area.Width())
}

// turned says where headings count from on a face where that is not straight up.
func (o *orderBook) turned(s stand.Stand) string {
	if v := o.views[s.Face]; v.Wall.Ceiling || !v.IsWall() {
		return "; " + v.Twelve()
	}
	return ""
}

func (o *orderBook) tickHead(s stand.Stand, pieces []int, second bool) {
	for _, line := range o.tickWords(s, pieces, second) {
		o.y += tickSmall * 1.6
		o.Say(o.area.Min.X, o.y, tickSmall, line, 0, drafting.Style{Colour: drafting.Quiet})
	}
	o.y++
}

func (o *orderBook) tickPiece(s stand.Stand, h elevation.Hung, x, y, width float64, second bool) {
	o.Group(fmt.Sprintf("piece %d", h.ID))
	defer o.End()
	if !second {
		o.Group("drilled")
		o.tick(x, y)
		o.End()
	}
	if slices.Contains(s.Later, h.ID) && !second {
		o.Say(x+tickHang+1.7, y, tickLeast, "2", 0, drafting.Style{Align: draw.Centre})
	} else {
		o.Group("hung")
		o.tick(x+tickHang, y)
		o.End()
	}
	if o.asking[h.ID] {
		o.Say(x+tickAsk, y, tickText, "!", 0, drafting.Style{Bold: true})
	}
	o.Say(x+tickNumber, y, tickText, fmt.Sprint(h.ID), tickNumber-tickAsk-2, drafting.Style{Bold: true, Align: draw.Right})
	o.Say(x+tickCode, y, tickLeast, h.Kind.Code, tickArrow-tickCode-2.5, drafting.Style{})
	sin, cos := math.Sincos(h.Heading.Angle())
	way := plane.Point{X: cos, Y: -sin}
	middle := plane.Point{X: x + tickArrow, Y: y - tickText/2}
	o.Line(middle.Sub(way.Scale(2)), middle.Add(way.Scale(1)), drafting.Medium)
	o.Arrow(middle.Add(way.Scale(2)), way, 1.8, drafting.Ink)
	o.Say(x+tickDegrees, y, tickLeast, fmt.Sprintf("%.0f°", math.Mod(math.Round(float64(h.Heading)), 360)), 0, drafting.Style{Align: draw.Right})
	o.Say(x+tickHoles, y, tickText, template.HoleNumbers(o.holes[h.ID]), width-tickHoles-1, drafting.Style{Bold: true})
}

// second lists what hangs in the second round, stand by stand.
func (o *orderBook) second() {
	begun := false
	for _, s := range o.stands {
		if len(s.Later) == 0 {
			continue
		}
		if !begun {
			o.page("Second round: hang")
			flow := drafting.ColumnFlow{Pen: o.Pen, Columns: []plane.Rect{{Min: plane.Point{X: o.area.Min.X, Y: o.y}, Max: o.area.Max}}, Y: o.y - 1}
			flow.Item(drafting.Item{Lead: "", Text: "When all stands are drilled, take down the paper that is left, what lies on top first, the last of the rows from their right ends. Leave the tapes with numbers and arrows on the wall. Then hang what follows, in this order; what is not listed hangs already. At each place stand as in the first round. Each row has a box to tick when the piece hangs, its number, kind, heading in degrees clockwise and the numbers of its holes. !: not before what its stand asks is answered."})
			o.y = flow.Y + 2
			begun = true
		}
		where := drafting.Wrapped(o.where(s)+"; "+o.views[s.Face].Twelve(), tickSmall, o.area.Width()/elevation.OtherFonts)
		head := secondHead + secondLine*float64(len(where)-1)
		if o.y+head+o.tickHeight(s, s.Later, true) > o.area.Max.Y && (o.y+head+5*tickRow > o.area.Max.Y || len(s.Later) <= 15) {
			o.page("Second round, continued")
		}
		o.Group(fmt.Sprintf("stand %d", s.Number))
		x := o.area.Min.X
		o.Segment(x, o.y, o.area.Max.X, o.y, drafting.Medium)
		lead := fmt.Sprintf("Stand %d", s.Number)
		o.Say(x, o.y+6, draw.Letter35, lead, 0, drafting.Style{Bold: true})
		left := x + drafting.TextWidth(lead, draw.Letter35, true) + 4
		o.Say(left, o.y+6, draw.Letter25, drafting.Joined(" · ", o.views[s.Face].Name(), accessWord(s), drafting.Count(len(s.Later), "piece", "pieces")), o.area.Max.X-left, drafting.Style{})
		for i, line := range where {
			o.Say(x, o.y+10.5+secondLine*float64(i), tickSmall, line, o.area.Width(), drafting.Style{})
		}
		o.y += head
		o.ticks(s, s.Later, true)
		o.y += 4
		o.End()
	}
}

// The head of a stand in the second round, mm.
const (
	secondHead = 12.0 // with one line that says where
	secondLine = 3.6  // for another
)
