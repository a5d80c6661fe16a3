package orderpage

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/scatter"
	"wallshoal/wall/plane"
)

// The pictures of the kinds, mm.
const (
	kindRow    = 13.0
	kindSample = 34.0 // the room for an outline with the arrow past its head
	kindColumn = 88.0 // wide at least
	kindHead   = 11.0 // over them
)

// kinds draws every kind that hangs with an arrow out of its head and its holes, and says how far behind the
// head these are, so that nobody hangs a piece the wrong way round.
func (o *orderBook) kinds() {
	var kinds []scatter.Kind
	for i, k := range o.work.Kinds {
		if slices.ContainsFunc(o.work.Layout.Pieces, func(p scatter.Piece) bool { return p.Kind == i }) {
			kinds = append(kinds, k)
		}
	}
	across := max(1, int((o.area.Width()+elevation.LegendGap)/kindColumn))
	width := (o.area.Width() + elevation.LegendGap) / float64(across)
	begin := func() {
		if o.y > o.area.Min.Y+1 {
			o.y += 3
		}
		o.Say(o.area.Min.X, o.y+drafting.HeadingHeight, drafting.HeadingHeight, "Which end is the head", o.area.Width(), drafting.Style{Bold: true})
		o.Say(o.area.Min.X, o.y+drafting.HeadingHeight+4.2, tickSmall, "Each kind from the front, its head to the right: the arrow of every piece points out of that end. Rings are its holes. Not to one scale.", o.area.Width(), drafting.Style{})
		o.y += kindHead
	}
	if o.y+kindHead+kindRow*math.Min(3, math.Ceil(float64(len(kinds))/float64(across))) > o.area.Max.Y {
		o.page("")
	}
	begin()
	for len(kinds) > 0 {
		rows := int((o.area.Max.Y - o.y) / kindRow)
		if rows < 1 {
			o.page("")
			begin()
			continue
		}
		rows = min(rows, (len(kinds)+across-1)/across)
		n := min(len(kinds), rows*across)
		for i, k := range kinds[:n] {
			o.kind(k, plane.Rect{
				Min: plane.Point{X: o.area.Min.X + width*float64(i/rows), Y: o.y + kindRow*float64(i%rows)},
				Max: plane.Point{X: o.area.Min.X + width*float64(i/rows+1) - elevation.LegendGap, Y: o.y + kindRow*float64(i%rows+1)},
			})
		}
		o.y += kindRow * float64(rows)
		kinds = kinds[n:]
	}
	o.y += 3
}

// kind draws one kind with its code, its name and where its holes are.
func (o *orderBook) kind(k scatter.Kind, row plane.Rect) {
	o.Group("kind " + k.Code)
	defer o.End()
	o.views[o.stands[0].Face].HeadedSample(o.Pen, k, plane.Rect{Min: row.Min.Add(plane.Point{Y: 1}), Max: plane.Point{X: row.Min.X + kindSample, Y: row.Max.Y - 1}})
	x := row.Min.X + kindSample + 2
	o.Say(x, row.Min.Y+4.2, draw.Letter25, k.Code, 6, drafting.Style{Bold: true})
	o.Say(x+7, row.Min.Y+4.2, draw.Letter25, k.Name, row.Max.X-x-7, drafting.Style{})
	for i, line := range drafting.Wrapped(o.behind(k), tickSmall, row.Max.X-x) {
		if i < 2 {
			o.Say(x, row.Min.Y+8+3.2*float64(i), tickSmall, line, row.Max.X-x, drafting.Style{})
		}
	}
}

// behind says how many holes a kind has, and how far behind the end of its head each is.
func (o *orderBook) behind(k scatter.Kind) string {
	if len(k.Holes) == 0 {
		return "no holes"
	}
	v, head := o.views[o.stands[0].Face], k.Outline.Bounds().Max.X
	var off []float64
	for _, h := range k.Holes {
		off = append(off, head-h.At.X)
	}
	slices.Sort(off)
	var far []string
	for _, mm := range off {
		far = append(far, v.Length(mm))
	}
	return fmt.Sprintf("%s, %s behind the head's end", drafting.Count(len(k.Holes), "hole", "holes"), strings.Join(slices.Compact(far), " and "))
}
