package sheet

import (
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// identity repeats, where no neighbour covers it, what the foot of the sheet says: which sheet this
// is, of which layout, and where its black mark belongs. It keeps off crosses, and off what is cut
// away; where a narrow strip of the wall is all there is it is written narrower, or says less.
func (l *Leaf) identity() {
	widths := []float64{62, 40, 24} // mm, of lines that are broken
	along, up, datum := l.placeWords()
	lines := slices.DeleteFunc([]string{along, up, datum, l.fromRight()}, func(s string) bool { return s == "" })
	wraps := make([][]string, len(widths))
	for i, width := range widths {
		for _, text := range lines {
			wraps[i] = append(wraps[i], drafting.Wrapped(text, draw.Letter25, width)...)
		}
	}
	print := l.Work.Map.Fingerprint
	if l.Added {
		more := []string{"added: cut it out all round,", "and lay it over the others"}
		lines = append(lines, more...)
		for i := range wraps {
			wraps[i] = append(wraps[i], more...)
		}
	}
	if l.Print.Mirror {
		lines = append(lines, "MIRRORED")
		for i := range wraps {
			wraps[i] = append(wraps[i], "MIRRORED")
		}
	}
	blocks := []identity{{name: l.Tile.Name, beside: print, own: l.Itself, lines: lines}}
	var broken []identity
	for i, wrap := range wraps {
		switch b := (identity{name: l.Tile.Name, own: l.Itself, under: print, lines: wrap}); {
		case i == 0 && len(wrap) == len(lines):
			blocks = append(blocks, b)
		case i == 0 || len(wrap) > len(wraps[i-1]):
			broken = append(broken, b)
		}
	}
	// Whole lines that are read upwards before short ones: figures stay with their words.
	for _, b := range slices.Clone(blocks) {
		b.turned = true
		blocks = append(blocks, b)
	}
	blocks = append(append(blocks, broken...), identity{name: l.Tile.Name})
	near := drafting.BoxAt(l.ToPage(l.mark), 2*nearMark, 2*nearMark)
	for _, b := range blocks[:len(blocks)-1] {
		if box, found := l.roomiest(l.placesFor(b, near)); found {
			l.identify(b, box)
			return
		}
	}
	for _, b := range blocks {
		if box, found := l.roomiest(l.placesFor(b, l.Frame)); found {
			l.identify(b, box)
			return
		}
	}
	for _, b := range blocks {
		if box, _, found := l.spots.Best(slices.DeleteFunc(l.placesFor(b, l.Frame), l.cutAway)); found {
			l.identify(b, box)
			return
		}
	}
	if box, _, found := l.spots.Best(l.placesFor(blocks[0], l.Frame)); found {
		l.identify(blocks[0], box)
	}
}

// An identity is what a sheet says of itself: its name, the fingerprint of the layout beside it or
// under it, its own mark, and the place of its black mark, if there is room.
type identity struct {
	name, beside, own, under string
	lines                    []string
	turned                   bool // it is read upwards
}

// The letters of an identity, mm.
const (
	identityHead  = draw.Letter35
	identityGap   = 1.3
	identityRim   = 0.6
	identityAside = 2.5 // between the name and what stands beside it
)

// size returns the width and height of the block on the page.
func (b identity) size() (width, height float64) {
	width = drafting.TextWidth(b.name, identityHead, true)
	if b.beside != "" {
		width += identityAside + drafting.TextWidth(b.beside, draw.Letter25, true)
	}
	if b.own != "" {
		width += identityAside + drafting.TextWidth(b.own, draw.Letter25, false)
	}
	width = max(width, drafting.TextWidth(b.under, draw.Letter25, true))
	rows := len(b.lines)
	if b.under != "" {
		rows++
	}
	for _, text := range b.lines {
		width = max(width, drafting.TextWidth(text, draw.Letter25, false)+4)
	}
	width, height = width+2*identityRim, identityHead+float64(rows)*(identityGap+draw.Letter25)+2*identityRim
	if b.turned {
		return height, width
	}
	return width, height
}

// nearMark is how far from the black mark the words about it stand at most where there is room nearer, mm.
const nearMark = 220.0

// placesFor returns the places for a block before the landing lines that lie in part in a box on the page, from
// the black mark outwards.
func (l *Leaf) placesFor(b identity, about plane.Rect) []plane.Rect {
	width, height := b.size()
	room := l.seen()
	room.Min = room.Min.Add(plane.Point{X: drafting.RegisterReach + 0.6, Y: lineAir + 0.1})
	var places []plane.Rect
	var order []uint64 // the square of how far a place is from the mark, in whole mm², and then its index
	mark := l.ToPage(l.mark)
	for y := room.Min.Y; y+height < room.Max.Y; y += 4 {
		for x := room.Min.X; x+width < room.Max.X; x += 4 {
			box := plane.Rect{Min: plane.Point{X: x, Y: y}, Max: plane.Point{X: x + width, Y: y + height}}
			if !box.Overlaps(about) {
				continue
			}
			off := drafting.Nearest(box, mark).Sub(mark)
			order = append(order, uint64(math.Round(off.Dot(off)))<<32|uint64(len(places)))
			places = append(places, box)
		}
	}
	slices.Sort(order)
	out := make([]plane.Rect, len(places))
	for i, o := range order {
		out[i] = places[o&math.MaxUint32]
	}
	return out
}

// identify writes a block into its box.
func (l *Leaf) identify(b identity, box plane.Rect) {
	l.told = b.beside != "" && len(b.lines) > 0 // in whole lines
	l.spots.Take(box, worthLabel)
	l.Group("name of the sheet")
	over := l.overPiece(box)
	if !over {
		drafting.Knockout(l, box)
	}
	// at returns a point of the page so far along the lines of the block and down them.
	at, turn := func(along, down float64) plane.Point { return box.Min.Add(plane.Point{X: along, Y: down}) }, 0.0
	if b.turned {
		corner := plane.Point{X: box.Min.X, Y: box.Max.Y}
		at, turn = func(along, down float64) plane.Point { return corner.Add(plane.Point{X: down, Y: -along}) }, math.Pi/2
	}
	write := func(x, y, height float64, text string, heavy bool) {
		// Over a piece no more is whitened than the letters take.
		if over {
			drafting.Knockout(l, plane.Ring{at(x-0.2, y-height-0.2), at(x+drafting.TextWidth(text, height, heavy)+0.2, y+0.3)}.Bounds())
		}
		p := at(x, y)
		l.Say(p.X, p.Y, height, text, 0, drafting.Style{Bold: heavy, Turn: turn})
	}
	x, y := identityRim, identityRim+identityHead
	write(x, y, identityHead, b.name, true)
	along := x + drafting.TextWidth(b.name, identityHead, true) + identityAside
	if b.beside != "" {
		write(along, y, draw.Letter25, b.beside, true)
		along += drafting.TextWidth(b.beside, draw.Letter25, true) + identityAside
	}
	if b.own != "" {
		write(along, y, draw.Letter25, b.own, false)
	}
	if b.under != "" {
		y += identityGap + draw.Letter25
		write(x, y, draw.Letter25, b.under, true)
	}
	for i, text := range b.lines {
		y += identityGap + draw.Letter25
		if i == 0 {
			l.blackMark(at(x+1.4, y-draw.Letter25/2))
		}
		write(x+4, y, draw.Letter25, text, false)
	}
	l.End()
}

// overPiece reports whether a box on the page lies over a piece that the sheet shows.
func (l *Leaf) overPiece(box plane.Rect) bool {
	if l.Print.HolesOnly {
		return false
	}
	a := l.ToFace(plane.Point{X: box.Min.X, Y: box.Max.Y})
	ring := plane.Rectangle(a, box.Width(), box.Height())
	return slices.ContainsFunc(l.Tile.Pieces, func(i int) bool {
		p := l.View.Pieces[i]
		return p.Bounds.Overlaps(ring.Bounds()) && plane.RegionOf(p.Ring).Touches(ring)
	})
}

// roomiest returns the first place that is free, on the wall, not to be cut away, over no piece, and far
// enough from every cross for its label to stand between; else one that is merely free, over no piece if
// there is such a place.
func (l *Leaf) roomiest(places []plane.Rect) (box plane.Rect, found bool) {
	const forLabel = 13.0
	airy := func(b plane.Rect) bool {
		return !slices.ContainsFunc(l.Tile.Holes, func(i int) bool {
			return drafting.GapBetween(b, l.ToPage(l.Work.Map.Holes[i].At)) < forLabel
		})
	}
	// What a place covers is worked out once, and only when it is asked for.
	known, clear := make([]bool, len(places)), make([]bool, len(places))
	free := func(i int) bool {
		if !known[i] {
			known[i], clear[i] = true, l.spots.Cost(places[i]) == 0 && !l.cutAway(places[i])
		}
		return clear[i]
	}
	for _, fits := range []func(plane.Rect) bool{
		func(b plane.Rect) bool { return airy(b) && !l.overPiece(b) },
		func(b plane.Rect) bool { return !l.overPiece(b) },
		airy,
		func(plane.Rect) bool { return true },
	} {
		for i, b := range places {
			if free(i) && fits(b) {
				return b, true
			}
		}
	}
	return plane.Rect{}, false
}
