package orderpage

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/hours"
	"wallshoal/export/stand"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// orderHang is how far paragraphs stand in after their first line, mm: what they begin with is long, and the
// columns narrow.
const orderHang = 4.0

// The rows of the list of stands, mm: as high as there is room for, within these.
const (
	orderRow      = 6.0
	orderRowLeast = 4.4
	orderHead     = 4.0
	fewRows       = 8
)

// list draws the first page: all stands in their order, and their sum.
func (o *orderBook) list() {
	o.page("")
	o.header()
	o.cautions()
	rows := len(o.stands) + 1
	row, share := o.rowsFor(rows)
	for i := range rows {
		if i == 0 {
			o.listHead()
		} else if share[0] == 0 {
			share = share[1:]
			o.page("Order of work, continued")
			o.listHead()
		}
		share[0]--
		o.y += row
		if i < len(o.stands) {
			o.listRow(o.stands[i], row)
		} else {
			o.listSum()
		}
	}
}

// header writes what the work is, and for whom, where and by whom, one under the other.
func (o *orderBook) header() {
	o.Say(o.area.Min.X, o.area.Min.Y+5.5, draw.Letter50, o.work.Title, o.area.Width()*0.56, drafting.Style{Bold: true})
	o.Say(o.area.Min.X, o.area.Min.Y+12.5, draw.Letter35, "Order of work: "+drafting.Count(len(o.stands), "stand", "stands"), o.area.Width()*0.56, drafting.Style{})
	if n, all := o.secondRound(); n > 0 {
		text := fmt.Sprintf("Second round: %d of %s hang when all paper is down", n, drafting.Count(all, "piece", "pieces"))
		if n == all {
			text = "Second round: every piece hangs when all paper is down"
		}
		o.Say(o.area.Min.X, o.area.Min.Y+17.5, draw.Letter25, text, o.area.Width()*0.56, drafting.Style{})
	}
	y := o.area.Min.Y + 0.5
	for _, text := range []string{o.work.For, o.work.Place, drafting.Joined(" · ", o.work.By, o.views[o.stands[0].Face].Dated())} {
		if text != "" {
			y += 4
			o.Say(o.area.Max.X, y, draw.Letter25, text, o.area.Width()*0.42, drafting.Style{Align: draw.Right, Colour: drafting.Quiet})
		}
	}
	o.y += 21
}

// secondRound returns how many of all pieces hang in the second round.
func (o *orderBook) secondRound() (later, all int) {
	for _, s := range o.stands {
		later, all = later+len(s.Later), all+len(s.Pieces)
	}
	return later, all
}

// rowsFor returns how high the rows of the list are and how many stand on each page: all on the first
// where they have room, else no few on the last.
func (o *orderBook) rowsFor(rows int) (height float64, share []int) {
	first := o.area.Max.Y - o.y - orderHead
	if height = math.Min(orderRow, first/float64(rows)); height >= orderRowLeast {
		return height, []int{rows}
	}
	share = []int{int(first / orderRow)}
	more := int((o.area.Height() - draw.Letter35 - 4 - orderHead) / orderRow)
	left := rows - share[0]
	for ; left > more; left -= more {
		share = append(share, more)
	}
	if few := min(fewRows, rows/2) - left; few > 0 {
		share[len(share)-1] -= few
		left += few
	}
	return orderRow, append(share, left)
}

// The columns of the list, mm from its left: where they begin, or end where they are figures.
const (
	listNumber = 11.0
	listWhere  = 13.5
	listOn     = 62.0
	listFrom   = 119.0
	listHigh   = 138.0
	listPieces = 149.0
	listHoles  = 160.0
	listTime   = 182.0
)

func (o *orderBook) listHead() {
	o.y += orderHead
	x, s := o.area.Min.X, drafting.Style{Colour: drafting.Quiet}
	right := drafting.Style{Colour: drafting.Quiet, Align: draw.Right}
	on, from := o.listColumns()
	o.Say(x+listWhere, o.y, tickSmall, "Where", 0, s)
	o.Say(x+on, o.y, tickSmall, "Standing on", 0, s)
	o.Say(x+listFrom, o.y, tickSmall, from, 0, right)
	o.Say(x+listHigh, o.y, tickSmall, "Reach up to", 0, right)
	o.Say(x+listPieces, o.y, tickSmall, "Pieces", 0, right)
	o.Say(x+listHoles, o.y, tickSmall, "Holes", 0, right)
	if o.timed() {
		o.Say(x+listTime, o.y, tickSmall, "Time, about", 0, right)
	}
}

// listColumns returns where the column of what one stands on begins, and the heading of the next: where
// stands are under a ceiling that has how far one is out from the wall as well.
func (o *orderBook) listColumns() (on float64, from string) {
	if slices.ContainsFunc(o.stands, func(s stand.Stand) bool { return s.Place.Off > 0 }) {
		return listOn - 10, "Along wall, out from it"
	}
	return listOn, "From wall's left end"
}

