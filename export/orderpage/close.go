package orderpage

import (
	"cmp"
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

// The letters of a close-up, mm: read at arm's length.
const (
	closeNumber = draw.Letter25 // of a piece and its kind
	closeLeast  = 2.0           // likewise where there is less room, and of holes
)

// The close-up of a stand, mm on paper.
const (
	closeAir   = 9.0  // round its pieces, for what is written beside them
	closeHead  = 8.0  // the lines over it
	closePiece = 13.0 // as long as a piece is drawn on average, if there is room
	closeAlone = 20.0 // likewise on a page of its own
	closeSmall = 4.0  // shorter than that it goes onto a page of its own
	closeFair  = 5.5  // as long as it is at least on a page that stands share
	closeLarge = 2.5  // the ratio of the largest scale
	closeParts = 12   // into which a crowded one is divided
)

// What labels must keep off, so bad that none of it is covered, and what they would rather keep off.
const (
	worthClose = 1e4
	worthLine  = 1.0
	worthBy    = 0.05
	tooMuch    = worthClose / 100
)

// A closeUp is a window of a stand drawn so large that every piece bears its number.
type closeUp struct {
	book *orderBook
	elevation.View
	drafting.Mapping
	stand  stand.Stand
	window plane.Rect // on the face
	area   plane.Rect // on the page
	drawn  drafting.Scale
	pieces []elevation.Hung // of the stand, that it labels
	labels []tag
	free   *drafting.Raster
	lost   []int // pieces without a label, by ID
}

// A tag is what is written beside one piece.
type tag struct {
	piece  elevation.Hung
	box    plane.Rect
	number string  // of the piece, with its kind
	holes  string  // their numbers; empty where there are none
	height float64 // of the letters of the number
	beside bool    // the holes stand beside the number, not below it
}

// closeWindow returns what the pieces take up on the face.
func (o *orderBook) closeWindow(pieces []elevation.Hung) plane.Rect {
	box := pieces[0].Bounds
	for _, h := range pieces[1:] {
		box = box.Union(h.Bounds)
	}
	return box
}

// hungAt returns the pieces of a stand with their outlines on the face.
func (o *orderBook) hungAt(s stand.Stand) []elevation.Hung {
	out := make([]elevation.Hung, 0, len(s.Pieces))
	for _, id := range s.Pieces {
		h := o.pieces[id]
		h.Ring = h.Outline(o.work.Kinds)
		h.Bounds = h.Ring.Bounds()
		out = append(out, h)
	}
	return out
}

// closeScales returns the scales at which a window fits a room on paper, the largest first.
func (o *orderBook) closeScales(window plane.Rect, width, height float64) []drafting.Scale {
	var out []drafting.Scale
	scales := drafting.PictureScales(o.work.Units)
	if !o.work.Units.Imperial() {
		scales = append(scales, drafting.Scale{Ratio: 12})
		slices.SortFunc(scales, func(a, b drafting.Scale) int { return cmp.Compare(a.Ratio, b.Ratio) })
	}
	for _, s := range scales {
		fits := window.Width()/s.Ratio+2*closeAir <= width && window.Height()/s.Ratio+2*closeAir <= height
		if fits && s.Ratio >= closeLarge {
			out = append(out, s)
		}
	}
	return out
}

// closeUpIn returns the close-up of pieces that fits a room on paper and has room for all labels: with
// pieces about so long on paper, on average, larger where labels need it. Whole is false where there is none; then
// it is the one with the fewest pieces that lack a label, if any fits at all.
func (o *orderBook) closeUpIn(s stand.Stand, pieces []elevation.Hung, width, height, piece float64) (best *closeUp, whole bool) {
	window := o.closeWindow(pieces)
	scales := o.closeScales(window, width, height)
	if len(scales) == 0 {
		return nil, false
	}
	long := 0.0
	for _, h := range pieces {
		long += elevation.LengthAlong(h.Kind.Outline) / float64(len(pieces))
	}
	from := slices.IndexFunc(scales, func(s drafting.Scale) bool { return long/s.Ratio <= piece })
	if from < 0 {
		from = len(scales) - 1
	}
	for i := from; i >= 0; i-- {
		c := o.closeUpAt(s, pieces, window, scales[i], width)
		if best == nil || len(c.lost) < len(best.lost) {
			best = c
		}
		if len(c.lost) == 0 {
			return c, long/scales[i].Ratio >= closeSmall && c.small() <= len(pieces)/4
		}
	}
	return best, false
}

// small returns how many labels have the small letters.
func (c *closeUp) small() int {
	n := 0
	for _, l := range c.labels {
		if l.height < closeNumber {
			n++
		}
	}
	return n
}

// closeUpAt lays out the close-up at a scale, with the top left of its area at 0, 0.
func (o *orderBook) closeUpAt(s stand.Stand, pieces []elevation.Hung, window plane.Rect, scale drafting.Scale, width float64) *closeUp {
	c := &closeUp{book: o, View: o.views[s.Face], stand: s, window: window, drawn: scale, pieces: pieces}
	high := window.Height()/scale.Ratio + 2*closeAir
	c.area = plane.Rect{Max: plane.Point{X: width, Y: high}}
	c.Mapping = drafting.Mapping{K: 1 / scale.Ratio}
	c.Origin = plane.Point{
		X: (width-window.Width()*c.K)/2 - window.Min.X*c.K, Y: closeAir + window.Max.Y*c.K,
	}
	c.letter()
	return c
}

// letter finds a place for the label of every piece, first where they are crowded.
func (c *closeUp) letter() {
	c.free = drafting.NewRaster(c.area.Grow(-0.5))
	for _, r := range c.Mapping.Rings(c.View.Rings) {
		c.takeLine(worthLine, append(slices.Clone(r), r[0])...)
	}
	for _, t := range c.Things {
		r := c.Ring(t.Shape)
		c.takeLine(worthLine, append(slices.Clone(r), r[0])...)
	}
	seen := c.window.Grow(2 * closeAir / c.K)
	for _, h := range c.View.Pieces {
		if !h.Bounds.Overlaps(seen) {
			continue
		}
		worth := worthBy
		if slices.Contains(c.stand.Pieces, h.ID) {
			worth = worthClose
			tip, _ := c.tip(h)
			c.takeLine(worthClose, c.At(h.At), tip)
		}
		c.takeRing(c.Ring(h.Ring), worth)
	}
	for _, h := range c.crowdedFirst() {
		best, cost := tag{}, math.Inf(1)
		for n, l := range c.forms(h) {
			if !c.free.Within.Contains(l.box.Min) || !c.free.Within.Contains(l.box.Max) {
				continue
			}
			here := c.free.Cost(l.box, tooMuch)
			if here >= tooMuch {
				continue
			}
			// Close to others it might be taken for theirs.
			here += c.free.Cost(l.box.Grow(0.7), 10*worthClose)*1e-4 + float64(n)*1e-3
			if here < cost {
				best, cost = l, here
			}
		}
		if math.IsInf(cost, 1) {
			c.lost = append(c.lost, h.ID)
			continue
		}
		c.free.Take(best.box.Grow(0.3), worthClose)
		c.labels = append(c.labels, best)
	}
	slices.Sort(c.lost)
}

// crowdedFirst returns the pieces in the order in which they are labelled: first those that have most
// others close by.
func (c *closeUp) crowdedFirst() []elevation.Hung {
	const near = 22.0 // mm on paper
	crowd := map[int]int{}
	for _, h := range c.pieces {
		for _, other := range c.pieces {
			if h.At.Distance(other.At)*c.K < near {
				crowd[h.ID]++
			}
		}
	}
	return slices.SortedFunc(slices.Values(c.pieces), func(a, b elevation.Hung) int {
		return cmp.Or(cmp.Compare(crowd[b.ID], crowd[a.ID]), cmp.Compare(a.ID, b.ID))
	})
}

// tip returns where the arrow of a piece ends, and the way it heads on the page.
func (c *closeUp) tip(h elevation.Hung) (tip, way plane.Point) {
	way = c.Way(h.Heading)
	ahead := 0.0
	for _, p := range c.Ring(h.Ring) {
		ahead = math.Max(ahead, p.Sub(c.At(h.At)).Dot(way))
	}
	return c.At(h.At).Add(way.Scale(ahead + 3)), way
}

// takeRing keeps labels off a shape, square by square.
func (c *closeUp) takeRing(r plane.Ring, worth float64) {
	const side = 1.0
	b := r.Bounds()
	if !b.Overlaps(c.area) {
		return
	}
	for y := b.Min.Y; y < b.Max.Y; y += side {
		for x := b.Min.X; x < b.Max.X; x += side {
			if r.Contains(plane.Point{X: x + side/2, Y: y + side/2}) {
				c.free.Take(plane.Rect{Min: plane.Point{X: x, Y: y}, Max: plane.Point{X: x + side, Y: y + side}}, worth)
			}
		}
	}
	c.takeLine(worth, append(slices.Clone(r), r[0])...)
}

// takeLine keeps labels off a line.
func (c *closeUp) takeLine(worth float64, points ...plane.Point) {
	for i, a := range points[:len(points)-1] {
		b := points[i+1]
		if !(plane.Ring{a, b}).Bounds().Grow(1).Overlaps(c.area) {
			continue
		}
		parts := math.Ceil(a.Distance(b))
		for n := range int(parts) {
			c.free.Take(drafting.BoxAt(a.Lerp(b, (float64(n)+0.5)/parts), 0.9, 0.9), worth)
		}
	}
}

// forms returns the ways to label a piece, the best first: its holes below its number or beside it, in
// large letters or small, at any side of it.
func (c *closeUp) forms(h elevation.Hung) []tag {
	number := fmt.Sprintf("%d %s", h.ID, h.Kind.Code)
	holes := template.HoleNumbers(c.book.holes[h.ID])
	at := c.At(h.At)
	_, heads := c.tip(h)
	ways := waysFrom(heads)
	ahead := make([]float64, len(ways)) // how far the piece reaches each way
	for i, way := range ways {
		for _, p := range c.Ring(h.Ring) {
			ahead[i] = math.Max(ahead[i], p.Sub(at).Dot(way))
		}
	}
	out := make([]tag, 0, 8*len(ways))
	for _, height := range []float64{closeNumber, closeLeast} {
		for _, beside := range []bool{false, true} {
			l := tag{piece: h, number: number, holes: holes, height: height, beside: beside}
			if holes == "" && beside {
				continue
			}
			width, high := l.size()
			for i, way := range ways {
				for _, gap := range []float64{0.6, 1.4} {
					far := ahead[i] + gap + (math.Abs(way.X)*width+math.Abs(way.Y)*high)/2
					l.box = drafting.BoxAt(at.Add(way.Scale(far)), width, high)
					out = append(out, l)
				}
			}
		}
	}
	return out
}

// waysFrom returns the ways in which a label can lie off a piece that heads so, as steps of length 1 on the
// page, the best first: level and upright, square to the piece, and between them.
func waysFrom(heads plane.Point) []plane.Point {
	out := []plane.Point{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {X: -heads.Y, Y: heads.X}, {X: heads.Y, Y: -heads.X}}
	for turn := range 16 {
		if turn%4 != 0 {
			sin, cos := math.Sincos(float64(turn) * math.Pi / 8)
			out = append(out, plane.Point{X: cos, Y: sin})
		}
	}
	return out
}

// size returns the width and height of a label.
func (l tag) size() (width, height float64) {
	number, holes := drafting.TextWidth(l.number, l.height, true), drafting.TextWidth(l.holes, closeLeast, false)
	switch {
	case l.holes == "":
		return number + 0.6, l.height + 0.6
	case l.beside:
		return number + 1.4 + holes + 0.6, l.height + 0.6
	}
	return math.Max(number, holes) + 0.6, l.height + 0.9 + closeLeast + 0.6
}
