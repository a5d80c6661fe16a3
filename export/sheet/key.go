package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A keyPage shows which tile goes where on a face, or on the sides of one thing, and says how to
// hang them.
type keyPage struct {
	pen
	print Print
	faces []*keyFace
}

// A keyFace is one face on a key page.
type keyFace struct {
	pen
	cutFace
	print Print
	mapping
	drawn   Scale
	windows []plane.Rect // on the face, where it is shown in parts
	window  plane.Rect   // the part being drawn, if one is
}

// draw draws the key page, and further pages where the text needs them.
func (k *keyPage) draw() {
	area := k.turnPage("")
	columns := 3
	if area.Width() < 240 {
		columns = 2
	}
	text := area
	text.Min.Y = k.share(area, columns) + 3
	var windows []plane.Rect
	var ratio float64
	if k.crowded(mostAside) {
		text.Min.Y = k.fit(area) + 3
		windows, ratio = k.parts(area)
		k.faces[0].windows = windows
	}
	for _, f := range k.faces {
		f.caption(len(k.faces) > 1)
		k.picture(f)
	}
	if text.Height() < leastText {
		text = k.turnPage(", continued")
	}
	flow := columnFlow{pen: k.pen, columns: columnsOf(text, columns, columnGap)}
	flow.more = func() []plane.Rect { return columnsOf(k.turnPage(", continued"), columns, columnGap) }
	flow.write(k.words())
	k.index(flow.left())
	k.drawParts(windows, ratio)
}

// crowded reports whether more than a share of all names have no room in their cells.
func (k *keyPage) crowded(most float64) bool {
	aside, all := 0, 0
	trial := draw.NewRecord()
	trial.Page(longestSheet, longestSheet)
	for _, f := range k.faces {
		g := *f
		g.pen = pen{trial}
		_, left, _ := g.namesInside()
		aside += len(left)
		all += g.printed()
	}
	return float64(aside) > most*float64(all)
}

// leastText is how much of a page has to be left under a picture for text to begin there, mm.
const leastText = 45.0

// columnGap is the space between the columns of a key page, mm.
const columnGap = 7.0

// share divides the page between the picture and the text, so that the text does not run over onto
// a page of its own if a smaller picture spares that, and returns where the picture ends.
func (k *keyPage) share(area plane.Rect, columns int) float64 {
	for _, part := range []float64{0.56, 0.5, 0.44, 0.38, 0.56} {
		picture := area
		picture.Max.Y = area.Min.Y + area.Height()*part
		bottom := k.fit(picture)
		trial, over := draw.NewRecord(), false
		trial.Page(longestSheet, longestSheet)
		text := area
		text.Min.Y = bottom + 3
		flow := columnFlow{pen: pen{trial}, columns: columnsOf(text, columns, columnGap)}
		flow.more = func() []plane.Rect {
			over = true
			return columnsOf(area, columns, columnGap)
		}
		flow.write(k.words())
		if !over {
			return bottom
		}
	}
	picture := area
	picture.Max.Y = area.Min.Y + area.Height()*0.56
	return k.fit(picture)
}

// whole returns a view of all the faces of the page together.
func (k *keyPage) whole() view {
	all := k.first()
	for _, f := range k.faces[1:] {
		all.holes = append(slices.Clip(all.holes), f.holes...)
		all.pieces = append(slices.Clip(all.pieces), f.pieces...)
	}
	return all
}

// first returns the face that speaks for all of the page where one must.
func (k *keyPage) first() view { return k.faces[0].view }

// title returns what the page is a key to.
func (k *keyPage) title() string {
	v := k.first()
	if own, is := v.owner(); is && len(k.faces) > 1 {
		return v.wall.Name + ", " + own.Name
	}
	return v.name()
}

// turnPage starts a page with its heading and returns the area below it.
func (k *keyPage) turnPage(note string) plane.Rect {
	p, v := k.print, k.first()
	p.Paper = p.Paper.handy()
	p.Landscape = v.bounds.Width() > v.bounds.Height() || len(k.faces) > 2
	width, height := p.size()
	k.Page(width, height)
	area := p.printable()
	right := area.Max.X
	mark := v.work.Map.Fingerprint
	k.say(right, area.Min.Y+5, draw.Letter50, mark, 0, style{bold: true, align: draw.Right})
	k.say(right, area.Min.Y+9, textHeight, "fingerprint of this layout", 0, style{align: draw.Right, colour: quiet})
	room := area.Width() - math.Max(40, wide(mark, draw.Letter50, true)) - 6
	k.say(area.Min.X, area.Min.Y+5, draw.Letter50, fmt.Sprintf("Key to the hole map: %s%s", k.title(), note), room, style{bold: true})
	k.say(area.Min.X, area.Min.Y+9.5, draw.Letter25, joined(" · ", v.work.Title, v.work.For, v.work.Place, v.dated()), room, style{})
	area.Min.Y += 13
	return area
}

// dated returns the date of issue, or nothing where the plan gives none.
func (v view) dated() string {
	if v.work.Date.IsZero() {
		return ""
	}
	return v.work.Date.Format("2006-01-02")
}

// joined joins what is not empty.
func joined(by string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), by)
}

// The room that names take beside the drawing, mm.
const (
	rowMargin    = 9.0
	topMargin    = 5.0
	lengthBelow  = 8.0
	captionLeast = 44.0 // for the name of one face of several
)

// fit chooses the scale of the drawings of all faces within the area, and their places, and returns
// where they end.
func (k *keyPage) fit(area plane.Rect) float64 {
	drawings := make([]drawing, len(k.faces))
	for i, f := range k.faces {
		drawings[i] = f
	}
	// A key is a diagram: it fills its room at whatever whole scale that takes.
	ratio := 1.0
	corners, took, fits := arrange(drawings, area, ratio)
	for !fits && ratio < mostRatio {
		ratio = math.Max(ratio+1, math.Floor(ratio*1.02))
		corners, took, fits = arrange(drawings, area, ratio)
	}
	shift := plane.Point{X: math.Max(0, (area.Width()-took.X)/2)}
	for i, f := range k.faces {
		f.place(corners[i].Add(shift), ratio)
	}
	return area.Min.Y + took.Y
}

// mostRatio is the smallest scale that a key is drawn to.
const mostRatio = 1e6

// size returns the width and height that the face takes with its tiles at a scale of 1:ratio, mm.
func (k *keyFace) size(ratio float64) plane.Point {
	g := k.gridBox()
	return plane.Point{
		X: math.Max(g.Width()/ratio+2*rowMargin, captionLeast),
		Y: topMargin + k.nameRoom() + g.Height()/ratio + lengthBelow,
	}
}

// place puts the face at a scale of 1:ratio with the top-left corner of what it takes at the given
// point.
func (k *keyFace) place(corner plane.Point, ratio float64) {
	g := k.gridBox()
	k.drawn = Scale{Ratio: ratio}
	k.mapping = mapping{k: 1 / ratio}
	k.origin = plane.Point{
		X: corner.X + rowMargin - g.Min.X*k.k,
		Y: corner.Y + topMargin + k.nameRoom() + g.Max.Y*k.k,
	}
}

// gridBox returns the box about the face and all of its tiles.
func (k *keyFace) gridBox() plane.Rect { return k.around }
