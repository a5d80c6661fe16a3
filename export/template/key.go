package template

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/tiling"
	"wallshoal/wall/plane"
)

// A keyPage shows which tile goes where on a face, or on the sides of one thing, and says how to
// hang them.
type keyPage struct {
	drafting.Pen
	print tiling.Print
	faces []*keyFace
}

// A keyFace is one face on a key page.
type keyFace struct {
	drafting.Pen
	tiling.CutFace
	print tiling.Print
	drafting.Mapping
	drawn   drafting.Scale
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
	flow := drafting.ColumnFlow{Pen: k.Pen, Columns: drafting.ColumnsOf(text, columns, columnGap)}
	flow.More = func() []plane.Rect { return drafting.ColumnsOf(k.turnPage(", continued"), columns, columnGap) }
	flow.Write(k.words())
	k.index(flow.Left())
	k.drawParts(windows, ratio)
}

// crowded reports whether more than a share of all names have no room in their cells.
func (k *keyPage) crowded(most float64) bool {
	aside, all := 0, 0
	trial := draw.NewRecord()
	trial.Page(drafting.LongestSheet, drafting.LongestSheet)
	for _, f := range k.faces {
		g := *f
		g.Pen = drafting.Pen{Canvas: trial}
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
		trial.Page(drafting.LongestSheet, drafting.LongestSheet)
		text := area
		text.Min.Y = bottom + 3
		flow := drafting.ColumnFlow{Pen: drafting.Pen{Canvas: trial}, Columns: drafting.ColumnsOf(text, columns, columnGap)}
		flow.More = func() []plane.Rect {
			over = true
			return drafting.ColumnsOf(area, columns, columnGap)
		}
		flow.Write(k.words())
		if !over {
			return bottom
		}
	}
	picture := area
	picture.Max.Y = area.Min.Y + area.Height()*0.56
	return k.fit(picture)
}

// whole returns a view of all the faces of the page together.
func (k *keyPage) whole() elevation.View {
	all := k.first()
	for _, f := range k.faces[1:] {
		all.Holes = append(slices.Clip(all.Holes), f.Holes...)
		all.Pieces = append(slices.Clip(all.Pieces), f.Pieces...)
	}
	return all
}

// first returns the face that speaks for all of the page where one must.
func (k *keyPage) first() elevation.View { return k.faces[0].View }

// title returns what the page is a key to.
func (k *keyPage) title() string {
	v := k.first()
	if own, is := v.Owner(); is && len(k.faces) > 1 {
		return v.Wall.Name + ", " + own.Name
	}
	return v.Name()
}

// turnPage starts a page with its heading and returns the area below it.
func (k *keyPage) turnPage(note string) plane.Rect {
	p, v := k.print, k.first()
	p.Paper = p.Paper.Handy()
	p.Landscape = v.Bounds.Width() > v.Bounds.Height() || len(k.faces) > 2
	width, height := p.Size()
	k.Page(width, height)
	area := p.Printable()
	right := area.Max.X
	mark := v.Work.Map.Fingerprint
	k.Say(right, area.Min.Y+5, draw.Letter50, mark, 0, drafting.Style{Bold: true, Align: draw.Right})
	k.Say(right, area.Min.Y+9, drafting.TextHeight, "fingerprint of this layout", 0, drafting.Style{Align: draw.Right, Colour: drafting.Quiet})
	room := area.Width() - math.Max(40, drafting.TextWidth(mark, draw.Letter50, true)) - 6
	k.Say(area.Min.X, area.Min.Y+5, draw.Letter50, fmt.Sprintf("Key to the hole map: %s%s", k.title(), note), room, drafting.Style{Bold: true})
	k.Say(area.Min.X, area.Min.Y+9.5, draw.Letter25, drafting.Joined(" · ", v.Work.Title, v.Work.For, v.Work.Place, v.Dated()), room, drafting.Style{})
	area.Min.Y += 13
	return area
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
	drawings := make([]elevation.Drawing, len(k.faces))
	for i, f := range k.faces {
		drawings[i] = f
	}
	// A key is a diagram: it fills its room at whatever whole scale that takes.
	ratio := 1.0
	corners, took, fits := elevation.Arrange(drawings, area, ratio)
	for !fits && ratio < mostRatio {
		ratio = math.Max(ratio+1, math.Floor(ratio*1.02))
		corners, took, fits = elevation.Arrange(drawings, area, ratio)
	}
	shift := plane.Point{X: math.Max(0, (area.Width()-took.X)/2)}
	for i, f := range k.faces {
		f.Place(corners[i].Add(shift), ratio)
	}
	return area.Min.Y + took.Y
}

// mostRatio is the smallest scale that a key is drawn to.
const mostRatio = 1e6

// Size returns the width and height that the face takes with its tiles at a scale of 1:ratio, mm.
func (k *keyFace) Size(ratio float64) plane.Point {
	g := k.gridBox()
	return plane.Point{
		X: math.Max(g.Width()/ratio+2*rowMargin, captionLeast),
		Y: topMargin + k.nameRoom() + g.Height()/ratio + lengthBelow,
	}
}

// Place puts the face at a scale of 1:ratio with the top-left corner of what it takes at the given
// point.
func (k *keyFace) Place(corner plane.Point, ratio float64) {
	g := k.gridBox()
	k.drawn = drafting.Scale{Ratio: ratio}
	k.Mapping = drafting.Mapping{K: 1 / ratio}
	k.Origin = plane.Point{
		X: corner.X + rowMargin - g.Min.X*k.K,
		Y: corner.Y + topMargin + k.nameRoom() + g.Max.Y*k.K,
	}
}

// gridBox returns the box about the face and all of its tiles.
func (k *keyFace) gridBox() plane.Rect { return k.Around }
