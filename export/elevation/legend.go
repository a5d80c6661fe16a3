package elevation

import (
	"fmt"
	"math"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/scatter"
	"wallshoal/wall/plane"
)

// A tally is how many pieces and holes of a kind a face has.
type tally struct {
	Kind          scatter.Kind
	Pieces, holes int
}

// Tallies counts the pieces and holes of the face by kind, in the order of the plan, without kinds
// that it has none of.
func (v View) Tallies() []tally {
	counts := make([]tally, len(v.Work.Kinds))
	for i, k := range v.Work.Kinds {
		counts[i].Kind = k
	}
	for _, p := range v.Pieces {
		counts[p.Piece.Kind].Pieces++
	}
	for _, h := range v.Holes {
		if h.Kind >= 0 && h.Kind < len(counts) {
			counts[h.Kind].holes++
		}
	}
	var out []tally
	for _, t := range counts {
		if t.Pieces > 0 || t.holes > 0 {
			out = append(out, t)
		}
	}
	return out
}

// The rows of a legend, mm.
const (
	LegendRow    = 6.5
	legendTall   = 10.0 // at most, where few kinds leave room
	legendSample = 15.0 // the room for a kind's outline
	legendLeast  = 48.0 // the narrowest column
	LegendMost   = 85.0 // the widest
)

// Legend lists the kinds of a face by shape, code, name and count, in as many columns as it needs.
// Kinds that find no room are counted in its last line.
func (v View) Legend(p drafting.Pen, area plane.Rect) {
	p.Group("legend")
	defer p.End()
	tallies := v.Tallies()
	p.Say(area.Min.X, area.Min.Y+2.5, draw.Letter25, fmt.Sprintf("%s, %s", drafting.Count(len(v.Pieces), "piece", "pieces"), drafting.Count(len(v.Holes), "hole", "holes")), area.Width()/OtherFonts, drafting.Style{Bold: true})
	area.Min.Y += 4.5
	if words := v.FloorWords(); words != "" {
		for _, line := range drafting.Wrapped(words, drafting.Least, area.Width()/OtherFonts) {
			p.Say(area.Min.X, area.Min.Y+drafting.Least, drafting.Least, line, 0, drafting.Style{})
			area.Min.Y += drafting.Least * 1.6
		}
		area.Min.Y++
	}
	width := math.Min(area.Width(), legendWidth(tallies))
	columns := max(1, int(area.Width()/width))
	tall := LegendRow
	for tall < legendTall && columns*int(area.Height()/(tall+0.5)) >= len(tallies) {
		tall += 0.5
	}
	rows := max(1, int(area.Height()/tall))
	if len(tallies) > rows*columns {
		columns = max(1, int(area.Width()/legendLeast))
		width = area.Width() / float64(columns)
	}
	for i, t := range tallies {
		column, row := i/rows, i%rows
		x, y := area.Min.X+float64(column)*width, area.Min.Y+float64(row)*tall
		if i == rows*columns-1 && len(tallies) > rows*columns {
			p.Say(x, y+tall/2+1, draw.Letter25, fmt.Sprintf("and %d more kinds", len(tallies)-i), width-LegendGap, drafting.Style{})
			return
		}
		v.legendRow(p, t, plane.Rect{Min: plane.Point{X: x, Y: y}, Max: plane.Point{X: x + width - LegendGap, Y: y + tall}})
	}
}

// LegendGap is the space between two columns of a legend, mm.
const LegendGap = 8.0

// legendWidth returns how wide a column must be for the longest name, within reason.
func legendWidth(tallies []tally) float64 {
	longest := 0.0
	for _, t := range tallies {
		longest = math.Max(longest, drafting.TextWidth(t.Kind.Name, draw.Letter25, false)*OtherFonts)
	}
	return math.Min(LegendMost, math.Max(legendLeast, legendSample+8+longest+16+LegendGap))
}

func (v View) legendRow(p drafting.Pen, t tally, row plane.Rect) {
	middle := row.Centre().Y
	v.sample(p, t.Kind, plane.Point{X: row.Min.X + legendSample/2, Y: middle}, legendSample-2, row.Height()-1.5)
	x := row.Min.X + legendSample + 1
	p.Say(x, middle+draw.Letter25/2, draw.Letter25, t.Kind.Code, 6, drafting.Style{Bold: true})
	number := fmt.Sprint(t.Pieces)
	p.Say(row.Max.X, middle+draw.Letter25/2, draw.Letter25, number, 0, drafting.Style{Bold: true, Align: draw.Right})
	room := (row.Max.X - x - 9 - drafting.TextWidth(number, draw.Letter25, true)*OtherFonts) / OtherFonts
	p.Say(x+7, middle+draw.Letter25/2, draw.Letter25, Brief(t.Kind, room), room, drafting.Style{})
}

// Brief returns the name of a kind where the room has the width for it, and else only what tells the
// kind from other forms and sizes of its piece, which its outline and its code show already.
func Brief(k scatter.Kind, width float64) string {
	if own := drafting.Joined(", ", k.Form, k.Size); own != "" && drafting.TextWidth(k.Name, drafting.Least, false) > width {
		return "… " + own
	}
	return k.Name
}

// HeadedSample draws a kind with the arrow the way it heads, and where its holes are: whoever holds the piece
// sees which end of it is its head.
func (v View) HeadedSample(p drafting.Pen, k scatter.Kind, box plane.Rect) {
	const past, dot = 2.8, 0.55 // of the arrow past the head, and of a hole, mm
	box.Max.X -= past
	m, drawn := v.sample(p, k, box.Centre(), box.Width(), box.Height())
	if !drawn {
		return
	}
	for _, h := range k.Holes {
		at := m.At(h.At)
		p.Circle(at, dot, draw.Paint{Fill: draw.Solid(draw.White), Stroke: drafting.Hair})
		p.Circle(at, dot/3, draw.Paint{Fill: draw.Solid(drafting.Ink)})
	}
	head := m.At(plane.Point{X: k.Outline.Bounds().Max.X})
	tip := head.Add(plane.Point{X: past})
	p.Line(head, tip, drafting.Thin)
	p.Arrow(tip, plane.Point{X: 1}, 1.8, drafting.Ink)
}

// sample draws the outline of a kind, heading right, as large as the room allows; forms and sizes of
// one piece to one scale, but none so small that it is a speck. It returns how the kind lies on the page,
// and whether it has an outline.
func (v View) sample(p drafting.Pen, k scatter.Kind, at plane.Point, width, height float64) (m drafting.Mapping, drawn bool) {
	b := k.Outline.Bounds()
	if b.Width() <= 0 || b.Height() <= 0 {
		return drafting.Mapping{}, false
	}
	most := math.Min(width/b.Width(), height/b.Height())
	scale := most
	for _, other := range v.Work.Kinds {
		if size := other.Outline.Bounds(); k.Of != "" && other.Of == k.Of {
			scale = min(scale, width/size.Width(), height/size.Height())
		}
	}
	scale = math.Max(scale, math.Min(most, leastSample/math.Max(b.Width(), b.Height())))
	m = drafting.Mapping{K: scale, Origin: plane.Point{X: at.X - b.Centre().X*scale, Y: at.Y + b.Centre().Y*scale}}
	p.Polygon([]plane.Ring{m.Ring(k.Outline)}, draw.Paint{Fill: draw.Solid(draw.Colour(k.Colour)), Stroke: drafting.Hair})
	return m, true
}

// leastSample is how long the sample of a kind is at least, mm.
const leastSample = 6.0
