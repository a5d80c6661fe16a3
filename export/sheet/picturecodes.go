package sheet

import (
	"math"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// The letters of the codes on pieces, mm: as large as fits, within these.
const (
	codeMost  = draw.Letter25
	codeLeast = least
	codeApart = 2.5 // how long pieces are on paper, on average, for codes to be of use in a crowd
	codeRoom  = 90  // how much of the face on paper each piece has where it is no crowd, mm²
)

// codes writes the code of its kind on or beside every piece for which there is room: close by first, and
// then on a line from where there is some.
func (p *picture) codes() {
	if p.tiny || p.pieceSize < codeApart && !p.sparse() || p.calm && p.pieceSize < 4*codeLeast {
		return
	}
	size := math.Min(codeMost, math.Max(codeLeast, p.pieceSize*0.25))
	var left []hung
	for _, h := range p.pieces {
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
func (p *picture) sparse() bool {
	b := p.mapping.box(p.bounds)
	return b.Width()*b.Height() > codeRoom*float64(len(p.pieces))
}

// codeAside writes the code of a piece where there is free room about it, tied to it by a line.
func (p *picture) codeAside(h hung, size float64) {
	const rounds = 12
	at, half := p.mapping.at(h.At), h.kind.Outline.Bounds().Height()/2*p.k
	width := wide(h.kind.Code, size, true)
	box, cost, found := p.spots.best(around(at, width, size, half+size, rounds))
	if !found || cost > mostCovered*width*size/4 {
		return
	}
	p.spots.take(box, worthText)
	end := nearest(box, at)
	for _, b := range boxesAlong(at, end) {
		p.spots.take(b.Grow(0.1), 1)
	}
	p.Line(at, end, shade(draw.Stroke{Width: draw.Width013 / 2}, quiet))
	p.say(box.Min.X, box.Max.Y, size, h.kind.Code, 0, style{bold: true, colour: quiet})
}

// code writes the code of a piece on it or close beside it, and reports whether there was room.
func (p *picture) code(h hung, size float64) bool {
	width := wide(h.kind.Code, size, true)
	at := p.mapping.at(h.At)
	across := h.kind.Outline.Bounds().Height() * p.k
	if across > 1.7*math.Hypot(size, width) {
		colour := ink
		if draw.Colour(h.kind.Colour).Dark() {
			colour = draw.White
		}
		p.say(at.X, at.Y+size/2, size, h.kind.Code, 0, style{align: draw.Centre, bold: true, colour: colour})
		return true
	}
	half := h.kind.Outline.Bounds().Height() / 2 * p.k
	ahead := p.way(h.Heading)
	side := plane.Point{X: -ahead.Y, Y: ahead.X}
	var candidates []plane.Rect
	for _, way := range []float64{1, -1} {
		for _, along := range []float64{0, -0.3, 0.3} {
			shift := ahead.Scale(along * lengthAlong(h.kind.Outline) * p.k)
			reach := half + 0.35 + 0.5*math.Hypot(size, width)*0.8
			candidates = append(candidates, sized(at.Add(side.Scale(way*reach)).Add(shift), width, size))
		}
	}
	box, cost, found := p.spots.best(candidates)
	if !found || cost > mostCovered*width*size {
		return false
	}
	p.spots.take(box, worthText)
	p.say(box.Min.X, box.Max.Y, size, h.kind.Code, 0, style{bold: true, colour: quiet})
	return true
}
