package elevation

import (
	"fmt"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// The size of the title block, mm: ISO 7200 makes it 180 wide.
const (
	titleWidth  = 180.0
	titleHeight = 36.0
)

// OtherFonts is how much wider a line may come out where a reader of SVG has not the font that it
// was measured in and does not squeeze it.
const OtherFonts = 1.2

// A field is one field of a title block.
type field struct {
	name, value string
	x, y        float64 // of its top-left corner, from that of the block
	width       float64
	height      float64
	large       bool
}

// titleBlock draws the title block of ISO 7200 with its eight mandatory fields at a top-left
// corner: legal owner, identification number, date of issue, sheet number, title, approval
// person, creator and document type.
func (v View) titleBlock(p drafting.Pen, at plane.Point, drawn drafting.Scale, kind string, number, all int) {
	w := v.Work
	fields := []field{
		{"Legal owner", w.By, 0, 0, 60, 12, false},
		{"Creator", w.By, 0, 12, 60, 12, false},
		{"Approval person", w.For, 0, 24, 60, 12, false},
		{"Title", w.Title, 60, 0, 82, 12, true},
		{"Supplementary title", drafting.Joined(" · ", v.Shown(), w.Place), 60, 12, 82, 12, false},
		{"Document type", kind, 60, 24, 40, 12, false},
		{"Scale", drafting.ScaleWords(drawn), 100, 24, 42, 12, false},
		{"Identification number", w.Map.Fingerprint, 142, 0, 38, 12, true},
		{"Date of issue", v.Dated(), 142, 12, 38, 12, false},
		{"Sheet", fmt.Sprintf("%d/%d", number, all), 142, 24, 19, 12, false},
		{"Lengths in", v.UnitWord(), 161, 24, 19, 12, false},
	}
	p.Group("title block")
	for _, f := range fields {
		box := plane.Rect{Min: at.Add(plane.Point{X: f.x, Y: f.y}), Max: at.Add(plane.Point{X: f.x + f.width, Y: f.y + f.height})}
		p.Box(box, draw.Paint{Stroke: drafting.Thin})
		p.Say(box.Min.X+1.5, box.Min.Y+3.4, drafting.Least, f.name, (f.width-3)/OtherFonts, drafting.Style{Colour: drafting.Quiet})
		height := draw.Letter25
		if f.large {
			height = draw.Letter35
		}
		value := f.value
		if value == "" {
			value = "–"
		}
		p.Say(box.Min.X+1.5, box.Max.Y-2.6, height, value, (f.width-3)/OtherFonts, drafting.Style{Bold: f.large})
	}
	p.Box(plane.Rect{Min: at, Max: at.Add(plane.Point{X: titleWidth, Y: titleHeight})}, draw.Paint{Stroke: drafting.Bold})
	p.End()
}

// UnitWord names the unit of the dimensions.
func (v View) UnitWord() string {
	switch {
	case v.Work.Units.Imperial():
		return "ft and in"
	case v.Work.Units == "":
		return "mm"
	}
	return string(v.Work.Units)
}

// Dated returns the date of issue, or nothing where the plan gives none.
func (v View) Dated() string {
	if v.Work.Date.IsZero() {
		return ""
	}
	return v.Work.Date.Format("2006-01-02")
}
