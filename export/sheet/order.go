package sheet

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/stand"
	"wallshoal/wall/plane"
)

// Order draws the order of work, upright on the sheet that the client's pages are on: all stands as a
// list with general cautions, then each stand with where it is, what to carry there, and a box to tick
// for each of its pieces. The error says why the work cannot be drawn.
func Order(c draw.Canvas, w holemap.Work, stands []stand.Stand, p Print) error {
	if len(stands) == 0 {
		return ErrNoPieces
	}
	o := &orderBook{pen: pen{c}, paper: clientPaper(p.Paper), work: w, views: map[int]view{}, sheets: map[int]string{}, stands: stands}
	for _, s := range stands {
		for _, i := range []int{s.Face, o.shownOn(s)} {
			if _, known := o.views[i]; known {
				continue
			}
			v, err := look(w, i)
			if err != nil {
				return err
			}
			o.views[i] = v
			if err := o.findSheets(v, p); err != nil {
				return err
			}
		}
	}
	o.pieces = map[int]hung{}
	for _, piece := range w.Layout.Pieces {
		o.pieces[piece.ID] = hung{Piece: piece, kind: w.Kinds[piece.Kind]}
	}
	o.holes = map[int][]int{}
	for _, h := range w.Map.Holes {
		o.holes[h.Piece] = append(o.holes[h.Piece], h.Number)
	}
	o.list()
	for _, s := range stands {
		o.stand(s)
	}
	return nil
}

// An orderBook draws the order of work page by page.
type orderBook struct {
	pen
	paper  Paper
	work   holemap.Work
	stands []stand.Stand
	views  map[int]view
	sheets map[int]string // of the hole map, by the number of the hole
	pieces map[int]hung   // by ID
	holes  map[int][]int  // their numbers, by the ID of the piece
	area   plane.Rect     // of the page
	y      float64        // how far down it is used
	number int
}

// findSheets notes on which sheet of the hole map each hole of a face is drilled.
func (o *orderBook) findSheets(v view, p Print) error {
	if len(v.holes) == 0 {
		return nil
	}
	tiles, err := v.tiles(p)
	if err != nil {
		return err
	}
	for _, t := range tiles {
		for _, i := range t.Holes {
			h := o.work.Map.Holes[i]
			if _, known := o.sheets[h.Number]; !known && t.Cell.Contains(h.At) {
				o.sheets[h.Number] = t.Name
			}
		}
	}
	return nil
}

// page begins a page that says what it is about.
func (o *orderBook) page(shows string) {
	o.number++
	o.Page(o.paper.Width, o.paper.Height)
	o.area = plane.Rect{Max: plane.Point{X: o.paper.Width, Y: o.paper.Height}}.Grow(-14)
	note := joined(" · ", o.work.Title, "fingerprint "+o.work.Map.Fingerprint, fmt.Sprintf("page %d", o.number))
	o.say(o.area.Max.X, o.area.Max.Y+4, least, note, o.area.Width(), style{align: draw.Right, colour: quiet})
	o.y = o.area.Min.Y
	if shows != "" {
		o.y += draw.Letter35
		o.say(o.area.Min.X, o.y, draw.Letter35, shows, o.area.Width(), style{bold: true})
		o.y += 4
	}
}

// first returns any of the views, for what all of them know.
func (o *orderBook) first() view { return o.views[o.stands[0].Face] }

const orderRow = 6.0 // of the list of stands, mm

// list draws the first page: all stands in their order.
func (o *orderBook) list() {
	o.page("")
	o.first().header(o.pen, o.area, "Order of work: "+count(len(o.stands), "stand", "stands"))
	o.y += 20
	o.cautions()
	o.listHead()
	for _, s := range o.stands {
		if o.y+orderRow > o.area.Max.Y {
			o.page("Order of work, continued")
			o.listHead()
		}
		o.y += orderRow
		x, v := o.area.Min.X, o.views[s.Face]
		o.tick(x, o.y)
		right := style{align: draw.Right}
		o.say(x+12, o.y, draw.Letter25, fmt.Sprint(s.Number), 0, style{align: draw.Right, bold: true})
		o.say(x+15, o.y, draw.Letter25, v.name(), 50, style{})
		o.say(x+67, o.y, draw.Letter25, accessWord(s), 40, style{})
		o.say(x+136, o.y, draw.Letter25, o.from(s, v), 27, right)
		o.say(x+158, o.y, draw.Letter25, fmt.Sprint(len(s.Pieces)), 0, right)
		o.say(x+174, o.y, draw.Letter25, fmt.Sprint(s.Holes), 0, right)
		o.line(x, o.y+1.7, o.area.Max.X, o.y+1.7, shade(hair, faint))
	}
	o.y += 6
}

