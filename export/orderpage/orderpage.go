// Package orderpage draws the order of work: stand by stand what is put up, drilled and hung, to be ticked off.
package orderpage

import (
	"fmt"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/stand"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// Draw draws the order of work, upright on the sheet that the client's pages are on: all stands as a
// list with general cautions, then each stand with where it is, what to carry there, a close-up of its
// pieces, and a box to tick for each of them. It names the sheets that HoleMap draws of the same cut, and
// where sheets of older works hang those of them that stay. The error is ErrNoPieces where there are no stands.
func Draw(c draw.Canvas, cut tiling.Cut, stands []stand.Stand) error {
	if len(stands) == 0 {
		return elevation.ErrNoPieces
	}
	w, papers := cut.Work(), cut.Papers(stands)
	o := &orderBook{
		Pen: drafting.Pen{Canvas: c}, paper: drafting.ReadingPaper(cut.Print().Paper), work: w, over: cut.Over, stands: tiling.InRounds(stands, papers), papers: papers,
		views: map[int]elevation.View{}, sheets: map[int]string{}, asking: map[int]bool{},
	}
	for face, on := range papers {
		o.views[face] = on.View
		o.findSheets(on)
	}
	for _, s := range stands {
		i := o.shownOn(s)
		o.views[i] = cut.Faces[i].View
	}
	o.pieces = map[int]elevation.Hung{}
	for _, piece := range w.Layout.Pieces {
		o.pieces[piece.ID] = elevation.Hung{Piece: piece, Kind: w.Kinds[piece.Kind]}
	}
	o.holes = map[int][]int{}
	for _, h := range w.Map.Holes {
		o.holes[h.Piece] = append(o.holes[h.Piece], h.Number)
		if v, drawn := o.views[h.Face]; drawn && v.Flagged(h) {
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
	drafting.Pen
	paper  drafting.Paper
	work   holemap.Work
	over   bool // sheets of older works, some of which stay
	stands []stand.Stand
	views  map[int]elevation.View
	papers map[int]tiling.Paper   // by face
	sheets map[int]string         // of the hole map, by the number of the hole
	asking map[int]bool           // pieces with a hole that has a caution to settle before it is drilled, by ID
	pieces map[int]elevation.Hung // by ID
	holes  map[int][]int          // their numbers, by the ID of the piece
	area   plane.Rect             // of the page
	y      float64                // how far down it is used
	number int
	short  bool // a stand shares its page, and what its boxes are is said on the first only
}

// findSheets notes on which sheet of the hole map each hole of a face is drilled.
func (o *orderBook) findSheets(on tiling.Paper) {
	for _, t := range on.Tiles {
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
	note := drafting.Joined(" · ", o.work.Title, "fingerprint "+o.work.Map.Fingerprint, fmt.Sprintf("page %d", o.number))
	o.Say(o.area.Max.X, o.area.Max.Y+4, drafting.Least, note, o.area.Width(), drafting.Style{Align: draw.Right, Colour: drafting.Quiet})
	o.y = o.area.Min.Y
	if shows != "" {
		o.y += draw.Letter35
		o.Say(o.area.Min.X, o.y, draw.Letter35, shows, o.area.Width(), drafting.Style{Bold: true})
		o.y += 4
	}
}
