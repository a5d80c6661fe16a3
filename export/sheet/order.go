package sheet

import (
	"fmt"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/stand"
	"wallshoal/wall/plane"
)

// Order draws the order of work, upright on the sheet that the client's pages are on: all stands as a
// list with general cautions, then each stand with where it is, what to carry there, a close-up of its
// pieces, and a box to tick for each of them. It names the sheets of the hole map that HoleMap draws of
// the same work. The error says why the work cannot be drawn.
func Order(c draw.Canvas, w holemap.Work, stands []stand.Stand, p Print) error {
	return OrderSince(c, w, nil, stands, p)
}

// OrderSince draws the order of work for sheets that hang on the wall as Since leaves them, given the same
// older works: it names those, older and new. Without older works it is Order.
func OrderSince(c draw.Canvas, w holemap.Work, older []holemap.Work, stands []stand.Stand, p Print) error {
	if len(stands) == 0 {
		return ErrNoPieces
	}
	papers, err := papersOf(w, older, stands, p)
	if err != nil {
		return err
	}
	o := &orderBook{
		pen: pen{c}, paper: clientPaper(p.Paper), work: w, older: older, stands: inRounds(stands, papers), papers: papers,
		views: map[int]view{}, sheets: map[int]string{}, asking: map[int]bool{},
	}
	for face, on := range papers {
		o.views[face] = on.view
		o.findSheets(on)
	}
	for _, s := range stands {
		i := o.shownOn(s)
		if _, known := o.views[i]; known {
			continue
		}
		if o.views[i], err = look(w, i); err != nil {
			return err
		}
	}
	o.pieces = map[int]hung{}
	for _, piece := range w.Layout.Pieces {
		o.pieces[piece.ID] = hung{Piece: piece, kind: w.Kinds[piece.Kind]}
	}
	o.holes = map[int][]int{}
	for _, h := range w.Map.Holes {
		o.holes[h.Piece] = append(o.holes[h.Piece], h.Number)
		if v, drawn := o.views[h.Face]; drawn && v.flagged(h) {
			o.asking[h.Piece] = true
		}
	}
	o.list()
	o.kinds()
	o.caution()
	for _, s := range o.stands {
		o.stand(s)
	}
	o.second()
	return nil
}

// An orderBook draws the order of work page by page.
type orderBook struct {
	pen
	paper  Paper
	work   holemap.Work
	older  []holemap.Work // whose sheets hang on the wall as well
	stands []stand.Stand
	views  map[int]view
	papers map[int]paper  // by face
	sheets map[int]string // of the hole map, by the number of the hole
	asking map[int]bool   // pieces with a hole that has a caution to settle before it is drilled, by ID
	pieces map[int]hung   // by ID
	holes  map[int][]int  // their numbers, by the ID of the piece
	area   plane.Rect     // of the page
	y      float64        // how far down it is used
	number int
	short  bool // a stand shares its page, and what its boxes are is said on the first only
}

// findSheets notes on which sheet of the hole map each hole of a face is drilled.
func (o *orderBook) findSheets(on paper) {
	for _, t := range on.tiles {
		for _, i := range t.Holes {
			h := o.work.Map.Holes[i]
			if _, known := o.sheets[h.Number]; !known && t.Cell.Contains(h.At) {
				o.sheets[h.Number] = t.Name
			}
		}
	}
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