func (o *orderBook) listHead() {
	o.y += 4
	x, s := o.area.Min.X, style{colour: quiet}
	right := style{colour: quiet, align: draw.Right}
	o.say(x+15, o.y, least, "Where", 0, s)
	o.say(x+67, o.y, least, "Standing on", 0, s)
	o.say(x+136, o.y, least, "From the left end", 0, right)
	o.say(x+158, o.y, least, "Pieces", 0, right)
	o.say(x+174, o.y, least, "Holes", 0, right)
}

// from returns how far from the left end of its wall a stand is.
func (o *orderBook) from(s stand.Stand, v view) string {
	if s.Place.Wall < 0 {
		return "–"
	}
	return v.length(s.Place.Left)
}

// tick draws a box to tick that stands on a line of text.
func (o *orderBook) tick(x, y float64) {
	o.box(plane.Rect{Min: plane.Point{X: x, Y: y - 3}, Max: plane.Point{X: x + 3.4, Y: y + 0.4}}, draw.Paint{Stroke: thin})
}

func accessWord(s stand.Stand) string {
	word := map[stand.Access]string{stand.Platform: "platform, two people", stand.Ladder: "step ladder", stand.Floor: "the floor"}[s.Access]
	switch {
	case s.Access != stand.Floor && s.Foot.Steps:
		word = "platform made for stairs"
	case s.Access == stand.Ladder && s.Overhead:
		word = "platform"
	}
	if s.Overhead {
		word += ", overhead"
	}
	return word
}

// cautions writes what holds for every stand, in plain words.
func (o *orderBook) cautions() {
	items := []item{
		{"Cables and pipes.", "Sweep every place with a detector before its first hole. Have the circuits of the wall switched off, locked off and proved dead by somebody qualified. Stop at anything found."},
		{"Ladders.", "Use one made for the height, on a firm level floor, fully open, with somebody at its foot. Keep your middle between its stiles; move it instead of leaning. Never stand on the top or the top step (29 CFR 1926.1053(b)(13)). Lock doors that open onto it, or have them kept."},
		{"High and overhead.", "Overhead, and on a stair, nobody stands on a step ladder. A platform or a tower is put up by people trained for it and has guard rails. Keep everybody out from under. Wear goggles; rest often; come down when tired."},
		{"Dust.", "Drill with a collector at the bit, clean holes with a vacuum cleaner, and do not blow them out. Find out about lead in old paint and asbestos in boards and coatings before the first hole."},
		{"Sheets.", sheetsFirst + " " + tapeWords + " Every sheet must bear the fingerprint at the foot of this page. Read the cautions in scope.md too."},
		{"These are usual cautions,", "not clearance: local codes and licensed trades decide. Heights are above the plan's 0: the floor, or the part of it that a stand names."},
	}
	within := o.area
	within.Min.Y = o.y
	flow := columnFlow{pen: o.pen, columns: []plane.Rect{within}, more: func() []plane.Rect { o.page(""); return []plane.Rect{o.area} }}
	flow.write([]block{{heading: "Before you begin", items: items}})
	o.y = flow.y + 3
}

// where says in words where one stands for s.
func (o *orderBook) where(s stand.Stand) string {
	p, v := s.Place, o.views[s.Face]
	if p.Wall < 0 {
		return "under the middle of the window in the drawing"
	}
	name := o.work.Site.Room.Walls[p.Wall].Name
	if p.Back {
		name += ", behind it"
	}
	text := fmt.Sprintf("%s: %s from the left end%s, %s from the right end%s", name, v.length(p.Left), corner(p.ToLeft), v.length(p.Right), corner(p.ToRight))
	if p.Off > 0 {
		text += fmt.Sprintf(", and %s out from it", v.length(p.Off))
	}
	return text
}

func corner(to string) string {
	if to == "" {
		return ""
	}
	return " (corner to " + to + ")"
}

// sheetsOf names the sheets of the hole map that a stand needs.
func (o *orderBook) sheetsOf(s stand.Stand) string {
	in := map[int]bool{}
	for _, id := range s.Pieces {
		in[id] = true
	}
	seen := map[string]bool{}
	var names []string
	for _, h := range o.views[s.Face].holes {
		if name := o.sheets[h.Number]; in[h.Piece] && name != "" && !seen[name] {
			seen[name] = true
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return strings.Join(names, ", ")
}