// listRow writes one stand on the line at o.y.
func (o *orderBook) listRow(s stand.Stand, row float64) {
	x, v := o.area.Min.X, o.views[s.Face]
	right := drafting.Style{Align: draw.Right}
	_, high := s.Above()
	on, _ := o.listColumns()
	where, from, wide := v.Name(), "–", 18.0
	if s.Place.Wall >= 0 {
		from = v.Length(s.Place.Left)
	}
	if s.Place.Off > 0 {
		// Which wall it counts from is half of the place.
		where += ", " + o.work.Site.Room.Walls[s.Place.Wall].Name
		from, wide = from+", "+v.Length(s.Place.Off), 33
	}
	access := accessWord(s)
	if s.Same > 0 {
		access += fmt.Sprintf(", as %d", s.Same)
	}
	o.tick(x, o.y)
	o.Say(x+listNumber, o.y, draw.Letter25, fmt.Sprint(s.Number), 0, drafting.Style{Align: draw.Right, Bold: true})
	o.Say(x+listWhere, o.y, draw.Letter25, where, on-listWhere-2, drafting.Style{})
	o.Say(x+on, o.y, draw.Letter25, access, listFrom-on-wide-1, drafting.Style{})
	o.Say(x+listFrom, o.y, draw.Letter25, from, wide, right)
	o.Say(x+listHigh, o.y, draw.Letter25, v.Length(high), 18, right)
	o.Say(x+listPieces, o.y, draw.Letter25, fmt.Sprint(len(s.Pieces)), 0, right)
	o.Say(x+listHoles, o.y, draw.Letter25, fmt.Sprint(s.Holes), 0, right)
	o.Say(x+listTime, o.y, draw.Letter25, o.minutes(s.Times), 20, right)
	o.Segment(x, o.y+row*0.28, o.area.Max.X, o.y+row*0.28, drafting.Shade(drafting.Hair, drafting.Faint))
}

// listSum writes the sum of all stands; of their times as they are shown.
func (o *orderBook) listSum() {
	pieces, holes, minutes := 0, 0, 0.0
	for _, s := range o.stands {
		pieces, holes = pieces+len(s.Pieces), holes+s.Holes
		minutes += math.Floor(summed(s.Times) + 0.5)
	}
	x, right := o.area.Min.X, drafting.Style{Align: draw.Right, Bold: true}
	o.Say(x+listWhere, o.y, draw.Letter25, "All", 0, drafting.Style{Bold: true})
	o.Say(x+listPieces, o.y, draw.Letter25, fmt.Sprint(pieces), 0, right)
	o.Say(x+listHoles, o.y, draw.Letter25, fmt.Sprint(holes), 0, right)
	if o.timed() {
		o.Say(x+listTime, o.y, draw.Letter25, hours.Clock(minutes), 20, right)
	}
}

// timed reports whether anything is known of how long the work takes.
func (o *orderBook) timed() bool {
	for _, s := range o.stands {
		if len(s.Times) > 0 {
			return true
		}
	}
	return false
}

// minutes words the sum of times; nothing where there are none.
func (o *orderBook) minutes(times []stand.Time) string {
	if len(times) == 0 {
		return ""
	}
	return hours.Clock(summed(times))
}

// summed returns the sum of times, minutes.
func summed(times []stand.Time) float64 {
	sum := 0.0
	for _, t := range times {
		sum += t.Minutes
	}
	return sum
}

// tick draws a box to tick that stands on a line of text.
func (o *orderBook) tick(x, y float64) {
	o.Box(plane.Rect{Min: plane.Point{X: x, Y: y - 3}, Max: plane.Point{X: x + 3.4, Y: y + 0.4}}, draw.Paint{Stroke: drafting.Thin})
}

// caution lists all cautions of the work after the list of stands, since who hangs it may have nothing but
// this paper.
func (o *orderBook) caution() {
	var items []drafting.Item
	where := map[string][]string{}
	for _, c := range o.work.Map.Cautions {
		on := c.Wall
		if c.Face != "" && c.Face != wall.WallFace {
			on += ", " + c.Face
		}
		where[c.Code+c.Text] = append(where[c.Code+c.Text], fmt.Sprintf("%s (%s)", on, drafting.Count(c.Holes, "hole", "holes")))
	}
	for _, c := range o.work.Map.Cautions {
		on := where[c.Code+c.Text]
		if len(on) == 0 {
			continue
		}
		delete(where, c.Code+c.Text)
		lead := "! " + c.Code
		if c.Severity == caution.Note {
			lead = c.Code
		}
		text := strings.TrimSpace(strings.TrimSuffix(c.Text, caution.Standing))
		items = append(items, drafting.Item{Lead: lead, Text: strings.Join(on, "; ") + ": " + text})
	}
	if len(items) == 0 {
		return
	}
	more := func() []plane.Rect {
		o.page("")
		return drafting.ColumnsOf(o.area, 2, 8)
	}
	const enough = 60 // mm
	columns := more
	if o.area.Max.Y-o.y > enough {
		columns = func() []plane.Rect {
			within := o.area
			within.Min.Y = o.y + 6
			return drafting.ColumnsOf(within, 2, 8)
		}
	}
	items = slices.Insert(items, 0, drafting.Item{Lead: "", Text: "These are usual cautions, not clearance: local codes and licensed trades decide. What has an exclamation mark is settled before the first hole."})
	flow := drafting.ColumnFlow{Pen: o.Pen, Columns: columns(), More: more, Hang: orderHang}
	flow.Write([]drafting.Block{{Heading: "Cautions of this work", Items: items}})
	o.y = o.area.Max.Y
}

// belongs says which sheets the order of work goes with.
func (o *orderBook) belongs() string {
	if o.over {
		return "Names and numbers are those that hang on the wall: of older layouts where sheets stay, and of the sheets printed anew, whose key says by name and mark which belong there."
	}
	return "Names and numbers are those of the hole map with the fingerprint below, printed whole. With sheets of an older layout on the wall use the order of work that was written with those printed anew, not this."
}
