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
// pieces, and a box to tick for each of them. It names the sheets that HoleMap draws of the same cut, and
// where sheets of older works hang those of them that stay. The error is ErrNoPieces where there are no stands.
func Order(c draw.Canvas, cut Cut, stands []stand.Stand) error {
	if len(stands) == 0 {
		return ErrNoPieces
	}
	w, papers := cut.work, cut.papers(stands)
	o := &orderBook{
		pen: pen{c}, paper: clientPaper(cut.print.Paper), work: w, over: cut.over, stands: inRounds(stands, papers), papers: papers,
		views: map[int]view{}, sheets: map[int]string{}, asking: map[int]bool{},
	}
	for face, on := range papers {
		o.views[face] = on.view
		o.findSheets(on)
	}
	for _, s := range stands {
		i := o.shownOn(s)
		o.views[i] = cut.faces[i].view
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
	over   bool // sheets of older works, some of which stay
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
