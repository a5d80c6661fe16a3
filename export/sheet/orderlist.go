package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/draw"
	"wallshoal/export/hours"
	"wallshoal/export/stand"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

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
	o.say(o.area.Min.X, o.area.Min.Y+5.5, draw.Letter50, o.work.Title, o.area.Width()*0.56, style{bold: true})
	o.say(o.area.Min.X, o.area.Min.Y+12.5, draw.Letter35, "Order of work: "+count(len(o.stands), "stand", "stands"), o.area.Width()*0.56, style{})
	y := o.area.Min.Y + 0.5
	for _, text := range []string{o.work.For, o.work.Place, joined(" · ", o.work.By, o.views[o.stands[0].Face].dated())} {
		if text != "" {
			y += 4
			o.say(o.area.Max.X, y, draw.Letter25, text, o.area.Width()*0.42, style{align: draw.Right, colour: quiet})
		}
	}
	o.y += 20
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
	x, s := o.area.Min.X, style{colour: quiet}
	right := style{colour: quiet, align: draw.Right}
	o.say(x+listWhere, o.y, least, "Where", 0, s)
	o.say(x+listOn, o.y, least, "Standing on", 0, s)
	o.say(x+listFrom, o.y, least, "From wall's left end", 0, right)
	o.say(x+listHigh, o.y, least, "Reach up to", 0, right)
	o.say(x+listPieces, o.y, least, "Pieces", 0, right)
	o.say(x+listHoles, o.y, least, "Holes", 0, right)
	if o.timed() {
		o.say(x+listTime, o.y, least, "Time", 0, right)
	}
}

// listRow writes one stand on the line at o.y.
func (o *orderBook) listRow(s stand.Stand, row float64) {
	x, v := o.area.Min.X, o.views[s.Face]
	right := style{align: draw.Right}
	_, high := s.Above()
	from := "–"
	if s.Place.Wall >= 0 {
		from = v.length(s.Place.Left)
	}
	o.tick(x, o.y)
	o.say(x+listNumber, o.y, draw.Letter25, fmt.Sprint(s.Number), 0, style{align: draw.Right, bold: true})
	o.say(x+listWhere, o.y, draw.Letter25, v.name(), listOn-listWhere-2, style{})
	o.say(x+listOn, o.y, draw.Letter25, accessWord(s), listFrom-listOn-19, style{})
	o.say(x+listFrom, o.y, draw.Letter25, from, 18, right)
	o.say(x+listHigh, o.y, draw.Letter25, v.length(high), 18, right)
	o.say(x+listPieces, o.y, draw.Letter25, fmt.Sprint(len(s.Pieces)), 0, right)
	o.say(x+listHoles, o.y, draw.Letter25, fmt.Sprint(s.Holes), 0, right)
	o.say(x+listTime, o.y, draw.Letter25, o.minutes(s.Times), 20, right)
	o.line(x, o.y+row*0.28, o.area.Max.X, o.y+row*0.28, shade(hair, faint))
}

// listSum writes the sum of all stands.
func (o *orderBook) listSum() {
	pieces, holes := 0, 0
	var times []stand.Time
	for _, s := range o.stands {
		pieces, holes = pieces+len(s.Pieces), holes+s.Holes
		times = append(times, s.Times...)
	}
	x, right := o.area.Min.X, style{align: draw.Right, bold: true}
	o.say(x+listWhere, o.y, draw.Letter25, "All", 0, style{bold: true})
	o.say(x+listPieces, o.y, draw.Letter25, fmt.Sprint(pieces), 0, right)
	o.say(x+listHoles, o.y, draw.Letter25, fmt.Sprint(holes), 0, right)
	o.say(x+listTime, o.y, draw.Letter25, o.minutes(times), 20, right)
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
	sum := 0.0
	for _, t := range times {
		sum += t.Minutes
	}
	return hours.Clock(sum)
}

// tick draws a box to tick that stands on a line of text.
func (o *orderBook) tick(x, y float64) {
	o.box(plane.Rect{Min: plane.Point{X: x, Y: y - 3}, Max: plane.Point{X: x + 3.4, Y: y + 0.4}}, draw.Paint{Stroke: thin})
}

