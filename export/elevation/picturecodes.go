package elevation

import (
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// The letters of the codes on pieces, mm: as large as fits, within these.
const (
	codeMost  = draw.Letter25
	codeLeast = drafting.Least
	codeApart = 2.5 // how long pieces are on paper, on average, for codes to be of use in a crowd
	codeRoom  = 90  // how much of the face on paper each piece has where it is no crowd, mm²
)

// codes writes the code of its kind on or beside every piece for which there is room: close by first, and
// then on a line from where there is some.
func (p *Picture) codes() {
	if p.tiny || p.PieceSize < codeApart && !p.sparse() || p.calm && p.PieceSize < 4*codeLeast {
		return
	}
	size := math.Min(codeMost, math.Max(codeLeast, p.PieceSize*0.25))
	var left []Hung
	for _, h := range p.Pieces {
		if !p.code(h, size) {
			left = append(left, h)
		}
	}
	for _, h := range left {
		p.codeAside(h, size)
	}
}

// sparse reports whether there is so much room about the pieces on paper that a code finds place beside the
// smallest.
func (p *Picture) sparse() bool {
	b := p.Mapping.Box(p.Bounds)
	return b.Width()*b.Height() > codeRoom*float64(len(p.Pieces))
}

// codeAside writes the code of a piece where there is free room about it, tied to it by a line.
func (p *Picture) codeAside(h Hung, size float64) {
	const rounds = 12
	at, half := p.Mapping.At(h.At), h.Kind.Outline.Bounds().Height()/2*p.K
	width := drafting.TextWidth(h.Kind.Code, size, true)
	box, cost, found := p.Spots.Best(drafting.Around(at, width, size, half+size, rounds))
	if !found || cost > mostCovered*width*size/4 {
		return
	}
	p.Spots.Take(box, WorthText)
	end := drafting.Nearest(box, at)
	for _, b := range drafting.BoxesAlong(at, end) {
		p.Spots.Take(b.Grow(0.1), 1)
	}
	p.Line(at, end, drafting.Shade(draw.Stroke{Width: draw.Width013 / 2}, drafting.Quiet))
	p.Say(box.Min.X, box.Max.Y, size, h.Kind.Code, 0, drafting.Style{Bold: true, Colour: drafting.Quiet})
}

// code writes the code of a piece on it or close beside it, and reports whether there was room.
func (p *Picture) code(h Hung, size float64) bool {
	width := drafting.TextWidth(h.Kind.Code, size, true)
	at := p.Mapping.At(h.At)
	across := h.Kind.Outline.Bounds().Height() * p.K
	if across > 1.7*math.Hypot(size, width) {
		colour := drafting.Ink
		if draw.Colour(h.Kind.Colour).Dark() {
			colour = draw.White
		}
		p.Say(at.X, at.Y+size/2, size, h.Kind.Code, 0, drafting.Style{Align: draw.Centre, Bold: true, Colour: colour})
		return true
	}
	half := h.Kind.Outline.Bounds().Height() / 2 * p.K
	ahead := p.Way(h.Heading)
	side := plane.Point{X: -ahead.Y, Y: ahead.X}
	var candidates []plane.Rect
	for _, way := range []float64{1, -1} {
		for _, along := range []float64{0, -0.3, 0.3} {
			shift := ahead.Scale(along * LengthAlong(h.Kind.Outline) * p.K)
			reach := half + 0.35 + 0.5*math.Hypot(size, width)*0.8
			candidates = append(candidates, drafting.BoxAt(at.Add(side.Scale(way*reach)).Add(shift), width, size))
		}
	}
	box, cost, found := p.Spots.Best(candidates)
	if !found || cost > mostCovered*width*size {
		return false
	}
	p.Spots.Take(box, WorthText)
	p.Say(box.Min.X, box.Max.Y, size, h.Kind.Code, 0, drafting.Style{Bold: true, Colour: drafting.Quiet})
	return true
}