// cautions writes what holds for every stand, in plain words.
func (o *orderBook) cautions() {
	items := []item{
		{"Cables and pipes.", "Sweep every place with a detector before its first hole. Have the circuits of the wall switched off, locked off and proved dead by somebody qualified. Stop at anything found."},
		{"Ladders.", "Use one made for the height, on a firm level floor, fully open, with somebody at its foot. Keep your middle between its stiles; move it instead of leaning. Never stand on the top or the top step (29 CFR 1926.1053(b)(13)). Lock doors that open onto it, or have them kept."},
		{"Stairs and overhead.", "Nobody drills overhead from a step ladder, or sets one up on steps. A platform or a tower, over steps one that is made for stairs, is put up by people trained for it and has guard rails. Keep everybody out from under. Wear goggles; rest often; come down when tired."},
		{"Dust.", "Drill with a collector at the bit, clean holes with a vacuum cleaner, and do not blow them out. Find out about lead in old paint and asbestos in boards and coatings before the first hole."},
		{"Sheets.", sheetsFirst + " Where a stand says that its sheets meet no others, they can wait until you stand there. " + tapeWords + " " + o.belongs()},
		{"Reach", "counts from the floor at the stand, as far as the plan knows it at the foot of the wall: measure it there before you set anything up."},
	}
	items = append(slices.Concat(items, o.fixings()), o.crew()...)
	within := o.area
	within.Min.Y = o.y
	flow := columnFlow{pen: o.pen, columns: []plane.Rect{within}, more: func() []plane.Rect { o.page(""); return []plane.Rect{o.area} }}
	flow.write([]block{{heading: "Before you begin", items: items}})
	o.y = flow.y + 3
}

// fixings says how each fixing is put in, as far as the plan knows.
func (o *orderBook) fixings() []item {
	var out []item
	seen := map[string]bool{}
	for _, h := range o.work.Map.Holes {
		if seen[h.Fixing] {
			continue
		}
		seen[h.Fixing] = true
		how := o.work.HowTo(h.Fixing)
		if how == "" {
			how = "how it is put in, and the piece onto it, the plan does not say: ask whoever made the pieces before the first one."
		}
		out = append(out, item{h.Fixing + ":", how})
	}
	return out
}

// crew says how many people the stands take, and what with.
func (o *orderBook) crew() []item {
	var out []item
	for _, a := range stand.Accesses() {
		var numbers []int
		for _, s := range o.stands {
			if s.Access == a {
				numbers = append(numbers, s.Number)
			}
		}
		if len(numbers) == 0 {
			continue
		}
		who := map[stand.Access]string{
			stand.Platform: "Platform, two people:", stand.StairPlatform: "Platform made for stairs, two people:",
			stand.Ladder: "Step ladder, one on it and one at its foot:", stand.Floor: "From the floor, alone:",
		}[a]
		what := "stands "
		if len(numbers) == 1 {
			what = "stand "
		}
		out = append(out, item{who, what + holeNumbers(numbers)})
	}
	return out
}

// caution lists all cautions of the work after the list of stands, since who hangs it may have nothing but
// this paper.
func (o *orderBook) caution() {
	var items []item
	where := map[string][]string{}
	for _, c := range o.work.Map.Cautions {
		on := c.Wall
		if c.Face != "" && c.Face != wall.WallFace {
			on += ", " + c.Face
		}
		where[c.Code+c.Text] = append(where[c.Code+c.Text], fmt.Sprintf("%s (%s)", on, count(c.Holes, "hole", "holes")))
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
		items = append(items, item{lead, strings.Join(on, "; ") + ": " + text})
	}
	if len(items) == 0 {
		return
	}
	more := func() []plane.Rect {
		o.page("")
		return columnsOf(o.area, 2, 8)
	}
	const enough = 60 // mm
	columns := more
	if o.area.Max.Y-o.y > enough {
		columns = func() []plane.Rect {
			within := o.area
			within.Min.Y = o.y + 6
			return columnsOf(within, 2, 8)
		}
	}
	items = append(items, item{"", "These are usual cautions, not clearance: local codes and licensed trades decide. What has an exclamation mark is settled before the first hole."})
	flow := columnFlow{pen: o.pen, columns: columns(), more: more}
	flow.write([]block{{heading: "Cautions of this work", items: items}})
	o.y = o.area.Max.Y
}

// belongs says which sheets the order of work goes with.
func (o *orderBook) belongs() string {
	if len(o.older) > 0 {
		return "Names and numbers are those that hang on the wall: of older layouts where sheets stay, and of the sheets printed anew, whose key says by name and mark which belong there."
	}
	return "Names and numbers are those of the hole map with the fingerprint below, printed whole. With sheets of an older layout on the wall use the order of work that was written with those printed anew, not this."
}
